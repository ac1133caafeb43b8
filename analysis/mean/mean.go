// Package mean brings dense points to what their accuracy supports: the points of a laser scan that stand closer than their
// errors let the fall of the roof be told are replaced by means over square cells, whose error is smaller.
//
// What is kept as it is: points on the outline, on curbs and on breaklines, which give those lines their elevation.
package mean

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/evidence"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Limits of averaging: sparser surveys are shown as they were taken.
const (
	fewest = 2000 // points on a roof
	widest = 2.0  // side of a cell [m]
	most   = 8    // side of a cell in points
)

// Means is what became of dense points.
type Means struct {
	Points int             // points that stand on the roof
	Size   float64         // side of the cells [m]
	Sigma  float64         // standard error of a mean of a full cell [m]
	Errors evidence.Source // where the error of a point is known from
}

// Of returns the roof with means in place of dense points; nil where the points are as dense as their errors support.
func Of(s *surface.Surface, r *roof.Roof, e *evidence.Errors) (*roof.Roof, *Means) {
	points := 0
	for _, i := range s.TIN.Spot {
		if i >= 0 {
			points++
		}
	}
	if points < fewest {
		return nil, nil
	}
	side := min(evidence.Side(s, e, most), int(widest/s.Spacing))
	if side < 2 {
		return nil, nil
	}
	m := &Means{Points: points, Size: float64(side) * s.Spacing, Sigma: e.Typical / float64(side), Errors: e.Source}
	out := *r
	out.Spots = means(s, r, e, m.Size)
	out.Sigma = quantity.Length(m.Sigma)
	return &out, m
}

// member is a point on the way into a cell.
type member struct {
	i, j int32
	v    int32
}

// means returns the points that are kept and the means of the cells, by the place of the cell.
func means(s *surface.Surface, r *roof.Roof, e *evidence.Errors, size float64) []roof.Spot {
	t := s.TIN
	lines := onLines(t)
	x0, y0 := slices.Min(t.X), slices.Min(t.Y)
	var out []roof.Spot
	var inside []member
	for v, i := range t.Spot {
		switch {
		case i < 0:
		case lines[v]:
			out = append(out, r.Spots[i])
		default:
			inside = append(inside, member{int32((t.X[v] - x0) / size), int32((t.Y[v] - y0) / size), int32(v)})
		}
	}
	slices.SortFunc(out, func(a, b roof.Spot) int {
		return cmp.Or(cmp.Compare(a.Origin.File, b.Origin.File), cmp.Compare(a.Origin.Line, b.Origin.Line), cmp.Compare(a.Origin.Feature, b.Origin.Feature))
	})
	slices.SortFunc(inside, func(a, b member) int {
		return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j), cmp.Compare(t.GX[a.v], t.GX[b.v]), cmp.Compare(t.GY[a.v], t.GY[b.v]))
	})
	on := surface.NewLocator(t)
	for from := 0; from < len(inside); {
		to := from + 1
		for to < len(inside) && inside[to].i == inside[from].i && inside[to].j == inside[from].j {
			to++
		}
		out = append(out, meanOf(t, r, e, on, inside[from:to]))
		from = to
	}
	return out
}

// meanOf returns the mean of a cell's points, weighted by their errors, under the name of the point nearest to it.
func meanOf(t *surface.TIN, r *roof.Roof, e *evidence.Errors, on *surface.Locator, of []member) roof.Spot {
	var weight, x, y, z float64
	for _, m := range of {
		w := 1 / float64(e.Sigma[m.v]*e.Sigma[m.v])
		weight += w
		x, y, z = x+float64(w*t.X[m.v]), y+float64(w*t.Y[m.v]), z+float64(w*t.Z[m.v])
	}
	x, y, z = x/weight, y/weight, z/weight
	nearest, least := of[0].v, math.Inf(1)
	for _, m := range of {
		dx, dy := t.X[m.v]-x, t.Y[m.v]-y
		if d := float64(dx*dx) + float64(dy*dy); d < least {
			nearest, least = m.v, d
		}
	}
	if _, ok := on.Locate(x, y); !ok { // a curb or a corner of the outline lies between them
		x, y = t.X[nearest], t.Y[nearest]
	}
	named := &r.Spots[t.Spot[nearest]]
	return roof.Spot{
		Feature:  roof.Feature{Origin: named.Origin, ID: named.ID},
		Position: roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true}, Sigma: quantity.Length(1 / math.Sqrt(weight)),
	}
}

// onLines marks the vertices on borders and breaklines.
func onLines(t *surface.TIN) []bool {
	out := make([]bool, len(t.X))
	for e, o := range t.Twin {
		if o < 0 || t.Flag[e]&surface.BreaklineEdge != 0 {
			out[t.V[e]], out[t.End(int32(e))] = true, true
		}
	}
	return out
}
