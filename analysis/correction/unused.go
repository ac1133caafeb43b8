package correction

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/study"
)

// unused are the outlets that stand above the roof beside them and get no water, each as a place without water: nothing stands there, but the roof has one
// outlet less than it was built with.
func (d *designer) unused() []pond {
	var out []pond
	for i := range d.in.Study.Findings {
		f := &d.in.Study.Findings[i]
		if !outOfUse(f) {
			continue
		}
		o := &d.s.Outlets[f.Outlet]
		out = append(out, pond{
			pit: o.Plan, low: o.Low, level: o.Low, lip: o.Plan, held: -1, outlet: f.Outlet, finding: f.Kind, pits: []orb.Point{o.Plan}, lows: []float64{o.Low},
		})
	}
	return out
}

// outOfUse reports whether a finding says that an outlet stands so high that no water comes to it.
func outOfUse(f *finding.Finding) bool {
	return f.Kind == finding.OutletHigh && f.Pond < 0 && f.Outlet >= 0
}

// intoUse returns what brings water to an outlet that stands too high: it is set down to the roof beside it.
func (d *designer) intoUse(p *pond) []mend {
	m, ok := d.sump(p)
	if !ok || !d.in.Steering.allows(m.kind) {
		return nil
	}
	d.book(&m, p)
	return []mend{m}
}

// stillUnused reports whether no water runs to an outlet after an option.
func (d *designer) stillUnused(p *pond, after *study.Study) bool {
	source := d.s.Outlets[p.outlet].Source
	return slices.ContainsFunc(after.Findings, func(f finding.Finding) bool {
		return (f.Kind == finding.OutletUnused || outOfUse(&f)) && after.Surface.Outlets[f.Outlet].Source == source
	})
}
