package ponding

import (
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

func TestSpillLeavesThePond(t *testing.T) {
	// At the lip (vertex 7 of the middle row) the pond's own side falls steepest, 5 in 1; the water must
	// take the other side, 1 in 1, though that is flatter.
	profile := []float64{9, 0, 5, 4, 3}
	tin := grid(5, 3, 1, rising, func(i, j int) float64 {
		if i == 2 && j != 1 {
			return 8
		}
		return profile[i]
	})
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{4, 9, 14}))
	if len(ps.Ponds) != 1 || ps.Ponds[0].Lip != 7 || ps.Ponds[0].ToOutlet != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

// hillside is a slope falling along y, with a pond at the top whose water runs straight down the middle
// column of three, past what lies beside it.
func hillside(change func(i, j int, z float64) float64) *surface.TIN {
	return grid(7, 9, 1, rising, func(i, j int) float64 {
		z := 10 - float64(j)
		switch {
		case j == 0:
			z = 14
		case j == 1 && (i == 0 || i == 6):
			z = 13
		case j == 1:
			z = 8.5
		case j == 2 && i != 3:
			z = 12
		case j == 2:
			z = 9
		}
		return change(i, j, z)
	})
}

func TestSpillFollowsSteepestDescent(t *testing.T) {
	same := func(_, _ int, z float64) float64 { return z }
	tests := []struct {
		name   string
		change func(i, j int, z float64) float64
		pond   bool // reaches the second pond
		want   int32
	}{
		{"plane", same, false, 0},
		{"pit in the way", func(i, j int, z float64) float64 {
			if i == 3 && j == 5 {
				return 2
			}
			return z
		}, true, 0},
		{"pit beside the way", func(i, j int, z float64) float64 {
			if i == 0 && j == 5 {
				return 2
			}
			return z
		}, false, 0},
	}
	for _, c := range tests {
		tin := hillside(c.change)
		var bottom []int32
		for v := range tin.X {
			if tin.Y[v] == 8 {
				bottom = append(bottom, int32(v))
			}
		}
		ps := find(t, tin, edgeOutlet(tin, nil, bottom))
		top := -1
		for i := range ps.Ponds {
			if ps.Ponds[i].Lip == 2*7+3 {
				top = i
			}
		}
		if top < 0 {
			t.Errorf("%s: no pond at the top: %+v", c.name, ps.Ponds)
			continue
		}
		p := ps.Ponds[top]
		if c.pond != (p.ToPond >= 0) || !c.pond && p.ToOutlet != c.want {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

func TestSpillEndsInTheFirstFootprint(t *testing.T) {
	// a drain flush with the slope, on the way down from the lip
	tin := hillside(func(_, _ int, z float64) float64 { return z })
	var facets, bottom []int32
	for f := range int32(tin.Facets()) {
		inside := true
		for _, v := range tin.V[3*f : 3*f+3] {
			inside = inside && tin.X[v] >= 2 && tin.X[v] <= 4 && tin.Y[v] >= 5 && tin.Y[v] <= 6
		}
		if inside {
			facets = append(facets, f)
		}
	}
	for v := range tin.X {
		if tin.Y[v] == 8 {
			bottom = append(bottom, int32(v))
		}
	}
	ps := find(t, tin, edgeOutlet(tin, nil, bottom), drain(tin, 3, facets...))
	if len(ps.Ponds) != 1 || ps.Ponds[0].ToOutlet != 1 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
	ps = find(t, tin, edgeOutlet(tin, nil, bottom))
	if len(ps.Ponds) != 1 || ps.Ponds[0].ToOutlet != 0 {
		t.Errorf("blocked: ponds %+v", ps.Ponds)
	}
}

func TestEqualLips(t *testing.T) {
	// Two ways out at elevation 1, at both ends: the lowest id counts.
	profile := []float64{0, 1, -1, 1, 0}
	tin := grid(5, 2, 1, rising, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{4, 9}), edgeOutlet(tin, nil, []int32{0, 5}))
	if len(ps.Ponds) != 1 || ps.Ponds[0].Lip != 1 || ps.Ponds[0].ToOutlet != 1 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

func TestPondsOfOneLevelDoNotSpillInACircle(t *testing.T) {
	// Three pits with all saddles at 1, only the last has a way out: each spills towards it.
	profile := []float64{9, 0, 1, -1, 1, 0, 1, 0}
	tin := grid(8, 2, 1, falling, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{7, 15}))
	if len(ps.Ponds) != 3 {
		t.Fatalf("ponds %+v", ps.Ponds)
	}
	at := func(v int32) *Pond { return &ps.Ponds[ps.Of[v]] }
	if at(1).ToPond != ps.Of[3] || at(3).ToPond != ps.Of[5] || at(5).ToOutlet != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

func TestPlateauSpillsOverItsNearestRim(t *testing.T) {
	// A pond, then a level shelf of three columns at 1, then down to an open edge.
	profile := []float64{5, 0, 1, 1, 1, 0}
	tin := grid(6, 3, 1, rising, func(i, _ int) float64 { return profile[i] })
	ps := find(t, tin, edgeOutlet(tin, nil, []int32{5, 11, 17}))
	if len(ps.Ponds) != 1 || ps.Ponds[0].Level != 1 || ps.Ponds[0].Lip != 2 || ps.Ponds[0].ToOutlet != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

func TestOverflowAbovePrimary(t *testing.T) {
	// With the primary outlet the pond stands at its invert; with it blocked, at the overflow's.
	tin := dish()
	primary, overflow := drain(tin, -0.08, 0, 3, 6), pointOutlet(tin, -0.03, 0, 5)
	overflow.Duty = roof.Overflow
	for _, c := range []struct {
		outlets []surface.Outlet
		level   float64
		by      int32
	}{
		{[]surface.Outlet{primary, overflow}, -0.08, 0},
		{[]surface.Outlet{overflow, primary}, -0.08, 1},
		{[]surface.Outlet{overflow}, -0.03, 0},
	} {
		ps := find(t, tin, c.outlets...)
		if len(ps.Ponds) != 1 || ps.Ponds[0].Level != c.level || ps.Ponds[0].HeldBy != c.by || ps.Ponds[0].ToOutlet != c.by {
			t.Errorf("ponds %+v", ps.Ponds)
		}
	}
}

func TestHighOutletOnASlopeIsPassed(t *testing.T) {
	// A drain whose rim stands above a slope holds no water: it runs by.
	tin := grid(5, 5, 1, rising, func(_, j int) float64 { return float64(j) })
	ps := find(t, tin, drain(tin, 2.5, 8, 9), edgeOutlet(tin, nil, []int32{0, 1, 2, 3, 4}))
	if len(ps.Ponds) != 0 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

func TestPitAtAnInvertIsAPondWithoutDepth(t *testing.T) {
	// The footprint spans two pits; the invert is at the bottom of the higher one. Dry paths end there, as
	// the outlet takes standing water only.
	tin := grid(4, 2, 1, rising, func(i, _ int) float64 { return []float64{0, 3, 1, 3}[i] })
	ps := find(t, tin, pointOutlet(tin, 1, 0, 1, 2))
	if len(ps.Ponds) != 2 || ps.OfPit[0] != 0 || ps.OfPit[2] != 1 {
		t.Fatalf("ponds %+v", ps.Ponds)
	}
	if p := ps.Ponds[1]; p.Depth != 0 || p.Volume != 0 || p.HeldBy != 0 || p.ToOutlet != 0 || p.Undrained {
		t.Errorf("pond %+v", p)
	}
	if o := ps.Outline(1); len(o) != 0 {
		t.Errorf("outline %v", o)
	}
}

// Two outlets whose footprints each span a pit at 0 and one at 1, with the invert between: water that stands without depth in either higher pit, both at
// one level, is taken by the outlet over it.
func TestPitsOfOneLevelAreHeldEachByItsOwnOutlet(t *testing.T) {
	tin := grid(8, 2, 1, rising, func(i, _ int) float64 { return []float64{0, 3, 1, 4}[i%4] })
	ps := find(t, tin, pointOutlet(tin, 0.5, 0, 1, 2), pointOutlet(tin, 0.5, 4, 5, 6))
	for v, want := range map[int32]int32{2: 0, 6: 1} {
		if p := ps.Ponds[ps.OfPit[v]]; p.HeldBy != want || p.ToOutlet != want || p.Depth != 0 {
			t.Errorf("pit at vertex %d: %+v, want outlet %d", v, p, want)
		}
	}
}

func TestOutletWithoutFootprintTakesNothing(t *testing.T) {
	tin := dish()
	ps := find(t, tin, surface.Outlet{ID: "D01", Invert: -1, Low: -1}, pointOutlet(tin, -0.03, 0, 5))
	if len(ps.Ponds) != 1 || ps.Ponds[0].Level != -0.03 || ps.Ponds[0].ToOutlet != 1 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}
