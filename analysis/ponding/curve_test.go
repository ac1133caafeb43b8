package ponding

import (
	"math"
	"sort"
	"testing"

	"runnel/analysis/surface"
)

func TestCurveOfConeDish(t *testing.T) {
	// Volume grows with the cube of the depth, area with its square.
	tin := dish()
	c := find(t, tin, openBorder(tin)).Curve(0)
	if c.Bottom != -0.1 || c.Full != 0 {
		t.Fatalf("from %v to %v", c.Bottom, c.Full)
	}
	full := polygonArea(24, 3)
	for _, part := range []float64{0.001, 0.3, 0.5, 0.9, 1} {
		h := -0.1 + 0.1*part
		if a, v := c.Area(h), c.Volume(h); !(math.Abs(a/(full*part*part)-1) <= 1e-12) || !(math.Abs(v/(full*0.1/3*part*part*part)-1) <= 1e-12) {
			t.Errorf("at %v of the depth: area %v volume %v", part, a, v)
		}
		if l := c.Level(full * 0.1 / 3 * part * part * part); !(math.Abs(l-h) <= 1e-13) {
			t.Errorf("level %v, want %v", l, h)
		}
	}
	if c.Volume(1) != c.Volume(0) || c.Volume(-1) != 0 || c.Level(0) != -0.1 || c.Level(1e9) != 0 || c.Level(-1) != -0.1 {
		t.Error("the curve does not stay at its ends")
	}
}

func TestBoxPond(t *testing.T) {
	// A level floor 3 by 2 inside upright sides, the outlet 0.05 above the floor: volume is area times depth.
	tin := grid(4, 3, 1, falling, func(int, int) float64 { return 7 })
	ps := find(t, tin, pointOutlet(tin, 7.05, 0))
	floor, invert := 7.0, 7.05
	depth := invert - floor // in floating point
	if p := ps.Ponds[0]; p.Area != 6 || !about(p.Volume, 6*depth) || p.Depth != depth {
		t.Errorf("pond %+v", p)
	}
	c := ps.Curve(0)
	if l := c.Level(6 * depth / 2); !(math.Abs(l-7.025) <= 1e-14) {
		t.Errorf("half full at %v", l)
	}
}

// Inch, foot, gallon and the weight of water as in customary use: 12 in to the foot, 231 cubic inches to
// the gallon, 62.4 pounds to the cubic foot.
const (
	inch   = 1.0 / 12
	gallon = 231.0 / 1728
)

func TestWedgePond(t *testing.T) {
	// By hand: an outlet 1 in high at the foot of a plane that rises 1/8 in per foot, 20 ft wide between
	// walls: the water runs back 8 ft; half of 8 by 1/12 by 20 is 6.67 cubic feet, 416 pounds.
	tin := grid(11, 5, 5, rising, func(i, _ int) float64 { return float64(5*i) / 8 * inch })
	ps := find(t, tin, pointOutlet(tin, inch, 0, 11, 22, 33, 44))
	p := ps.Ponds[0]
	if !about(p.Volume, 20.0/3) || !about(p.Area, 160) || math.Round(p.Volume*62.4) != 416 {
		t.Errorf("area %v volume %v", p.Area, p.Volume)
	}
}

// paraboloid is a dish z = depth (r/radius)^2 on rings of n-gons; the ring at radius is the last but one.
func paraboloid(n, rings int, radius, depth float64) *surface.TIN {
	points := [][3]float64{{0, 0, 0}}
	for k := 1; k <= rings+1; k++ {
		r := radius * float64(k) / float64(rings)
		z := depth * float64(k*k) / float64(rings*rings)
		if k > rings {
			z = depth
		}
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			points = append(points, [3]float64{r * c, r * s, z})
		}
	}
	var facets [][3]int32
	for i := range int32(n) {
		next := (i + 1) % int32(n)
		facets = append(facets, [3]int32{0, 1 + i, 1 + next})
		for k := range int32(rings) {
			a, b := 1+k*int32(n)+i, 1+k*int32(n)+next
			facets = append(facets, [3]int32{a, a + int32(n), b + int32(n)}, [3]int32{a, b + int32(n), b})
		}
	}
	return tinOf(points, facets)
}

func TestParaboloidDish(t *testing.T) {
	// A paraboloid holds half of base times depth: radius 10 ft, depth 1.5 in: 19.6 cubic feet, 147 gallons,
	// 1,225 pounds. The dish of n-gon rings is met exactly: the frustum of pyramid between neighbouring
	// rings of areas A, B has h/3 (A + B + sqrt(AB)) (Euclid's frustum), water above it counted by Cavalieri.
	const n, rings = 48, 40
	depth := 1.5 * inch
	tin := paraboloid(n, rings, 10, depth)
	ps := find(t, tin, openBorder(tin))
	if len(ps.Ponds) != 1 {
		t.Fatalf("%d ponds", len(ps.Ponds))
	}
	want := 0.0
	for k := 1; k <= rings; k++ {
		a, b := polygonArea(n, 10*float64(k-1)/rings), polygonArea(n, 10*float64(k)/rings)
		h := depth * float64(k*k-(k-1)*(k-1)) / (rings * rings)
		want += h / 3 * (a + b + math.Sqrt(a*b))
	}
	p := ps.Ponds[0]
	if !(math.Abs(p.Volume/want-1) <= 1e-12) {
		t.Errorf("volume %v, want %v", p.Volume, want)
	}
	if round := p.Volume * math.Pi * 100 / polygonArea(n, 10); !(math.Abs(round-19.6) <= 0.05) ||
		!(math.Abs(round/gallon-147) <= 0.5) || !(math.Abs(round*62.4-1225) <= 1.5) {
		t.Errorf("the round dish holds %v", round)
	}
}

// TestCurveRandom holds the curve against calculus: between knots area is a polynomial of degree two, so
// Simpson's rule gives the growth of volume exactly.
func TestCurveRandom(t *testing.T) {
	rng := random(3)
	for trial := range 200 {
		tin, outlets := randomCase(rng, 7, 2+trial%9)
		ps := find(t, tin, outlets...)
		for i := range ps.Ponds {
			p, c := &ps.Ponds[i], ps.Curve(int32(i))
			if p.Depth == 0 {
				continue
			}
			if !about(c.Volume(p.Level), p.Volume) || !about(c.Area(p.Level), p.Area) || c.Bottom != p.Level-p.Depth {
				t.Fatalf("trial %d pond %d: %v %v, curve %v %v", trial, i, p.Volume, p.Area, c.Volume(p.Level), c.Area(p.Level))
			}
			volume := 0.0
			for k := 1; k < len(c.knots); k++ {
				low, high := c.knots[k-1], c.knots[k]
				// the area just above low, where a level part at low is wet already
				start := 3*c.Area(low+(high-low)/4) - 3*c.Area(low+(high-low)/2) + c.Area(low+(high-low)*3/4)
				volume += (high - low) / 6 * (start + 4*c.Area(low+(high-low)/2) + c.Area(high))
				if !(math.Abs(c.Volume(high)-volume) <= 1e-10*(1+volume)) {
					t.Fatalf("trial %d pond %d: %v below %v, by Simpson %v", trial, i, c.Volume(high), high, volume)
				}
			}
			last := 0.0
			for k := 1; k <= 64; k++ {
				h := c.Bottom + p.Depth*float64(k)/64
				v := c.Volume(h)
				if v <= last {
					t.Fatalf("trial %d pond %d: volume does not grow at %v", trial, i, h)
				}
				last = v
				if l := c.Level(v); !(math.Abs(l-h) <= 1e-9) {
					t.Fatalf("trial %d pond %d: level %v of the volume at %v", trial, i, l, h)
				}
			}
		}
	}
}

// Level returns the level at which the depression holds a volume [m]: Bottom for none, Full for all that
// it holds and more.
func (c *Curve) Level(volume float64) float64 {
	if volume <= 0 || len(c.knots) < 2 {
		return c.Bottom
	}
	above := sort.Search(len(c.knots), func(i int) bool { return c.Volume(c.knots[i]) >= volume })
	if above == len(c.knots) {
		return c.Full
	}
	if above == 0 {
		return c.Bottom
	}
	return c.solve(c.knots[above-1], c.knots[above], volume)
}

// solve finds the level of a volume between two knots. Area never falls as water rises, so volume is
// convex in the level and Newton's steps from above never pass the root; a step that rounding spoils is
// replaced by halving.
func (c *Curve) solve(low, high, volume float64) float64 {
	level := high
	for range 200 {
		area, v := c.water(level)
		if v == volume {
			return level
		}
		if v > volume {
			high = level
		} else {
			low = level
		}
		next := level - (v-volume)/area
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == low || next == high || next == level {
			break
		}
		level = next
	}
	return level
}
