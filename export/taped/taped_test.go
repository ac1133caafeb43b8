package taped_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/export/drawing"
	"runnel/export/record"
	"runnel/export/taped"
	"runnel/importer"
)

const shed = `place;elev;depth;code
;;;OUTLINE rect=120x60ft edge=wall name="Tool shed"
40' from W wall, 30' from S wall;;;DRAIN RD-1 d=4in
120' from W wall, 20' from S wall;;;OVERFLOW OS-1 w=8in
50' from W wall, 30' from S wall;;0.75in;POND 1 size=12x6ft hours=50
10' from W wall, 10' from S wall;;;SLOPE level=4ft gap=1/2in toward=E
`

const metric = `place;elev;depth_mm;code
;;;OUTLINE walls="E 24 m, N 12 m, W 8 m, S 3 m, W 16 m, S 9 m" edge=wall name=Halle
6 m from wall 6, 4 m from S wall;;;DRAIN D1 d=100mm
9 m from wall 6, 4 m from S wall;;18;POND 1 size=4x2m
22 m from wall 6, 11 m from S wall;;30;POND 2 size=1x1m hours=5
12 m from wall 6, 4 m from S wall;;;CURB 1 rect=2x1m h=0.3m label=RTU-1
`

// bookOf reads files as check does.
func bookOf(t *testing.T, texts ...string) *taped.Book {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, text := range texts {
		path := filepath.Join(dir, string(rune('a'+i))+".csv")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	r, err := importer.Read(paths, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	units := record.SI
	if r.Imperial {
		units = record.US
	}
	return &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: units}
}

func written(t *testing.T, write func(io.Writer, *taped.Book) error, b *taped.Book) string {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out, b); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// words returns a text with one blank between words.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }

// The figures are those of analysis/tape's test, by hand; the order is that of every page.
func TestThePageOfTierA(t *testing.T) {
	page := words(written(t, taped.Write, bookOf(t, shed)))
	last := 0
	for _, want := range []string{
		"Tool shed (tier A)", `PONDS 1 pond. P1, 50' 0" from the west wall, 30' 0" from the south wall; 4' 0" from RD-1. It covers 57 sq ft. One depth was read: 3/4".`,
		"It holds 74 lb to 221 lb of water, likely about 110 lb, and weighs 3.9 psf", "upper figure, 221 lb. It still stood 50 hours after rain.",
		`HELD BY Not known. No height tells what holds it. Its lip stands at least 3/4" over its lowest place.`,
		"NEXT 1. Read 7 heights", "2. P1: Read five depths", "MEND Nothing yet", "SURVEY Tier A: tape, chalk and ruler, no heights.", "It cannot tell: what holds a pond;",
		"Tier B, about a dozen heights", "LIMIT This does not say that the roof can carry the water.",
		"WALLS", "4 west 60' 0\"", "OUTLETS", "RD-1 drain primary", "PONDS SEEN", "8.8 gal to 26 gal", "SLOPES MEASURED WITH A LEVEL", "east 1/8 in per ft (1.04 %)",
		"NEXT SPOTS", "1 INLET RD-1 RD-1", "2 BEFORE RD-1 1 ft from RD-1 toward P1", "FINDINGS", "N01 REPAIR: Water stands in a low place.", "ASSUMPTIONS", "drawn as an oval", "WARNINGS", "CAUTIONS",
	} {
		at := strings.Index(page[last:], want)
		if at < 0 {
			t.Errorf("%q does not stand after character %d:\n%s", want, last, page[last:])
			continue
		}
		last += at
	}
	for _, never := range []string{"catchment area", "is safe", "adequate", "no pond."} {
		if strings.Contains(page, never) {
			t.Errorf("the page says %q", never)
		}
	}
}

// A plan by tape is one sheet, so what its panel has no room for stands in other files, not on sheets that follow.
func TestThePlanSendsToNoOtherSheet(t *testing.T) {
	rows := shed
	for i := range 12 {
		rows += fmt.Sprintf("%d' from W wall, 10' from S wall;;0.5in;POND %d size=3x2ft\n", 8*i+6, i+2)
	}
	sheets, err := taped.Plan(bookOf(t, rows), drawing.Options{})
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	plan := fmt.Sprint(sheets[0].Layer("texts").Texts)
	if !strings.Contains(plan, " more in the other files") || strings.Contains(plan, "sheets that follow") {
		t.Errorf("the plan does not say where the rest of its spots stands: %s", plan)
	}
}

// Over 2 in of water people keep off: the page begins with that, before what stands there, and counts its steps on; who decides is said alike in the step and beside the mend.
func TestThePageBeginsWithKeepingOff(t *testing.T) {
	deep := strings.Replace(shed, "0.75in", "2-1/2in", 1)
	page := words(written(t, taped.Write, bookOf(t, deep)))
	off, ponds, next := strings.Index(page, " FIRST 1. Keep off, and call a structural engineer today:"), strings.Index(page, " PONDS "), strings.Index(page, " NEXT 2. ")
	if off < 0 || ponds < off || next < ponds {
		t.Errorf("first %d, ponds %d, next %d:\n%s", off, ponds, next, page[:1500])
	}
	read := "place;rod;code\nRD-1;4' 3\";INLET RD-1\n1 ft from RD-1 toward P1;4' 3-1/2\";BEFORE RD-1\n50 ft from W wall and 30 ft from S wall;4' 5\";LOW 1\n"
	page = words(written(t, taped.Write, bookOf(t, deep, read)))
	_, mend, ok := strings.Cut(page, " MEND Likely: ")
	if mend, _, _ = strings.Cut(mend, " SURVEY "); !ok || !strings.Contains(mend, "Decides: the engineer.") {
		t.Errorf("the mend under deep water is not the engineer's:\n%s", page[:1500])
	}
}

// The spots to read next, filled in with rods, are read beside the first file and lift it to tier B.
func TestTheNextSpotsReadBack(t *testing.T) {
	rows, err := readRows(written(t, taped.WriteNext, bookOf(t, shed)))
	if err != nil {
		t.Fatal(err)
	}
	rods := map[string]string{"INLET RD-1": `4' 3"`, "LOW 1": `4' 4-1/4"`, "INLET OS-1": `4' 0"`}
	before := []string{`4' 3-1/2"`, `4' 3-3/4"`, `4' 4"`, `4' 4"`}
	var out strings.Builder
	w := csv.NewWriter(&out)
	w.Comma = ';'
	for i, row := range rows {
		if i > 0 {
			if row[2] = rods[row[3]]; row[2] == "" {
				row[2], before = before[0], before[1:]
			}
		}
		_ = w.Write(row)
	}
	w.Flush()
	b := bookOf(t, shed, out.String())
	page := words(written(t, taped.Write, b))
	for _, want := range []string{
		"(tier B)", "HELD BY The outlet is set high, and no rise before it adds to that.", `The inlet of RD-1 stands 1-1/4" over the lowest place (error 1/8").`,
		`When full it stands 1-1/4" deep`, "Likely: clear the strainer.", "Read heights on a grid, 91 spots", "HEIGHTS READ",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q:\n%s", want, page[:1500])
		}
	}
	// and the grid after that, at one height all over, is tier C
	rows, err = readRows(written(t, taped.WriteNext, b))
	if err != nil || len(rows) != 92 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	out.Reset()
	for i, row := range rows {
		if i > 0 {
			row[2] = "4.2"
		}
		_ = w.Write(row)
	}
	w.Flush()
	dir := t.TempDir()
	for name, text := range map[string]string{"a.csv": shed, "b.csv": out.String()} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	r, err := importer.Read([]string{filepath.Join(dir, "a.csv"), filepath.Join(dir, "b.csv")}, importer.Options{})
	if err != nil || tape.TierOf(r) != tape.C || len(r.Spots) != 91 {
		t.Errorf("%d spots, %v", len(r.Spots), err)
	}
}

func readRows(text string) ([][]string, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = ';'
	return r.ReadAll()
}

// In metres, on an L whose west walls need numbers; two ponds, the heavier first. By hand: 4 x 2 m x pi/4 = 6.28 m2, 18 mm deep: 38 to 113 kg;
// the other 0.785 m2, 30 mm deep: 7.9 to 23.6 kg, 0.29 kPa.
func TestThePageInMetres(t *testing.T) {
	page := words(written(t, taped.Write, bookOf(t, metric)))
	for _, want := range []string{
		"2 ponds. The worst: P1, 9.0 m from wall 6, 4.0 m from the south wall; 1.0 m from D1. It covers 6.3 m².", "It holds 38 kg to 113 kg of water",
		"WORST The roof has walls all round, and no overflow was recorded.", "P2 0.8 m² 30 mm 7.9 litres to 24 litres 7.9 kg to 24 kg 12 kg 0.29 kPa",
		"P2 held by: Not known.", "The roof covers 238 m².", "BEFORE D1 0.60 m from D1 toward P1",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q:\n%s", want, page)
		}
	}
	page, _, _ = strings.Cut(page, "CAUTIONS")
	if strings.Contains(page, "psf") || strings.Contains(page, " ft") || strings.Contains(page, `"`) {
		t.Error("feet or pounds on a page in metres")
	}
}

func TestTheSummaryHasTheSameFigures(t *testing.T) {
	var got struct {
		Schema, Tier, Worst string
		KeepOff             bool    `json:"keep_off"`
		Area                float64 `json:"area_ft2"`
		Steps               []string
		Ponds               []struct {
			ID     string
			Area   float64 `json:"area_ft2"`
			Least  float64 `json:"weight_least_lb"`
			Most   float64 `json:"weight_most_lb"`
			Load   float64 `json:"load_psf"`
			HeldBy string  `json:"held_by"`
			Lip    float64 `json:"lip_at_least_in"`
		}
		Next []struct{ Place, Code string } `json:"next_spots"`
	}
	if err := json.Unmarshal([]byte(written(t, taped.WriteSummary, bookOf(t, shed))), &got); err != nil {
		t.Fatal(err)
	}
	if got.Schema != taped.Schema || got.Tier != "A" || got.Worst != "repair" || got.KeepOff || got.Area != 7200 || len(got.Steps) != 2 || len(got.Next) != 7 {
		t.Errorf("%+v", got)
	}
	p := got.Ponds[0]
	if p.ID != "P1" || p.HeldBy != "not resolved" || p.Lip != 0.75 || p.Area < 56.4 || p.Area > 56.7 || p.Least < 73.2 || p.Least > 73.8 || p.Most < 220 || p.Most > 221.3 || p.Load < 3.89 || p.Load > 3.91 {
		t.Errorf("%+v", p)
	}
}

// What was measured goes out so that it can be read back: the outline, the outlets and the water as a stain.
func TestTheMapReadsBack(t *testing.T) {
	b := bookOf(t, metric)
	text := written(t, taped.WriteMap, b)
	path := filepath.Join(t.TempDir(), "halle.local.geojson")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Name != "Halle" || len(r.Outline.Rings[0]) != 7 || len(r.Outlets) != 1 || r.Outlets[0].Label != "D1" || float64(r.Outlets[0].Diameter) != 0.1 || len(r.Stains) != 2 || len(r.Curbs) != 1 {
		t.Errorf("%s: %d corners, %d outlets, %d stains, %d curbs", r.Name, len(r.Outline.Rings[0]), len(r.Outlets), len(r.Stains), len(r.Curbs))
	}
	if s := r.Stains[0]; float64(s.Depth) != 0.018 || s.HoursSinceRain >= 0 || s.Outlets != roof.OutletsUnknown {
		t.Errorf("stain %+v", s.Depth)
	}
}

func TestThePlanShowsWallsPondsAndSpots(t *testing.T) {
	sheets, err := taped.Plan(bookOf(t, shed), drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, l := range sheets[0].Layers {
		for _, text := range l.Texts {
			all = append(all, text.String)
		}
	}
	page := strings.Join(all, " ")
	for _, want := range []string{"wall 1, south, 120' 0\"", "P1 57 sq ft", "74 lb to 221 lb", "RD-1", "X4", "water as chalked", "Held by", "1 of 1, as taped (tier A)", drawing.Limit[:40]} {
		if !strings.Contains(words(page), want) {
			t.Errorf("the plan does not say %q: %s", want, page)
		}
	}
	if strings.Contains(page, "not for construction") {
		t.Error("a roof as found is called a design")
	}
}

func TestOutputsAreTheSameEachTime(t *testing.T) {
	b := bookOf(t, metric)
	again := &taped.Book{Survey: tape.Of(b.Survey.Roof, standard.Defaults()), Units: b.Units}
	for i, write := range []func(io.Writer, *taped.Book) error{taped.Write, taped.WriteSummary, taped.WriteMap, taped.WriteNext} {
		if written(t, write, b) != written(t, write, again) {
			t.Errorf("output %d differs", i)
		}
	}
}
