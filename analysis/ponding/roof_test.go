package ponding

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// built makes the surface of a random roof.
func built(t *testing.T, seed uint64, spots int) *surface.Surface {
	t.Helper()
	s, err := surface.Build(shape.Random(seed, spots), surface.Options{})
	if err != nil {
		t.Fatalf("roof %d: %v", seed, err)
	}
	return s
}

// surfaceOf makes the surface that package flow reads from a case of whole numbers.
func surfaceOf(t *surface.TIN, outlets []surface.Outlet) *surface.Surface {
	s := &surface.Surface{TIN: t, Cut: t, Outlets: outlets}
	d := newDescent(&Ponds{t: t, z: t.Z})
	t.Run = make([]int8, len(t.V))
	for f := range int32(t.Facets()) {
		i, j, k := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		down := d.downhill(f)
		t.DX, t.DY = append(t.DX, 0-down[0]), append(t.DY, 0-down[1])
		s.Area += vector.Cross(d.to(i, j), d.to(i, k)) / 2
		// twice the area times the fall, in whole numbers
		p, q, zp, zq := d.to(i, j), d.to(i, k), t.Z[j]-t.Z[i], t.Z[k]-t.Z[i]
		whole := orb.Point{zq*p[1] - zp*q[1], zp*q[0] - zq*p[0]}
		for e := 3 * f; e < 3*f+3; e++ {
			if out := vector.Cross(d.to(t.V[e], t.V[surface.Next(e)]), whole); out < 0 {
				t.Run[e] = 1
			} else if out > 0 {
				t.Run[e] = -1
			}
		}
	}
	return s
}

// eachSurface runs a check on random roofs and on random cases of whole numbers.
func eachSurface(t *testing.T, check func(name string, s *surface.Surface)) {
	t.Helper()
	for seed := range uint64(40) {
		check(fmt.Sprintf("roof %d", seed), built(t, seed, 100+int(seed)*10))
		tin, outlets := randomCase(random(seed), 12, 2+int(seed)%12)
		check(fmt.Sprintf("case %d", seed), surfaceOf(tin, outlets))
	}
}

// TestPitsOfFlow holds the pits in which dry paths end, found facet by facet, against the tree's.
func TestPitsOfFlow(t *testing.T) {
	pits := 0
	eachSurface(t, func(name string, s *surface.Surface) {
		ps := find(t, s.Cut, s.Outlets...)
		n, err := flow.Trace(s, flow.Options{LabelsOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		ends := 0
		for _, e := range n.Ends {
			if e.Pit < 0 {
				continue
			}
			if ends++; ps.OfPit[e.Pit] < 0 {
				t.Errorf("%s: paths end at vertex %d, which is no pit of the tree", name, e.Pit)
			}
		}
		for _, p := range ps.OfPit {
			if p >= 0 {
				ends--
			}
		}
		if ends != 0 {
			t.Errorf("%s: %d pits more by flow", name, ends)
		}
		pits += len(ps.Tree)
	})
	if pits < 500 {
		t.Errorf("only %d pits were seen", pits)
	}
}

// TestDescentAgainstFlow follows water from random places and compares where it ends with the labels that
// package flow pulls up from the outlets. Places on level ground and those within a micrometre of another
// label are left out.
func TestDescentAgainstFlow(t *testing.T) {
	tried, apart := 0, 0
	eachSurface(t, func(name string, s *surface.Surface) {
		ps := find(t, s.Cut, s.Outlets...)
		n, err := flow.Trace(s, flow.Options{LabelsOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		rng := random(1)
		d := newDescent(ps)
		d.dry = true
		for range 500 {
			f := int32(rng.IntN(s.Cut.Facets()))
			p := inside(rng, s.Cut, f)
			if down := d.downhill(f); down[0] == 0 && down[1] == 0 {
				continue
			}
			got, want := d.fromFacet(f, orb.Point{p[0], p[1]}), n.Ends[n.LabelOf(flow.Place{Facet: f, Point: p})]
			tried++
			if got.outlet == want.Outlet && got.pit == want.Pit {
				continue
			}
			near := false
			for k := range 8 {
				q := orb.Point{p[0] + float64(k%3-1)*1e-6, p[1] + float64(k/3-1)*1e-6}
				e := n.Ends[n.LabelOf(flow.Place{Facet: f, Point: q})]
				near = near || e.Outlet == got.outlet && e.Pit == got.pit
			}
			if apart++; !near {
				t.Errorf("%s facet %d at %v: ends in %+v, label %+v", name, f, p, got, want)
			}
		}
	})
	if apart > tried/100 {
		t.Errorf("%d of %d places lie at a border", apart, tried)
	}
	t.Logf("%d places, %d at a border", tried, apart)
}

func inside(rng *rand.Rand, t *surface.TIN, f int32) orb.Point {
	a, b := rng.Float64(), rng.Float64()
	if a+b > 1 {
		a, b = 1-a, 1-b
	}
	i, j, k := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	return orb.Point{
		t.X[i] + a*(t.X[j]-t.X[i]) + b*(t.X[k]-t.X[i]),
		t.Y[i] + a*(t.Y[j]-t.Y[i]) + b*(t.Y[k]-t.Y[i]),
	}
}

// fromFacet follows water from a place inside facet f.
func (d *descent) fromFacet(f int32, p orb.Point) outcome {
	if o := first(d.ps.sinks.facet, f); o >= 0 {
		return outcome{-1, o, -1}
	}
	t, down := d.ps.t, d.downhill(f)
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := t.V[e], t.V[surface.Next(e)]
		if vector.Cross(d.to(a, b), down) >= 0 {
			continue // water comes in, or runs along
		}
		l := vector.Cross(orb.Point{t.X[a] - p[0], t.Y[a] - p[1]}, down)
		r := vector.Cross(orb.Point{t.X[b] - p[0], t.Y[b] - p[1]}, down)
		if l*r > 0 {
			continue
		}
		d.steps, d.edges = 4*len(t.V), false
		v, end, done := d.across(e, d.hit(e, p, down))
		if done {
			return end
		}
		return d.run(v, false, anywhere)
	}
	return outcome{-1, -1, -1}
}
