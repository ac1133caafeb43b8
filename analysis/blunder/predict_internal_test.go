package blunder

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// among returns a finder whose neighbours at hand stand on z = a + bx + cy at random places, with what off adds to each.
func among(rnd *rand.Rand, n int, a, b, c float64, off func(i int) float64) *finder {
	f := &finder{}
	for i := range n {
		x, y := rnd.Float64()*8-4, rnd.Float64()*8-4
		f.x, f.y, f.z = append(f.x, x), append(f.y, y), append(f.z, a+b*x+c*y+off(i))
	}
	return f
}

// Three points make the plane on which they were put, and none where one of the angles at the first or the second has a sine under 0.2; by hand: (0, 0),
// (4, 0) and (4 + cos, sin) of an angle beyond.
func TestPlaneThroughThree(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for range 200 {
		f := among(rnd, 3, 7, 0.02, -0.05, func(int) float64 { return 0 })
		if p, ok := f.through(0, 1, 2); ok && (!(math.Abs(p.DX-0.02) <= 1e-9) || !(math.Abs(p.DY+0.05) <= 1e-9) || !(math.Abs(p.At(1, 2)-(7+0.02-0.1)) <= 1e-9)) {
			t.Fatalf("%+v is not the plane of its points", p)
		}
	}
	for _, c := range []struct {
		x, y float64 // of the third point
		fine bool
	}{
		{2, 3, true},
		{2, -3, true},
		{-2, 3, true},
		{4, 0.9, true},
		{4, 0.7, false}, // seen from the first under 12.7 and 9.9 degrees, sines 0.220 and 0.172
		{0, 0.9, true},
		{0, 0.7, false}, // and from the second
		{0, -0.7, false},
		{4, -0.7, false},
		{2, 0.1, false},
		{9, 0.3, false},
	} {
		f := &finder{x: []float64{0, 4, c.x}, y: []float64{0, 0, c.y}, z: []float64{0, 1, 2}}
		if _, fine := f.through(0, 1, 2); fine != c.fine {
			t.Errorf("(%g, %g): %t", c.x, c.y, fine)
		}
		f = &finder{x: []float64{1, 1, 1 + c.y}, y: []float64{2, 6, 2 + c.x}, z: []float64{0, 1, 2}} // turned and moved
		if _, fine := f.through(0, 1, 2); fine != c.fine {
			t.Errorf("turned (%g, %g): %t", c.x, c.y, fine)
		}
	}
}

// Whatever four of eleven points say, the plane is that of the seven that agree, and the median distance from it is nothing.
func TestMajorityOutvotesTheRest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	for range 50 {
		f := among(rnd, 11, 3, 0.01, 0.03, func(i int) float64 {
			if i%3 == 0 {
				return 0.1 + rnd.Float64()
			}
			return 0
		})
		p, ok := f.majority()
		if !ok || !(math.Abs(p.At(0, 0)-3) <= 1e-9) || !(math.Abs(p.DX-0.01) <= 1e-9) || !(math.Abs(p.DY-0.03) <= 1e-9) {
			t.Fatalf("%t %+v", ok, p)
		}
	}
}

// By hand: of distances 0.01, 0.02 ... 0.07 from the level plane the middle one is 0.04, of six the fourth is; the spread of seven is 1.4826 (1 + 5/4) times
// that (Rousseeuw and Leroy's correction for few). A median that is no less than enough comes back as enough or more.
func TestMedianAndSpread(t *testing.T) {
	level := regression.Plane{}
	f := &finder{}
	for i := 1; i <= 7; i++ {
		sign := float64(1 - 2*(i%2))
		f.x, f.y, f.z = append(f.x, float64(i)), append(f.y, float64(i*i)), append(f.z, sign*0.01*float64(i))
	}
	if got := f.median(&level, math.Inf(1)); !(math.Abs(got-0.04) <= 1e-12) {
		t.Errorf("median %g", got)
	}
	if got, want := f.spread(&level), 1.4826*2.25*0.04; !(math.Abs(got-want) <= 1e-12) {
		t.Errorf("spread %g, want %g", got, want)
	}
	for enough, want := range map[float64]bool{0.039: true, 0.03: true, 0.041: false} {
		if got := f.median(&level, enough); (got >= enough) != want {
			t.Errorf("enough %g: %g", enough, got)
		}
	}
	f.x, f.y, f.z = f.x[:6], f.y[:6], f.z[:6]
	if got := f.median(&level, math.Inf(1)); !(math.Abs(got-0.04) <= 1e-12) {
		t.Errorf("median of six %g", got)
	}
	if got, want := f.spread(&level), 1.4826*(1+5.0/3)*0.04; !(math.Abs(got-want) <= 1e-12) {
		t.Errorf("spread of six %g, want %g", got, want)
	}
}

// The border of a roof that rises 3 % to the east and 1 % to the north, east of x = 100 and north of y = 50: beside it a place takes the elevation of the foot, to
// 0.15 m off; by hand. Beyond a corner the foot is the corner.
func TestElevationBesideTheBorder(t *testing.T) {
	h := func(x, y float64) float64 { return 2 + 0.03*(x-100) + 0.01*(y-50) }
	at := func(x, y float64) [3]float64 { return [3]float64{x, y, h(x, y)} }
	var ring [4][3]float64
	for i, p := range [4][2]float64{{100, 50}, {120, 50}, {120, 58}, {100, 58}} {
		ring[i] = at(p[0], p[1])
	}
	r := shape.New("roof", shape.At(ring[0][0], ring[0][1], ring[0][2]), shape.At(ring[1][0], ring[1][1], ring[1][2]),
		shape.At(ring[2][0], ring[2][1], ring[2][2]), shape.At(ring[3][0], ring[3][1], ring[3][2]))
	shape.Spot(r, 109, 53, h(109, 53))
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := newFinder(r, s, 0)
	for _, c := range []struct {
		p    orb.Point
		foot orb.Point
		ok   bool
	}{
		{orb.Point{107, 49.9}, orb.Point{107, 50}, true},
		{orb.Point{107, 49.8}, orb.Point{}, false},
		{orb.Point{120.14, 53}, orb.Point{120, 53}, true},
		{orb.Point{99.87, 57}, orb.Point{100, 57}, true},
		{orb.Point{111, 58.1}, orb.Point{111, 58}, true},
		{orb.Point{99.95, 49.95}, orb.Point{100, 50}, true},
		{orb.Point{99.87, 49.87}, orb.Point{}, false},
	} {
		if z, ok := f.beside(c.p); ok != c.ok || ok && !(math.Abs(z-h(c.foot[0], c.foot[1])) <= 1e-6) {
			t.Errorf("%v: %g, %t, want %g", c.p, z, ok, h(c.foot[0], c.foot[1]))
		}
	}
	inner := int32(-1)
	for v := range s.TIN.X {
		if s.TIN.Spot[v] >= 0 {
			inner = int32(v)
		}
	}
	if z, ok := f.height(orb.Point{105, 55}, -1); !ok || !(math.Abs(z-h(105, 55)) <= 1e-6) {
		t.Errorf("on the roof %g, %t", z, ok)
	}
	if _, ok := f.height(orb.Point{105, 55}, inner); ok {
		t.Error("the elevation is that of a facet which touches the spot that is asked about")
	}
	if _, ok := f.height(orb.Point{55, 105}, -1); ok {
		t.Error("there is no roof")
	}
}

// The slips of the hand, each at the number that a field book would have; by hand. What should have been read is 10.42 ft or 3.17 m.
func TestSlipsOfABooking(t *testing.T) {
	feet := func(number float64, text string) *booking {
		return &booking{number: number, wanted: 10.42, play: 0.02, text: text, unit: quantity.Feet}
	}
	metre := func(number float64, text string) *booking {
		return &booking{number: number, wanted: 3.17, play: 0.005, text: text, unit: quantity.Metres}
	}
	type test struct {
		name string
		b    *booking
		fits func(b *booking) bool
		want bool
	}
	for _, c := range []test{
		{"a foot", feet(11.42, "11.42"), func(b *booking) bool { return b.whole(quantity.Foot) }, true},
		{"three feet", feet(7.42, "7.42"), func(b *booking) bool { return b.whole(quantity.Foot) }, true},
		{"four feet", feet(14.42, "14.42"), func(b *booking) bool { return b.whole(quantity.Foot) }, false},
		{"a foot and a half", feet(11.92, "11.92"), func(b *booking) bool { return b.whole(quantity.Foot) }, false},
		{"a foot among metres", metre(3.17+0.3048, "3.4748"), func(b *booking) bool { return b.whole(quantity.Foot) }, false},
		{"a metre", metre(2.17, "2.17"), func(b *booking) bool { return b.whole(quantity.Metre) }, true},
		{"two feet in inches", &booking{number: 149, wanted: 125, play: 0.2, unit: quantity.Inches}, func(b *booking) bool { return b.whole(quantity.Foot) }, true},
		{"two inches", &booking{number: 127, wanted: 125, play: 0.2, unit: quantity.Inches}, func(b *booking) bool { return b.whole(quantity.Foot) }, false},
		{"a metre among feet", feet(10.42+3.2808, "13.7"), func(b *booking) bool { return b.whole(quantity.Metre) }, false},
		{"a tenth of a foot", feet(10.52, "10.52"), (*booking).tenth, true},
		{"a tenth of a foot less", feet(10.32, "10.32"), (*booking).tenth, true},
		{"two tenths", feet(10.62, "10.62"), (*booking).tenth, false},
		{"a tenth of a metre", metre(3.27, "3.27"), (*booking).tenth, true},
		{"digits", feet(10.24, "10.24"), (*booking).transposed, true},
		{"digits across the point", feet(14.02, "14.02"), (*booking).transposed, true},
		{"first digits", &booking{number: 1.42, wanted: 4.12, play: 0.001, text: "1.42"}, (*booking).transposed, true},
		{"digits of a depth", &booking{number: -1.24, wanted: -1.42, play: 0.001, text: "-1.24"}, (*booking).transposed, true},
		{"other digits", feet(10.58, "10.58"), (*booking).transposed, false},
		{"same digits", &booking{number: 11, wanted: 11, play: 0.001, text: "11"}, (*booking).transposed, false},
		{"5 in as tenths", feet(10.5, "10.5"), (*booking).inchAsPart, true}, // 10 ft 5 in is 10.417
		{"5 in as hundredths", feet(10.05, "10.05"), (*booking).inchAsPart, true},
		{"4 in as tenths", feet(10.4, "10.4"), (*booking).inchAsPart, false},
		{"12 in", &booking{number: 9.12, wanted: 10, play: 0.01, unit: quantity.Feet}, (*booking).inchAsPart, false},
		{"11 in", &booking{number: 9.11, wanted: 9 + 11.0/12, play: 0.01, unit: quantity.Feet}, (*booking).inchAsPart, true},
		{"1 in below 0", &booking{number: -9.1, wanted: -9 - 1.0/12, play: 0.001, unit: quantity.Feet}, (*booking).inchAsPart, true},
		{"inches among metres", metre(3.2, "3.2"), (*booking).inchAsPart, false},
		{"feet among metres", metre(10.4, "10.4"), (*booking).otherUnit, true},
		{"metres among feet", feet(3.176, "3.176"), (*booking).otherUnit, true},
		{"nothing", &booking{wanted: 0, play: 0.01, unit: quantity.Metres}, (*booking).otherUnit, false},
		{"upside down", &booking{number: 4 - 1.3, wanted: 1.3, play: 0.005, unit: quantity.Metres, reading: true}, (*booking).upsideDown, true},
		{"upside down in feet", &booking{number: 13 - 4.2, wanted: 4.2, play: 0.01, unit: quantity.Feet, reading: true}, (*booking).upsideDown, true},
		{"no rod", &booking{number: 4 - 1.3, wanted: 1.3, play: 0.005, unit: quantity.Metres}, (*booking).upsideDown, false},
	} {
		if got := c.fits(c.b); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
	// Rods of the trade in feet and metres: a reading of 1 from the wrong end is the rod's length less 1.
	for unit, rods := range map[quantity.Unit][]float64{quantity.Feet: {8, 10, 12, 13, 15, 16, 20, 25}, quantity.Metres: {2, 3, 4, 5}} {
		for _, long := range rods {
			if b := (&booking{number: long - 1, wanted: 1, play: 0.001, unit: unit, reading: true}); !b.upsideDown() {
				t.Errorf("a rod of %g %s", long, unit)
			}
		}
		if b := (&booking{number: 5.5, wanted: 1, play: 0.001, unit: unit, reading: true}); b.upsideDown() {
			t.Errorf("a rod of 6.5 %s", unit)
		}
	}
}

// A prediction is as good as the neighbours lie on their plane: by hand, of the corners of a square, up and down by d in turn, and two points of its sides on the plane between them, 4 d2 of squares over 6 - 3, and a sixth on top for the plane itself; of the corners alone,
// beside a point that is a metre off and left out, 4 d2 over 4 - 3, and a quarter on top. Where that is less than the survey's error, here 20 mm, that counts.
func TestErrorOfAPrediction(t *testing.T) {
	for _, c := range []struct {
		name     string
		d        float64
		sides    []float64 // heights of the points on the sides
		variance float64
	}{
		{"six", 0.024, []float64{0, 0}, 4 * 0.024 * 0.024 / 3 * (1 + 1.0/6)},
		{"four and one that is off", 0.012, []float64{1}, 4 * 0.012 * 0.012 * (1 + 1.0/4)},
		{"smooth", 0.002, []float64{0, 0}, 0.02 * 0.02 * (1 + 1.0/6)},
	} {
		f := searching(t, level(2, 2, 2))
		f.noise = 0.02
		var near []neighbour
		put := func(x, y, z float64) {
			v := f.vertexAt(t, x, y)
			f.t.Z[v] = z
			near = append(near, neighbour{vertex: v, far: math.Hypot(x-2, y-2)})
		}
		for i, z := range c.sides {
			put(float64(4*i), 2, z)
		}
		put(0, 0, c.d)
		put(4, 0, -c.d)
		put(4, 4, c.d)
		put(0, 4, -c.d)
		p, ok := f.fromPlane(f.vertexAt(t, 2, 2), near)
		if !ok || !(math.Abs(p.z) <= 1e-9) || !(math.Abs(p.sigma-math.Sqrt(c.variance)) <= 1e-9) {
			t.Errorf("%s: %v, %+v, want %g", c.name, ok, p, math.Sqrt(c.variance))
		}
	}
}

// A point of a line is predicted from both sides of it and along it: by hand, on a level roof between two points of a ridge that stand 5 and 3 dm up: halfway it is 4.
func TestALineIsAskedToo(t *testing.T) {
	r := level(8, 8, 1)
	shape.Breakline(r, roof.Ridge, shape.At(4, 2, 0), shape.At(4, 3, 0), shape.At(4, 4, 0), shape.At(4, 5, 0), shape.At(4, 6, 0))
	f := searching(t, r)
	f.t.Z[f.vertexAt(t, 4, 3)], f.t.Z[f.vertexAt(t, 4, 5)] = 0.5, 0.3
	level, along := 0, 0
	for p := range f.predictions(f.vertexAt(t, 4, 4)) {
		switch {
		case math.Abs(p.z) <= 0.01:
			level++
		case math.Abs(p.z-0.4) <= 1e-9:
			along++
		}
	}
	if level == 0 || along != 1 {
		t.Errorf("%d of the roof beside it, %d along it", level, along)
	}
}
