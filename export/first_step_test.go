package export_test

import (
	"bytes"
	"encoding/json"
	"html"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	design "runnel/analysis/correction"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/campus"
	"runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/ledger"
	"runnel/export/model"
	"runnel/export/paged"
	"runnel/export/record"
	"runnel/export/report"
	"runnel/export/sample"
	"runnel/export/setout"
	"runnel/export/summary"
	page "runnel/export/text"
)

// said returns what the writers say of a book, by the name of the writer, blanks made one.
func said(t *testing.T, b *record.Book) map[string]string {
	t.Helper()
	out := map[string]string{}
	add := func(name string, write func(w io.Writer) error) {
		var text bytes.Buffer
		if err := write(&text); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = text.String()
	}
	add("text", func(w io.Writer) error { return page.Write(w, model.Of(b)) })
	add("report", func(w io.Writer) error { return report.Write(w, model.Of(b)) })
	add("summary", func(w io.Writer) error { return summary.Write(w, model.Of(b)) })
	sheet, err := setout.New(b, "")
	if err != nil {
		t.Fatal(err)
	}
	add("set-out", sheet.WriteCSV)
	add("campus", func(w io.Writer) error {
		book, err := ledger.Open(t.TempDir(), "", "")
		if err != nil {
			return err
		}
		defer book.Discard()
		row := campus.NewRow(b.Study, "a")
		_, err = campus.Write(book, w, func(take func(*campus.Row) error) error { return take(&row) }, campus.Options{UnitsOut: b.Units.String()})
		return err
	})
	add("correct", func(w io.Writer) error {
		return correction.WriteText(w, &correction.Proposal{Book: b, Result: &design.Result{Best: -1}, Chosen: -1})
	})
	plan, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out["plan"] = lines(plan[0], "texts")
	pages, err := paged.Pages(model.Of(b))
	if err != nil {
		t.Fatal(err)
	}
	out["report to print"] = lines(pages[0], "page")
	out["report"] = visible(out["report"])
	for name, text := range out {
		out[name] = strings.Join(strings.Fields(text), " ")
	}
	return out
}

// lines joins the texts of a layer in the order in which they were written.
func lines(s *scene.Scene, layer string) string {
	var all []string
	for _, t := range s.Layer(layer).Texts {
		all = append(all, t.String)
	}
	return strings.Join(all, " ")
}

var (
	scripts = regexp.MustCompile(`(?s)<(script|style)[^>]*>.*?</(script|style)>`)
	tags    = regexp.MustCompile(`<[^>]*>`)
)

// visible returns the text of a page without its scripts and elements.
func visible(s string) string {
	return html.UnescapeString(tags.ReplaceAllString(scripts.ReplaceAllString(s, " "), " "))
}

// hazardous returns the sample with 90 mm of water at its drain, or with a rotten deck.
func hazardous() map[string]*roof.Roof {
	deep, rotten := sample.Local(), sample.Local()
	deep.Outlets[0].Invert = 100.09
	rotten.Cores = append(rotten.Cores, roof.Core{
		Feature: roof.Feature{ID: "C2"}, Position: roof.Position{Plan: orb.Point{16, 3}}, Deck: "boards, rotten",
		Layers: []roof.Layer{{Material: "foam", Thickness: quantity.Length(0.1)}},
	})
	return map[string]*roof.Roof{"90 mm of water": deep, "a rotten deck": rotten}
}

// TestKeepOffIsTheFirstStepEverywhere: where water is deep or the deck rotten, every page says to keep off, with who decides, before any
// other thing to do; nothing before it sends people up to measure. The sound sample says it nowhere but in its cautions.
func TestKeepOffIsTheFirstStepEverywhere(t *testing.T) {
	const first = "Keep off, and call a structural engineer today: "
	for name, r := range hazardous() {
		b := record.NewBook(sample.Study(r), "", record.SI)
		for writer, text := range said(t, b) {
			at := strings.Index(text, first)
			if at < 0 {
				t.Errorf("%s: %s does not say to keep off: %.600s", name, writer, text)
				continue
			}
			for _, step := range []string{"Take levels", "Look for", "Cut a core", "Shoot", "Measure", "Clear the strainer"} {
				if k := strings.Index(text, step); k >= 0 && k < at {
					t.Errorf("%s: %s says %q before keep off: %q", name, writer, step, text[k:min(k+80, len(text))])
				}
			}
			if !strings.Contains(text[at:], "Decides: the engineer.") {
				t.Errorf("%s: %s does not say who decides", name, writer)
			}
		}
	}
	for writer, text := range said(t, record.NewBook(sample.Study(sample.Local()), "", record.SI)) {
		if strings.Contains(text, first) {
			t.Errorf("sound: %s says to keep off", writer)
		}
	}
}

// TestPlanAndPageGiveOneFirstStep: the first of the steps stands on page, plan, report and in the summary in the same words.
func TestPlanAndPageGiveOneFirstStep(t *testing.T) {
	all := hazardous()
	all["sound"] = sample.Local()
	for name, r := range all {
		b := record.NewBook(sample.Study(r), "", record.SI)
		step := strings.Join(strings.Fields(b.Steps()[0].Say()), " ")
		texts := said(t, b)
		for _, writer := range []string{"text", "plan", "report", "report to print"} {
			if got := strings.ReplaceAll(texts[writer], "²", "2"); !strings.Contains(got, strings.ReplaceAll(step, "²", "2")) {
				t.Errorf("%s: %s lacks %q", name, writer, step)
			}
		}
		var s struct {
			First   string `json:"first_step"`
			KeepOff bool   `json:"keep_off"`
		}
		if err := json.Unmarshal([]byte(texts["summary"]), &s); err != nil || s.First != step || s.KeepOff != b.Study.KeepOff.Is() {
			t.Errorf("%s: summary says %q, keep off %v, %v; want %q", name, s.First, s.KeepOff, err, step)
		}
	}
}

// TestNamesComeOutAsThemselves: names from files that look like places for numbers, like formats or like elements stand as they are in what
// every writer says.
func TestNamesComeOutAsThemselves(t *testing.T) {
	const odd = `{0} 50% %s {1}`
	r := sample.Local()
	r.Name = "Roof " + odd
	for i := range r.Outlets {
		r.Outlets[i].Label = []string{"RD ", "OS "}[i] + odd
	}
	r.Curbs[0].Label = "Unit " + odd
	r.Cores[0].ID = "C " + odd
	r.Cores[0].Deck = "rusted " + odd
	r.Sills[0].Label = "Door " + odd
	r.Edges[0].Label = "Gutter " + odd
	r.Outlets[0].HasInvert = false
	b := record.NewBook(sample.Study(r), "", record.SI)
	for writer, text := range said(t, b) {
		want := []string{"Roof " + odd, "RD " + odd}
		switch writer {
		case "summary":
			want = append(want, "OS "+odd, "C "+odd, "rusted "+odd)
		case "text", "report":
			want = append(want, "OS "+odd, "C "+odd, "rusted "+odd)
		case "set-out":
			want = want[1:]
		case "campus", "correct", "report to print":
			want = want[:1]
		}
		for _, name := range want {
			if !strings.Contains(strings.ReplaceAll(text, "- ", "-"), name) {
				t.Errorf("%s lacks %q", writer, name)
			}
		}
		if strings.Contains(text, "%!") || strings.Contains(text, "(0)") {
			t.Errorf("%s breaks a name", writer)
		}
	}
	storm := sample.Local()
	storm.Outlets[0].Label, storm.Sills[0].Label = "RD "+odd, "Door "+odd
	for _, f := range sample.Storm(storm).Findings {
		for _, text := range []string{record.SI.SayText(f.What), record.SI.SayText(f.Where), record.SI.SayText(f.Do)} {
			if k := strings.Index(text, "RD {"); k >= 0 && !strings.HasPrefix(text[k:], "RD "+odd) {
				t.Errorf("%s: %q", f.Kind, text)
			}
		}
	}
}

// TestNamesInCorrections: a drain set high, whose label looks like a place for a number, comes out as itself in what is to be changed, asked and
// told.
func TestNamesInCorrections(t *testing.T) {
	const odd = "RD {0} 50% {1}"
	r := sample.Local()
	r.Cores, r.Outlets[0].Label, r.Outlets[0].Invert, r.Outlets[1].Invert = nil, odd, 100.03, 100.08
	r.Curbs[0].Label = "Unit {2} %d"
	s := sample.Study(r)
	result, err := design.Of(&design.Input{Study: s})
	if err != nil {
		t.Fatal(err)
	}
	b := record.NewBook(s, "", record.SI)
	var page, object bytes.Buffer
	p := &correction.Proposal{Book: b, Result: result, Assembly: s.Assembly, Chosen: -1}
	if err := correction.WriteText(&page, p); err != nil {
		t.Fatal(err)
	}
	if err := correction.WriteJSON(&object, p); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"page": page.String(), "object": object.String()} {
		text = strings.Join(strings.Fields(text), " ")
		if n := strings.Count(text, "RD "); n == 0 || strings.Count(text, odd) != n {
			t.Errorf("%s: %d of %d names stand as they are: %.3000s", name, strings.Count(text, odd), n, text)
		}
	}
}
