package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// movable returns the drain or scupper that p should drain to and that may be set down; nil where there is none.
func (d *designer) movable(p *pond) *surface.Outlet {
	if p.outlet < 0 || d.kept(p.outlet) {
		return nil
	}
	o := &d.s.Outlets[p.outlet]
	if o.Type == roof.EdgeOutlet || o.Source < 0 {
		return nil
	}
	return o
}

// ringOf is how far the level ring of a sump reaches from the middle of an outlet [m].
func (d *designer) ringOf(o *surface.Outlet) float64 {
	bowl := float64(d.roof.Outlets[o.Source].Bowl)
	if o.Type == roof.Scupper {
		bowl = float64(d.roof.Outlets[o.Source].Width)
	}
	if bowl <= 0 {
		bowl = float64(standard.Bowl)
	}
	return bowl/2 + standard.SumpRing
}

// sump sets an outlet down in a sump of whole boards: as little as lets the pond's lowest places run, with a rim that meets the roof.
func (d *designer) sump(p *pond) (mend, bool) {
	o := d.movable(p)
	if o == nil {
		return mend{}, false
	}
	g, flat := d.fourWay(), d.ringOf(o)
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		z, far := d.needed(p, o, &g, flat)
		if far > width/2 {
			continue
		}
		reach := width/2 + standard.SumpEdge
		if z < d.rim(o, &g, reach)-float64(standard.SumpRate*(reach-flat)) {
			continue
		}
		return d.sumpAt(p, o, z, flat, width), true
	}
	return mend{}, false
}

// needed returns how low an outlet must stand so that the lowest places of a pond run to it through a sump, and how far the farthest of them is
// off that no sump may leave out.
func (d *designer) needed(p *pond, o *surface.Outlet, g *taper.Gauge, flat float64) (z, far float64) {
	z = math.Min(o.Invert, math.Max(o.Low, p.low))
	for i, q := range p.pits {
		if p.level-p.lows[i] < d.in.Study.Criteria.PondDepth/2 {
			continue // as deep as a level resolves
		}
		n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]})
		if !d.domain.Sees(o.Plan, q) {
			return z, math.Inf(1)
		}
		far = math.Max(far, n)
		z = math.Min(z, p.lows[i]-float64(standard.SumpRate*math.Max(0, n-flat)))
	}
	return z, far
}

// rim returns the highest place of the surface on the square round an outlet at a distance in the gauge.
func (d *designer) rim(o *surface.Outlet, g *taper.Gauge, reach float64) float64 {
	high := math.Inf(-1)
	axis, across := g.Axis, orb.Point{-g.Axis[1], g.Axis[0]}
	const steps = 8
	for k := -steps; k <= steps; k++ {
		t := reach * float64(k) / steps
		for _, c := range [][2]float64{{t, reach}, {t, -reach}, {reach, t}, {-reach, t}} {
			q := orb.Point{
				o.Plan[0] + float64(c[0]*axis[0]) + float64(c[1]*across[0]),
				o.Plan[1] + float64(c[0]*axis[1]) + float64(c[1]*across[1]),
			}
			if z, ok := d.locate.HeightAt(q[0], q[1]); ok && d.domain.Sees(o.Plan, q) {
				high = math.Max(high, z)
			}
		}
	}
	return high
}

// sumpAt is the mend that sets an outlet down to z.
func (d *designer) sumpAt(p *pond, o *surface.Outlet, z, flat, width float64) mend {
	z = math.Floor(z*1e4) / 1e4
	src := taper.Source{Outlet: p.outlet, Plan: o.Plan, Z: z}
	drop := o.Invert - z
	size := finding.Metres("sump", width)
	m := mend{
		kind: LowerOutlet, inverts: map[int]float64{o.Source: z}, area: width * width, scupper: o.Type == roof.Scupper, sump: width,
		apply: func(a *taper.Alteration) {
			a.Sump(d.problem(d.base, []taper.Source{src}, d.fourWay(), standard.SumpRate, 0), flat, width/2+standard.SumpEdge)
		},
	}
	switch {
	case m.scupper:
		m.change.What = finding.Say("Set the floor of "+o.Label+" down by {0} to {1} within its rough opening, and dress the boards before it over {2} to it",
			finding.MM("drop", drop), finding.Level("invert", z), size)
		m.decides = []string{finding.Roofer}
		m.questions = []Question{{
			Ask: finding.Say("How far below its floor does the rough opening of "+o.Label+" reach? {0} are needed", finding.MM("drop", drop)), Where: o.Label, At: o.Plan, Decides: finding.Roofer,
			If: finding.Say("That far or farther"), Then: finding.Say("Set the floor down"),
		}}
	default:
		m.change.What = finding.Say("Set "+o.Label+" down by {0} to {1} in a sump of {2} by {2}, level round the bowl and rising at {3} outside it",
			finding.MM("drop", drop), finding.Level("invert", z), size, finding.Fall("sides", standard.SumpRate))
		m.decides = []string{finding.Roofer, finding.Plumber}
		m.questions = d.sumpQuestions(o)
	}
	m.change.At = o.Plan
	return m
}

// sumpQuestions asks what decides whether an outlet can be set down. The first is answered where cores tell the deck.
func (d *designer) sumpQuestions(o *surface.Outlet) []Question {
	var out []Question
	if !d.deckAt(o.Plan) {
		out = append(out, Question{
			Ask: finding.Say("How thick is the insulation beside " + o.Label + "? Cut a core 0.6 m from it, patched the same day"), Where: o.Label, At: o.Plan, Decides: finding.Roofer,
			If: finding.Say("{0} or more", finding.MM("left", standard.InsulationLeft)), Then: finding.Say("Set " + o.Label + " down"),
		})
	}
	return append(out, Question{
		Ask: finding.Say("Is the body of " + o.Label + " cast in or does it bear on the deck, and does its leader give and can it be reached from below?"), Where: "below " + o.Label, At: o.Plan, Decides: finding.Plumber,
		If:   finding.Say("The body can be set lower and the leader follows"),
		Then: finding.Say("Set " + o.Label + " down, look at condensation at the thin place, and write to the warrantor first"),
	})
}

// deckAt reports whether the deck is known at a place.
func (d *designer) deckAt(p orb.Point) bool {
	if d.in.Deck == nil {
		return false
	}
	_, _, ok := d.in.Deck(p)
	return ok
}

// retaper sets the outlet down so far that planes of a slope from it take all low places of the pond, flush with the roof at the cut line.
func (d *designer) retaper(p *pond) (mend, bool) {
	o := d.movable(p)
	if o == nil {
		return mend{}, false
	}
	g := d.fourWay()
	slope := 1.25 * d.in.Study.Criteria.MinSlope
	z, far := o.Invert, 0.0
	for i, q := range p.pits {
		n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]})
		if !d.domain.Sees(o.Plan, q) {
			return mend{}, false
		}
		far = math.Max(far, n)
		z = math.Min(z, p.lows[i]-float64(slope*n))
	}
	z = math.Floor(z*1e4) / 1e4
	src := taper.Source{Outlet: p.outlet, Plan: o.Plan, Z: z}
	m := mend{
		kind: Retaper, inverts: map[int]float64{o.Source: z}, area: 4 * far * far, decides: []string{finding.Roofer, finding.Plumber},
		apply: func(a *taper.Alteration) {
			a.LowerTo(d.problem(d.base, []taper.Source{src}, g, slope, 0), 0)
		},
	}
	m.change = Change{At: o.Plan, What: finding.Say("Set "+o.Label+" down by {0} to {1} and lay new tapered boards round it, falling at {2} and flush with the roof at the cut line",
		finding.MM("drop", o.Invert-z), finding.Level("invert", z), finding.Fall("slope", slope))}
	m.questions = d.sumpQuestions(o)
	return m, true
}
