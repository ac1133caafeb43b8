package mend

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/study"
)

// Unused are the outlets that stand above the roof beside them and get no water, each as a place without water: nothing stands there, but the roof has one
// outlet less than it was built with.
func (d *Designer) Unused() []Pond {
	var out []Pond
	for i := range d.Study.Findings {
		f := &d.Study.Findings[i]
		if !outOfUse(f) {
			continue
		}
		o := &d.Surface.Outlets[f.Outlet]
		out = append(out, Pond{
			Pit: o.Plan, low: o.Low, level: o.Low, lip: o.Plan, Held: -1, Outlet: f.Outlet, Finding: f.Kind, pits: []orb.Point{o.Plan}, lows: []float64{o.Low},
		})
	}
	return out
}

// outOfUse reports whether a finding says that an outlet stands so high that no water comes to it.
func outOfUse(f *finding.Finding) bool {
	return f.Kind == finding.OutletHigh && f.Pond < 0 && f.Outlet >= 0
}

// IntoUse returns what brings water to an outlet that stands too high: it is set down to the roof beside it.
func (d *Designer) IntoUse(p *Pond) []Mend {
	m, ok := d.sump(p)
	if !ok || !d.Steering.Allows(m.Kind) {
		return nil
	}
	d.Book(&m, p)
	return []Mend{m}
}

// StillUnused reports whether no water runs to an outlet after an option.
func (d *Designer) StillUnused(p *Pond, after *study.Study) bool {
	source := d.Surface.Outlets[p.Outlet].Source
	return slices.ContainsFunc(after.Findings, func(f finding.Finding) bool {
		return (f.Kind == finding.OutletUnused || outOfUse(&f)) && after.Surface.Outlets[f.Outlet].Source == source
	})
}
