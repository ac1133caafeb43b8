package geojson

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/export/palette"
)

func (w *writer) findings() {
	s := w.book.Study
	h := w.heights()
	for i := range s.Findings {
		f := &s.Findings[i]
		w.open("finding", w.book.Names.Finding(i), w.book.Units.SayText(f.What))
		w.shape(f.Geometry, h)
		w.book.Finding(&w.props, i)
		colour, size := palette.Note, "small"
		switch f.Severity {
		case finding.Urgent:
			colour, size = palette.Urgent, "large"
		case finding.Repair:
			colour, size = palette.Repair, "medium"
		case finding.Note:
		}
		if _, ok := f.Geometry.(orb.Point); ok {
			w.close(style{marker: colour, size: size})
			continue
		}
		w.close(style{stroke: colour, width: 3, fill: colour, opacity: 0.1})
	}
}

// shape writes any geometry that a finding may have; others are null.
func (w *writer) shape(g orb.Geometry, h height) {
	switch g := g.(type) {
	case orb.Point:
		w.point(g, h)
	case orb.LineString:
		w.line(g, func(i int) (float64, bool) { return h(g[i]) })
	case orb.Polygon:
		w.polygons(orb.MultiPolygon{g}, h)
	case orb.MultiPolygon:
		w.polygons(g, h)
	default:
		w.text("null")
	}
}
