// Package geoparquet writes the tables of a GeoPackage as GeoParquet 1.1, for analysts who work with columns: one file a table, its rows
// in their order, however many there are.
package geoparquet

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"net/url"
	"path/filepath"
	"slices"
	"strings"

	_ "modernc.org/sqlite" // opens the GeoPackage
)

// Package is a GeoPackage that is read.
type Package struct {
	Tables []Table
	db     *sql.DB
	path   string
}

// Table is one of its tables of features.
type Table struct {
	Name    string
	kind    string // of its shapes, as the GeoPackage says
	about   string
	local   bool   // its coordinates are those of a site grid, of no frame on earth
	shape   string // the column that holds them
	columns []column
}

// column is a fact of the features.
type column struct {
	name string
	kind kind
}

// kind is what a column holds.
type kind int

const (
	words kind = iota
	whole
	fraction
	truth
)

// kindOf is the kind of a column of a type of SQL.
func kindOf(sqlType string) kind {
	switch strings.ToUpper(sqlType) {
	case "BOOLEAN":
		return truth
	case "INTEGER", "INT", "MEDIUMINT", "SMALLINT", "TINYINT":
		return whole
	case "REAL", "DOUBLE", "FLOAT":
		return fraction
	}
	return words
}

// wgs84 is the number of longitude and latitude among the frames of a GeoPackage; below 1 are those of no known place.
const wgs84 = 4326

// Open reads which tables a GeoPackage has.
func Open(ctx context.Context, path string) (*Package, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	at := url.URL{Scheme: "file", Path: filepath.ToSlash(whole), RawQuery: "mode=ro&immutable=1"}
	db, err := sql.Open("sqlite", at.String())
	if err != nil {
		return nil, err
	}
	p := &Package{db: db, path: path}
	if err := p.list(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("%s is no GeoPackage that can be read: %w", path, err), db.Close())
	}
	return p, nil
}

// Close lets go of the file.
func (p *Package) Close() error { return p.db.Close() }

// list lists the tables of features.
func (p *Package) list(ctx context.Context) error {
	rows, err := p.db.QueryContext(ctx, `SELECT c.table_name, coalesce(c.description, ''), g.column_name, g.geometry_type_name, g.srs_id
		FROM gpkg_contents c JOIN gpkg_geometry_columns g ON g.table_name = c.table_name WHERE c.data_type = 'features' ORDER BY c.rowid`)
	if err != nil {
		return err
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var t Table
		var frame int
		if err := rows.Scan(&t.Name, &t.about, &t.shape, &t.kind, &frame); err != nil {
			return err
		}
		if frame != wgs84 && frame > 0 {
			return fmt.Errorf("its coordinates are those of EPSG:%d; give one that runnel wrote", frame)
		}
		t.local = frame != wgs84
		p.Tables = append(p.Tables, t)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for i := range p.Tables {
		if err := p.Tables[i].list(ctx, p.db); err != nil {
			return err
		}
	}
	if len(p.Tables) == 0 {
		return errors.New("it has no table of features")
	}
	return nil
}

// styles are columns that say how a feature is drawn, which is no matter of analysis.
var styles = []string{"stroke", "stroke_width", "stroke_opacity", "fill", "fill_opacity", "marker_color", "marker_size", "marker_symbol"}

// list lists the columns of a table.
func (t *Table) list(ctx context.Context, db *sql.DB) error {
	rows, err := db.QueryContext(ctx, "SELECT name, type FROM pragma_table_info(?)", t.Name)
	if err != nil {
		return err
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var name, kind string
		if err := rows.Scan(&name, &kind); err != nil {
			return err
		}
		switch {
		case name == "fid" || name == t.shape || slices.Contains(styles, name):
		case name == shapeName || name == boxName || strings.ContainsAny(name, ",\"`\\") || name == "":
			return fmt.Errorf("its column %q cannot have this name", name)
		default:
			t.columns = append(t.columns, column{name, kindOf(kind)})
		}
	}
	return rows.Err()
}

// quoted writes a name as SQL does.
func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// Write writes a table of the package.
func (p *Package) Write(ctx context.Context, out io.Writer, t *Table) error {
	names := []string{quoted(t.shape)}
	for _, c := range t.columns {
		names = append(names, quoted(c.name))
	}
	rows, err := p.db.QueryContext(ctx, "SELECT "+strings.Join(names, ", ")+" FROM "+quoted(t.Name)+" ORDER BY fid") //nolint:gosec // names are quoted
	if err != nil {
		return err
	}
	defer func() { _ = rows.Close() }()
	w := newWriter(out, t)
	values, to := make([]any, len(names)), make([]any, len(names))
	for i := range values {
		to[i] = &values[i]
	}
	for number := 1; rows.Next(); number++ {
		if err := rows.Scan(to...); err != nil {
			return err
		}
		if err := w.row(values); err != nil {
			return fmt.Errorf("%s, table %s, row %d: %w", p.path, t.Name, number, err)
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	return w.end()
}

// box is where a shape lies in plan: least x and y, greatest x and y.
type box [4]float64

// nowhere holds nothing.
var nowhere = box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func (b *box) join(o box) {
	*b = box{min(b[0], o[0]), min(b[1], o[1]), max(b[2], o[2]), max(b[3], o[3])}
}

// unpack takes well-known binary, and where it lies, from a geometry of a GeoPackage (OGC 12-128r17, 2.1.3).
func unpack(blob []byte) (wkb []byte, b box, err error) {
	const head, little, empty = 8, 1, 16
	wrong := errors.New("its shape is no geometry of a GeoPackage")
	if len(blob) < head || blob[0] != 'G' || blob[1] != 'P' || blob[2] != 0 || blob[3]&little == 0 || blob[3]&empty != 0 {
		return nil, b, wrong
	}
	numbers, ok := map[byte]int{0: 0, 1: 4, 2: 6, 3: 6, 4: 8}[blob[3]>>1&7]
	if wkb = blob[head:]; !ok || len(wkb) < 8*numbers+5 {
		return nil, b, wrong
	}
	at := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(wkb[8*i:])) }
	if numbers > 0 {
		b = box{at(0), at(2), at(1), at(3)}
	}
	if wkb = wkb[8*numbers:]; wkb[0] != 1 || kindOfShape(wkb) == "" {
		return nil, b, wrong
	}
	if numbers == 0 { // a point, which has no box
		const point, sized = 1, 21
		if code := binary.LittleEndian.Uint32(wkb[1:]); code%1000 != point || len(wkb) < sized {
			return nil, b, wrong
		}
		x, y := math.Float64frombits(binary.LittleEndian.Uint64(wkb[5:])), math.Float64frombits(binary.LittleEndian.Uint64(wkb[13:]))
		b = box{x, y, x, y}
	}
	return wkb, b, nil
}
