package geoparquet

import (
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"

	"github.com/parquet-go/parquet-go"

	"runnel/analysis/choose"
)

// Names of the columns of a file that hold the place of a row.
const (
	shapeName = "geometry"
	boxName   = "bbox"
)

// Sizes: of a row group, which is held while it is filled, and of what is handed over at once.
const (
	groupRows = 50000
	atOnce    = 512
)

type writer struct {
	out   *parquet.GenericWriter[any]
	table *Table
	rows  []parquet.Row
	kinds map[string]bool // of shapes that there are
	place box             // of all
}

func newWriter(out io.Writer, t *Table) *writer {
	return &writer{
		out: parquet.NewGenericWriter[any](out, groupOf(t), parquet.Compression(&parquet.Snappy), parquet.MaxRowsPerRowGroup(groupRows),
			parquet.CreatedBy("runnel", "1", "parquet-go")),
		table: t, kinds: map[string]bool{}, place: nowhere,
	}
}

// corners is where a shape lies, so that who reads the file may leave out what is elsewhere (GeoParquet 1.1, bounding box columns).
type corners struct {
	XMin float64 `parquet:"xmin"`
	YMin float64 `parquet:"ymin"`
	XMax float64 `parquet:"xmax"`
	YMax float64 `parquet:"ymax"`
}

// groupOf returns the columns of a file, in their order.
func groupOf(t *Table) *parquet.Schema {
	fields := []reflect.StructField{}
	add := func(name string, of reflect.Type) {
		fields = append(fields, reflect.StructField{Name: "F" + strconv.Itoa(len(fields)), Type: of, Tag: reflect.StructTag(`parquet:"` + name + `,optional"`)})
	}
	kinds := map[kind]reflect.Type{words: reflect.TypeFor[string](), whole: reflect.TypeFor[int64](), fraction: reflect.TypeFor[float64](), truth: reflect.TypeFor[bool]()}
	for _, c := range t.columns {
		add(c.name, kinds[c.kind])
	}
	add(shapeName, reflect.TypeFor[[]byte]())
	add(boxName, reflect.TypeFor[*corners]())
	return parquet.SchemaOf(reflect.New(reflect.StructOf(fields)).Interface())
}

// row adds a row: the blob of its shape, and its facts.
func (w *writer) row(values []any) error {
	row := make(parquet.Row, 0, len(values)+4)
	add := func(v parquet.Value, there bool) {
		level := choose.If(there, 1, 0)
		row = append(row, v.Level(0, level, len(row)))
	}
	for i, c := range w.table.columns {
		v, err := c.value(values[i+1])
		if err != nil {
			return err
		}
		add(v, !v.IsNull())
	}
	blob, there := values[0].([]byte)
	if !there {
		for range 5 {
			add(parquet.NullValue(), false)
		}
		return w.add(row)
	}
	wkb, b, err := unpack(blob)
	if err != nil {
		return err
	}
	add(parquet.ByteArrayValue(wkb), true)
	for _, v := range b {
		add(parquet.DoubleValue(v), true)
	}
	w.place.join(b)
	w.kinds[kindOfShape(wkb)] = true
	return w.add(row)
}

// add hands rows over, many at a time.
func (w *writer) add(row parquet.Row) error {
	if w.rows = append(w.rows, row); len(w.rows) < atOnce {
		return nil
	}
	return w.flush()
}

func (w *writer) flush() error {
	_, err := w.out.WriteRows(w.rows)
	w.rows = w.rows[:0]
	return err
}

// value returns a fact as the file holds it; null where there is none.
func (c *column) value(v any) (parquet.Value, error) {
	switch v := v.(type) {
	case nil:
		return parquet.NullValue(), nil
	case string:
		if c.kind == words {
			return parquet.ByteArrayValue([]byte(v)), nil
		}
	case bool:
		if c.kind == truth {
			return parquet.BooleanValue(v), nil
		}
	case int64:
		switch c.kind {
		case whole:
			return parquet.Int64Value(v), nil
		case truth:
			return parquet.BooleanValue(v != 0), nil
		case fraction:
			return parquet.DoubleValue(float64(v)), nil
		case words:
		}
	case float64:
		if c.kind == fraction {
			return parquet.DoubleValue(v), nil
		}
	}
	return parquet.Value{}, fmt.Errorf("its %s is %.40v, which the column cannot hold", c.name, v)
}

// kindOfShape names a kind of shape in little-endian well-known binary as the metadata do; empty for none of them.
func kindOfShape(wkb []byte) string {
	code := int(wkb[1]) | int(wkb[2])<<8
	name := map[int]string{1: "Point", 2: "LineString", 3: "Polygon", 4: "MultiPoint", 5: "MultiLineString", 6: "MultiPolygon"}[code%1000]
	switch {
	case name != "" && code < 1000:
		return name
	case name != "" && code < 2000:
		return name + " Z"
	}
	return ""
}

// kinds are the kinds of shape in the order in which the metadata list them.
const kinds = "Point,LineString,Polygon,MultiPoint,MultiLineString,MultiPolygon"

// meta are the metadata of GeoParquet 1.1. Longitude and latitude (OGC:CRS84) need no crs; null says that nobody knows it.
type meta struct {
	Version string              `json:"version"`
	Primary string              `json:"primary_column"`
	Columns map[string]geometry `json:"columns"`
}

type geometry struct {
	Encoding string               `json:"encoding"`
	Types    []string             `json:"geometry_types"`
	CRS      json.RawMessage      `json:"crs,omitempty"`
	Box      []float64            `json:"bbox,omitempty"`
	Covering map[string]reference `json:"covering"`
}

// reference says in which columns the corners stand.
type reference struct {
	XMin [2]string `json:"xmin"`
	YMin [2]string `json:"ymin"`
	XMax [2]string `json:"xmax"`
	YMax [2]string `json:"ymax"`
}

// end ends the file.
func (w *writer) end() error {
	if err := w.flush(); err != nil {
		return err
	}
	g := geometry{
		Encoding: "WKB", Types: []string{},
		Covering: map[string]reference{boxName: {[2]string{boxName, "xmin"}, [2]string{boxName, "ymin"}, [2]string{boxName, "xmax"}, [2]string{boxName, "ymax"}}},
	}
	for _, name := range strings.Split(kinds, ",") {
		for _, kind := range []string{name, name + " Z"} {
			if w.kinds[kind] {
				g.Types = append(g.Types, kind)
			}
		}
	}
	if len(g.Types) > 0 {
		g.Box = w.place[:]
	}
	if w.table.local {
		g.CRS = json.RawMessage("null")
	}
	text, err := json.Marshal(meta{"1.1.0", shapeName, map[string]geometry{shapeName: g}})
	if err != nil {
		return err
	}
	w.out.SetKeyValueMetadata("geo", string(text))
	w.out.SetKeyValueMetadata("coordinates", w.table.about)
	return w.out.Close()
}
