package report_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
)

// onPaper prints the page and returns its text, sheet by sheet, bare. Without Debian's pdftotext the test is skipped, or
// fails where RUNNEL_REFERENCES=1.
func onPaper(t *testing.T, w *browser) []string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			t.Fatalf("Debian package poppler-utils: %v", err)
		}
		t.Skipf("needs Debian package poppler-utils: %v", err)
	}
	printed, err := chromedp.Call(w.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69}) // A4 in inches, ISO 216
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(path, printed.Data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), "pdftotext", "-raw", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	sheets := strings.Split(strings.TrimRight(string(out), "\f\n"), "\f")
	for i := range sheets {
		sheets[i] = bare(sheets[i])
	}
	return sheets
}

// bare is a text without blanks and hyphens, since lines break at both.
func bare(s string) string {
	return strings.NewReplacer("-", "", " ", "").Replace(strings.Join(strings.Fields(s), ""))
}

// Paper holds every heading, every finding on one sheet, every row of the tables and the plan, and nothing to press.
func TestPrinted(t *testing.T) {
	for _, hash := range []string{"", "#tab=space"} {
		b := book(sample.Local(), record.SI)
		w := open(t, b, hash)
		sheets := onPaper(t, w)
		all := strings.Join(sheets, "")
		c := model.Of(b)
		for _, want := range []string{
			"Plan", "Findings", "Ponds, each full to its lip", "Outlets", "Assumed, and not measured", "How good the survey is", "Criteria and their sources",
			"Five lines for a message", "Cautions", "Scale 1:", "PONDS", "LIMIT",
		} {
			if !strings.Contains(all, bare(want)) {
				t.Errorf("%q is not printed", want)
			}
		}
		if len(c.Findings) == 0 {
			t.Fatal("no findings")
		}
		for _, f := range c.Findings {
			at, first, last := bare(strings.ToUpper(f.Severity)+f.ID+f.What), bare(f.Facts[0][1]), bare(f.Facts[len(f.Facts)-1][1])
			whole := false
			for _, s := range sheets {
				k := strings.Index(s, at)
				whole = whole || k >= 0 && strings.Contains(s[k:], first) && strings.Contains(s[k:], last)
			}
			if !whole {
				t.Errorf("finding %s is cut or missing: %q, %q, %q", f.ID, at, first, last)
			}
		}
		for _, name := range []string{"#ponds-table", "#outlets-table", "#criteria-table"} {
			for _, cell := range eval[[]string](w, `[...document.querySelectorAll("`+name+` tbody bdi")].map(e => e.textContent)`) {
				if !strings.Contains(all, bare(cell)) {
					t.Errorf("%s: %q is not printed", name, cell)
				}
			}
		}
		for _, control := range []string{"Show P01", "on the map", "Copy", "Look Measure", "Whole roof", "Layers", "Reset view", "Heights drawn", "To the answer", "need scripts", "Section by numbers"} {
			if strings.Contains(all, bare(control)) {
				t.Errorf("%q is printed", control)
			}
		}
		w.quiet()
	}
}
