// Package mean brings dense points to what their accuracy supports: the points of a laser scan that stand closer than their
// errors let the fall of the roof be told are replaced by means over square cells, whose error is smaller.
//
// What is kept as it is: points on the outline, on curbs and on breaklines, which give those lines their elevation, and wild points, which would spoil a mean.
package mean

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
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
	Below  []string        // points that are in no mean and no point of the surface, since they stand far below the others of their cell; by place
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
	out.Spots, m.Below = means(s, r, e, m.Size)
	out.Sigma = quantity.Length(m.Sigma)
	return &out, m
}

// member is a point on the way into a cell.
type member struct {
	i, j int32
	v    int32
}

// cellOf returns in which cell of a side lies what is so far from the first, to a unit of the grid: where the roof stands does not tell [m].
func cellOf(far, side float64) int32 {
	return int32(math.Round(far/surface.Grid) * surface.Grid / side)
}

// means returns the points that are kept and the means of the cells, by the place of the cell, and the names of what is left out.
func means(s *surface.Surface, r *roof.Roof, e *evidence.Errors, size float64) (out []roof.Spot, below []string) {
	t := s.TIN
	lines := onLines(t)
	x0, y0 := math.Inf(1), math.Inf(1)
	for v := range t.X {
		p := t.Pose.Plan(orb.Point{t.X[v], t.Y[v]})
		x0, y0 = math.Min(x0, p[0]), math.Min(y0, p[1])
	}
	var inside []member
	for v, i := range t.Spot {
		switch {
		case i < 0:
		case lines[v]:
			out = append(out, r.Spots[i])
		default:
			p := t.Pose.Plan(orb.Point{t.X[v], t.Y[v]})
			inside = append(inside, member{cellOf(p[0]-x0, size), cellOf(p[1]-y0, size), int32(v)})
		}
	}
	slices.SortFunc(out, func(a, b roof.Spot) int {
		return cmp.Or(cmp.Compare(a.Origin.File, b.Origin.File), cmp.Compare(a.Origin.Line, b.Origin.Line), cmp.Compare(a.Origin.Feature, b.Origin.Feature))
	})
	slices.SortFunc(inside, func(a, b member) int {
		return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j), cmp.Compare(a.v, b.v))
	})
	on := surface.NewLocator(t)
	for from := 0; from < len(inside); {
		to := from + 1
		for to < len(inside) && inside[to].i == inside[from].i && inside[to].j == inside[from].j {
			to++
		}
		all := inside[from:to]
		wild := wildOf(t, r, e, all, size)
		rest := meanOf(t, r, e, on, all[wild:])
		for _, m := range all[:wild] {
			if p := &r.Spots[t.Spot[m.v]]; p.Z > rest.Z {
				out = append(out, *p)
			} else {
				below = append(below, p.ID)
			}
		}
		out = append(out, rest)
		from = to
	}
	return out, below
}

// When a point is wild: it stands off the median of its cell by more than a roof's fall over the cell and five standard errors or 75 mm, and no other
// of the cell does: two are a thing. The median of less than three points tells nothing. Own choices.
const (
	wildErrors = 5
	wildLeast  = 0.075 // [m]
	wildFall   = 0.06  // the steepest side of a cricket
	wildFew    = 3
)

// wildOf brings the wild points of a cell to its front and returns how many there are. They would spoil the mean. One that stands high stays a point under its own
// name, so that what finds heights that do not fit names it and not the mean. One that stands low would be a pit as wide as a cell among points
// that know nothing of it: it is left out, and that is said. A point that the user says is meant is never wild.
func wildOf(t *surface.TIN, r *roof.Roof, e *evidence.Errors, of []member, size float64) int {
	if len(of) < wildFew {
		return 0
	}
	z := make([]float64, len(of))
	for i, m := range of {
		z[i] = t.Z[m.v]
	}
	slices.Sort(z)
	middle, wild := z[len(z)/2], 0
	for i, m := range of {
		off := math.Abs(t.Z[m.v] - middle)
		if off > float64(wildFall*size)+math.Max(wildLeast, wildErrors*e.Sigma[m.v]) && !slices.Contains(r.Kept, r.Spots[t.Spot[m.v]].ID) {
			of[wild], of[i] = of[i], of[wild]
			wild++
		}
	}
	return choose.If(wild > 1, 0, wild)
}

// asNear is by how much less the square of one distance must be than that of another to be less [m2]: rounding, which hangs on where a roof stands, makes less.
const asNear = 1e-9

// meanOf returns the mean of a cell's points, weighted by their errors, under the name of the point nearest to it, the first of several.
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
		if d := float64(dx*dx) + float64(dy*dy); d < least-asNear {
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
