package correction

import (
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// withOverflows is a designer of the roof with the overflows that an engineer has allowed, where the roof has walls all round and none: all answers build
// them. It is d itself where none is allowed, or where what is allowed lets no water off.
func (d *designer) withOverflows() *designer {
	if !slices.ContainsFunc(d.Study.Findings, func(f finding.Finding) bool { return f.Kind == finding.NoOverflow }) || !d.Steering.Allows(mend.AddOutlet) {
		return d
	}
	r := *d.Study.Roof
	r.Outlets = slices.Clone(r.Outlets)
	var made []mend.Change
	for i := range d.Surface.Outlets {
		o, ok := d.OverflowBeside(i)
		if !ok {
			continue
		}
		if a := r.AnsweredAt(roof.AskOpening, o.Plan, nil); a != nil && a.Yes {
			r.Outlets, made = append(r.Outlets, o), append(made, d.overflowMade(i, &o, a))
		}
	}
	if len(made) == 0 {
		return d
	}
	s, err := study.Run(&r, d.options())
	if err != nil || s.RainLoad == nil || s.RainLoad.Enclosed {
		return d
	}
	in := *d.in
	in.Study = s
	own, err := newDesigner(&in)
	if err != nil {
		return d
	}
	own.before, own.found, own.made = d.before, d.found, made
	return own
}

// overflowMade says what is built beside primary outlet i.
func (d *designer) overflowMade(i int, o *roof.Outlet, a *roof.Answer) mend.Change {
	what := "Make the overflow that {4} allowed on " + a.On + ": a drain beside {0}, its inlet at {1}, {2} over that of {0}, with a leader and a place of discharge of its own"
	if o.Type == roof.Scupper {
		what = "Make the overflow that {4} allowed on " + a.On + ": a scupper {3} wide beside {0}, its floor at {1}, {2} over that of {0}"
	}
	return mend.Change{
		Kind: mend.AddOutlet, Finding: finding.NoOverflow, Decides: finding.Engineer, At: o.Plan, Brief: "make the overflow",
		What: finding.Say(what, finding.Called(d.Surface.Outlets[i].Label), finding.Level("invert", o.Invert), finding.MM("over", o.Invert-d.Surface.Outlets[i].Invert), finding.MM("width", float64(o.Width)), finding.Called(a.By)),
	}
}

// withMade adds the overflows that are made to the changes of an option that has them not, after the clearing of outlets.
func (d *designer) withMade(o *Option) {
	for i := range d.made {
		if slices.ContainsFunc(o.Changes, func(c mend.Change) bool { return c.Kind == mend.AddOutlet && c.At == d.made[i].At }) {
			continue
		}
		at := choose.If(len(o.Changes) > 0 && o.Changes[0].Kind == mend.Clear, 1, 0)
		o.Changes = slices.Insert(o.Changes, at, d.made[i])
		o.addDecides(d.made[i].Decides, finding.Plumber)
	}
}
