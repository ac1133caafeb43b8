package demo_test

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/cmd/demo"
)

// canShow reckons, of each planted fault, whether a survey with errors of sigma [m] on spots pitch apart [m] can show it: from the places of the spots,
// their heights without error and the inverts, and from nothing that the program computes of a roof. Spots are joined where they stand within a pitch and a half of each
// other with no wall or curb between.
//
//   - A pond: its level is that of the least way out over the spots. Whoever says that there is none must raise the spots in it to some level and lower one spot of
//     the lip to that level at least: the least sum of squares of that, in standard errors, is no more than the evidence. Twice the threshold is asked.
//   - A slope: its distance from the criterion in standard errors of the slope through the spots in what was built flat, along the longer side of a valley or cricket,
//     the shorter one of a plane; the square of that, again twice the threshold. A plane must also have spots, not on one line, round which all of the
//     roof within a pitch and a half was built so: one row of spots, with a wall or another fall on both sides, may be anything. So must the roof on either side of a
//     valley. A cricket fills
//     half of the box that it is booked with, so there it is three pitches. And where a plane is narrower than eight standard errors over a fall of 2 %, the errors hide
//     where it ends.
//   - What no elevation shows, as a missing overflow, always.
func canShow(exact *roof.Roof, faults []demo.Fault, pitch, sigma float64) []bool {
	twice := 2 * (7 + 0.95*math.Log(math.Max(100, float64(len(exact.Spots)))/100))
	n := newNet(exact, 1.5*pitch)
	out := make([]bool, len(faults))
	for i, f := range faults {
		switch {
		case f.Depth > 0:
			out[i] = n.pondEvidence(exact.Frame.ToLocal(f.Place), sigma) >= twice
		case f.Slope > 0:
			out[i] = n.slopeEvidence(exact, f, pitch, sigma) >= twice
		default:
			out[i] = true
		}
	}
	return out
}

// net is the spots of a survey and the ways between them.
type net struct {
	at   []orb.Point
	z    []float64
	near [][]int
	exit []float64 // per spot: level at which its water leaves over an outlet or an open edge beside it; +Inf none
	pass []float64 // per spot: level of the least way out

	spots int // the first of at; then come feet of walls
}

func newNet(r *roof.Roof, reach float64) *net {
	n := &net{near: make([][]int, len(r.Spots)), spots: len(r.Spots)}
	var walls []orb.LineString
	ring := func(p []roof.Position) {
		l := orb.LineString{}
		for _, q := range p {
			l = append(l, q.Plan)
		}
		walls = append(walls, l)
	}
	for _, p := range r.Outline.Rings {
		ring(p)
	}
	for i := range r.Curbs {
		ring(r.Curbs[i].Ring)
	}
	for i := range r.Spots {
		n.at, n.z, n.exit = append(n.at, r.Spots[i].Plan), append(n.z, r.Spots[i].Z), append(n.exit, math.Inf(1))
	}
	for i, p := range n.at {
		for j := i + 1; j < len(n.at); j++ {
			if q := n.at[j]; math.Abs(p[0]-q[0]) < reach && math.Abs(p[1]-q[1]) < reach && planar.Distance(p, q) < reach && !crosses(walls, p, q) {
				n.near[i], n.near[j] = append(n.near[i], j), append(n.near[j], i)
			}
		}
		for k := range r.Outlets {
			if o := &r.Outlets[k]; o.HasInvert && planar.Distance(p, o.Plan) < reach {
				n.exit[i] = math.Min(n.exit[i], math.Max(n.z[i], o.Invert))
			}
		}
		for k := range r.Edges {
			e := &r.Edges[k]
			for m := 1; m < len(e.Line) && e.Type != roof.Wall; m++ {
				if planar.DistanceFromSegment(e.Line[m-1].Plan, e.Line[m].Plan, p) < reach {
					n.exit[i] = n.z[i]
				}
			}
		}
	}
	n.feet(r, reach)
	n.spread()
	return n
}

// feet adds, for each spot beside a wall that nobody shot, the foot of the wall opposite it, at the height that the spots round about give it: along
// there water may find a way that no spot closes.
func (n *net) feet(r *roof.Roof, reach float64) {
	first := len(n.at)
	outline := orb.LineString{}
	for _, p := range r.Outline.Rings[0] {
		outline = append(outline, p.Plan)
	}
	for i := range first {
		foot, far := n.at[i], math.Inf(1)
		for k := 1; k < len(outline); k++ {
			if q := nearest(outline[k-1], outline[k], n.at[i]); planar.Distance(q, n.at[i]) < far {
				foot, far = q, planar.Distance(q, n.at[i])
			}
		}
		if far > reach/1.5 || far < 1e-9 {
			continue
		}
		n.at, n.exit, n.near = append(n.at, foot), append(n.exit, math.Inf(1)), append(n.near, []int{i})
		n.z = append(n.z, n.extended(i, foot))
		n.near[i] = append(n.near[i], len(n.at)-1)
	}
	for i := first; i < len(n.at); i++ {
		for j := i + 1; j < len(n.at); j++ {
			if planar.Distance(n.at[i], n.at[j]) < reach {
				n.near[i], n.near[j] = append(n.near[i], j), append(n.near[j], i)
			}
		}
	}
}

// nearest returns the place between a and b nearest to p.
func nearest(a, b, p orb.Point) orb.Point {
	ux, uy := b[0]-a[0], b[1]-a[1]
	t := ((p[0]-a[0])*ux + (p[1]-a[1])*uy) / math.Max(ux*ux+uy*uy, 1e-12)
	t = math.Min(1, math.Max(0, t))
	return orb.Point{a[0] + t*ux, a[1] + t*uy}
}

// extended returns the height at a place of the plane through spot i that fits the spots next to it best, no lower and no higher than these.
func (n *net) extended(i int, at orb.Point) float64 {
	var xx, xy, yy, xz, yz float64
	low, high := n.z[i], n.z[i]
	for _, j := range n.near[i] {
		x, y, z := n.at[j][0]-n.at[i][0], n.at[j][1]-n.at[i][1], n.z[j]-n.z[i]
		xx, xy, yy, xz, yz = xx+x*x, xy+x*y, yy+y*y, xz+x*z, yz+y*z
		low, high = math.Min(low, n.z[j]), math.Max(high, n.z[j])
	}
	det := xx*yy - xy*xy
	if det < 1e-6 {
		return n.z[i]
	}
	gx, gy := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	return math.Min(high, math.Max(low, n.z[i]+gx*(at[0]-n.at[i][0])+gy*(at[1]-n.at[i][1])))
}

// crosses reports whether the straight way from p to q crosses one of some lines.
func crosses(lines []orb.LineString, p, q orb.Point) bool {
	side := func(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			if side(a, b, p)*side(a, b, q) < 0 && side(p, q, a)*side(p, q, b) < 0 {
				return true
			}
		}
	}
	return false
}

// spread finds the least way out of every spot, by going over all of them until nothing changes.
func (n *net) spread() {
	n.pass = append([]float64{}, n.exit...)
	for changed := true; changed; {
		changed = false
		for i := range n.pass {
			for _, j := range n.near[i] {
				if level := math.Max(n.z[i], n.pass[j]); level < n.pass[i] {
					n.pass[i], changed = level, true
				}
			}
		}
	}
}

// pondEvidence returns the least evidence of the water nearest to a place.
func (n *net) pondEvidence(place orb.Point, sigma float64) float64 {
	low, far := -1, math.Inf(1)
	for i, p := range n.at[:n.spots] {
		if d := planar.Distance(p, place); n.pass[i] > n.z[i] && d < far {
			low, far = i, d
		}
	}
	if low < 0 || far > 2*reach {
		return 0
	}
	level := n.pass[low]
	seen, list := map[int]bool{low: true}, []int{low}
	for k := 0; k < len(list); k++ {
		for _, j := range n.near[list[k]] {
			if j < n.spots && !seen[j] && n.z[j] < level && n.pass[j] == level {
				seen[j] = true
				list = append(list, j)
			}
		}
	}
	best := math.Inf(1)
	for step := range 101 { // from the bottom of the deepest spot to the lip
		deepest := 0.0
		for _, i := range list {
			deepest = math.Max(deepest, level-n.z[i])
		}
		to := level - deepest*float64(step)/100
		sum := (level - to) * (level - to)
		for _, i := range list {
			d := math.Max(0, to-n.z[i])
			sum += d * d
		}
		best = math.Min(best, sum/(sigma*sigma))
	}
	return best
}

// slopeEvidence returns how far a planted slope lies from its criterion.
func (n *net) slopeEvidence(r *roof.Roof, f demo.Fault, pitch, sigma float64) float64 {
	const beyond = 1 // the box of a plane or cricket reaches so far beyond the fall that it ends at [m]
	var area orb.Ring
	for _, p := range f.Area {
		area = append(area, r.Frame.ToLocal(p))
	}
	var all, inner spread
	if f.Kind == finding.ValleyFlat && !n.sided(r, area, 1.5*pitch) {
		return 0
	}
	for _, p := range n.at[:n.spots] {
		if !planar.RingContains(area, p) {
			continue
		}
		all.add(p)
		clear := 1.5 * pitch
		if f.Kind == finding.CricketFlat {
			clear = 3 * pitch
		}
		if planar.DistanceFrom(orb.LineString(area), p) > clear+beyond {
			inner.add(p)
		}
	}
	long, short := all.squares()
	narrow := 8 * sigma / 0.02
	_, breadth := inner.squares()
	away, limit := long, standard.Defaults().MinValleySlope
	switch {
	case f.Kind == finding.PlaneFlat && short < narrow*narrow/12*all.n:
		return 0
	case all.n < 6 || f.Kind != finding.ValleyFlat && breadth < pitch*pitch/2:
		return 0
	case f.Kind == finding.PlaneFlat:
		away, limit = short, standard.Defaults().MinSlope
	}
	off := (limit - f.Slope) / sigma
	return off * off * away
}

// sided reports whether on either side of the long axis of a box spots stand, not on one line, that are farther than clear from it and from the outline.
func (n *net) sided(r *roof.Roof, box orb.Ring, clear float64) bool {
	a, b, c := box[0], box[1], box[2]
	if planar.Distance(a, b) < planar.Distance(b, c) {
		a, b, c = b, c, box[3]
	}
	l := planar.Distance(a, b)
	ux, uy := (b[0]-a[0])/l, (b[1]-a[1])/l
	ox, oy := a[0]+(c[0]-b[0])/2, a[1]+(c[1]-b[1])/2
	outline := orb.LineString{}
	for _, p := range r.Outline.Rings[0] {
		outline = append(outline, p.Plan)
	}
	var sides [2]spread
	for _, p := range n.at[:n.spots] {
		off := ux*(p[1]-oy) - uy*(p[0]-ox)
		if math.Abs(off) < clear || planar.DistanceFrom(outline, p) < clear {
			continue
		}
		if off > 0 {
			sides[0].add(p)
		} else {
			sides[1].add(p)
		}
	}
	_, left := sides[0].squares()
	_, right := sides[1].squares()
	return math.Min(left, right) > clear*clear/4
}

// spread sums up how far places stand from their middle.
type spread struct{ n, x, y, xx, xy, yy float64 }

func (s *spread) add(p orb.Point) {
	s.n, s.x, s.y = s.n+1, s.x+p[0], s.y+p[1]
	s.xx, s.xy, s.yy = s.xx+p[0]*p[0], s.xy+p[0]*p[1], s.yy+p[1]*p[1]
}

// squares returns the sums of squares along and across the direction in which the places spread most [m2].
func (s *spread) squares() (long, short float64) {
	if s.n == 0 {
		return 0, 0
	}
	a, b, c := s.xx-s.x*s.x/s.n, s.xy-s.x*s.y/s.n, s.yy-s.y*s.y/s.n
	root := math.Hypot((a-c)/2, b)
	return (a+c)/2 + root, (a+c)/2 - root
}
