package drainage_test

import (
	"math"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/catchment"
	"runnel/analysis/drainage"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// run computes the drainage of a roof.
func run(t *testing.T, r *roof.Roof, c standard.Criteria, above ...drainage.Above) *drainage.Drainage {
	t.Helper()
	d, err := drainage.Of(input(t, r, c, above...))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// input runs the steps before.
func input(t *testing.T, r *roof.Roof, c standard.Criteria, above ...drainage.Above) *drainage.Input {
	t.Helper()
	s := shape.Build(t, r)
	p, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	n, k, err := catchment.Trace(s, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := drainage.Block(s, p, &c)
	if err != nil {
		t.Fatal(err)
	}
	return &drainage.Input{Roof: r, Criteria: c, Surface: s, Ponds: p, Flow: n, Catchments: k, Above: above, Blocked: b}
}

const (
	foot       = float64(quantity.Foot)
	inch       = quantity.Inch
	inchesHour = float64(quantity.InchPerHour)
	gpm        = float64(quantity.GallonPerMinute)
)

// walled returns a walled roof of 40 by 20 ft that falls a quarter inch per foot to the south, with a primary
// scupper of 12 in in the middle of the south wall and an overflow of 8 in two inches over it near the west end.
func walled() *roof.Roof {
	l, w, s := 40*foot, 20*foot, 1.0/48
	r := shape.New("walled", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, s*w), shape.At(0, w, s*w))
	shape.Grid(r, 0, 0, l, w, 8, 4, func(_, y float64) float64 { return s * y })
	o := shape.Scupper(r, l/2, 0, float64(12*inch))
	o.Invert, o.HasInvert, o.Leader.Diameter = 0, true, 6*inch
	v := shape.Scupper(r, l/8, 0, float64(8*inch))
	v.Invert, v.HasInvert, v.Duty = float64(2*inch), true, roof.Overflow
	return r
}

// By hand: 800 ft2 at 4 in/h bring 800*4/96.25 = 33.25 gpm to the primary; 8 in/h 66.49 gpm to the overflow, which
// stands for a blocked primary. Head over 12 in by Q = 2.9 b H^1.5: (33.25/34.8)^(2/3) = 0.970 in; over 8 in:
// (66.49/23.2)^(2/3) = 2.018 in.
func TestDemandAndHead(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary, c.RainOverflow = 4*inchesHour, 8*inchesHour
	d := run(t, walled(), c)
	for i, want := range []struct{ area, gpm, head float64 }{{800, 33.25, 0.970}, {800, 66.49, 2.018}} {
		o := &d.Outlets[i]
		if got := o.Area / (foot * foot); !(math.Abs(got-want.area) <= 1e-3) {
			t.Errorf("outlet %d drains %.4f ft2, want %g", i, got, want.area)
		}
		if got := o.Demand / gpm; !(math.Abs(got-want.gpm) <= 0.005*2) {
			t.Errorf("outlet %d gets %.3f gpm, want %g", i, got, want.gpm)
		}
		if got := o.Head / float64(inch); !(math.Abs(got-want.head) <= 0.005) || !o.Takes {
			t.Errorf("outlet %d takes it at %.4f in (%v), want %g", i, got, o.Takes, want.head)
		}
	}
	in := input(t, walled(), c)
	inflow, err := d.Inflow(in)
	if err != nil || len(inflow) != 1 || !(math.Abs(inflow[0]/gpm-66.49) <= 0.01) {
		t.Errorf("with the primary blocked %v m3/s come to the overflow (%v), want 66.49 gpm", inflow, err)
	}
	if d.Blocked == nil || len(d.Blocked.Of) != 1 || d.Blocked.Of[0] != 1 {
		t.Errorf("blocked: %+v", d.Blocked)
	}
}

// International Plumbing Code, section 1106.4: one half of the wall's face. By hand: a wall 30 ft high along the whole
// north side, 40 ft, adds 600 ft2; of a wall along the western half of the south side as much again by half.
func TestWalls(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary = inchesHour
	r := walled()
	shape.Edge(r, roof.Wall, shape.Bare(0, 20*foot), shape.Bare(40*foot, 20*foot))
	r.Edges[0].AdjoiningHeight = 30 * quantity.Foot
	d := run(t, r, c)
	if got := d.Outlets[0].Walls / (foot * foot); !(math.Abs(got-600) <= 1e-6) {
		t.Errorf("half of the wall is %.6f ft2, want 600", got)
	}
	if got, want := d.Outlets[0].Demand/gpm, 1400/96.25; !(math.Abs(got-want) <= 0.005) {
		t.Errorf("demand %.4f gpm, want %.4f", got, want)
	}
	// Uniform Plumbing Code, 1103.4: two walls of one height that face each other count for nothing.
	shape.Edge(r, roof.Wall, shape.Bare(40*foot, 0), shape.Bare(0, 0))
	r.Edges[1].AdjoiningHeight = 30 * quantity.Foot
	r.WallRunoff = standard.WallsBySides
	d = run(t, r, c)
	if got := d.Outlets[0].Walls; !(math.Abs(got) <= 1e-9) {
		t.Errorf("two walls that face each other count %.6f m2, want 0", got)
	}
}

// Only the foot of a wall that stands over the roof sheds: by hand half of a wall 0.5 m high along 5 and 11 m of the north side of a roof whose ridge at x = 5
// parts its water between two scuppers, 1.25 and 2.75 m2. A height beside an open edge is none of it, nor is a wall that does not stand over.
func TestWallsOfEachSide(t *testing.T) {
	z := func(x, _ float64) float64 { return 0.5 - 0.04*math.Abs(x-5) }
	r := shape.New("ridged", shape.At(0, 0, z(0, 0)), shape.At(16, 0, z(16, 0)), shape.At(16, 4, z(16, 4)), shape.At(0, 4, z(0, 4)))
	shape.Grid(r, 0, 0, 16, 4, 16, 4, z)
	for _, x := range []float64{0, 16} {
		o := shape.Scupper(r, x, 2, 0.4)
		o.Invert, o.HasInvert = z(x, 2), true
	}
	for i, height := range []quantity.Length{0.5, 0} {
		shape.Edge(r, roof.Wall, shape.Bare(0, 4-4*float64(i)), shape.Bare(16, 4-4*float64(i)))
		r.Edges[i].AdjoiningHeight = height
	}
	c := standard.Defaults()
	c.RainPrimary = inchesHour
	in := input(t, r, c)
	r.Edges = append(r.Edges, roof.Edge{Type: roof.Free, AdjoiningHeight: 7, Line: r.Edges[0].Line})
	d, err := drainage.Of(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{1.25, 2.75} {
		if got := d.Outlets[i].Walls; !(math.Abs(got-want) <= 1e-6) {
			t.Errorf("outlet %d gets %.6f m2 of wall, want %g", i, got, want)
		}
	}
	if d.WallRule != standard.WallsHalf {
		t.Errorf("by %s", d.WallRule)
	}
	shed, err := drainage.Shed(r, d.WallRule, in.Flow)
	sum := 0.0
	for _, s := range shed {
		sum += s.Area
	}
	if err != nil || !(math.Abs(sum-4) <= 1e-6) {
		t.Errorf("the wall sheds %.6f m2, want 4: %v", sum, err)
	}
}

// Where no rate is stated nothing comes, no head is asked for and no outlet is said to take its share.
func TestWithoutRates(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary, c.RainOverflow = 0, 0
	in := input(t, walled(), c)
	d, err := drainage.Of(in)
	if err != nil {
		t.Fatal(err)
	}
	if o := &d.Outlets[0]; o.Rating == nil || o.Takes || o.Head != 0 || o.Range != nil {
		t.Errorf("%+v", o)
	}
	for _, blocked := range []*drainage.Blocked{in.Blocked, nil} {
		d.Blocked = blocked
		if flows, err := d.Inflow(in); flows != nil || err != nil {
			t.Errorf("%v comes to the overflows: %v", flows, err)
		}
	}
}

// What a roof above lets onto a place adds to the outlet that the place drains to.
func TestAbove(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary = inchesHour
	d := run(t, walled(), c, drainage.Above{X: 5, Y: 5, Area: 100})
	if got := d.Outlets[0].Above; !(math.Abs(got-100) <= 1e-9) {
		t.Errorf("the roof above adds %.4f m2, want 100", got)
	}
}

// A drain without a diameter has no capacity and says what it lacks; a leader that takes less than comes is a demand
// that is taken at no head.
func TestWhatIsMissingAndWhatIsTooSmall(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary = 8 * inchesHour
	r := walled()
	r.Outlets[0].Leader.Diameter = 2 * inch // 34 gpm by International Plumbing Code, Table 1106.2, for 66
	d := run(t, r, c)
	if d.Outlets[0].Takes {
		t.Errorf("a 2 in leader takes %.1f gpm", d.Outlets[0].Demand/gpm)
	}
	drain := shape.Pyramid(10, 10, 0.02, 0.3)
	d = run(t, drain, c)
	if d.Outlets[0].Rating != nil || d.Outlets[0].Missing == nil {
		t.Errorf("a drain without a diameter is rated: %+v", d.Outlets[0])
	}
	if d.Outlets[0].Demand <= 0 {
		t.Error("its demand is not counted")
	}
}

// shared is a walled V of 16 by 4 m whose one pond two scuppers in the south wall hold together, at x = 2 and x = 10: by hand, the line half way
// between them parts 24 m2 from 40.
func shared() *roof.Roof {
	r := shape.New("shared", shape.At(0, 0, 0.16), shape.At(16, 0, 0.16), shape.At(16, 4, 0.16), shape.At(0, 4, 0.16))
	shape.Grid(r, 0, 0, 16, 4, 16, 2, func(x, _ float64) float64 { return 0.02 * math.Abs(x-8) })
	for _, x := range []float64{2, 10} {
		o := shape.Scupper(r, x, 0, 0.4)
		o.Invert, o.HasInvert = 0.18, true
	}
	return r
}

// Water that comes into a pond which two outlets hold is parted as the pond's own. By hand: 100 m2 of roof above at 3/8 and 5/8; half of
// a wall 3 m high along the 16 m of the north side, 24 m2, at the same parts, 9 and 15 m2.
func TestWaterOfAPondThatTwoOutletsHold(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary = inchesHour
	r := shared()
	shape.Edge(r, roof.Wall, shape.Bare(0, 4), shape.Bare(16, 4))
	r.Edges[0].AdjoiningHeight = 3
	place := drainage.Above{X: 8, Y: 2, Area: 100} // dry, it runs to the fold
	d := run(t, r, c, place)
	for i, want := range []struct{ roof, above, walls float64 }{{24, 37.5, 9}, {40, 62.5, 15}} {
		o := &d.Outlets[i]
		if !(math.Abs(o.Area-want.roof) <= 1e-6) || !(math.Abs(o.Above-want.above) <= 1e-6) || !(math.Abs(o.Walls-want.walls) <= 1e-6) {
			t.Errorf("outlet %d: %.4f m2 of roof, %.4f m2 above and %.4f of walls, want %g, %g and %g", i, o.Area, o.Above, o.Walls, want.roof, want.above, want.walls)
		}
	}
}

// By hand: 800 ft2 at 12 in/h bring 800*12/96.25 = 99.7 gpm. ASCE 7-05, commentary, Table C8-1: a drain of 4 in takes 180 gpm at most; half of
// that is less than 99.7.
func TestStrainerHalfCloggedTakesTooLittle(t *testing.T) {
	r := walled()
	r.Outlets[0] = roof.Outlet{}
	o := shape.Drain(r, 20*foot, 1, 0.3)
	o.Invert, o.HasInvert, o.Diameter = 0, true, 4*inch
	r.Outlets = []roof.Outlet{*o, r.Outlets[1]}
	for rate, want := range map[float64]bool{8: true, 12: false} { // 66.5 gpm are under 90
		c := standard.Defaults()
		c.RainPrimary = rate * inchesHour
		d := run(t, r, c)
		if !d.Outlets[0].Takes || (d.Outlets[0].Clogged > 0) != want || !want && d.Outlets[0].Clogged != -1 {
			t.Errorf("%g in/h: %+v", rate, d.Outlets[0])
		}
	}
}

// By European practice a drain goes by EN 12056-3 with its strainer, k = 0.5, and its leader too: by hand 0.5 x 101.6 x 25.4^1.5 / 7500 = 0.867 L/s at
// 1 in of head, where ASCE 7-05, commentary, Table C8-1, has 80 gpm (5.05 L/s); EN 12056-3, Table 8 (recalled): 10.7 L/s through 100 mm.
func TestDrainByEuropeanPractice(t *testing.T) {
	o := &roof.Outlet{Type: roof.Drain, Diameter: 4 * inch}
	o.Leader.Diameter = 100 * quantity.Millimetre
	for practice, want := range map[standard.Practice][2]float64{standard.US: {5.05, 180 * 0.0630902}, standard.EU: {0.867, 10.7}} {
		r, err := capacity.Of(drainage.FittingOf(o, practice))
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Flow(float64(inch)) * 1000; !(math.Abs(got-want[0]) <= 0.005) {
			t.Errorf("%s: %.3f L/s at 1 in, want %g", practice, got, want[0])
		}
		if got := r.Least().Capacity * 1000; !(math.Abs(got-want[1]) <= 0.05) {
			t.Errorf("%s: the leader takes %.2f L/s, want %.2f", practice, got, want[1])
		}
	}
}

// A horizontal pipe goes by European practice too: 96 mm at 1 cm/m take 4.2 L/s (EN 12056-2, Table B.2, from memory).
func TestPipeByEuropeanPractice(t *testing.T) {
	o := &roof.Outlet{Type: roof.Drain, Diameter: 4 * inch, Pipe: 96 * quantity.Millimetre, PipeSlope: 0.01}
	r, err := capacity.Of(drainage.FittingOf(o, standard.EU))
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Least().Capacity * 1000; !(math.Abs(got-4.2) <= 0.05) {
		t.Errorf("the pipe takes %.2f L/s, want 4.2", got)
	}
}

// What a wall lets onto the roof stands along its foot, on the roof's side, and adds up to what its rule counts: by hand half of 40 by 30 ft, 600 ft2, along the
// north side; with the wall's line turned about the same. The crest of a scupper is as it was measured.
func TestShedAlongTheFootOfAWall(t *testing.T) {
	r := walled()
	in := input(t, r, standard.Defaults())
	for _, line := range [][]roof.Position{
		{shape.Bare(0, 20*foot), shape.Bare(40*foot, 20*foot)}, {shape.Bare(40*foot, 20*foot), shape.Bare(10*foot, 20*foot), shape.Bare(0, 20*foot)},
	} {
		r.Edges = nil
		shape.Edge(r, roof.Wall, line...)
		r.Edges[0].AdjoiningHeight = 30 * quantity.Foot
		shed, err := drainage.Shed(r, standard.WallsHalf, in.Flow)
		if err != nil {
			t.Fatal(err)
		}
		area, middle := 0.0, 0.0
		for _, a := range shed {
			area, middle = area+a.Area, middle+a.Area*a.X
			if a.Y >= 20*foot || a.Y < 19.9*foot {
				t.Errorf("a piece stands at y = %g", a.Y)
			}
		}
		if !(math.Abs(area/(foot*foot)-600) <= 1e-6) || !(math.Abs(middle/area-20*foot) <= 1e-6) {
			t.Errorf("%.4f ft2 about x = %.3f ft, want 600 about 20", area/(foot*foot), middle/area/foot)
		}
	}
	for crest, sharp := range map[roof.Crest]bool{roof.SharpCrest: true, 0: false} {
		if f := drainage.FittingOf(&roof.Outlet{Type: roof.Scupper, Crest: crest}, standard.US); f.SharpEdge != sharp {
			t.Errorf("crest %v: sharp %v", crest, f.SharpEdge)
		}
	}
}

// A wall askew to the grid lets its water onto places as far before it as one along the grid: by hand 10 mm, whichever way it runs.
func TestShedStandsSquareToTheWall(t *testing.T) {
	r := walled()
	in := input(t, r, standard.Defaults())
	for _, to := range [][2]float64{{20, 5}, {20, 15}, {13, 9}, {12, 15}, {10, 15}} {
		r.Edges = nil
		shape.Edge(r, roof.Wall, shape.Bare(10*foot, 5*foot), shape.Bare(to[0]*foot, to[1]*foot))
		r.Edges[0].AdjoiningHeight = 30 * quantity.Foot
		shed, err := drainage.Shed(r, standard.WallsHalf, in.Flow)
		if err != nil || len(shed) == 0 {
			t.Fatal(err, shed)
		}
		ux, uy := to[0]-10, to[1]-5
		for _, a := range shed {
			off := math.Abs((a.X-10*foot)*uy-(a.Y-5*foot)*ux) / math.Sqrt(ux*ux+uy*uy)
			if !(math.Abs(off-0.010) <= 1e-9) {
				t.Errorf("to %v: a piece stands %.4f m off its wall", to, off)
			}
		}
	}
}
