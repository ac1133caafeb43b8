package correction

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// ratios are the tapers of crickets between outlets over that of the fields. A cricket of half the fields' taper is half as wide as it is long. Own choice.
var ratios = [...]float64{0.5, 0.75}

// layout is one way to lay stock boards over the roof: how they fall, and with which tapers.
type layout struct {
	gauge  domain.Gauge
	tapers []float64 // of the fields, ascending
}

// layouts are the ways that are tried: four-way, and two-way with crickets whose boards are stock too.
func (d *designer) layouts() []layout {
	axis := d.Domain.Axis
	across := vector.Quarter(axis, 1)
	tapers := d.Tapers()
	out := []layout{{domain.FourWay(axis), tapers}}
	if !slices.ContainsFunc(d.Sources, func(s taper.Source) bool { return s.Line == nil }) {
		return out // crickets stand between drains
	}
	for _, ratio := range ratios {
		both := gather.Where(tapers, func(r float64) bool {
			return slices.ContainsFunc(tapers, func(s float64) bool { return math.Abs(s-ratio*r) < 1e-9 })
		})
		if len(both) > 0 {
			out = append(out, layout{domain.TwoWay(axis, ratio), both}, layout{domain.TwoWay(across, ratio), both})
		}
	}
	return out
}

// tapered lays stock boards over the whole roof in every layout, least material first, and returns the first that meets; where none does, the one that comes nearest.
func (d *designer) tapered(base taper.Base, thickness float64, sources []taper.Source) ([]Option, error) {
	if len(sources) == 0 {
		return []Option{{Why: noOutlet}}, nil
	}
	tries, err := d.tries(base.Prepared(), thickness, sources)
	if err != nil {
		return []Option{{Why: finding.Say("{0}", finding.Called(err.Error()))}}, nil
	}
	var best, unread *Option
	for i := range tries {
		g := &tries[i].p.Gauge
		o := d.laid(&tries[i], best)
		if o == nil {
			continue
		}
		if o.Study == nil {
			unread = o
			continue
		}
		if best == nil || o.Meets && d.short(o, g) < d.short(best, &best.problem.Gauge) || o.nearer(best) {
			best = o
		}
		if o.whole() && d.short(o, g) == 0 {
			break
		}
	}
	switch {
	case best != nil:
	case unread != nil:
		return []Option{*unread}, nil
	default:
		return []Option{{Why: finding.Say("no layout of boards in stock falls enough")}}, nil
	}
	best.Least = math.Min(best.Fill, d.least(best.problem))
	if s, err := taper.Solve(best.problem); err == nil {
		best.ToMeasure = s.Volume()
	}
	return []Option{*best}, nil
}

// try is one layout with what is laid in it.
type try struct {
	p     *taper.Problem
	laid  *taper.Courses
	falls falls
	short float64 // of the falls of new work
	taken float64 // material by which tries are compared [m3]
	err   error
}

// tries returns what may be laid, best first and as many as are run: those that fall enough on the planes of the roof as it is before others, then the least material. Two processors share the layouts:
// every second one is worked out on a domain of its own, so that the result does not depend on who is first.
func (d *designer) tries(base taper.Base, thickness float64, sources []taper.Source) ([]try, error) {
	list := d.layouts()
	out := make([][]try, len(list))
	second, err := domain.New(d.Surface.TIN)
	if err != nil {
		return nil, err
	}
	work := func(i int, on *domain.Domain) {
		p := d.Problem(base, sources, list[i].gauge, d.Slope, thickness)
		p.Domain = on
		out[i] = d.courses(p, list[i].tapers)
	}
	done := make(chan bool)
	go func() {
		for i := 1; i < len(list); i += 2 {
			work(i, second)
		}
		close(done)
	}()
	for i := 0; i < len(list); i += 2 {
		work(i, d.Domain)
	}
	<-done
	all := slices.Concat(out...)
	for i := range all {
		if all[i].err != nil {
			return nil, all[i].err
		}
	}
	slices.SortStableFunc(all, func(a, b try) int {
		return cmp.Or(cmp.Compare(mend.Tieless(a.short), mend.Tieless(b.short)), cmp.Compare(mend.Tieless(a.taken), mend.Tieless(b.taken)))
	})
	return slices.Clone(all[:min(mostRuns, len(all))]), nil
}

// layings are the layouts of stock boards on the roof as found, each drawn once: a taper of it and one of its sections try the same ones.
type layings struct {
	lock  sync.Mutex
	known []*known
}

// mostShared is how many vertices a roof may have for its layouts to be kept for both: each holds some kilobytes a vertex, and larger roofs rather draw one twice. Own choice.
const mostShared = 20000

// known is a layout that is drawn by whoever asks first.
type known struct {
	gauge domain.Gauge
	once  sync.Once
	l     *taper.Laying
	err   error
}

// lay returns the layout of p's gauge over its base and sources.
func (s *layings) lay(d *designer, p *taper.Problem) (*taper.Laying, error) {
	if len(d.Base.Z) > mostShared || &p.Base.Z[0] != &d.Base.Z[0] || &p.Sources[0] != &d.Sources[0] {
		return taper.Lay(p)
	}
	s.lock.Lock()
	i := slices.IndexFunc(s.known, func(k *known) bool { return slices.Equal(k.gauge.Normals, p.Gauge.Normals) })
	if i < 0 {
		i = len(s.known)
		s.known = append(s.known, &known{gauge: p.Gauge})
	}
	k := s.known[i]
	s.lock.Unlock()
	k.once.Do(func() { k.l, k.err = taper.Lay(p) })
	if k.err != nil {
		return nil, k.err
	}
	return k.l.On(p.Domain), nil
}

// courses lays boards of each taper in one layout, flattest first, while what is taken grows less: low places are levelled to what valleys need, and to what planes need.
func (d *designer) courses(p *taper.Problem, tapers []float64) []try {
	l, err := d.layings.lay(d, p)
	if err != nil {
		return []try{{err: err}}
	}
	falls := []float64{1.02 * d.Study.Criteria.MinValleySlope / p.Gauge.Valley()}
	if falls[0] < d.Slope {
		falls = append(falls, 1.01*d.Slope) // what planes lose to low places that are left as they are
	}
	boards := d.Boards
	var out []try
	least := math.Inf(1) // taken by those that fall enough
	for _, r := range tapers {
		before, lowest := least, math.Inf(1)
		for _, fall := range falls {
			c, err := l.Try(taper.Courses{Start: p.Thickness, Taper: r, Fall: fall, Within: standard.LevelWithin, Step: boards.Step, Board: boards.Area})
			if err != nil {
				return []try{{err: err}}
			}
			t := try{p: p, laid: c, falls: d.fallsOver(c.Runs(func(f int32) int32 { return d.Study.Slopes.Plane[f] }))}
			t.short = d.missing(t.falls, &p.Gauge)
			t.taken = c.Volume() + (mend.LevellerCounts-1)*c.Leveller().Volume
			out = append(out, t)
			lowest = math.Min(lowest, t.taken)
			if t.short == 0 {
				least = math.Min(least, t.taken)
				break
			}
		}
		if mend.Tieless(lowest) >= mend.Tieless(before) {
			break
		}
	}
	return out
}

// falls says how a surface falls over its planes.
type falls struct {
	mean float64 // by area [rise/run]
	flat float64 // share of the area that falls less than nearlyNew of the slope of new work
}

func (d *designer) fallsOver(runs []taper.Run) (f falls) {
	all := 0.0
	for _, r := range runs {
		all += r.Area
		f.mean += float64(r.Area * r.Slope)
		if mend.Tieless(r.Slope) < mend.Tieless(nearlyNew*d.Slope) {
			f.flat += r.Area
		}
	}
	if all > 0 {
		f.mean, f.flat = f.mean/all, f.flat/all
	}
	return f
}

// missing returns how much falls miss of those of new work, 0 where they are enough: on average what is asked, and of single planes nearly that but on crickets or in nooks.
func (d *designer) missing(f falls, g *domain.Gauge) float64 {
	return mend.Tieless(math.Max(0, f.flat-mostFlat(g)) + math.Max(0, meanNew-f.mean/d.Slope))
}

// What counts as the slope of new work where stock is laid on a roof as it is: on average and of a single plane, as parts of the slope. Own choice: boards follow the roof, whose planes
// are never all alike.
const meanNew, nearlyNew = 0.98, 0.75

// mostRuns is how many layouts of a taper are analysed.
const mostRuns = 4

// mostCricket and mostNook are the greatest shares of a roof on which planes may fall less than the design slope: crickets are a small part of a roof, and without them only
// nooks are left. Own choice.
const mostCricket, mostNook = 0.25, 0.05

// mostFlat is the share that holds for a layout.
func mostFlat(g *domain.Gauge) float64 {
	if four := domain.FourWay(g.Axis); g.Valley() < four.Valley()-1e-9 {
		return mostCricket
	}
	return mostNook
}

// short returns how much an option that was analysed misses of the falls of new work.
func (d *designer) short(o *Option, g *domain.Gauge) float64 {
	var runs []taper.Run
	for i := range o.Study.Slopes.Planes {
		if p := &o.Study.Slopes.Planes[i]; p.Area >= moreFlat {
			runs = append(runs, taper.Run{Area: p.Area, Slope: p.Slope + 2*p.Error()})
		}
	}
	return d.missing(d.fallsOver(runs), g)
}

// laid draws one layout of boards and runs the analysis on it; nil where it breaks more heights than best does.
func (d *designer) laid(t *try, best *Option) *Option {
	design := t.laid.Design()
	o := &Option{Possible: true, Gauge: ways(design), Slope: t.laid.Taper, Design: design, Decides: []string{"engineer", "owner"}}
	if v := design.Valleys(); len(v) > 0 {
		o.Valley = v[0].Slope
	}
	if best != nil && best.PondsLeft+best.FlatLeft == 0 {
		heights := Option{Design: design}
		if d.flashings(&heights); len(heights.Limits) >= max(1, len(only(best.Limits, flashingHeight))) {
			return nil
		}
	}
	o.Changes = d.covered(o, t)
	for _, l := range design.Outlets {
		out := &d.Surface.Outlets[l.Outlet]
		if out.Source < 0 || math.Abs(l.Top-out.Invert) < tellable {
			continue
		}
		o.Changes = append(o.Changes, mend.Change{
			Kind: d.whole, Decides: finding.Plumber, Brief: "set the outlet to its new level",
			What: finding.Say("Set {2} from {0} to {1}", finding.Level("invert", out.Invert), finding.Level("new invert", l.Top), finding.Called(out.Label)), At: out.Plan,
		})
	}
	if d.whole != mend.Retaper && slices.ContainsFunc(d.Study.Findings, func(f finding.Finding) bool { return f.Kind == finding.NoOverflow }) {
		if c, ok := d.OverflowPlace(); ok {
			o.Changes = append(o.Changes, c)
		}
	}
	o.Roof = d.carried(o, design.Roof(d.Roof, d.Surface))
	o.Kind = d.whole
	d.judge(o, t.p.Thickness)
	o.Opened = d.Surface.Area // all of it is covered anew
	o.problem = t.p
	return o
}

// covered are the changes that a taper over the whole roof is: what is levelled first, then the boards.
func (d *designer) covered(o *Option, t *try) []mend.Change {
	var out []mend.Change
	if n := o.Design.Leveller; n.Volume > 0 {
		out = append(out, mend.Change{
			Kind: d.whole, Decides: finding.Roofer, At: n.At, Brief: "level low places",
			What: finding.Say(levelled(&n), finding.Plan("area", n.Area), finding.MM("deepest", n.Deepest), finding.Fall("fall", o.Design.Fall)),
		})
	}
	what := "Lay tapered boards over the whole roof, {0}: boards of {1}, {3} thick at the outlets, {2} at most; the new planes fall {4} on average"
	if d.whole == mend.Replace {
		what = "Take the insulation off and lay tapered boards on the deck, {0}: boards of {1}, {3} thick at the outlets, {2} at most; the new planes fall {4} on average"
	}
	brief := ""
	if d.whole == mend.Retaper {
		brief = "re-taper the roof"
		what = "Re-taper the roof in sections: tapered boards, {0}: boards of {1}, flush at the outlets with edge strips, {2} thick at most; the new planes fall {4} on average"
	}
	if crickets := cricketTaper(o.Design); crickets > 0 {
		what = strings.Replace(what, "boards of {1}", "boards of {1}, crickets of {5}", 1)
	}
	return append(out, mend.Change{
		Kind: d.whole, Decides: finding.Owner, Opened: d.Surface.Area, Brief: brief,
		What: finding.Say(what, finding.Called(o.Gauge), finding.Fall("slope", o.Slope), finding.MM("thickest", o.Design.Thickest()), finding.MM("start", o.Design.Thickness), finding.Fall("mean", t.falls.mean), finding.Fall("crickets", cricketTaper(o.Design))),
	})
}

// cricketTaper returns the taper of the sections that are flatter than the fields, 0 where none is.
func cricketTaper(d *taper.Design) float64 {
	for i := range d.Facets {
		if g := vector.Length(d.Facets[i].Taper); g < d.Slope*0.999 {
			return g
		}
	}
	return 0
}

func levelled(n *taper.Leveller) string {
	what := choose.If(len(n.Bands) > 0, "flat boards and leveller over them", "leveller")
	return "Level low places first: " + what + ", {0} in all, {1} deep at most, so that the boards on it fall {2} or more to the outlets"
}
