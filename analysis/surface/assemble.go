package surface

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/halt"
	"runnel/analysis/surface/settle"
)

// assemble makes the TIN of a settled measurement.
func assemble(g *settle.Ground, line *halt.Line) *TIN {
	m := g.Mesh
	t := &TIN{GX: m.X, GY: m.Y, GZ: m.Z, V: m.V, Twin: m.Twin, Halt: line, Pose: g.Pose}
	t.Flag = make([]EdgeFlag, len(m.Flag))
	for e, f := range m.Flag {
		t.Flag[e] = EdgeFlag(f)
		if t.Flag[e]&(CurbEdge|OpenEdge) == CurbEdge|OpenEdge {
			t.Flag[e] = t.Flag[e]&^OpenEdge | WallEdge
		}
	}
	was := t.partPinches()
	n, all := len(t.GX), len(t.GX)+64+len(t.GX)/roomFor
	t.GX, t.GY, t.GZ = roomy(t.GX, all-n), roomy(t.GY, all-n), roomy(t.GZ, all-n)
	t.X, t.Y, t.Z = make([]float64, n, all), make([]float64, n, all), make([]float64, n, all)
	t.Spot, t.Sigma, t.Assumed = make([]int32, n, all), make([]float64, n, all), make([]bool, n, all)
	t.Found, t.Interpolation, t.Below = make([]bool, n, all), make([]float64, n, all), make([]float64, n, all)
	t.room = &room{}
	for v, o := range was {
		t.X[v], t.Y[v], t.Z[v] = geometry.Metres(t.GX[v]), geometry.Metres(t.GY[v]), geometry.Metres(t.GZ[v])
		t.Spot[v], t.Sigma[v], t.Assumed[v] = g.Spot[o], g.Sigma[o], g.Assumed[o]
		t.Found[v], t.Interpolation[v], t.Below[v] = g.Found[o], g.Interpolation[o], g.Below[o]
	}
	t.indexOut()
	t.fall()
	return t
}

// partPinches gives every fan of facets round a vertex but the first a vertex of its own, at the same place: where curbs touch
// in a point water cannot pass, and every vertex then has one ring of neighbours. It returns the vertex that each was before.
func (t *TIN) partPinches() (was []int32) {
	was = make([]int32, len(t.GX))
	for v := range was {
		was[v] = int32(v)
	}
	seen := make([]bool, len(t.GX))
	for e, o := range t.Twin {
		if o >= 0 {
			continue
		}
		v := t.V[e]
		if !seen[v] {
			seen[v] = true
			continue
		}
		w := int32(len(t.GX))
		t.GX, t.GY, t.GZ = append(t.GX, t.GX[v]), append(t.GY, t.GY[v]), append(t.GZ, t.GZ[v])
		was = append(was, v)
		for h := int32(e); h >= 0; h = t.Twin[Prev(h)] {
			t.V[h] = w
		}
	}
	return was
}

// indexOut finds a half-edge that starts at every vertex, the border one where there is one.
func (t *TIN) indexOut() {
	t.Out = slices.Repeat([]int32{-1}, len(t.GX))
	for e, v := range t.V {
		if t.Out[v] < 0 || t.Twin[e] < 0 {
			t.Out[v] = int32(e)
		}
	}
}

// fall computes gradients and the exact signs of flow over the edges.
func (t *TIN) fall() {
	t.Run = make([]int8, len(t.V))
	n, all := t.Facets(), t.Facets()+64+t.Facets()/roomFor
	t.DX, t.DY = make([]float64, n, all), make([]float64, n, all)
	for f := range int32(t.Facets()) {
		t.Halt.Look()
		nx, ny, nz := t.normal(f)
		if nx == 0 && ny == 0 {
			continue
		}
		t.DX[f], t.DY[f] = -float64(nx)/float64(nz), -float64(ny)/float64(nz)
		for e := 3 * f; e < 3*f+3; e++ {
			a, b := t.V[e], t.V[Next(e)]
			t.Run[e] = int8(geometry.Across(nx, ny, t.GX[b]-t.GX[a], t.GY[b]-t.GY[a]))
		}
	}
}

// normal returns the exact upward normal of facet f of an uncut TIN.
func (t *TIN) normal(f int32) (nx, ny, nz int64) {
	a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	return geometry.Normal(t.GX[a], t.GY[a], t.GZ[a], t.GX[b], t.GY[b], t.GZ[b], t.GX[c], t.GY[c], t.GZ[c])
}

// twiceArea returns twice the plan area of facet f in grid units squared, exactly.
func (t *TIN) twiceArea(f int32) int64 {
	return geometry.TwiceArea(t.GX, t.GY, t.V[3*f], t.V[3*f+1], t.V[3*f+2])
}

// twiceAreas returns twice the plan area of all facets in grid units squared, exactly.
func (t *TIN) twiceAreas() int64 {
	var all int64
	for f := range int32(t.Facets()) {
		all += t.twiceArea(f)
	}
	return all
}

// FacetArea returns the plan area of facet f [m2].
func (t *TIN) FacetArea(f int32) float64 {
	a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	return (float64((t.X[b]-t.X[a])*(t.Y[c]-t.Y[a])) - float64((t.Y[b]-t.Y[a])*(t.X[c]-t.X[a]))) / 2
}

// Middle returns the middle of facet f and the elevation there.
func (t *TIN) Middle(f int32) (q orb.Point, z float64) {
	for _, v := range t.V[3*f : 3*f+3] {
		q[0], q[1], z = q[0]+t.X[v]/3, q[1]+t.Y[v]/3, z+t.Z[v]/3
	}
	return q, z
}

func (t *TIN) orient(a, b, c int32) int {
	return geometry.Orient(t.GX[a], t.GY[a], t.GX[b], t.GY[b], t.GX[c], t.GY[c])
}
