package ponding

import (
	"errors"
	"math"
	"slices"
	"testing"

	"runnel/analysis/fault"
	"runnel/analysis/surface"
)

// moved returns the case shifted by whole numbers.
func moved(t *surface.TIN, outlets []surface.Outlet, dx, dy, dz float64) (*surface.TIN, []surface.Outlet) {
	c := *t
	c.X, c.Y, c.Z = slices.Clone(t.X), slices.Clone(t.Y), slices.Clone(t.Z)
	for v := range c.X {
		c.X[v], c.Y[v], c.Z[v] = c.X[v]+dx, c.Y[v]+dy, c.Z[v]+dz
	}
	o := slices.Clone(outlets)
	for i := range o {
		o[i].Invert, o[i].Low = o[i].Invert+dz, o[i].Low+dz
	}
	return &c, o
}

func TestShift(t *testing.T) {
	rng := random(7)
	for trial := range 100 {
		tin, outlets := randomCase(rng, 9, 2+trial%9)
		ps := find(t, tin, outlets...)
		tin2, outlets2 := moved(tin, outlets, 1024, -4096, 64)
		ps2 := find(t, tin2, outlets2...)
		if !slices.Equal(ps.Of, ps2.Of) || !slices.Equal(ps.OfPit, ps2.OfPit) {
			t.Fatalf("trial %d: other ponds after a shift", trial)
		}
		for i := range ps.Ponds {
			p, q := &ps.Ponds[i], &ps2.Ponds[i]
			if p.Area != q.Area || p.Volume != q.Volume || p.Level+64 != q.Level || p.Lip != q.Lip ||
				p.ToPond != q.ToPond || p.ToOutlet != q.ToOutlet || p.HeldBy != q.HeldBy {
				t.Fatalf("trial %d: %+v became %+v", trial, p, q)
			}
		}
	}
}

// TestReorder renumbers vertices and facets. Levels, areas and volumes may not change; lips may, where
// several are equal.
func TestReorder(t *testing.T) {
	rng := random(8)
	for trial := range 100 {
		tin, outlets := randomCase(rng, 9, 2+trial%9)
		ps := find(t, tin, outlets...)
		to := rng.Perm(len(tin.X))
		points := make([][3]float64, len(to))
		for v, w := range to {
			points[w] = [3]float64{tin.X[v], tin.Y[v], tin.Z[v]}
		}
		order := rng.Perm(tin.Facets())
		facets := make([][3]int32, len(order))
		for f, g := range order {
			c, turn := tin.V[3*f:3*f+3], rng.IntN(3)
			for i := range 3 {
				facets[g][i] = int32(to[c[(i+turn)%3]])
			}
		}
		mixed := slices.Clone(outlets)
		for i := range mixed {
			mixed[i].Vertices, mixed[i].Facets, mixed[i].Edges = nil, nil, nil
			for _, v := range outlets[i].Vertices {
				mixed[i].Vertices = append(mixed[i].Vertices, int32(to[v]))
			}
			for _, f := range outlets[i].Facets {
				mixed[i].Facets = append(mixed[i].Facets, int32(order[f]))
			}
		}
		ps2 := find(t, tinOf(points, facets), mixed...)
		if len(ps.Ponds) != len(ps2.Ponds) {
			t.Fatalf("trial %d: %d ponds became %d", trial, len(ps.Ponds), len(ps2.Ponds))
		}
		for v, w := range to {
			if ps.Level[v] != ps2.Level[w] || (ps.Of[v] < 0) != (ps2.Of[w] < 0) {
				t.Fatalf("trial %d: vertex at %v became %v", trial, ps.Level[v], ps2.Level[w])
			}
			if i, k := ps.Of[v], ps2.Of[w]; i >= 0 {
				p, q := &ps.Ponds[i], &ps2.Ponds[k]
				if !about(p.Area, q.Area) || !about(p.Volume, q.Volume) || p.HeldBy != q.HeldBy || len(p.Pits) != len(q.Pits) {
					t.Fatalf("trial %d: %+v became %+v", trial, p, q)
				}
			}
		}
	}
}

// TestLips checks what a lip must be: at the level, beside the pond, and the lowest id of all such
// vertices from which water finds a way out without passing the pond, or level ground, first.
func TestLips(t *testing.T) {
	rng := random(9)
	seen := 0
	for trial := range 200 {
		tin, outlets := randomCase(rng, 9, 40)
		ps := find(t, tin, outlets...)
		for i := range ps.Ponds {
			p := &ps.Ponds[i]
			if p.Lip < 0 {
				continue
			}
			beside := func(v int32) bool {
				return slices.ContainsFunc(ps.star.neighbours(v), func(y int32) bool { return ps.Of[y] == int32(i) })
			}
			if ps.z[p.Lip] != p.Level || !beside(p.Lip) {
				t.Fatalf("trial %d: lip %d at %v of pond at %v", trial, p.Lip, ps.z[p.Lip], p.Level)
			}
			for v := range p.Lip {
				lower := slices.ContainsFunc(ps.star.neighbours(v), func(y int32) bool {
					return ps.z[y] < p.Level && (ps.Of[y] < 0 || ps.Ponds[ps.Of[y]].Level < p.Level)
				})
				if ps.z[v] == p.Level && beside(v) && lower {
					t.Fatalf("trial %d: pond %d spills at %d, not %d", trial, i, p.Lip, v)
				}
			}
			seen++
		}
	}
	if seen < 100 {
		t.Errorf("only %d lips were seen", seen)
	}
}

func TestRefuses(t *testing.T) {
	tin := grid(3, 3, 1, rising, func(i, j int) float64 { return float64(i * j) })
	for name, call := range map[string]func() error{
		"too few elevations": func() error { _, err := Find(tin, nil, tin.Z[:8]); return err },
		"no number": func() error {
			_, err := Find(tin, nil, []float64{0, 0, 0, 0, math.NaN(), 0, 0, 0, 0})
			return err
		},
		"infinite": func() error {
			_, err := Find(tin, nil, []float64{0, 0, 0, 0, math.Inf(-1), 0, 0, 0, 0})
			return err
		},
		"outlet beyond the surface": func() error {
			_, err := Find(tin, []surface.Outlet{{Vertices: []int32{9}}}, tin.Z)
			return err
		},
		"outlet without elevation": func() error {
			_, err := Find(tin, []surface.Outlet{{Invert: math.NaN(), Vertices: []int32{0}}}, tin.Z)
			return err
		},
	} {
		var broken *fault.Error
		if err := call(); !errors.As(err, &broken) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestCheckFindsWhatIsWrong breaks results one by one.
func TestCheckFindsWhatIsWrong(t *testing.T) {
	profile := []float64{3, 0, 2, 0, 1, 0}
	tin := grid(6, 2, 1, falling, func(i, _ int) float64 { return profile[i] })
	for name, spoil := range map[string]func(ps *Ponds){
		"nothing":         func(*Ponds) {},
		"level":           func(ps *Ponds) { ps.Level[1] = math.Nextafter(ps.Level[1], 9) },
		"volume":          func(ps *Ponds) { ps.Ponds[1].Volume *= 1 + 1e-8 },
		"spills up":       func(ps *Ponds) { ps.Ponds[1].ToPond = 0 },
		"spills nowhere":  func(ps *Ponds) { ps.Ponds[1].ToOutlet = -1 },
		"missing a facet": func(ps *Ponds) { ps.Ponds[0].Facets = ps.Ponds[0].Facets[1:] },
	} {
		ps := find(t, tin, edgeOutlet(tin, nil, []int32{5, 11}))
		spoil(ps)
		if err := ps.check(); (err == nil) != (name == "nothing") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestByElevation(t *testing.T) {
	rng := random(10)
	for _, n := range []int{0, 1, 100, 5000} {
		z := make([]float64, n)
		for i := range z {
			switch rng.IntN(4) {
			case 0:
				z[i] = float64(rng.IntN(5) - 2)
			case 1:
				z[i] = math.Copysign(0, -1)
			default:
				z[i] = rng.NormFloat64()
			}
		}
		got := byElevation(z)
		for k := 1; k < n; k++ {
			a, b := got[k-1], got[k]
			if z[a] > z[b] || z[a] == z[b] && a >= b {
				t.Fatalf("%d of %d: %v (%d) before %v (%d)", k, n, z[a], a, z[b], b)
			}
		}
	}
}
