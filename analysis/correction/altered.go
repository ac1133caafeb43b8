package correction

import (
	"math"
	"slices"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// altered applies mends together and runs the analysis on what comes of it.
func (d *designer) altered(mends []*mend.Mend) Option {
	a := taper.Alter(d.Domain, d.Base)
	z, inverts := d.moved(mends)
	o := Option{Possible: true, mends: mends}
	if len(mends) == 0 {
		return d.asFound(o)
	}
	a.Set(z)
	for _, m := range mends {
		if m.Apply != nil && m.Lowest(inverts) {
			m.Apply(a)
		}
		o.addDecides(m.Decides...)
		o.Changes = append(append(o.Changes, m.Change), m.More...)
		o.questions = append(o.questions, m.Questions...)
		if !slices.Contains(o.Parts, m.Kind) {
			o.Parts = append(o.Parts, m.Kind)
		}
	}
	if o.name(); o.Kind == mend.Clear && !d.Steering.Allows(mend.Clear) {
		o.Kind = mend.AsFound
	}
	o.Design = a.Design()
	o.Roof = setDown(o.Design.Roof(d.Roof, d.Surface), inverts)
	for _, m := range mends {
		o.Roof.Outlets = append(o.Roof.Outlets, m.Adds...)
	}
	d.judge(&o, 0)
	o.openings()
	d.open(&o, mends)
	return o
}

// asFound is the roof as it was measured, when nothing is done to it.
func (d *designer) asFound(o Option) Option {
	if o.Kind = mend.Clear; !d.Steering.Allows(mend.Clear) {
		o.Kind = mend.AsFound
	}
	o.Roof, o.Design = d.Study.Roof, taper.Alter(d.Domain, d.Base).Design() // without the folds that were found: a check finds them again
	d.weigh(&o, d.Study, 0)
	return o
}

// moved returns the elevations of the vertices and the inverts, by index into roof.Outlets, that mends give together [m].
func (d *designer) moved(mends []*mend.Mend) (z []float64, inverts map[int]float64) {
	z, inverts = append([]float64(nil), d.Base.Z...), map[int]float64{}
	for _, m := range mends {
		for v, h := range m.Set {
			if m.Section || math.Abs(h-d.Base.Z[v]) > math.Abs(z[v]-d.Base.Z[v]) {
				z[v] = h
			}
		}
		for i, h := range m.Inverts {
			if w, ok := inverts[i]; !ok || h < w {
				inverts[i] = h
			}
		}
	}
	return z, inverts
}

// name calls an option by its parts.
func (o *Option) name() {
	switch len(o.Parts) {
	case 0:
		o.Kind = mend.Clear
	case 1:
		o.Kind = o.Parts[0]
		o.Parts = nil
	default:
		o.Kind = mend.Combined
	}
}

func (o *Option) addDecides(who ...string) {
	for _, w := range who {
		if w != "" && !slices.Contains(o.Decides, w) {
			o.Decides = append(o.Decides, w)
		}
	}
}

// openings flags what an engineer has to allow of new outlets, and says what they keep clear of.
func (o *Option) openings() {
	for _, m := range o.mends {
		if len(m.Adds) == 0 {
			continue
		}
		a := &m.Adds[0]
		size := Limit{
			Name: "opening and size of " + a.Label, Available: finding.MM("drawn", float64(a.Diameter)), Where: m.Change.Pond, At: a.Plan,
			Decides: finding.Engineer, Source: standard.NewOutletSource.Text,
		}
		clear := Limit{
			Name: "distance of a new drain from walls, curbs and other outlets", Required: finding.Metres("least", standard.OutletClear), Where: m.Change.Pond, At: a.Plan,
			Decides: finding.Engineer, Source: standard.OutletClearSource.Text + "; from open edges: " + standard.EdgeClearSource.Text + "; drains in mid bay only: " + standard.MidBaySource.Text,
		}
		if a.Type == roof.Scupper {
			size.Available, clear.Name = finding.MM("drawn", float64(a.Width)), "distance of a new scupper from corners, curbs and other outlets"
		}
		o.Flags, o.Checked = append(o.Flags, size), append(o.Checked, clear)
	}
}

// opens reports whether an option cuts the deck or the parapet: an engineer has to say so first.
func (o *Option) opens() bool { return o.NewOutlets > 0 }
