package storm

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// someLaws gives outlets of a roof weirs of several widths and, to every third, none.
func someLaws(s *surface.Surface, seed uint64) []Law {
	laws := make([]Law, len(s.Outlets))
	for i := range laws {
		if (uint64(i)+seed)%3 != 2 {
			laws[i] = weir(0.05 + 0.1*float64((uint64(i)+seed)%4))
		}
	}
	return laws
}

func someRain(by float64) Steps {
	return Steps{[]float64{0, 600, 1800, 2400, 3600}, []float64{1e-5 * by, 5e-5 * by, 0, 8e-6 * by}}
}

// TestRandomRoofs: whatever the roof and the case, water adds up to 1e-9 of what came, no outlet gives water back,
// no level falls below the ground, the envelope holds every level, and what is left after dry air is less.
func TestRandomRoofs(t *testing.T) {
	for seed := range uint64(150) {
		s := shape.Build(t, shape.Random(seed, 120))
		m, err := New(s, someLaws(s, seed))
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range m.Cases(seed%3 == 0) {
			storm := Storm{Rain: someRain(1)}
			c.Moments = []float64{0, 900, 2000, 3600, 9000}
			r, err := m.route(storm, c)
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, c.Name, err)
			}
			if !(r.MassError <= 1e-9) || !(math.Abs(r.Fallen-s.Area*(600*1e-5+1200*5e-5+1200*8e-6)) <= 1e-9*r.Fallen) {
				t.Errorf("seed %d, %s: error %g, rain %g", seed, c.Name, r.MassError, r.Fallen)
			}
			for _, o := range r.Outlets {
				if o.Volume < 0 || o.Blocked && o.Volume+o.PeakFlow > 0 || o.PeakFlow > 0 && len(o.Samples) == 0 {
					t.Errorf("seed %d, %s: outlet %+v", seed, c.Name, o)
				}
			}
			for j, levels := range r.Levels {
				for v, level := range levels {
					if level < m.z[v] || level > r.Envelope[v]+1e-12 {
						t.Fatalf("seed %d, %s: vertex %d at %g s stands at %v, ground %v, envelope %v",
							seed, c.Name, v, c.Moments[j], level, m.z[v], r.Envelope[v])
					}
				}
			}
			if i > 0 {
				continue
			}
			storm.Evaporation = 0.005 / 86400
			dry, err := m.route(storm, c)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if dry.Left > r.Left+1e-12 || dry.Evaporated < 0 || r.Evaporated != 0 {
				t.Errorf("seed %d: dry air leaves %g, still air %g", seed, dry.Left, r.Left)
			}
		}
	}
}

// TestMoreRainStandsNoLower: the envelope, and the peaks, rise with the rain.
func TestMoreRainStandsNoLower(t *testing.T) {
	for seed := range uint64(200) {
		s := shape.Build(t, shape.Random(seed, 80))
		m, err := New(s, someLaws(s, seed))
		if err != nil {
			t.Fatal(err)
		}
		var last *Result
		for _, by := range []float64{0, 0.1, 0.5, 1, 1.7, 4} {
			r, err := m.route(Storm{Rain: someRain(by)}, Case{})
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if by == 0 && (r.Fallen != 0 || r.Out != 0 || r.Left != 0 || r.Deepest.Vertex >= 0) {
				t.Errorf("seed %d: no rain makes %+v", seed, r.Deepest)
			}
			for v := range r.Envelope {
				if last != nil && r.Envelope[v] < last.Envelope[v]-1e-7 {
					t.Fatalf("seed %d: vertex %d stands at %v, with less rain at %v", seed, v, r.Envelope[v], last.Envelope[v])
				}
			}
			last = r
		}
	}
}

// TestEverythingSpills: a storm so large that every low place is full stands everywhere at least as high as the
// ponds of the bare roof do.
func TestEverythingSpills(t *testing.T) {
	for seed := range uint64(100) {
		s := shape.Build(t, shape.Random(seed, 80))
		m, err := New(s, nil)
		if err != nil {
			t.Fatal(err)
		}
		blocked := make([]bool, len(s.Outlets))
		for i := range blocked {
			blocked[i] = s.Outlets[i].Type != roof.EdgeOutlet
		}
		r, err := m.route(Storm{Rain: Steps{[]float64{0, 36000}, []float64{1e-3}}}, Case{Blocked: blocked})
		if err != nil {
			t.Fatal(err)
		}
		for v, level := range m.bare.Level {
			if r.Envelope[v] < level-1e-9 {
				t.Fatalf("seed %d: vertex %d stands at %v, its full pond at %v", seed, v, r.Envelope[v], level)
			}
		}
	}
}

// TestOrderOfOutlets: outlets in another order do the same, and so do cases routed side by side.
func TestOrderOfOutlets(t *testing.T) {
	for seed := range uint64(100) {
		s := shape.Build(t, shape.Random(seed, 80))
		laws := someLaws(s, seed)
		m, err := New(s, laws)
		if err != nil {
			t.Fatal(err)
		}
		turned := *s
		turned.Outlets, laws = slices.Clone(s.Outlets), slices.Clone(laws)
		slices.Reverse(turned.Outlets)
		slices.Reverse(laws)
		storm := Storm{Rain: someRain(1)}
		a, b := route(t, s, someLaws(s, seed), storm, Case{}), route(t, &turned, laws, storm, Case{})
		n := len(s.Outlets)
		for i := range a.Outlets {
			x, y := &a.Outlets[i], &b.Outlets[n-1-i]
			if !(math.Abs(x.Volume-y.Volume) <= 1e-6*a.Fallen) || !(math.Abs(x.PeakFlow-y.PeakFlow) <= 1e-6*x.PeakFlow+1e-12) {
				t.Errorf("seed %d: outlet %d takes %g and %g m3", seed, i, x.Volume, y.Volume)
			}
		}
		cases := m.Cases(false)
		together, err := m.Blockages(storm, cases)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range cases {
			alone, err := m.route(storm, c)
			if err != nil || !reflect.DeepEqual(alone, together[i]) {
				t.Errorf("seed %d: case %s alone is another (%v)", seed, c.Name, err)
			}
		}
	}
}
