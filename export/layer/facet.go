package layer

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/export/record"
)

func (w *builder) facets() {
	t, slopes, u := w.book.Study.Surface.TIN, w.book.Study.Slopes, w.book.Units
	ring := make(orb.Ring, 4)
	for i := w.from; i < w.to; i++ {
		f := int32(i)
		slope, aspect := slopes.Slope[f], slopes.Aspect[f]
		level := t.Level(f) || math.IsNaN(aspect)
		title := "Level"
		if !level {
			title = string(record.AppendNumber(nil, slope*100, 2)) + " % to the " + record.SayBearing(aspect)
		}
		w.open(facetLayer, w.book.Names.Facet(i), title)
		w.triangle(t, f, ring)
		if level {
			u.Slope(&w.props, "slope", 0)
		} else {
			u.Slope(&w.props, "slope", slope)
			w.props.Bearing("aspect_deg", aspect)
		}
		u.Area(&w.props, "area", facetArea(t, f))
		if p := slopes.Plane[f]; p >= 0 {
			w.props.Text("plane", w.book.Names.Plane(int(p)))
		}
		w.close(facetStyle(slope, u))
	}
}

// triangle sets facet f; ring has room for it.
func (w *builder) triangle(t *surface.TIN, f int32, ring orb.Ring) {
	z := [4]float64{}
	for c := range 4 {
		v := t.V[3*f+int32(c%3)]
		ring[c], z[c] = orb.Point{t.X[v], t.Y[v]}, t.Z[v]
	}
	w.ring(ring, false, func(p orb.Point) (float64, bool) {
		for c := range ring {
			if ring[c] == p {
				return z[c], true
			}
		}
		return 0, false
	})
	w.endPolygon()
}

// facetArea returns the plan area of facet f [m2], exact but for one rounding.
func facetArea(t *surface.TIN, f int32) float64 {
	p, q, r := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	ax, ay := int64(t.GX[q])-int64(t.GX[p]), int64(t.GY[q])-int64(t.GY[p])
	bx, by := int64(t.GX[r])-int64(t.GX[p]), int64(t.GY[r])-int64(t.GY[p])
	return float64(ax*by-bx*ay) * (surface.Grid * surface.Grid / 2)
}
