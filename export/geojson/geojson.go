// Package geojson writes the features of the map as annotated GeoJSON: every layer of the roof with its properties.
//
// A roof whose outline came in longitude and latitude goes out as RFC 7946 wants it: two dimensions,
// eight decimals, outer rings counter-clockwise, a bbox; elevations are properties. A roof on a site
// grid goes out in that grid and its unit, with elevations as third coordinates and the members "frame"
// and "units", and can be read back: measured things carry their "role" and their own properties.
//
// Features are appended to one buffer and written as they come, so that memory does not grow with the
// roof. Styles use the keys of simplestyle 1.1.0.
package geojson

import (
	"io"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
	"runnel/export/record"
)

// Write writes one FeatureCollection with the named layers of b to out.
func Write(out io.Writer, b *record.Book, names ...string) error {
	w := newWriter(out, layer.GridOf(b))
	return w.collection(b.Study.Roof.Name, func() { w.parts(layer.Parts(b, names...)) })
}

// Draw writes one FeatureCollection of that name with the features that draw makes, in the coordinates of a frame and a unit.
func Draw(out io.Writer, name string, f roof.Frame, unit quantity.Unit, draw func(*layer.Pen)) error {
	w := newWriter(out, nil)
	pen := layer.NewPen(f, unit, w.feature)
	w.grid = pen.Grid()
	return w.collection(name, func() { draw(pen) })
}

// Roofs is one FeatureCollection of roofs under construction.
type Roofs struct {
	w   *writer
	add func(*layer.Outline)
}

// NewRoofs begins the collection of that name. With local, it is in site coordinates of that unit, each roof in its own; without,
// in longitude and latitude. A roof of the other kind has no geometry.
func NewRoofs(out io.Writer, name string, local bool, unit quantity.Unit) *Roofs {
	r := &Roofs{w: newWriter(out, layer.CampusGrid(local, unit))}
	r.w.header(name)
	r.add = layer.Roofs(local, unit, r.w.feature)
	return r
}

// Add adds a roof.
func (r *Roofs) Add(o *layer.Outline) { r.add(o) }

// Close ends the collection. The error is the first of any write.
func (r *Roofs) Close() error {
	r.w.footer()
	return r.w.out.close(r.w.buf)
}

// collection writes one FeatureCollection whose features come from fill.
func (w *writer) collection(name string, fill func()) (err error) {
	defer func() { err = w.out.close(w.buf) }()
	w.header(name)
	fill()
	w.footer()
	return nil
}
