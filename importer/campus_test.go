package importer_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer"
)

func names(jobs []importer.Job) string {
	list := make([]string, len(jobs))
	for i, j := range jobs {
		list[i] = j.Name
	}
	return strings.Join(list, ", ")
}

// listed returns the roofs at paths.
func listed(paths []string, o importer.Options) (jobs []importer.Job, warnings []string, err error) {
	roofs, err := importer.Campus(paths, o)
	if err != nil {
		return nil, nil, err
	}
	return slices.Collect(roofs.All()), roofs.Warnings, nil
}

// readAll reads every job at once, as a campus is.
func readAll(jobs []importer.Job) ([]*roof.Roof, []error) {
	roofs, errs := make([]*roof.Roof, len(jobs)), make([]error, len(jobs))
	var group sync.WaitGroup
	for i := range jobs {
		group.Go(func() { roofs[i], errs[i] = jobs[i].Read() })
	}
	group.Wait()
	return roofs, errs
}

func TestFilesOfAFolderThatShareAStemAreOneRoof(t *testing.T) {
	local := collection(`"units":"ft","frame":"local"`, outline)
	paths := write(t, "hall.csv", rows, "hall.geojson", local, "depot.txt", rows, "depot.local.geojson", local, "bad.geojson", "{", "notes.pdf", "x", "lone.csv", rows, "hall.summary.json", `{"ponds":[]}`)
	dir := filepath.Dir(paths[0])
	if err := os.Mkdir(filepath.Join(dir, "inner"), 0o700); err != nil {
		t.Fatal(err)
	}
	jobs, warnings, err := listed([]string{dir}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := names(jobs); got != "bad, depot, hall, lone" {
		t.Errorf("jobs %s", got)
	}
	if len(warnings) != 1 || !strings.Contains(warnings[0], "not read, because they are no survey files: 3 (hall.summary.json, inner, notes.pdf)") {
		t.Errorf("warnings %q", warnings)
	}
	roofs, errs := readAll(jobs)
	for i, says := range []string{"cut off", "", "", "nothing states the unit"} {
		switch {
		case says == "" && (errs[i] != nil || len(roofs[i].Spots) != 3):
			t.Errorf("%s: %v", jobs[i].Name, errs[i])
		case says != "" && (errs[i] == nil || !strings.Contains(errs[i].Error(), says)):
			t.Errorf("%s: %v, want %q", jobs[i].Name, errs[i], says)
		}
	}
}

// square is an outline of 40 ft by 40 ft.
func square(name string, x, y float64) string {
	const size = 40
	return feature(fmt.Sprintf(`"role":"outline","name":%q`, name), "Polygon",
		fmt.Sprintf("[[[%[1]g,%[2]g],[%[3]g,%[2]g],[%[3]g,%[4]g],[%[1]g,%[4]g],[%[1]g,%[2]g]]]", x, y, x+size, y+size))
}

// Three squares of 40 ft, the first two side by side, the third far off; a fourth crosses itself.
func TestOneFileOfOutlinesSharesOutThePoints(t *testing.T) {
	file := collection(`"units":"ft","frame":"local"`,
		square("A", 0, 0), square("B", 40, 0), square("C", 200, 200),
		feature(`"role":"outline","name":"D"`, "Polygon", `[[[500,0],[510,10],[510,0],[500,10],[500,0]]]`),
		feature(`"role":"outlet","type":"drain","label":"in B"`, "Point", `[60,20]`),
		feature(`"role":"outlet","type":"scupper","label":"at C"`, "Point", `[199,220]`),
		feature(`"role":"curb","label":"on A"`, "Polygon", `[[[5,5],[8,5],[8,8],[5,5]]]`),
		feature(`"role":"breakline","label":"on C"`, "LineString", `[[205,205,1],[230,230,1]]`),
		feature(`"role":"edge","type":"gutter"`, "LineString", `[[0,0],[40,0]]`),
		feature(`"role":"outlet","type":"drain","label":"nowhere"`, "Point", `[900,900]`))
	points := "point,x,y,z\n1,5,5,100\n2,30,30,100\n3,50,5,100\n4,70,30,100\n5,205,205,100\n6,40,20,100\n7,300,300,100\n8,-0.05,20,100\n9,60,41,100\n"
	paths := write(t, "site.geojson", file, "site.csv", points)
	jobs, warnings, err := listed(paths, importer.Options{Drop: []string{"2"}})
	if err != nil {
		t.Fatal(err)
	}
	if got := names(jobs); got != "A, B, C, site feature 4" {
		t.Errorf("jobs %s", got)
	}
	said := strings.Join(warnings, "\n")
	for _, says := range []string{
		"Spots on no outline, left out: 2 (" + paths[1] + " line 8 (7), " + paths[1] + " line 10 (9)).",
		"Spots on more than one outline, left out: 1 (" + paths[1] + " line 7 (6)).",
		"Things on no outline, left out: 1 of role outlet.",
	} {
		if !strings.Contains(said, says) {
			t.Errorf("warnings %q do not say %q", warnings, says)
		}
	}
	for range 2 { // reading a roof twice gives the same
		roofs, errs := readAll(jobs)
		if errs[3] == nil || !strings.Contains(errs[3].Error(), "at (505, 5): the outline crosses") {
			t.Errorf("D: %v", errs[3])
		}
		for i, want := range []string{
			"A: 1 8; outlets 0 curbs 1 breaklines 0 edges 1",
			"B: 3 4; outlets 1 curbs 0 breaklines 0 edges 0",
			"C: 5; outlets 1 curbs 0 breaklines 1 edges 0",
		} {
			if errs[i] != nil {
				t.Errorf("%s: %v", jobs[i].Name, errs[i])
				continue
			}
			r := roofs[i]
			ids := make([]string, len(r.Spots))
			for k, s := range r.Spots {
				ids[k] = s.ID
			}
			got := fmt.Sprintf("%s: %s; outlets %d curbs %d breaklines %d edges %d", r.Name, strings.Join(ids, " "), len(r.Outlets), len(r.Curbs), len(r.Breaklines), len(r.Edges))
			if got != want {
				t.Errorf("%s, want %s", got, want)
			}
			if r.Outline.Rings[0][0].Plan[0] > 0 {
				t.Errorf("%s: outline at %v: it is not about its own middle", r.Name, r.Outline.Rings[0])
			}
		}
	}
}

func TestPolygonsWithoutARoleAreTheOutlinesOfACampus(t *testing.T) {
	polygon := func(x float64) string {
		return feature(``, "Polygon", fmt.Sprintf("[[[%g,0],[%g,0],[%g,40],[%g,0]]]", x, x+40, x+40, x))
	}
	paths := write(t, "site.geojson", collection(`"frame":"local"`, polygon(0), polygon(100)), "site.csv", "x,y,z\n30,5,100\n130,5,101\n")
	jobs, _, err := listed([]string{filepath.Dir(paths[0])}, importer.Options{Units: map[string]quantity.Unit{"": quantity.Feet}})
	if err != nil || names(jobs) != "roof 1, roof 2" {
		t.Fatalf("%s, %v", names(jobs), err)
	}
	roofs, errs := readAll(jobs)
	if errs[0] != nil || errs[1] != nil || len(roofs[0].Spots) != 1 || len(roofs[1].Spots) != 1 {
		t.Errorf("%v %v", errs, roofs)
	}
}

func TestACampusThatIsNoneIsRefused(t *testing.T) {
	site := collection(`"frame":"local"`, square("A", 0, 0), square("B", 40, 0))
	tests := []struct {
		paths []string
		says  string
	}{
		{nil, "there is no roof to read"},
		{[]string{t.TempDir()}, "there is no roof to read"},
		{write(t, "site.geojson", site, "site.csv", rows), "nothing states the unit"},
	}
	for _, tt := range tests {
		if _, _, err := listed(tt.paths, importer.Options{}); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%v: %v, want %q", tt.paths, err, tt.says)
		}
	}
}

// A pipe or a device in a folder is passed over and said: reading one may wait for ever.
func TestDevicesInAFolderAreNotRead(t *testing.T) {
	dir := filepath.Dir(write(t, "depot.geojson", collection(`"units":"ft","frame":"local"`, outline))[0])
	for _, name := range []string{"pipe.csv", "depot.csv", "other.json"} {
		if err := os.Symlink(os.DevNull, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	jobs, warnings, err := listed([]string{dir}, importer.Options{})
	if err != nil || len(jobs) != 1 || len(warnings) != 1 || !strings.Contains(warnings[0], "3 (depot.csv, other.json, pipe.csv)") {
		t.Errorf("%d jobs, warnings %q, %v", len(jobs), warnings, err)
	}
}

// Links that lead out of the folder are not followed, and said; those within it are.
func TestLinksOutOfAFolder(t *testing.T) {
	local := collection(`"units":"ft","frame":"local"`, outline)
	dir := filepath.Dir(write(t, "hall.geojson", local, "hall.csv", rows)[0])
	outside := write(t, "secret.geojson", local)[0]
	if err := os.Mkdir(filepath.Join(dir, "in"), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{
		"depot.geojson": outside, "up.geojson": filepath.Join("..", filepath.Base(filepath.Dir(outside)), "secret.geojson"),
		"twin.geojson": "hall.geojson", "twin.csv": "hall.csv", "lost.geojson": "nowhere.geojson",
	} {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Skip(err)
		}
	}
	jobs, warnings, err := listed([]string{dir}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := names(jobs); got != "hall, twin" {
		t.Errorf("jobs %s", got)
	}
	if said := strings.Join(warnings, "\n"); !strings.Contains(said, "links that lead out of the folder: 3 (depot.geojson, lost.geojson, up.geojson)") {
		t.Errorf("warnings %s", said)
	}
}

// A sequence is cut into its texts as RFC 8142 has it, or at the ends of lines; each is a roof of its own.
func TestSequence(t *testing.T) {
	spots := func(z float64) string {
		return feature(`"role":"spot"`, "Point", fmt.Sprintf("[1,1,%g]", z)) + "," + feature(`"role":"spot"`, "Point", "[30,5,3]") + "," + feature(`"role":"spot"`, "Point", "[5,30,3]")
	}
	text := func(name string, z float64) string {
		return collection(`"units":"ft","frame":"local"`, square(name, 0, 0), spots(z))
	}
	a, b := text("A", 1), text("", 2)
	for what, in := range map[string]string{
		"lines":         a + "\n" + b + "\n",
		"no end":        a + "\r\n\n" + b,
		"records":       "\x1e" + a + "\n\x1e" + strings.ReplaceAll(b, ",", ",\n") + "\n",
		"empty records": "\x1e\n\x1e" + a + "\x1e\x1e" + b,
		"blanks":        " \n\n" + a + "\n \n" + b + "\n\n",
	} {
		roofs, err := importer.Campus([]string{"-"}, importer.Options{In: strings.NewReader(in)})
		if err != nil {
			t.Fatal(err)
		}
		if jobs := slices.Collect(roofs.All()); names(jobs) != "A, stdin 2" {
			t.Errorf("%s: %s", what, names(jobs))
		} else if read, errs := readAll(jobs); errs[0] != nil || errs[1] != nil || len(read[1].Spots) != 3 || read[1].Spots[0].Z == read[0].Spots[0].Z {
			t.Errorf("%s: %v", what, errs)
		}
	}
	path := write(t, "roofs.ndjson", a+"\n{\"type\"\n"+b+"\n")[0]
	jobs, _, err := listed([]string{path}, importer.Options{})
	if err != nil || names(jobs) != "A, roofs 2, roofs 3" {
		t.Fatalf("%s %v", names(jobs), err)
	}
	_, errs := readAll(jobs)
	if errs[0] != nil || errs[2] != nil || errs[1] == nil || !strings.Contains(errs[1].Error(), path+" text 2") {
		t.Errorf("%v", errs)
	}
	again, _, _ := listed([]string{path}, importer.Options{})
	for i := range jobs {
		if jobs[i].Mark != again[i].Mark || i > 0 && jobs[i].Mark == jobs[0].Mark {
			t.Errorf("text %d: the mark does not tell it", i+1)
		}
	}
}

// However a sequence is cut, every byte but separators, ends of lines and blanks between texts comes out, in order.
func FuzzSequence(f *testing.F) {
	f.Add([]byte("{}\n{}"))
	f.Add([]byte("\x1e{\n}\n\x1e[]"))
	f.Add([]byte("\x1e\x1e\n\n"))
	f.Fuzz(func(t *testing.T, in []byte) {
		roofs, err := importer.Campus([]string{"-"}, importer.Options{In: bytes.NewReader(in)})
		if err != nil {
			t.Fatal(err)
		}
		for job := range roofs.All() {
			if r, err := job.Read(); err == nil && r == nil {
				t.Error("neither a roof nor a reason")
			}
		}
	})
}
