package cause

import (
	"cmp"
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// maxRemedies is how many ponds have the mends tried on them, worst first.
const maxRemedies = 50

// named is the least score at which a cause is named.
const named = 0.15

// Of returns a diagnosis for each of the listed ponds, in their order: indices into ps.Ponds, worst first.
// The mends are tried on the first MaxRemedies of them.
func Of(s *surface.Surface, sl *slope.Slopes, ps *ponding.Ponds, listed []int32, c standard.Criteria) []Diagnosis {
	m := newModel(s, sl, ps, c)
	first, wet := byPond(ps)
	out := make([]Diagnosis, len(listed))
	for i, p := range listed {
		s.TIN.Halt.Ask()
		st := m.site(p, wet[first[p]:first[p+1]])
		out[i] = m.diagnose(st)
		if i < maxRemedies {
			out[i].Mends = m.mends(st)
		}
	}
	return out
}

// byPond lists the vertices under water pond by pond: those of pond p are wet[first[p]:first[p+1]].
func byPond(ps *ponding.Ponds) (first, wet []int32) {
	first = make([]int32, len(ps.Ponds)+1)
	for _, p := range ps.Of {
		if p >= 0 {
			first[p+1]++
		}
	}
	for p := range ps.Ponds {
		first[p+1] += first[p]
	}
	wet = make([]int32, first[len(ps.Ponds)])
	next := slices.Clone(first)
	for v, p := range ps.Of {
		if p >= 0 {
			wet[next[p]] = int32(v)
			next[p]++
		}
	}
	return first, wet
}

func (m *model) diagnose(st *site) Diagnosis {
	d := Diagnosis{Outlet: st.outlet, Resolved: st.p.Depth > 2*m.noise*1.4142135623730951}
	d.LipAssumed, d.Uncertain = m.doubts(st)
	v := &view{model: m, site: st, crest: m.crestOf(st), basin: m.basinOf(st), depth: st.p.Depth, valley: m.valleyOf(st)}
	v.between = v.betweenOutlets()
	v.trough = v.inTrough()
	d.Causes = ask(v)
	slices.SortStableFunc(d.Causes, func(a, b Candidate) int { return cmp.Compare(b.Score, a.Score) })
	d.Causes = eachOnce(d.Causes)
	if len(d.Causes) == 0 {
		d.Causes = []Candidate{lowPlace(v)}
	}
	return d
}

// eachOnce keeps the best supported of the candidates of one kind.
func eachOnce(sorted []Candidate) []Candidate {
	var out []Candidate
	for _, c := range sorted {
		if !slices.ContainsFunc(out, func(o Candidate) bool { return o.Kind == c.Kind }) {
			out = append(out, c)
		}
	}
	return out
}

// lowPlace is what is said where no cause is supported.
func lowPlace(v *view) Candidate {
	out := Candidate{
		Kind: finding.LowPlace,
		Facts: []finding.Quantity{
			finding.MM("depth", v.depth), finding.Metres("length", v.long), finding.Metres("width", v.wide),
		},
		Why: finding.Say("The place is {0} lower than its way out. Its shape does not tell why.", finding.MM("depth", v.depth)),
		Measure: finding.Say("Shoot more spots: the lowest place, the lip, and a line from one to the other and on to the outlet every {0}.",
			finding.Metres("spacing", 0.6096)),
	}
	if v.between.ok {
		out.Measure = out.Measure.And(v.lookForCricket())
	}
	if v.crest.ok && v.crest.hump > 0.5 {
		out.Measure = out.Measure.And(v.lookForLaps())
	}
	return out
}

// doubts reports whether the lip's elevation was inferred, and whether lip or lowest point hang on a
// diagonal that was chosen by rule or on assumed ground.
func (m *model) doubts(st *site) (lip, any bool) {
	at := []int32{st.deep}
	if st.p.Lip >= 0 {
		at = append(at, st.p.Lip)
	}
	for _, v := range at {
		if int(v) < len(m.t.Assumed) && m.t.Assumed[v] {
			any = true
			lip = lip || v == st.p.Lip
		}
		e := m.t.Out[v]
		for range 64 {
			if e < 0 {
				break
			}
			if m.t.Flag[e]&surface.TieEdge != 0 && v == st.p.Lip {
				any = true
			}
			if e = m.t.Twin[surface.Prev(e)]; e == m.t.Out[v] {
				break
			}
		}
	}
	return lip, any
}
