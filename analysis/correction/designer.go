package correction

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/correction/mend"
	"runnel/analysis/gather"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

// designer makes the options out of mends.
type designer struct {
	*mend.Designer
	in      *Input
	before  *state
	found   *roof.Roof    // as it was surveyed
	made    []mend.Change // overflows that an engineer has allowed and that every answer builds
	whole   mend.Kind     // of the taper that is being laid over the whole roof
	layings *layings
}

// Of works out the three answers and runs the analysis on each roof that it tries.
//
// It fails where the surface cannot be laid out in plan; an option that cannot be made is an Option that says so.
func Of(in *Input) (r *Result, err error) {
	defer halt.Caught(&err)
	d, err := newDesigner(in)
	if err != nil {
		return nil, err
	}
	d = d.withOverflows()
	r = &Result{Best: -1, Preference: in.Steering.Preference()}
	d.first(r)
	if err := d.answer(r); err != nil {
		return nil, fmt.Errorf("correction: %w", err)
	}
	d.bound(r)
	r.choose()
	return r, nil
}

func newDesigner(in *Input) (*designer, error) {
	own := *in
	m, err := mend.New(mend.Input{Study: in.Study, Steering: in.Steering, Deck: in.Deck, Rates: in.Rates, Boards: in.Boards, Line: halt.Of(in.Options.Context)})
	if err != nil {
		return nil, fmt.Errorf("correction: %w", err)
	}
	return &designer{Designer: m, in: &own, before: stateOf(in.Study), layings: &layings{}, found: in.Study.Roof}, nil
}

// copied returns a copy of d whose slope and domain may be others.
func (d *designer) copied() *designer {
	own, m := *d, *d.Designer
	own.Designer = &m
	return &own
}

// setDown returns a copy of r whose outlets have new inverts.
func setDown(r *roof.Roof, inverts map[int]float64) *roof.Roof {
	n := *r
	n.Outlets = append([]roof.Outlet(nil), r.Outlets...)
	for i, z := range inverts {
		n.Outlets[i].Invert, n.Outlets[i].HasInvert = z, true
	}
	return &n
}

// bound computes what no option that only fills can undercut.
func (d *designer) bound(r *Result) {
	if len(d.Sources) == 0 {
		return
	}
	r.Bound = Bound{Slope: d.Slope}
	p := d.Problem(d.Base, d.Sources, d.FourWay(), d.Slope, 0)
	z := taper.Clear(p, taper.Seeds(d.Surface, p.Sources))
	if !slices.ContainsFunc(z, func(v float64) bool { return math.IsInf(v, 1) }) {
		r.Bound.Fill = taper.Raised(d.Domain, d.Base, z).Fill.Volume
	}
}

// choose says which option the first answer that meets is, and else what limit stands in the way, first of the answers, then of what was tried.
func (r *Result) choose() {
	for i := range r.Answers {
		if r.Answers[i].Meets {
			r.Best = r.Answers[i].Option
			return
		}
	}
	all := gather.Each(r.Answers, func(x Answer) *Option { return &r.Options[x.Option] })
	for i := range r.Options {
		all = append(all, &r.Options[i])
	}
	for _, o := range all {
		for _, list := range [][]Limit{o.Limits, o.Worse} {
			if len(list) > 0 {
				l := list[0]
				r.InTheWay = &l
				return
			}
		}
	}
}

// refused reports whether an option makes anything worse or breaks a limit.
func (o *Option) refused() bool { return len(o.Worse)+len(o.Limits) > 0 }

// nearer reports whether o is to be taken before u: one that is not refused, then what leaves less undone: ponds, then what is
// worse, then mends that are no local ones, then flat planes, then limits.
func (o *Option) nearer(u *Option) bool {
	switch {
	case o.Possible != u.Possible:
		return o.Possible
	case o.refused() != u.refused():
		return u.refused()
	case o.PondsLeft != u.PondsLeft:
		return o.PondsLeft < u.PondsLeft
	case len(o.Worse) != len(u.Worse):
		return len(o.Worse) < len(u.Worse)
	case o.wide != u.wide:
		return o.wide < u.wide
	case o.FlatLeft != u.FlatLeft:
		return o.FlatLeft < u.FlatLeft
	}
	if len(o.Limits) != len(u.Limits) {
		return len(o.Limits) < len(u.Limits)
	}
	return o.alike(u) && o.Opened < u.Opened
}

// alike reports whether two options are of the same kinds: of such the one that opens less comes first.
func (o *Option) alike(u *Option) bool {
	a, b := append([]mend.Kind{o.Kind}, o.Parts...), append([]mend.Kind{u.Kind}, u.Parts...)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

// options returns how studies are run: as the first, without a clock and without its storm, and no wider than what options are compared by.
func (d *designer) options() study.Options {
	o := d.in.Options
	o.Clock, o.Storm, o.Narrow = nil, nil, true
	return o
}
