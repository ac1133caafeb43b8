package correction

import (
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// GravityShare names the limit on the share of the design gravity load.
const GravityShare = "added load as a share of the design gravity load"

// loads compares the added load with the figures of the clauses: that of a second layer where the old one stays, and the share of
// the design gravity load where the user gives that. Of a replacement what comes off is taken away first.
func (d *designer) loads(o *Option) {
	if o.Fill == 0 {
		return
	}
	if o.Kind == mend.Replace {
		d.takeOff(o)
	} else {
		l := Limit{
			Name: "added load of a second layer", Required: finding.Load("figure", standard.SecondLayerLoad), Available: finding.Load("added", o.Most),
			At: o.Design.Fill.At, Decides: "engineer", Source: standard.SecondLayerSource.Text + "; " + standard.NotAStatement,
		}
		o.put(l, o.Most <= standard.SecondLayerLoad)
	}
	l := Limit{
		Name: GravityShare, Available: finding.Load("added at most", o.Most),
		At: o.Design.Fill.At, Decides: "engineer", Source: standard.GravityShareSource.Text + "; " + standard.NotAStatement,
	}
	switch {
	case o.Kind == mend.Replace && !o.OffKnown:
		o.Unknown = append(o.Unknown, l)
	case o.Most <= 0:
		o.Checked = append(o.Checked, l)
	case d.in.Gravity == 0:
		o.Unknown = append(o.Unknown, l)
	default:
		figure := standard.GravityShare * d.in.Gravity
		l.Required = finding.Load("figure", figure)
		o.put(l, o.Most <= figure)
	}
}

// takeOff takes the insulation that comes off away from what is added. The covering is taken to weigh as much as before, water in wet
// layers earns nothing.
func (d *designer) takeOff(o *Option) {
	if o.Off, _, o.OffKnown = d.insulation(); o.OffKnown {
		o.Added -= o.Off
		o.Most -= o.Off
	}
}

// insulation returns the dead load of the dry insulation, on average of the cores [Pa], and the same per thickness [Pa/m]; false where a
// core's is not known.
func (d *designer) insulation() (load, perMetre float64, known bool) {
	a := d.Study.Assembly
	if a == nil {
		return 0, 0, false
	}
	cores, thick := 0.0, 0.0
	for i := range a.Cores {
		c := &a.Cores[i]
		if !c.HasThickness {
			continue
		}
		cores++
		for _, l := range c.Layers {
			m, ok := standard.FindMaterial(l.Name)
			if !ok || !l.LoadKnown {
				return 0, 0, false
			}
			if m.Insulates() {
				load += l.Load
				thick += l.Thickness
			}
		}
	}
	if cores == 0 || thick == 0 {
		return 0, 0, false
	}
	return load / cores, load / thick, true
}

// weights returns the dead load of what an option lays, on average of the area that it lays it on and where it is greatest [Pa].
func (d *designer) weights(o *Option) (average, most float64) {
	if o.Design == nil || !o.Design.Stocked() {
		return o.Average * d.Foam.Weight, o.Greatest * d.Foam.Weight
	}
	most = o.Design.Heaviest(d.Foam.Weight, standard.LevellerWeight)
	n := o.Design.Leveller.Poured
	return (float64((o.Fill-n)*d.Foam.Weight) + float64(n*standard.LevellerWeight)) / o.Area, most
}
