package correction_test

import (
	"math"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// stepped falls at 2 % to a gutter and steps up by 25 mm within 150 mm on a line across its fall: below y = at it is thicker. The places of the edge of the step read up to 2 mm high.
func stepped(long, wide, at, datum float64) *roof.Roof {
	const up, within = 0.025, 0.15
	h := func(_, y float64) float64 {
		return datum + 0.02*y + up*math.Min(1, math.Max(0, (at-y)/within))
	}
	r := shape.New("stepped", shape.At(0, 0, h(0, 0)), shape.At(wide, 0, h(wide, 0)), shape.At(wide, long, h(wide, long)), shape.At(0, long, h(0, long)))
	const n = 12
	for i := range n + 1 {
		x := wide * float64(i) / n
		for k := range n + 1 {
			if y := long * float64(k) / n; math.Abs(y-at) > 0.4 && i%2 == 0 {
				shape.Spot(r, x, y, h(x, y))
			}
		}
		rough := [3]float64{0, 0.002, 0.001}[i%3]
		shape.Spot(r, x, at, h(x, at))
		shape.Spot(r, x, at-within, h(x, at-within)+rough)
		if i > 0 {
			last, was := wide*float64(i-1)/n, [3]float64{0, 0.002, 0.001}[(i-1)%3]
			shape.Breakline(r, roof.GradeBreak, shape.At(last, at, h(last, at)), shape.At(x, at, h(x, at)))
			shape.Breakline(r, roof.GradeBreak, shape.At(last, at-within, h(last, at-within)+was), shape.At(x, at-within, h(x, at-within)+rough))
		}
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(wide, 0))
	return r
}

// TestStepInMidBayIsEased: a step 6 m from the gutter gets a taper of one plane above it, at 1.1 times 1/8 in per ft = 1.14583 %. By hand: its level is that of the highest place of the edge, 27 mm over the plane
// above carried on; it meets that plane 27 / (20 - 11.4583) = 3.161 m up the roof, and is 0.5 * 0.027 * 3.161 - 0.5 * 0.025 * 0.15 = 0.0408 m2 in section. Nothing comes off, and nobody is asked for an opening.
func TestStepInMidBayIsEased(t *testing.T) {
	for _, s := range sizes {
		wide := 12 * s.scale
		_, o := first(t, corrected(t, stepped(24*s.scale, wide, 6*s.scale, s.sum), correction.Input{}))
		c := change(o, mend.Fill)
		if c == nil || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || o.Cut > 1e-6 || o.NewOutlets > 0 {
			t.Fatalf("%s: %v, %d ponds left, worse %+v, limits %+v, cuts %g", s.name, kinds(o), o.PondsLeft, o.Worse, o.Limits, o.Cut)
		}
		near(t, s.name+": up the roof [m]", c.What.Args[0].Value, 3.161, 0.3)
		near(t, s.name+": thickest [m]", c.What.Args[1].Value, o.Greatest, 0.001)
		near(t, s.name+": laid [m3]", o.Fill, 0.0408*wide, 0.002*wide)
		if most := (3.161 + 2*0.6096) * (wide + 0.6096); o.Opened > most { // half a board more on each side
			t.Errorf("%s: opens %.1f m2, at most %.1f", s.name, o.Opened, most)
		}
	}
}

// TestStepBesideAnEdgeIsTakenDown: a step 1.8 m from the gutter: what is thicker comes down between it and the edge, with the edge, by the 25 mm of the step and the 2 mm by which places of it read high; no board is
// laid, and a core on each side of the step is asked for.
func TestStepBesideAnEdgeIsTakenDown(t *testing.T) {
	for _, s := range sizes {
		wide := 12 * s.scale
		a, o := first(t, corrected(t, stepped(12*s.scale, wide, 1.8, s.sum), correction.Input{}))
		c := change(o, mend.LowerEdge)
		if c == nil || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || o.Fill > 1e-6 {
			t.Fatalf("%s: %v, %d ponds left, worse %+v, limits %+v, lays %g", s.name, kinds(o), o.PondsLeft, o.Worse, o.Limits, o.Fill)
		}
		near(t, s.name+": comes down by [m]", c.What.Args[1].Value, 0.027, 0.0015)
		near(t, s.name+": taken out [m3]", o.Cut, wide*(1.65*0.0255+0.5*0.15*0.0255), 0.05*wide*0.04)
		if most := (1.8 + 0.6096) * (wide + 0.3048); o.Opened > most {
			t.Errorf("%s: opens %.1f m2, at most %.1f", s.name, o.Opened, most)
		}
		asked := false
		for i := range a.Questions {
			asked = asked || a.Questions[i].Where == "on both sides of the step at "+c.Pond
		}
		if !asked {
			t.Errorf("%s: nobody asks what makes the step: %+v", s.name, a.Questions)
		}
	}
}
