package study

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"runnel/analysis/assembly"
	"runnel/analysis/atonce"
	"runnel/analysis/blunder"
	"runnel/analysis/bounds"
	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/choose"
	"runnel/analysis/drainage"
	"runnel/analysis/evidence"
	"runnel/analysis/flow"
	"runnel/analysis/gather"
	"runnel/analysis/halt"
	"runnel/analysis/inspection"
	"runnel/analysis/nextspot"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
)

// Options steer a run; the zero value is the usual one.
type Options struct {
	Tolerance    float64            // factor on the plan tolerances; 0 means 1
	Practice     standard.Practice  // that gives the criteria and methods that nobody states
	Criteria     standard.Overrides // what flags and a criteria file state; it wins over what the outline states
	Meant        bool               // rates of rain over standard.AbsurdRate are meant
	Above        []drainage.Above   // what roofs above let onto this one
	Storm        *Design            // nil: none
	PerMetre     map[string]float64 // the user's own thermal resistance per thickness, by material [m K/W]
	Method       assembly.Method    // of the R that is compared with limits; empty: the thinnest place
	NextSpots    int                // places to shoot next that are named at most; 0 means standard.NextSpots, negative none
	FindingsOnly bool               // leave out what no finding rests on: contours, bounds of planes and of catchments, travel, what cores would tell, places to shoot next
	Narrow       bool               // leave out slips of the survey besides; Complete adds it all
	Context      context.Context    //nolint:containedctx // of one run, which its end stops; nil: nothing does
	Step         func(name string)  // told when a step is done; nil: nobody is
	Clock        func() float64     // seconds since any moment; nil: steps are not timed
}

// Run analyses one measured roof. The error is a *roof.Refusal where the roof cannot be used, a *fault.Error where an
// invariant broke, and that of the context where it ended before the run.
func Run(r *roof.Roof, o Options) (*Study, error) {
	return begun(r, o, func(s *Study, t *timer) error {
		if err := s.shape(o); err != nil {
			return err
		}
		return s.finish(o, t)
	})
}

// begun makes the surface of a roof and does then the rest with it.
func begun(r *roof.Roof, o Options, rest func(*Study, *timer) error) (s *Study, err error) {
	defer func() {
		if s.release(); err != nil {
			s = nil
		}
	}()
	defer halt.Caught(&err)
	s = &Study{Roof: r, measured: r, Seconds: map[string]float64{}, narrow: o.Narrow}
	t := s.timer(o)
	if err = s.begin(r, o, t); err != nil {
		return nil, err
	}
	return s, rest(s, t)
}

// begin takes the roof as measured and makes its surface.
func (s *Study) begin(r *roof.Roof, o Options, t *timer) error {
	if err := s.take(r, o); err != nil {
		return err
	}
	t.start()
	if err := s.build(o); err != nil {
		return err
	}
	t.stop("surface")
	return nil
}

// finish does what comes after slopes and ponds.
func (s *Study) finish(o Options, t *timer) (err error) {
	t.stop("slope")
	if err = s.reason(o, t); err != nil {
		return err
	}
	if s.LowPlaces, err = s.lowPlaces(s.measured, o); err != nil {
		return err
	}
	t.stop("flow")

	var drawing error
	atonce.Do(func() { err = s.water(o.Above) }, func() { drawing = s.contours(o) })
	if err = cmp.Or(err, drawing); err != nil {
		return err
	}
	t.stop("water")
	if err = s.storm(o.Storm, o.Above); err != nil {
		return err
	}
	t.stop("storm")

	s.inspect(o)
	return nil
}

// shape finds slopes and ponds, side by side.
func (s *Study) shape(o Options) error {
	var sloping, ponding error
	atonce.Do(func() { sloping = s.slopes(o) }, func() { ponding = s.ponds() })
	return cmp.Or(sloping, ponding)
}

func (s *Study) slopes(o Options) (err error) {
	if s.Slopes, err = slope.Of(s.Surface, s.Roof, s.Criteria); err != nil {
		return err
	}
	return s.refuseContours(o)
}

func (s *Study) ponds() (err error) {
	s.Ponds, err = ponding.Find(s.Surface.Cut, s.Surface.Outlets, s.Surface.Cut.Z)
	return err
}

// reason finds which ponds the spots show, what holds them and how sure their figures are, and the ponds behind blocked outlets, and, side by side, where
// water runs. t is told when the ponds are done; what the rest takes longer is booked to the flow.
func (s *Study) reason(o Options, t *timer) error {
	var told, flowing error
	judged := make(chan struct{})
	listed := func() []bool {
		<-judged
		return marks(s.Listed, len(s.Ponds.Ponds))
	}
	atonce.Do(func() {
		func() {
			defer close(judged)
			s.judgeAll()
		}()
		s.Causes = cause.Of(s.Surface, s.Slopes, s.Ponds, indices(s.Listed), s.Criteria)
		if told = s.blunders(o); told == nil {
			s.bound(o)
			t.stop("ponds")
			s.blockedRoof, told = drainage.Block(s.Surface, s.Ponds, &s.Criteria)
		}
	}, func() { flowing = s.flows(o, listed) })
	if err := cmp.Or(told, flowing); err != nil {
		return err
	}
	s.Bounds.About(s.outletAreas(), s.Surface.Area)
	return nil
}

// flows finds where water runs. Where it stands, travel is measured on the roof cut along the water's edge. listed waits until it is known which ponds are.
func (s *Study) flows(o Options, listed func() []bool) (err error) {
	if o.FindingsOnly && s.Criteria.MaxTravel <= 0 && len(s.Roof.Cores) == 0 {
		if s.Flow, err = flow.Trace(s.Surface, flow.Options{LabelsOnly: true}); err != nil {
			return err
		}
		s.Catchments, err = catchment.Areas(s.Surface, s.Flow, s.Ponds, listed())
		if err != nil || s.Catchments.Undrained == 0 { // a finding draws what has no way out
			return err
		}
	}
	s.Flow, s.Catchments, err = catchment.Trace(s.Surface, s.Ponds, listed)
	return err
}

// Complete adds to a narrow study what it left out, so that it is as Run would have made it. o are the options of that run.
func (s *Study) Complete(o Options) (err error) {
	if !s.narrow {
		return nil
	}
	o.Narrow, s.narrow = false, false
	if err = s.contours(o); err != nil {
		return err
	}
	if err = s.blunders(o); err != nil {
		return err
	}
	s.bound(o)
	s.Bounds.About(s.outletAreas(), s.Surface.Area)
	s.inspect(o)
	return nil
}

// release lets nothing stop what is done with the surface after the run.
func (s *Study) release() {
	if s != nil && s.Surface != nil {
		s.Surface.TIN.Halt, s.Surface.Cut.Halt = nil, nil
	}
}

// take takes the roof as measured, its criteria, and what tape, chalk and ruler say of it.
func (s *Study) take(r *roof.Roof, o Options) (err error) {
	if s.Criteria, err = criteria(r, o); err != nil {
		return err
	}
	if tape.TierOf(r) != tape.C {
		return TooFewHeights(r)
	}
	if r.Tape != nil {
		s.byLevel = r.Tape.Gaps
	}
	s.Roof, s.tooCoarse, err = s.withTape(r, o)
	return err
}

// blunders finds the measured points that do not fit, and the ponds that rest on them.
func (s *Study) blunders(o Options) (err error) {
	if o.Narrow || s.Roof.Outline.Elevations == roof.Drawn { // nobody misread what was drawn
		s.Rests = make([][]int32, len(s.Listed))
		return nil
	}
	noise := choose.If(s.Errors.Source == evidence.Stated, s.Errors.Typical, s.Slopes.Noise)
	s.Odd, s.OddAll = blunder.Find(s.Roof, s.Surface, noise)
	s.Rests, err = blunder.Rests(s.Surface, s.Ponds, indices(s.Listed), s.Odd)
	return err
}

// criteria returns the defaults, then what the outline states, then what o states.
func criteria(r *roof.Roof, o Options) (standard.Criteria, error) {
	c := standard.DefaultsOf(o.Practice)
	var err error
	for _, stated := range []standard.Overrides{r.Criteria, o.Criteria} {
		if c, err = standard.Apply(c, stated); err != nil {
			return c, fmt.Errorf("criteria: %w", err)
		}
	}
	if !o.Meant {
		err = absurd(&c)
	}
	return c, err
}

// absurd refuses a rate of rain that is taken for a slip of the pen.
func absurd(c *standard.Criteria) error {
	var refusal roof.Refusal
	for _, r := range []struct {
		name string
		rate float64
	}{{"rain_primary", c.RainPrimary}, {"rain_overflow", c.RainOverflow}} {
		if r.rate > standard.AbsurdRate*(1+1e-12) {
			refusal.Add(roof.Problem{
				Rule: fmt.Sprintf("%s of %.4g in/h (%.4g mm/h) is over %.4g in/h", r.name, r.rate/float64(quantity.InchPerHour),
					r.rate/float64(quantity.MillimetrePerHour), standard.AbsurdRate/float64(quantity.InchPerHour)),
				Mend: "correct the rate, or say --yes if it is meant",
			})
		}
	}
	return refusal.Err()
}

// inspect draws findings, cautions and the quality of the survey from the results.
func (s *Study) inspect(o Options) {
	s.Places = place.New(s.Roof, s.Surface.TIN, s.Surface.Outlets)
	r := &inspection.Results{
		Roof: s.Roof, Criteria: s.Criteria, Surface: s.Surface, Slopes: s.Slopes, Ponds: s.Ponds,
		Errors: s.Errors, Evidence: s.Evidence,
		Listed: s.Listed, Causes: s.Causes, Catchments: s.Catchments,
		Flow: s.Flow, Places: s.Places, Drainage: s.Drainage, Load: s.RainLoad, Cases: s.sillCases(),
		Bounds: s.Bounds, Odd: s.Odd, OddAll: s.OddAll, Rests: s.Rests,
		TooCoarse: s.tooCoarse, LowPlaces: s.LowPlaces,
	}
	if len(s.Roof.Cores) > 0 || !o.FindingsOnly {
		s.Assembly = assembly.Of(&assembly.Input{
			Roof: s.Roof, Surface: s.Surface, Slopes: s.Slopes, Ponds: s.Ponds, Listed: indices(s.Listed), Catchments: s.Catchments,
			PerMetre: o.PerMetre, Method: o.Method,
		})
	}
	if len(s.Roof.Cores) > 0 {
		r.Cores = s.Assembly.Findings()
	}
	r.Sills = inspection.SillsOf(r)
	s.Cases, s.Sills = r.Cases, r.Sills
	s.KeepOff = inspection.KeepOffOf(r)
	s.Findings = inspection.Findings(r)
	if len(s.Findings) > 0 {
		s.Rank = r.Rank(&s.Findings[0])
	}
	s.Survey = inspection.SurveyOf(r)
	s.Cautions = inspection.Cautions(r)
	if !o.FindingsOnly {
		s.NextSpots = s.nextSpots(o.NextSpots)
	}
	s.Warnings = append(append(append([]string{}, s.Roof.Warnings...), s.Surface.Warnings...), s.unmatched(o)...)
	s.Warnings = append(s.Warnings, s.gaps(s.byLevel)...)
}

// outletAreas returns the area that each outlet takes with ponds full [m2].
func (s *Study) outletAreas() []float64 {
	areas := make([]float64, len(s.Surface.Outlets))
	for i := range s.Catchments.Full {
		if c := &s.Catchments.Full[i]; c.Outlet >= 0 {
			areas[c.Outlet] += c.Area
		}
	}
	return areas
}

// bound says between what figures ponds and planes lie, and how much catchments scatter.
func (s *Study) bound(o Options) {
	s.Bounds = bounds.Of(&bounds.Input{
		PondsOnly: o.Narrow || o.FindingsOnly,
		Surface:   s.Surface, Slopes: s.Slopes, Ponds: s.Ponds, Listed: indices(s.Listed), Errors: s.Errors, Evidence: s.Evidence,
		Criteria: s.Criteria, Deep: inspection.UrgentDepth,
	})
}

// nextSpots returns where more spots would tell most.
func (s *Study) nextSpots(most int) []nextspot.Place {
	if most == 0 {
		most = standard.NextSpots
	}
	if most < 0 || s.narrow || s.Roof.Outline.Elevations == roof.Drawn {
		return nil
	}
	return nextspot.Of(&nextspot.Input{
		Surface: s.Surface, Slopes: s.Slopes, Ponds: s.Ponds, Listed: indices(s.Listed), Causes: s.Causes, InDoubt: s.inDoubt(), Odd: s.Odd, Rests: s.Rests,
		Catchments: s.outletAreas(), Criteria: s.Criteria,
	}, most)
}

// unmatched says which of the user's own resistances no layer of a core takes; nothing on a roof without cores.
func (s *Study) unmatched(o Options) []string {
	if len(s.Roof.Cores) == 0 {
		return nil
	}
	used := map[string]bool{}
	for i := range s.Assembly.Cores {
		for k := range s.Assembly.Cores[i].Layers {
			l := &s.Assembly.Cores[i].Layers[k]
			used[standard.Plain(l.Material)], used[standard.Plain(l.Name)] = true, true
		}
	}
	var out []string
	for _, name := range slices.Sorted(maps.Keys(o.PerMetre)) {
		if !used[standard.Plain(name)] {
			out = append(out, fmt.Sprintf("No layer of a core is %q: its thermal resistance is not used.", name))
		}
	}
	return out
}

// sillCases returns the states of the water that sills are compared with, the mildest first.
func (s *Study) sillCases() []inspection.Case {
	list := []inspection.Case{{Name: "every pond full", Level: s.Ponds.Level}}
	if s.RainLoad != nil {
		list = append(list, inspection.Case{Name: "every primary outlet blocked", Level: s.RainLoad.Level})
	}
	if s.Storm != nil {
		worst := &s.Storm.Cases[s.Storm.Worst]
		list = append(list, inspection.Case{Name: "the storm and " + worst.Name, Level: worst.Envelope})
	}
	return list
}

func indices(listed []inspection.Listed) []int32 {
	return gather.Each(listed, func(x inspection.Listed) int32 { return x.Pond })
}

func marks(listed []inspection.Listed, n int) []bool {
	out := make([]bool, n)
	for i := range listed {
		out[listed[i].Pond] = true
	}
	return out
}
