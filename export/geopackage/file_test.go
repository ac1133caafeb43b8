package geopackage_test

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	_ "modernc.org/sqlite" // the driver

	"runnel/export/drawing/scene/scenetest"
	"runnel/export/geojson"
	"runnel/export/geopackage"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/sample"
)

// asked opens a GeoPackage as any reader of SQLite does.
func asked(t *testing.T, b *record.Book) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", file(t, b))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// answer returns the rows of a question, each a list of its values.
func answer(t *testing.T, db *sql.DB, question string) [][]any {
	t.Helper()
	rows, err := db.QueryContext(t.Context(), question)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	defer func() { _ = rows.Close() }()
	names, err := rows.Columns()
	if err != nil {
		t.Fatal(err)
	}
	var all [][]any
	for rows.Next() {
		values, at := make([]any, len(names)), make([]any, len(names))
		for i := range values {
			at[i] = &values[i]
		}
		if err := rows.Scan(at...); err != nil {
			t.Fatal(err)
		}
		all = append(all, values)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

// What the standard asks of every file (OGC 12-128r17, 1.1.1.1.1 and table 3): application id "GPKG", version 1.3.0, the frames -1 and 0 of no organisation and 4326 of
// EPSG; each table stands in the contents with its frame, and with a column of shapes.
func TestWhatTheStandardAsksFor(t *testing.T) {
	for name, b := range books() {
		db := asked(t, b)
		for pragma, want := range map[string]int64{"application_id": int64(binary.BigEndian.Uint32([]byte("GPKG"))), "user_version": 10300} {
			if got := answer(t, db, "PRAGMA "+pragma)[0][0]; got != want {
				t.Errorf("%s: %s is %v, want %v", name, pragma, got, want)
			}
		}
		if got, want := fmt.Sprint(answer(t, db, "SELECT srs_id, organization, organization_coordsys_id FROM gpkg_spatial_ref_sys ORDER BY srs_id")), "[[-1 NONE -1] [0 NONE 0] [4326 EPSG 4326]]"; got != want {
			t.Errorf("%s: frames %s, want %s", name, got, want)
		}
		if got := fmt.Sprint(answer(t, db, "SELECT definition FROM gpkg_spatial_ref_sys WHERE srs_id = 4326")); !strings.Contains(got, `SPHEROID["WGS 84",6378137,298.257223563`) {
			t.Errorf("%s: WGS 84 is %s", name, got)
		}
		frame, z := int64(-1), int64(2)
		if name == "degrees" {
			frame, z = 4326, 0
		}
		contents := answer(t, db, "SELECT table_name, data_type, identifier, srs_id, last_change, description FROM gpkg_contents WHERE data_type = 'features'")
		shapes := answer(t, db, "SELECT table_name, column_name, srs_id, z, m FROM gpkg_geometry_columns")
		if len(contents) < 10 || len(shapes) != len(contents) {
			t.Fatalf("%s: %d tables, %d columns of shapes", name, len(contents), len(shapes))
		}
		about := map[string]string{"metres": "site grid; coordinates and elevations in m", "feet": "site grid; coordinates and elevations in ft", "degrees": "longitude and latitude"}[name]
		for i, c := range contents {
			if c[2] != c[0] || c[3] != frame || fmt.Sprint(c[4])[:10] != "2000-01-01" || c[5] != about {
				t.Errorf("%s: contents %v", name, c)
			}
			if s := shapes[i]; s[0] != c[0] || s[1] != "geom" || s[2] != frame || s[3] != z || s[4] != int64(0) {
				t.Errorf("%s: shapes %v of %v", name, s, c[0])
			}
		}
	}
}

// shape is a GeoPackage geometry read back: its box, its code and its positions.
type shape struct {
	box   []float64 // least and greatest x, least and greatest y; nil for a point
	code  uint32
	at    [][3]float64
	rings []int // how many positions each ring has
}

// decode reads a geometry by the standard: OGC 12-128r17, 2.1.3, and well-known binary of ISO 19125-1.
func decode(blob []byte) (s shape, srs int32, err error) {
	if len(blob) < 8 || string(blob[:2]) != "GP" || blob[2] != 0 || blob[3]&1 != 1 || blob[3]>>4 != 0 {
		return s, 0, fmt.Errorf("head % x", blob[:min(8, len(blob))])
	}
	r := bytes.NewReader(blob[8:])
	srs = int32(binary.LittleEndian.Uint32(blob[4:])) //nolint:gosec // as the standard has it
	take := func(v any) {
		err = errors.Join(err, binary.Read(r, binary.LittleEndian, v))
	}
	if blob[3]>>1&7 == 1 {
		s.box = make([]float64, 4)
		take(s.box)
	}
	head := func() uint32 {
		var order uint8
		var code uint32
		take(&order)
		take(&code)
		if order != 1 {
			err = errors.Join(err, fmt.Errorf("byte order %d", order))
		}
		return code
	}
	position := func() {
		p := [3]float64{2: math.NaN()}
		n := 2
		if s.code > 1000 {
			n = 3
		}
		take(p[:n])
		s.at = append(s.at, p)
	}
	many := func(do func()) (n uint32) {
		take(&n)
		for i := uint32(0); i < n && err == nil; i++ {
			do()
		}
		return n
	}
	ring := func() {
		from := len(s.at)
		many(position)
		s.rings = append(s.rings, len(s.at)-from)
	}
	s.code = head()
	switch s.code % 1000 {
	case 1:
		position()
	case 2:
		many(position)
	case 6:
		many(func() {
			if code := head(); code != s.code-3 {
				err = errors.Join(err, fmt.Errorf("%d in %d", code, s.code))
			}
			many(ring)
		})
	default:
		err = errors.Join(err, fmt.Errorf("code %d", s.code))
	}
	if err == nil && r.Len() > 0 {
		err = fmt.Errorf("%d bytes are left", r.Len())
	}
	return s, srs, err
}

// flatten returns the positions of a GeoJSON geometry in their order.
func flatten(v any) (out [][]any) {
	list, _ := v.([]any)
	if len(list) > 0 {
		if _, ok := list[0].(float64); ok {
			return [][]any{list}
		}
	}
	for _, x := range list {
		out = append(out, flatten(x)...)
	}
	return out
}

// Every shape of every table, decoded by the standard, is that of the GeoJSON under the same id: position by position, with elevations where all positions have one. Its own box is that of its
// positions, and the contents have the box of all.
func TestShapesAreThoseOfTheGeoJSON(t *testing.T) {
	for name, b := range books() {
		var own bytes.Buffer
		if err := geojson.Write(&own, b, layer.All()...); err != nil {
			t.Fatal(err)
		}
		want := parse(t, own.Bytes())
		db, seen := asked(t, b), 0
		for _, table := range answer(t, db, "SELECT table_name, min_x, max_x, min_y, max_y FROM gpkg_contents WHERE data_type = 'features'") {
			box := []float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
			for _, row := range answer(t, db, fmt.Sprintf(`SELECT id, geom FROM "%s" ORDER BY fid`, table[0])) {
				seen++
				w, ok := want[row[0].(string)]
				if !ok || (w.Geometry == nil) != (row[1] == nil) {
					t.Errorf("%s: %v is not in the GeoJSON, or one has no place", name, row[0])
					continue
				}
				if w.Geometry == nil {
					continue
				}
				s, srs, err := decode(row[1].([]byte))
				if err != nil || (srs == 4326) != (name == "degrees") || (s.box == nil) != (w.Geometry.Type == "Point") {
					t.Fatalf("%s: %v in frame %d: %v", name, row[0], srs, err)
				}
				at := flatten(w.Geometry.Coordinates)
				every := !slices.ContainsFunc(at, func(p []any) bool { return len(p) < 3 })
				if len(at) != len(s.at) || every != (s.code > 1000) {
					t.Fatalf("%s: %v has %d positions of code %d, want %d, all with elevations: %v", name, row[0], len(s.at), s.code, len(at), every)
				}
				inner := []float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
				for i, p := range at {
					for k := range p[:min(len(p), map[bool]int{true: 3, false: 2}[every])] {
						if v := p[k].(float64); !(math.Abs(s.at[i][k]-v) <= 1e-12*math.Max(1, math.Abs(v))) {
							t.Errorf("%s: %v position %d is %v, want %v", name, row[0], i, s.at[i], p)
						}
					}
					inner = []float64{min(inner[0], s.at[i][0]), max(inner[1], s.at[i][0]), min(inner[2], s.at[i][1]), max(inner[3], s.at[i][1])}
				}
				if s.box != nil && !slices.Equal(s.box, inner) {
					t.Errorf("%s: %v says that it lies in %v, it lies in %v", name, row[0], s.box, inner)
				}
				box = []float64{min(box[0], inner[0]), max(box[1], inner[1]), min(box[2], inner[2]), max(box[3], inner[3])}
			}
			if got := fmt.Sprint(table[1:]); !math.IsInf(box[0], 0) && got != fmt.Sprint(box) {
				t.Errorf("%s: %v is said to lie in %s, it lies in %v", name, table[0], got, box)
			}
		}
		if seen != len(want) {
			t.Errorf("%s: %d features, %d in the GeoJSON", name, seen, len(want))
		}
	}
}

// Facts come back as they went in, with the type that a table tells: texts as texts, truth as truth, numbers as numbers; a column that holds both numbers and texts holds texts.
func TestColumnsHaveTheirTypes(t *testing.T) {
	r := sample.Local()
	texts := []string{`=1+1`, "a,b;c", "two\nlines", `"quoted" <b>`, "גג"}
	for i, text := range texts {
		data, err := json.Marshal(map[string]any{"note": text, "mixed": []any{1.5, "one", true, 2.0, false}[i], "number": float64(i) / 2, "truth": i%2 == 0})
		if err != nil {
			t.Fatal(err)
		}
		r.Spots[i].Properties = data
	}
	db := asked(t, record.NewBook(sample.Study(r), "", record.SI))
	rows := answer(t, db, `SELECT note, mixed, number, truth FROM spot WHERE note IS NOT NULL ORDER BY fid`)
	if len(rows) != len(texts) {
		t.Fatalf("%d spots with a note", len(rows))
	}
	for i, row := range rows {
		truth := row[3] == true || row[3] == int64(1)
		if row[0] != texts[i] || row[1] != []string{"1.5", "one", "true", "2", "false"}[i] || row[2] != float64(i)/2 || truth != (i%2 == 0) {
			t.Errorf("row %d: %#v", i, row)
		}
	}
	types := map[string]string{}
	for _, c := range answer(t, db, "PRAGMA table_info(spot)") {
		types[c[1].(string)] = c[2].(string)
	}
	for column, want := range map[string]string{"fid": "INTEGER", "geom": "POINT", "note": "TEXT", "mixed": "TEXT", "number": "REAL", "truth": "BOOLEAN", "id": "TEXT"} {
		if types[column] != want {
			t.Errorf("column %s is %s, want %s", column, types[column], want)
		}
	}
	for _, c := range answer(t, db, "SELECT COUNT(*), MIN(fid), MAX(fid) FROM spot") {
		if c[0] != c[2] || c[1] != int64(1) {
			t.Errorf("rows are numbered from %v to %v, there are %v", c[1], c[2], c[0])
		}
	}
}

// A file of more properties than a table takes keeps a thousand, and a capital letter alone makes no second column of one name.
func TestManyProperties(t *testing.T) {
	own := map[string]any{"Depth": 1.0, "DEPTH": 2.0, "depth": 3.0}
	for i := range 1500 {
		own[fmt.Sprint("p", i)] = i
	}
	data, err := json.Marshal(own)
	if err != nil {
		t.Fatal(err)
	}
	r := sample.Local()
	r.Spots[0].Properties = data
	db := asked(t, record.NewBook(sample.Study(r), "", record.SI))
	columns := answer(t, db, "PRAGMA table_info(spot)")
	if len(columns) != 1002 { // with number and shape
		t.Errorf("%d columns", len(columns))
	}
	seen := map[string]bool{}
	for _, c := range columns {
		if name := strings.ToLower(c[1].(string)); seen[name] {
			t.Errorf("two columns are called %s", name)
		} else {
			seen[name] = true
		}
	}
}

// The styles of all tables under a storm, in both forms, as somebody read them beside the map.
func TestGoldenStyles(t *testing.T) {
	var out strings.Builder
	for _, row := range answer(t, asked(t, books()["metres"]), "SELECT f_table_name, useAsDefault, f_geometry_column, styleName, styleSLD, styleQML FROM layer_styles ORDER BY id") {
		fmt.Fprintln(&out, row[:4]...)
		for _, text := range row[4:] {
			fmt.Fprintln(&out, strings.ReplaceAll(text.(string), "><", ">\n<"))
		}
	}
	scenetest.AsRead(t, "styles.txt", out.String())
}

// noDisk takes nothing.
type noDisk struct{}

var errNoDisk = errors.New("no disk")

func (noDisk) Write([]byte) (int, error) { return 0, errNoDisk }

func TestFullDisk(t *testing.T) {
	if err := geopackage.Write(noDisk{}, books()["degrees"], layer.All()...); !errors.Is(err, errNoDisk) {
		t.Error(err)
	}
}

// Only the named layers have tables.
func TestNamedLayers(t *testing.T) {
	var out bytes.Buffer
	if err := geopackage.Write(&out, books()["metres"], "pond", "spot"); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"CREATE TABLE \"pond\"": true, "CREATE TABLE \"spot\"": true, "CREATE TABLE \"outlet\"": false} {
		if bytes.Contains(out.Bytes(), []byte(name)) != want {
			t.Errorf("%s: %v", name, !want)
		}
	}
}
