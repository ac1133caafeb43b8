package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// withOverflows is a designer of the roof with the overflows that an engineer has allowed, where the roof has walls all round and none: all answers build
// them. It is d itself where none is allowed, or where what is allowed lets no water off.
func (d *designer) withOverflows() *designer {
	if !slices.ContainsFunc(d.in.Study.Findings, func(f finding.Finding) bool { return f.Kind == finding.NoOverflow }) || !d.in.Steering.allows(AddOutlet) {
		return d
	}
	r := *d.in.Study.Roof
	r.Outlets = slices.Clone(r.Outlets)
	var made []Change
	for i := range d.s.Outlets {
		o, ok := d.overflowBeside(i)
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
func (d *designer) overflowMade(i int, o *roof.Outlet, a *roof.Answer) Change {
	what := "Make the overflow that {4} allowed on " + a.On + ": a drain beside {0}, its inlet at {1}, {2} over that of {0}, with a leader and a place of discharge of its own"
	if o.Type == roof.Scupper {
		what = "Make the overflow that {4} allowed on " + a.On + ": a scupper {3} wide beside {0}, its floor at {1}, {2} over that of {0}"
	}
	return Change{
		Kind: AddOutlet, Finding: finding.NoOverflow, Decides: finding.Engineer, At: o.Plan, Brief: "make the overflow",
		What: finding.Say(what, finding.Called(d.s.Outlets[i].Label), finding.Level("invert", o.Invert), finding.MM("over", o.Invert-d.s.Outlets[i].Invert), finding.MM("width", float64(o.Width)), finding.Called(a.By)),
	}
}

// withMade adds the overflows that are made to the changes of an option that has them not, after the clearing of outlets.
func (d *designer) withMade(o *Option) {
	for i := range d.made {
		if slices.ContainsFunc(o.Changes, func(c Change) bool { return c.Kind == AddOutlet && c.At == d.made[i].At }) {
			continue
		}
		at := choose.If(len(o.Changes) > 0 && o.Changes[0].Kind == Clear, 1, 0)
		o.Changes = slices.Insert(o.Changes, at, d.made[i])
		o.addDecides(d.made[i].Decides, finding.Plumber)
	}
}

// overflowBeside returns an overflow as large as primary outlet i, in the first place beside it that is clear and where the roof lies under its inlet: round a drain,
// on the wall of a scupper.
func (d *designer) overflowBeside(i int) (o roof.Outlet, ok bool) {
	p := &d.s.Outlets[i]
	if p.Duty != roof.Primary || p.Source < 0 || p.Type == roof.EdgeOutlet {
		return o, false
	}
	o = d.roof.Outlets[p.Source]
	o.Duty, o.Label, o.ID = roof.Overflow, "new overflow "+p.Label, "new-overflow-"+named(p.Label, p.ID)
	o.Origin = roof.Origin{File: designed, Line: p.Source + 1, ID: o.ID}
	o.Invert, o.HasInvert = p.Invert+d.in.Study.Criteria.OverflowMost(), true
	o.DischargesTo, o.DamHeight, o.DamDiameter = "", 0, 0
	places := d.roundAbout(p.Plan, besideOutlet)
	if p.Type == roof.Scupper {
		o.OpeningHeight = max(o.OpeningHeight, quantity.Length(standard.NewScupperHeight))
		places = d.alongWall(p.Plan, standard.OutletClear+float64(o.Width))
	} else if o.Bowl == 0 {
		o.Bowl = quantity.Length(standard.Bowl)
	}
	for _, q := range places {
		if z, on := d.locate.HeightAt(q[0], q[1]); on && z <= o.Invert-raisedBy && d.clearFor(q, p.Type) {
			o.Plan = q
			return o, true
		}
	}
	return o, false
}

// alongWall returns the places at a distance on both sides of q, on the wall of the outline that q stands in; none where no wall is that near.
func (d *designer) alongWall(q orb.Point, far float64) []orb.Point {
	best, off := parapet{}, standard.OutletClear
	for _, ring := range d.roof.Outline.Rings[:min(1, len(d.roof.Outline.Rings))] {
		line := corners(plan(ring))
		for k := 1; k < len(line); k++ {
			a, b := line[k-1], line[k]
			n := vector.Nearest(orb.LineString{a, b}, q)
			if l := math.Sqrt(near2(a, b)); math.Sqrt(near2(n, q)) < off && l > 0 {
				off, best = math.Sqrt(near2(n, q)), parapet{n, orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}}
			}
		}
	}
	if best.unit == (orb.Point{}) {
		return nil
	}
	return best.along(far)
}
