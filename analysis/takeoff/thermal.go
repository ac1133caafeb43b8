package takeoff

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// tally sums up a resistance that varies over areas.
type tally struct {
	area, sum   float64 // of R over the area
	transmit    float64 // of U over the area
	least, most float64
}

func newTally() tally { return tally{least: math.Inf(1), most: math.Inf(-1)} }

// add takes in a convex polygon with R at its corners, linear between them.
func (t *tally) add(on []orb.Point, r []float64) {
	for k := 1; k+1 < len(on); k++ {
		a := triangle(on[0], on[k], on[k+1])
		t.area += a
		t.sum += float64(a * (r[0] + r[k] + r[k+1]) / 3)
		t.transmit += float64(a * assembly.MeanU([3]float64{r[0] + standard.AirFilms, r[k] + standard.AirFilms, r[k+1] + standard.AirFilms}))
	}
	for _, v := range r {
		t.point(v)
	}
}

func (t *tally) point(r float64) { t.least, t.most = math.Min(t.least, r), math.Max(t.most, r) }

func (t *tally) resistance() Resistance {
	if !(t.area > 0) {
		return Resistance{Why: "no area"}
	}
	r := Resistance{Known: true, Least: t.least, Greatest: t.most, Average: t.sum / t.area, U: t.transmit / t.area}
	r.True = 1/r.U - standard.AirFilms
	return r
}

// thermal works out the resistance of the new insulation, and of the roof before and after where cores tell what is there.
func (c *counter) thermal() {
	t := &c.out.Thermal
	t.PerMetre, t.Source = c.material.PerMetre, c.material.RSource.Text
	if c.in.PerMetre > 0 {
		t.PerMetre, t.Own, t.Source = c.in.PerMetre, true, "as the user states it"
	}
	n := newTally()
	for i := range c.parts {
		if f := &c.out.Fields[i]; f.Volume < least || !f.Laid && (f.Use == Fill || f.Thinnest < float64(c.in.Stock.Thin)-Tolerance) { // a cut, or feathered out to nothing: no resistance of its own
			continue
		}
		for _, p := range c.parts[i] {
			r := make([]float64, len(p.t))
			for k := range r {
				r[k] = t.PerMetre * math.Max(0, p.t[k])
			}
			n.add(p.on, r)
		}
	}
	t.New = n.resistance()
	if t.New.Known && t.New.Average > 0 {
		t.Note = finding.Say("the average thickness gives more than the roof has: heat takes the thin places. Compare by the method that the local code names")
	}
	c.wholeRoof()
}

// wholeRoof compares the roof before and after.
func (c *counter) wholeRoof() {
	t := &c.out.Thermal
	a := c.in.Study.Assembly
	if a == nil || !a.R.Known {
		why := "no cores say what is there"
		if a != nil && a.R.Why != "" && len(c.in.Study.Roof.Cores) > 0 {
			why = a.R.Why
		}
		t.Before.Why, t.After.Why = why, why
		return
	}
	w := &a.R
	s := c.in.Study.Surface
	before, after := newTally(), newTally()
	c.asFound(w, &before, &after)
	t.Before = before.resistance()
	if before.area < s.Area*(1-1e-3) {
		t.Before.Known, t.Before.Why = false, "the thickness is not known over the whole roof"
	}
	t.After.Known = t.Before.Known
	t.After.Why = t.Before.Why
	if !t.Before.Known {
		return
	}
	for i := range c.parts {
		for k := range c.parts[i] {
			if !c.compare(w, &c.out.Fields[i], &c.parts[i][k], &after) {
				t.After.Known, t.After.Why = false, "the deck under the new insulation is not known"
				return
			}
		}
	}
	t.After = after.resistance()
}

// asFound tallies the roof as it is; what stays goes into after as well.
func (c *counter) asFound(w *assembly.Resistance, before, after *tally) {
	s := c.in.Study.Surface.TIN
	deck := c.deck()
	for f := range int32(s.Facets()) {
		var on []orb.Point
		var r []float64
		for _, v := range s.V[3*f : 3*f+3] {
			p := orb.Point{s.X[v], s.Y[v]}
			d, _, ok := deck(p)
			if !ok {
				break
			}
			on, r = append(on, p), append(r, w.At(s.Z[v]-d))
			if c.stays(p) {
				after.point(r[len(r)-1])
			}
		}
		if len(on) == 3 {
			before.add(on, r)
		}
	}
	after.area, after.sum, after.transmit = before.area, before.sum, before.transmit
}

// stays reports whether the surface at p is not changed.
func (c *counter) stays(p orb.Point) bool {
	if c.design == nil {
		return true
	}
	f := c.design.FacetAt(p)
	return f >= 0 && c.design.Facets[f].Existing
}

// compare puts what a part has after in the place of what it had.
func (c *counter) compare(w *assembly.Resistance, f *Field, p *part, after *tally) bool {
	if p.old == nil {
		return false
	}
	t := &c.out.Thermal
	then, now := make([]float64, len(p.on)), make([]float64, len(p.on))
	for k := range p.on {
		then[k] = w.At(p.old[k])
		now[k] = float64(t.PerMetre * math.Max(0, p.t[k]))
		switch {
		case f.Use == Patch && f.OnDeck: // what is sound stays
			now[k] += w.At(math.Max(0, p.old[k]-p.gone[k]))
		case !f.OnDeck:
			now[k] = w.At(math.Min(p.old[k], p.old[k]+p.t[k])) + float64(t.PerMetre*math.Max(0, p.t[k]))
		}
		if lost := then[k] - now[k]; lost > math.Max(t.Lost, assembly.LostLeast) {
			t.Reduced, t.Lost, t.LostFrom = true, lost, then[k]
		}
	}
	gone := newTally()
	gone.add(p.on, then)
	after.area -= gone.area
	after.sum -= gone.sum
	after.transmit -= gone.transmit
	after.add(p.on, now)
	return true
}

// existing returns the elevation of the roof as surveyed.
func (c *counter) existing(p orb.Point) float64 {
	if c.locate == nil {
		c.locate = surface.NewLocator(c.in.Study.Surface.TIN)
	}
	z, _ := c.locate.HeightAt(p[0], p[1])
	return z
}
