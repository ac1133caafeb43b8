// Package layer makes the features of the map: every layer of the roof, each feature with its shape, its facts and its style, for the
// writers of GeoJSON and GeoPackage.
//
// Coordinates are whole numbers of the last decimal of the outline's file: degrees, or a site grid in its unit. Rings turn as RFC 7946 wants
// them, outer ones counter-clockwise, as their rounded positions turn. Features come one after the other, so that memory does not grow
// with the roof.
package layer

import (
	"slices"

	"runnel/analysis/surface"
	"runnel/export/record"
)

// Feature is one thing on the map. It holds until the next one comes.
type Feature struct {
	Layer, ID string
	Shape     *Shape
	Facts     *record.Object // layer, id and title first
	Style     Style
}

// Facet is the layer of single triangles, of which a large roof has millions.
const Facet = "facet"

// kind is one kind of feature: how many there are, and how they are made.
type kind struct {
	name  string
	count func(b *record.Book) int
	make  func(w *builder)
}

// kinds in the order of drawing, lowest first.
var kinds = []kind{
	{"outline", func(*record.Book) int { return 1 }, (*builder).outline},
	{Facet, func(b *record.Book) int { return b.Study.Surface.TIN.Facets() }, (*builder).facets},
	{"plane", func(b *record.Book) int { return len(b.Study.Slopes.Planes) }, (*builder).planes},
	{"catchment", countCatchments, (*builder).catchments},
	{"contour", func(b *record.Book) int { return len(b.Study.Contours) }, (*builder).contours},
	{"water", countBands, (*builder).bands},
	{"pond", func(b *record.Book) int { return len(b.Study.Listed) }, (*builder).ponds},
	{"stain", func(b *record.Book) int { return len(b.Study.Roof.Stains) }, (*builder).stains},
	{"breakline", func(b *record.Book) int { return len(b.Study.Roof.Breaklines) }, (*builder).breaklines},
	{"valley", func(b *record.Book) int { return len(b.Study.Slopes.Valleys) }, (*builder).valleys},
	{"ridge", func(b *record.Book) int { return len(b.Study.Slopes.Ridges) }, (*builder).ridges},
	{"curb", func(b *record.Book) int { return len(b.Study.Roof.Curbs) }, (*builder).curbs},
	{"edge", func(b *record.Book) int { return len(b.Study.Roof.Edges) }, (*builder).edges},
	{"flowpath", func(b *record.Book) int { return len(b.Study.Catchments.Longest) }, (*builder).flowpaths},
	{"spot", func(b *record.Book) int { return len(b.Study.Roof.Spots) }, (*builder).spots},
	{"core", func(b *record.Book) int { return len(b.Study.Roof.Cores) }, (*builder).cores},
	{"next-core", func(b *record.Book) int { return len(b.NextCores) }, (*builder).nextCores},
	{"next-spot", func(b *record.Book) int { return len(b.NextSpots) }, (*builder).nextSpots},
	{"sill", func(b *record.Book) int { return len(b.Study.Roof.Sills) }, (*builder).sills},
	{"control", func(b *record.Book) int { return len(b.Study.Roof.Controls) }, (*builder).controls},
	{"answer", func(b *record.Book) int { return len(b.Study.Roof.Answers) }, (*builder).answers},
	{"lip", countLips, (*builder).lips},
	{"outlet", func(b *record.Book) int { return len(b.Study.Surface.Outlets) }, (*builder).outlets},
	{"finding", func(b *record.Book) int { return len(b.Study.Findings) }, (*builder).findings},
}

// All returns the names of all layers, in the order of writing.
func All() []string {
	names := make([]string, len(kinds))
	for i := range kinds {
		names[i] = kinds[i].name
	}
	return names
}

// Of returns the names of the layers of b that have a feature, in the order of writing; single facets only where they are asked for.
func Of(b *record.Book, facets bool) []string {
	var names []string
	for _, k := range kinds {
		if k.count(b) > 0 && (facets || k.name != Facet) {
			names = append(names, k.name)
		}
	}
	return names
}

// Each hands every feature of the named layers of b to take, layer by layer.
func Each(b *record.Book, take func(*Feature), names ...string) {
	w := &builder{grid: GridOf(b), book: b, take: take}
	for _, k := range kinds {
		if slices.Contains(names, k.name) && k.count(b) > 0 {
			k.make(w)
		}
	}
}

// builder makes one feature after the other.
type builder struct {
	take    func(*Feature)
	grid    *Grid
	book    *record.Book
	feature Feature
	shape   Shape
	props   record.Object
	locator *surface.Locator // made when first asked for
}

// open begins a feature; props then hold layer, id and title.
func (w *builder) open(layer, id, title string) {
	w.feature = Feature{Layer: layer, ID: id}
	w.shape.reset()
	w.props.Reset()
	w.props.Text("layer", layer)
	w.props.Text("id", id)
	w.props.Text("title", record.Title(title))
}

// close ends a feature with its style and hands it over.
func (w *builder) close(s Style) {
	w.feature.Shape, w.feature.Facts, w.feature.Style = &w.shape, &w.props, s
	w.take(&w.feature)
}
