package tape

import (
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Spot is a place whose height is wanted.
type Spot struct {
	Plan     orb.Point
	Code     string  // of a point file: "BEFORE RD-1"
	From     string  // thing that its distance is taped from, empty: two walls
	Distance float64 // from it [m]
	Toward   string  // thing that it is taped toward
	For      finding.Text
}

// next returns the spots that would answer the next question, in walking order.
func (s *Survey) next() []Spot {
	if s.KeepOff.Is() && s.Tier == A && len(s.Ponds) == 0 {
		return nil
	}
	var spots []Spot
	for i := range s.Ponds {
		if s.Ponds[i].Holding.Verdict == hold.NotResolved {
			spots = append(spots, s.toHold(&s.Ponds[i])...)
		}
	}
	spots = walked(distinct(spots), s.Walls)
	if len(spots) == 0 {
		return s.grid()
	}
	return spots
}

// Grid reports whether the next spots are a grid over the whole roof.
func (s *Survey) Grid() bool { return len(s.Next) > 0 && s.Next[0].Code == "SPOT" }

// Read reports whether the heights that would tell what holds some pond were read and left it open.
func (s *Survey) Read() bool {
	for i := range s.Ponds {
		if h := &s.Ponds[i].Holding; h.Verdict == hold.NotResolved && h.Outlet.Sigma > 0 && h.Highest >= 0 {
			return true
		}
	}
	return false
}

// toHold returns the heights that tell what holds a pond: its lowest place, the inlet of its outlet, and the roof before that; those that were
// read but left it open are to be read again.
func (s *Survey) toHold(p *Pond) []Spot {
	number := strings.TrimPrefix(p.ID, "P")
	name := finding.Called(p.ID)
	out := []Spot{{Plan: p.At, Code: "LOW " + number, For: finding.Say("the lowest place of {0}", name)}}
	if p.HoldExit < 0 {
		return out
	}
	e := &s.Exits[p.HoldExit]
	outlet := finding.Called(e.Name)
	out = append(out, Spot{Plan: e.Line[0], Code: "INLET " + e.Name, From: e.Name, For: finding.Say("the inlet of {0}", outlet)})
	total := planar.Distance(e.Line[0], p.At)
	for _, d := range s.steps(total) {
		if at, ok := offset.Toward(e.Line[0], p.At, d); ok {
			out = append(out, Spot{
				Plan: at, Code: "BEFORE " + e.Name, From: e.Name, Distance: d, Toward: p.ID,
				For: finding.Say("the roof {0} before {1}", finding.Tape("distance", d), outlet),
			})
		}
	}
	return append(out, s.overflows()...)
}

// overflows returns the inlets of overflows whose level is not known: they say how high water can rise.
func (s *Survey) overflows() []Spot {
	var out []Spot
	for i := range s.Exits {
		if e := &s.Exits[i]; e.Outlet >= 0 && e.Duty == roof.Overflow && !s.Roof.Outlets[e.Outlet].HasInvert {
			out = append(out, Spot{Plan: e.Line[0], Code: "INLET " + e.Name, From: e.Name, For: finding.Say("the inlet of the overflow {0}", finding.Called(e.Name))})
		}
	}
	return out
}

// steps are how far before an outlet the roof is read [m]: 1, 2 and 4 ft, and on doubling as far as the pond's lowest place, so that no rise
// on a long way is missed.
func (s *Survey) steps(total float64) []float64 {
	first := choose.If(s.Roof.Imperial, float64(quantity.Foot), 0.3)
	var out []float64
	for d := first; d < total; d *= 2 {
		out = append(out, d)
	}
	return out
}

// distinct leaves out spots of a code that are asked for twice at one place.
func distinct(spots []Spot) []Spot {
	var out []Spot
	for _, a := range spots {
		twice := false
		for _, b := range out {
			twice = twice || a.Code == b.Code && planar.Distance(a.Plan, b.Plan) < 0.1
		}
		if !twice {
			out = append(out, a)
		}
	}
	return out
}

// walked returns spots in walking order: from the first corner always to the nearest that is left.
func walked(spots []Spot, walls []offset.Wall) []Spot {
	if len(spots) == 0 {
		return nil
	}
	at := walls[0].From
	left := spots
	var out []Spot
	for len(left) > 0 {
		best := 0
		for i := range left {
			if planar.Distance(left[i].Plan, at) < planar.Distance(left[best].Plan, at) {
				best = i
			}
		}
		out = append(out, left[best])
		at = left[best].Plan
		left = append(left[:best:best], left[best+1:]...)
	}
	return out
}

// mostGrid bounds the grid: a list that nobody would walk is of no use.
const mostGrid = 400

// grid returns spots on a grid over the roof, beside the walls first, up and down its rows.
func (s *Survey) grid() []Spot {
	ring := roof.PlanOf(s.Roof.Outline.Rings[0])
	box := ring.Bound()
	margin, step := 0.3, 3.0
	if s.Roof.Imperial {
		margin, step = float64(quantity.Foot), standard.SurveySpacing
	}
	places := func(low, high float64) []float64 { // whole steps from the first, which a tape that stays put gives; the last beside the wall
		var out []float64
		for v := low + margin; v < high-margin-step/4; v += step {
			out = append(out, v)
		}
		return append(out, high-margin)
	}
	xs, ys := places(box.Left(), box.Right()), places(box.Bottom(), box.Top())
	if len(xs)*len(ys) > mostGrid {
		return nil
	}
	var out []Spot
	for j, y := range ys {
		for i := range xs {
			x := xs[i]
			if j%2 == 1 {
				x = xs[len(xs)-1-i]
			}
			if at := (orb.Point{x, y}); s.onRoof(ring, at) {
				out = append(out, Spot{Plan: at, Code: "SPOT", For: finding.Say("the grid, spot {0}", finding.Called(strconv.Itoa(len(out)+1)))})
			}
		}
	}
	return out
}

// onRoof reports whether a place lies on the roof and on no curb.
func (s *Survey) onRoof(ring orb.Ring, at orb.Point) bool {
	if !planar.RingContains(ring, at) {
		return false
	}
	return !slices.ContainsFunc(s.Roof.Curbs, func(x roof.Curb) bool { return planar.RingContains(roof.PlanOf(x.Ring), at) })
}
