package geojson

import (
	"bytes"
	"io"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/export/record"
)

// flushAt is how many bytes are gathered before they are written.
const flushAt = 1 << 18

// writer appends one FeatureCollection to a spool.
type writer struct {
	out   *spool
	buf   []byte
	any   bool // a feature was written
	grid  *grid
	book  *record.Book
	props record.Object
	seen  extent

	locator *surface.Locator // made when first asked for
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

// newWriter returns a writer to out; its close must be called.
func newWriter(out io.Writer) *writer {
	return &writer{out: newSpool(out), buf: make([]byte, 0, 2*flushAt)}
}

func (w *writer) flush() { w.buf = w.out.swap(w.buf) }

func (w *writer) text(s string) { w.buf = append(w.buf, s...) }

// header begins the collection of that name.
func (w *writer) header(name string) {
	w.text(`{"type":"FeatureCollection","name":`)
	w.buf = record.AppendString(w.buf, name)
	w.text(`,"frame":"` + w.grid.frame + `","units":"` + w.grid.unit.String() + `","features":[`)
}

// footer ends the collection; lon/lat files carry their bounding box.
func (w *writer) footer() {
	w.text("\n]")
	if w.grid.geographic && w.seen.any {
		w.text(`,"bbox":[`)
		for i, v := range [4]int64{w.seen.minX, w.seen.minY, w.seen.maxX, w.seen.maxY} {
			if i > 0 {
				w.text(",")
			}
			w.buf = record.AppendFixed(w.buf, v, w.grid.decimals)
		}
		w.text("]")
	}
	w.text("}\n")
	w.flush()
}

// open begins a feature up to its geometry and clears props, which then hold layer, id and title.
func (w *writer) open(layer, id, title string) {
	if len(w.buf) > flushAt {
		w.flush()
	}
	if w.any {
		w.text(",")
	}
	w.any = true
	w.text("\n" + `{"type":"Feature","id":`)
	w.buf = record.AppendString(w.buf, id)
	w.text(`,"geometry":`)
	w.props.Reset()
	w.props.Text("layer", layer)
	w.props.Text("id", id)
	w.props.Text("title", title)
}

// close ends a feature with its properties and style.
func (w *writer) close(s style) {
	s.add(&w.props)
	w.text(`,"properties":`)
	w.buf = w.props.Append(w.buf)
	w.text("}")
}

// height gives the elevation at a place of a geometry [m]; false where none is known.
type height func(p orb.Point) (float64, bool)

// at is a height that is the same everywhere.
func at(z float64) height { return func(orb.Point) (float64, bool) { return z, true } }

// none is a height that is known nowhere.
func none(orb.Point) (float64, bool) { return 0, false }

func (w *writer) position(p orb.Point, z height) {
	x, y := w.grid.fix(p)
	w.seen.add(x, y)
	w.buf = append(w.buf, '[')
	w.buf = record.AppendFixed(w.buf, x, w.grid.decimals)
	w.buf = append(w.buf, ',')
	w.buf = record.AppendFixed(w.buf, y, w.grid.decimals)
	if !w.grid.geographic {
		if v, ok := z(p); ok {
			w.buf = append(w.buf, ',')
			w.buf = record.AppendNumber(w.buf, v/w.grid.rise, w.grid.decimals)
		}
	}
	w.buf = append(w.buf, ']')
}

func (w *writer) point(p orb.Point, z height) {
	w.text(`{"type":"Point","coordinates":`)
	w.position(p, z)
	w.text("}")
}

// line writes a LineString; z is asked for each of its points by number. Points that are one when rounded are
// written once, but for the second of the two that a line must have.
func (w *writer) line(l []orb.Point, z func(i int) (float64, bool)) {
	w.text(`{"type":"LineString","coordinates":[`)
	var last []byte
	written := 0
	for i, p := range l {
		start := len(w.buf)
		if i > 0 {
			w.text(",")
		}
		from := len(w.buf)
		w.position(p, func(orb.Point) (float64, bool) { return z(i) })
		if bytes.Equal(w.buf[from:], last) && (written > 1 || i+1 < len(l)) {
			w.buf = w.buf[:start]
			continue
		}
		last = append(last[:0], w.buf[from:]...)
		written++
	}
	w.text("]}")
}

// polygons writes a Polygon, or a MultiPolygon where there is more than one; none is a null geometry.
func (w *writer) polygons(m orb.MultiPolygon, z height) {
	switch len(m) {
	case 0:
		w.text("null")
	case 1:
		w.text(`{"type":"Polygon","coordinates":`)
		w.polygon(m[0], z)
		w.text("}")
	default:
		w.text(`{"type":"MultiPolygon","coordinates":[`)
		for i := range m {
			if i > 0 {
				w.text(",")
			}
			w.polygon(m[i], z)
		}
		w.text("]}")
	}
}

func (w *writer) polygon(p orb.Polygon, z height) {
	w.text("[")
	for i, r := range p {
		if i > 0 {
			w.text(",")
		}
		w.ring(r, i > 0, z)
	}
	w.text("]")
}

// ring writes a closed ring, counter-clockwise, or clockwise for a hole, as its rounded positions turn.
func (w *writer) ring(r orb.Ring, hole bool, z height) {
	turn := 0.0
	x0, y0 := w.grid.fix(r[0])
	for i := 1; i+1 < len(r); i++ {
		ax, ay := w.grid.fix(r[i])
		bx, by := w.grid.fix(r[i+1])
		turn += float64(float64(ax-x0)*float64(by-y0)) - float64(float64(bx-x0)*float64(ay-y0))
	}
	backward := turn != 0 && (turn < 0) != hole
	w.text("[")
	for i := range r {
		if i > 0 {
			w.text(",")
		}
		if backward {
			i = len(r) - 1 - i
		}
		w.position(r[i], z)
	}
	w.text("]")
}
