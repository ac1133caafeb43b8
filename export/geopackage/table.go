package geopackage

import (
	"encoding/json"
	"strconv"
	"strings"

	"runnel/export/layer"
	"runnel/export/record"
)

// mostColumns keeps a table below what the file takes; the GeoJSON has all properties of a file with more.
const mostColumns = 1000

// gathered are the tables of one file.
type gathered struct {
	grid   *layer.Grid
	srs    int
	about  string
	tables []*table
	byName map[string]*table
}

// table is a layer, or its features of one kind of shape.
type table struct {
	name, kind string
	columns    []column
	byName     map[string]int // column by the name of its fact
	used       map[string]bool
	rows       []row
	styles     []layer.Style // that occur, in the order of the rows
	box        box
}

type row struct {
	shape  []byte
	values []any // by column; nil where there is none
}

// column is a fact of the features of a table.
type column struct {
	name  string
	types uint8 // that occur
}

// Types of a column's values.
const (
	whole uint8 = 1 << iota
	fraction
	truth
	text
)

func (c *column) sqlType() string {
	switch c.types {
	case truth:
		return "BOOLEAN"
	case whole:
		return "INTEGER"
	case fraction, whole | fraction:
		return "REAL"
	}
	return "TEXT"
}

// stored returns a value as the column holds it.
func (c *column) stored(v any) any {
	switch c.sqlType() {
	case "TEXT":
		switch v := v.(type) {
		case float64:
			return strconv.FormatFloat(v, 'f', -1, 64)
		case bool:
			return strconv.FormatBool(v)
		}
	case "INTEGER":
		if f, ok := v.(float64); ok {
			return int64(f)
		}
	}
	return v
}

// gather makes the tables of the named layers of b.
func gather(b *record.Book, names []string) *gathered {
	g := &gathered{grid: layer.GridOf(b), srs: cartesian, byName: map[string]*table{}}
	g.about = about(g.grid)
	if g.grid.Geographic {
		g.srs = wgs84
	}
	layer.Each(b, g.feature, names...)
	return g
}

// tableOf names the table of a feature and the kind of shape that it holds.
func tableOf(f *layer.Feature) (name, kind string) {
	name = strings.ReplaceAll(f.Layer, "-", "_")
	points := f.Layer == "finding" || f.Layer == "outlet" // most of these are points
	switch f.Shape.Kind {
	case layer.Line:
		if points {
			name += "_line"
		}
		return name, "LINESTRING"
	case layer.Polygon, layer.MultiPolygon:
		if points {
			name += "_area"
		}
		return name, "MULTIPOLYGON"
	case layer.None:
		if !points {
			return name, "GEOMETRY"
		}
	case layer.Point:
	}
	return name, "POINT"
}

// feature adds one feature to its table.
func (g *gathered) feature(f *layer.Feature) {
	name, kind := tableOf(f)
	t := g.byName[name]
	if t == nil {
		t = &table{name: name, kind: kind, byName: map[string]int{}, used: map[string]bool{"fid": true, "geom": true}}
		g.byName[name] = t
		g.tables = append(g.tables, t)
	}
	if t.kind == "GEOMETRY" { // so far no feature had a place
		t.kind = kind
	}
	t.rows = append(t.rows, g.row(t, f))
}

// row makes the row of a feature, and the columns that the table lacks.
func (g *gathered) row(t *table, f *layer.Feature) row {
	f.Style.AddTo(f.Facts, "_")
	t.style(f.Style)
	r := row{shape: g.blob(f.Shape)}
	for _, fact := range f.Facts.Facts() {
		k, ok := t.column(fact.Name)
		if !ok {
			continue
		}
		for len(r.values) <= k {
			r.values = append(r.values, nil)
		}
		var is uint8
		r.values[k], is = value(&fact)
		t.columns[k].types |= is
	}
	t.box.add(g.grid, f.Shape)
	return r
}

// column returns the column of a fact, which it makes where there is none; false where the table is full. SQL does not tell capitals
// from small letters in names, so a name that differs in them alone is numbered.
func (t *table) column(name string) (int, bool) {
	if k, ok := t.byName[name]; ok {
		return k, true
	}
	if len(t.columns) >= mostColumns {
		return 0, false
	}
	own := strings.ReplaceAll(name, "\x00", "")
	for n := 2; own == "" || t.used[strings.ToLower(own)]; n++ {
		own = name + "_" + strconv.Itoa(n)
	}
	t.used[strings.ToLower(own)] = true
	t.byName[name] = len(t.columns)
	t.columns = append(t.columns, column{name: own})
	return len(t.columns) - 1, true
}

// value returns what a column holds of a fact, and of which type it is.
func value(f *record.Fact) (any, uint8) {
	switch f.Kind {
	case record.NumberFact:
		if f.Decimals == 0 {
			return f.Rounded(), whole
		}
		return f.Rounded(), fraction
	case record.TruthFact:
		return f.True, truth
	case record.JSONFact:
		return ofJSON(f.JSON)
	case record.TextFact, record.ListFact:
	}
	return f.Plain(), text
}

// ofJSON returns a property of the user's own: a number, a truth value or a text; what is none of these as JSON.
func ofJSON(raw json.RawMessage) (any, uint8) {
	var v any
	if json.Unmarshal(raw, &v) == nil {
		switch v := v.(type) {
		case float64:
			return v, fraction
		case bool:
			return v, truth
		case string:
			return v, text
		}
	}
	return string(raw), text
}
