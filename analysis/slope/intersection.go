package slope

import (
	"math"

	"github.com/paulmach/orb"
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
	p, q := &l.slopes.Planes[left], &l.slopes.Planes[right]
	dx, dy := p.Gradient[0]-q.Gradient[0], p.Gradient[1]-q.Gradient[1]
	d := hypot(dx, dy)
	nx, ny := dx/d, dy/d // where p rises above q
	first, last := l.vertexAt(chain, 0), l.vertexAt(chain, len(chain))
	cx, cy := l.t.X[last]-l.t.X[first], l.t.Y[last]-l.t.Y[first]
	// the chain's share along the line; its sign is that of p standing above q on the left
	along := (float64(ny*cx) - float64(nx*cy)) / hypot(cx, cy)
	if !(math.Abs(along) > 0.8) {
		return false
	}
	sign := math.Copysign(1, along)
	c := l.meeting(left, right, sign*nx, sign*ny)
	if c == crossed {
		return true
	}
	line := Line{Breakline: -1, Left: left, Right: right, Fold: sign * d}
	if !l.lay(&line, chain, p, q) {
		return false
	}
	if line.Length = orbDistance(line.Plan[0], line.Plan[len(line.Plan)-1][0], line.Plan[len(line.Plan)-1][1]); line.Length < leastRun {
		return true
	}
	line.Length = 0
	l.finish(line, c)
	return true
}

// lay lays the line out: through the chain's vertices that stand on both planes where those are at
// least half of them, else straight along the intersection. It is false when the chain strays from it.
func (l *liner) lay(line *Line, chain []int32, p, q *Plane) bool {
	dx, dy := p.Gradient[0]-q.Gradient[0], p.Gradient[1]-q.Gradient[1]
	d := hypot(dx, dy)
	tx, ty := -dy/d, dx/d
	if float64(p.Gradient[0]*tx)+float64(p.Gradient[1]*ty) > 0 {
		tx, ty = -tx, -ty // the way it falls
	}
	reach := 0.0
	for _, e := range chain {
		reach = math.Max(reach, l.length(e))
	}
	vertices := l.vertices(chain)
	from, to := math.Inf(1), math.Inf(-1)
	var foot orb.Point // of the first vertex on the line
	var on []int32
	for i, v := range vertices {
		at := orb.Point{l.t.X[v], l.t.Y[v]}
		off := (p.At(at) - q.At(at)) / d
		if math.Abs(off) > reach {
			return false
		}
		if i == 0 {
			foot = orb.Point{at[0] - float64(off*dx/d), at[1] - float64(off*dy/d)}
		}
		s := float64((at[0]-foot[0])*tx) + float64((at[1]-foot[1])*ty)
		from, to = math.Min(from, s), math.Max(to, s)
		tol := l.tolerance(v)
		if math.Abs(p.At(at)-l.t.Z[v]) <= tol && math.Abs(q.At(at)-l.t.Z[v]) <= tol {
			on = append(on, v)
		}
	}
	if len(on) > 1 && 2*len(on) >= len(vertices) {
		if l.t.Z[on[0]] < l.t.Z[on[len(on)-1]] {
			l.turn(line, on)
		}
		line.Vertices = on
		l.through(line)
		return true
	}
	start := orb.Point{foot[0] + float64(from*tx), foot[1] + float64(from*ty)}
	end := orb.Point{foot[0] + float64(to*tx), foot[1] + float64(to*ty)}
	line.Inferred = true
	line.Plan, line.Levels = orb.LineString{start, end}, []float64{p.At(start), p.At(end)}
	a, b := vertices[0], vertices[len(vertices)-1]
	if float64((l.t.X[b]-l.t.X[a])*tx)+float64((l.t.Y[b]-l.t.Y[a])*ty) < 0 {
		l.turn(line, vertices)
	}
	line.Vertices = vertices
	return true
}

// turn turns the line's vertices round, and so its sides.
func (l *liner) turn(line *Line, vertices []int32) {
	for i, j := 0, len(vertices)-1; i < j; i, j = i+1, j-1 {
		vertices[i], vertices[j] = vertices[j], vertices[i]
	}
	line.Left, line.Right = line.Right, line.Left
}
