package importer

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/tidwall/rtree"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
)

// Distances within which a thing beside an outline belongs to it [m].
const (
	spotReach  = 0.02 // a spot within it is moved onto the outline
	thingReach = 0.5  // so is a scupper
)

// site is many outlines with what the files hold for all of them.
type site struct {
	sources  []*source
	options  Options
	homes    []*source        // of each outline
	outlines []*draft.Outline // in the order of the files
	rings    []orb.Ring       // of each outline, in one metric frame for all
	place    *placer          // into that frame
	index    rtree.RTree      // of the rings' bounds
	shares   [][]*source      // of each outline: every file with what belongs to the outline
	none     points.Lost      // spots on no outline
	two      points.Lost      // spots on more than one
	lost     map[string]int   // other things on no outline, by kind
}

// newSite reads files of which one holds many outlines, and makes a job of each outline. An outline or a
// thing that cannot be used is a job that says so.
func newSite(files []string, o Options) ([]Job, []string, error) {
	var problems roof.Refusal
	checkNames(files, o, &problems)
	sources, warnings := openSources(files, o, &problems)
	if err := problems.Err(); err != nil {
		return nil, nil, err
	}
	warnings = append(warnings, readSources(sources, true, &problems)...)
	s := &site{sources: sources, options: o, lost: map[string]int{}}
	var bad []Job
	if problems.More > 0 {
		return nil, nil, problems.Err()
	}
	for _, p := range problems.Problems {
		bad = append(bad, Job{Name: nameOf(p.Origin), Read: func() (*roof.Roof, error) {
			return nil, &roof.Refusal{Problems: []roof.Problem{p}}
		}})
	}
	if err := s.collect(); err != nil {
		return nil, nil, err
	}
	for _, source := range sources {
		s.shareOut(source)
	}
	jobs := make([]Job, 0, len(s.outlines)+len(bad))
	mark := markOf(files)
	for i, outline := range s.outlines {
		name := outline.Name
		if name == "" {
			name = fmt.Sprintf("roof %d", i+1)
		}
		jobs = append(jobs, Job{Name: name, Files: files, Mark: mark, Read: func() (*roof.Roof, error) { return s.read(i, name) }})
	}
	jobs = append(jobs, bad...)
	for i := range jobs {
		jobs[i].Ref = Ref{Files: files, Outline: i + 1}
	}
	return jobs, append(warnings, s.warnings()...), nil
}

// nameOf names a thing that cannot be used as a row of a list.
func nameOf(o roof.Origin) string {
	o.File = draft.Clean(stem(o.File))
	return o.String()
}

// collect lists the outlines and puts their rings into one metric frame.
func (s *site) collect() error {
	for _, home := range s.sources {
		for i := range home.draft.Outlines {
			s.homes = append(s.homes, home)
			s.outlines = append(s.outlines, &home.draft.Outlines[i])
		}
	}
	if len(s.outlines) == 0 {
		return nil
	}
	var problems roof.Refusal
	p := newPlacer(s.sources, s.outlines[0], s.homes[0], &problems)
	if err := problems.Err(); err != nil {
		return err
	}
	for i, outline := range s.outlines {
		ring := roof.PlanOf(p.line(s.homes[i], outline.Rings[0]))
		bound := ring.Bound()
		s.index.Insert(bound.Min, bound.Max, i)
		s.rings = append(s.rings, ring)
		s.shares = append(s.shares, nil)
	}
	s.place = p
	return nil
}

// shareOut gives everything of one file to the outline that holds it.
func (s *site) shareOut(from *source) {
	drafts := make([]*draft.Draft, len(s.outlines))
	for i := range drafts {
		drafts[i] = &draft.Draft{Imperial: from.draft.Imperial, Controls: from.draft.Controls, Visit: from.draft.Visit}
		share := *from
		share.draft = drafts[i]
		s.shares[i] = append(s.shares[i], &share)
	}
	for _, spot := range from.draft.Spots {
		if i := s.holder(from, &spot); i >= 0 {
			drafts[i].Spots = append(drafts[i].Spots, spot)
		}
	}
	s.shareThings(from, drafts)
	if from.deal != nil {
		from.deal.To(len(s.outlines), func(x, y float64) int { return s.holderOf(s.place.place(from, orb.Point{x, y})) })
		s.none.Add(from.deal.None)
		s.two.Add(from.deal.Two)
	}
}

// shareThings gives all but spots to the outlines near which they lie.
func (s *site) shareThings(from *source, drafts []*draft.Draft) {
	d := from.draft
	for _, e := range d.Edges {
		if i := s.nearest(from, "edge", middle(e.Line)); i >= 0 {
			drafts[i].Edges = append(drafts[i].Edges, e)
		}
	}
	for _, b := range d.Breaklines {
		if i := s.nearest(from, "breakline", middle(b.Line)); i >= 0 {
			drafts[i].Breaklines = append(drafts[i].Breaklines, b)
		}
	}
	for _, c := range d.Curbs {
		if i := s.nearest(from, "curb", roof.PlanOf(c.Ring).Bound().Center()); i >= 0 {
			drafts[i].Curbs = append(drafts[i].Curbs, c)
		}
	}
	for _, o := range d.Outlets {
		if i := s.nearest(from, "outlet", o.Plan); i >= 0 {
			drafts[i].Outlets = append(drafts[i].Outlets, o)
		}
	}
	for _, c := range d.Cores {
		if i := s.nearest(from, "core", c.Plan); i >= 0 {
			drafts[i].Cores = append(drafts[i].Cores, c)
		}
	}
	for _, sill := range d.Sills {
		if i := s.nearest(from, "sill", sill.Plan); i >= 0 {
			drafts[i].Sills = append(drafts[i].Sills, sill)
		}
	}
	s.shareNoted(from, drafts)
}

// shareNoted gives what was seen and what was answered likewise; an answer about a whole roof does not say which.
func (s *site) shareNoted(from *source, drafts []*draft.Draft) {
	for _, a := range from.draft.Answers {
		if !a.Placed {
			s.lost["answer"]++
		} else if i := s.nearest(from, "answer", a.Plan); i >= 0 {
			drafts[i].Answers = append(drafts[i].Answers, a)
		}
	}
	for _, st := range from.draft.Stains {
		if i := s.nearest(from, "stain", roof.PlanOf(st.Ring).Bound().Center()); i >= 0 {
			drafts[i].Stains = append(drafts[i].Stains, st)
		}
	}
	s.shareTape(from, drafts)
}

// shareTape gives what was measured with tape, chalk, ruler and level likewise.
func (s *site) shareTape(from *source, drafts []*draft.Draft) {
	t := from.draft.Tape
	if t == nil {
		return
	}
	give := func(kind string, at orb.Point, to func(*roof.Tape)) {
		i := s.nearest(from, kind, at)
		if i < 0 {
			return
		}
		if drafts[i].Tape == nil {
			drafts[i].Tape = &roof.Tape{Sighted: t.Sighted, Placed: t.Placed}
		}
		to(drafts[i].Tape)
	}
	for _, w := range t.Waters {
		give("water", roof.PlanOf(w.Edge).Bound().Center(), func(t *roof.Tape) { t.Waters = append(t.Waters, w) })
	}
	for _, p := range t.Probes {
		give("height", p.Plan, func(t *roof.Tape) { t.Probes = append(t.Probes, p) })
	}
	for _, g := range t.Gaps {
		give("slope", g.Plan, func(t *roof.Tape) { t.Gaps = append(t.Gaps, g) })
	}
}

// middle returns the place halfway along the middle segment of a line.
func middle(line []roof.Position) orb.Point {
	a, b := line[(len(line)-1)/2].Plan, line[len(line)/2].Plan
	return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
}

// holder returns the outline that holds a spot, negative where none or more than one does.
func (s *site) holder(from *source, spot *roof.Spot) int {
	i := s.holderOf(s.place.place(from, spot.Plan))
	switch i {
	case points.OnNone:
		s.none.Add(points.Lost{Count: 1, First: []string{spot.Origin.String()}})
	case points.OnTwo:
		s.two.Add(points.Lost{Count: 1, First: []string{spot.Origin.String()}})
	}
	return i
}

// holderOf returns the outline that holds a place or, where none does, lies within spotReach of it; points.OnNone where there is none, and
// points.OnTwo where there are more. It may be called by several goroutines at once.
func (s *site) holderOf(at orb.Point) int {
	inside, near := points.OnNone, points.OnNone
	low, high := [2]float64{at[0] - spotReach, at[1] - spotReach}, [2]float64{at[0] + spotReach, at[1] + spotReach}
	s.index.Search(low, high, func(_, _ [2]float64, value any) bool {
		i, ok := value.(int)
		switch {
		case !ok:
		case onRing(s.rings[i], at, 0):
			inside = oneOf(inside, i)
		case inside == points.OnNone && onRing(s.rings[i], at, spotReach):
			near = oneOf(near, i)
		}
		return true
	})
	return choose.If(inside != points.OnNone, inside, near)
}

// oneOf returns an outline that was found after before, or points.OnTwo where that is another one.
func oneOf(before, found int) int { return choose.If(before == points.OnNone, found, points.OnTwo) }

// nearest returns the outline that holds a thing or lies nearest to it, -1 where none is near.
func (s *site) nearest(from *source, kind string, plan orb.Point) int {
	at := s.place.place(from, plan)
	found := s.near(at, 0)
	if len(found) != 1 {
		found = s.near(at, thingReach)
	}
	best, distance := -1, math.Inf(1)
	for _, i := range found {
		if d := planar.DistanceFrom(orb.LineString(s.rings[i]), at); d < distance || len(found) == 1 {
			best, distance = i, d
		}
	}
	if best < 0 {
		s.lost[kind]++
	}
	return best
}

// near returns the outlines that hold a place or lie within reach of it, in order.
func (s *site) near(at orb.Point, reach float64) (found []int) {
	low, high := [2]float64{at[0] - reach, at[1] - reach}, [2]float64{at[0] + reach, at[1] + reach}
	s.index.Search(low, high, func(_, _ [2]float64, value any) bool {
		if i, ok := value.(int); ok && onRing(s.rings[i], at, reach) {
			found = append(found, i)
		}
		return true
	})
	slices.Sort(found)
	return found
}

// warnings says what lies on no outline or on two.
func (s *site) warnings() (out []string) {
	if s.none.Count > 0 {
		out = append(out, fmt.Sprintf("Spots on no outline, left out: %v.", s.none))
	}
	if s.two.Count > 0 {
		out = append(out, fmt.Sprintf("Spots on more than one outline, left out: %v.", s.two))
	}
	for _, kind := range []string{"edge", "breakline", "curb", "outlet", "core", "sill", "stain", "answer", "water", "height", "slope"} {
		if n := s.lost[kind]; n > 0 {
			out = append(out, fmt.Sprintf("Things on no outline, left out: %d of role %s.", n, kind))
		}
	}
	return out
}

// read makes the roof of outline i. It changes nothing that another roof reads.
func (s *site) read(i int, name string) (*roof.Roof, error) {
	var problems roof.Refusal
	var warnings []string
	outline := *s.outlines[i]
	outline.Rings = slices.Clone(outline.Rings)
	sources := make([]*source, len(s.shares[i]))
	home := 0
	for k, share := range s.shares[i] {
		own, d := *share, *share.draft
		d.Spots = slices.Clone(d.Spots)
		if s.sources[k] == s.homes[i] {
			home = k
			d.Outlines = []draft.Outline{outline}
		}
		if share.deal != nil {
			more := share.deal.Of(i, &problems)
			share.stateSigma(more)
			d.Imperial = d.Imperial || more.Imperial
			warnings = append(warnings, more.Warnings...)
			d.Spots = append(d.Spots, more.Spots...)
			slices.SortStableFunc(d.Spots, func(a, b roof.Spot) int { return a.Origin.Line - b.Origin.Line })
		}
		own.draft = &d
		sources[k] = &own
	}
	r := assemble(sources, &outline, sources[home], s.options, &problems)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	r.Name = name
	r.Warnings = append(warnings, r.Warnings...)
	return r, nil
}
