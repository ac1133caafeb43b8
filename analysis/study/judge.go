package study

import (
	"runnel/analysis/atonce"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/standard"
)

// aside is the number of vertices from which ponds are priced anew for good levels before it is known that anything hangs on it, beside the first pricing.
const aside = 5000

// judge says which of the ponds the spots show, and lists those that are not in doubt.
func (s *Study) judge() {
	s.Evidence = s.judged(s.Errors)
	s.list()
}

// judgeAll is judge, where that is not done, and judgeLevelled, side by side where much is to be priced.
func (s *Study) judgeAll() {
	var sure *evidence.Result
	switch {
	case s.Evidence != nil:
	case s.levelTells() && len(s.Surface.TIN.X) >= aside:
		atonce.Do(func() { s.Evidence = s.judged(s.Errors) }, func() { sure = s.judgedAtLevel() })
		s.list()
	default:
		s.judge()
	}
	s.judgeLevelled(sure)
}

func (s *Study) list() {
	standing := inspection.StandingOf(s.Roof, s.Surface, s.Ponds, s.Evidence)
	s.Listed, s.Unresolved, s.Shallow = inspection.List(s.Surface, s.Ponds, s.Criteria, standing)
}

// judgeLevelled says how many of the ponds in doubt a level would settle. sure is what it makes of them; nil where nobody asked yet.
func (s *Study) judgeLevelled(sure *evidence.Result) {
	if !s.levelTells() || s.Unresolved.Count == 0 {
		return
	}
	if sure == nil {
		sure = s.judgedAtLevel()
	}
	_, left, _ := inspection.List(s.Surface, s.Ponds, s.Criteria, inspection.StandingOf(s.Roof, s.Surface, s.Ponds, sure))
	s.Unresolved.AtLevel = max(0, s.Unresolved.Count-left.Count)
}

// better is how many times the error of a level an error read from scatter, which is no surer than that, must be for a level to be better.
const better = 1.1

// levelTells reports whether a level would be better than what the heights were taken with, for all that is known.
func (s *Study) levelTells() bool {
	return s.Errors.Source == evidence.Scatter && s.Means == nil && s.Errors.Typical > better*standard.LevelError
}

func (s *Study) judgedAtLevel() *evidence.Result {
	return s.judged(s.Errors.Equal(standard.LevelError))
}

// judged prices the ponds with elevations that are good to e.
func (s *Study) judged(e *evidence.Errors) *evidence.Result {
	return evidence.Judge(&evidence.Input{Surface: s.Surface, Ponds: s.Ponds, Errors: e})
}

// Confidence says how far the measurements carry listed pond i: an index into Listed.
func (s *Study) Confidence(i int) finding.Confidence {
	switch l := &s.Listed[i]; {
	case len(s.Rests[i]) > 0:
		return finding.NotResolved
	case s.Evidence.Ponds[l.Pond].Shown:
		return finding.Shown
	case l.Seen:
		return finding.Likely
	}
	return finding.NotResolved
}

// inDoubt returns the ponds that the criteria would list and that the survey's error alone could make, and those listed because
// somebody saw them: indices into Ponds.Ponds.
func (s *Study) inDoubt() []int32 {
	var out []int32
	for p := range s.Ponds.Ponds {
		if !s.Evidence.Ponds[p].Shown && inspection.IsListed(&s.Ponds.Ponds[p], s.Criteria) {
			out = append(out, int32(p))
		}
	}
	return out
}
