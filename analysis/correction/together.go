package correction

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// mostRounds bounds how often the choice for a pond is changed.
const mostRounds = 12

// search is the choice of one way for each pond, and for each outlet that is out of use.
type search struct {
	d    *designer
	of   []mend.Pond   // designer.ponds, then the outlets that are out of use
	ways [][]mend.Mend // by of
	pick []int         // index into ways, past its end: none is left
}

// together takes for each pond the first of its ways, runs them together, and goes on to the next where the pond stays or anything is worse. It
// returns all that was run and which of it is the answer.
func (d *designer) together() (tried []Option, best int) {
	s := &search{d: d, of: append(slices.Clone(d.Ponds), d.Unused()...)}
	s.pick = make([]int, len(s.of))
	for i := range s.of {
		if i < len(d.Ponds) {
			s.ways = append(s.ways, d.Ways(&s.of[i]))
		} else {
			s.ways = append(s.ways, d.IntoUse(&s.of[i]))
		}
	}
	best = -1
	defer func() {
		tried, best = s.cheaper(tried, best)
		s.elses(&tried[best])
	}()
	for range mostRounds {
		chosen := s.chosen()
		o := d.altered(chosen)
		for i := range s.pick {
			if s.live(i) && s.wide(i, &o) || !s.live(i) && len(s.ways[i]) > 0 { // giving a pond up is no better
				o.wide++
			}
		}
		o.picks = slices.Clone(s.pick)
		tried = append(tried, o)
		if best < 0 || o.nearer(&tried[best]) {
			best = len(tried) - 1
		}
		if len(chosen) == 0 || !s.advance(&o) {
			break
		}
	}
	return tried, best
}

// otherwise is how the other branch of a way's first question begins, by kind.
var otherwise = map[mend.Kind]string{mend.LowerOutlet: "less", mend.LowerEdge: "less", mend.AddScupper: "not allowed", mend.AddOutlet: "not allowed"}

// elses says in the questions of the ways that were taken what is done where they cannot be: the next way for that pond.
func (s *search) elses(o *Option) {
	for i := range s.ways {
		for k := range s.ways[i] {
			m := &s.ways[i][k]
			no, asks := otherwise[m.Kind]
			if !asks || len(m.Questions) == 0 || !slices.Contains(o.mends, m) {
				continue
			}
			next := "an engineer or a re-tapered section"
			for _, w := range s.ways[i][k+1:] {
				if w.Kind != m.Kind {
					next = w.Kind.Phrase()
					break
				}
			}
			for q := range o.questions {
				if o.questions[q].Ask.Format == m.Questions[0].Ask.Format && o.questions[q].At == m.Questions[0].At {
					o.questions[q].Then.Format += "; " + no + ": " + next
				}
			}
		}
	}
}

// chosen returns the present choice.
func (s *search) chosen() []*mend.Mend {
	var out []*mend.Mend
	for i, k := range s.pick {
		if k < len(s.ways[i]) {
			out = append(out, &s.ways[i][k])
		}
	}
	return out
}

// advance goes on to the next way of every pond whose present one failed; it reports whether any did.
func (s *search) advance(o *Option) bool {
	failed := make([]bool, len(s.pick))
	for i := range s.pick {
		failed[i] = s.live(i) && (s.stays(i, o) || s.wide(i, o))
	}
	if !o.Possible {
		s.blame(failed, orb.Point{}, true)
	}
	if o.Study != nil {
		for _, q := range s.newPonds(o) {
			s.blame(failed, q, false)
		}
	}
	for _, list := range [][]Limit{o.Worse, o.Limits} {
		for k := range list {
			if list[k].At != (orb.Point{}) {
				s.blame(failed, list[k].At, false)
			}
		}
	}
	if o.refused() && !slices.Contains(failed, true) {
		s.blame(failed, orb.Point{}, true)
	}
	any := false
	for i := range failed {
		if failed[i] {
			s.pick[i]++
			any = true
		}
	}
	return any
}

// stays reports whether an option leaves what a choice is for.
func (s *search) stays(i int, o *Option) bool {
	if i < len(s.d.Ponds) {
		return slices.Contains(o.Left, s.of[i].ID)
	}
	return o.Study != nil && s.d.StillUnused(&s.of[i], o.Study)
}

// live reports whether a pond has a choice.
func (s *search) live(i int) bool { return s.pick[i] < len(s.ways[i]) }

// wide reports whether the present choice for a pond opens more than a local mend may, or feathers a fill.
func (s *search) wide(i int, o *Option) bool {
	m := &s.ways[i][s.pick[i]]
	for k := range o.Changes {
		c := &o.Changes[k]
		if c.Pond != s.of[i].ID || c.Kind != m.Kind && (!m.Fill || c.Kind != mend.Retaper) {
			continue
		}
		most := math.Max(standard.LocalArea, standard.LocalShare*s.d.Surface.Area)
		switch {
		case m.Stock:
			most = 1.2 * mend.MostSection * s.d.Surface.Area // with its strip-in
		case m.Kind == mend.Retaper || m.Kind == mend.Cricket:
			most = math.Max(2*standard.LocalArea, 5*standard.LocalShare*s.d.Surface.Area)
		case m.Fill || m.Shallow():
			most = math.Max(2*standard.LocalArea, 4*standard.LocalShare*s.d.Surface.Area)
		}
		if c.Opened > most {
			return true
		}
	}
	return m.Fill && mend.Feathers(m.Volume, m.Area)
}

// newPonds returns the lowest places of listed ponds where none was.
func (s *search) newPonds(o *Option) []orb.Point {
	var out []orb.Point
	for _, k := range s.d.standing(o.Study) {
		q := o.Study.Ponds.Ponds[k].Pits
		if len(q) == 0 {
			continue
		}
		if p := placeOf(o.Study, q[0]); !s.d.before.pondAt(p) {
			out = append(out, p)
		}
	}
	return out
}

// pondAt reports whether a pond was found at or beside p.
func (a *state) pondAt(p orb.Point) bool {
	for i := range a.found {
		if f := &a.found[i]; f.pond && (vector.DistanceSquared(f.at, p) < 1 || f.bound.Contains(p)) {
			return true
		}
	}
	return false
}

// blame marks the choice nearest to p as failed, or all that are left where no place is known.
func (s *search) blame(failed []bool, p orb.Point, all bool) {
	best, far := -1, math.Inf(1)
	for i := range s.pick {
		if !s.live(i) {
			continue
		}
		if all {
			failed[i] = true
			continue
		}
		if n := s.d.From(&s.ways[i][s.pick[i]], p); n < far {
			best, far = i, n
		}
	}
	if best >= 0 {
		failed[best] = true
	}
}

// leftovers are the findings at repair or above that an option's changes do not mend, with what is to be done about each where the changes do not say it.
func (d *designer) leftovers(o *Option) []Leftover {
	var out []Leftover
	for i := range o.Study.Findings {
		f := &o.Study.Findings[i]
		if f.Severity < finding.Repair {
			continue
		}
		l := Leftover{Kind: f.Kind, Pond: d.pondBefore(o.Study, f.Pond), What: f.What, Do: f.Do, Decides: f.Decides}
		if slices.ContainsFunc(o.Changes, func(c mend.Change) bool {
			return strings.HasSuffix(c.What.Format, f.Do.Format) || l.Pond != "" && c.Pond == l.Pond
		}) {
			l.Do = finding.Text{}
		}
		out = append(out, l)
	}
	return out
}

// pondBefore returns the id that pond k of a corrected roof has on the roof as found, empty where none was.
func (d *designer) pondBefore(s *study.Study, k int) string {
	if k < 0 {
		return ""
	}
	for _, v := range s.Ponds.Ponds[k].Pits {
		for i := range d.Ponds {
			if p := &d.Ponds[i]; p.Covers(placeOf(s, v)) {
				return p.ID
			}
		}
	}
	return ""
}
