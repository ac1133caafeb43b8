package bounds

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
)

// reached returns the facets that hang together with a seed over sides of which an end lies no farther than a reach from the box round the seed, found by looking at all pairs of facets; in grid units, to which places are exact.
func reached(t *surface.TIN, seed int32, reach int64) []int32 {
	var low, high [2]int64
	for k := range 3 {
		v := t.V[3*seed+int32(k)]
		for i, x := range [2]int64{int64(t.GX[v]), int64(t.GY[v])} {
			if k == 0 || x < low[i] {
				low[i] = x
			}
			if k == 0 || x > high[i] {
				high[i] = x
			}
		}
	}
	near := func(v int32) bool {
		x, y := int64(t.GX[v]), int64(t.GY[v])
		return x >= low[0]-reach && x <= high[0]+reach && y >= low[1]-reach && y <= high[1]+reach
	}
	out := []int32{seed}
	for i := 0; i < len(out); i++ {
		a := t.V[3*out[i] : 3*out[i]+3]
		for f := range int32(t.Facets()) {
			if slices.Contains(out, f) {
				continue
			}
			shared, within := 0, false
			for _, v := range t.V[3*f : 3*f+3] {
				if slices.Contains(a, v) {
					shared++
					within = within || near(v)
				}
			}
			if shared == 2 && within {
				out = append(out, f)
			}
		}
	}
	slices.Sort(out)
	return out
}

// A patch is what hangs together within reach, by a plain search over all pairs of facets: from many facets, as far as the spots stand apart exactly, a little less, and the whole roof.
func TestPatchIsWhatLiesWithinReach(t *testing.T) {
	m := modelOf(t, bumpy(3, 0.02))
	t0 := m.t
	beside := []int32{t0.Twin[0] / 3, t0.Twin[1] / 3, t0.Twin[2] / 3} // the first facet, too, is found from those beside it
	for seed := range int32(t0.Facets()) {
		if seed%8 != 0 && !slices.Contains(beside, seed) {
			continue
		}
		for _, reach := range []int64{0, 149999, 150000, 300000, 1 << 40} {
			p := m.around([]int32{seed}, float64(reach)*surface.Grid)
			var got []int32
			for f := range int32(t0.Facets()) {
				if m.facet[f] == m.stamp {
					got = append(got, f)
				}
			}
			if reach > 3e5 && seed > 0 { // the whole roof is the same from everywhere
				continue
			}
			if want := reached(t0, seed, reach); !slices.Equal(got, want) {
				t.Fatalf("from facet %d within %d units: facets %v, want %v", seed, reach, got, want)
			}
			sum, want := 0.0, 0.0
			for k, f := range got {
				v := t0.V[3*f : 3*f+3]
				want += math.Abs((t0.X[v[1]]-t0.X[v[0]])*(t0.Y[v[2]]-t0.Y[v[0]])-(t0.X[v[2]]-t0.X[v[0]])*(t0.Y[v[1]]-t0.Y[v[0]])) / 2
				sum += p.area[k]
			}
			if len(p.facets) != len(got) || !(math.Abs(sum-want) <= 1e-9*(1+want)) {
				t.Fatalf("from facet %d: %d facets of %g m2, want %d of %g", seed, len(p.facets), sum, len(got), want)
			}
		}
	}
}

// Of water that has no way out nobody knows how deep it gets: nothing is tried, and nothing is said. A roof's weights of vertices are its area.
func TestNothingIsTriedWithoutAWayOut(t *testing.T) {
	r := shape.New("shut", shape.At(0, 0, 0), shape.At(8, 0, 0), shape.At(8, 6, 0), shape.At(0, 6, 0))
	shape.Spot(r, 3, 3, -0.05)
	m := modelOf(t, r)
	if len(m.Ponds.Ponds) != 1 || !m.Ponds.Ponds[0].Undrained {
		t.Fatalf("%+v", m.Ponds.Ponds)
	}
	if p := m.pond(0, pondWork); p != (Pond{}) {
		t.Errorf("%+v", p)
	}
	sum := 0.0
	for _, w := range m.around([]int32{0}, math.Inf(1)).thirds() {
		sum += w
	}
	if !(math.Abs(sum-48) <= 1e-9) {
		t.Errorf("%g m2", sum)
	}
}

// What footprints cut into a plane lies on it: each vertex takes from the corners of its facet what a plane through them has there.
func TestCarriedOverAPlane(t *testing.T) {
	m := modelOf(t, bumpy(1, 0.01))
	values := make([]float64, len(m.t.X))
	on := func(v int) float64 { return 2 + 0.3*m.t.X[v] - 0.7*m.t.Y[v] }
	own := len(m.Surface.TIN.X)
	for v := range own {
		values[v] = on(v)
	}
	m.carry(values)
	if len(values)-own < 8 {
		t.Fatalf("%d vertices were made", len(values)-own)
	}
	for v := own; v < len(values); v++ {
		if !(math.Abs(values[v]-on(v)) <= 1e-9) {
			t.Errorf("at %v: %g, want %g", orb.Point{m.t.X[v], m.t.Y[v]}, values[v], on(v))
		}
	}
}

// The dice of a pond are those of its place on the roof: with the roof and its grid moved they fall as before, and half a metre farther they do not.
func TestDiceOfAPlace(t *testing.T) {
	throw := func(x, y float64, origin orb.Point) uint64 {
		tin := &surface.TIN{}
		tin.X, tin.Y = []float64{x}, []float64{y}
		return (&model{t: tin, origin: origin}).diceAt(0).Uint64()
	}
	here := throw(3, 5, orb.Point{})
	if throw(103, 205, orb.Point{100, 200}) != here {
		t.Error("with the roof elsewhere the dice fall otherwise")
	}
	if throw(3.5, 5, orb.Point{}) == here || throw(3, 5.5, orb.Point{}) == here {
		t.Error("elsewhere on the roof the dice fall alike")
	}
}
