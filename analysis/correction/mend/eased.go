package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/taper"
)

// ease is a taper of one plane that rises from a crest until it meets the roof, with an edge strip beyond the crest that takes up what it is uneven by.
type ease struct {
	crest       *crest
	fall, strip float64 // of the plane [rise/run]; width of the strip [m]
	long        float64 // as far up as the plane is looked at [m]
	wedge       wedge
	run         float64 // as far up as it lies above the roof [m]
}

// eased are the tapers of one plane over a pond that a step or an arch holds, flattest first.
func (d *Designer) eased(p *Pond) []Mend {
	plane := d.planeRound(p)
	if p.Held >= 0 || p.Finding != finding.Step && p.Finding != finding.Camber || plane == nil || plane.Level {
		return nil
	}
	c, ok := d.crestOf(p, orb.Point{plane.Gradient[0] / plane.Slope, plane.Gradient[1] / plane.Slope})
	if !ok {
		return nil
	}
	var out []Mend
	for _, rate := range fillRates {
		e := ease{crest: &c, fall: rate * d.Study.Criteria.MinValleySlope}
		if c.rough > Seen/2 {
			e.strip = math.Max(2*crestStep, 2*c.rough/channelSide)
		}
		if d.laidFlush(&e) {
			out = append(out, d.easedMend(p, &e))
		}
	}
	return out
}

// besideWater is how far a taper goes on beyond the ends of the water [m]. Own choice.
const besideWater = 0.5

// laidFlush widens the plane up the roof until it meets the roof flush all round, and measures it; false where it does not within reach.
func (d *Designer) laidFlush(e *ease) bool {
	for _, more := range []float64{1.2, 1.6, 2, 2.7, 3.5, 5} {
		if e.long = more*e.crest.deep + besideWater; d.meets(e) {
			d.measure(e)
			return e.wedge.area > 0
		}
	}
	return false
}

// at returns the level of the new surface s up from the crest and t along it.
func (e *ease) at(s, t float64) float64 {
	rate := choose.If(s < 0, channelSide, e.fall)
	return e.crest.z + float64(e.crest.e*t) + float64(rate*s)
}

// meets reports whether the new surface lies nowhere above the roof along its border.
func (d *Designer) meets(e *ease) bool {
	const step, most = 0.2, 0.001
	left, right := e.crest.lo-besideWater, e.crest.hi+besideWater
	below := func(s, t float64) bool {
		q := e.crest.on(s, t)
		z, on := d.Locate.HeightAt(q[0], q[1])
		return !on || e.at(s, t) <= z+most
	}
	for t := left; t < right; t += step {
		if !below(e.long, t) || e.strip > 0 && !below(-e.strip, t) {
			return false
		}
	}
	for s := -e.strip; s < e.long; s += step {
		if !below(s, left) || !below(s, right) {
			return false
		}
	}
	return true
}

// measure notes where the plane lies above the roof and by how much.
func (d *Designer) measure(e *ease) {
	const cell = crestStep * crestRows
	w := &e.wedge
	for s := crestStep / 2; s < e.long; s += crestStep {
		for t := e.crest.lo - besideWater; t < e.crest.hi+besideWater; t += crestRows {
			q := e.crest.on(s, t)
			z, on := d.Locate.HeightAt(q[0], q[1])
			up := e.at(s, t) - z
			if !on || up < Seen {
				continue
			}
			w.area, w.volume, w.box = w.area+cell, w.volume+float64(cell*up), d.holding(w.box, q)
			w.thick, e.run = math.Max(w.thick, up), math.Max(e.run, s+crestStep/2)
		}
	}
}

func (e *ease) patches() []taper.Patch {
	c := e.crest
	left, right := c.lo-besideWater, c.hi+besideWater
	patch := func(from, to, rate float64) taper.Patch {
		return taper.Patch{
			On: []orb.Point{c.on(from, left), c.on(to, left), c.on(to, right), c.on(from, right)}, Plan: c.at, Z: c.z,
			DX: float64(rate*c.up[0]) + float64(c.e*c.across[0]), DY: float64(rate*c.up[1]) + float64(c.e*c.across[1]),
		}
	}
	out := []taper.Patch{patch(0, e.long, e.fall)}
	if e.strip > 0 {
		out = append(out, patch(-e.strip, 0, channelSide))
	}
	return out
}

// easedMend says what is laid and what has to be known first.
func (d *Designer) easedMend(p *Pond, e *ease) Mend {
	w := e.wedge
	m := Mend{
		Kind: Fill, Decides: []string{finding.Roofer}, Fill: true, Area: w.area, Volume: w.volume, box: w.box,
		Apply: func(a *taper.Alteration) { a.Raise(e.patches()...) },
	}
	over, brief := "the step", "ease the step with a taper"
	if p.Finding == finding.Camber {
		over, brief = "the arch", "lay a taper up to the arch"
	}
	what := "Cut out the membrane at " + p.ID + " over {0} up the roof, lay tapered boards from nothing there to {1} thick at the edge of " + over + ", over which they fall at {2}"
	if e.strip > 0 {
		what += ", with an edge strip beyond it"
	}
	m.Change = Change{
		At: p.Pit, Brief: brief,
		What: finding.Say(what+", and cover them anew", finding.Metres("run", e.run), finding.MM("thickness", w.thick), finding.Fall("slope", e.fall)),
	}
	m.Questions = []Question{d.dryAndFirm(p)}
	return m
}
