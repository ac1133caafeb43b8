package settle

import (
	"math"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/mesh"
)

// elevateCurbs gives the points of curbs that lack an elevation that of the spots that stand at their foot: corners first, then points of
// the faces opposite every such spot. A corner without one lies on the surface of everything else, across the curb, which is all that is known
// of it.
func (d *draft) elevateCurbs() {
	open, bare := d.bareCurbs()
	if len(bare) == 0 {
		return
	}
	base, _, err := d.mesh(false)
	if err != nil {
		d.broken = err
		return
	}
	b := d.newBeside()
	p := d.newPlanes()
	seek := &walker{m: base}
	heights, how := make([]int32, len(bare)), make([]standing, len(bare))
	for i, c := range bare {
		if heights[i], how[i] = b.height(d.x[c.n], d.y[c.n], c.before, c.after); how[i] != unknown {
			continue
		}
		z, ok := seek.height(d.pose.Point(d.x[c.n], d.y[c.n]))
		if !ok {
			z = p.at(d.x[c.n], d.y[c.n])
		}
		heights[i], how[i] = z, drawn
	}
	for i, c := range bare { // only now: no corner rests on another
		d.z[c.n], d.how[c.n] = heights[i], how[i]
		d.notes.count(noteCurbCorner)
	}
	d.placeFeet(open, footReach, noteCurbFoot, func(x, y, _ int32, s span) (int32, standing) { return b.height(x, y, s, s) })
	d.applySplits()
}

// curbCorner is a node of a curb between two of its pieces.
type curbCorner struct {
	n             int32
	before, after span
}

// bareCurbs returns the pieces of curbs that lack an elevation at an end, and every node without one, once.
func (d *draft) bareCurbs() (open []span, bare []curbCorner) {
	seen := map[int32]bool{}
	for c := d.outline; c < d.curbs; c++ {
		pieces := d.spans(c, c+1)
		for i, s := range pieces {
			if d.how[s.a] == unknown || d.how[s.b] == unknown {
				open = append(open, s)
			}
			if d.how[s.a] == unknown && !seen[s.a] {
				seen[s.a] = true
				bare = append(bare, curbCorner{s.a, pieces[(i+len(pieces)-1)%len(pieces)], s})
			}
		}
	}
	return open, bare
}

// atFoot is how near a face a spot stands at its foot [m], as for the outline's edges: a rod does not fit closer to a flashing than some hand's
// breadths. What lies between is no more assumed than what lies between two spots.
const atFoot = 2

// mostBeside is how many near spots are looked at for those beside a face.
const mostBeside = 48

// beside estimates elevations at the foot of curbs from what was measured on the same side.
type beside struct {
	planes
	lines *lines // what hides a spot: outline, curbs, breaklines
}

// newBeside uses everything measured, breaklines and walls included, but what curbs alone state.
func (d *draft) newBeside() *beside {
	var measured []int32
	for n := range d.x {
		if d.how[n] == given && (d.spot[n] >= 0 || !isCurbRole(d.what[n].role)) {
			measured = append(measured, int32(n))
		}
	}
	return &beside{planes{d, nearby.NewCloud(d.x, d.y, measured)}, d.newLines(d.spans(0, len(d.chains)), 2)}
}

// height returns the elevation at (x, y), which lies between two pieces of a curb or twice on one, of the plane through the six
// nearest spots that can be seen from there, and all that are as far as the last of them: none across the curb, another wall or a breakline. It is unknown where fewer than three are
// within sight, or none stands at the foot.
func (b *beside) height(x, y int32, before, after span) (z int32, how standing) {
	var seen []nearby.Neighbour
	for k := 2 * planeSpots; k <= mostBeside && len(seen) < planeSpots; k *= 2 {
		seen = seen[:0]
		near := b.cloud.Nearest(x, y, k)
		for _, v := range near {
			if (len(seen) < planeSpots || v.Distance == seen[planeSpots-1].Distance) && b.faces(v.N, before, after) && !b.lines.parts(x, y, v.N, span{}) {
				seen = append(seen, v)
			}
		}
		if len(near) < k {
			break
		}
	}
	if len(seen) < 3 || seen[0].Distance > atFoot*geometry.PerMetre*atFoot*geometry.PerMetre {
		return 0, unknown
	}
	return b.pinned(x, y, seen), drawn
}

// faces reports whether node n lies on the roof's side of the corner between two pieces, or of one piece given twice.
func (b *beside) faces(n int32, before, after span) bool {
	d := b.d
	in, out := d.orient(before.a, before.b, n) >= 0, d.orient(after.a, after.b, n) >= 0
	if before != after && d.orient(before.a, before.b, after.b) <= 0 {
		return in || out
	}
	return in && out
}

// parts reports whether a piece other than but crosses the straight line from (x, y) to node n.
func (l *lines) parts(x, y, n int32, but span) bool {
	d := l.d
	px, py := d.x[n], d.y[n]
	for _, i := range l.grid.Within(math.Min(float64(px), float64(x)), math.Min(float64(py), float64(y)), math.Max(float64(px), float64(x)), math.Max(float64(py), float64(y))) {
		w := l.segs[i]
		if w == but {
			continue
		}
		ax, ay, bx, by := d.x[w.a], d.y[w.a], d.x[w.b], d.y[w.b]
		if geometry.Orient(px, py, x, y, ax, ay)*geometry.Orient(px, py, x, y, bx, by) < 0 &&
			geometry.Orient(ax, ay, bx, by, px, py)*geometry.Orient(ax, ay, bx, by, x, y) < 0 {
			return true
		}
	}
	return false
}

// walker finds triangles of a mesh that covers its convex hull, each from the last one found.
type walker struct {
	m  *mesh.Mesh
	at int32
}

// height returns the elevation of the mesh at (x, y); ok is false outside it.
func (w *walker) height(x, y int32) (z int32, ok bool) {
	m := w.m
	f := w.at
	for step := range int32(len(m.V)) {
		next := int32(-2)
		for k := range int32(3) {
			// Another first side each time: a fixed one can walk in circles round constrained edges.
			e := 3*f + (k+step%7)%3
			if a, b := m.V[e], m.V[mesh.Next(e)]; geometry.Orient(m.X[a], m.Y[a], m.X[b], m.Y[b], x, y) < 0 {
				next = m.Twin[e]
				break
			}
		}
		switch {
		case next == -2:
			w.at = f
			return w.plane(f, x, y), true
		case next < 0:
			return 0, false
		}
		f = next / 3
	}
	return 0, false
}

// plane returns the elevation of triangle f at (x, y).
func (w *walker) plane(f, x, y int32) int32 {
	m := w.m
	a, b, c := m.V[3*f], m.V[3*f+1], m.V[3*f+2]
	nx, ny, nz := geometry.Normal(m.X[a], m.Y[a], m.Z[a], m.X[b], m.Y[b], m.Z[b], m.X[c], m.Y[c], m.Z[c])
	rise := float64(float64(nx)*float64(x-m.X[a])) + float64(float64(ny)*float64(y-m.Y[a]))
	return m.Z[a] - int32(math.Round(rise/float64(nz)))
}
