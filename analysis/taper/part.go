package taper

import (
	"github.com/paulmach/orb"

	"runnel/analysis/taper/domain"
)

// Part is a convex piece of a design's facet over one facet of what it is laid on: thickness is linear on it.
type Part struct {
	Facet     int         // index into Design.Facets
	On        []orb.Point // counter-clockwise, not closed
	Thickness []float64   // at On: the new surface above its base, a cut below 0 [m]
	Boards    []float64   // of it boards, the rest is leveller under them [m]
}

// Parts visits every part of the facets that are new. A part must not be kept.
func (d *Design) Parts(visit func(p *Part)) {
	var p Part
	d.over.each(d.find, d.cells, func(f, c int, on domain.Polygon) {
		p.Facet = int(d.facet[c])
		if d.Facets[p.Facet].Existing {
			return
		}
		p.On, p.Thickness = on, p.Thickness[:0]
		up, base := &d.planes[d.cells[c].plane], &d.over.planes[f]
		for _, q := range on {
			p.Thickness = append(p.Thickness, up.at(q)-base.at(q))
		}
		d.boards(&p)
		visit(&p)
	})
}
