package geojson

import (
	"io"

	"runnel/export/layer"
	"runnel/export/record"
)

// flushAt is how many bytes are gathered before they are written.
const flushAt = 1 << 18

// writer appends one FeatureCollection to a spool.
type writer struct {
	out  *spool // nil for a part, which is gathered in buf
	buf  []byte
	any  bool // a feature was written
	grid *layer.Grid
	seen extent
}

// extent is the bounding box of what was written, in last decimals of the output's coordinates.
type extent struct {
	any                    bool
	minX, minY, maxX, maxY int64
}

func (e *extent) add(x, y int64) {
	if !e.any {
		*e = extent{true, x, y, x, y}
		return
	}
	e.minX, e.maxX = min(e.minX, x), max(e.maxX, x)
	e.minY, e.maxY = min(e.minY, y), max(e.maxY, y)
}

// newWriter returns a writer to out; its collection must be called.
func newWriter(out io.Writer, grid *layer.Grid) *writer {
	return &writer{out: newSpool(out), buf: newBuffer(), grid: grid}
}

func (w *writer) flush() { w.buf = w.out.swap(w.buf) }

func (w *writer) text(s string) { w.buf = append(w.buf, s...) }

// header begins the collection of that name.
func (w *writer) header(name string) {
	w.text(`{"type":"FeatureCollection","name":`)
	w.buf = record.AppendString(w.buf, name)
	w.text(`,"frame":"` + w.grid.Frame + `","units":"` + w.grid.Unit.String() + `","features":[`)
}

// footer ends the collection; lon/lat files carry their bounding box.
func (w *writer) footer() {
	w.text("\n]")
	if w.grid.Geographic && w.seen.any {
		w.text(`,"bbox":[`)
		for i, v := range [4]int64{w.seen.minX, w.seen.minY, w.seen.maxX, w.seen.maxY} {
			if i > 0 {
				w.text(",")
			}
			w.buf = record.AppendFixed(w.buf, v, w.grid.Decimals)
		}
		w.text("]")
	}
	w.text("}\n")
	w.flush()
}

func (w *writer) feature(f *layer.Feature) {
	if w.out != nil && len(w.buf) > flushAt {
		w.flush()
	}
	if w.any {
		w.text(",")
	}
	w.any = true
	w.text("\n" + `{"type":"Feature","id":`)
	w.buf = record.AppendString(w.buf, f.ID)
	w.text(`,"geometry":`)
	w.shape(f.Shape)
	f.Style.AddTo(f.Facts, "-")
	w.text(`,"properties":`)
	w.buf = f.Facts.Append(w.buf)
	w.text("}")
}

// shape writes a geometry, null where the place is not known.
func (w *writer) shape(s *layer.Shape) {
	switch s.Kind {
	case layer.None:
		w.text("null")
	case layer.Point:
		w.text(`{"type":"Point","coordinates":`)
		w.position(s.Positions[0])
		w.text("}")
	case layer.Line:
		w.text(`{"type":"LineString","coordinates":`)
		w.positions(s.Positions)
		w.text("}")
	case layer.Polygon:
		w.text(`{"type":"Polygon","coordinates":`)
		w.polygon(s, 0)
		w.text("}")
	case layer.MultiPolygon:
		w.text(`{"type":"MultiPolygon","coordinates":[`)
		for i := range s.Polygons {
			if i > 0 {
				w.text(",")
			}
			w.polygon(s, i)
		}
		w.text("]}")
	}
}

func (w *writer) polygon(s *layer.Shape, i int) {
	first, last := s.RingsOf(i)
	w.text("[")
	for r := first; r < last; r++ {
		if r > first {
			w.text(",")
		}
		w.positions(s.Ring(r))
	}
	w.text("]")
}

func (w *writer) positions(all []layer.Position) {
	w.text("[")
	for i, p := range all {
		if i > 0 {
			w.text(",")
		}
		w.position(p)
	}
	w.text("]")
}

func (w *writer) position(p layer.Position) {
	w.seen.add(p.X, p.Y)
	w.buf = append(w.buf, '[')
	w.buf = record.AppendFixed(w.buf, p.X, w.grid.Decimals)
	w.buf = append(w.buf, ',')
	w.buf = record.AppendFixed(w.buf, p.Y, w.grid.Decimals)
	if p.HasZ {
		w.buf = append(w.buf, ',')
		w.buf = record.AppendFixed(w.buf, p.Z, w.grid.Decimals)
	}
	w.buf = append(w.buf, ']')
}
