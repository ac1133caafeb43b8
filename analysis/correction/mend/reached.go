package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// reached sets a drain down that stands on a high of the roof, and cuts channels of half boards to its sump from the low places round it, which no sump reaches.
func (d *Designer) reached(p *Pond) (Mend, bool) {
	o := d.movable(p)
	if o == nil || o.Type != roof.Drain {
		return Mend{}, false
	}
	from, low, z := d.channelFrom(p, o)
	if from == nil {
		return Mend{}, false
	}
	g, flat := d.FourWay(), RingOf(d.Roof, o)
	wide, side := standard.SumpWidth, 0.0
	for ; wide <= standard.SumpWidest; wide += standard.Board / 2 {
		reach := wide/2 + standard.SumpEdge
		if side = math.Max(standard.SumpRate, (d.rim(o, &g, reach)-z)/(reach-flat)); side <= standard.SumpSteepest {
			break
		}
	}
	if side > standard.SumpSteepest || o.Invert-z > standard.InsulationLeft-standard.DeckThickness {
		return Mend{}, false
	}
	m := d.sumpAt(p, o, z, flat, wide, side)
	cuts, sides := trenches(from, low, o.Plan, z, func(q orb.Point) orb.Point { return towardsSquare(&g, o.Plan, q, wide/2) })
	if len(cuts) == 0 {
		return Mend{}, false
	}
	long, flattest := 0.0, math.Inf(1)
	for i, c := range cuts {
		l := LineLength(c.line)
		m.Area += l
		if long, flattest = math.Max(long, l), math.Min(flattest, c.fall); i == 0 {
			m.Change.Line = c.line
		} else {
			m.Change.More = append(m.Change.More, c.line)
		}
	}
	m.Area = math.Max(m.Area, standard.SumpWidest*standard.SumpWidest+1) // a sump alone comes first
	sump := m.Apply
	m.Apply = func(a *taper.Alteration) {
		sump(a)
		a.Lower(sides...)
	}
	m.Change.Brief = "set the outlet down and cut channels to it"
	what := "and cut {0} channels of half boards from " + p.ID + " to the sump, {1} long at most, falling at {2} or more"
	if len(cuts) == 1 {
		what = "and cut a channel of half boards from " + p.ID + " to the sump, {1} long, falling at {2}"
	}
	m.Change.What.Format += ","
	m.Change.What = m.Change.What.And(finding.Say(what, finding.Number("channels", len(cuts)), finding.Metres("length", long), finding.Fall("fall", flattest)))
	return m, true
}

// trenches returns the channels from low places to an outlet at z, each as far as the place where it enters the sump, and their sides. Those that lie in the sump are none.
func trenches(from []orb.Point, low []float64, outlet orb.Point, z float64, enters func(q orb.Point) orb.Point) (cuts []channelCut, sides []taper.Patch) {
	for i, q := range from {
		c := channelCut{line: orb.LineString{q, enters(q)}, fall: (low[i] - z) / LineLength(orb.LineString{q, outlet})}
		sides = append(sides, trench(q, outlet, low[i], c.fall)...)
		if LineLength(c.line) >= standard.StripIn {
			cuts = append(cuts, c)
		}
	}
	return cuts, sides
}

// towardsSquare returns where the way from q to the middle of a square enters it, given half its side in the gauge; q itself where it lies in it.
func towardsSquare(g *domain.Gauge, middle, q orb.Point, half float64) orb.Point {
	v := orb.Point{q[0] - middle[0], q[1] - middle[1]}
	k := math.Min(1, half/math.Max(half, g.N(v)))
	return orb.Point{middle[0] + float64(k*v[0]), middle[1] + float64(k*v[1])}
}

// channelFrom returns the low places of a pond from which channels may be cut to an outlet, with their heights, and the level of its inlet that lets them fall enough; none
// where the lowest place is within a sump or out of sight.
func (d *Designer) channelFrom(p *Pond, o *surface.Outlet) (from []orb.Point, low []float64, z float64) {
	least := fillRates[0] * d.Study.Criteria.MinValleySlope
	z = o.Invert
	for i, q := range p.pits[:min(len(p.pits), mostChannels)] {
		if l := LineLength(orb.LineString{q, o.Plan}); l > standard.SumpWidth/2 && d.Domain.Sees(q, o.Plan) {
			from, low = append(from, q), append(low, p.lows[i])
			z = math.Min(z, p.lows[i]-float64(least*l))
		} else if i == 0 {
			return nil, nil, 0
		}
	}
	return from, low, math.Floor(z*1e4) / 1e4
}

// mostChannels is how many channels are cut to one outlet. Own choice.
const mostChannels = 4
