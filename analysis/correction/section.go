package correction

import (
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// sectionSlopes are the slopes that a section is brought to, flattest first: over that of the criterion, since valleys fall at 0.707 of it.
func (d *designer) sectionSlopes() []float64 {
	if d.Steering.Slope > 0 {
		return []float64{d.Steering.Slope}
	}
	least := d.Study.Criteria.MinSlope
	return []float64{1.5 * least, math.Max(d.Slope, 2*least)}
}

// section builds up the parts of the roof that are too flat after an option, so that each spot there falls to an outlet at a slope; nil where that
// cannot be done or raises nothing.
func (d *designer) section(o *Option, slope float64) *Option {
	if len(d.Sources) == 0 || !d.Steering.Allows(mend.Retaper) {
		return nil
	}
	z, inverts := d.moved(o.mends)
	sources := append([]taper.Source(nil), d.Sources...)
	for i := range sources {
		if h, ok := inverts[d.Surface.Outlets[sources[i].Outlet].Source]; ok {
			sources[i].Z = h
		}
	}
	p := d.Problem(taper.Base{TIN: d.Base.TIN, Z: z}, sources, d.FourWay(), slope, 0)
	up := taper.Clear(p, append(taper.Seeds(d.Surface, sources), d.newSeeds(o.mends)...))
	more, left := d.inStock(d.parts(o, z, up), slope)
	set := map[int32]float64{}
	for _, part := range left {
		maps.Copy(set, part)
	}
	if len(set) == 0 && len(more) == 0 {
		return nil
	}
	if len(set) > 0 {
		m := d.toMeasure(set, sources, slope)
		if m == nil {
			return nil
		}
		more = append(more, m)
	}
	n := d.added(o, more...)
	n.Slope = slope
	return n
}

// inStock lays in stock boards the parts that are too large to be cut to measure, and returns those that are not.
func (d *designer) inStock(parts []map[int32]float64, slope float64) (more []*mend.Mend, left []map[int32]float64) {
	for _, part := range parts {
		if d.Touched(part) <= standard.ToMeasure {
			left = append(left, part)
			continue
		}
		var must []orb.Point
		for v := range part {
			must = append(must, orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]})
		}
		at := d.thickest(part)
		list := d.Sectioned("", at, must, slope)
		if len(list) == 0 {
			left = append(left, part)
			continue
		}
		m := list[0]
		m.Change.Finding, m.Change.Kind, m.Change.Decides = finding.PlaneFlat, mend.Retaper, finding.Roofer
		m.Questions = []mend.Question{d.dryBelow("in each section", at)}
		more = append(more, &m)
	}
	return more, left
}

// toMeasure raises parts of the roof to new elevations, cut to measure; nil where one of them has no way to an outlet.
func (d *designer) toMeasure(set map[int32]float64, sources []taper.Source, slope float64) *mend.Mend {
	thick := 0.0
	for v, h := range set {
		if math.IsInf(h, 1) {
			return nil
		}
		thick = math.Max(thick, h-d.Base.Z[v])
	}
	m := &mend.Mend{Kind: mend.Retaper, Set: set, Section: true, Decides: []string{finding.Roofer}}
	m.Change = mend.Change{Kind: mend.Retaper, Finding: finding.PlaneFlat, Decides: finding.Roofer, At: d.Surface.Outlets[sources[0].Outlet].Plan, What: finding.Say(
		"Re-taper the sections that are too flat: boards {0} thick at most, falling at {1} to the outlets, flush with the roof at the cut lines", finding.MM("thickness", thick), finding.Fall("slope", slope))}
	m.Change.At = d.thickest(set)
	m.Questions = []mend.Question{d.dryBelow("in each section", m.Change.At)}
	if area := d.Touched(set); area > standard.ToMeasure {
		d.Unstocked(m, "on these sections", m.Change.At, area)
	}
	return m
}

// retapered lays stock boards over the whole roof, flush at its outlets, where most of it fails after option now; it returns the option that leaves nothing undone, -1 for none.
func (d *designer) retapered(r *Result, now int) int {
	o := &r.Options[now]
	if len(d.Sources) == 0 || !d.Steering.Allows(mend.Retaper) {
		return -1
	}
	z, _ := d.moved(o.mends)
	slope := d.sectionSlopes()[0]
	area := 0.0
	for _, part := range d.parts(o, z, taper.Clear(d.Problem(taper.Base{TIN: d.Base.TIN, Z: z}, d.Sources, d.FourWay(), slope, 0), taper.Seeds(d.Surface, d.Sources))) {
		area += d.Touched(part)
	}
	if area < mend.MostSection*d.Surface.Area {
		return -1
	}
	own := d.copied()
	own.whole = mend.Retaper
	if own.Slope = d.Study.Criteria.MinSlope; d.Steering.Slope > 0 {
		own.Slope = d.Steering.Slope
	}
	list, err := own.tapered(d.Base, 0, d.Sources)
	if err != nil || len(list) == 0 || !list[0].Possible {
		return -1
	}
	n := &list[0]
	var before []mend.Change
	for i := range o.Changes { // what is done besides the surface
		if c := &o.Changes[i]; !slices.Contains(uncovered, c.Kind) {
			continue
		}
		before = append(before, o.Changes[i])
	}
	n.Changes = append(before, n.Changes...)
	n.questions = append(append([]mend.Question(nil), o.questions...), d.dryBelow("in each section", n.Design.Fill.At))
	n.addDecides(o.Decides...)
	r.Options = append(r.Options, *n)
	if k := len(r.Options) - 1; r.Options[k].whole() {
		return k
	}
	return -1
}

// uncovered are the changes that a taper over the whole roof does not take the place of.
var uncovered = []mend.Kind{mend.Clear, mend.Dewater, mend.RemoveSource, mend.ReplacePatch, mend.Structure}

// dryBelow asks what must be so before sections are re-tapered.
func (d *designer) dryBelow(where string, at [2]float64) mend.Question {
	return mend.Question{
		Ask: finding.Say("Is the insulation of these sections dry, and what do their flashings leave? Cut a core in each"), Where: where, At: at, Decides: finding.Roofer,
		If: finding.Say("Dry, and the flashings leave {0} above the new surface", finding.MM("left", d.Flashing)), Then: finding.Say("Re-taper. Wet: take it out first"),
	}
}

// newSeeds are the vertices nearest to new primary outlets, from which the roof round them rises.
func (d *designer) newSeeds(mends []*mend.Mend) []taper.Seed {
	var out []taper.Seed
	for _, m := range mends {
		for i := range m.Adds {
			if v := d.VertexAt(m.Adds[i].Plan); m.Adds[i].Duty == roof.Primary && v >= 0 {
				out = append(out, taper.Seed{Vertex: v, Z: d.Base.Z[v]})
			}
		}
	}
	return out
}

// added is an option with further mends, which alone are told.
func (d *designer) added(o *Option, more ...*mend.Mend) *Option {
	n := d.altered(append(append([]*mend.Mend(nil), o.mends...), more...))
	var changes []mend.Change
	n.earlier, n.questions = n.Changes, nil
	for _, m := range more {
		for i := range n.Changes {
			if c := &n.Changes[i]; c.At == m.Change.At && c.Kind == m.Change.Kind {
				changes = append(changes, *c)
				break
			}
		}
		n.questions = append(n.questions, m.Questions...)
	}
	n.Changes = changes
	return &n
}

// widened widens the crickets and saddles whose valleys are too flat; nil where there is none that a wider one helps.
func (d *designer) widened(o *Option) *Option {
	if !d.Steering.Allows(mend.Cricket) {
		return nil
	}
	var more []*mend.Mend
	for i := range o.Study.Findings {
		f := &o.Study.Findings[i]
		if f.Pond >= 0 || f.Severity < finding.Repair || f.Kind != finding.CricketFlat && f.Kind != finding.ValleyFlat || f.Geometry == nil {
			continue
		}
		p := mend.Pond{Held: -1, Finding: f.Kind, Pit: f.Geometry.Bound().Center(), Outlet: -1}
		if m, ok := d.Saddle(&p); ok {
			d.Book(&m, &p)
			more = append(more, &m)
		}
	}
	if len(more) == 0 {
		return nil
	}
	return d.added(o, more...)
}

// parts returns the raised vertices that hang together with a plane, valley or pond that fails after an option, each part by itself.
func (d *designer) parts(o *Option, z, up []float64) []map[int32]float64 {
	bad, sag := d.failing(o), d.sagging(o)
	var out []map[int32]float64
	seen := make([]bool, len(z))
	for v := range z {
		if seen[v] || up[v] <= z[v]+1e-5 {
			continue
		}
		list, hit, bent := []int32{int32(v)}, false, false
		seen[v] = true
		for i := 0; i < len(list); i++ {
			hit, bent = hit || bad[list[i]], bent || sag[list[i]]
			for _, w := range d.Star[list[i]] {
				hit = hit || bad[w]
				if !seen[w] && up[w] > z[w]+1e-5 {
					seen[w] = true
					list = append(list, w)
				}
			}
		}
		if hit && !bent {
			set := map[int32]float64{}
			for _, w := range list {
				set[w] = math.Round(up[w]*1e5) / 1e5
			}
			out = append(out, set)
		}
	}
	return out
}

// failing marks the vertices of the survey that lie on what an option leaves too flat or under water.
func (d *designer) failing(o *Option) []bool {
	bad := make([]bool, len(d.Base.Z))
	s := o.Study
	for v := range bad {
		f, ok := d.onOption(o, int32(v))
		if !ok {
			continue
		}
		if k := s.Slopes.Plane[f]; k >= 0 && failing(&s.Slopes.Planes[k]) {
			bad[v] = true
		}
	}
	for i := range s.Slopes.Valleys {
		if l := &s.Slopes.Valleys[i]; l.BelowMin && l.Resolved {
			for _, q := range l.Plan {
				if v := d.VertexAt(q); v >= 0 {
					bad[v] = true
				}
			}
		}
	}
	for i := range d.Ponds {
		if p := &d.Ponds[i]; !p.Sags && slices.Contains(o.Left, p.ID) {
			for v := range bad {
				bad[v] = bad[v] || d.Under(p, int32(v))
			}
		}
	}
	return bad
}

// sagging marks the vertices under ponds that an engineer has to look at first.
func (d *designer) sagging(o *Option) []bool {
	out := make([]bool, len(d.Base.Z))
	for i := range d.Ponds {
		p := &d.Ponds[i]
		if !p.Sags || !slices.Contains(o.Left, p.ID) {
			continue
		}
		for v := range out {
			out[v] = out[v] || d.Under(p, int32(v))
		}
	}
	return out
}

// onOption returns the facet of an option's surface at a vertex of the survey.
func (d *designer) onOption(o *Option, v int32) (int32, bool) {
	if o.where == nil {
		o.where = surface.NewLocator(o.Study.Surface.TIN)
	}
	return o.where.Locate(d.Surface.TIN.X[v], d.Surface.TIN.Y[v])
}

// thickest returns the place where a set of raised vertices rises most, the first of equals by number.
func (d *designer) thickest(set map[int32]float64) (at [2]float64) {
	most := 0.0
	for v := range d.Base.Z {
		if z, ok := set[int32(v)]; ok && z-d.Base.Z[v] > most {
			most = z - d.Base.Z[v]
			at = [2]float64{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]}
		}
	}
	return at
}
