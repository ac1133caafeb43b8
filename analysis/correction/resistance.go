package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Resistance is the thermal resistance of the roof before and after an option, dry and without air films [m2 K/W]: a bound by which options are flagged. What is printed of an answer
// is that of its take-off, piece by piece.
type Resistance struct {
	Known         bool
	LeastBefore   float64 // at the thinnest place
	LeastAfter    float64
	AverageBefore float64 // over the roof
	AverageAfter  float64
	Lost          float64 // at the place that loses most; 0: none does
	At            orb.Point
}

// Resisting names the flag on the resistance.
const Resisting = "thermal resistance before and after"

// ResistanceReduced names the flag on a resistance that is taken away.
const ResistanceReduced = "thermal resistance is reduced"

// ResistanceShort names the flag on a resistance that is less than what the energy authority asked for.
const ResistanceShort = "less thermal resistance than the energy authority asked for"

// noCut is what comes off a roof by rounding alone at most: a cubic centimetre [m3].
const noCut = 1e-6

// resistance compares the roof before and after, and flags whatever is taken away.
func (d *designer) resistance(o *Option) {
	l := Limit{Name: Resisting, Decides: "energy authority", Source: "an energy code may ask for the resistance of new work, or forbid less than was there; " + standard.LocalCode}
	a := d.Study.Assembly
	if !d.resisted(a) {
		if o.Cut > noCut || o.Kind == mend.Replace {
			o.Unknown = append(o.Unknown, l)
		}
		return
	}
	o.R.Known = true
	d.least2(o, a)
	d.average(o, a)
	if a := d.Roof.Answered(string(roof.AskResistance)); a != nil { // the energy authority said what the roof must have
		if o.R.AverageAfter < a.Amount-assembly.LostLeast {
			l.Name, l.Source = ResistanceShort, "asked for by "+a.By+", "+a.On
			o.Flags = append(o.Flags, l)
			o.addDecides(l.Decides)
		}
		return
	}
	if r := &o.R; r.Lost > assembly.LostLeast || r.LeastBefore-r.LeastAfter > assembly.LostLeast || r.AverageBefore-r.AverageAfter > assembly.LostLeast {
		l.Name = ResistanceReduced
		l.At = r.At
		o.Flags = append(o.Flags, l)
		o.addDecides(l.Decides)
	}
}

// resisted reports whether the resistance before is known.
func (d *designer) resisted(a *assembly.Result) bool {
	const whole = 0.999 // share of the roof over which the thickness is known
	return a != nil && len(d.Roof.Cores) > 0 && a.R.Known && a.R.Share >= whole && d.Deck != nil
}

// least2 finds the least resistance before and after, and the place that loses most, at the corners of both surfaces: between them it is linear.
func (d *designer) least2(o *Option, a *assembly.Result) {
	r := &o.R
	r.LeastBefore, r.LeastAfter = math.Inf(1), math.Inf(1)
	look := func(p orb.Point) {
		deck, _, ok := d.Deck(p)
		old, on := d.Locate.HeightAt(p[0], p[1])
		z, in := o.Design.Height(p)
		if !ok || !on || !in {
			return
		}
		before, after := a.R.At(old-deck), 0.0
		if o.Kind == mend.Replace {
			after = float64(d.Foam.PerMetre * math.Max(0, z-deck))
		} else {
			after = a.R.At(math.Min(old, z)-deck) + float64(d.Foam.PerMetre*math.Max(0, z-old))
		}
		r.LeastBefore, r.LeastAfter = math.Min(r.LeastBefore, before), math.Min(r.LeastAfter, after)
		if before-after > r.Lost {
			r.Lost, r.At = before-after, p
		}
	}
	for v := range d.Surface.TIN.X {
		look(orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]})
	}
	for _, v := range o.Design.Vertices {
		look(v.Plan)
	}
}

// average works the average out from volumes: resistance goes with thickness.
func (d *designer) average(o *Option, a *assembly.Result) {
	r := &o.R
	r.AverageBefore = a.R.At(a.R.Mean)
	laid := o.Fill
	if o.Design != nil {
		laid -= o.Design.Leveller.Volume // which keeps no heat in
	}
	if o.Kind == mend.Replace {
		r.AverageAfter = d.Foam.PerMetre * laid / d.Surface.Area
		return
	}
	r.AverageAfter = r.AverageBefore + (float64(d.Foam.PerMetre*laid)-float64(a.R.PerMetre*o.Cut))/d.Surface.Area
}

// perimeter says by how much gutters and free edges rise with the surface.
func (d *designer) perimeter(o *Option) {
	for i := range d.Surface.Outlets {
		out := &d.Surface.Outlets[i]
		if out.Line == nil {
			continue
		}
		if at, up := d.highest(o, out.Line); up >= mend.RaisedBy {
			o.Changes = append(o.Changes, mend.Change{
				Kind: o.Kind, Decides: finding.Roofer, What: finding.Say("Raise nailer and edge metal at {1} by {0} at most", finding.MM("rise", up), finding.Called(out.Label)), At: at,
			})
			o.addDecides("roofer")
		}
	}
}
