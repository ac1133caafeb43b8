package papers

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/logbook"
	"runnel/export/record"
	"runnel/export/sample"
)

// A repair is closed when the roof was seen dry after it; water that stood 48 hours opens it again, water sooner after rain asks for another look.
func TestCloseOut(t *testing.T) {
	on := func(day string, kind logbook.Kind, hours float64) logbook.Entry {
		return logbook.Entry{Date: "2026-05-" + day, Kind: kind, Hours: hours}
	}
	const look = " Look, and keep it with --kind dry --hours 48 or more."
	for name, c := range map[string]struct {
		entries []logbook.Entry
		want    string
	}{
		"nothing":               {nil, "No repair is kept, and no look at a roof that was dry 48 hours after rain."},
		"notes":                 {[]logbook.Entry{on("01", logbook.Note, 0), on("02", logbook.Cleaned, 0), on("03", logbook.Look, 50)}, "No repair is kept, and no look at a roof that was dry 48 hours after rain."},
		"repaired":              {[]logbook.Entry{on("01", logbook.Dry, 48), on("02", logbook.Repaired, 0), on("03", logbook.Note, 0)}, "Open: nobody has seen the roof dry 48 hours after rain since 2026-05-02." + look},
		"cut":                   {[]logbook.Entry{on("04", logbook.Cut, 0)}, "Open: nobody has seen the roof dry 48 hours after rain since 2026-05-04." + look},
		"closed":                {[]logbook.Entry{on("02", logbook.Repaired, 0), on("05", logbook.Dry, 48)}, "Seen dry 2026-05-05, 48 hours after rain."},
		"closed, hours unknown": {[]logbook.Entry{on("05", logbook.Dry, 0)}, "Seen dry 2026-05-05."},
		"opened again":          {[]logbook.Entry{on("02", logbook.Repaired, 0), on("05", logbook.Dry, 48), on("09", logbook.Water, 48)}, "Open: on 2026-05-09 water still stood 48 hours after rain, and nobody has seen the roof dry since." + look},
		"soon after rain":       {[]logbook.Entry{on("05", logbook.Dry, 60), on("09", logbook.Water, 47)}, "Seen dry 2026-05-05, 60 hours after rain. Water was seen after that, on 2026-05-09, 47 hours after rain: look again 48 hours after rain."},
		"dry again":             {[]logbook.Entry{on("05", logbook.Water, 50), on("09", logbook.Dry, 50)}, "Seen dry 2026-05-09, 50 hours after rain."},
		"written later":         {[]logbook.Entry{on("09", logbook.Dry, 50), on("05", logbook.Water, 50)}, "Seen dry 2026-05-09, 50 hours after rain."},
		"repaired after water":  {[]logbook.Entry{on("01", logbook.Water, 70), on("02", logbook.Repaired, 0)}, "Open: nobody has seen the roof dry 48 hours after rain since 2026-05-02." + look},
		"an hour":               {[]logbook.Entry{on("05", logbook.Dry, 1)}, "Seen dry 2026-05-05, 1 hour after rain."},
	} {
		if got := CloseOut(&logbook.Book{Entries: c.entries}); got != c.want {
			t.Errorf("%s: %s\nwant %s", name, got, c.want)
		}
	}
}

// The paper holds every entry by date, with when it was written down, and photos with the hash of their bytes.
func TestHistoryPaper(t *testing.T) {
	hash := strings.Repeat("0123456789abcdef", 4)
	b := &logbook.Book{
		Entries: []logbook.Entry{
			{Date: "2026-05-09", Kind: logbook.Water, Text: "stood", Pond: "P01", At: "by RD-1", Depth: 25.4, Hours: 50, Who: "A. Roofer", Photo: "a.jpg", PhotoSum: hash, Written: "2026-05-09T10:00:00Z"},
			{Date: "2026-05-01", Kind: logbook.Water, Pond: "P01", Depth: 50.8, Written: "2026-05-03T10:00:00Z"},
			{Date: "2026-05-20", Kind: logbook.Repaired, Text: "drain set down", At: "RD-1", Written: "2026-05-20T08:00:00Z"},
		},
		Broken: []int{3},
	}
	a := History(sample.Local(), record.US, b)
	if a.Name != "history" || len(a.Parts[0].Texts) != 2 || !strings.Contains(a.Parts[0].Texts[1], "before entry 3 was changed or taken out") {
		t.Errorf("%+v", a.Parts[0])
	}
	want := [][]string{
		{"2026-05-01", "water", ` (2")`, "P01", "", "", "2026-05-03"},
		{"2026-05-09", "water", `stood (1", 50 hours after rain)`, "P01, by RD-1", "A. Roofer", "a.jpg", "the same day"},
		{"2026-05-20", "repaired", "drain set down", "RD-1", "", "", "the same day"},
	}
	var tables [][][]string
	var course Part
	for _, p := range a.Parts {
		if p.Table != nil {
			tables = append(tables, p.Table.Rows)
		}
		if p.Drawing != nil {
			course = p
		}
	}
	if len(tables) != 2 || !reflect.DeepEqual(tables[0], want) || !reflect.DeepEqual(tables[1], [][]string{{"2026-05-09", "a.jpg", "0123456789abcdef 0123456789abcdef 0123456789abcdef 0123456789abcdef"}}) {
		t.Errorf("%q", tables)
	}
	if len(a.pages()) != 1 || course.Heading != "Pond P01 over the years" {
		t.Errorf("%d pages, %q", len(a.pages()), course.Heading)
	}
	if p := photoTable(&logbook.Book{Entries: b.Entries[1:]}); p != nil {
		t.Errorf("photos of a history without any: %q", p.Rows)
	}
	a = History(sample.Local(), record.SI, &logbook.Book{})
	if len(a.Parts[0].Texts) != 1 {
		t.Errorf("%q", a.Parts[0].Texts)
	}
}

// By hand, on 182 mm: dates take 24 and words 60, so that the deepest is 98 mm long and half as deep is 49; each line is 5 mm high, its bar 3.4 mm in the middle of it.
func TestWhereBarsStand(t *testing.T) {
	d := bars([]logbook.Entry{{Date: "2026-05-01", Kind: logbook.Water, Depth: 25}, {Date: "2026-05-09", Kind: logbook.Dry}, {Date: "2026-05-20", Kind: logbook.Water, Depth: 50}}, record.SI, 182)
	want := []scene.Rect{{X: 24, Y: 0.8, W: 49, H: 3.4}, {X: 24, Y: 10.8, W: 98, H: 3.4}}
	if d.Height != 15 || len(d.Layers[0].Shapes) != len(want) {
		t.Fatalf("%d bars in %v mm", len(d.Layers[0].Shapes), d.Height)
	}
	for i, w := range want {
		for k, q := range w.Corners() {
			if p := d.Layers[0].Shapes[i].Paths[0][k]; !(scene.Distance(p, q) <= 0.011) {
				t.Errorf("bar %d: corner %d at %v, want %v", i, k, p, q)
			}
		}
	}
	for i, at := range []scene.Point{{X: 0, Y: 3.4}, {X: 75, Y: 3.4}, {X: 0, Y: 8.4}, {X: 26, Y: 8.4}, {X: 0, Y: 13.4}, {X: 124, Y: 13.4}} {
		if text := d.Layers[0].Texts[i]; !(scene.Distance(text.At, at) <= 0.011) {
			t.Errorf("%q stands at %v, want %v", text.String, text.At, at)
		}
	}
}

// Bars are as long as the depths are to each other, stand below each other in the order of their dates, and nothing overprints or leaves the paper; a repair has words instead.
func TestBarsInProportion(t *testing.T) {
	seen := []logbook.Entry{
		{Date: "2026-05-01", Kind: logbook.Water, Depth: 50, Hours: 72},
		{Date: "2026-05-09", Kind: logbook.Water, Depth: 20},
		{Date: "2026-05-20", Kind: logbook.Repaired, Text: strings.Repeat("set down ", 40)},
		{Date: "2026-05-25", Kind: logbook.Dry, Hours: 48},
	}
	const width = 182.0
	d := bars(seen, record.SI, width)
	if d.Width != width || d.Height < 4*4 || len(d.Layers) != 1 {
		t.Fatalf("%v by %v", d.Width, d.Height)
	}
	var ends, tops []float64
	for _, s := range d.Layers[0].Shapes {
		left, right, top, bottom := math.Inf(1), 0.0, math.Inf(1), 0.0
		for _, p := range s.Paths[0] {
			left, right, top, bottom = min(left, p.X), max(right, p.X), min(top, p.Y), max(bottom, p.Y)
		}
		ends, tops = append(ends, right-left), append(tops, top)
		if right > width || bottom > d.Height {
			t.Error("a bar leaves the drawing")
		}
	}
	if len(ends) != 2 || !(math.Abs(ends[1]/ends[0]-0.4) <= 1e-3) || tops[1] <= tops[0] {
		t.Errorf("bars of %v at %v for 50 and 20 mm", ends, tops)
	}
	var said []string
	for i, s := range d.Layers[0].Texts {
		said = append(said, s.String)
		if s.At.X+s.Width > width+0.01 || s.At.Y > d.Height {
			t.Errorf("%q leaves the drawing", s.String)
		}
		if i%2 == 1 && d.Layers[0].Texts[i-1].At.X+d.Layers[0].Texts[i-1].Width > s.At.X {
			t.Errorf("%q overprints its date", s.String)
		}
		if i%2 == 1 && i/2 < 2 && s.At.X < 24+ends[i/2] {
			t.Errorf("%q stands on its bar", s.String)
		}
		if i%2 == 0 && i > 0 && s.At.Y-d.Layers[0].Texts[i-2].At.Y < 2.8 {
			t.Errorf("%q overprints the line above", s.String)
		}
	}
	if want := []string{"2026-05-01", "50 mm, 72 hours after rain", "2026-05-09", "20 mm", "2026-05-20", "2026-05-25", "dry, 48 hours after rain"}; !slices.Equal(slices.Concat(said[:5], said[6:]), want) || !strings.HasPrefix(said[5], "repaired: set down") {
		t.Errorf("%q", said)
	}
}
