package inspection_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

const (
	feet = float64(quantity.Foot)
	gpm  = float64(quantity.GallonPerMinute)
	psf  = quantity.PoundPerSquareFoot
)

// rain states both rates in inches an hour.
func rain(primary, overflow float64) standard.Overrides {
	return standard.Overrides{
		"rain_primary": primary * float64(quantity.InchPerHour), "rain_overflow": overflow * float64(quantity.InchPerHour),
	}
}

// walled is a roof of 40 by 25 ft, 1,000 ft2, that falls 1/4 in per ft to the south wall, with a primary scupper of 12 in at
// roof level in the middle of that wall and an overflow of 8 in by 6 in, height above it.
func walled(height float64) *roof.Roof {
	l, w, s := 40*feet, 25*feet, 1.0/48
	r := shape.New("walled", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, s*w), shape.At(0, w, s*w))
	r.Outline.EdgeAssumed = false
	shape.Grid(r, 0, 0, l, w, 8, 5, func(_, y float64) float64 { return s * y })
	p := shape.Scupper(r, l/2, 0, 12*inch)
	p.Invert, p.HasInvert, p.Label, p.OpeningHeight = 0, true, "SC-1", 6*quantity.Inch
	o := shape.Scupper(r, l/4, 0, 8*inch)
	o.Invert, o.HasInvert, o.Duty, o.Label, o.OpeningHeight = height, true, roof.Overflow, "OS-1", 6*quantity.Inch
	return r
}

// one returns the only finding of a kind.
func one(t *testing.T, r *roof.Roof, c standard.Overrides, k finding.Kind) finding.Finding {
	t.Helper()
	list := of(run(t, r, c), k)
	if len(list) != 1 {
		t.Fatalf("%d findings of kind %s, want 1", len(list), k)
	}
	return list[0]
}

func none(t *testing.T, r *roof.Roof, c standard.Overrides, kinds ...finding.Kind) {
	t.Helper()
	s := run(t, r, c)
	for _, k := range kinds {
		if list := of(s, k); len(list) > 0 {
			t.Errorf("kind %s: %+v", k, list)
		}
	}
}

func close(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %g, want %g", what, got, want)
	}
}

// The compared figure is 2 in (International Residential Code, section R903.4.1). By hand: 6 in over the primary is 4 in
// more; an inch of water weighs 5.2 psf (International Building Code, 1611.1), so that is 20.8 psf.
func TestOverflowHigh(t *testing.T) {
	f := one(t, walled(6*inch), nil, finding.OverflowHigh)
	close(t, "height", measured(f, "height over the primary"), 6*inch, 1e-9)
	close(t, "height over the low point", measured(f, "height over the low point"), 6*inch, 1e-9)
	close(t, "load", measured(f, "load of the extra height")/psf, 20.8, 0.02)
	close(t, "load of an inch", measured(f, "load of an inch")/psf, 5.2, 0.005)
	do := f.Do.Fill(func(finding.Quantity) string { return "?" })
	if f.Severity != finding.Repair || f.Decides != finding.Engineer || !strings.Contains(do, "Do not raise") || !strings.Contains(f.Source, standard.LocalCode) {
		t.Errorf("%+v", f)
	}
	none(t, walled(2*inch), nil, finding.OverflowHigh, finding.OverflowLow)
	none(t, walled(1*inch), nil, finding.OverflowHigh, finding.OverflowLow) // sources differ: lower is not asked up
}

func TestOverflowBelowThePrimary(t *testing.T) {
	r := walled(0)
	r.Outlets[0].Invert = 1 * inch
	r.Outlets[1].Invert = 0
	f := one(t, r, nil, finding.OverflowLow)
	close(t, "size", f.Size, inch, 1e-9)
	if f.Outlet != 1 {
		t.Errorf("outlet %d", f.Outlet)
	}
}

// International Building Code, 2021, section 1502.3: 4 in in either direction.
func TestOverflowOpeningOfFourInches(t *testing.T) {
	for _, c := range []struct {
		width, height float64
		small         bool
	}{{8, 6, false}, {4, 4, false}, {3.5, 6, true}, {8, 3, true}, {8, 0, false}} {
		r := walled(2 * inch)
		r.Outlets[1].Width, r.Outlets[1].OpeningHeight = quantity.Length(c.width*inch), quantity.Length(c.height*inch)
		list := of(run(t, r, nil), finding.OverflowSmall)
		if (len(list) == 1) != c.small {
			t.Errorf("%g x %g in: %+v", c.width, c.height, list)
		}
	}
	r := walled(2 * inch)
	r.Outlets[1].Width, r.Outlets[1].WidthAssumed, r.Outlets[1].OpeningHeight = 0.05, true, 0
	none(t, r, nil, finding.OverflowSmall)
}

// By hand: the girth of a 4 in drain is 12.57 in; three times its area is 37.7 in2. An overflow drain of 3 in is smaller
// than the roof drain of 4 in.
func TestOverflowVariantsByName(t *testing.T) {
	pyramid := func(overflow func(*roof.Outlet)) *roof.Roof {
		r := shape.Pyramid(10, 10, 0.02, 0.3)
		r.Outlets[0].Invert, r.Outlets[0].HasInvert, r.Outlets[0].Diameter = 0, true, 4*quantity.Inch
		o := shape.Drain(r, 0.8, 0, 0.3)
		o.Invert, o.HasInvert, o.Duty = 2*inch, true, roof.Overflow
		overflow(&r.Outlets[1])
		return r
	}
	f := one(t, pyramid(func(o *roof.Outlet) { o.Diameter = 3 * quantity.Inch }), nil, finding.OverflowSmall)
	what := f.What.Fill(func(finding.Quantity) string { return "?" })
	if f.Severity != finding.Note || !strings.Contains(what, standard.OverflowByDrain) || !strings.Contains(f.Source, "R903.4.1") {
		t.Errorf("%q, %+v", what, f)
	}
	none(t, pyramid(func(o *roof.Outlet) { o.Diameter = 4 * quantity.Inch }), nil, finding.OverflowSmall)

	r := shape.Pyramid(10, 10, 0.02, 0.3)
	r.Outlets[0].Invert, r.Outlets[0].HasInvert, r.Outlets[0].Diameter = 0, true, 4*quantity.Inch
	o := shape.Scupper(r, 0, -5, 12*inch)
	o.Invert, o.HasInvert, o.Duty, o.OpeningHeight = 0.1+inch, true, roof.Overflow, 4*quantity.Inch
	f = one(t, r, nil, finding.OverflowSmall)
	what = f.What.Fill(func(finding.Quantity) string { return "?" })
	if !strings.Contains(what, "("+standard.OverflowByGirth+")") { // 12 in < 12.57 in, but 48 in2 > 37.7 in2
		t.Errorf("%q", what)
	}
	close(t, "width asked", f.Required[0].Value, 12.566*inch, 1e-4)
}

// Common practice, no code figure: two ways out.
func TestOneOutletOnAWalledRoof(t *testing.T) {
	if f := one(t, walled(2*inch), nil, finding.OutletSingle); f.Severity != finding.Note {
		t.Errorf("%+v", f)
	}
	r := walled(2 * inch)
	o := shape.Scupper(r, 30*feet, 0, 12*inch)
	o.Invert, o.HasInvert = 0, true
	none(t, r, nil, finding.OutletSingle)
}

// By hand: 1,000 ft2 at 8 in/h bring 1000 x 8 / 96.25 = 83.1 gpm. International Plumbing Code, Table 1106.2: a vertical
// pipe of 2 in takes 34 gpm (Table 1106.3: 30).
func TestOutletSmall(t *testing.T) {
	r := walled(2 * inch)
	r.Outlets[0].Leader.Diameter = 2 * quantity.Inch
	f := one(t, r, rain(8, 8), finding.OutletSmall)
	close(t, "flow that comes", measured(f, "flow that comes")/gpm, 83.1, 0.1)
	if got := measured(f, "flow that it takes") / gpm; got < 29.9 || got > 34.1 {
		t.Errorf("a 2 in leader takes %g gpm", got)
	}
	if f.Outlet != 0 || f.Severity != finding.Repair || f.Decides != finding.Plumber || strings.Contains(plain(f.What), "blocked") {
		t.Errorf("%+v", f)
	}
	r.Outlets[0].Leader.Diameter = 4 * quantity.Inch // 144 to 192 gpm, whatever the table
	none(t, r, rain(8, 8), finding.OutletSmall, finding.OutletUnsized)
	none(t, walled(2*inch), nil, finding.OutletSmall, finding.OutletUnsized, finding.ScupperFull, finding.HeadUntested)
}

// By hand: 20 psf are 20 / 5.202 = 3.845 in of water. At that head a scupper of 8 in takes 2.9 x 8 x 3.845^1.5 = 174.9 gpm, which 1,000 ft2 bring at
// 174.9 x 96.25 / 1,000 = 16.8 in/h: more rain, and it takes the flow only under water as heavy as the least live load of most roofs.
func TestOutletTakesItUnderDeepWaterOnly(t *testing.T) {
	r := walled(2 * inch)
	r.Outlets[0].Width = 8 * quantity.Inch
	none(t, r, rain(16.6, 1), finding.OutletSmall)
	f := one(t, r, rain(17.1, 1), finding.OutletSmall)
	if f.Outlet != 0 || f.Severity != finding.Repair || f.Decides != finding.Plumber || !strings.Contains(plain(f.What), "water must stand") {
		t.Errorf("%+v", f)
	}
	close(t, "head", measured(f, "head"), 3.884*inch, 0.01*inch) // (17.1 x 1,000 / 96.25 / 23.2)^(2/3)
	close(t, "load", measured(f, "load at the inlet"), 3.884*249.09, 3)
}

// By hand: over a width of 8 in 2.9 b H^1.5 gpm fill an opening of 4 in at 2.9 x 8 x 8 = 185.6 gpm; 1,000 ft2 bring that
// at 17.9 in/h. At 30 in/h, 311.7 gpm, the scupper runs full; at 8 in/h it does not.
func TestScupperRunsFull(t *testing.T) {
	r := walled(2 * inch)
	r.Outlets[1].OpeningHeight = 4 * quantity.Inch
	f := one(t, r, rain(1, 30), finding.ScupperFull)
	if f.Outlet != 1 || measured(f, "head") <= 4*inch || !strings.Contains(plain(f.What), " runs full with every primary outlet blocked: ") {
		t.Errorf("%+v", f)
	}
	close(t, "flow", measured(f, "flow that comes")/gpm, 311.7, 0.2)
	none(t, r, rain(1, 8), finding.ScupperFull)

	// By hand: 17 in/h bring 176.6 gpm, by the sharp-crested law at (176.6/23.2)^(2/3) = 3.87 in; a broad crest, 2.63 for
	// 3.33 in feet and seconds, needs (3.33/2.63)^(2/3) = 1.17 times that, which is over the opening.
	if f := one(t, r, rain(1, 17), finding.ScupperFull); f.Severity != finding.Note || !(measured(f, "head by a broad crest") > 4*inch) || !(measured(f, "head") < 4*inch) {
		t.Errorf("between the two laws: %+v", f)
	}
	r.Outlets[1].Crest = roof.SharpCrest
	none(t, r, rain(1, 17), finding.ScupperFull)
}

func TestOutletUnsized(t *testing.T) {
	r := pyramid(0.02, 0) // its drains have no diameter
	list := of(run(t, r, rain(2, 2)), finding.OutletUnsized)
	if len(list) != 2 || list[0].Severity != finding.Note {
		t.Errorf("%+v", list)
	}
	none(t, r, nil, finding.OutletUnsized)
	r = walled(2 * inch)
	r.Outlets[1].WidthAssumed = true // the default stands for a width that nobody gave
	if f := one(t, r, rain(2, 2), finding.OutletUnsized); f.Outlet != 1 {
		t.Errorf("%+v", f)
	}
}

// By hand: with the primary blocked 2 in stand at the wall, and 83.1 gpm over 8 in rise (83.1/23.2)^(2/3) = 2.34 in more:
// 4.34 in, 22.6 psf. The limit counts only with its author.
func TestLoadOverAStatedLimit(t *testing.T) {
	r := walled(2 * inch)
	r.Structure = roof.Structure{LoadLimit: 20 * psf, LoadLimitBy: "A. Engineer"}
	f := one(t, r, rain(4, 8), finding.LoadOverLimit)
	close(t, "load", measured(f, "load")/psf, 22.6, 0.1)
	close(t, "static head", measured(f, "static head")/inch, 2, 0.01)
	close(t, "hydraulic head", measured(f, "hydraulic head")/inch, 2.34, 0.01)
	why := f.Why.Fill(func(finding.Quantity) string { return "?" })
	if f.Severity != finding.Urgent || f.Decides != finding.Engineer || !strings.Contains(why, standard.AtLeast) || !strings.Contains(f.Source, "A. Engineer") {
		t.Errorf("%+v", f)
	}
	r.Structure.LoadLimit = 25 * psf
	none(t, r, rain(4, 8), finding.LoadOverLimit)
	r.Structure = roof.Structure{LoadLimit: 20 * psf}
	none(t, r, rain(4, 8), finding.LoadOverLimit)
}

// ASCE 7-16, section 8.4: a roof of 1/4 in per ft counts where its members run along the free edge (1 in per ft), and by
// the water that stands; one of 1/8 in per ft counts anyway. It is always for a licensed structural engineer.
func TestBays(t *testing.T) {
	r := shape.Plane(12, 10, 1.0/24, 6) // 1/2 in per ft to a gutter in the south
	r.Structure = roof.Structure{HasDirection: true, MemberDirection: 90, MemberSpan: 10, MemberSpacing: 0.5}
	shape.Scupper(r, 12, 9, 0.3)
	f := one(t, r, nil, finding.BaySusceptible)
	what := f.What.Fill(func(finding.Quantity) string { return "?" })
	why := f.Why.Fill(func(finding.Quantity) string { return "?" })
	if f.Severity != finding.Note || f.Decides != finding.Engineer || !strings.Contains(what, "A licensed structural engineer must check.") || !strings.Contains(why, "16 times") {
		t.Errorf("%q, %q", what, why)
	}
	r.Structure.MemberDirection = 0 // square to the gutter: 1/4 in per ft counts, and the roof has 1/2
	none(t, r, nil, finding.BaySusceptible)
	r.Structure = roof.Structure{}
	none(t, r, nil, finding.BaySusceptible)
}

// Doubt counts against the roof: a plane of 2.3 %, over 1/4 in per ft (2.083 %), whose slope is good to 0.15 % (one standard error) is not shown to be
// as steep as that; one of 2.6 % is. Members that nobody described, or that lie oblique to the edge, count as running along it (1 in per ft); those within 30 degrees of
// square to it do not.
func TestBaysInDoubt(t *testing.T) {
	stated := standard.Overrides{"rain_overflow": float64(quantity.InchPerHour)}
	shed := func(slope, member float64, sigma quantity.Length) *roof.Roof {
		r := shape.Plane(12, 10, slope, 6)
		r.Structure = roof.Structure{HasDirection: member >= 0, MemberDirection: math.Max(member, 0), MemberSpan: 10, MemberSpacing: 1}
		for i := range r.Spots {
			r.Spots[i].Sigma = sigma
		}
		return r
	}
	for _, c := range []struct {
		slope, member float64 // bearing of the members, the gutter runs along 90; below 0 not stated
		sigma         quantity.Length
		found         bool
	}{
		{0.023, 0, 0.035, true}, {0.026, 0, 0.0001, false}, {0.026, 20, 0.0001, false}, {0.026, 45, 0.0001, true}, {0.026, 90, 0.0001, true}, {0.026, -1, 0.0001, true}, {0.09, -1, 0.0001, false},
	} {
		list := of(run(t, shed(c.slope, c.member, c.sigma), stated), finding.BaySusceptible)
		if (len(list) == 1) != c.found {
			t.Errorf("%+v: %+v", c, list)
		}
	}
}

// Members and edge turn together: on the same roof turned by 30 degrees to the grid those within 30 degrees of square to the gutter count as square, and
// those along it or oblique to it do not.
func TestBaysAskewToTheGrid(t *testing.T) {
	stated := standard.Overrides{"rain_overflow": float64(quantity.InchPerHour)}
	sin, cos := math.Sincos(math.Pi / 6)
	for member, found := range map[float64]bool{0: false, 20: false, 340: false, 45: true, 90: true, 135: true} { // bearings before the turn
		r := shape.Plane(12, 10, 0.026, 6)
		turned := func(p orb.Point) orb.Point { return orb.Point{p[0]*cos + p[1]*sin, p[1]*cos - p[0]*sin} } // 30 degrees clockwise
		for i := range r.Outline.Rings[0] {
			r.Outline.Rings[0][i].Plan = turned(r.Outline.Rings[0][i].Plan)
		}
		for i := range r.Spots {
			r.Spots[i].Plan, r.Spots[i].Sigma = turned(r.Spots[i].Plan), 0.0001
		}
		for i := range r.Edges {
			for k := range r.Edges[i].Line {
				r.Edges[i].Line[k].Plan = turned(r.Edges[i].Line[k].Plan)
			}
		}
		r.Structure = roof.Structure{HasDirection: true, MemberDirection: math.Mod(member+30, 360), MemberSpan: 10, MemberSpacing: 1}
		if list := of(run(t, r, stated), finding.BaySusceptible); (len(list) == 1) != found {
			t.Errorf("members at %g degrees: %+v", member, list)
		}
	}
}

// By hand: with the primary blocked water stands at 2 in over the low wall; a sill at 6 in has 4 in of room, one at 2.5 in
// half an inch, which is less than 25 mm (NHBC Standards, 7.1.5), and one at 1 in lets water in.
func TestSills(t *testing.T) {
	for _, c := range []struct {
		z      float64
		margin float64
		found  bool
	}{{6, 4, false}, {2.5, 0.5, true}, {1, -1, true}} {
		r := walled(2 * inch)
		sill := roof.Sill{Kind: roof.DoorSill, Label: "DS-1"}
		sill.Position = shape.At(30*feet, 0.1, c.z*inch)
		r.Sills = []roof.Sill{sill}
		s := run(t, r, nil)
		if len(s.Sills) != 1 || s.Cases[s.Sills[0].Case].Name != "every primary outlet blocked" {
			t.Errorf("sill at %g in: %+v", c.z, s.Sills)
			continue
		}
		close(t, "margin", s.Sills[0].Margin/inch, c.margin, 1e-3)
		if list := of(s, finding.SillLow); (len(list) == 1) != c.found || c.found && list[0].Severity != finding.Urgent {
			t.Errorf("sill at %g in: %+v", c.z, list)
		}
	}
}

// 2 in with half an inch of play: an overflow 3 in over the primary is too high (International Residential Code, section R903.4.1: 2 in; the play is
// what an inlet is set to).
func TestOverflowThreeInchesUp(t *testing.T) {
	f := one(t, walled(3*inch), nil, finding.OverflowHigh)
	close(t, "height", measured(f, "height over the primary"), 3*inch, 1e-9)
	none(t, walled(2.4*inch), nil, finding.OverflowHigh)
}

// Two bays with a ridge between them: west the scupper A in the lowest place, 6 in under the datum, east B at the datum. The overflow stands
// east of the ridge, 2 in over B and 8 in over A, 18 ft from A and 32 ft from B, and beyond 10 ft it is the way of the water that says for which it
// stands: for B, so that it is not too high.
func TestOverflowStandsForTheOutletItsWaterRunsTo(t *testing.T) {
	profile := []float64{0, 0, 20, -6, 30, 6, 34, 1, 70, 0, 80, 1} // feet along the south wall, inches
	z := func(x, y float64) float64 {
		x /= feet
		for i := 2; i < len(profile); i += 2 {
			if x <= profile[i]+1e-9 {
				t := (x - profile[i-2]) / (profile[i] - profile[i-2])
				return (profile[i-1]+t*(profile[i+1]-profile[i-1]))*inch + y/48
			}
		}
		return y / 48
	}
	r := shape.New("two bays", shape.At(0, 0, z(0, 0)), shape.At(80*feet, 0, z(80*feet, 0)), shape.At(80*feet, 20*feet, z(80*feet, 20*feet)), shape.At(0, 20*feet, z(0, 20*feet)))
	r.Outline.EdgeAssumed = false
	shape.Grid(r, 0, 0, 80*feet, 20*feet, 40, 5, z)
	for _, o := range []struct {
		x, invert float64
		label     string
	}{{20, -6, "A"}, {70, 0, "B"}, {38, 2, "OS"}} {
		s := shape.Scupper(r, o.x*feet, 0, 8*inch)
		s.Invert, s.HasInvert, s.Label, s.OpeningHeight = o.invert*inch, true, o.label, 6*quantity.Inch
	}
	r.Outlets[2].Duty = roof.Overflow
	none(t, r, nil, finding.OverflowHigh, finding.OverflowLow)
	r.Outlets[2].Plan[0] = 27 * feet // west of the ridge, 7 ft from A
	f := one(t, r, nil, finding.OverflowHigh)
	if what := plain(f.What); !strings.Contains(what, " A.") {
		t.Errorf("%q", what)
	}
	close(t, "height over A", measured(f, "height over the primary"), 8*inch, 1e-9)
	// East of the ridge, whence water runs to B, but 9.5 ft from A: it stands beside A.
	r.Outlets[0].Plan[0], r.Outlets[0].Invert = 21.5*feet, -4.2*inch
	r.Outlets[2].Plan[0], r.Outlets[2].Invert = 31*feet, 8*inch
	f = one(t, r, nil, finding.OverflowHigh)
	if what := plain(f.What); !strings.Contains(what, " A.") {
		t.Errorf("%q", what)
	}
	close(t, "height over A", measured(f, "height over the primary"), 12.2*inch, 1e-9)
}

// Water within 2 ft of a sill stands at it; farther off it does not. By hand: with the primary blocked 2 in stand at the low wall, and at
// 1/4 in per ft reach 8 ft up the roof. The last surveyed wet place is at 7 ft: 1.9 ft from a sill at 8.9 ft, 3.9 ft from one at 10.9 ft.
func TestSillAwayFromTheWater(t *testing.T) {
	for y, comes := range map[float64]bool{8.9: true, 10.9: false} {
		r := walled(2 * inch)
		for _, row := range []float64{7, 8, 8.5, 9, 9.5} {
			for x := range 9 {
				shape.Spot(r, 5*feet*float64(x), row*feet, row*feet/48)
			}
		}
		sill := roof.Sill{Kind: roof.DoorSill, Label: "DS-1"}
		sill.Position = shape.At(30*feet, y*feet, 4*inch)
		r.Sills = []roof.Sill{sill}
		if s := run(t, r, nil); (len(s.Sills) == 1) != comes {
			t.Errorf("sill at %g ft: %+v", y, s.Sills)
		}
	}
}
