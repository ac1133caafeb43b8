package paged_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/export/caution"
	"runnel/export/model"
	"runnel/export/paged"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/importer"
)

// demos returns the sample and the invented roofs, every other one in US units.
func demos(t *testing.T) []*record.Book {
	t.Helper()
	all, err := analysed()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// analysed analyses them once for all tests.
var analysed = sync.OnceValues(func() ([]*record.Book, error) {
	dir, err := os.MkdirTemp("", "paged")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	if _, err := demo.Write(dir, true); err != nil {
		return nil, err
	}
	roofs, err := importer.Campus([]string{dir}, importer.Options{})
	if err != nil {
		return nil, err
	}
	all := []*record.Book{
		record.NewBook(sample.Study(sample.Local()), "", record.SI), record.NewBook(sample.Study(sample.Feet()), "", record.US),
	}
	for job := range roofs.All() {
		r, err := job.Read()
		if err != nil {
			return nil, err
		}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			return nil, err
		}
		all = append(all, record.NewBook(s, "", record.Units(len(all)%2)))
	}
	return all, nil
})

// scattered analyses roofs of random shape; those whose lines contradict each other are left out.
func scattered() []*record.Book {
	var all []*record.Book
	for seed := range uint64(12) {
		if s, err := study.Run(shape.Random(seed, 40+int(30*seed)), study.Options{}); err == nil {
			all = append(all, record.NewBook(s, "", record.Units(seed%2)))
		}
	}
	return all
}

// hostile is the sample with names that hold markup, marks of direction, letters that the typeface lacks, and 10,000 letters with and
// without blanks.
func hostile() *roof.Roof {
	const attack = "\u202e<script>alert(1)</script> 屋根 سطح 😀 (\\) Tj ET \x00\x1b[31m"
	r := sample.Local()
	r.Name = attack + strings.Repeat("W", 10_000)
	r.Building = `"><img onerror=alert(1)> ` + strings.Repeat("long name ", 1000)
	r.Surveyed = attack
	r.Inputs[0].Path = attack + strings.Repeat("i", 10_000)
	r.Warnings = []string{attack, strings.Repeat("w ", 5000)}
	r.Outlets[0].Label = attack + strings.Repeat("M", 10_000)
	r.Outlets[1].Label = strings.Repeat("overflow ", 1000)
	r.Curbs[0].Label = attack
	return r
}

func write(tb testing.TB, b *record.Book) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := paged.Write(&out, model.Of(b)); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// read returns what pdftotext reads in a document.
func read(t *testing.T, data []byte, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return string(reference.Run(t, "poppler-utils", nil, "pdftotext", append(args, path, "-")...))
}

// words returns a text with one blank between words, square metres as on the page.
func words(s string) string {
	return strings.Join(strings.Fields(s), " ")
}

func TestSameBytes(t *testing.T) {
	for _, b := range demos(t) {
		if !bytes.Equal(write(t, b), write(t, b)) {
			t.Errorf("%s: two runs differ", b.Study.Roof.Name)
		}
	}
}

// The first page holds every paragraph of the first screen, in its order; what each finding is, where, why, who decides and what to do,
// every row of the tables, every criterion with its source and every caution stand on later pages.
func TestTextIsTheReports(t *testing.T) {
	for _, b := range demos(t) {
		name, data, c := b.Study.Roof.Name, write(t, b), model.Of(b)
		first := words(read(t, data, "-f", "1", "-l", "1", "-layout"))
		at := 0
		for _, e := range c.First {
			for _, s := range slices.Concat(e.Steps, e.Texts) {
				// The column of words stands before the text's first line.
				k := strings.Index(first[at:], words(s))
				if k < 0 {
					t.Errorf("%s: the first page has no %q after its place %d", name, words(s), at)
					continue
				}
				at += k
			}
			if !strings.Contains(first, e.Word) {
				t.Errorf("%s: the first page has no %s", name, e.Word)
			}
		}
		rest := words(read(t, data, "-f", "3"))
		has := func(s string) {
			t.Helper()
			if !strings.Contains(rest, words(s)) {
				t.Errorf("%s: no %q", name, words(s))
			}
		}
		for _, f := range c.Findings {
			has(f.ID + " " + f.What)
			for _, fact := range f.Facts {
				has(fact[1])
			}
		}
		for _, table := range []model.Table{c.Ponds, c.Outlets, c.Criteria} {
			for _, row := range table.Rows {
				for _, cell := range row.Cells {
					has(cell.Text)
				}
			}
		}
		for _, texts := range [][]string{c.Assumptions, c.NotMeasured, caution.Texts(b.Study.Cautions)} {
			for _, s := range texts {
				has(s)
			}
		}
	}
}

// bbox is what pdftotext -bbox writes.
type bbox struct {
	Pages []struct {
		Width  float64 `xml:"width,attr"`
		Height float64 `xml:"height,attr"`
		Words  []word  `xml:"word"`
	} `xml:"body>doc>page"`
}

type word struct {
	X0   float64 `xml:"xMin,attr"`
	Y0   float64 `xml:"yMin,attr"`
	X1   float64 `xml:"xMax,attr"`
	Y1   float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

func boxes(t *testing.T, data []byte) bbox {
	t.Helper()
	var out bbox
	text := read(t, data, "-bbox")
	d := xml.NewDecoder(strings.NewReader(text))
	d.Entity, d.Strict = xml.HTMLEntity, false
	if err := d.Decode(&out); err != nil {
		t.Fatal(err)
	}
	return out
}

// No word leaves its page or comes nearer to its edge than printers reach, and no two words lie on each other. Poppler's boxes are as high
// as the typeface's longest strokes, which neighbouring lines share; so words count as on each other where both share a quarter of
// their height and some of their width.
func TestWordsLieApart(t *testing.T) {
	books := append(append(demos(t), scattered()...), record.NewBook(sample.Study(hostile()), "", record.SI), record.NewBook(sample.Study(hostile()), "", record.US))
	for _, b := range books {
		name := []rune(b.Study.Roof.Name)
		name = name[:min(20, len(name))]
		for n, p := range boxes(t, write(t, b)).Pages {
			const edge = 10 // points
			if len(p.Words) < 10 {
				t.Errorf("%s: page %d has %d words", string(name), n+1, len(p.Words))
			}
			slices.SortFunc(p.Words, func(a, b word) int { return int(1000 * (a.X0 - b.X0)) })
			for i, w := range p.Words {
				if w.X0 < edge || w.Y0 < edge || w.X1 > p.Width-edge || w.Y1 > p.Height-edge {
					t.Errorf("%s: page %d: %q leaves the page", string(name), n+1, w.Text)
				}
				for _, v := range p.Words[i+1:] {
					if v.X0 >= w.X1-0.5 {
						break
					}
					if shared := min(v.Y1, w.Y1) - max(v.Y0, w.Y0); shared > 0.25*min(v.Y1-v.Y0, w.Y1-w.Y0) {
						t.Errorf("%s: page %d: %q lies on %q", string(name), n+1, v.Text, w.Text)
					}
				}
			}
		}
	}
}

// Every page says which it is and of how many, and has the line of caution.
func TestEveryPageIsNumbered(t *testing.T) {
	for _, b := range demos(t) {
		data := write(t, b)
		pages := strings.Split(strings.TrimSuffix(read(t, data), "\f"), "\f")
		if len(pages) < 4 {
			t.Fatalf("%d pages", len(pages))
		}
		for i, p := range pages {
			if !strings.Contains(words(p), fmt.Sprintf("page %d of %d", i+1, len(pages))) {
				t.Errorf("%s: page %d has no number", b.Study.Roof.Name, i+1)
			}
			if !strings.Contains(words(p), "This does not say that the roof can carry the water") {
				t.Errorf("%s: page %d has no line of caution", b.Study.Roof.Name, i+1)
			}
			if !strings.Contains(p, b.Study.Roof.Name) {
				t.Errorf("%s: page %d has no name", b.Study.Roof.Name, i+1)
			}
		}
	}
}

// Letter: 612 by 792 points (8.5 by 11 in); A4: 210 by 297 mm, which are 595.28 by 841.89 points.
func TestPaper(t *testing.T) {
	for u, want := range map[record.Units][2]float64{record.US: {612, 792}, record.SI: {595.28, 841.89}} {
		p := boxes(t, write(t, record.NewBook(sample.Study(sample.Local()), "", u))).Pages[0]
		if abs(p.Width-want[0]) > 0.02 || abs(p.Height-want[1]) > 0.02 {
			t.Errorf("%v by %v points, want %v", p.Width, p.Height, want)
		}
	}
}

func abs(v float64) float64 { return max(v, -v) }

// Names that hold markup stay texts, letters that the typeface lacks are explained once, and 10,000 letters do not fill the report.
func TestHostileNames(t *testing.T) {
	b := record.NewBook(sample.Study(hostile()), "", record.SI)
	data := write(t, b)
	text := read(t, data, "-layout")
	for _, want := range []string{"<script>alert(1)</script> ?? ??? ?", `"><img onerror=alert(1)>`, `(\) Tj ET [31m`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	if n := strings.Count(words(text), "stands for a letter that the typeface of these pages does not have"); n != 1 {
		t.Errorf("the question marks are explained %d times, want once", n)
	}
	if strings.ContainsAny(text, "\u202e\u202b") && !regexp.MustCompile(`[\x{0590}-\x{08ff}]`).MatchString(text) {
		t.Error("a mark turns the direction of writing")
	}
	if n := strings.Count(text, "\f"); n > 14 {
		t.Errorf("%d pages", n)
	}
	plain := words(read(t, write(t, record.NewBook(sample.Study(sample.Local()), "", record.SI))))
	if strings.Contains(plain, "stands for a letter") {
		t.Error("question marks are explained where there are none")
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, write(t, record.NewBook(sample.Study(sample.Local()), "", record.SI)), 0o600); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(reference.Run(t, "poppler-utils", nil, "pdffonts", path))), "\n")
	if len(lines) != 4 { // two lines of heads, regular and bold
		t.Fatalf("fonts: %q", lines)
	}
	for _, l := range lines[2:] {
		// name, type, encoding, emb, sub, uni, object ID
		f := strings.Fields(l)
		if f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
			t.Errorf("a font is not embedded and mapped to letters: %q", l)
		}
	}
}

// A reader leafs by sections: the answer, the plan, and the headings of what follows.
func TestSectionsAreMarked(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	pages, err := paged.Pages(model.Of(b))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range pages {
		for _, m := range p.Marks {
			got = append(got, m.Text)
		}
	}
	want := []string{
		"The answer", "Plan", "What the cores say", "Ponds, each full to its lip", "Outlets", "Water with every primary outlet blocked", "Findings, worst first", "Assumed, and not measured",
		"How good the survey is", "Criteria and their sources", "Cautions",
	}
	if !slices.Equal(got, want) {
		t.Errorf("sections %q, want %q", got, want)
	}
	if n := bytes.Count(write(t, b), []byte("/Dest [")); n != len(want) {
		t.Errorf("%d marks in the document, want %d", n, len(want))
	}
}

func BenchmarkWrite(b *testing.B) {
	k := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	for b.Loop() {
		if err := paged.Write(io.Discard, model.Of(k)); err != nil {
			b.Fatal(err)
		}
	}
}

// The plan is drawn once and shown by several writers: the number and the caution of a page of this report are not added to it.
func TestPlanStaysAsItIs(t *testing.T) {
	m := model.Of(record.NewBook(sample.Study(sample.Local()), "", record.SI))
	plan, err := m.Plan()
	if err != nil {
		t.Fatal(err)
	}
	layers, marks := len(plan[0].Layers), len(plan[0].Marks)
	if err := paged.Write(io.Discard, m); err != nil {
		t.Fatal(err)
	}
	if again, _ := m.Plan(); again[0] != plan[0] || len(plan[0].Layers) != layers || len(plan[0].Marks) != marks {
		t.Errorf("%d layers and %d marks, %d and %d before", len(plan[0].Layers), len(plan[0].Marks), layers, marks)
	}
}
