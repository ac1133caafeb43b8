// Package geojson writes a study as annotated GeoJSON: every layer of the roof with its properties.
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

	"runnel/export/record"
)

// layer is one kind of feature: how many there are, and how they are written.
type layer struct {
	name  string
	count func(b *record.Book) int
	write func(w *writer)
}

// layers in the order of drawing, lowest first.
var layers = []layer{
	{"outline", func(*record.Book) int { return 1 }, (*writer).outline},
	{"facet", func(b *record.Book) int { return b.Study.Surface.TIN.Facets() }, (*writer).facets},
	{"plane", func(b *record.Book) int { return len(b.Study.Slopes.Planes) }, (*writer).planes},
	{"catchment", countCatchments, (*writer).catchments},
	{"contour", func(b *record.Book) int { return len(b.Study.Contours) }, (*writer).contours},
	{"water", countBands, (*writer).bands},
	{"pond", func(b *record.Book) int { return len(b.Study.Listed) }, (*writer).ponds},
	{"stain", func(b *record.Book) int { return len(b.Study.Roof.Stains) }, (*writer).stains},
	{"breakline", func(b *record.Book) int { return len(b.Study.Roof.Breaklines) }, (*writer).breaklines},
	{"valley", func(b *record.Book) int { return len(b.Study.Slopes.Valleys) }, (*writer).valleys},
	{"ridge", func(b *record.Book) int { return len(b.Study.Slopes.Ridges) }, (*writer).ridges},
	{"curb", func(b *record.Book) int { return len(b.Study.Roof.Curbs) }, (*writer).curbs},
	{"edge", func(b *record.Book) int { return len(b.Study.Roof.Edges) }, (*writer).edges},
	{"flowpath", func(b *record.Book) int { return len(b.Study.Catchments.Longest) }, (*writer).flowpaths},
	{"spot", func(b *record.Book) int { return len(b.Study.Roof.Spots) }, (*writer).spots},
	{"core", func(b *record.Book) int { return len(b.Study.Roof.Cores) }, (*writer).cores},
	{"next-core", func(b *record.Book) int { return len(b.NextCores) }, (*writer).nextCores},
	{"next-spot", func(b *record.Book) int { return len(b.NextSpots) }, (*writer).nextSpots},
	{"sill", func(b *record.Book) int { return len(b.Study.Roof.Sills) }, (*writer).sills},
	{"control", func(b *record.Book) int { return len(b.Study.Roof.Controls) }, (*writer).controls},
	{"lip", countLips, (*writer).lips},
	{"outlet", func(b *record.Book) int { return len(b.Study.Surface.Outlets) }, (*writer).outlets},
	{"finding", func(b *record.Book) int { return len(b.Study.Findings) }, (*writer).findings},
}

// Layers returns the names of the layers that have a feature, in the order of writing.
func Layers(b *record.Book) []string {
	var names []string
	for _, l := range layers {
		if l.count(b) > 0 {
			names = append(names, l.name)
		}
	}
	return names
}

// AllLayers returns the names of all layers, in the order of writing.
func AllLayers() []string {
	names := make([]string, len(layers))
	for i := range layers {
		names[i] = layers[i].name
	}
	return names
}

// Write writes one FeatureCollection with the named layers of b to out; none named means all.
func Write(out io.Writer, b *record.Book, names ...string) error {
	w := newWriter(out)
	w.grid, w.book = newGrid(b.Study.Roof.Frame, b.Study.Roof.Units), b
	return w.collection(b.Study.Roof.Name, func() {
		for _, l := range layers {
			if wanted(names, l.name) && l.count(b) > 0 {
				l.write(w)
			}
		}
	})
}

// collection writes one FeatureCollection whose features come from fill.
func (w *writer) collection(name string, fill func()) (err error) {
	defer func() { err = w.out.close() }()
	w.header(name)
	fill()
	w.footer()
	return nil
}

func wanted(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return len(names) == 0
}
