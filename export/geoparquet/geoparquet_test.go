package geoparquet_test

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	_ "modernc.org/sqlite" // the driver

	"runnel/analysis/geometry/reference/chromium"
	"runnel/export/campus"
	"runnel/export/geoparquet"
	"runnel/export/sample"
	"runnel/export/staged"
)

// store keeps the files of a campus in a folder.
type store struct{ dir string }

func (s store) AddLast(o staged.Output) error {
	f, err := os.Create(s.PathOfLast(o.Name))
	if err != nil {
		return err
	}
	return errors.Join(o.Write(f), f.Close())
}

func (s store) PathOfLast(name string) string { return filepath.Join(s.dir, name) }

func (s store) Scratch() (*os.File, error) { return os.CreateTemp(s.dir, "sort-") }

// convert writes all tables of a GeoPackage.
func convert(t *testing.T, path string) map[string][]byte {
	t.Helper()
	p, err := geoparquet.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = p.Close() }()
	out := map[string][]byte{}
	for i := range p.Tables {
		var b bytes.Buffer
		if err := p.Write(t.Context(), &b, &p.Tables[i]); err != nil {
			t.Fatal(err)
		}
		out[p.Tables[i].Name] = b.Bytes()
	}
	return out
}

// TestMain ends the browser.
func TestMain(m *testing.M) {
	code := m.Run()
	chromium.End()
	os.Exit(code)
}

// read has hyparquet, in Chromium, read a file; script says what of it.
func read[T any](t *testing.T, file []byte, script string) T {
	t.Helper()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/file":
			_, _ = w.Write(file)
		case "/hyparquet.js":
			http.ServeFile(w, r, "testdata/hyparquet.min.js")
		default:
			_, _ = w.Write([]byte(`<!doctype html><title>hyparquet</title><script src="/hyparquet.js"></script>`))
		}
	}))
	t.Cleanup(server.Close)
	ctx := chromium.Tab(t)
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL)); err != nil {
		t.Fatal(err)
	}
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`(async () => {
		const file = await (await fetch("/file")).arrayBuffer();
		const meta = hyparquet.parquetMetadata(file);
		const answer = await (`+script+`)(file, meta);
		return JSON.stringify(answer, (_, v) => typeof v === "bigint" ? Number(v) : v instanceof Uint8Array ? Array.from(v) : v);
	})()`, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	var out T
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		t.Fatalf("%v: %.300s", err, text)
	}
	return out
}

// whole is a file as an independent program reads it.
type whole struct {
	Names []string
	Rows  []map[string]any
	Meta  map[string]string
}

const all = `async (file, meta) => ({
	Names: hyparquet.parquetSchema(meta).children.map(c => c.element.name),
	Rows: await hyparquet.parquetReadObjects({file}),
	Meta: Object.fromEntries(meta.key_value_metadata.map(m => [m.key, m.value])),
})`

// What hyparquet reads of a campus is what its GeoJSON says: each fact under its name, nothing where there is none, shapes, and where they lie.
func TestCampusReadsAsItsGeoJSON(t *testing.T) {
	dir := t.TempDir()
	local, known := campus.NewRow(sample.Study(sample.Feet()), "local"), campus.NewRow(sample.Study(sample.Geographic()), "map")
	local.Name, known.Name, known.Building = `=local, "quoted"`, "Dépôt 東", "North"
	other := known
	other.Name, other.Stem, other.Surveyed, other.Ponds, other.KeepOff = "other", "other", "2026-03-01", 1<<40, !known.KeepOff
	rows := []campus.Row{{Name: "broken", Stem: "broken", Reason: "no outline"}, known, local, other}
	source := func(take func(*campus.Row) error) error {
		for i := range rows {
			if err := take(&rows[i]); err != nil {
				return err
			}
		}
		return nil
	}
	if _, err := campus.Write(store{dir}, &bytes.Buffer{}, source, campus.Options{}); err != nil {
		t.Fatal(err)
	}
	files := convert(t, filepath.Join(dir, "campus.gpkg"))
	if len(files) != 2 {
		t.Fatalf("%d files", len(files))
	}
	seen := 0
	for table, name := range map[string]string{"roof": "campus.geojson", "roof_local": "campus.local.geojson"} {
		got := read[whole](t, files[table], all)
		want := features(t, filepath.Join(dir, name)) // of all roofs; those of the other frame without a place
		place := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for i, row := range got.Rows {
			at := slices.IndexFunc(want, func(f feature) bool { return f.Properties["name"] == row["name"] })
			if at < 0 {
				t.Fatalf("%s, row %d: %v", table, i, row)
			}
			compare(t, fmt.Sprintf("%s, row %d", table, i), row, want[at], &place)
			if rank := func(r map[string]any) float64 { n, _ := r["rank"].(float64); return n }; i > 0 && rank(row) <= rank(got.Rows[i-1]) {
				t.Errorf("%s: row %d is out of order", table, i)
			}
			want = slices.Delete(want, at, at+1)
			seen++
		}
		for _, f := range want {
			if f.Geometry != nil {
				t.Errorf("%s: %s is missing", table, f.Properties["name"])
			}
		}
		var geo struct {
			Version string
			Primary string `json:"primary_column"`
			Columns map[string]struct {
				Encoding string
				Types    []string `json:"geometry_types"`
				CRS      *any
				Box      [4]float64 `json:"bbox"`
			}
		}
		text := got.Meta["geo"]
		if err := json.Unmarshal([]byte(text), &geo); err != nil {
			t.Fatal(err)
		}
		c := geo.Columns["geometry"]
		if geo.Version != "1.1.0" || geo.Primary != "geometry" || c.Encoding != "WKB" || !strings.HasPrefix(c.Types[0], "MultiPolygon") || c.Box != place {
			t.Errorf("%s: %s, want a box of %v", table, text, place)
		}
		if null := strings.Contains(text, `"crs":null`); null != (table == "roof_local") || strings.Contains(text, `"crs"`) != null {
			t.Errorf("%s: its frame is told as %s", table, text)
		}
	}
	if seen != len(rows) {
		t.Errorf("%d rows, want %d", seen, len(rows))
	}
}

type feature struct {
	ID         string
	Properties map[string]any
	Geometry   *struct {
		Type        string
		Coordinates json.RawMessage
	}
}

func features(t *testing.T, path string) []feature {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var c struct{ Features []feature }
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	return c.Features
}

// compare holds a row against a feature, and joins its place.
func compare(t *testing.T, what string, row map[string]any, f feature, place *[4]float64) {
	t.Helper()
	for name, want := range f.Properties {
		if got := row[name]; !reflect.DeepEqual(got, want) && !strings.HasPrefix(name, "stroke") && !strings.HasPrefix(name, "fill") {
			t.Errorf("%s: %s is %v, want %v", what, name, got, want)
		}
	}
	for name, got := range row {
		if _, ok := f.Properties[name]; !ok && got != nil && name != "geometry" && name != "bbox" && name != "id" {
			t.Errorf("%s: %s is %v, which the GeoJSON has not", what, name, got)
		}
	}
	if f.Geometry == nil {
		if row["geometry"] != nil || row["bbox"] != nil {
			t.Errorf("%s: it lies at %v", what, row["geometry"])
		}
		return
	}
	var rings [][][]float64
	if err := json.Unmarshal(f.Geometry.Coordinates, &rings); err != nil {
		t.Fatal(err)
	}
	shape, _ := json.Marshal(row["geometry"])
	var got struct {
		Type        string
		Coordinates [][][][]float64
	}
	if err := json.Unmarshal(shape, &got); err != nil || got.Type != "MultiPolygon" || len(got.Coordinates) != 1 || !reflect.DeepEqual(got.Coordinates[0], rings) {
		t.Errorf("%s: its shape is %s, want %s", what, shape, f.Geometry.Coordinates)
	}
	own := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range rings[0] {
		own = [4]float64{min(own[0], p[0]), min(own[1], p[1]), max(own[2], p[0]), max(own[3], p[1])}
	}
	*place = [4]float64{min(place[0], own[0]), min(place[1], own[1]), max(place[2], own[2]), max(place[3], own[3])}
	if box, _ := row["bbox"].(map[string]any); box["xmin"] != own[0] || box["ymin"] != own[1] || box["xmax"] != own[2] || box["ymax"] != own[3] {
		t.Errorf("%s: its box is %v, want %v", what, row["bbox"], own)
	}
}

// many makes a GeoPackage of so many points, and returns the sums of its columns as SQLite reckons them.
func many(t *testing.T, path string, rows int) (sums map[string]float64) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	do := func(text string, args ...any) {
		t.Helper()
		if _, err := db.ExecContext(t.Context(), text, args...); err != nil {
			t.Fatal(err)
		}
	}
	db.SetMaxOpenConns(1)
	for _, s := range []string{
		"PRAGMA journal_mode=OFF", "PRAGMA synchronous=OFF",
		"CREATE TABLE gpkg_contents (table_name TEXT, data_type TEXT, description TEXT)", "CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, geometry_type_name TEXT, srs_id INTEGER)",
		"INSERT INTO gpkg_contents VALUES ('roof', 'features', 'x')", "INSERT INTO gpkg_geometry_columns VALUES ('roof', 'geom', 'POINT', 4326)",
		"CREATE TABLE roof (fid INTEGER PRIMARY KEY, geom POINT, rank INTEGER, depth REAL, urgent BOOLEAN, name TEXT)",
	} {
		do(s)
	}
	do("BEGIN")
	add, err := db.PrepareContext(t.Context(), "INSERT INTO roof VALUES (?,?,?,?,?,?)")
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		point := append([]byte{'G', 'P', 0, 1, 0xe6, 0x10, 0, 0}, 1, 1, 0, 0, 0)
		point = binary.LittleEndian.AppendUint64(point, math.Float64bits(float64(i%360)-180))
		point = binary.LittleEndian.AppendUint64(point, math.Float64bits(float64(i%180)-90))
		args := []any{i + 1, point, i + 1, float64(i%4096) / 8, i%3 == 0, fmt.Sprintf("roof %d é", i)}
		if i%7 == 0 {
			args[1], args[3], args[5] = nil, nil, nil
		}
		if _, err := add.ExecContext(t.Context(), args...); err != nil {
			t.Fatal(err)
		}
	}
	_ = add.Close()
	do("COMMIT")
	sums = map[string]float64{}
	for name, text := range map[string]string{
		"rows": "count(*)", "ranks": "sum(rank)", "depths": "sum(depth)", "deep": "count(depth)", "urgent": "sum(urgent)", "letters": "sum(length(name))", "names": "count(name)", "places": "count(geom)",
	} {
		var v float64
		if err := db.QueryRowContext(t.Context(), "SELECT "+text+" FROM roof").Scan(&v); err != nil {
			t.Fatal(err)
		}
		sums[name] = v
	}
	sums["out of order"] = 0
	for i := range rows {
		if i%7 != 0 {
			sums["x"] += float64(i%360) - 180
			sums["y"] += float64(i%180) - 90
		}
	}
	return sums
}

// Rows by the hundred thousand, in several groups, read back as they were: sums of all columns are those that SQLite reckons. A million:
// RUNNEL_LONG=1 go test -v -run Million ./export/geoparquet.
func TestAMillionRows(t *testing.T) {
	rows := 120000
	if os.Getenv("RUNNEL_LONG") != "" {
		rows = 1000000
	}
	path := filepath.Join(t.TempDir(), "campus.gpkg")
	want := many(t, path, rows)
	file := convert(t, path)["roof"]
	t.Logf("%d rows in %d bytes", rows, len(file))
	got := read[map[string]float64](t, file, `async (file, meta) => {
		const s = {rows: 0, ranks: 0, depths: 0, deep: 0, urgent: 0, letters: 0, names: 0, places: 0, x: 0, y: 0, "out of order": 0};
		const all = Number(meta.num_rows);
		for (let rowStart = 0; rowStart < all; rowStart += 50000) {
			for (const r of await hyparquet.parquetReadObjects({file, metadata: meta, rowStart, rowEnd: Math.min(all, rowStart + 50000)})) {
				s.rows++;
				if (Number(r.rank) !== s.rows) s["out of order"]++;
				s.ranks += Number(r.rank);
				if (r.depth != null) { s.deep++; s.depths += r.depth; }
				if (r.urgent) s.urgent++;
				if (r.name != null) { s.names++; s.letters += r.name.length; }
				if (r.geometry) { s.places++; s.x += r.geometry.coordinates[0]; s.y += r.geometry.coordinates[1]; }
			}
		}
		return s;
	}`)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read %v, want %v", got, want)
	}
}

// What is no GeoPackage of ours is refused with what is wrong, and nothing panics.
func TestFilesThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	good := filepath.Join(dir, "good.gpkg")
	many(t, good, 20)
	change := func(name string, statements ...string) string {
		data, err := os.ReadFile(good)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		db, err := sql.Open("sqlite", path)
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = db.Close() }()
		for _, s := range statements {
			if _, err := db.ExecContext(t.Context(), s); err != nil {
				t.Fatal(err)
			}
		}
		return path
	}
	text := filepath.Join(dir, "text.gpkg")
	if err := os.WriteFile(text, []byte("no database"), 0o600); err != nil {
		t.Fatal(err)
	}
	for path, says := range map[string]string{
		text:                       "is no GeoPackage",
		filepath.Join(dir, "nope"): "is no GeoPackage",
		change("empty", "DELETE FROM gpkg_contents"):                                  "no table of features",
		change("frame", "UPDATE gpkg_geometry_columns SET srs_id = 25832"):            "EPSG:25832",
		change("name", `ALTER TABLE roof ADD COLUMN "a,b" TEXT`):                      "cannot have this name",
		change("bbox", `ALTER TABLE roof ADD COLUMN bbox TEXT`):                       "cannot have this name",
		change("kind", "UPDATE roof SET depth = 'deep' WHERE fid = 5"):                "row 5: its depth is deep",
		change("shape", "UPDATE roof SET geom = x'4750' WHERE fid = 6"):               "row 6: its shape",
		change("box", "UPDATE roof SET geom = x'47500003e61000000101' WHERE fid = 6"): "row 6: its shape",
		change("big end", "UPDATE roof SET geom = x'47500003e61000000000000000000000000000000000000000000000000000000000000000000000000000000003' WHERE fid = 6"): "row 6: its shape",
		change("point", "UPDATE roof SET geom = x'47500001e61000000103' WHERE fid = 6"):                                                                           "row 6: its shape",
	} {
		p, err := geoparquet.Open(t.Context(), path)
		if err == nil {
			for i := range p.Tables {
				err = errors.Join(err, p.Write(t.Context(), &bytes.Buffer{}, &p.Tables[i]))
			}
			_ = p.Close()
		}
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", filepath.Base(path), err, says)
		}
	}
}
