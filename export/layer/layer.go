// Package layer makes the features of the map: every layer of the roof, each feature with its shape, its facts and its style, for the
// writers of GeoJSON and GeoPackage.
//
// Coordinates are whole numbers of the last decimal of the outline's file: degrees, or a site grid in its unit. Rings turn as RFC 7946 wants
// them, outer ones counter-clockwise, as their rounded positions turn. Features come one after the other, so that memory does not grow
// with the roof.
package layer

import (
	"cmp"
	"slices"

	"runnel/analysis/gather"
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

// facetLayer is the layer of single triangles, of which a large roof has millions.
const facetLayer = "facet"

// kind is one kind of feature: how many there are, and how they are made.
type kind struct {
	name  string
	count func(b *record.Book) int
	make  func(w *builder)
}

// kinds in the order of drawing, lowest first.
var kinds = []kind{
	{"outline", func(*record.Book) int { return 1 }, (*builder).outline},
	{facetLayer, func(b *record.Book) int { return b.Study.Surface.TIN.Facets() }, (*builder).facets},
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
func All() []string { return gather.Each(kinds, func(x kind) string { return x.name }) }

// Of returns the names of the layers of b that have a feature, in the order of writing; single facets only where they are asked for.
func Of(b *record.Book, facets bool) []string {
	var names []string
	for _, k := range kinds {
		if k.count(b) > 0 && (facets || k.name != facetLayer) {
			names = append(names, k.name)
		}
	}
	return names
}

// Each hands every feature of the named layers of b to take, layer by layer.
func Each(b *record.Book, take func(*Feature), names ...string) {
	for _, part := range Parts(b, names...) {
		part(take)
	}
}

// Part is some of the features of a map, one after the other.
type Part func(take func(*Feature))

// partSizes are how many features a part has of the kinds that come in several parts, which are made from builder.from to builder.to: some two megabytes of
// text, which a processor keeps near it.
var partSizes = map[string]int{facetLayer: 1 << 12, "spot": 1 << 12, "contour": 1 << 7}

// Parts returns the features of the named layers of b in parts that may be made side by side: put together in their order they are those of Each. A
// roof without a layer of many features is one part.
func Parts(b *record.Book, names ...string) []Part {
	var parts []Part
	grid, locator := GridOf(b), surface.NewLocator(b.Study.Surface.Cut)
	add := func(list []kind, from, to int) {
		parts = append(parts, func(take func(*Feature)) {
			w := &builder{grid: grid, book: b, take: take, locator: locator, from: from, to: to}
			for _, k := range list {
				w.to = cmp.Or(to, k.count(b))
				k.make(w)
			}
		})
	}
	var few []kind
	flush := func() {
		add(few, 0, 0)
		few = nil
	}
	for _, k := range kinds {
		switch n := k.count(b); {
		case n == 0 || !slices.Contains(names, k.name):
		case n <= cmp.Or(partSizes[k.name], n):
			few = append(few, k)
		default:
			flush()
			for from, size := 0, partSizes[k.name]; from < n; from += size {
				add([]kind{k}, from, min(n, from+size))
			}
		}
	}
	flush()
	return parts
}

type builder struct {
	take    func(*Feature)
	grid    *Grid
	book    *record.Book
	feature Feature
	shape   Shape
	props   record.Object
	locator *surface.Locator

	from, to int // which of a long kind
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
