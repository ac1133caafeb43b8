package surface

import (
	"math"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// elevateCurbs gives the points of curbs that lack an elevation that of the surface of everything else.
func (d *draft) elevateCurbs() {
	var bare []int32
	seen := map[int32]bool{}
	for c := d.outline; c < d.curbs; c++ {
		for _, n := range d.chains[c].node {
			if d.how[n] == unknown && !seen[n] {
				seen[n] = true
				bare = append(bare, n)
			}
		}
	}
	if len(bare) == 0 {
		return
	}
	base, _, err := d.mesh(false)
	if err != nil {
		d.broken = err
		return
	}
	p := d.newPlanes()
	seek := &walker{m: base}
	for _, n := range bare {
		z, ok := seek.height(d.x[n], d.y[n])
		if !ok {
			z = p.at(d.x[n], d.y[n])
		}
		d.z[n], d.how[n] = z, drawn
		d.notes.count(noteCurbCorner)
	}
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
			a, b := m.V[e], m.V[Next(e)]
			if geometry.Orient(m.X[a], m.Y[a], m.X[b], m.Y[b], x, y) < 0 {
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
