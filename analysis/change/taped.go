package change

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/bounds"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
)

// What becomes of ponds that were chalked: Gone and New as of others, and these.
const (
	More       State = "more water"
	Smaller    State = "less water"
	Mixed      State = "changed"             // more by one measure, less by another
	Joined     State = "joined another"      // its place lies in the water of one that is another's now
	Parted     State = "was part of another" // likewise the other way round
	Unresolved State = "not resolved"
)

// edgeError is the standard error of a chalk mark square to the water's edge [m]: where calm water ends on a flat roof, and the tape. Own choice.
const edgeError = 0.05

// ovalMarks is how many marks an oval of a stated size counts as: the ends of its two axes.
const ovalMarks = 4

// fewSoundings is how many depths find the deepest place; fewer compare only where both were taken at one place, that near [m].
const (
	fewSoundings = 5
	sameSounding = 0.3
)

// Measure is one figure of a pond in both surveys, each with the range in which it lies.
type Measure struct {
	Before, After bounds.Range
	Known         bool // both surveys have it
}

// Trend is 1 where the later range lies over the earlier one, -1 where it lies under it, 0 where they overlap or one is not known.
func (m *Measure) Trend() int {
	switch {
	case !m.Known:
		return 0
	case m.After.Low > m.Before.High:
		return 1
	case m.After.High < m.Before.Low:
		return -1
	}
	return 0
}

// Water is a pond that was seen in one survey by tape or both. Indices are into tape.Survey.Ponds, -1 where there is none.
type Water struct {
	Before, After       int
	State               State
	Area, Depth, Weight Measure // [m2, m, kg] as seen; the ranges allow for what dries between, where Dried is known
	Unsure              bool    // gone or new, but the survey without it may have been made when it had dried
	Drying              Drying
	Inlet, Rise, Full   Measure // by the heights that were read: the inlet over the lowest place, what a rise adds, and how deep it stands when full [m]
}

// Drying is what the hours since rain make of a comparison.
type Drying struct {
	Known bool    // both surveys note the hours
	Most  float64 // what the later water may have lost more than the earlier one [m], below 0 the other way round
}

// Taped is what changed between two surveys by tape.
type Taped struct {
	Waters   []Water
	Readings []Reading // heights at the same places; none where they hang on nothing that both share
	Shared   int       // how many places have a height in both surveys
	Datum    Datum
	Shift    Shift
}

// Reading is a height at one place in both surveys.
type Reading struct {
	What        string
	Plan        orb.Point // in the later roof's frame [m]
	Rise, Error float64   // later less earlier [m], and its standard error
	Significant bool
}

// Datum says whether heights of both surveys hang on one thing.
type Datum uint8

// Whether heights compare.
const (
	OneDatum   Datum = iota // both state their elevations
	NoDatum                 // a line of sight is not known, and the shift is not taken off
	Levelled                // the shift as a whole was taken off
	TooFewSame              // the shift was to be taken off, and too few places have a height in both surveys
)

// fewestShared is how many places with a height in both surveys it takes to take a shift off.
const fewestShared = 5

// OfTape compares two surveys by tape. Frames must be of one kind.
func OfTape(before, after *tape.Survey, o Options) *Taped {
	c := &tapes{before: before, after: after, out: &Taped{}}
	c.waters()
	c.readings(o.Level)
	return c.out
}

type tapes struct {
	before, after *tape.Survey
	out           *Taped
}

// toAfter returns a place of the earlier roof's frame in the later one's.
func (c *tapes) toAfter(p orb.Point) orb.Point {
	return c.after.Roof.Frame.From(c.before.Roof.Frame, p)
}

// ringAfter is the edge of an earlier pond in the later roof's frame, nil where nobody saw water.
func (c *tapes) ringAfter(p *tape.Pond) orb.Ring {
	if p.Bowl == nil {
		return nil
	}
	out := p.Bowl.Ring.Clone()
	for i := range out {
		out[i] = c.toAfter(out[i])
	}
	return out
}

// samePit is within what distance the lowest places of two ponds are one [m]: a tape's error twice, and that water hides its lowest place. Own choice.
const samePit = 0.5

// one reports whether an earlier and a later pond are one: the lowest place of one lies in the other's water, or nearly where the other's does.
func (c *tapes) one(a, b *tape.Pond) bool {
	at := c.toAfter(a.At)
	if planar.Distance(at, b.At) <= samePit {
		return true
	}
	if ring := c.ringAfter(a); ring != nil && planar.RingContains(ring, b.At) {
		return true
	}
	return b.Bowl != nil && planar.RingContains(b.Bowl.Ring, at)
}

// waters pairs the ponds that were seen.
func (c *tapes) waters() {
	taken := make([]bool, len(c.after.Ponds))
	single := make([]bool, len(c.before.Ponds))
	for i := range c.before.Ponds {
		for k := range c.after.Ponds {
			if !taken[k] && c.one(&c.before.Ponds[i], &c.after.Ponds[k]) {
				taken[k], single[i] = true, true
				c.pair(i, k)
				break
			}
		}
	}
	for i := range c.before.Ponds {
		a := &c.before.Ponds[i]
		if single[i] || a.Water == nil {
			continue
		}
		w := Water{Before: i, After: -1, State: Gone, Unsure: !looked(c.after, a.Depth)}
		if k := slices.IndexFunc(c.after.Ponds, func(b tape.Pond) bool { return b.Water != nil && c.one(a, &b) }); k >= 0 {
			w.State, w.After, w.Unsure = Joined, k, false
		}
		c.out.Waters = append(c.out.Waters, w)
	}
	for k := range c.after.Ponds {
		b := &c.after.Ponds[k]
		if taken[k] || b.Water == nil {
			continue
		}
		w := Water{Before: -1, After: k, State: New, Unsure: !looked(c.before, b.Depth)}
		if i := slices.IndexFunc(c.before.Ponds, func(a tape.Pond) bool { return a.Water != nil && c.one(&a, b) }); i >= 0 {
			w.State, w.Before, w.Unsure = Parted, i, false
		}
		c.out.Waters = append(c.out.Waters, w)
	}
	slices.SortStableFunc(c.out.Waters, func(a, b Water) int { return cmp.Compare(order(b.State), order(a.State)) })
}

// order puts what an owner asks about first.
func order(s State) int {
	return slices.Index([]State{Unresolved, Parted, Joined, Smaller, Gone, Mixed, More, New}, s)
}

// looked reports whether somebody was on the roof before water of a depth would have dried, so that none seen means none there.
func looked(s *tape.Survey, depth float64) bool {
	hours := hoursOf(s, nil)
	return hours >= 0 && depth > 0 && hours*standard.DryingRate < depth
}

// hoursOf returns how long after rain water was seen, else the survey was made; below 0 where nobody noted it.
func hoursOf(s *tape.Survey, w *roof.Water) float64 {
	if w != nil && w.HoursSinceRain >= 0 {
		return w.HoursSinceRain
	}
	if s.Roof.Visit.HasHours {
		return s.Roof.Visit.Hours
	}
	if w == nil {
		for i := range s.Roof.Tape.Waters {
			if h := s.Roof.Tape.Waters[i].HoursSinceRain; h >= 0 {
				return h
			}
		}
	}
	return -1
}

// pair compares one pond.
func (c *tapes) pair(i, k int) {
	a, b := &c.before.Ponds[i], &c.after.Ponds[k]
	w := Water{Before: i, After: k}
	w.Inlet = measure(difference(&a.Holding.Outlet.Value, a.Holding.Outlet.Sigma), difference(&b.Holding.Outlet.Value, b.Holding.Outlet.Sigma))
	if a.Holding.Highest >= 0 && b.Holding.Highest >= 0 {
		w.Rise = measure(difference(&a.Holding.Rise.Value, a.Holding.Rise.Sigma), difference(&b.Holding.Rise.Value, b.Holding.Rise.Sigma))
	}
	w.Full = measure(difference(&a.Holding.Depth.Value, a.Holding.Depth.Sigma), difference(&b.Holding.Depth.Value, b.Holding.Depth.Sigma))
	switch {
	case a.Water != nil && b.Water != nil:
		c.seenTwice(&w, a, b)
		w.State = stateOf(w.Area.Trend(), w.Depth.Trend(), w.Weight.Trend())
	case a.Water != nil:
		w.State, w.Unsure = Gone, !looked(c.after, a.Depth)
	case b.Water != nil:
		w.State, w.Unsure = New, !looked(c.before, b.Depth)
	default:
		w.State = stateOf(w.Full.Trend())
	}
	c.out.Waters = append(c.out.Waters, w)
}

// stateOf is what several measures together say.
func stateOf(trends ...int) State {
	up, down := slices.Contains(trends, 1), slices.Contains(trends, -1)
	switch {
	case up && down:
		return Mixed
	case up:
		return More
	case down:
		return Smaller
	}
	return Unresolved
}

// difference is the range of a difference of heights; an unknown one has no error.
func difference(value *float64, sigma float64) *bounds.Range {
	if sigma == 0 {
		return nil
	}
	return around(*value, sigma)
}

func around(value, sigma float64) *bounds.Range {
	reach := standard.SureError * sigma
	return &bounds.Range{Low: value - reach, High: value + reach}
}

// measure puts two ranges side by side; nil is not known.
func measure(before, after *bounds.Range) Measure {
	if before == nil || after == nil {
		return Measure{}
	}
	return Measure{Before: *before, After: *after, Known: true}
}

// seenTwice compares the water that was seen in both surveys.
func (c *tapes) seenTwice(w *Water, a, b *tape.Pond) {
	if before, after := hoursOf(c.before, a.Water), hoursOf(c.after, b.Water); before >= 0 && after >= 0 {
		w.Drying = Drying{Known: true, Most: float64((after - before) * standard.DryingRate)}
	}
	lostBefore, lostAfter := max(0, -w.Drying.Most), max(0, w.Drying.Most)
	w.Area = measure(areaOf(a, lostBefore), areaOf(b, lostAfter))
	w.Weight = measure(weightOf(a, lostBefore), weightOf(b, lostAfter))
	if c.depthsCompare(a, b) {
		w.Depth = measure(depthOf(a, lostBefore), depthOf(b, lostAfter))
	}
}

// depthsCompare reports whether the deepest soundings of two surveys of one pond are of one place, or of so many that they find the deepest.
func (c *tapes) depthsCompare(a, b *tape.Pond) bool {
	if a.Depth == 0 || b.Depth == 0 {
		return false
	}
	if min(len(a.Bowl.Soundings), len(b.Bowl.Soundings)) >= fewSoundings {
		return true
	}
	return planar.Distance(c.toAfter(a.At), b.At) <= sameSounding
}

// depthOf is the range of the deepest sounding, lost being what may have dried that the other survey still had [m].
func depthOf(p *tape.Pond, lost float64) *bounds.Range {
	r := around(p.Depth, tape.RulerError)
	r.Low = max(0, r.Low)
	r.High += lost
	return r
}

// areaOf is the range of a pond's area: of marks that are wrong by themselves, and what dried. In a bowl area goes with depth, as in the paraboloid.
func areaOf(p *tape.Pond, lost float64) *bounds.Range {
	r := around(p.Bowl.Area, areaError(p))
	r.Low = max(0, r.Low)
	if lost > 0 {
		if p.Depth == 0 {
			r.High = math.Inf(1)
		} else {
			r.High *= 1 + lost/p.Depth
		}
	}
	return r
}

// areaError is the standard error of a chalked area: each of n marks moves the edge along the n-th part of it.
func areaError(p *tape.Pond) float64 {
	n := float64(len(p.Water.Edge))
	if p.Water.Oval {
		n = ovalMarks
	}
	return edgeError * planar.Length(p.Bowl.Ring) / math.Sqrt(n)
}

// weightOf is the range of a pond's weight, nil where no depth was read: from cone to pan as tape gives it, the error of its edge, and what dried.
func weightOf(p *tape.Pond, lost float64) *bounds.Range {
	if p.Depth == 0 {
		return nil
	}
	part := standard.SureError * areaError(p) / p.Bowl.Area
	return &bounds.Range{
		Low:  p.WeightLeast * max(0, 1-part),
		High: float64(p.WeightMost*(1+part)) + float64(lost*areaOf(p, lost).High*standard.WaterDensity),
	}
}

// readings compares the heights that were read at the same places.
func (c *tapes) readings(level bool) {
	type both struct{ a, b tape.Height }
	var shared []both
	for _, b := range c.after.Readings() {
		for _, a := range c.before.Readings() {
			if strings.EqualFold(a.What, b.What) && planar.Distance(c.toAfter(a.Plan), b.Plan) <= samePlace {
				shared = append(shared, both{a, b})
				break
			}
		}
	}
	o := c.out
	o.Shared = len(shared)
	blind := c.before.Roof.Tape.Sighted || c.after.Roof.Tape.Sighted
	switch {
	case len(shared) == 0:
		return
	case level && len(shared) < fewestShared:
		o.Datum = TooFewSame
		return
	case !level && blind:
		o.Datum = NoDatum
		return
	case level:
		o.Datum = Levelled
	}
	inner := comparison{result: &Result{}}
	for i := range shared {
		s := &shared[i]
		inner.result.Spots = append(inner.result.Spots, Spot{
			Rise: s.b.Z - s.a.Z, Error: math.Sqrt(float64(s.a.Sigma*s.a.Sigma) + float64(s.b.Sigma*s.b.Sigma)),
		})
	}
	inner.shift(level)
	inner.judge()
	o.Shift = inner.result.Shift
	for i := range shared {
		s := &inner.result.Spots[i]
		o.Readings = append(o.Readings, Reading{What: shared[i].b.What, Plan: shared[i].b.Plan, Rise: s.Rise, Error: s.Error, Significant: s.Significant})
	}
}
