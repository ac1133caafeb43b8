package campus_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/export/campus"
)

func page(t *testing.T, all []campus.Row, reports bool) string {
	t.Helper()
	dir, _ := written(t, all, campus.Options{UnitsOut: "si", Reports: reports})
	text, err := os.ReadFile(filepath.Join(dir, "campus.html"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The page has a row for every roof, the worst first; links lead to reports only where those are written; names of the input stay text.
func TestHTMLListsAllRoofs(t *testing.T) {
	all := rows()
	all[1].Name, all[1].Counts = `<script>alert(1)</script>`, [3]int{0, 2, 0}
	text := page(t, all, true)
	if strings.Contains(text, "<script>alert") || !strings.Contains(text, "&lt;script&gt;alert(1)") {
		t.Error("a name is markup")
	}
	if n := strings.Count(text, `<tr id="r`); n != 3 {
		t.Errorf("%d rows", n)
	}
	for _, want := range []string{`href="map.report.html"`, "Not checked: =no outline", "not checked (1)", "structural engineer", `<tr id="r3" data-class="failed">`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page(t, rows(), false), ".report.html") {
		t.Error("links to reports that are not written")
	}
}

// Distributions by hand: ponds of 4, 12, 13 and 120 mm fall into the classes to 10 mm, 10 to 25 mm twice, and over 100 mm; one roof has none.
func TestHTMLDistributions(t *testing.T) {
	var all []campus.Row
	for i, depth := range []float64{0, 0.004, 0.012, 0.013, 0.120} {
		r := campus.Row{Name: fmt.Sprint("roof ", i), Stem: fmt.Sprint("roof-", i), Depth: depth, Surveyed: "2024-03-01"}
		if depth > 0 {
			r.Ponds = 1
		}
		all = append(all, r)
	}
	text := page(t, all, false)
	for label, want := range map[string]string{"no pond": "1", "to 10 mm": "1", "10 mm to 25 mm": "2", "25 mm to 50 mm": "0", "over 100 mm": "1", "2024": "5"} {
		found := regexp.MustCompile(regexp.QuoteMeta(`<th scope="row">`+label+`</th>`) + `<td>.*?</svg> (\d+)</td>`).FindStringSubmatch(text)
		if found == nil || found[1] != want {
			t.Errorf("%s: %v, want %s", label, found, want)
		}
	}
}

// Of surveys over a score of years the last fifteen years are told one by one, those before as one, and roofs that do not say beside them: no
// roof that was checked is missing.
func TestHTMLYears(t *testing.T) {
	var all []campus.Row
	for i, date := range []string{"2025-03-01", "2011", "2010-12-31", "1999-01-01", "", "soon"} {
		all = append(all, campus.Row{Name: fmt.Sprint("roof ", i), Stem: fmt.Sprint("roof-", i), Surveyed: date})
	}
	all = append(all, campus.Row{Name: "broken", Stem: "broken", Reason: "no outline", Surveyed: "2025-01-01"})
	text := page(t, all, false)
	for label, want := range map[string]string{"before 2011": "2", "2011": "1", "2012": "0", "2025": "1", "not said": "2"} {
		found := regexp.MustCompile(regexp.QuoteMeta(`<th scope="row">`+label+`</th>`) + `<td>.*?</svg> (\d+)</td>`).FindStringSubmatch(text)
		if found == nil || found[1] != want {
			t.Errorf("%s: %v, want %s", label, found, want)
		}
	}
	if strings.Contains(page(t, all[4:5], false), "Year of the survey") {
		t.Error("years are told where no roof says one")
	}
}

// A roof that would be a speck on the map is a square whose colour shows, in the middle of where it lies, and the worst is drawn last.
func TestHTMLMapOfSmallRoofs(t *testing.T) {
	at := func(name string, lon float64, counts [3]int) campus.Row {
		r := campus.Row{Name: name, Stem: name, Frame: roof.NewGeographic(orb.Point{lon, 0}), Counts: counts}
		r.Rings = orb.Polygon{{{0, 0}, {20, 0}, {20, 10}, {0, 10}, {0, 0}}}
		return r
	}
	text := page(t, []campus.Row{at("near", 10, [3]int{}), at("far", 10.5, [3]int{0, 0, 1})}, false)
	first, last := strings.Index(text, `<path class="none"`), strings.Index(text, `<path class="urgent"`)
	if first < 0 || last < first {
		t.Fatalf("the worst is drawn at %d, the other at %d", last, first)
	}
	var x, y [4]float64
	_, path, _ := strings.Cut(text, `class="none" d="M`)
	if _, err := fmt.Sscanf(path, "%f %fL%f %fL%f %fL%f %f", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2], &x[3], &y[3]); err != nil {
		t.Fatal(err)
	}
	wide, high := slices.Max(x[:])-slices.Min(x[:]), slices.Max(y[:])-slices.Min(y[:])
	if wide < 9.9 || wide > 10.1 || high < 9.9 || high > 10.1 || slices.Min(x[:]) > 20 || slices.Max(x[:]) < 20 {
		t.Errorf("%v wide and %v high at %v", wide, high, x)
	}
}

// The map keeps proportions: at 60 degrees north a degree of longitude is half as long as one of latitude, so a roof of 2 by 1 thousandths of a degree is
// drawn square. Roofs on site grids have no place on it.
func TestHTMLMap(t *testing.T) {
	at := func(name string, lon, lat float64) campus.Row {
		r := campus.Row{Name: name, Stem: name, Frame: roof.NewGeographic(orb.Point{lon, lat})}
		var ring orb.Ring
		for _, c := range [][2]float64{{0, 0}, {0.002, 0}, {0.002, 0.001}, {0, 0.001}, {0, 0}} {
			ring = append(ring, r.Frame.ToLocal(orb.Point{lon + c[0], lat + c[1]}))
		}
		r.Rings = orb.Polygon{ring}
		return r
	}
	text := page(t, []campus.Row{at("a", 10, 60), at("b", 10.01, 60.001)}, false)
	var x, y [4]float64
	_, path, ok := strings.Cut(text, `class="none" d="M`)
	if !ok {
		t.Fatal("no map")
	}
	if _, err := fmt.Sscanf(path, "%f %fL%f %fL%f %fL%f %f", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2], &x[3], &y[3]); err != nil {
		t.Fatal(err)
	}
	if wide, high := x[1]-x[0], y[1]-y[2]; wide < 1 || wide/high < 0.99 || wide/high > 1.01 {
		t.Errorf("%v wide and %v high", wide, high)
	}
	for want, more := range map[string]int{"North is up.</p>": 0, "North is up. 1 roof is not on it: it stands on a site grid of its own.</p>": 1, "North is up. 2 roofs are not on it: they stand on site grids of their own.</p>": 2} {
		all := []campus.Row{at("a", 10, 60), at("b", 10.01, 60.001)}
		for range more {
			all = append(all, campus.Row{Name: "shed", Stem: "shed", Rings: orb.Polygon{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}}})
		}
		if text := page(t, all, false); !strings.Contains(text, want) {
			t.Errorf("with %d roofs on site grids the page lacks %q", more, want)
		}
	}
	if strings.Contains(page(t, rows(), false), `<svg id="map"`) {
		t.Error("a map of one roof in degrees and one on a site grid")
	}
}

// A roof whose outlets nobody surveyed is in a class of its own, to be filtered apart.
func TestHTMLClassOfBlindRoofs(t *testing.T) {
	text := page(t, []campus.Row{{Name: "scan", Stem: "scan", Blind: true, Counts: [3]int{0, 1, 0}}, {Name: "pond", Stem: "pond", Counts: [3]int{0, 1, 0}}}, false)
	for _, want := range []string{"outlets not surveyed (1)", "repair (1)", `data-class="blind"`, "1 whose outlets were not surveyed"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}

// A roof that people are to keep off is no roof to repair, however shallow its pond, and none of those whose outlets nobody surveyed: else whoever filters
// by how bad roofs are would pass it over.
func TestHTMLClassOfRoofsToKeepOff(t *testing.T) {
	text := page(t, []campus.Row{
		{Name: "dish", Stem: "dish", KeepOff: true, Counts: [3]int{2, 1, 0}},
		{Name: "scan", Stem: "scan", KeepOff: true, Blind: true},
		{Name: "wall", Stem: "wall", Counts: [3]int{0, 0, 1}},
	}, false)
	for _, want := range []string{"keep off (2)", "urgent (1)", "repair (0)", "outlets not surveyed (0)", `<tr id="r1" data-class="off">`, "2 to keep off, 1 more with something urgent, 0 to repair"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}

// Names of roofs have a comma behind the building, so those to keep off stand apart by more; large counts have commas between the thousands, on the page
// and in the text.
func TestNamesAndCountsReadWell(t *testing.T) {
	var all []campus.Row
	for i := range 1200 {
		all = append(all, campus.Row{Name: fmt.Sprintf("roof %04d", i), Building: "gym", Stem: fmt.Sprint(i), Counts: [3]int{0, 0, 1}, KeepOff: i < 1008})
	}
	dir, said := written(t, all, campus.Options{UnitsOut: "si"})
	text, err := os.ReadFile(filepath.Join(dir, "campus.html"))
	if err != nil {
		t.Fatal(err)
	}
	const off = "today: gym, roof 0000; gym, roof 0001; gym, roof 0002; gym, roof 0003; gym, roof 0004; gym, roof 0005 and 1,002 more. Decides: the engineer."
	for _, want := range []string{"<h1>1,200 roofs</h1>", "1,008 to keep off, 192 more with something urgent", "keep off (1,008)", "urgent (192)", off} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for _, want := range []string{"Roofs checked: 1,200.", off} {
		if !strings.Contains(said, want) {
			t.Errorf("the text does not say %q", want)
		}
	}
}
