package surface

import (
	"runnel/analysis/fault"
	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// fixedEdge is an edge that was asked for and need not be Delaunay.
const fixedEdge = BreaklineEdge | OutlineEdge | CurbEdge | FoldEdge

// check proves the TIN: a closed structure of positive facets, with the area it must have, and Delaunay but for the
// facets in turned. net is twice the area in grid units squared.
func (t *TIN) check(turned map[int32]bool, net int64) error {
	if err := t.checkStructure(); err != nil {
		return err
	}
	if sum := t.twiceAreas(); sum != net {
		return fault.New("surface", "facets cover %d square grid units of %d", sum/2, net/2)
	}
	return t.checkDelaunay(turned)
}

// checkStructure proves that twins are mutual, every facet turns counter-clockwise and Euler's count holds.
func (t *TIN) checkStructure() error {
	for e, o := range t.Twin {
		if o < 0 {
			continue
		}
		if t.Twin[o] != int32(e) || t.V[o] != t.End(int32(e)) || t.End(o) != t.V[e] {
			return fault.New("surface", "half-edges %d and %d are not twins", e, o)
		}
	}
	for f := range int32(t.Facets()) {
		if t.twiceArea(f) <= 0 {
			return fault.New("surface", "facet %d at (%.5f, %.5f) has no area", f, t.X[t.V[3*f]], t.Y[t.V[3*f]])
		}
	}
	return t.checkEuler()
}

// checkEuler proves V - E + F = 2C - B for C connected parts and B border loops.
func (t *TIN) checkEuler() error {
	border := 0
	for _, o := range t.Twin {
		if o < 0 {
			border++
		}
	}
	edges := (len(t.V) + border) / 2
	got := len(t.GX) - edges + t.Facets()
	_, parts := mesh.Regions(t.Twin, t.Flag, 0)
	if want := 2*parts - t.loops(); got != want {
		return fault.New("surface", "%d vertices, %d edges and %d facets give %d, not %d", len(t.GX), edges, t.Facets(), got, want)
	}
	return nil
}

// loops counts border loops.
func (t *TIN) loops() int {
	seen := make([]bool, len(t.V))
	n := 0
	for e, o := range t.Twin {
		if o >= 0 || seen[e] {
			continue
		}
		n++
		for h := int32(e); !seen[h]; h = t.Out[t.End(h)] {
			seen[h] = true
		}
	}
	return n
}

// checkDelaunay proves that no free edge's circle holds the corner opposite, and that ties are exact.
func (t *TIN) checkDelaunay(turned map[int32]bool) error {
	for e, o := range t.Twin {
		t.Halt.Look()
		if o < int32(e) || t.Flag[e]&fixedEdge != 0 {
			continue
		}
		if len(turned) > 0 && (turned[int32(e)/3] || turned[o/3]) {
			continue
		}
		a, b, c, q := t.V[e], t.End(int32(e)), t.V[Prev(int32(e))], t.V[Prev(o)]
		in := geometry.InCircle(t.GX[a], t.GY[a], t.GX[b], t.GY[b], t.GX[c], t.GY[c], t.GX[q], t.GY[q])
		if in > 0 || in == 0 != (t.Flag[e]&TieEdge != 0) {
			return fault.New("surface", "edge from (%.5f, %.5f) to (%.5f, %.5f) is not Delaunay (%d, flags %#x)",
				t.X[a], t.Y[a], t.X[b], t.Y[b], in, t.Flag[e])
		}
	}
	return nil
}

// checkCut proves the cut TIN, of whose area twice was measured: a closed structure of positive facets that covers what the TIN covers, but for the
// rounding of new vertices on the border.
func (s *Surface) checkCut(is, grown int64) error {
	if err := s.Cut.checkStructure(); err != nil {
		return err
	}
	if was := s.TIN.twiceAreas(); was+grown != is {
		return fault.New("surface", "footprints changed the area from %d to %d square grid units", was, is)
	}
	return nil
}
