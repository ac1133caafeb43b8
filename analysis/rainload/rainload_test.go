package rainload_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"runnel/analysis/flood"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
	gpm  = float64(quantity.GallonPerMinute)
	psf  = quantity.PoundPerSquareFoot
)

// state returns the load with the outlets of s that are overflows or edges, or all that keep picks.
func state(t *testing.T, s *surface.Surface, inflow []float64, laws []rainload.Law) *rainload.Load {
	t.Helper()
	var outlets []surface.Outlet
	for i := range s.Outlets {
		if s.Outlets[i].Duty == roof.Overflow || s.Outlets[i].Type == roof.EdgeOutlet {
			outlets = append(outlets, s.Outlets[i])
		}
	}
	ps, err := ponding.Find(s.Cut, outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	l, err := rainload.Of(rainload.Input{TIN: s.Cut, Outlets: outlets, Ponds: ps, Inflow: inflow, Laws: laws})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func overflow(o *roof.Outlet, invert float64) {
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, invert, true
}

// level is a walled level roof at elevation 0 with one overflow scupper for each invert, along the south wall.
func level(t *testing.T, l, w float64, inverts ...float64) *surface.Surface {
	t.Helper()
	r := shape.New("level", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
	shape.Spot(r, l/2, w/2, 0)
	for i, z := range inverts {
		overflow(shape.Scupper(r, float64(i+1)*l/float64(len(inverts)+1), 0, 0.3), z)
	}
	return shape.Build(t, r)
}

// tilted is a walled plane that falls at slope s to the south wall, w long, with a blocked drain in the middle of its
// low end, and an overflow scupper in the south wall or, where high, in the north wall, at the given invert.
func tilted(t *testing.T, l, w, s, invert float64, high bool) *surface.Surface {
	t.Helper()
	r := shape.New("tilted", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, s*w), shape.At(0, w, s*w))
	shape.Spot(r, l/2, w/2, s*w/2)
	shape.Drain(r, l/2, 1, 0.3)
	y := 0.0
	if high {
		y = w
	}
	overflow(shape.Scupper(r, l/3, y, 0.3), invert)
	return shape.Build(t, r)
}

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.6g, want %.6g within %g (%s)", what, got, want, tolerance, source)
	}
}

// table returns the law that goes linearly between printed heads [in] and flows [gpm], times n.
func table(n float64, heads, flows []float64) rainload.Law {
	return func(head float64) float64 {
		h := head / inch
		for i := 1; i < len(heads); i++ {
			if h <= heads[i] {
				return n * gpm * (flows[i-1] + (flows[i]-flows[i-1])*(h-heads[i-1])/(heads[i]-heads[i-1]))
			}
		}
		return n * gpm * flows[len(flows)-1]
	}
}

// The published cases state ds and an area; on a level roof of that area whose overflow stands ds over it, they must
// come out as printed.
func TestPublishedRainLoads(t *testing.T) {
	drain := table(1, []float64{0, 1, 2, 2.5}, []float64{0, 80, 170, 180})
	channel := table(2, []float64{0, 1, 2, 3, 4}, []float64{0, 18, 50, 90, 140}) // 12 in taken as two of 6 in, as printed
	for _, c := range []struct {
		name, source          string
		area, rain, ds        float64
		law                   rainload.Law
		dh, dhTolerance, load float64
		loadTolerance         float64
	}{
		{"W01", "FROM MEMORY: ASCE 7-05 and 7-10, commentary C8.5, example 1", 2500 * quantity.SquareFoot, 3.75 * inch / 3600, 2 * inch, drain, 1.19 * inch, 0.005 * inch, 16.6 * psf, 0.05 * psf},
		{"W02", "READ: ASCE 7-10, commentary, example 2, in SI: 76 mm, 1.2 kPa", 1069.025, 0.038 / 3600, 0.051, channel, 0.076, 0.0005, 1200, 50},
		{"W02b", "FROM MEMORY: the same in inches and pounds, 3 in, 26 psf", 11500 * quantity.SquareFoot, 1.5 * inch / 3600, 2 * inch, channel, 3 * inch, 0.05 * inch, 26 * psf, 0.05 * psf},
	} {
		side := math.Sqrt(c.area)
		s := level(t, side, side, c.ds)
		l := state(t, s, []float64{c.area * c.rain}, []rainload.Law{c.law})
		if len(l.Waters) != 1 || !l.Waters[0].HeadKnown || !l.Complete || l.Enclosed {
			t.Errorf("%s: %+v", c.name, l.Waters)
			continue
		}
		w := l.Waters[0]
		near(t, c.name+" ds", w.StaticHead, c.ds, 1e-9, c.source)
		near(t, c.name+" dh", w.Head, c.dh, c.dhTolerance, c.source)
		near(t, c.name+" R", w.Load, c.load, c.loadTolerance, c.source)
		near(t, c.name+" area", w.Area, s.Area, 1e-6, "the whole roof")
	}
}

// W14, READ (Secondary Roof Drainage Q&A, a trade article): 1/4 in per ft over 30 ft to the overflow is 7.5 in of water
// at the low point, more than 6 in.
func TestDepthGrowsWithTheSlopeUpToTheOverflow(t *testing.T) {
	const s, run = 1.0 / 48, 30 * 0.3048
	l := state(t, tilted(t, 12, run, s, s*run, true), nil, nil)
	w := l.Waters[0]
	near(t, "depth", w.StaticHead/inch, 7.5, 1e-3, "W14, READ; elevations stand on a grid of 0.01 mm")
	near(t, "load", w.Load/psf, 39.0, 0.1, "by hand: 7.5 x 5.2")
	if w.HeadKnown || w.Head != 0 || l.Complete {
		t.Errorf("without rain a head is claimed: %+v", w)
	}
	if l.Depth <= 6*inch {
		t.Error("the depth does not exceed 6 in")
	}
}

// By hand: a wedge of depth h at the wall on a slope s reaches h/s up the roof; area l h/s, volume l h^2/(2 s).
func TestWedgeOnATiltedPlane(t *testing.T) {
	for _, c := range []struct{ s, h float64 }{{0.02, 0.0508}, {0.0104, 0.03}, {0.05, 0.1}} {
		l := state(t, tilted(t, 14, 12, c.s, c.h, false), nil, nil)
		w := l.Waters[0]
		name := fmt.Sprintf("slope %g, overflow %g", c.s, c.h)
		near(t, name+": ds", w.StaticHead, c.h, 2e-5, "by hand")
		near(t, name+": area", w.Area, 14*c.h/c.s, 0.02, "by hand: l h/s")
		near(t, name+": volume", w.Volume, 14*c.h*c.h/(2*c.s), 0.001, "by hand: l h^2/(2 s)")
		near(t, name+": load", w.Load, 9806.65*c.h, 0.3, "by hand: 1000 x 9.80665 x h")

		// 8 L/s through a law of 1 m3/s per m^1.5 at a head of 40 mm: 0.04^1.5 = 0.008.
		law := func(head float64) float64 { return head * math.Sqrt(head) }
		l = state(t, tilted(t, 14, 12, c.s, c.h, false), []float64{0.008}, []rainload.Law{law})
		w = l.Waters[0]
		d := c.h + 0.04
		near(t, name+": dh", w.Head, 0.04, 1e-9, "by hand: 0.04^1.5 = 0.008")
		near(t, name+": volume with the head", w.Volume, 14*d*d/(2*c.s), 0.002, "by hand: l d^2/(2 s)")
	}
}

// By hand: two overflows of law k h at 50 and 60 mm, k = 1 m2/s, carry 0.03 m3/s together at a level L with
// (L - 0.05) + (L - 0.06) = 0.03, so L = 0.07.
func TestOverflowsInOneWaterShareItsLevel(t *testing.T) {
	linear := func(head float64) float64 { return head }
	for _, inflow := range [][]float64{{0.03, 0}, {0, 0.03}, {0.01, 0.02}} {
		l := state(t, level(t, 10, 10, 0.05, 0.06), inflow, []rainload.Law{linear, linear})
		if len(l.Waters) != 1 || len(l.Waters[0].Outlets) != 2 {
			t.Fatalf("waters %+v", l.Waters)
		}
		near(t, "level", l.Waters[0].Level, 0.07, 1e-9, "by hand")
		near(t, "ds", l.Waters[0].StaticHead, 0.05, 1e-9, "the lower inlet")
	}
}

// An outlet without a law leaves the head open, and the static head stays.
func TestUnknownLawLeavesTheHeadOpen(t *testing.T) {
	l := state(t, level(t, 10, 10, 0.05), []float64{0.01}, []rainload.Law{nil})
	if w := l.Waters[0]; w.HeadKnown || l.Complete || w.Head != 0 || !(math.Abs(w.Depth-0.05) <= 1e-9) {
		t.Errorf("%+v", w)
	}
	// It takes at most 0.005 m3/s at any head.
	l = state(t, level(t, 10, 10, 0.05), []float64{0.01}, []rainload.Law{func(h float64) float64 { return math.Min(h, 0.005) }})
	if w := l.Waters[0]; w.HeadKnown || l.Complete {
		t.Errorf("an outlet that takes too little: %+v", w)
	}
}

// Without an overflow, walls all round hold the water in: no load can be said.
func TestNoWayOutIsEnclosed(t *testing.T) {
	l := state(t, level(t, 10, 10), nil, nil)
	if !l.Enclosed || len(l.Waters) != 0 || l.Depth != 0 {
		t.Errorf("%+v", l)
	}
}

// Water that reaches an open edge stands no higher than that. The plane rises 0.02 from its gutter in the south; a
// scupper at the gutter's height in the east wall gets 0.01 m3/s that it takes at a head of 0.1 m.
func TestWaterStandsNoHigherThanAnOpenEdge(t *testing.T) {
	r := shape.Plane(12, 10, 0.02, 6)
	overflow(shape.Scupper(r, 12, 5, 0.3), 0.1)
	s := shape.Build(t, r)
	var inflow []float64
	var laws []rainload.Law
	for range s.Outlets {
		inflow, laws = append(inflow, 0), append(laws, nil)
	}
	inflow[0], laws[0] = 0.01, func(h float64) float64 { return h / 10 }
	l := state(t, s, inflow, laws)
	if len(l.Waters) != 1 || !l.Waters[0].OverEdge {
		t.Fatalf("%+v", l.Waters)
	}
	near(t, "depth", l.Depth, 0, 1e-9, "by hand: the edge lies at the lowest point")
}

// Whatever the surface: bands add up to the whole, no water stands lower than with every pond full, more rain is
// never less deep, and the depth is that of the deepest vertex.
func TestInvariantsOnRandomRoofs(t *testing.T) {
	law := func(h float64) float64 { return 0.5 * h * math.Sqrt(h) }
	for seed := range uint64(30) {
		r := shape.Random(seed, 60)
		for i := range r.Outlets {
			r.Outlets[i].Duty = roof.Overflow
		}
		s := shape.Build(t, r)
		last := -1.0
		for _, rain := range []float64{0, 1e-5, 5e-5, 2e-4} {
			var inflow []float64
			var laws []rainload.Law
			for i := range s.Outlets {
				share := rain * s.Area / float64(len(s.Outlets))
				inflow, laws = append(inflow, share), append(laws, law)
				if s.Outlets[i].Type == roof.EdgeOutlet {
					laws[i] = nil
				}
			}
			l := state(t, s, inflow, laws)
			area, weight := 0.0, 0.0
			for _, b := range flood.Bands(s.Cut, l.Level, flood.Steps(l.Depth, inch, 1000)) {
				area, weight = area+b.Area, weight+b.Volume*standard.WaterDensity
			}
			if !(math.Abs(area-l.Area) <= 1e-6) || !(math.Abs(weight-l.Weight) <= 1e-6*(1+l.Weight)) {
				t.Errorf("seed %d: bands hold %v m2 and %v kg, the load %v and %v", seed, area, weight, l.Area, l.Weight)
			}
			deepest := slices.MaxFunc(indices(len(s.Cut.Z)), func(a, b int) int {
				return int(math.Copysign(1, (l.Level[a]-s.Cut.Z[a])-(l.Level[b]-s.Cut.Z[b])))
			})
			if d := l.Level[deepest] - s.Cut.Z[deepest]; !(math.Abs(d-l.Depth) <= 1e-12) {
				t.Errorf("seed %d: depth %v, deepest vertex %v", seed, l.Depth, d)
			}
			if l.Depth < last-1e-9 {
				t.Errorf("seed %d: with more rain the depth falls from %v to %v", seed, last, l.Depth)
			}
			last = l.Depth
			for _, w := range l.Waters {
				if !(w.Level >= w.Static) || !(w.Depth <= l.Depth+1e-12) || !(w.Volume >= 0) || !(w.Area <= s.Area*(1+1e-9)) {
					t.Errorf("seed %d: water %+v", seed, w)
				}
			}
		}
	}
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// Two overflows with equal inverts on a level walled roof stand in one water, also where no rain is given: by hand,
// 20 x 10 m under 50 mm, 10 m3.
func TestEqualOverflowsWithoutRainAreOneWater(t *testing.T) {
	l := state(t, level(t, 20, 10, 0.05, 0.05), nil, nil)
	if len(l.Waters) != 1 || len(l.Waters[0].Outlets) != 2 {
		t.Fatalf("%d waters: %+v", len(l.Waters), l.Waters)
	}
	if w := l.Waters[0]; !(math.Abs(w.Area-200) <= 1e-6) || !(math.Abs(w.Volume-10) <= 1e-6) || !(math.Abs(w.Depth-0.05) <= 1e-9) {
		t.Errorf("%.6f m2, %.6f m3, %.6f m deep", w.Area, w.Volume, w.Depth)
	}
}

// saddled is a walled roof at elevation 0, 10 m wide, in bays of 10 m with a ridge of one of the heights between two of them, and an overflow in the
// middle of each bay at invert.
func saddled(t *testing.T, invert float64, ridges ...float64) *surface.Surface {
	t.Helper()
	l := float64(10 * (len(ridges) + 1))
	r := shape.New("saddled", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, 10, 0), shape.At(0, 10, 0))
	shape.Grid(r, 0, 0, l, 10, int(l)/2, 2, func(x, _ float64) float64 {
		if i := int(x) / 10; int(x)%10 == 0 && i > 0 && i <= len(ridges) {
			return ridges[i-1]
		}
		return 0
	})
	for x := 4.0; x < l; x += 10 {
		overflow(shape.Scupper(r, x, 0, 0.3), invert)
	}
	return shape.Build(t, r)
}

// Over a saddle goes what the outlets before it do not take there. By hand: 0.02 m3/s come to the west overflow, whose law 0.1 m2/s x h takes
// 0.005 at the saddle, 50 mm over it; the other 0.015 go east, where 0.01 come besides, and the law 1 m2/s x h takes the 0.025 at 25 mm.
func TestWhatGoesOverASaddle(t *testing.T) {
	slow, fast := func(h float64) float64 { return 0.1 * h }, func(h float64) float64 { return h }
	l := state(t, saddled(t, 0.05, 0.1), []float64{0.02, 0.01}, []rainload.Law{slow, fast})
	if len(l.Waters) != 2 || !l.Complete {
		t.Fatalf("%+v", l.Waters)
	}
	for _, w := range l.Waters {
		want := map[int32]float64{0: 0.1, 1: 0.075}[w.Outlets[0]]
		near(t, fmt.Sprintf("level at outlet %d", w.Outlets[0]), w.Level, want, 1e-9, "by hand")
	}
}

// Of two outlets in one water one has no law: what it takes is not known, so neither is the head, whatever the other takes.
func TestOneUnknownLawInAWaterOfTwo(t *testing.T) {
	l := state(t, level(t, 10, 10, 0.05, 0.05), []float64{0.01, 0.01}, []rainload.Law{nil, func(h float64) float64 { return h }})
	if l.Complete {
		t.Error("the load is called complete")
	}
	for _, w := range l.Waters {
		if w.HeadKnown || !(math.Abs(w.Level-0.05) <= 1e-9) {
			t.Errorf("%+v", w)
		}
	}
}

// Two overflows at one level of which the second has no law: the head of the water that they share is not known, in whichever order they stand.
func TestUnknownLawInEitherOrder(t *testing.T) {
	law := func(h float64) float64 { return h }
	for _, laws := range [][]rainload.Law{{nil, law}, {law, nil}} {
		l := state(t, level(t, 10, 10, 0.05, 0.05), []float64{0.01, 0.01}, laws)
		for _, w := range l.Waters {
			if w.HeadKnown || l.Complete {
				t.Errorf("%+v", w)
			}
		}
	}
}

// Of water that nothing lets out nobody knows how high it gets: a roof without a way out, with one hollow, is enclosed, and its level is that of the roof itself everywhere.
func TestEnclosedWaterHasNoLevel(t *testing.T) {
	r := shape.New("shut", shape.At(0, 0, 0), shape.At(8, 0, 0), shape.At(8, 6, 0), shape.At(0, 6, 0))
	shape.Spot(r, 3, 3, -0.05)
	s := shape.Build(t, r)
	l := state(t, s, nil, nil)
	if !l.Enclosed {
		t.Error("it is not enclosed")
	}
	for v, z := range l.Level {
		if z != s.Cut.Z[v] {
			t.Errorf("vertex %d at %g has water up to %g", v, s.Cut.Z[v], z)
		}
	}
}

// Three bays behind ridges of 200 and 100 mm with overflows at 50 mm of law 0.1 m2/s x h. By hand: of the 0.03 m3/s that come to the first it takes
// 0.015 at its ridge and passes on as much, which with 0.01 of its own is more than the second takes at the ridge of 100 mm: it rises over that, and
// the two carry 0.025 with a head of 125 mm.
func TestWhatGoesOverASaddleIntoTwoThatAreOne(t *testing.T) {
	law := func(h float64) float64 { return 0.1 * h }
	l := state(t, saddled(t, 0.05, 0.2, 0.1), []float64{0.03, 0.01, 0}, []rainload.Law{law, law, law})
	if len(l.Waters) != 2 || !l.Complete {
		t.Fatalf("%+v", l.Waters)
	}
	for _, w := range l.Waters {
		want := map[int]float64{1: 0.2, 2: 0.175}[len(w.Outlets)]
		near(t, fmt.Sprintf("level at outlets %d", w.Outlets), w.Level, want, 1e-9, "by hand")
		near(t, "flow", w.Inflow, map[int]float64{1: 0.03, 2: 0.025}[len(w.Outlets)], 1e-9, "by hand")
		near(t, "weight", w.Weight, 1000*w.Volume, 1e-9, "1000 kg in a cubic metre")
	}
}

// Waters that only touch, at the very height of a ridge between them, are two, and each has half of the roof.
func TestWatersThatOnlyTouchAreTwo(t *testing.T) {
	l := state(t, saddled(t, 0.1, 0.1), nil, nil)
	if len(l.Waters) != 2 {
		t.Fatalf("%+v", l.Waters)
	}
	for _, w := range l.Waters {
		near(t, "area", w.Area, 100, 1e-6, "by hand")
	}
}

// One overflow takes nothing and has a law, the other has none and takes all: what they share is not known, in whichever order they stand. And where no
// law at all is given, only the static level is.
func TestAKnownHeadDoesNotHideAnUnknownOne(t *testing.T) {
	law := func(h float64) float64 { return h }
	s := level(t, 10, 10, 0.05, 0.05)
	for _, c := range []struct {
		inflow []float64
		laws   []rainload.Law
	}{{[]float64{0, 0.01}, []rainload.Law{law, nil}}, {[]float64{0.01, 0}, []rainload.Law{nil, law}}, {[]float64{0.01, 0.01}, nil}} {
		l := state(t, s, c.inflow, c.laws)
		if len(l.Waters) != 1 || l.Waters[0].HeadKnown || l.Complete || l.Waters[0].Level != l.Waters[0].Static {
			t.Errorf("inflow %v: %+v", c.inflow, l.Waters)
		}
	}
}

// Where rain brings an outlet nothing, its law is not asked for: what stands at its inlet is known. Behind a ridge water stands that is no outlet's.
func TestNothingComes(t *testing.T) {
	s := saddled(t, 0.05, 0.1)
	s.Outlets = s.Outlets[:1]
	for _, laws := range [][]rainload.Law{nil, {nil}} {
		l := state(t, s, []float64{0}, laws)
		if len(l.Waters) != 1 || !l.Waters[0].HeadKnown || !l.Complete || l.Waters[0].Head != 0 {
			t.Fatalf("%+v", l.Waters)
		}
		near(t, "area at the outlet", l.Waters[0].Area, 90, 1e-6, "by hand: the ridge rises from x = 8 and is 50 mm high at 9")
		near(t, "area of all water", l.Area, 190, 1e-6, "by hand")
	}
}

// On a plane that falls to a low overflow nothing stands, and the high one that no water comes to has none: by hand 4 L/s through 1 m3/s per m^1.5
// stand 0.004^(2/3) = 25.2 mm high at the one.
func TestAnOutletThatNoWaterComesToHasNone(t *testing.T) {
	r := shape.New("falling", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 10, 0.5), shape.At(0, 10, 0.5))
	overflow(shape.Scupper(r, 5, 0, 0.3), 0)
	overflow(shape.Scupper(r, 5, 10, 0.3), 0.5)
	s := shape.Build(t, r)
	law := func(h float64) float64 { return h * math.Sqrt(h) }
	if l := state(t, s, nil, nil); l.Depth != 0 || l.Deepest != -1 || l.Area != 0 {
		t.Errorf("without rain %v m stand at vertex %d, %v m2", l.Depth, l.Deepest, l.Area)
	}
	l := state(t, s, []float64{0.004, 0}, []rainload.Law{law, law})
	if len(l.Waters) != 1 || !slices.Equal(l.Waters[0].Outlets, []int32{0}) {
		t.Fatalf("%+v", l.Waters)
	}
	near(t, "head", l.Waters[0].Head, math.Cbrt(0.004*0.004), 1e-9, "by hand")
}

// Flows and laws must be as many as outlets.
func TestListsOfOtherLengthsAreRefused(t *testing.T) {
	s := level(t, 10, 10, 0.05)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	in := rainload.Input{TIN: s.Cut, Outlets: s.Outlets, Ponds: ps}
	for _, c := range []struct {
		inflow []float64
		laws   []rainload.Law
	}{{[]float64{1, 2}, []rainload.Law{nil}}, {nil, []rainload.Law{nil, nil}}, {[]float64{1}, []rainload.Law{}}} {
		in.Inflow, in.Laws = c.inflow, c.laws
		if l, err := rainload.Of(in); err == nil {
			t.Errorf("%d flows and %d laws for one outlet: %+v", len(c.inflow), len(c.laws), l)
		}
	}
}
