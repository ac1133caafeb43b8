package cause

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
)

// soaked is under by cutting the facet into n*n equal triangles and asking each in its middle.
func soaked(z [3]float64, h, a float64, n int) (area, volume float64) {
	part := a / float64(n*n)
	ask := func(u, v float64) {
		if d := h - (z[0] + u*(z[1]-z[0]) + v*(z[2]-z[0])); d > 0 {
			area, volume = area+part, volume+part*d
		}
	}
	k := 1 / float64(n)
	for i := range n {
		for j := range n - i {
			u, v := float64(i)*k, float64(j)*k
			ask(u+k/3, v+k/3)
			if i+j < n-1 {
				ask(u+2*k/3, v+2*k/3)
			}
		}
	}
	return area, volume
}

// Water over a facet against a sum over a hundred thousand pieces of it, whichever corner is lowest.
func TestWaterUnderALevel(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 1))
	for i := range 60 {
		z := [3]float64{rnd.Float64(), rnd.Float64(), rnd.Float64()}
		if i%5 == 0 {
			z[i%3] = z[(i+1)%3]
		}
		h, a := rnd.Float64()*1.2, 0.5+rnd.Float64()
		area, volume := under(z, h, a)
		wantArea, wantVolume := soaked(z, h, a, 300)
		if !(math.Abs(area-wantArea) <= 0.006*a) || !(math.Abs(volume-wantVolume) <= 1e-4*a) {
			t.Errorf("%v at %g over %g: %g and %g, want %g and %g", z, h, a, area, volume, wantArea, wantVolume)
		}
	}
	// By hand: a corner at 0, two at 1, water at 1/2 over half a square metre: a quarter of it wet, its middle 1/6 deep; all at 0: all wet.
	if area, volume := under([3]float64{1, 0, 1}, 0.5, 0.5); !(math.Abs(area-0.125) <= 1e-12) || !(math.Abs(volume-0.125/6) <= 1e-12) {
		t.Errorf("a corner: %g, %g", area, volume)
	}
	if area, volume := under([3]float64{0, 0, 0}, 0.5, 0.5); area != 0.5 || volume != 0.25 {
		t.Errorf("a level facet: %g, %g", area, volume)
	}
}

// A probe reads what the surface says there, found by looking at all facets; beyond the outline and across a curb it reads nothing.
func TestProbeReadsTheSurface(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 9))
	read := 0
	for seed := range uint64(12) {
		r := shape.Random(seed, 120)
		s, err := surface.Build(r, surface.Options{})
		if err != nil {
			t.Fatal(err)
		}
		locate := surface.NewLocator(s.TIN)
		p := &probe{t: s.TIN}
		box := orb.Bound{Min: orb.Point{s.TIN.X[0], s.TIN.Y[0]}, Max: orb.Point{s.TIN.X[0], s.TIN.Y[0]}}
		for v := range s.TIN.X {
			box = box.Extend(orb.Point{s.TIN.X[v], s.TIN.Y[v]})
		}
		for range 300 {
			p.start(int32(rnd.IntN(len(s.TIN.X))))
			x, y := box.Min[0]+rnd.Float64()*(box.Max[0]-box.Min[0]), box.Min[1]+rnd.Float64()*(box.Max[1]-box.Min[1])
			want, on := locate.HeightAt(x, y)
			got, ok := p.height(x, y)
			if ok && (!on || math.Abs(got-want) > 1e-6) {
				t.Fatalf("seed %d: (%g, %g) reads %g, want %g, %t", seed, x, y, got, want, on)
			}
			if ok {
				read++
			}
		}
	}
	if read < 1500 {
		t.Errorf("only %d of 3600 places were read", read)
	}
}

// Over a triangular dam 60 mm high and 0.4 m wide to each side on a roof that falls 2 % to the east, in line with its crest, the ground stands out by hand as
// the crest over the mean of its feet; the ground fitted from the foot on carries on to the crest as the roof itself.
func TestDamStandsOut(t *testing.T) {
	const high, half, s = 0.06, 0.4, 0.02
	h := func(x, _ float64) float64 { return 1 - s*x + high*math.Max(0, 1-math.Abs(x-10)/half) }
	r := shape.New("dam", shape.At(0, 0, h(0, 0)), shape.At(20, 0, h(20, 0)), shape.At(20, 12, h(20, 0)), shape.At(0, 12, h(0, 0)))
	for _, x := range []float64{10 - half, 10, 10 + half} {
		for k := range 13 {
			shape.Spot(r, x, float64(k), h(x, 0))
		}
	}
	sf, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := &model{t: sf.TIN, probe: probe{t: sf.TIN}}
	for v := range sf.TIN.X {
		if math.Abs(sf.TIN.X[v]-10) < 1e-6 && math.Abs(sf.TIN.Y[v]-6) < 1e-6 {
			m.probe.start(int32(v))
		}
	}
	east := [2]float64{1, 0}
	for _, c := range []struct{ x, foot, want float64 }{{10, 0.4, 0.06}, {10, 0.2, 0.03}, {10.2, 0.2, 0}, {10, 0.8, 0.06}, {10.4, 0.4, -0.03}} {
		if got, ok := m.standsOut(c.x, 6, east, c.foot); !ok || !(math.Abs(got-c.want) <= 1e-5) {
			t.Errorf("at %g from %g: %g, want %g", c.x, c.foot, got, c.want)
		}
	}
	k := crest{x: 10, y: 6, z: h(10, 6), across: east, height: high}
	for _, side := range []float64{-1, 1} {
		if got, ok := m.carried(k, side, 0.5); !ok || !(math.Abs(got-(1-s*10)) <= 1e-5) {
			t.Errorf("carried from side %g: %g, %t, want %g", side, got, ok, 1-s*10)
		}
	}
	if across, hump := m.turn(10, 6, turned(east, 2), half); !(math.Abs(across[0]-1) <= 1e-9) || !(math.Abs(hump-high) <= 1e-5) {
		t.Errorf("the crest runs across %v and stands out %g", across, hump)
	}
	// It runs 6 m to either wall, in steps of 0.25 m: the last place that can be looked at stands on the wall.
	for _, along := range [][2]float64{{0, 1}, {0, -1}} {
		if got := m.follow(along, k, half); !(math.Abs(got-6) <= crestStep+1e-9) {
			t.Errorf("along %v it goes on for %g m", along, got)
		}
	}
}
