package importer

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
)

// join puts the drafts of all files into one roof, in its metric frame. The drafts must not be used after.
func join(p *placer, sources []*source, outline *draft.Outline) *roof.Roof {
	r := &roof.Roof{
		Name: outline.Name, Building: outline.Building, Surveyed: outline.Surveyed, Frame: p.frame, Units: p.home.set.Unit,
		Imperial: imperial(sources), Outline: outline.Outline, Criteria: outline.Criteria, Warnings: p.warnings,
		Sigma: outline.Sigma, WallRunoff: outline.WallRunoff, Structure: outline.Structure, Visit: outline.Visit,
	}
	for i, ring := range r.Outline.Rings {
		r.Outline.Rings[i] = p.line(p.home, ring)
	}
	for _, s := range sources {
		r.Inputs = append(r.Inputs, s.input())
		p.spots(r, s)
		p.lines(r, s)
		p.points(r, s)
		p.tape(r, s)
		visit(r, s)
	}
	settleVisit(r)
	settleAnswers(r)
	giveInlets(r)
	uniqueIDs(r)
	return r
}

// imperial reports whether the input is in feet or inches: some file's unit, or, where all files are in degrees
// and none states a unit, a length with one of its own.
func imperial(sources []*source) bool {
	unstated, own := true, false
	for _, s := range sources {
		if (s.stated || !s.set.Geographic) && s.set.Unit.Imperial() {
			return true
		}
		unstated = unstated && s.set.Geographic && !s.stated
		own = own || s.draft.Imperial
	}
	return unstated && own
}

// line returns a line in the roof's frame.
func (p *placer) line(s *source, line []roof.Position) []roof.Position {
	out := make([]roof.Position, len(line))
	for i, at := range line {
		out[i] = at
		out[i].Plan = p.place(s, at.Plan)
	}
	return out
}

// spots adds the spots of one file.
func (p *placer) spots(r *roof.Roof, s *source) {
	for i := range s.draft.Spots {
		s.draft.Spots[i].Plan = p.place(s, s.draft.Spots[i].Plan)
	}
	if r.Spots == nil {
		r.Spots = s.draft.Spots
		return
	}
	r.Spots = append(r.Spots, s.draft.Spots...)
}

// lines adds lines and areas of one file.
func (p *placer) lines(r *roof.Roof, s *source) {
	add(&r.Edges, s.draft.Edges, func(e *roof.Edge) { e.Line = p.line(s, e.Line) })
	add(&r.Breaklines, s.draft.Breaklines, func(b *roof.Breakline) { b.Line = p.line(s, b.Line) })
	add(&r.Curbs, s.draft.Curbs, func(c *roof.Curb) { c.Ring = p.line(s, c.Ring) })
	add(&r.Stains, s.draft.Stains, func(w *roof.Stain) { w.Ring = p.line(s, w.Ring) })
}

// points adds single things of one file.
func (p *placer) points(r *roof.Roof, s *source) {
	ring := roof.PlanOf(r.Outline.Rings[0])
	for _, o := range s.draft.Outlets {
		o.Plan = p.place(s, o.Plan)
		if o.TypeOpen {
			r.Warnings = append(r.Warnings, settleType(&o, ring))
		}
		r.Outlets = append(r.Outlets, o.Outlet)
	}
	add(&r.Cores, s.draft.Cores, func(c *roof.Core) { c.Plan = p.place(s, c.Plan) })
	add(&r.Sills, s.draft.Sills, func(l *roof.Sill) { l.Plan = p.place(s, l.Plan) })
	add(&r.Answers, s.draft.Answers, func(a *roof.Answer) {
		if a.Placed {
			a.Plan = p.place(s, a.Plan)
		}
	})
	add(&r.Controls, s.draft.Controls, func(c *roof.Control) { c.Plan = p.control(c) })
}

// add adds the things of one file to all, each put in its place first.
func add[T any](all *[]T, some []T, place func(*T)) {
	for _, x := range some {
		place(&x)
		*all = append(*all, x)
	}
}

// tape adds what one file has of tape, chalk, ruler and level.
func (p *placer) tape(r *roof.Roof, s *source) {
	t := s.draft.Tape
	if t == nil {
		return
	}
	if r.Tape == nil {
		r.Tape = &roof.Tape{}
	}
	all := r.Tape
	all.Sighted = all.Sighted || t.Sighted
	all.Placed = all.Placed || t.Placed
	if t.Walls {
		all.Walls, all.Clockwise, all.Misclosure = true, t.Clockwise, t.Misclosure
	}
	for _, w := range t.Waters {
		w.Edge, w.Soundings = p.line(s, w.Edge), slices.Clone(w.Soundings)
		for i := range w.Soundings {
			w.Soundings[i].Plan = p.place(s, w.Soundings[i].Plan)
		}
		all.Waters = append(all.Waters, w)
	}
	for _, q := range t.Probes {
		q.Plan = p.place(s, q.Plan)
		all.Probes = append(all.Probes, q)
	}
	for _, g := range t.Gaps {
		g.Plan = p.place(s, g.Plan)
		all.Gaps = append(all.Gaps, g)
	}
	all.Sigma = max(all.Sigma, s.sigma)
}

// giveInlets gives outlets without an invert the mean of the heights that were read on their inlets.
func giveInlets(r *roof.Roof) {
	if r.Tape == nil {
		return
	}
	read := make([]int, len(r.Outlets))
	for i := range r.Tape.Probes {
		q := &r.Tape.Probes[i]
		if q.Kind != roof.InletProbe {
			continue
		}
		k := slices.IndexFunc(r.Outlets, func(o roof.Outlet) bool { return strings.EqualFold(o.Label, q.Of) && q.Of != "" })
		switch {
		case k < 0:
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s: the height of an inlet was left out, because no outlet is called %.40q.", q.Origin, q.Of))
		case r.Outlets[k].HasInvert && read[k] == 0:
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s: the height of the inlet was left out, because %s has one already.", q.Origin, r.Outlets[k].Label))
		default:
			o := &r.Outlets[k]
			read[k]++
			o.Invert += (q.Z - o.Invert) / float64(read[k])
			o.HasInvert = true
		}
	}
}

// settleType makes an overflow whose type the file leaves open a scupper at the outline, else a drain.
func settleType(o *draft.Outlet, ring orb.Ring) (warning string) {
	const reach = 0.5 // m, within which a scupper is moved onto the outline
	name := "drain"
	if planar.DistanceFrom(orb.LineString(ring), o.Plan) <= reach {
		name = "scupper"
		o.Type, o.Bowl, o.Diameter, o.DamHeight = roof.Scupper, 0, 0, 0
	} else {
		o.Width, o.WidthAssumed, o.OpeningHeight, o.Bowl = 0, false, 0, standard.Bowl
	}
	return fmt.Sprintf("%s: the overflow does not say what it is and is taken as a %s, by its place.", o.Origin, name)
}
