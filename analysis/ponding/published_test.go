package ponding

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// numbers runs a line of R that prints numbers.
func numbers(t *testing.T, pkg, script string) []float64 {
	t.Helper()
	var list []float64
	for _, word := range strings.Fields(string(reference.R(t, pkg, script))) {
		f, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, f)
	}
	return list
}

// triangulated makes a TIN of integer points by the project's own triangulation.
func triangulated(t *testing.T, x, y, z []int32) *surface.TIN {
	t.Helper()
	m, crossings, err := mesh.Triangulate(x, y, z, nil)
	if err != nil || len(crossings) > 0 {
		t.Fatal(err, crossings)
	}
	var points [][3]float64
	for v := range m.X {
		points = append(points, [3]float64{float64(m.X[v]), float64(m.Y[v]), float64(m.Z[v])})
	}
	var facets [][3]int32
	for f := range len(m.V) / 3 {
		facets = append(facets, [3]int32(m.V[3*f:3*f+3]))
	}
	return tinOf(points, facets)
}

// topo is the 52 spot heights of Davis, Statistics and Data Analysis in Geology, 1973, as in R's MASS:
// plan in units of 50 ft, heights in feet.
func topo(t *testing.T) *surface.TIN {
	t.Helper()
	list := numbers(t, "r-cran-mass", `cat(t(as.matrix(MASS::topo)))`)
	var x, y, z []int32
	for i := 0; i+2 < len(list); i += 3 {
		x, y = append(x, int32(math.Round(50*list[i]))), append(y, int32(math.Round(50*list[i+1])))
		z = append(z, int32(math.Round(list[i+2])))
	}
	if len(x) != 52 {
		t.Fatalf("%d spots, want 52", len(x))
	}
	return triangulated(t, x, y, z)
}

// Expected values for topo and volcano: exact rationals over the Delaunay triangulation with exact
// predicates, computed apart from this program.

func TestTopoTriangles(t *testing.T) {
	tin, border := topo(t), 0
	for _, o := range tin.Twin {
		if o < 0 {
			border++
		}
	}
	if len(tin.V)/3 != 87 || border != 15 {
		t.Errorf("%d triangles and %d vertices on the hull, want 87 and 15", len(tin.V)/3, border)
	}
}

func TestTopoOpenBorder(t *testing.T) {
	tin := topo(t)
	ps := find(t, tin, openBorder(tin))
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds, want 1", len(ps.Ponds))
	}
	p := ps.Ponds[0]
	if p.Level != 880 || p.Depth != 10 || !about(p.Area, 73425.0/76) || !about(p.Volume, 122375.0/38) {
		t.Errorf("pond %+v", p)
	}
}

func TestTopoOneOutlet(t *testing.T) {
	tin := topo(t)
	at := slices.Index(tin.Z, 690)
	if tin.X[at] != 180 || tin.Y[at] != 310 {
		t.Fatalf("lowest spot at %v %v", tin.X[at], tin.Y[at])
	}
	ps := find(t, tin, pointOutlet(tin, 690, int32(at)))
	sum := 0.0
	for i := range ps.Ponds {
		sum += ps.Ponds[i].Volume
	}
	if len(ps.Ponds) != 2 || !(math.Abs(sum-12_023.425) <= 5e-4) {
		t.Errorf("%d ponds of %v", len(ps.Ponds), sum)
	}
}

func TestTopoVolume(t *testing.T) {
	// With no way out the water fills to the highest spot: its volume is the hull's 89,975 sq ft times that
	// less 74,820,375 cu ft, the volume of the ground above zero.
	tin := topo(t)
	top := slices.Max(tin.Z)
	p := find(t, tin).Ponds[0]
	if !p.Undrained || p.Level != top || !about(p.Volume, 89_975*top-74_820_375) || !about(p.Area, 89_975) {
		t.Errorf("pond %+v", p)
	}
}

// volcano returns the heights of R's volcano, 87 by 61 on a 10 m grid.
func volcano(t *testing.T) []float64 {
	t.Helper()
	z := numbers(t, "r-base-core", `cat(volcano)`)
	sum := 0.0
	for _, h := range z {
		sum += h
	}
	if len(z) != 87*61 || sum != 690_907 {
		t.Fatalf("%d heights, sum %v", len(z), sum)
	}
	return z
}

// lake returns the pond at elevation 168.
func lake(t *testing.T, ps *Ponds) Pond {
	t.Helper()
	for i := range ps.Ponds {
		if ps.Ponds[i].Level == 168 && ps.Ponds[i].Depth == 20 {
			return ps.Ponds[i]
		}
	}
	t.Fatalf("no lake at 168 with its bottom at 148 in %d ponds", len(ps.Ponds))
	return Pond{}
}

func TestVolcanoLake(t *testing.T) {
	z := volcano(t)
	for _, c := range []struct {
		diagonal    bool
		lake, ponds float64
	}{{rising, 12_577_835.0 / 144, 268_626.030}, {falling, 44_007_839.0 / 504, 268_829.641}} {
		tin := grid(87, 61, 10, c.diagonal, func(i, j int) float64 { return z[j*87+i] })
		ps := find(t, tin, openBorder(tin))
		if p := lake(t, ps); !about(p.Volume, c.lake) {
			t.Errorf("lake of %v, want %v", p.Volume, c.lake)
		}
		wet := 0
		for v := range ps.Of {
			if ps.Of[v] >= 0 && ps.Level[v] == 168 {
				wet++
			}
		}
		if wet != 103 {
			t.Errorf("%d vertices under the lake, want 103", wet)
		}
		// one outlet at the lowest vertex
		low := int32(slices.Index(tin.Z, slices.Min(tin.Z)))
		ps = find(t, tin, pointOutlet(tin, tin.Z[low], low))
		sum := 0.0
		for i := range ps.Ponds {
			sum += ps.Ponds[i].Volume
		}
		if len(ps.Ponds) != 5 || !(math.Abs(sum-c.ponds) <= 5e-4) {
			t.Errorf("%d ponds of %v, want 5 of %v", len(ps.Ponds), sum, c.ponds)
		}
	}
}

func TestVolcanoLakeByTieRule(t *testing.T) {
	z := volcano(t)
	var x, y, h []int32
	for v := range z {
		x, y, h = append(x, int32(10*(v%87))), append(y, int32(10*(v/87))), append(h, int32(z[v]))
	}
	tin := triangulated(t, x, y, h)
	if p := lake(t, find(t, tin, openBorder(tin))); !(math.Abs(p.Volume-87_186.268) <= 5e-4) {
		t.Errorf("lake of %v, want 87,186.268", p.Volume)
	}
}

func TestRailroadCutting(t *testing.T) {
	// Vose, Handbook of Railroad Construction, 1857, art. 108: base 20, slopes 1 1/2 to 1, cuts 0, 5, 10,
	// 15, 0 at 50 ft. The prismoidal formula over its end areas 0, 137.5, 350, 637.5 and the mid-areas
	// 59.375, 234.375, 484.375, 234.375 gives 52,500 cubic feet. Here it is a cutting full of water.
	var points [][3]float64
	for i, cut := range []float64{0, 5, 10, 15, 0} {
		x := float64(50 * i)
		points = append(points, [3]float64{x, -10 - 1.5*cut, 0}, [3]float64{x, -10, -cut}, [3]float64{x, 10, -cut}, [3]float64{x, 10 + 1.5*cut, 0})
	}
	var facets [][3]int32
	for i := range int32(4) {
		for k := range int32(3) {
			a, b, c, d := 4*i+k, 4*i+4+k, 4*i+5+k, 4*i+1+k
			for _, f := range [][3]int32{{a, b, c}, {a, c, d}} {
				p, q, r := points[f[0]], points[f[1]], points[f[2]]
				if p != q && q != r && r != p { // the ends have no sides
					facets = append(facets, f)
				}
			}
		}
	}
	// the corners of an end without sides are one point each
	for f := range facets {
		for c, v := range facets[f] {
			switch v {
			case 0, 16:
				facets[f][c] = v + 1
			case 3, 19:
				facets[f][c] = v - 1
			}
		}
	}
	number := map[[3]float64]bool{}
	for _, p := range points {
		number[p] = true
	}
	points, facets = used(points, facets)
	if len(points) != len(number) {
		t.Fatalf("%d points, want %d", len(points), len(number))
	}
	tin := tinOf(points, facets)
	ps := find(t, tin, openBorder(tin))
	if len(ps.Ponds) != 1 || !about(ps.Ponds[0].Volume, 52_500) {
		t.Errorf("ponds %+v", ps.Ponds)
	}
}

// basin is a rectangle l by w at level 0 with sides sloping inwards to a floor or a line at -depth, run in
// plan from side to floor.
func basin(l, w, run, depth float64) *surface.TIN {
	points := [][3]float64{
		{0, 0, 0},
		{l, 0, 0},
		{l, w, 0},
		{0, w, 0},
		{run, run, -depth},
		{l - run, run, -depth},
		{l - run, w - run, -depth},
		{run, w - run, -depth},
	}
	facets := [][3]int32{{4, 5, 6}, {4, 6, 7}}
	if 2*run == w { // a line
		points = points[:6]
		return tinOf(points, [][3]int32{{0, 1, 5}, {0, 5, 4}, {1, 2, 5}, {2, 3, 4}, {2, 4, 5}, {3, 0, 4}})
	}
	for i := range int32(4) {
		a, b := i, (i+1)%4
		facets = append(facets, [3]int32{a, b, b + 4}, [3]int32{a, b + 4, a + 4})
	}
	return tinOf(points, facets)
}

func TestHippedBasin(t *testing.T) {
	// A hip roof turned over: s W^2 (3L - W) / 12; 10 by 6 gives 72 s, 30 by 20 gives 2333.33 s.
	const s = 0.02
	for _, c := range []struct{ l, w, want float64 }{{10, 6, 72 * s}, {30, 20, 7000.0 / 3 * s}} {
		tin := basin(c.l, c.w, c.w/2, s*c.w/2)
		ps := find(t, tin, openBorder(tin))
		if len(ps.Ponds) != 1 || !(math.Abs(ps.Ponds[0].Volume/c.want-1) <= 1e-12) {
			t.Errorf("%v by %v: %+v, want %v", c.l, c.w, ps.Ponds, c.want)
		}
	}
}

func TestDugout(t *testing.T) {
	// The prismoidal formula for a dugout, depth/6 (top + bottom + 4 middle areas): top 20 by 12, 2 deep,
	// sides 2 to 1: 2/6 (240 + 48 + 4*128) = 800/3.
	tin := basin(20, 12, 4, 2)
	ps := find(t, tin, openBorder(tin))
	if len(ps.Ponds) != 1 || !about(ps.Ponds[0].Volume, 800.0/3) || ps.Ponds[0].Area != 240 {
		t.Errorf("ponds %+v", ps.Ponds)
	}
	// and of its lower half: top 16 by 8, middle 14 by 6: 1/6 (128 + 48 + 336)
	if v := ps.Curve(0).Volume(-1); !about(v, 512.0/6) {
		t.Errorf("half deep %v, want %v", v, 512.0/6)
	}
}

func TestFourWayFall(t *testing.T) {
	// z = s max(|x|, |y|) on L by W has volume s (L^2 W/4 + W^3/12) above its lowest point: 168 s for 10 by
	// 6. With no way out water stands at 5 s: 60 * 5 s - 168 s.
	const s = 0.02
	tin := tinOf([][3]float64{
		{0, 0, 0},
		{-5, -3, 5 * s},
		{-3, -3, 3 * s},
		{3, -3, 3 * s},
		{5, -3, 5 * s},
		{5, 3, 5 * s},
		{3, 3, 3 * s},
		{-3, 3, 3 * s},
		{-5, 3, 5 * s},
	}, [][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 4, 5}, {0, 5, 6}, {0, 6, 7}, {0, 7, 8}, {0, 8, 1}})
	p := find(t, tin).Ponds[0]
	if !p.Undrained || !(math.Abs(p.Volume/(132*s)-1) <= 1e-12) {
		t.Errorf("pond %+v", p)
	}
}
