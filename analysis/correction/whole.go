package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

var noOutlet = finding.Say("the roof has no primary outlet to drain to; see where one can be added")

// ratios are the widths of crickets between outlets over their length that are tried, narrowest first: widen before steepen.
// 1/sqrt(3) is a valley at 30 degrees, 1 one at 45. Own choice.
var ratios = [...]float64{0.5, 1 / math.Sqrt(3), 0.75, 1}

// layouts are the gauges that a taper is tried with.
func (d *designer) layouts() []taper.Gauge {
	axis := d.domain.Axis
	across := orb.Point{-axis[1], axis[0]}
	out := []taper.Gauge{taper.FourWay(axis), taper.EightWay(axis)}
	for _, ratio := range ratios {
		out = append(out, taper.TwoWay(axis, ratio), taper.TwoWay(across, ratio))
	}
	return out
}

// slopes are the slopes of new planes that a taper is tried with: the one that is asked for, else those in stock from the criterion for new work on.
func (d *designer) slopes() []float64 {
	if d.in.Steering.Slope > 0 {
		return []float64{d.slope}
	}
	var out []float64
	for _, r := range d.in.Rates {
		if r >= d.slope-1e-9 && r <= standard.SumpRate+1e-9 {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return []float64{d.slope}
	}
	return out
}

// overlay tapers the whole roof on the existing surface.
func (d *designer) overlay() ([]Option, error) {
	thickness := d.in.Steering.Thickness
	if thickness == 0 {
		thickness = standard.OverlayThickness
	}
	d.whole = Overlay
	return d.tapered(d.base, thickness, d.sources)
}

// replace takes the insulation off and tapers new on the deck.
func (d *designer) replace() ([]Option, error) {
	thickness := d.in.Steering.Thickness
	if thickness == 0 {
		thickness = standard.DeckThickness
	}
	deck, ok := d.deck()
	if !ok {
		return []Option{{Why: finding.Say("The deck is not known. Three cores or more that are not on one line give its elevation.")}}, nil
	}
	sources := append([]taper.Source(nil), d.sources...)
	for i, s := range sources {
		if s.Line == nil && !d.kept(s.Outlet) {
			sources[i].Z = math.Inf(-1) // as low as the thickness on the deck allows
		}
	}
	d.whole = Replace
	return d.tapered(deck, thickness, sources)
}

// deck returns the deck under every vertex of the surface.
func (d *designer) deck() (taper.Base, bool) {
	b := taper.Base{TIN: d.base.TIN, Z: make([]float64, len(d.base.Z))}
	if d.in.Deck == nil {
		return b, false
	}
	for v := range b.Z {
		z, _, ok := d.in.Deck(orb.Point{b.TIN.X[v], b.TIN.Y[v]})
		if !ok {
			return b, false
		}
		b.Z[v] = z
	}
	return b, true
}

// tapered tries all layouts, least fill first, and returns the first that meets; where none does, the one that comes nearest.
func (d *designer) tapered(base taper.Base, thickness float64, sources []taper.Source) ([]Option, error) {
	if len(sources) == 0 {
		return []Option{{Why: noOutlet}}, nil
	}
	tries, err := d.tries(base.Prepared(), thickness, sources)
	if err != nil {
		return []Option{{Why: finding.Say("{0}", finding.Called(err.Error()))}}, nil
	}
	var best *Option
	runs, drawn := 0, 0
	for drawn < mostDrawn && runs < mostRuns {
		t, err := next(tries)
		if err != nil {
			return []Option{{Why: finding.Say("{0}", finding.Called(err.Error()))}}, nil
		}
		if t == nil {
			break
		}
		drawn++
		o := d.layout(t, best)
		if o == nil {
			continue
		}
		runs++
		if best == nil || o.Meets || o.nearer(best) {
			best = o
		}
		if o.Meets {
			break
		}
	}
	if best == nil {
		return []Option{{Why: finding.Say("no layout has valleys that fall enough")}}, nil
	}
	best.Least = math.Min(best.Fill, d.least(best.problem))
	return []Option{*best}, nil
}

// try is one layout with its fill, or a bound of it from below [m3].
type try struct {
	p    *taper.Problem
	s    *taper.Solution // nil: not begun
	fill float64
	err  error
	done bool  // it was drawn
	over []int // layouts that nowhere rise less than this one
}

// next returns the layout with the least fill of those that were not drawn, nil where all were: bounds are raised until a fill stands under them all, so that most
// layouts are never begun, or never worked out to their end.
func next(tries []try) (*try, error) {
	for {
		var t *try
		for i := range tries {
			if !tries[i].done && (t == nil || tries[i].fill < t.fill) {
				t = &tries[i]
			}
		}
		switch {
		case t == nil:
			return nil, nil
		case t.s == nil:
			t.start()
			if t.err != nil {
				return nil, t.err
			}
			t.lift(tries)
			continue
		case t.s.Clears():
			t.done = true
			return t, nil
		}
		if err := t.s.Raise(); err != nil {
			return nil, err
		}
		t.fill = t.s.Volume()
	}
}

// lift raises the bounds of the layouts that were not begun and nowhere rise less than t from sources as high: they fill no less than t began with.
func (t *try) lift(tries []try) {
	for _, i := range t.over {
		if tries[i].s == nil {
			tries[i].fill = math.Max(tries[i].fill, t.fill-1e-6*(1+math.Abs(t.fill)))
		}
	}
}

// tries returns every layout at the least slope at which its valleys fall enough, with a bound of its fill. Those that no other one bounds are begun. Two processors share
// them: every second layout is worked out on a domain of its own, so that the result does not depend on who is first.
func (d *designer) tries(base taper.Base, thickness float64, sources []taper.Source) ([]try, error) {
	var out []try
	for _, g := range d.layouts() {
		for _, slope := range d.slopes() {
			if g.Valley()*slope < d.in.Study.Criteria.MinValleySlope-1e-9 {
				continue // a steeper one only where this is too flat: it takes more
			}
			out = append(out, try{p: d.problem(base, sources, g, slope, thickness), fill: math.Inf(-1)})
			break
		}
	}
	second, err := taper.NewDomain(d.s.TIN)
	if err != nil {
		return nil, err
	}
	out = distinct(out)
	first := begun(out)
	done := make(chan bool)
	go func() {
		for i := 1; i < len(first); i += 2 {
			first[i].p.Domain = second
			first[i].start()
		}
		close(done)
	}()
	for i := 0; i < len(first); i += 2 {
		first[i].start()
	}
	<-done
	for _, t := range first {
		if t.err != nil {
			return nil, t.err
		}
		t.lift(out)
	}
	return out, nil
}

// distinct leaves out layouts that are one before them.
func distinct(tries []try) []try {
	var out []try
	for i := range tries {
		if !slices.ContainsFunc(out, func(t try) bool { return t.p.Under(tries[i].p) && tries[i].p.Under(t.p) }) {
			out = append(out, tries[i])
		}
	}
	return out
}

// begun notes which layouts bound which, and returns those that none bounds.
func begun(tries []try) []*try {
	var out []*try
	for i := range tries {
		bounded := false
		for k := range tries {
			if k != i && tries[k].p.Under(tries[i].p) {
				bounded = true
				tries[k].over = append(tries[k].over, i)
			}
		}
		if !bounded {
			out = append(out, &tries[i])
		}
	}
	return out
}

func (t *try) start() {
	if t.s, t.err = taper.Start(t.p); t.err == nil {
		t.fill = t.s.Volume()
	}
}

// mostRuns is how many layouts of a taper are analysed, mostDrawn how many are drawn for it.
const mostRuns, mostDrawn = 4, 10

// mostCricket is the greatest share of a roof on which planes may fall less than the design slope: crickets are a small part of a roof. Own choice.
const mostCricket = 0.25

// layout draws one taper and runs the analysis on it; nil where too much of it is cricket, or where it breaks more heights than best does.
func (d *designer) layout(t *try, best *Option) *Option {
	p := t.p
	if t.s.Flatter() > mostCricket {
		return nil
	}
	if best != nil && best.PondsLeft+best.FlatLeft == 0 {
		heights := Option{Design: t.s.Undrawn()}
		if d.flashings(&heights); len(heights.Limits) >= max(1, len(only(best.Limits, flashingHeight))) {
			return nil
		}
	}
	design := t.s.Design()
	o := &Option{Possible: true, Gauge: ways(design), Slope: p.Slope, Design: design, Decides: []string{"engineer", "owner"}}
	if v := design.Valleys(); len(v) > 0 {
		o.Valley = v[0].Slope
	}
	o.Changes = []Change{d.covered(o)}
	for _, l := range design.Outlets {
		out := &d.s.Outlets[l.Outlet]
		if out.Source < 0 || math.Abs(l.Top-out.Invert) < tellable {
			continue
		}
		o.Changes = append(o.Changes, Change{
			Kind: d.whole, Decides: finding.Plumber,
			What: finding.Say("Set {2} from {0} to {1}", finding.Level("invert", out.Invert), finding.Level("new invert", l.Top), finding.Called(out.Label)), At: out.Plan,
		})
	}
	o.Roof = d.carried(o, design.Roof(d.roof, d.s))
	o.Kind = d.whole
	d.judge(o, p.Thickness)
	o.Opened = d.s.Area // all of it is covered anew
	o.problem = p
	return o
}

// covered is the change that a taper over the whole roof is.
func (d *designer) covered(o *Option) Change {
	what := "Lay tapered boards over the whole roof, {0}, falling at {1}, {2} thick at most"
	if d.whole == Replace {
		what = "Take the insulation off and lay tapered boards on the deck, {0}, falling at {1}, {2} thick at most"
	}
	return Change{
		Kind: d.whole, Decides: finding.Owner, Opened: d.s.Area,
		What: finding.Say(what, finding.Called(o.Gauge), finding.Fall("slope", o.Slope), finding.MM("thickest", o.Design.Fill.Thickest)),
	}
}

// ways names a taper by how many ways its planes fall: what is laid, not the gauge it was found with.
func ways(d *taper.Design) string {
	const few = 0.02 // share of the area under which a direction is a detail
	var dirs []orb.Point
	var areas []float64
	total := 0.0
next:
	for i := range d.Facets {
		f := &d.Facets[i]
		g := vector.Norm(f.DX, f.DY)
		if g == 0 {
			continue
		}
		total += f.Area
		u := orb.Point{f.DX / g, f.DY / g}
		for k := range dirs {
			if float64(u[0]*dirs[k][0])+float64(u[1]*dirs[k][1]) > 0.99 {
				areas[k] += f.Area
				continue next
			}
		}
		dirs, areas = append(dirs, u), append(areas, f.Area)
	}
	n := 0
	for _, a := range areas {
		if a > few*total {
			n++
		}
	}
	names := []string{"one-way", "one-way", "two-way", "three-way", "four-way"}
	if n < len(names) {
		return names[n]
	}
	return "eight-way"
}

// carried moves overflows with their primary outlets, so that they stand as high over them as before.
func (d *designer) carried(o *Option, r *roof.Roof) *roof.Roof {
	inverts := map[int]float64{}
	for i := range d.s.Outlets {
		out := &d.s.Outlets[i]
		if out.Duty != roof.Overflow || out.Source < 0 {
			continue
		}
		p := primaryOf(d.s, i)
		if p < 0 || d.s.Outlets[p].Source < 0 || d.kept(i) {
			continue
		}
		up := r.Outlets[d.s.Outlets[p].Source].Invert - d.s.Outlets[p].Invert
		if math.Abs(up) < tellable || out.Type != roof.Drain {
			continue
		}
		inverts[out.Source] = out.Invert + up
		o.Changes = append(o.Changes, Change{
			Kind: d.whole, Decides: finding.Plumber, At: out.Plan,
			What: finding.Say("Set {2} from {0} to {1}, as high over {3} as before", finding.Level("invert", out.Invert), finding.Level("new invert", out.Invert+up), finding.Called(out.Label), finding.Called(d.s.Outlets[p].Label)),
		})
	}
	if len(inverts) == 0 {
		return r
	}
	return setDown(r, inverts)
}

// least returns the fill of the lowest surface on p's base that needs no boards, on the survey's own spots.
func (d *designer) least(p *taper.Problem) float64 {
	return taper.Raised(d.domain, p.Base, taper.Clear(p, taper.Seeds(d.s, p.Sources))).Fill.Volume
}
