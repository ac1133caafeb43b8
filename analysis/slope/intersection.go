package slope

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// unnamed adds the lines on a border between two planes along which no breakline was shot.
func (l *liner) unnamed(chain []int32) {
	length, bridged := 0.0, false
	for _, e := range chain {
		length += l.length(e)
		bridged = bridged || l.weak[e/3] || l.weak[l.t.Twin[e]/3]
	}
	if length < leastRun || bridged && l.intersection(chain) {
		return
	}
	for _, r := range l.runs(chain) {
		l.add(r, Line{Breakline: -1})
	}
}

// intersection adds the straight line on which the planes beside a chain meet, over the stretch that
// the chain covers: a fold that runs between the spots, where edges of facets cross it to and fro. It
// reports false when the chain does not follow that line, and adds nothing.
//
// Where spots do stand on it, the line goes through them.
func (l *liner) intersection(chain []int32) bool {
	left, right := l.side(chain, false), l.side(chain, true)
	if left == right {
		return false
	}
	s := newStretch(&l.slopes.Planes[left], &l.slopes.Planes[right])
	first, last := l.vertexAt(chain, 0), l.vertexAt(chain, len(chain))
	cx, cy := l.t.X[last]-l.t.X[first], l.t.Y[last]-l.t.Y[first]
	// the chain's share along the line; its sign is that of p standing above q on the left
	along := (float64(s.ny*cx) - float64(s.nx*cy)) / vector.Norm(cx, cy)
	if !(math.Abs(along) > 0.8) {
		return false
	}
	sign := math.Copysign(1, along)
	c := l.meeting(left, right, sign*s.nx, sign*s.ny)
	if c == crossed {
		return true
	}
	line := Line{Breakline: -1, Left: left, Right: right}
	if !l.lay(&line, chain, s) {
		return false
	}
	if n := len(line.Plan); n > 1 && vector.Distance(line.Plan[0], line.Plan[n-1]) >= leastRun {
		l.finish(line, c)
	}
	return true
}

// stretch is the part of the line on which two planes meet that a chain covers.
type stretch struct {
	p, q     *Plane
	fold     float64   // change of slope across it
	nx, ny   float64   // unit vector square to it, to where p stands above q
	tx, ty   float64   // unit vector along it, the way it falls
	foot     orb.Point // a place on it
	from, to float64   // its ends, along it from foot
	on       []int32   // vertices of the chain that stand on both planes
}

func newStretch(p, q *Plane) *stretch {
	s := &stretch{p: p, q: q, from: math.Inf(1), to: math.Inf(-1)}
	dx, dy := p.Gradient[0]-q.Gradient[0], p.Gradient[1]-q.Gradient[1]
	s.fold = vector.Norm(dx, dy)
	s.nx, s.ny = dx/s.fold, dy/s.fold
	s.tx, s.ty = -s.ny, s.nx
	if float64(p.Gradient[0]*s.tx)+float64(p.Gradient[1]*s.ty) > 0 {
		s.tx, s.ty = -s.tx, -s.ty
	}
	return s
}

// off returns how far a place is off the line, positive where p stands above q.
func (s *stretch) off(at orb.Point) float64 { return (s.p.At(at) - s.q.At(at)) / s.fold }

// along returns the place on the line at a distance from its foot.
func (s *stretch) along(d float64) orb.Point {
	return orb.Point{s.foot[0] + float64(d*s.tx), s.foot[1] + float64(d*s.ty)}
}

// measure takes in the vertices of a chain. It is false when one is farther off the line than reach.
// A vertex on neither plane belongs to a third one, which hides the line there.
func (l *liner) measure(s *stretch, vertices []int32, reach float64) bool {
	for i, v := range vertices {
		at := orb.Point{l.t.X[v], l.t.Y[v]}
		off := s.off(at)
		if math.Abs(off) > reach {
			return false
		}
		if i == 0 {
			s.foot = orb.Point{at[0] - float64(off*s.nx), at[1] - float64(off*s.ny)}
		}
		tol := l.tolerance(v)
		dp, dq := math.Abs(s.p.At(at)-l.t.Z[v]), math.Abs(s.q.At(at)-l.t.Z[v])
		if math.Min(dp, dq) > strayFactor*tol {
			continue
		}
		if math.Max(dp, dq) <= tol {
			s.on = append(s.on, v)
		}
		d := float64((at[0]-s.foot[0])*s.tx) + float64((at[1]-s.foot[1])*s.ty)
		s.from, s.to = math.Min(s.from, d), math.Max(s.to, d)
	}
	return true
}

// lay lays the line out: through the chain's vertices that stand on both planes where those are at
// least half of them, else straight along the intersection. It is false when the chain strays from that,
// and lays nothing out where other planes hide the line.
func (l *liner) lay(line *Line, chain []int32, s *stretch) bool {
	reach := 0.0
	for _, e := range chain {
		reach = math.Max(reach, l.length(e))
	}
	vertices := l.vertices(chain)
	if !l.measure(s, vertices, reach) {
		return false
	}
	if s.from >= s.to {
		return true
	}
	line.Vertices = vertices
	if len(s.on) > 1 && 2*len(s.on) >= len(vertices) {
		line.Vertices = s.on
		if l.t.Z[s.on[0]] < l.t.Z[s.on[len(s.on)-1]] {
			line.turn()
		}
		l.through(line)
		return true
	}
	start, end := s.along(s.from), s.along(s.to)
	line.Inferred = true
	line.Plan, line.Levels = orb.LineString{start, end}, []float64{s.p.At(start), s.p.At(end)}
	a, b := vertices[0], vertices[len(vertices)-1]
	if float64((l.t.X[b]-l.t.X[a])*s.tx)+float64((l.t.Y[b]-l.t.Y[a])*s.ty) < 0 {
		line.turn()
	}
	return true
}

// turn turns the line's vertices round, and so its sides.
func (line *Line) turn() {
	slices.Reverse(line.Vertices)
	line.Left, line.Right = line.Right, line.Left
}
