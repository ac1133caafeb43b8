package study

import (
	"math"
	"slices"

	"runnel/analysis/drainage"
	"runnel/analysis/gather"
	"runnel/analysis/rainfall"
	"runnel/analysis/standard"
	"runnel/analysis/storm"
)

// Design is the storm that a roof is to be seen under.
type Design struct {
	Pattern     *rainfall.Pattern
	Rain        rainfall.Hyetograph
	Wet         bool     // ponds stand full at the start
	Evaporation float64  // the user's figure [m/s]; 0: none
	Step        float64  // route by storage-indication in steps of it, for a check by hand [s]; 0: exactly
	Blocked     []string // labels of outlets, AllPrimary or All; empty: every usual case
}

// Names of sets of blocked outlets.
const (
	AllPrimary = "all-primary"
	All        = "all"
)

// Names of the cases in which every primary outlet is blocked, and every outlet.
const (
	EveryPrimaryBlocked = "every primary outlet blocked"
	everyOutletBlocked  = "every outlet blocked"
)

// Case is the storm with some outlets blocked.
type Case struct {
	Name    string   // in words: "every outlet works", "D1 blocked"
	Labels  []string // of the blocked outlets
	Blocked []bool   // per outlet
	*storm.Result
	Load float64 // of the deepest water [Pa]
}

// Drains reports whether water leaves the roof, or none came: else it has no time in which it drains.
func (c *Case) Drains() bool { return c.Out > 0 || c.Came() == 0 }

// Came returns all the water of the case [m3]: rain, what was let on, and what stood before.
func (c *Case) Came() float64 { return c.Fallen + c.Let + c.Before }

// Storm is what a design storm does to the roof.
type Storm struct {
	*Design
	Cases   []Case
	Worst   int      // index into Cases: the deepest water
	Unsized []string // labels of outlets whose sizes nobody stated: they count as blocked
	Moments []float64
}

// moments is how many pictures of the water are kept of a case.
const moments = 24

// storm routes the design storm through every case.
func (s *Study) storm(d *Design, above []drainage.Above) error {
	if d == nil {
		return nil
	}
	cases, unsized, err := s.blockages(d.Blocked)
	if err != nil {
		return err
	}
	in, err := s.event(d, above)
	if err != nil {
		return err
	}
	laws := make([]storm.Law, len(s.Surface.Outlets))
	for i, law := range s.laws() {
		laws[i] = law
	}
	m, err := storm.New(s.Surface, laws)
	if err != nil {
		return err
	}
	out := &Storm{Design: d, Cases: cases, Unsized: unsized, Moments: pictures(d.Rain.Duration())}
	asked := gather.Each(cases, func(x Case) storm.Case {
		return storm.Case{Name: x.Name, Blocked: x.Blocked, Wet: d.Wet, Moments: out.Moments}
	})
	results, err := m.Blockages(in, asked)
	if err != nil {
		return err
	}
	for i := range cases {
		c := &out.Cases[i]
		c.Result = results[i]
		c.Load = float64(c.Deepest.Depth*standard.WaterDensity) * standard.Gravity
		if c.Deepest.Depth > out.Cases[out.Worst].Deepest.Depth {
			out.Worst = i
		}
	}
	s.Storm = out
	return nil
}

// event returns the storm with what walls and roofs above shed.
func (s *Study) event(d *Design, above []drainage.Above) (storm.Storm, error) {
	steps := storm.Steps{Time: d.Rain.Time, Rate: d.Rain.Rate}
	in := storm.Storm{Rain: steps, Evaporation: d.Evaporation, Step: d.Step}
	shed, err := drainage.Shed(s.Roof, s.Drainage.WallRule, s.Flow)
	if err != nil {
		return in, err
	}
	for _, a := range slices.Concat(shed, above) {
		q := gather.Each(steps.Rate, func(rate float64) float64 { return rate * a.Area })
		in.Inflows = append(in.Inflows, storm.Inflow{X: a.X, Y: a.Y, Flow: storm.Steps{Time: steps.Time, Rate: q}})
	}
	return in, nil
}

// pictures returns the moments at which the water is kept: evenly through the storm and half as long again after it,
// as far as the storm is followed.
func pictures(duration float64) []float64 {
	out := make([]float64, moments)
	last := math.Min(1.5*duration, math.Floor(duration+storm.After))
	for i := range out {
		out[i] = math.Min(last, math.Round(last*float64(i+1)/moments))
	}
	return slices.Compact(out)
}
