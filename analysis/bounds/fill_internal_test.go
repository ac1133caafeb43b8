package bounds

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// bumpy is a walled roof of four bays that fall to drains, with random bumps: many ponds, some at the drains.
func bumpy(seed uint64, bump float64) *roof.Roof {
	d := rand.New(rand.NewPCG(seed, 1))
	r := shape.New("bumpy", shape.Bare(0, 0), shape.Bare(24, 0), shape.Bare(24, 16), shape.Bare(0, 16))
	shape.Grid(r, 0, 0, 24, 16, 16, 11, func(x, y float64) float64 {
		u, v := math.Abs(math.Mod(x, 12)-6), math.Abs(math.Mod(y, 8)-4)
		return 0.02*math.Max(u, v) + bump*d.NormFloat64()
	})
	for _, x := range []float64{6, 18} {
		for _, y := range []float64{4, 12} {
			o := shape.Drain(r, x, y, 0.3)
			o.Invert, o.HasInvert = 0.005, true
		}
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(8, 0))
	return r
}

// modelOf prepares a roof.
func modelOf(tb testing.TB, r *roof.Roof) *model {
	tb.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		tb.Fatal(err)
	}
	e := evidence.ErrorsOf(s, r).Equal(0.004)
	return newModel(&Input{
		Surface: s, Ponds: ps, Errors: e, Criteria: standard.Defaults(), Deep: 0.0508,
		Evidence: evidence.Judge(&evidence.Input{Surface: s, Ponds: ps, Errors: e}),
	})
}

// TestFillingAgrees: the flood on a patch gives the water that package ponding gives: its levels on the whole surface, and each pond's
// depth, area and volume on the whole surface and on the patch about the pond alone; so it does on a replicate of the surface.
func TestFillingAgrees(t *testing.T) {
	ponds := 0
	for seed := range uint64(6) {
		m := modelOf(t, bumpy(seed, 0.02))
		ps := m.Ponds
		all := make([]int32, m.t.Facets())
		for f := range all {
			all[f] = int32(f)
		}
		for i := range ps.Ponds {
			if ps.Ponds[i].Undrained || ps.Ponds[i].Depth == 0 {
				continue
			}
			ponds++
			for name, p := range map[string]*patch{"pond": m.around(ps.Ponds[i].Facets, 1.5), "all": m.around(all, 0)} {
				p.base = make([]float64, len(p.vertex))
				var wet []int32
				for k, v := range p.vertex {
					p.base[k] = m.t.Z[v]
					if ps.Of[v] == int32(i) {
						wet = append(wet, int32(k))
					}
				}
				f := newFiller(newReplica(m, p))
				f.replicate(0)
				f.fill()
				for k, v := range p.vertex {
					if f.filled[k].level != ps.Level[v] {
						t.Fatalf("seed %d, %s: vertex %d at level %v, want %v", seed, name, v, f.filled[k].level, ps.Level[v])
					}
				}
				w, want := newStander(f.replica, wet).standing(), &ps.Ponds[i]
				if !(math.Abs(w.depth-want.Depth) <= 1e-12) || !(math.Abs(w.area-want.Area) <= 1e-9) || !(math.Abs(w.volume-want.Volume) <= 1e-9) {
					t.Errorf("seed %d, %s of pond %d: %+v, want depth %g, area %g, volume %g", seed, name, i, w, want.Depth, want.Area, want.Volume)
				}
			}
		}
		replicaAgrees(t, m, all)
	}
	if ponds < 20 {
		t.Errorf("%d ponds tried", ponds)
	}
}

// TestStandingAgrees: what stands over a pond's vertices on replicates, one after another, is as deep as the flood of the whole patch has it at each
// of them.
func TestStandingAgrees(t *testing.T) {
	wet := 0
	for seed := range uint64(4) {
		m := modelOf(t, bumpy(seed, 0.02))
		for i := range m.Ponds.Ponds {
			pond := &m.Ponds.Ponds[i]
			if pond.Undrained || len(pond.Facets) == 0 {
				continue
			}
			p := m.around(pond.Facets, 3)
			p.base = make([]float64, len(p.vertex))
			var over []int32
			for k, v := range p.vertex {
				p.base[k] = m.t.Z[v]
				if m.Ponds.Of[v] == int32(i) {
					over = append(over, int32(k))
				}
			}
			f := newFiller(newReplica(m, p))
			s, e := newStander(f.replica, over), m.diceAt(pond.Pits[0])
			for range 8 {
				f.draw(e)
				f.replicate(1)
				f.fill()
				s.standing()
				for _, k := range over {
					got := f.z[k]
					if n := s.pool[k]; n >= 0 {
						got = s.waters[n].level
						wet++
					}
					if got != f.filled[k].level {
						t.Fatalf("seed %d, pond %d: vertex %d at level %v, want %v", seed, i, p.vertex[k], got, f.filled[k].level)
					}
				}
			}
		}
	}
	if wet < 1000 {
		t.Errorf("%d vertices under water", wet)
	}
}

// replicaAgrees compares one replicate of the whole surface with package ponding.
func replicaAgrees(t *testing.T, m *model, all []int32) {
	t.Helper()
	p := m.around(all, 0)
	p.base = make([]float64, len(p.vertex))
	for k, v := range p.vertex {
		p.base[k] = m.t.Z[v]
	}
	f := newFiller(newReplica(m, p))
	f.draw(&dice{rand.NewPCG(1, 2)})
	f.replicate(1)
	f.fill()
	z := make([]float64, len(m.t.X))
	for k, v := range p.vertex {
		z[v] = f.z[k]
	}
	outlets := append([]surface.Outlet{}, m.Surface.Outlets...)
	for k, s := range p.sinks {
		o := &outlets[s]
		o.Low = math.Inf(1)
		for _, v := range o.Vertices {
			o.Low = math.Min(o.Low, z[v])
		}
		if o.Line == nil {
			o.Invert += f.in[k]
		}
	}
	ps, err := ponding.Find(m.t, outlets, z)
	if err != nil {
		t.Fatal(err)
	}
	for k, v := range p.vertex {
		if !(math.Abs(f.filled[k].level-ps.Level[v]) <= 1e-12) {
			t.Fatalf("replicate: vertex %d at level %v, want %v", v, f.filled[k].level, ps.Level[v])
		}
	}
}

// TestNormal: mean and standard deviation of what is drawn, its quantiles of 5 and 95 %, and shares against the table of the normal
// distribution (Abramowitz and Stegun, table 26.1, from memory): below 1.6449, 95 %; below 1, 84.13 %; below -2, 2.275 %.
func TestNormal(t *testing.T) {
	e := &dice{rand.NewPCG(1, 1)}
	const n = 200_000
	below, mean, square := 0, 0.0, 0.0
	for range n {
		x := e.next()
		mean, square = mean+x, square+x*x
		if x < 1.6449 {
			below++
		}
	}
	if !(math.Abs(mean/n) <= 0.01) || !(math.Abs(square/n-1) <= 0.01) || !(math.Abs(float64(below)/n-0.95) <= 0.002) {
		t.Errorf("mean %g, variance %g, %g below 1.6449", mean/n, square/n, float64(below)/n)
	}
	for x, want := range map[float64]float64{1.6449: 0.95, 1: 0.8413, -2: 0.02275, 0: 0.5, 5: 1, -7: 0} {
		if !(math.Abs(share(x)-want) <= 1e-4) {
			t.Errorf("below %g: %g, want %g", x, share(x), want)
		}
	}
}
