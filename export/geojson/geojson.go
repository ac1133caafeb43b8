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
	return w.collection(b.Study.Roof.Name, func() { layer.Each(b, w.feature, names...) })
}

// WriteOutlines writes one FeatureCollection of roofs. With local, it is in site coordinates, each
// roof in its own; without, in longitude and latitude. A roof of the other kind has no geometry.
func WriteOutlines(out io.Writer, name string, roofs []layer.Outline, local bool) error {
	grid := layer.NewGrid(roof.Frame{Kind: roof.Geographic, Metres: 1}, quantity.Metres)
	if local {
		grid = layer.NewGrid(roof.Frame{Metres: 1}, layer.LocalUnit(roofs))
	}
	w := newWriter(out, grid)
	return w.collection(name, func() { layer.EachOutline(roofs, local, grid.Unit, w.feature) })
}

// collection writes one FeatureCollection whose features come from fill.
func (w *writer) collection(name string, fill func()) (err error) {
	defer func() { err = w.out.close() }()
	w.header(name)
	fill()
	w.footer()
	return nil
}
