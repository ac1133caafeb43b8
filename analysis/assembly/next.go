package assembly

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Where a core may be cut; common practice, no source.
const (
	fromEdge   = 0.6 // from outline and curbs, where edge strips, cants and blocking lie [m]
	fromOutlet = 1.5 // from the middle of an outlet, where the insulation is sumped [m]
	fromCore   = 0.6 // from a core that was cut [m]
	steps      = 24  // places tried along each side of a region
	mostCores  = 6   // that are proposed for one region
)

// allowed reports whether a core may be cut at a place: on the roof, off curbs and edges, not at an outlet, not where one was cut.
func (f *finder) allowed(cores []Core, at orb.Point) bool {
	if _, _, ok := f.at(at); !ok {
		return false
	}
	for _, ring := range f.in.Roof.Outline.Rings {
		if near(ring, at, fromEdge) {
			return false
		}
	}
	for i := range f.in.Roof.Curbs {
		if near(f.in.Roof.Curbs[i].Ring, at, fromEdge) {
			return false
		}
	}
	for i := range f.in.Surface.Outlets {
		if o := &f.in.Surface.Outlets[i]; o.Type != roof.EdgeOutlet && vector.Distance(o.Plan, at) < fromOutlet {
			return false
		}
	}
	return !slices.ContainsFunc(cores, func(x Core) bool { return vector.Distance(x.Plan, at) < fromCore })
}

// near reports whether a place is closer to a closed ring than reach.
func near(ring []roof.Position, at orb.Point, reach float64) bool {
	for i := 1; i < len(ring); i++ {
		if planar.DistanceFromSegment(ring[i-1].Plan, ring[i].Plan, at) < reach {
			return true
		}
	}
	return false
}

// allowedNear returns the allowed place nearest to a point that keep takes, within 3 m.
func (f *finder) allowedNear(r *Result, at orb.Point, keep func(orb.Point) bool) (orb.Point, bool) {
	for _, d := range f.round() {
		if q := (orb.Point{at[0] + d[0], at[1] + d[1]}); keep(q) && f.allowed(r.Cores, q) {
			return q, true
		}
	}
	return orb.Point{}, false
}

// round returns the steps from a place to those about it, nearest first.
func (f *finder) round() []orb.Point {
	const reach, step = 12, 0.25 // 3 m
	if f.rings != nil {
		return f.rings
	}
	for i := -reach; i <= reach; i++ {
		for j := -reach; j <= reach; j++ {
			f.rings = append(f.rings, orb.Point{float64(i) * step, float64(j) * step})
		}
	}
	slices.SortStableFunc(f.rings, func(a, b orb.Point) int { return cmp.Compare(vector.Norm(a[0], a[1]), vector.Norm(b[0], b[1])) })
	return f.rings
}

// outside returns the place nearest to a pond's deepest point that is dry and lies on the largest plane about it.
func (f *finder) outside(r *Result, deep orb.Point) (orb.Point, bool) {
	plane := int32(-1)
	for i := range f.in.Slopes.Planes {
		if f.nearPlane(int32(i), deep) {
			plane = int32(i)
			break
		}
	}
	best, least := orb.Point{}, math.Inf(1)
	for _, q := range f.grid(func(facet int32, q orb.Point) bool {
		return f.in.Slopes.Plane[facet] == plane && f.pondAt(q) < 0
	}) {
		if d := vector.Distance(q, deep); d < least && f.allowed(r.Cores, q) {
			best, least = q, d
		}
	}
	return best, !math.IsInf(least, 1)
}

// grid returns places over the roof that keep takes.
func (f *finder) grid(keep func(facet int32, q orb.Point) bool) []orb.Point {
	ring := f.in.Roof.Outline.Rings[0]
	b := orb.Bound{Min: ring[0].Plan, Max: ring[0].Plan}
	for _, p := range ring {
		b = b.Extend(p.Plan)
	}
	var out []orb.Point
	for j := range steps {
		for i := range steps {
			q := orb.Point{
				b.Min[0] + float64((b.Max[0]-b.Min[0])*(float64(i)+0.5)/steps),
				b.Min[1] + float64((b.Max[1]-b.Min[1])*(float64(j)+0.5)/steps),
			}
			if facet, _, ok := f.at(q); ok && keep(facet, q) {
				out = append(out, q)
			}
		}
	}
	return out
}

// candidates returns where a core would tell about a region: allowed places on it, off the listed ponds.
func (f *finder) candidates(r *Result, g *Region) []orb.Point {
	return f.grid(func(facet int32, q orb.Point) bool {
		in := true
		switch g.Kind {
		case OnPlane:
			in = f.in.Slopes.Plane[facet] == g.Index
		case OnCatchment:
			in = planar.MultiPolygonContains(f.in.Catchments.Full[g.Index].Outline, q)
		case OnRoof:
		}
		return in && f.pondAt(q) < 0 && f.allowed(r.Cores, q)
	})
}

// plan says where further cores would settle an undecided region, one after the other, each where it takes most off the uncertainty that is left.
func (f *finder) plan(r *Result, g *Region) {
	if g.Verdict != NotResolved {
		return
	}
	places := f.candidates(r, g)
	n := f.information(r, g)
	g.More = -1
	for len(g.Next) < mostCores && len(places) > 0 {
		best, least := -1, math.Inf(1)
		for k, q := range places {
			if v := n.with(f.row(g, q), standard.HandError).uncertainty(); v < least {
				best, least = k, v
			}
		}
		q := places[best]
		n = n.with(f.row(g, q), standard.HandError)
		g.Next = append(g.Next, q)
		if f.settles(g, n) {
			g.More = len(g.Next)
			return
		}
		kept := places[:0]
		for _, p := range places {
			if vector.Distance(p, q) >= fromCore {
				kept = append(kept, p)
			}
		}
		places = kept
	}
}

// settles reports whether a verdict would be passed with the information n, at the reading so far; where there is none, for an even thickness.
func (f *finder) settles(g *Region, n normal) bool {
	if g.disagree {
		return len(g.Used)+len(g.Next) >= 6 // enough to show which one is odd
	}
	xx, xy, yy := n.covariance()
	t := Gradient{X: g.Thickness.X, Y: g.Thickness.Y, XX: xx, XY: xy, YY: yy}
	switch {
	case g.Kind != OnPlane:
		return judgePart(Gradient{X: g.Share, XX: xx}) != NotResolved
	case !g.fitted && len(g.Used)+len(g.Next) < 3:
		return false
	default:
		return judge(g.Surface, t) != NotResolved
	}
}

// row returns what a core at a place tells: the factors of the unknowns.
func (f *finder) row(g *Region, q orb.Point) [3]float64 {
	if g.Kind == OnPlane {
		return [3]float64{1, q[0] - g.origin[0], q[1] - g.origin[1]}
	}
	_, z, _ := f.at(q)
	return [3]float64{1, z - g.line.centre, 0}
}

// information returns what the cores so far tell about a region, over the little that is known of any roof.
func (f *finder) information(r *Result, g *Region) normal {
	const (
		anyThickness = 10.0 // [m]
		anyTaper     = 0.05 // rise over run
	)
	g.origin = r.Cores[g.Cores[0]].Plan
	n := normal{xx: 1 / (anyThickness * anyThickness), yy: 1 / (anyTaper * anyTaper), zz: 1 / (anyTaper * anyTaper)}
	if g.Kind != OnPlane {
		n.yy, n.zz = 1, 1e12 // one share, and nothing else
	}
	for _, i := range g.Used {
		n = n.with(f.row(g, r.Cores[i].Plan), r.Cores[i].Sigma)
	}
	return n
}

// normal is the normal matrix of three unknowns, the first of them a constant.
type normal struct{ xx, xy, xz, yy, yz, zz float64 }

// with returns n with one more reading.
func (n normal) with(row [3]float64, sigma float64) normal {
	w := 1 / (sigma * sigma)
	a, b, c := row[0], row[1], row[2]
	n.xx += float64(w * a * a)
	n.xy += float64(w * a * b)
	n.xz += float64(w * a * c)
	n.yy += float64(w * b * b)
	n.yz += float64(w * b * c)
	n.zz += float64(w * c * c)
	return n
}

// covariance returns that of the last two unknowns.
func (n normal) covariance() (yy, yz, zz float64) {
	// the constant is taken out: Schur complement
	b := n.yy - float64(n.xy*n.xy)/n.xx
	c := n.yz - float64(n.xy*n.xz)/n.xx
	d := n.zz - float64(n.xz*n.xz)/n.xx
	det := float64(b*d) - float64(c*c)
	return d / det, -c / det, b / det
}

// uncertainty is the sum of the variances of the last two unknowns.
func (n normal) uncertainty() float64 {
	yy, _, zz := n.covariance()
	return yy + zz
}
