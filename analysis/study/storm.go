package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/drainage"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
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

// AllPrimaryName is the name of the case in which all primary outlets are blocked.
const AllPrimaryName = "all primary outlets blocked"

// Case is the storm with some outlets blocked.
type Case struct {
	Name    string   // in words: "every outlet works", "D1 blocked"
	Labels  []string // of the blocked outlets
	Blocked []bool   // per outlet
	*storm.Result
	Load float64 // of the deepest water [Pa]
}

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
	for i, law := range s.Laws() {
		laws[i] = law
	}
	m, err := storm.New(s.Surface, laws)
	if err != nil {
		return err
	}
	out := &Storm{Design: d, Cases: cases, Unsized: unsized, Moments: pictures(d.Rain.Duration())}
	asked := make([]storm.Case, len(cases))
	for i := range cases {
		asked[i] = storm.Case{Name: cases[i].Name, Blocked: cases[i].Blocked, Wet: d.Wet, Moments: out.Moments}
	}
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
		q := make([]float64, len(steps.Rate))
		for i, rate := range steps.Rate {
			q[i] = rate * a.Area
		}
		in.Inflows = append(in.Inflows, storm.Inflow{X: a.X, Y: a.Y, Flow: storm.Steps{Time: steps.Time, Rate: q}})
	}
	return in, nil
}

// pictures returns the moments at which the water is kept: evenly through the storm and half as long again after it.
func pictures(duration float64) []float64 {
	out := make([]float64, moments)
	for i := range out {
		out[i] = math.Round(1.5 * duration * float64(i+1) / moments)
	}
	return slices.Compact(out)
}

// blockages returns the states of the outlets that are asked for; without any: every outlet works, each primary blocked in
// turn, all primaries, and all outlets. An outlet without sizes is blocked in each and named.
func (s *Study) blockages(asked []string) (all []Case, unsized []string, err error) {
	o := s.Surface.Outlets
	base := make([]bool, len(o))
	for i := range o {
		if o[i].Source >= 0 && s.Drainage.Outlets[i].Rating == nil {
			base[i], unsized = true, append(unsized, o[i].Label)
		}
	}
	add := func(name string, labels []string, blocks func(i int) bool) {
		c := Case{Name: name, Labels: labels, Blocked: slices.Clone(base)}
		for i := range o {
			c.Blocked[i] = c.Blocked[i] || o[i].Type != roof.EdgeOutlet && blocks(i)
		}
		all = append(all, c)
	}
	primary := func(i int) bool { return o[i].Duty == roof.Primary }
	var primaries []string
	for i := range o {
		if o[i].Type != roof.EdgeOutlet && primary(i) {
			primaries = append(primaries, o[i].Label)
		}
	}
	if len(asked) > 0 {
		labels, blocked, err := s.named(asked)
		if err != nil {
			return nil, nil, err
		}
		add(strings.Join(labels, ", ")+" blocked", labels, func(i int) bool { return blocked[i] })
		return all, unsized, nil
	}
	add("every outlet at work", nil, func(int) bool { return false })
	for i := range o {
		if o[i].Type != roof.EdgeOutlet && primary(i) && !base[i] {
			add(o[i].Label+" blocked", []string{o[i].Label}, func(k int) bool { return k == i })
		}
	}
	if len(primaries) > 1 {
		add(AllPrimaryName, primaries, primary)
	}
	if len(s.overflows()) > 0 {
		add("all outlets blocked", append(primaries, s.overflows()...), func(int) bool { return true })
	}
	return all, unsized, nil
}

// overflows returns the labels of the drains and scuppers that are overflows.
func (s *Study) overflows() []string {
	var out []string
	for i := range s.Surface.Outlets {
		if o := &s.Surface.Outlets[i]; o.Type != roof.EdgeOutlet && o.Duty == roof.Overflow {
			out = append(out, o.Label)
		}
	}
	return out
}

// named returns which outlets are named by labels, ids, AllPrimary or All.
func (s *Study) named(asked []string) (labels []string, blocked []bool, err error) {
	o := s.Surface.Outlets
	blocked = make([]bool, len(o))
	var known []string
	for i := range o {
		if o[i].Type != roof.EdgeOutlet {
			known = append(known, o[i].Label)
		}
	}
	for _, name := range asked {
		found := false
		for i := range o {
			if o[i].Type == roof.EdgeOutlet {
				continue
			}
			if name == All || name == AllPrimary && o[i].Duty == roof.Primary || strings.EqualFold(name, o[i].Label) || strings.EqualFold(name, o[i].ID) {
				found = true
				if !blocked[i] {
					blocked[i], labels = true, append(labels, o[i].Label)
				}
			}
		}
		if !found {
			return nil, nil, &OutletError{Name: name, Known: known}
		}
	}
	return labels, blocked, nil
}

// OutletError says that no outlet that can be blocked has such a name.
type OutletError struct {
	Name  string
	Known []string
}

// Error lists the outlets that there are.
func (e *OutletError) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("no outlet %q: this roof has no drain and no scupper that could be blocked", e.Name)
	}
	return fmt.Sprintf("no outlet %q: use %s, %s or %s", e.Name, strings.Join(e.Known, ", "), AllPrimary, All)
}
