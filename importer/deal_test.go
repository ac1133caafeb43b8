package importer_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/importer"
)

// Each of many spots goes to the outline that holds it, by a plain search over all outlines with another library's test, and keeps its line;
// how many there are on none and on two is said. The file is long enough to be read in several pieces.
func TestSpotsAreDealtOut(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 8)) //nolint:gosec // only numbers
	var rings []orb.Ring
	var outlines []string
	for i := range 60 {
		x, y, r := 1000*random.Float64(), 1000*random.Float64(), 20+40*random.Float64()
		ring := orb.Ring{{x, y}, {x + r, y + r/3}, {x + r/2, y + r}, {x, y}}
		rings = append(rings, ring)
		outlines = append(outlines, feature(fmt.Sprintf(`"role":"outline","name":"R%02d"`, i), "Polygon",
			fmt.Sprintf("[[[%v,%v],[%v,%v],[%v,%v],[%v,%v]]]", ring[0][0], ring[0][1], ring[1][0], ring[1][1], ring[2][0], ring[2][1], ring[3][0], ring[3][1])))
	}
	var rows strings.Builder
	rows.WriteString("point,x,y,z,code\n")
	want := make([][]string, len(rings))
	none, two, line := 0, 0, 1
	lines := map[string]int{} // of each spot in the file
	const spots = 60000
	for k := range spots {
		p := orb.Point{1050 * random.Float64(), 1050 * random.Float64()}
		if slices.ContainsFunc(rings, func(r orb.Ring) bool { return planar.DistanceFrom(orb.LineString(r), p) < 0.03 }) {
			continue // so near that it may count as on the outline
		}
		line++
		lines[fmt.Sprint(k)] = line
		code := []string{"", "SPOT", "GRATE"}[k%3] // the last is read as what it says
		fmt.Fprintf(&rows, "%d,%v,%v,%.3f,%s\n", k, p[0], p[1], 5+random.Float64(), code)
		if k%7 == 0 {
			rows.WriteString("\n# remark\n")
			line += 2
		}
		var found []int
		for i, ring := range rings {
			if planar.RingContains(ring, p) {
				found = append(found, i)
			}
		}
		switch len(found) {
		case 0:
			none++
		case 1:
			want[found[0]] = append(want[found[0]], fmt.Sprint(k))
		default:
			two++
		}
	}
	if rows.Len() < 2<<20 {
		t.Fatalf("the file has only %d bytes", rows.Len())
	}
	paths := write(t, "site.geojson", collection(`"units":"m","frame":"local"`, outlines...), "site.csv", rows.String())
	jobs, warnings, err := listed(paths, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(warnings, "\n")
	for _, text := range []string{fmt.Sprintf("Spots on no outline, left out: %d (", none), fmt.Sprintf("Spots on more than one outline, left out: %d (", two)} {
		if !strings.Contains(said, text) {
			t.Errorf("%s is not said: %.600s", text, said)
		}
	}
	if len(jobs) != len(rings) {
		t.Fatalf("%d roofs", len(jobs))
	}
	for i := range jobs {
		r, err := jobs[i].Read()
		if err != nil {
			if len(want[i]) > 0 {
				t.Errorf("%s: %v", jobs[i].Name, err)
			}
			continue
		}
		var got []string
		for _, s := range r.Spots {
			got = append(got, s.ID)
			if s.Origin.Line != lines[s.ID] {
				t.Fatalf("spot %s is said to be on line %d", s.ID, s.Origin.Line)
			}
		}
		if strings.Join(got, " ") != strings.Join(want[i], " ") {
			t.Errorf("%s has %d spots, want %d", jobs[i].Name, len(got), len(want[i]))
		}
	}
}

// What is wrong with a row is said with its line, by the roof that it belongs to; what is no number belongs to none.
func TestBadRowsOfDealtFiles(t *testing.T) {
	paths := write(t, "site.geojson", collection(`"units":"m","frame":"local"`, square("A", 0, 0), square("B", 100, 0)),
		"site.csv", "x,y,z\n1,1,5\n2,30,5\n30,2,x\n101,1,5\n130,30,5\n131,2,5\n")
	jobs, _, err := listed(paths, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, errs := readAll(jobs)
	if len(errs) != 2 || errs[0] == nil || !strings.Contains(errs[0].Error(), "site.csv line 4") || errs[1] != nil {
		t.Errorf("%v", errs)
	}
	paths = write(t, "site.geojson", collection(`"units":"m","frame":"local"`, square("A", 0, 0), square("B", 100, 0)),
		"site.csv", "x,y,z\n1,1,5\n2,30,5\n30,2,5\nx,2,5\n101,1,5\n130,30,5\n131,2,5\n")
	if jobs, _, err = listed(paths, importer.Options{}); err != nil {
		t.Fatal(err)
	}
	_, errs = readAll(jobs)
	if len(errs) != 3 || errs[0] != nil || errs[1] != nil || errs[2] == nil || !strings.Contains(errs[2].Error(), "site.csv line 5") {
		t.Errorf("%s: %v", names(jobs), errs)
	}
}
