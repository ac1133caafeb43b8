package ponding

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

func outlineArea(o Outline) float64 {
	sum := 0.0
	for _, polygon := range o {
		for _, r := range polygon {
			sum += vector.Area(r)
		}
	}
	return sum
}

func TestOutlineOfDish(t *testing.T) {
	tin := dish()
	ps := find(t, tin, drain(tin, -0.05, 0, 3, 6))
	o := ps.Outline(0)
	if len(o) != 1 || len(o[0]) != 1 || len(o[0][0]) != 25 || o[0][0][0] != o[0][0][24] {
		t.Fatalf("outline %v", o)
	}
	for _, p := range o[0][0] { // half the depth, half the radius
		if r := math.Hypot(p[0], p[1]); !(math.Abs(r-1.5) <= 1e-14) {
			t.Errorf("corner %v at radius %v", p, r)
		}
	}
}

// An island goes to the water round it, told by the middle of its first side, whichever way that runs: here beside the slanted shore of the second.
func TestIslandsGoToTheWaterRoundThem(t *testing.T) {
	other := orb.Ring{{20, 0}, {30, 0}, {30, 10}, {20, 0}}
	shore := orb.Ring{{0, 0}, {10, 0}, {0, 10}, {0, 0}}
	for _, island := range []orb.Ring{{{1, 8}, {8, 1}, {1, 1}, {1, 8}}, {{8, 1}, {1, 1}, {1, 8}, {8, 1}}, {{1, 1}, {1, 8}, {8, 1}, {1, 1}}} {
		if o := nest([]orb.Ring{other, shore, island}); len(o) != 2 || len(o[0]) != 1 || len(o[1]) != 2 {
			t.Errorf("island %v: %v", island, o)
		}
	}
}

func TestOutlineWithIslands(t *testing.T) {
	// A walled 6 by 6 basin of depth 1, at each of two inner points an island that tops out above water
	// and one that just reaches it; where the way out is, the rim is at the level.
	high := map[[2]int]float64{{2, 2}: 1, {4, 4}: 3, {4, 2}: 0, {0, 0}: 0}
	tin := grid(7, 7, 1, rising, func(i, j int) float64 { return high[[2]int{i, j}] - 1 })
	for v := range tin.Z {
		if i, j := v%7, v/7; i == 0 || j == 0 || i == 6 || j == 6 {
			tin.Z[v] = 2
		}
	}
	tin.Z[0] = 0
	ps := find(t, tin, pointOutlet(tin, 0, 0))
	if len(ps.Ponds) != 1 || ps.Ponds[0].Level != 0 {
		t.Fatalf("ponds %+v", ps.Ponds)
	}
	o := ps.Outline(0)
	if len(o) != 1 || len(o[0]) != 2 { // outer and the island at 4,4; the one at 2,2 is a point
		t.Fatalf("outline %v", o)
	}
	if o[0][0].Orientation() != orb.CCW || o[0][1].Orientation() != orb.CW || !planar.RingContains(o[0][1], orb.Point{4, 4}) {
		t.Errorf("outline %v", o)
	}
	// The island: its six neighbours are at -1, its top at 2, so the hole is the hexagon of area 3 scaled
	// by 2/3.
	if a := -vector.Area(o[0][1]); !about(a, 3*4.0/9) {
		t.Errorf("island of %v", a)
	}
}

func TestOutlineFollowsCurbAndWall(t *testing.T) {
	// A level floor with walls and a curb, all under water: the outline is the roof's.
	full := grid(4, 4, 1, rising, func(int, int) float64 { return 0 })
	var points [][3]float64
	for v := range full.X {
		points = append(points, [3]float64{full.X[v], full.Y[v], 0})
	}
	var facets [][3]int32
	for f := range full.Facets() {
		if f/2 != 4 { // the middle cell
			facets = append(facets, [3]int32(full.V[3*f:3*f+3]))
		}
	}
	tin := tinOf(points, facets)
	ps := find(t, tin, pointOutlet(tin, 0.5, 0))
	o := ps.Outline(0)
	if len(o) != 1 || len(o[0]) != 2 || vector.Area(o[0][0]) != 9 || vector.Area(o[0][1]) != -1 {
		t.Errorf("outline %v", o)
	}
	if p := ps.Ponds[0]; p.Area != 8 || p.Volume != 4 {
		t.Errorf("area %v volume %v, want 8 and 4", p.Area, p.Volume)
	}
}

// TestOutlineRandom holds outlines against the rules of simple features, by another library, and their
// area against the sum over facets.
func TestOutlineRandom(t *testing.T) {
	rings := 0
	check := func(name string, s *surface.Surface) {
		ps := find(t, s.Cut, s.Outlets...)
		for i := range ps.Ponds {
			o := ps.Outline(int32(i))
			if a := outlineArea(o); !(math.Abs(a-ps.Ponds[i].Area) <= 1e-9) {
				t.Fatalf("%s pond %d: outline of %v, facets of %v", name, i, a, ps.Ponds[i].Area)
			}
			text, err := wkb.Marshal(o)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := geom.UnmarshalWKB(text); err != nil {
				t.Fatalf("%s pond %d: %v: %v", name, i, err, o)
			}
			for _, p := range o {
				rings += len(p)
			}
			onOutline(t, ps, int32(i), o)
		}
	}
	eachSurface(t, check)
	rng := random(2)
	for trial := range 300 {
		tin, outlets := randomCase(rng, 9, 2+trial%9)
		check(fmt.Sprintf("trial %d", trial), &surface.Surface{Cut: tin, Outlets: outlets})
	}
	// roofs where two curbs, or a curb and the wall, touch in a point
	for _, seed := range []uint64{1001, 1012, 1016, 1034, 1085, 1115} {
		check(fmt.Sprintf("roof %d", seed), built(t, seed, 50+int(seed*37%3000)))
	}
	if rings < 500 {
		t.Errorf("only %d rings were tried", rings)
	}
}

// onOutline checks that every corner of the outline lies at the level or on the border of the surface, by
// looking it up among the edges of the TIN.
func onOutline(t *testing.T, ps *Ponds, pond int32, o Outline) {
	t.Helper()
	level := ps.Ponds[pond].Level
	places := map[orb.Point]bool{}
	for e := range ps.t.V {
		a, b := ps.t.V[e], ps.t.V[surface.Next(int32(e))]
		if ps.t.Twin[e] < 0 {
			places[orb.Point{ps.t.X[a], ps.t.Y[a]}], places[orb.Point{ps.t.X[b], ps.t.Y[b]}] = true, true
		}
		for _, v := range []int32{a, b} {
			if ps.z[v] == level {
				places[orb.Point{ps.t.X[v], ps.t.Y[v]}] = true
			}
		}
		if ps.z[b] < ps.z[a] {
			a, b = b, a
		}
		if ps.z[a] < level && ps.z[b] > level {
			s := (level - ps.z[a]) / (ps.z[b] - ps.z[a])
			places[orb.Point{ps.t.X[a] + float64(s*(ps.t.X[b]-ps.t.X[a])), ps.t.Y[a] + float64(s*(ps.t.Y[b]-ps.t.Y[a]))}] = true
		}
	}
	for _, polygon := range o {
		for _, r := range polygon {
			for _, p := range r {
				if !places[p] {
					t.Fatalf("pond %d: corner %v is neither at the level nor on the border", pond, p)
				}
			}
		}
	}
}
