package surveysheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/taped"
	"runnel/importer"
)

// tapedSheet is the sheet of a roof of 24 by 12 m with two drains and so many ponds in a row, taped in a unit.
func tapedSheet(t *testing.T, u record.Units, more string) *Sheet {
	t.Helper()
	rows := "place;elev;depth;code\n;;;OUTLINE rect=24x12m edge=wall name=Halle\n6 m from W wall, 4 m from S wall;;;DRAIN D1 d=100mm\nE wall;;;GUTTER E-1\n" +
		"20 m from W wall, 12 m from S wall;;;OVERFLOW OS-1 w=200mm\n"
	if u == record.US {
		rows = "place;elev;depth;code\n;;;OUTLINE rect=80x40ft edge=wall name=Shed\n20' from W wall, 12' from S wall;;;DRAIN D1 d=4in\n"
	}
	path := filepath.Join(t.TempDir(), "roof.csv")
	if err := os.WriteFile(path, []byte(rows+more), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &Sheet{Units: u, Taped: &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: u}}
}

func knownSheet() (*Sheet, *record.Book) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	return &Sheet{Units: record.SI, Book: b}, b
}

// said returns the texts of pages that were set here, in order.
func said(t *testing.T, s *Sheet) ([]*scene.Scene, []string) {
	t.Helper()
	pages, err := s.pages()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, p := range pages {
		texts, _ := drawn(p)
		for i := range texts {
			all = append(all, texts[i].String)
		}
	}
	return pages, all
}

// sections are the headings of a sheet.
func sections(pages []*scene.Scene) []string {
	var all []string
	for _, p := range pages {
		for _, m := range p.Marks {
			all = append(all, m.Text)
		}
	}
	return all
}

// What a sheet asks for, in the order of the work: what to mind first, where things are, what to measure of each kind, readings last. Wanted spots stand
// only where a known roof asks for some.
func TestSectionsOfASheet(t *testing.T) {
	middle := []string{"Outlets", "Sills: where water would get in first", "Ponds", "Cores"}
	known, b := knownSheet()
	b.NextSpots = []record.NextSpot{{Plan: orb.Point{3.25, 4.5}, For: "pond P01"}}
	without, c := knownSheet()
	c.NextSpots = nil
	complete := tapedSheet(t, record.SI, "")
	complete.Taped.Survey.Next = nil
	for name, row := range map[string]struct {
		s             *Sheet
		title, where  string
		before, after []string
	}{
		"unknown":        {&Sheet{Units: record.SI}, "Survey sheet", "Sketch: walls, outlets, curbs, ponds. North up; one square is ______", nil, nil},
		"known":          {known, "Survey sheet: " + b.Study.Roof.Name, "Plan", nil, []string{"Spots to take, in walking order"}},
		"known complete": {without, "Survey sheet: " + b.Study.Roof.Name, "Plan", nil, nil},
		"taped":          {tapedSheet(t, record.SI, ""), "Survey sheet: Halle", "The roof as it was taped", nil, []string{"Heights to read, in walking order"}},
		"taped complete": {complete, "Survey sheet: Halle", "The roof as it was taped", nil, nil},
	} {
		pages, texts := said(t, row.s)
		want := slices.Concat([]string{"Before you go up", row.where}, middle, row.after, []string{"Readings"})
		if got := sections(pages); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
		if texts[0] != row.title || pages[0].Title != row.title {
			t.Errorf("%s: begins with %q, the document is %q; want %q", name, texts[0], pages[0].Title, row.title)
		}
		if last := fmt.Sprintf("page %d of %d", len(pages), len(pages)); !slices.Contains(texts, last) || !slices.Contains(texts, caution.Foot) {
			t.Errorf("%s: without its foot or %q", name, last)
		}
		for i, p := range pages {
			if row.where == "Plan" && i == 1 {
				continue // the plan has its own tests
			}
			room(t, []*scene.Scene{p})
		}
	}
}

// Whoever is to keep off the roof reads that before all else but the sheet's name; the engineer decides. Where nothing is known to speak against going up
// nothing stands between.
func TestKeepOffComesFirst(t *testing.T) {
	known, b := knownSheet()
	b.Study.KeepOff.Reasons = []inspection.Reason{{}}
	tape := tapedSheet(t, record.SI, "")
	tape.Taped.Survey.KeepOff.Reasons = []inspection.Reason{{}}
	for name, s := range map[string]*Sheet{"known": known, "taped": tape} {
		_, texts := said(t, s)
		if !strings.HasPrefix(texts[1], "Keep off, and call a structural engineer today") || !strings.Contains(s.first(), "ngineer") {
			t.Errorf("%s: after the name stands %q", name, texts[1])
		}
	}
	dry, c := knownSheet()
	c.Study.KeepOff.Reasons = nil
	for name, s := range map[string]*Sheet{"unknown": {Units: record.US}, "known": dry, "taped": tapedSheet(t, record.US, "")} {
		if _, texts := said(t, s); s.first() != "" || texts[1] != "Before you go up" {
			t.Errorf("%s: %q, after the name stands %q", name, s.first(), texts[1])
		}
	}
}

// What is minded before going up is what the known roof's own survey found to mind, else what holds on every roof.
func TestCautionsOfTheSheet(t *testing.T) {
	known, b := knownSheet()
	b.Study.Cautions = b.Study.Cautions[:1]
	tape := tapedSheet(t, record.SI, "")
	tape.Taped.Survey.Cautions = tape.Taped.Survey.Cautions[:2]
	for name, c := range map[string]struct {
		s    *Sheet
		want int
	}{"known": {known, 1}, "taped": {tape, 2}, "unknown": {&Sheet{}, len(inspection.Everywhere())}} {
		_, texts := said(t, c.s)
		if got := strings.Count(strings.Join(texts, ""), "•"); got != c.want {
			t.Errorf("%s: %d cautions, want %d", name, got, c.want)
		}
	}
}

// Readings before an outlet are a foot, two and four away, in metres 0.3, 0.6 and 1.2: 0.3048 m to the foot.
func TestStepsBeforeAnOutlet(t *testing.T) {
	us, si := (&Sheet{Units: record.US}).steps(), (&Sheet{Units: record.SI}).steps()
	for i, feet := range []float64{1, 2, 4} {
		var m float64
		if _, err := fmt.Sscanf(si[i], "%f m", &m); err != nil || us[i] != fmt.Sprintf("%v ft", feet) || !(math.Abs(m-feet*0.3048) <= 0.02*feet) {
			t.Errorf("%q beside %q", si[i], us[i])
		}
	}
	for _, u := range []record.Units{record.US, record.SI} {
		_, texts := said(t, &Sheet{Units: u})
		for _, step := range (&Sheet{Units: u}).steps() {
			if n := strings.Count(strings.Join(texts, "|"), "|"+step+"|"); n != 1 {
				t.Errorf("%q heads %d columns", step, n)
			}
		}
	}
}

// Outlets that are known stand by name and kind: an open edge is none that a rod is read at; where they were taped their place stands too.
func TestOutletsThatAreKnown(t *testing.T) {
	known, b := knownSheet()
	o := b.Study.Surface.Outlets
	if len(o) != 3 || o[0].Type != roof.Drain || o[1].Type != roof.Scupper || o[1].Duty != roof.Overflow || o[2].Type != roof.EdgeOutlet {
		t.Fatalf("the sample has %+v", o)
	}
	if got, want := fmt.Sprint(known.knownOutlets()), fmt.Sprintf("[[%s drain] [%s scupper, overflow]]", o[0].Label, o[1].Label); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := fmt.Sprint(tapedSheet(t, record.SI, "").knownOutlets()), "[[D1 drain       6.0 m from the west wall"; !strings.HasPrefix(got, want) {
		t.Errorf("%s, want %s …", got, want)
	}
	if got := (&Sheet{}).knownOutlets(); got != nil {
		t.Errorf("of an unknown roof: %v", got)
	}
	for _, c := range []struct {
		kind roof.OutletType
		duty roof.Duty
		want string
	}{{roof.Drain, roof.Primary, "drain"}, {roof.Drain, roof.Overflow, "drain, overflow"}, {roof.Scupper, roof.Primary, "scupper"}, {roof.Scupper, roof.Overflow, "scupper, overflow"}} {
		if got := kind(c.kind, c.duty); got != c.want {
			t.Errorf("%v, %v: %q, want %q", c.kind, c.duty, got, c.want)
		}
	}
}

// Ponds that were taped are chalked again: each stands with its place, seven as well as one, though a blank sheet has five rows.
func TestEveryTapedPondStandsOnce(t *testing.T) {
	rows := ""
	for i := range 7 {
		rows += fmt.Sprintf("%d m from W wall, 8 m from S wall;;18mm;POND %d size=1x1m\n", 3*i+2, i+1)
	}
	s := tapedSheet(t, record.SI, rows)
	known := s.knownPonds()
	if len(known) != 7 {
		t.Fatalf("%d ponds of 7", len(known))
	}
	_, texts := said(t, s)
	for _, p := range known {
		if n := strings.Count("|"+strings.Join(texts, "|")+"|", "|"+p[0]+"|"); n < 1 || p[1] == "" {
			t.Errorf("pond %v stands %d times", p, n)
		}
	}
}

// 90 wanted spots stand once each, in walking order, with place and use, over as many pages as they need; the file has the same in the same order.
func TestEveryWantedSpotStandsOnce(t *testing.T) {
	s, b := knownSheet()
	b.NextSpots = nil
	for i := range 90 {
		b.NextSpots = append(b.NextSpots, record.NextSpot{Plan: orb.Point{1 + float64(i%18), 1 + float64(i/18)}, For: fmt.Sprint("use ", i)})
	}
	pages, texts := said(t, s)
	from := slices.Index(texts, "Spots to take, in walking order")
	next := 0
	for _, text := range texts[from:] {
		if text == fmt.Sprint("use ", next) {
			next++
		}
	}
	if next != 90 {
		t.Errorf("%d spots of 90 stand in their order", next)
	}
	room(t, pages[2:])
	var file bytes.Buffer
	if err := s.WriteCSV(&file); err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(&file)
	in.Comma, in.FieldsPerRecord, in.LazyQuotes = ';', -1, true
	rows, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var spots [][]string
	for _, row := range rows {
		if len(row) == 5 && row[4] == "SPOT" {
			spots = append(spots, row)
		}
	}
	if len(spots) != 90 {
		t.Fatalf("%d spots in the file", len(spots))
	}
	for i, row := range spots { // the sample lies 1000 m east and 2000 m north
		if want := fmt.Sprintf("#%s;%.3f;%.3f;;SPOT", b.Names.Local(b.Names.NextSpot(i)), 2001+float64(i/18), 1001+float64(i%18)); strings.Join(row, ";") != want {
			t.Errorf("row %d: %v, want %s", i, row, want)
		}
	}
}

// Cores that are wanted stand by name and place, and one empty row is left for another; without any five.
func TestWantedCoresStand(t *testing.T) {
	s, b := knownSheet()
	b.NextCores = nil
	for i := range 6 {
		b.NextCores = append(b.NextCores, record.NextCore{Plan: orb.Point{2 + float64(i), 3}})
	}
	pages, _ := said(t, s)
	all := ""
	for _, p := range pages[2:] { // behind the plan, which has them too
		texts, _ := drawn(p)
		for i := range texts {
			all += "|" + texts[i].String + "|"
		}
	}
	for i := range 6 {
		if name := b.Names.Local(b.Names.NextCore(i)); strings.Count(all, "|"+name+"|") != 1 {
			t.Errorf("core %s stands %d times", name, strings.Count(all, "|"+name+"|"))
		}
	}
}

// What is known of the roof for good, who warrants it, how one gets up, stands on the form already; the day's weather does not.
func TestWhatTheFormKnows(t *testing.T) {
	s, b := knownSheet()
	b.Study.Roof.Name, b.Study.Roof.Building = "Hall <A>, \"north\"", "Works"
	b.Study.Roof.Visit = roof.Visit{Weather: "dry", Leaks: "over the store", Coverings: 1, Warrantor: "the maker", WarrantyUntil: "2031", Access: "ladder", CutsAuthorised: "the owner", Instrument: "level"}
	_, texts := said(t, s)
	all := "|" + strings.Join(texts, "|") + "|"
	for _, want := range []string{`|Hall <A>, "north"|`, "|Works|", "|over the store|", "|1|", "|the maker|", "|2031|", "|ladder|", "|the owner|"} {
		if !strings.Contains(all, want) {
			t.Errorf("without %s", want)
		}
	}
	for _, no := range []string{"|dry|", "|level|"} {
		if strings.Contains(all, no) {
			t.Errorf("with %s, which was so on the day of another visit", no)
		}
	}
	b.Study.Roof.Visit.Coverings = 0
	pages, _ := said(t, s)
	form, _ := drawn(pages[0])
	if slices.ContainsFunc(form, func(text scene.Text) bool { return text.String == "0" }) {
		t.Error("coverings that nobody knows are said to be 0")
	}
}

// The grid to draw on has squares of 5 mm that fill what the page has left: 36 across 182 mm.
func TestGridToDrawOn(t *testing.T) {
	pages, _ := said(t, &Sheet{Units: record.SI})
	level, upright := rules(pages[0])
	var across, down []float64
	for _, u := range upright {
		across = append(across, u[0])
	}
	for _, l := range level {
		if l[1] == 14 && l[2] == 194 {
			down = append(down, l[0])
		}
	}
	if len(across) != 37 || across[0] != 14 || !(math.Abs(across[36]-194) <= 0.0101) {
		t.Errorf("%d lines across, to %v", len(across), across[len(across)-1])
	}
	for _, at := range [][]float64{across, down} {
		for i := 1; i < len(at); i++ {
			if !(math.Abs(at[i]-at[i-1]-5) <= 0.0101) {
				t.Errorf("lines at %v and %v", at[i-1], at[i])
			}
		}
	}
	if n := len(down); n < 10 || down[n-1] > 283.01 || down[n-1] < 278 || upright[0][1] != down[0] || !(math.Abs(upright[0][2]-down[n-1]) <= 0.0101) {
		t.Errorf("lines down from %v to %v, uprights %v", down[0], down[n-1], upright[0])
	}
}

// A sheet of a roof that was taped, thing by thing as it was read, in metres and in feet, with a grid and without.
func TestGoldenTapedSheets(t *testing.T) {
	for name, s := range map[string]*Sheet{
		"taped-pond": tapedSheet(t, record.SI, "9 m from W wall, 4 m from S wall;;18mm;POND 1 size=4x2m\n"),
		"taped-grid": tapedSheet(t, record.US, ""),
	} {
		pages, _ := said(t, s)
		scenetest.AsRead(t, name+".txt", scenetest.Told(pages))
		var file bytes.Buffer
		if err := s.WriteCSV(&file); err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, name+".csv", file.String())
	}
}

// The file of the sheet is a document of as many pages, for letter paper where feet are asked for.
func TestWritePDF(t *testing.T) {
	for u, box := range map[record.Units]string{record.US: "[0 0 612.00 792.00]", record.SI: "[0 0 595.28 841.89]"} { // points of 1/72 in: 8.5 and 11 in; 210 and 297 mm are 595.28 and 841.89
		s := &Sheet{Units: u}
		pages, _ := said(t, s)
		var b bytes.Buffer
		if err := s.WritePDF(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) || !bytes.Contains(b.Bytes(), []byte(fmt.Sprintf("/Count %d", len(pages)))) || !strings.Contains(b.String(), box) {
			t.Errorf("%v: not a document of %d pages of %s points", u, len(pages), box)
		}
	}
}

// full takes so many bytes and refuses more, as a disk does.
type full struct{ left int }

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.left {
		return 0, os.ErrInvalid
	}
	f.left -= len(p)
	return len(p), nil
}

// A disk that is full is an error, whatever is written and however far it came.
func TestFullDisk(t *testing.T) {
	known, _ := knownSheet()
	for name, s := range map[string]*Sheet{"unknown": {}, "known": known, "taped": tapedSheet(t, record.SI, "")} {
		if err := s.WriteCSV(&full{}); err == nil {
			t.Errorf("%s: the file is written onto a full disk", name)
		}
		if err := s.WritePDF(&full{left: 100}); err == nil {
			t.Errorf("%s: the sheet is written onto a full disk", name)
		}
	}
}
