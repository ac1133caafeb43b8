package viewer

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"runnel/export/palette"
	"runnel/export/record"
)

// elements returns the elements of a drawing as encoding/xml reads them, each with its attributes.
func elements(t *testing.T, svg []byte) (out []map[string]string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
		if e, ok := token.(xml.StartElement); ok {
			m := map[string]string{"": e.Name.Local}
			for _, a := range e.Attr {
				m[a.Name.Local] = a.Value
			}
			out = append(out, m)
		}
	}
}

func layerOf(features ...string) []byte {
	return []byte(`{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`)
}

func featureOf(layer, kind, coordinates string) string {
	return fmt.Sprintf(`{"type":"Feature","properties":{"layer":%q},"geometry":{"type":%q,"coordinates":%s}}`, layer, kind, coordinates)
}

// By hand: a roof of 94 by 69 m fits 188 by 138 px at 2 px a metre, 6 px off the edges; north is up. One of 50 by 69 m stands in the middle: 100 px wide, 50 px off each side.
func TestThumbsFit(t *testing.T) {
	for _, c := range []struct {
		wide, high float64
		path       string
		x, y       string // of the outlet, 10 m east and 20 m north of the south-west corner
	}{
		{94, 69, "M6.0 144.0L194.0 144.0L194.0 6.0L6.0 6.0L6.0 144.0Z", "26.0", "104.0"},
		{50, 69, "M50.0 144.0L150.0 144.0L150.0 6.0L50.0 6.0L50.0 144.0Z", "70.0", "104.0"},
		{94, 30, "M6.0 105.0L194.0 105.0L194.0 45.0L6.0 45.0L6.0 105.0Z", "26.0", "65.0"},
	} {
		ring := fmt.Sprintf("[[[100,200],[%[1]g,200],[%[1]g,%[2]g],[100,%[2]g],[100,200]]]", 100+c.wide, 200+c.high)
		shapes, err := shapesIn(layerOf(featureOf("outlet", "Point", "[110,220,5]"), featureOf("outline", "Polygon", ring), featureOf("spot", "Point", "[1,1]"), featureOf("outlet", "LineString", "[[100,200],[110,200]]"),
			featureOf("pond", "MultiPolygon", "[[[[110,210],[112,210],[112,212],[110,210]],[[111,210.5],[111.5,210.5],[111,211],[111,210.5]]],[[[120,210],[122,210],[122,212],[120,210]]]]")))
		if err != nil || len(shapes) != 4 {
			t.Fatalf("%v %d", err, len(shapes))
		}
		all := elements(t, draw(shapes, false))
		if svg := all[0]; svg[""] != "svg" || svg["width"] != "200" || svg["height"] != "150" || svg["viewBox"] != "0 0 200 150" || svg["fill-rule"] != "evenodd" {
			t.Errorf("%v", svg)
		}
		// The outline first, so that it hides nothing; then ponds, outlets last.
		if o := all[1]; o["d"] != c.path || o["stroke"] != palette.Ink || o["fill"] != "#fff" {
			t.Errorf("outline %v, want %s", o, c.path)
		}
		if p := all[2]; p["fill"] != palette.Water || strings.Count(p["d"], "M") != 3 || strings.Count(p["d"], "Z") != 3 {
			t.Errorf("pond %v", p)
		}
		if o := all[3]; o[""] != "circle" || o["cx"] != c.x || o["cy"] != c.y || o["fill"] != palette.Primary {
			t.Errorf("outlet %v, want %s, %s", o, c.x, c.y)
		}
		if g := all[4]; g["fill"] != "none" || strings.HasSuffix(g["d"], "Z") || g["stroke"] != palette.Primary || len(all) != 5 {
			t.Errorf("gutter %v of %d", g, len(all))
		}
	}
	// At 60 degrees north a degree of longitude is half as long as one of latitude: 2 by 1 thousandths are square.
	shapes, err := shapesIn(layerOf(featureOf("outline", "Polygon", "[[[10,59.9995],[10.002,59.9995],[10.002,60.0005],[10,60.0005],[10,59.9995]]]")))
	if err != nil {
		t.Fatal(err)
	}
	var x0, y0, x1, y1, x2, y2 float64
	if _, err := fmt.Sscanf(elements(t, draw(shapes, true))[1]["d"], "M%f %fL%f %fL%f %f", &x0, &y0, &x1, &y1, &x2, &y2); err != nil || !(math.Abs((x1-x0)-(y1-y2)) <= 0.2) || !(math.Abs(y1-y2-138) <= 0.2) {
		t.Errorf("%v: %v by %v", err, x1-x0, y1-y2)
	}
	if all := elements(t, draw(nil, false)); len(all) != 1 {
		t.Errorf("nothing is drawn as %v", all)
	}
	for _, bad := range []string{"[", `{"features":[{"properties":{"layer":"pond"},"geometry":{"type":"Polygon","coordinates":7}}]}`} {
		if _, err := shapesIn([]byte(bad)); err == nil {
			t.Errorf("%s was read", bad)
		}
	}
}

// What the ponds of a summary weigh: 100 lb are 45.36 kg, an upper bound of 10 litres 10 kg, of 1 gallon 3.785 kg. Of one that is barely shown the bound counts, and is said as such.
func TestWeightOfPonds(t *testing.T) {
	for _, c := range []struct {
		units, ponds    string
		weight, sure    float64
		deepest, weighs string
	}{
		{"si", `[]`, 0, 0, "", ""},
		{"si", `[{"depth_mm":20,"weight_kg":53,"confidence":"shown by the spots"},{"depth_mm":30,"weight_kg":7,"confidence":"likely"}]`, 60, 53, "30 mm", "60 kg"},
		{"si", `[{"depth_mm":20,"weight_kg":53},{"depth_mm_95":31,"volume_l_95":10}]`, 63, 0, "up to 31 mm", "63 kg"},
		{"si", `[{"depth_mm":32,"weight_kg":53},{"depth_mm_95":31,"volume_l_95":10}]`, 63, 0, "32 mm", "63 kg"},
		{"us", `[{"depth_in":1.5,"weight_lb":100,"confidence":"shown by the spots"},{"depth_in_95":1,"volume_gal_95":1,"confidence":"shown by the spots"}]`, 45.359237 + 3.785411784, 45.359237 + 3.785411784, `1-1/2"`, "108 lb"},
	} {
		var ponds []standingWater
		if err := json.Unmarshal([]byte(c.ponds), &ponds); err != nil {
			t.Fatal(err)
		}
		var r roof
		r.weigh(ponds, c.units)
		if !(math.Abs(r.weight-c.weight) <= 1e-9) || !(math.Abs(r.sure-c.sure) <= 1e-9) || r.Deepest != c.deepest || r.Weighs != c.weighs {
			t.Errorf("%s: %+v, want %+v", c.ponds, r, c)
		}
	}
}

// A summary is read for what the list shows; files that are none, or of another form, are no roof.
func TestSummariesInTheList(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put("a.json", `{"schema":"runnel-summary-1","units":"us","keep_off":true,"roof":{"id":"X","name":"Shed","building":"House","surveyed":"2026-05-02"},"rain_load":{"max_load_psf":20},"worst":{"finding":"X.N02","rank":-1},`+
		`"ponds":[{"depth_in":1.5,"weight_lb":100}],"findings":[{"id":"X.N01","severity":"urgent","what":"A."},{"id":"X.N02","severity":"repair","what":"B."},{"id":"X.N03","severity":"note","what":"C."}]}`)
	put("b.json", `{"schema":"runnel-summary-1","units":"si","roof":{"name":""},"rain_load":{"max_load_kpa":1,"enclosed":true}}`)
	put("c.json", `{"schema":"runnel-summary-1","units":"si","roof":{"name":"Same","building":"Same"},"rain_load":{"max_load_kpa":1}}`)
	put("d.json", `{"schema":"other"}`)
	put("e.json", `no`)
	put("a.plan.svg", "<svg/>")
	put("a.csv.bak", "")
	put("campus.csv", "")
	if err := os.Mkdir(filepath.Join(dir, "f.json"), 0o700); err != nil {
		t.Fatal(err)
	}
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	got := map[string]roof{}
	for _, r := range f.roofs {
		got[r.Stem] = r
	}
	// 20 psf are 957.6 Pa.
	a := got["a"]
	b := got["b"]
	if len(got) != 3 || a.Name != "House, Shed" || a.Urgent != 1 || a.Repair != 1 || a.Note != 1 || a.Ponds != 1 || a.Worst != "B." || !a.KeepOff || a.rank != -1 || a.surveyed != "2026-05-02" || !(math.Abs(a.blocked-957.6) <= 0.1) {
		t.Errorf("%+v", a)
	}
	if got["b"].Name != "b" || b.blocked != 0 || got["c"].Name != "Same" || got["c"].blocked != 1000 || b.Found() || !a.Found() {
		t.Errorf("%+v", got)
	}
	if f.roofs[0].Stem != "a" || len(a.Sheets) != 1 || a.Main().What != "plan" || got["b"].Main() != nil || !a.Main().Framed {
		t.Errorf("%+v", f.roofs)
	}
	for name, want := range map[string]bool{"a.json": true, "a.plan.svg": true, "campus.csv": true, "a.csv.bak": false, "d.json": false, "f.json": false} {
		if f.files[name] != want {
			t.Errorf("%s is served: %v", name, f.files[name])
		}
	}
	for text, want := range map[string]roof{"": {Urgent: 3}, "2 to repair": {Repair: 2}, "1 note": {Note: 1}, "1 to repair, 4 notes": {Repair: 1, Note: 4}} {
		if got := want.Others(); got != text {
			t.Errorf("%q, want %q", got, text)
		}
	}
	if !f.current() {
		t.Error("nothing changed, and the list is old")
	}
	put("a.json", `{"schema":"runnel-summary-1"}`)
	if f.current() {
		t.Error("a summary changed, and the list is new")
	}
	if err := f.list(); err != nil || !f.current() {
		t.Error(err)
	}
	put("new.txt", "")
	if f.current() {
		t.Error("a file came, and the list is new")
	}
}

// Of summaries that one run over one roof wrote, the last counts; of a campus all do.
func TestNewestSummary(t *testing.T) {
	at := func(stem, command, file string, minute int) roof {
		return roof{Stem: stem, run: record.Run{Command: command, Files: []string{file}}, Checked: time.Date(2026, 5, 2, 10, minute, 0, 0, time.UTC)}
	}
	var stems []string
	for _, r := range newest([]roof{at("a", "check", "x", 1), at("b", "check", "x", 2), at("c", "check", "y", 1), at("d", "campus", "x", 1), at("e", "campus", "x", 2)}) {
		stems = append(stems, r.Stem)
	}
	if !slices.Equal(stems, []string{"b", "c", "d", "e"}) {
		t.Errorf("%v", stems)
	}
}

// A page of this program may do what it states itself; a policy that cannot be told from the page's text is none.
func TestPolicies(t *testing.T) {
	const stated = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'">`
	for _, c := range []struct{ name, content, want string }{
		{"a.svg", stated, drawingPolicy},
		{"a.pdf", "", drawingPolicy},
		{"a.html", "<html>" + stated, "default-src 'none'" + reportPolicy},
		{"a.html", "<html>", dataPolicy},
		{"a.html", `<meta http-equiv="Content-Security-Policy" content="default-src 'none'`, dataPolicy},
		{"a.html", `<meta http-equiv="Content-Security-Policy" content="default-src <b>">`, dataPolicy},
	} {
		if got := policyOf(c.name, []byte(c.content)); got != c.want {
			t.Errorf("%s %s: %s", c.name, c.content, got)
		}
	}
	for name, want := range map[string]bool{"a.html": true, "a.svg": true, "a.pdf": true, "a.csv": false, "html": false} {
		if IsPage(name) != want {
			t.Errorf("%s", name)
		}
	}
}

// What is looked at to tell whether a run is to be made again: size and time of each file, those of a folder but for what is not finished; one that is missing.
func TestStampOfInputs(t *testing.T) {
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	write := func(name, text string, minute int) {
		if err := os.MkdirAll(filepath.Dir(path(name)), 0o700); err != nil {
			t.Fatal(err)
		}
		when := time.Date(2026, 5, 2, 10, minute, 0, 0, time.UTC)
		if err := errors.Join(os.WriteFile(path(name), []byte(text), 0o600), os.Chtimes(path(name), when, when)); err != nil {
			t.Fatal(err)
		}
	}
	write("a.csv", "1", 1)
	write("in/b.csv", "1", 5)
	write("in/.runnel-x", "1", 9)
	f := &Folder{files: map[string]bool{}}
	paths := []string{path("a.csv"), path("in")}
	stamp, youngest := f.inputs(paths)
	if youngest.Minute() != 5 || strings.Contains(stamp, ".runnel-x") || strings.Contains(stamp, gone) {
		t.Errorf("%s at %v", stamp, youngest)
	}
	write("in/.runnel-x", "12", 10)
	if again, _ := f.inputs(paths); again != stamp {
		t.Error("an unfinished file changes the stamp")
	}
	write("in/b.csv", "12", 5)
	if again, _ := f.inputs(paths); again == stamp {
		t.Error("a file that grew does not change the stamp")
	}
	if again, _ := f.inputs([]string{path("none.csv")}); !strings.Contains(again, gone) {
		t.Errorf("%q", again)
	}
	// A version is another one when a file of a roof changes, whatever the others do.
	infos := map[string]fs.FileInfo{}
	for _, name := range []string{"a.csv", "in/b.csv"} {
		info, err := os.Stat(path(name))
		if err != nil {
			t.Fatal(err)
		}
		infos[filepath.Base(name)] = info
	}
	if one, both := stampOf(infos, map[string]bool{"a.csv": true}), stampOf(infos, map[string]bool{"a.csv": true, "b.csv": true}); one == both || one != stampOf(infos, map[string]bool{"a.csv": true}) || len(one) != 16 {
		t.Errorf("%s and %s", one, both)
	}
}

// Of many roofs of a run five are named.
func TestNamesOfARun(t *testing.T) {
	f := &Folder{}
	for i := range 8 {
		f.roofs = append(f.roofs, roof{Name: fmt.Sprint("R", i), run: record.Run{Command: "campus"}, Checked: time.Date(2026, 5, 2, 10, 10-i, 0, 0, time.UTC)})
	}
	key := keyOf(&f.roofs[0].run)
	if got := strings.Join(f.names(key), ", "); got != "R0, R1, R2, R3, R4, and 3 more" {
		t.Error(got)
	}
	if got := f.checked(key).Minute(); got != 3 {
		t.Errorf("the oldest result is of minute %d", got)
	}
	f.roofs = f.roofs[:5]
	if got := strings.Join(f.names(key), ", "); got != "R0, R1, R2, R3, R4" {
		t.Error(got)
	}
	if f.names("other") != nil || !f.checked("other").IsZero() {
		t.Error("a run of no roofs has some")
	}
	f.runs = []*job{{key: key, problem: "x"}, {key: "other", problem: "y"}}
	f.roofs[1].Stem, f.roofs[1].version = "b", "v"
	if s, r, ok := f.of("b"); !ok || r.Name != "R1" || s.Problem != "x" || s.Version != "v" || s.Checked != "2 May 2026, 10:09:00" {
		t.Errorf("%+v %v", s, ok)
	}
	if s, _, ok := f.of(""); !ok || s.Problem != "x\n\ny" || s.Checked != "2 May 2026, 10:10:00" {
		t.Errorf("%+v", s)
	}
	if _, _, ok := f.of("none"); ok {
		t.Error("a roof that is not there")
	}
}
