package ponding

import (
	"fmt"
	"math"
	"testing"

	"runnel/analysis/surface"
)

// TestTableIsTheCurve: the table of every node agrees with the sum over the facets' closed forms, at and
// between corners, and its level is the inverse of its volume.
func TestTableIsTheCurve(t *testing.T) {
	rng := random(31)
	for c := range 300 {
		tin, outlets := randomCase(rng, 8, 2+c%9)
		if c%3 == 0 {
			outlets = outlets[:min(1, len(outlets))]
		}
		compareTable(t, fmt.Sprintf("case %d", c), find(t, tin, outlets...))
	}
	for _, noise := range []float64{0, 0.003} {
		tin := waves(rng, 3000, noise)
		compareTable(t, fmt.Sprintf("waves, noise %g", noise), find(t, tin, openBorder(tin)))
		compareTable(t, fmt.Sprintf("walled waves, noise %g", noise), find(t, tin))
	}
}

func compareTable(t *testing.T, name string, ps *Ponds) {
	t.Helper()
	table := ps.Table()
	for k := range ps.Tree {
		n := &ps.Tree[k]
		if len(ps.Tree) > 100 && k%17 != 0 && n.Parent >= 0 {
			continue
		}
		node, curve := int32(k), ps.curve(int32(k))
		full := curve.Volume(n.Level)
		for _, part := range []float64{0, 0.103, 0.517, 0.771, 1} {
			level := n.Base + part*(n.Level-n.Base)
			if part == 1 {
				level = n.Level
			}
			area, volume := curve.Area(level), curve.Volume(level)
			if a := table.Area(node, level); part > 0 && part < 1 && n.Level > n.Base && !(math.Abs(a-area) <= 1e-9*curve.Area(n.Level)) {
				t.Fatalf("%s: node %d at %v: area %v, want %v", name, k, level, a, area)
			}
			v := table.Volume(node, level)
			if !(math.Abs(v-volume) <= 1e-10*full+1e-15) {
				t.Fatalf("%s: node %d at %v: volume %v, want %v", name, k, level, v, volume)
			}
			if back := table.Volume(node, table.Level(node, v)); !(math.Abs(back-v) <= 1e-12*full+1e-15) {
				t.Fatalf("%s: node %d: level of %v holds %v", name, k, v, back)
			}
		}
		if n.Left >= 0 {
			l, r := &ps.Tree[n.Left], &ps.Tree[n.Right]
			if got, want := table.Volume(node, n.Base), table.Volume(n.Left, l.Level)+table.Volume(n.Right, r.Level); got != want {
				t.Fatalf("%s: node %d begins with %v, its parts hold %v", name, k, got, want)
			}
		}
	}
}

// TestTableGoesOnUpright: above the full level of a box water stands as between walls. By hand: floor 3 x 2.
func TestTableGoesOnUpright(t *testing.T) {
	tin := grid(4, 3, 1, falling, func(int, int) float64 { return 7 })
	table := find(t, tin).Table()
	if a, v := table.Area(0, 8), table.Volume(0, 8); a != 6 || v != 6 {
		t.Errorf("area %v, volume %v, want 6, 6", a, v)
	}
	if l := table.Level(0, 9); l != 8.5 {
		t.Errorf("level %v, want 8.5", l)
	}
}

// A nearly level facet adds a leading coefficient of 1e16 and takes it away again; of a steep one of 1 beside it nothing is lost. By hand: with 0.25 more
// the area is 1.25 x^2 and the volume 1.25 x^3 / 3, 0.3125 and 0.052083 at x = 0.5.
func TestTableLosesNothingBesideALevelFacet(t *testing.T) {
	var r running
	for _, x := range []float64{1e16, 1, -1e16} {
		r.lead(x)
	}
	r.lead(0.25)
	r.rise(0.5)
	if r.p0 != 1.25/4 || r.volume != 1.25/24 {
		t.Errorf("area %v, volume %v, want 0.3125 and 0.0520833", r.p0, r.volume)
	}
}

func BenchmarkTable(b *testing.B) {
	tin := waves(random(6), 100_000, 0.003)
	for name, outlets := range map[string][]surface.Outlet{"open": {openBorder(tin)}, "walled": nil} {
		ps, err := Find(tin, outlets, tin.Z)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name+"/curves", func(b *testing.B) {
			for b.Loop() {
				ps.Table()
			}
		})
		b.Run(name+"/spills", func(b *testing.B) {
			for b.Loop() {
				ps.Spills().All()
			}
		})
	}
}
