package importer_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer"
)

// A thing between two roofs 0.3 m apart goes to the one that is nearer, and one on both where they overlap to the one whose edge is nearer; by hand from the places.
func TestThingsBetweenTwoRoofs(t *testing.T) {
	for at, want := range map[string]string{"10.1,5": "A", "10.2,5": "B", "10.14,5": "A", "10.16,5": "B", "9,5": "A", "12,5": "B", "-0.4,5": "A", "20.7,5": "B", "-0.6,5": "", "20.9,5": ""} {
		file := collection(`"units":"m","frame":"local"`,
			feature(`"role":"outline","name":"A"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`), feature(`"role":"outline","name":"B"`, "Polygon", `[[[10.3,0],[20.3,0],[20.3,10],[10.3,10],[10.3,0]]]`),
			feature(`"role":"outlet","type":"scupper","label":"S"`, "Point", "["+at+"]"), feature(`"role":"sill","elevation":3`, "Point", "["+at+"]"), feature(`"role":"core","elevation":3`, "Point", "["+at+"]"))
		jobs, warnings, err := listed(write(t, "site.geojson", file), importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		roofs, errs := readAll(jobs)
		got := ""
		for i, r := range roofs {
			if errs[i] != nil {
				t.Fatal(errs[i])
			}
			if n := len(r.Outlets) + len(r.Sills) + len(r.Cores); n == 3 {
				got += r.Name
			} else if n != 0 {
				t.Errorf("%s: %d of three things on %s", at, n, r.Name)
			}
		}
		lost := strings.Count(strings.Join(warnings, "\n"), "Things on no outline, left out: 1 of role ")
		if got != want || (lost == 3) != (want == "") {
			t.Errorf("%s: on %q, want %q; %q", at, got, want, warnings)
		}
	}
	overlap := func(at string) string {
		return collection(`"units":"m","frame":"local"`,
			feature(`"role":"outline","name":"A"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`), feature(`"role":"outline","name":"B"`, "Polygon", `[[[8,0],[18,0],[18,10],[8,10],[8,0]]]`),
			feature(`"role":"core","elevation":3`, "Point", "["+at+"]"))
	}
	for at, want := range map[string]string{"8.5,5": "B", "9.5,5": "A"} { // half a metre from the edge of B, of A
		jobs, _, err := listed(write(t, "site.geojson", overlap(at)), importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, job := range jobs {
			if r, err := job.Read(); err != nil || (len(r.Cores) == 1) != (r.Name == want) {
				t.Errorf("%s: %s has %d cores, want it on %s; %v", at, r.Name, len(r.Cores), want, err)
			}
		}
	}
}

// All sources of a campus are gone through, in their order, and none further once nobody asks for more: a folder, a file of many outlines, a sequence.
func TestAllSourcesOfACampusAreGoneThrough(t *testing.T) {
	local := `"units":"ft","frame":"local"`
	folder := filepath.Dir(write(t, "hall.geojson", collection(local, square("Hall", 0, 0)), "shed.geojson", collection(local, square("Shed", 0, 0)))[0])
	site := write(t, "site.geojson", collection(local, square("East", 0, 0), square("West", 500, 0)))[0]
	lines := write(t, "roofs.ndjson", collection(local, square("A", 0, 0))+"\n"+collection(local, square("B", 0, 0))+"\n")[0]
	records := write(t, "roofs.geojson", "\x1e"+collection(local, square("C", 0, 0))+"\n\x1e"+collection(local, square("D", 0, 0)))[0] // by its first sign
	for _, c := range []struct {
		paths []string
		names string
		known int
	}{
		{[]string{folder}, "hall, shed", 2},
		{[]string{records}, "C, D", -1},
		{[]string{records, folder, lines}, "C, D, hall, shed, A, B", -1},
		{[]string{folder, lines}, "hall, shed, A, B", -1},
		{[]string{lines, folder}, "A, B, hall, shed", -1},
		{[]string{folder, site}, "hall, shed, East, West", 4},
		{[]string{site, folder}, "hall, shed, East, West", 4}, // files that are named come last
		{[]string{lines, lines}, "A, B, A, B", -1},
	} {
		roofs, err := importer.Campus(c.paths, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for range 2 { // the same each time
			if got := names(slices.Collect(roofs.All())); got != c.names || roofs.Known != c.known || roofs.Once {
				t.Errorf("%q: %s, %d known, once %v; want %s, %d", c.paths, got, roofs.Known, roofs.Once, c.names, c.known)
			}
		}
		all := strings.Split(c.names, ", ")
		for most := 1; most <= len(all); most++ {
			var got []string
			for job := range roofs.All() {
				if got = append(got, job.Name); len(got) == most {
					break
				}
			}
			if !slices.Equal(got, all[:most]) {
				t.Errorf("%q: the first %d are %q", c.paths, most, got)
			}
		}
	}
}

// A roof is marked by what is read of it: the same mark each time, another where a file of it was written again, grew, or came, and that of no other roof changes.
func TestMarksOfRoofs(t *testing.T) {
	local := collection(`"units":"ft","frame":"local"`, square("A", 0, 0))
	paths := write(t, "a.geojson", local, "b.geojson", local)
	folder := filepath.Dir(paths[0])
	marks := func() (a, b uint64) {
		jobs, _, err := listed([]string{folder}, importer.Options{})
		if err != nil || len(jobs) != 2 {
			t.Fatalf("%d roofs, %v", len(jobs), err)
		}
		return jobs[0].Mark, jobs[1].Mark
	}
	a, b := marks()
	if again, other := marks(); again != a || other != b || a == b {
		t.Errorf("%x and %x, then %x and %x", a, b, again, other)
	}
	for what, change := range map[string]func() error{
		"written again": func() error { later := time.Now().Add(time.Hour); return os.Chtimes(paths[0], later, later) },
		"longer": func() error {
			info, err := os.Stat(paths[0])
			if err != nil {
				return err
			}
			return errors.Join(os.WriteFile(paths[0], []byte(local+" "), 0o600), os.Chtimes(paths[0], info.ModTime(), info.ModTime()))
		},
		"a second file": func() error { return os.WriteFile(filepath.Join(folder, "a.csv"), []byte("x,y,z\n1,1,1\n"), 0o600) },
	} {
		before, _ := marks()
		if err := change(); err != nil {
			t.Fatal(err)
		}
		if now, other := marks(); now == before || other != b {
			t.Errorf("%s: %x, was %x; the other roof %x, was %x", what, now, before, other, b)
		}
	}
}

// A thing as far from two roofs goes to the first.
func TestAThingHalfway(t *testing.T) {
	for _, names := range [][2]string{{"A", "B"}, {"B", "A"}} {
		file := collection(`"units":"m","frame":"local"`,
			feature(`"role":"outline","name":"`+names[0]+`"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]]]`), feature(`"role":"outline","name":"`+names[1]+`"`, "Polygon", `[[[10.5,0],[20.5,0],[20.5,10],[10.5,10],[10.5,0]]]`),
			feature(`"role":"core","elevation":3`, "Point", "[10.25,5]"))
		jobs, _, err := listed(write(t, "site.geojson", file), importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, job := range jobs {
			if r, err := job.Read(); err != nil || (len(r.Cores) == 1) != (i == 0) {
				t.Errorf("%s has %d cores, %v", job.Name, len(r.Cores), err)
			}
		}
	}
}

// How much of sequences was handed out is told by their bytes: nothing before, all at the end, and between as the texts are long; of a folder it is not known.
func TestShareOfSequences(t *testing.T) {
	local := `"units":"ft","frame":"local"`
	text := collection(local, square("A", 0, 0)) + "\n"
	path := write(t, "roofs.ndjson", strings.Repeat(text, 20000))[0] // some 5 MB
	roofs, err := importer.Campus([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := roofs.Share(); got != 0 {
		t.Errorf("before: %g", got)
	}
	before, half, n := 0.0, 0.0, 0
	for range roofs.All() {
		share := roofs.Share()
		if !(share >= before && share <= 1) {
			t.Fatalf("from %g to %g", before, share)
		}
		before = share
		if n++; n == 10000 {
			half = share
		}
	}
	if n != 20000 || before != 1 || !(half > 0.45 && half < 0.75) { // what is read ahead counts
		t.Errorf("%d texts, %g at half, %g at the end", n, half, before)
	}
	folder, err := importer.Campus([]string{filepath.Dir(write(t, "a.geojson", text)[0])}, importer.Options{})
	if err != nil || folder.Share() != 0 {
		t.Errorf("of a folder: %g, %v", folder.Share(), err)
	}
}

// A file on a site grid that holds control points and nothing else needs no tie to an outline in degrees; one that holds anything else does, whatever that is.
func TestWhatNeedsATie(t *testing.T) {
	degrees := collection(``, feature(`"role":"outline"`, "Polygon", `[[[-93.2536,44.9732],[-93.2512,44.9732],[-93.2512,44.9745],[-93.2536,44.9745],[-93.2536,44.9732]]]`))
	control := feature(`"role":"control","lon":-93.25,"lat":45`, "Point", "[1,1]")
	line, ring := `[[1,1,5],[2,2,5]]`, `[[[1,1],[2,1],[2,2],[1,1]]]`
	things := map[string]string{
		"edge": feature(`"role":"edge","type":"wall"`, "LineString", line), "spot": feature(`"role":"spot"`, "Point", "[1,1,5]"), "breakline": feature(`"role":"breakline"`, "LineString", line), "curb": feature(`"role":"curb"`, "Polygon", ring),
		"outlet": feature(`"role":"outlet","type":"drain"`, "Point", "[1,1]"), "core": feature(`"role":"core"`, "Point", "[1,1]"), "stain": feature(`"role":"stain"`, "Polygon", ring), "sill": feature(`"role":"sill"`, "Point", "[1,1,5]"),
		"answer": feature(`"role":"answer","question":"deck_sound","answer":"yes","by":"E","on":"2026-05-02"`, "Point", "[1,1]"),
	}
	read := func(features ...string) error {
		_, err := importer.Read(write(t, "a.geojson", degrees, "grid.geojson", collection(`"units":"m","frame":"local"`, append([]string{control}, features...)...)), importer.Options{})
		return err
	}
	if err := read(); err != nil {
		t.Errorf("a control point alone: %v", err)
	}
	if _, err := importer.Read(write(t, "a.geojson", degrees, "grid.geojson", collection(`"units":"m","frame":"local"`)), importer.Options{}); err == nil {
		t.Error("a file of nothing in another frame is taken")
	}
	for a := range things {
		for b := range things {
			if err := read(things[a], things[b]); err == nil || !strings.Contains(err.Error(), "grid.geojson: the file is in frame local, the outline in frame wgs84; add at least two control points that are known in both, or bring the files into one frame") {
				t.Errorf("a %s and a %s: %v", a, b, err)
			}
		}
	}
}

// An overflow whose type its file leaves open is a scupper of 8 in within half a metre of the outline, and a drain of a bowl of 12 in farther in, and has nothing of the other kind.
func TestWhatAnOpenOverflowIs(t *testing.T) {
	for _, c := range []struct {
		x    string // [ft] from the west edge of the roof
		kind roof.OutletType
	}{{"0", roof.Scupper}, {"1.6", roof.Scupper}, {"1.7", roof.Drain}, {"30", roof.Drain}, {"59", roof.Scupper}, {"60.5", roof.Scupper}} { // half a metre is 1.64 ft
		r := mustRead(t, importer.Options{}, "a.geojson", collection(`"units":"ft","frame":"local"`, outline), "b.csv", rows+"4,"+c.x+",20,100,OVERFLOW\n")
		o := r.Outlets[0]
		want := roof.Outlet{Feature: o.Feature, Plan: o.Plan, Invert: o.Invert, HasInvert: true, Duty: roof.Overflow, Type: c.kind}
		name := "drain"
		if c.kind == roof.Scupper {
			want.Width, want.WidthAssumed, name = 8*quantity.Inch, true, "scupper"
		} else {
			want.Bowl = 12 * quantity.Inch
		}
		if got, wanted := fmt.Sprintf("%+v", o), fmt.Sprintf("%+v", want); got != wanted {
			t.Errorf("at %s: %s, want %s", c.x, got, wanted)
		}
		if all := strings.Join(r.Warnings, "\n"); !strings.Contains(all, "b.csv line 5 (4): the overflow does not say what it is and is taken as a "+name+", by its place.") {
			t.Errorf("at %s: %q", c.x, all)
		}
	}
}

// A file that states nothing takes what the others agree on, in whatever order; where they disagree the flag is named, with the first of them.
func TestUnitsThatFilesAgreeOn(t *testing.T) {
	spots := func(unit string) string { return "point,x" + unit + ",y" + unit + ",z" + unit + "\n1,1,1,1\n" }
	outlined := collection(`"units":"ft","frame":"local"`, outline)
	for _, c := range []struct {
		files []string
		unit  string // of d.csv, empty: refused
	}{
		{[]string{"a.geojson", outlined, "d.csv", spots("")}, "ft"},
		{[]string{"d.csv", spots(""), "a.geojson", outlined}, "ft"},
		{[]string{"a.geojson", outlined, "b.csv", spots("_ft"), "d.csv", spots("")}, "ft"},
		{[]string{"a.geojson", outlined, "b.csv", spots("_m"), "d.csv", spots("")}, ""},
		{[]string{"d.csv", spots(""), "b.csv", spots("_m"), "a.geojson", outlined}, ""},
	} {
		paths := write(t, c.files...)
		r, err := importer.Read(paths, importer.Options{})
		if c.unit == "" {
			first := "ft, m"
			if c.files[2] == "b.csv" && c.files[0] == "d.csv" {
				first = "m, ft"
			}
			want := fmt.Sprintf("d.csv: the file states no unit, and the others disagree: %s; say --units d.csv=%s, or one of m, ft, ft-us, in, mm", first, strings.Split(first, ",")[0])
			if err == nil || strings.ReplaceAll(err.Error(), filepath.Dir(paths[0])+"/", "") != want {
				t.Errorf("%q: %v, want %s", c.files, err, want)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, in := range r.Inputs {
			if in.Units != c.unit {
				t.Errorf("%s is read in %s", in.Path, in.Units)
			}
		}
		if n := strings.Count(strings.Join(r.Warnings, "\n"), "d.csv: states no unit and is taken to be in ft, as the other files."); n != 1 {
			t.Errorf("said %d times: %q", n, r.Warnings)
		}
	}
}

// The same corners in degrees and on a site grid tied to them by control points lie at the same places of the same frame, whichever file is which; the tie turns, scales and shifts.
func TestATieTurnsScalesAndShifts(t *testing.T) {
	// A grid that is turned by 30 degrees about (1000, 2000), 0.02 % long, of four points 100 m apart in the frame of the map.
	frame := roof.NewGeographic(orb.Point{-93.25, 44.97})
	at := func(x, y float64) (lon, lat, gx, gy float64) {
		p := frame.ToFile(orb.Point{x, y})
		const cos, sin, scale = 0.8660254037844386, 0.5, 1.0002
		return p[0], p[1], 1000 + scale*(x*cos-y*sin), 2000 + scale*(x*sin+y*cos)
	}
	var controls []string
	for _, c := range [][2]float64{{0, 0}, {100, 0}, {100, 100}, {0, 100}} {
		lon, lat, gx, gy := at(c[0], c[1])
		controls = append(controls, feature(fmt.Sprintf(`"role":"control","lon":%.12f,"lat":%.12f`, lon, lat), "Point", fmt.Sprintf("[%.6f,%.6f]", gx, gy)))
	}
	var ring []string
	for _, c := range [][2]float64{{10, 10}, {60, 10}, {60, 40}, {10, 40}, {10, 10}} {
		lon, lat, _, _ := at(c[0], c[1])
		ring = append(ring, fmt.Sprintf("[%.12f,%.12f]", lon, lat))
	}
	grid := "point,east_m,north_m,elev_m\n"
	var want []orb.Point
	for i, c := range [][2]float64{{20, 20}, {55, 15}, {12, 38}} {
		lon, lat, gx, gy := at(c[0], c[1])
		grid += fmt.Sprintf("%d,%.6f,%.6f,5\n", i+1, gx, gy)
		want = append(want, orb.Point{lon, lat})
	}
	r := mustRead(t, importer.Options{}, "a.geojson", collection(``, feature(`"role":"outline"`, "Polygon", "[["+strings.Join(ring, ",")+"]]")), "b.csv", grid, "c.geojson", collection(`"units":"m","frame":"local"`, controls...))
	for i := range want {
		near(t, "spot", r.Spots[i].Plan, r.Frame.ToLocal(want[i]), 0.001)
	}
}
