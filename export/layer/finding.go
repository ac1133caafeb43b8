package layer

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/export/palette"
)

func (w *builder) findings() {
	s := w.book.Study
	h := w.heights()
	for i := range s.Findings {
		f := &s.Findings[i]
		w.open("finding", w.book.Names.Finding(i), w.book.Units.SayText(f.What))
		w.place(f.Geometry, h)
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
			w.close(Style{Name: f.Severity.String(), Class: -int(f.Severity), Marker: colour, Size: size})
			continue
		}
		w.close(Style{Name: f.Severity.String(), Class: -int(f.Severity), Stroke: colour, Width: 3, Fill: colour, Opacity: 0.1})
	}
}

// place sets any geometry that a finding may have; others have no place.
func (w *builder) place(g orb.Geometry, h height) {
	switch g := g.(type) {
	case orb.Point:
		w.point(g, h)
	case orb.LineString:
		w.line(g, func(i int) (float64, bool) { return h(g[i]) })
	case orb.Polygon:
		w.polygons(orb.MultiPolygon{g}, h)
	case orb.MultiPolygon:
		w.polygons(g, h)
	}
}
