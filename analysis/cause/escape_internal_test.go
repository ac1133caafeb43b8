package cause

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// TestEscapeAgreesWithAFloodOfTheWholeRoof: the levels after a change, flooded over one pond alone, must
// be those that package ponding finds for the whole changed roof. Two ways, no number in common.
func TestEscapeAgreesWithAFloodOfTheWholeRoof(t *testing.T) {
	tried := map[string]int{}
	for seed := range uint64(60) {
		s, err := surface.Build(shape.Random(seed, 150), surface.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		sl, err := slope.Of(s, nil, standard.Defaults())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		m := newModel(s, sl, ps, standard.Defaults())
		first, wet := byPond(ps)
		for p := range ps.Ponds[:min(len(ps.Ponds), 6)] {
			if ps.Ponds[p].Undrained {
				continue
			}
			st := m.site(int32(p), wet[first[p]:first[p+1]])
			for _, c := range trials(m, st) {
				tried[c.name]++
				compare(t, seed, m, st, c)
				m.restore(c.change)
			}
		}
	}
	for _, name := range []string{"lip lowered", "outlet dropped", "rise shaved"} {
		if tried[name] < 10 {
			t.Errorf("%s: tried %d times only", name, tried[name])
		}
	}
}

type trial struct {
	name   string
	change change
}

// trials makes the changes one after the other; each is undone before the next is made.
func trials(m *model, st *site) []trial {
	var out []trial
	if lip := st.p.Lip; lip >= 0 {
		out = append(out, trial{"lip lowered", change{outlet: -1, lowered: []int32{lip}}})
	}
	if m.canDrop(st) {
		out = append(out, trial{"outlet dropped", change{outlet: st.outlet, invert: st.low}})
	}
	return append(out, trial{"rise shaved", change{outlet: -1}})
}

func compare(t *testing.T, seed uint64, m *model, st *site, c trial) {
	t.Helper()
	switch c.name {
	case "lip lowered":
		m.z[st.p.Lip] -= st.p.Depth / 2
	case "rise shaved":
		m.shave(st, &c.change)
	}
	outlets := slices.Clone(m.s.Outlets)
	if o := c.change.outlet; o >= 0 {
		outlets[o].Invert = c.change.invert
	}
	for i := range outlets { // the footprint's lowest surface follows the changed elevations
		low := math.Inf(1)
		for _, v := range outlets[i].Vertices {
			low = math.Min(low, m.z[v])
		}
		outlets[i].Low = low
	}
	want, err := ponding.Find(m.t, outlets, m.z)
	if err != nil {
		t.Fatalf("seed %d, %s: %v", seed, c.name, err)
	}
	level := m.flood(st.wet, c.change)
	for _, v := range st.wet {
		if !(math.Abs(level(v)-want.Level[v]) <= 1e-12) {
			t.Errorf("seed %d, pond %d, %s: vertex %d at %g: level %g, the whole roof gives %g",
				seed, st.index, c.name, v, m.z[v], level(v), want.Level[v])
			break
		}
	}
	m.restore(c.change)
	if c.name == "rise shaved" || c.name == "lip lowered" {
		for _, v := range c.change.lowered {
			if m.z[v] != m.t.Z[v] {
				t.Fatalf("vertex %d was not restored", v)
			}
		}
	}
}
