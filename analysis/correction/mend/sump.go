package mend

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// movable returns the drain or scupper that p should drain to and that may be set down; nil where there is none.
func (d *Designer) movable(p *Pond) *surface.Outlet {
	if p.Outlet < 0 || d.Kept(p.Outlet) {
		return nil
	}
	o := &d.Surface.Outlets[p.Outlet]
	if o.Type == roof.EdgeOutlet || o.Source < 0 {
		return nil
	}
	return o
}

// RingOf is how far the level ring of a sump reaches from the middle of an outlet [m].
func RingOf(r *roof.Roof, o *surface.Outlet) float64 {
	bowl := float64(r.Outlets[o.Source].Bowl)
	if o.Type == roof.Scupper {
		bowl = float64(r.Outlets[o.Source].Width)
	}
	if bowl <= 0 {
		bowl = float64(standard.Bowl)
	}
	return bowl/2 + standard.SumpRing
}

// sump sets an outlet down in a sump of whole boards: as little as lets the pond's lowest places run, with a rim that meets the roof.
func (d *Designer) sump(p *Pond) (Mend, bool) {
	o := d.movable(p)
	if o == nil {
		return Mend{}, false
	}
	g, flat := d.FourWay(), RingOf(d.Roof, o)
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		z, ok := d.needed(p, o, &g, flat, width/2)
		if !ok {
			continue
		}
		reach := width/2 + standard.SumpEdge
		side := math.Max(standard.SumpRate, (d.rim(o, &g, reach)-z)/(reach-flat))
		if side > standard.SumpSteepest {
			continue
		}
		return d.sumpAt(p, o, z, flat, width, side), true
	}
	return Mend{}, false
}

// needed returns how low an outlet must stand so that the lowest places of a pond within reach run to it through a sump; ok is false where the lowest
// of all is not within reach, nor level with the roof at the sump's rim. What lies beyond runs down to the sump or does not: the run of the whole roof tells.
func (d *Designer) needed(p *Pond, o *surface.Outlet, g *domain.Gauge, flat, reach float64) (z float64, ok bool) {
	z = math.Min(o.Invert, math.Max(o.Low, p.low))
	for i, q := range p.pits {
		n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]})
		switch within := n <= reach && d.Domain.Sees(o.Plan, q); {
		case within:
			z = math.Min(z, p.lows[i]-float64(standard.SumpRate*math.Max(0, n-flat)))
		case i == 0:
			rim := reach + standard.SumpEdge
			if !d.Domain.Sees(o.Plan, q) || n > rim && !d.levelTo(p, o, rim/n) {
				return z, false
			}
			z = math.Min(z, p.low-float64(standard.SumpRate*(math.Min(n, rim)-flat)))
		}
	}
	return d.notBelow(p, o, z), true
}

// levelTo reports whether the roof between the lowest place of a pond and an outlet's sump, whose rim lies the given part of the way off, rises by no more than
// a film of water. A high rim of an outlet alone makes the surface rise from the nearest spot to it, and the sump takes that away.
func (d *Designer) levelTo(p *Pond, o *surface.Outlet, part float64) bool {
	const steps = 8
	for k := 0; k <= steps; k++ {
		t := part + float64((1-part)*float64(k)/steps)
		z, ok := d.Locate.HeightAt(o.Plan[0]+float64(t*(p.Pit[0]-o.Plan[0])), o.Plan[1]+float64(t*(p.Pit[1]-o.Plan[1])))
		if !ok || z-p.low > d.Study.Criteria.PondDepth/2 {
			return false
		}
	}
	return true
}

// notBelow keeps an outlet as high as its overflow allows where that leaves no more than a film of water.
func (d *Designer) notBelow(p *Pond, o *surface.Outlet, z float64) float64 {
	for i := range d.Surface.Outlets {
		over := &d.Surface.Outlets[i]
		if over.Duty != roof.Overflow || over.Source < 0 {
			continue
		}
		if k := PrimaryOf(d.Surface, i); k < 0 || d.Surface.Outlets[k].Source != o.Source {
			continue
		}
		least := over.Inlet() - d.Study.Criteria.OverflowMost() - standard.InletTolerance + 0.001
		if z < least && least-p.low < d.Study.Criteria.PondDepth/2 {
			return least
		}
	}
	return z
}

// rim returns the highest place of the surface on the square round an outlet at a distance in the gauge.
func (d *Designer) rim(o *surface.Outlet, g *domain.Gauge, reach float64) float64 {
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
			if z, ok := d.Locate.HeightAt(q[0], q[1]); ok && d.Domain.Sees(o.Plan, q) {
				high = math.Max(high, z)
			}
		}
	}
	return high
}

// sumpAt is the mend that sets an outlet down to z.
func (d *Designer) sumpAt(p *Pond, o *surface.Outlet, z, flat, width, side float64) Mend {
	z = math.Floor(z*1e4) / 1e4
	src := taper.Source{Outlet: p.Outlet, Plan: o.Plan, Z: z}
	drop := o.Invert - z
	size := finding.Metres("sump", width)
	m := Mend{
		Kind: LowerOutlet, Inverts: map[int]float64{o.Source: z}, Area: width * width, scupper: o.Type == roof.Scupper, Sump: width,
		Apply: func(a *taper.Alteration) {
			a.Sump(d.Problem(d.Base, []taper.Source{src}, d.FourWay(), side, 0), flat, width/2+standard.SumpEdge)
		},
	}
	switch {
	case m.scupper:
		m.Change.What = finding.Say("Set the floor of {3} down by {0} to {1} within its rough opening, and dress the boards before it over {2} to it",
			finding.MM("drop", drop), finding.Level("invert", z), size, finding.Called(o.Label))
		m.Decides = []string{finding.Roofer}
		m.Questions = []Question{{
			Ask: finding.Say("How far below its floor does the rough opening of {1} reach? {0} must be there", finding.MM("drop", drop), finding.Called(o.Label)), Where: o.Label, At: o.Plan, Decides: finding.Roofer,
			If: finding.Say("That far or farther"), Then: finding.Say("Set the floor down"),
		}}
	default:
		m.Change.What = finding.Say("Set {4} down by {0} to {1} in a sump of {2} by {2}, level round the bowl and rising at {3} outside it",
			finding.MM("drop", drop), finding.Level("invert", z), size, finding.Fall("sides", side), finding.Called(o.Label))
		m.Decides = []string{finding.Roofer, finding.Plumber}
		m.Questions = d.sumpQuestions(o)
	}
	m.Change.At = o.Plan
	d.overflowsDown(&m, p, o, z, side, flat, width/2+standard.SumpEdge)
	return m
}

// sumpQuestions asks what decides whether an outlet can be set down. The first is answered where cores tell the deck.
func (d *Designer) sumpQuestions(o *surface.Outlet) []Question {
	var out []Question
	if !d.deckAt(o.Plan) {
		out = append(out, Question{
			Ask: finding.Say("How thick is the insulation beside {0}? Cut a core {1} from it, patched the same day", finding.Called(o.Label), finding.Metres("off", standard.OutletClear)), Where: o.Label, At: o.Plan, Decides: finding.Roofer,
			If: finding.Say("{0} or more", finding.MM("left", standard.InsulationLeft)), Then: finding.Say("Set {0} down", finding.Called(o.Label)),
		})
	}
	return append(out, Question{
		Ask: finding.Say("Can {0} be set down: is its body neither cast in nor bearing on the deck, does its leader give, and can it be reached from below?", finding.Called(o.Label)), Where: "below " + o.Label, At: o.Plan, Decides: finding.Plumber, Asked: roof.AskLower,
		If:   finding.Say("The body can be set lower and the leader follows"),
		Then: finding.Say("Set {0} down, look at condensation at the thin place, and write to the warrantor first", finding.Called(o.Label)),
	})
}

// deckAt reports whether the deck is known at a place.
func (d *Designer) deckAt(p orb.Point) bool {
	if d.Deck == nil {
		return false
	}
	_, _, ok := d.Deck(p)
	return ok
}

// retaper sets the outlet down so far that planes of a slope from it take all low places of the pond, flush with the roof at the cut line.
func (d *Designer) retaper(p *Pond) (Mend, bool) {
	o := d.movable(p)
	if o == nil {
		return Mend{}, false
	}
	g := d.FourWay()
	slope := math.Max(1.5*d.Study.Criteria.MinSlope, 1.45*d.Study.Criteria.MinValleySlope)
	z, far := o.Invert, 0.0
	for i, q := range p.pits {
		n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]})
		if !d.Domain.Sees(o.Plan, q) {
			return Mend{}, false
		}
		far = math.Max(far, n)
		z = math.Min(z, p.lows[i]-float64(slope*n))
	}
	z = math.Floor(z*1e4) / 1e4
	src := taper.Source{Outlet: p.Outlet, Plan: o.Plan, Z: z}
	m := Mend{
		Kind: Retaper, Inverts: map[int]float64{o.Source: z}, Area: 4 * far * far, Decides: []string{finding.Roofer, finding.Plumber},
		Apply: func(a *taper.Alteration) {
			a.LowerTo(d.Problem(d.Base, []taper.Source{src}, g, slope, 0), 0)
		},
	}
	m.Change = Change{At: o.Plan, What: finding.Say("Set {3} down by {0} to {1} and lay new tapered boards round it, falling at {2} and flush with the roof at the cut line",
		finding.MM("drop", o.Invert-z), finding.Level("invert", z), finding.Fall("slope", slope), finding.Called(o.Label))}
	m.Questions = d.sumpQuestions(o)
	d.overflowsDown(&m, p, o, z, slope, 0, 0)
	return m, true
}

// overflowsDown sets the overflow drains of an outlet that goes down to z down with it, to the limit over it, where the surface round them lets it: slope,
// flat and reach are of the new surface round the outlet, in the gauge; reach 0: no bound.
func (d *Designer) overflowsDown(m *Mend, p *Pond, o *surface.Outlet, z, slope, flat, reach float64) {
	g := d.FourWay()
	for i := range d.Surface.Outlets {
		over := &d.Surface.Outlets[i]
		if over.Duty != roof.Overflow || over.Type != roof.Drain || over.Source < 0 || d.Kept(i) || PrimaryOf(d.Surface, i) != p.Outlet {
			continue
		}
		least, ground := z+d.Study.Criteria.OverflowMost(), over.Low
		if n := g.N(orb.Point{over.Plan[0] - o.Plan[0], over.Plan[1] - o.Plan[1]}); reach == 0 || n < reach {
			ground = math.Min(ground, z+float64(slope*math.Max(0, n-flat)))
		}
		if over.Invert <= least+standard.InletTolerance || ground > least {
			continue
		}
		m.Inverts[over.Source] = least
		m.Change.What.Format += ","
		m.Change.What = m.Change.What.And(finding.Say("with "+over.Label+" beside it down to {0}", finding.Level("overflow", least)))
	}
}

// Kept reports whether the user wants outlet i to stay.
func (d *Designer) Kept(i int) bool {
	o := &d.Surface.Outlets[i]
	if a := d.Study.Roof.AnsweredAt(roof.AskLower, o.Plan, nil); a != nil && !a.Yes {
		return true // the plumber said that it cannot be set down
	}
	return slices.ContainsFunc(d.Steering.Keep, func(name string) bool {
		return strings.EqualFold(name, o.ID) || strings.EqualFold(name, o.Label) ||
			o.Source >= 0 && strings.EqualFold(name, d.Roof.Outlets[o.Source].ID)
	})
}

// PrimaryOf returns the primary drain or scupper nearest to overflow i, -1 where there is none.
func PrimaryOf(s *surface.Surface, i int) int {
	best, far := -1, math.Inf(1)
	for p := range s.Outlets {
		o := &s.Outlets[p]
		if o.Duty != roof.Primary || o.Type == roof.EdgeOutlet {
			continue
		}
		if l := vector.Distance(o.Plan, s.Outlets[i].Plan); l < far {
			best, far = p, l
		}
	}
	return best
}
