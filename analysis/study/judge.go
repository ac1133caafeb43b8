package study

import (
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/standard"
)

// judge says which of the ponds the spots show, and lists those that are not in doubt.
func (s *Study) judge() {
	s.Evidence = s.judged(s.Errors)
	standing := inspection.StandingOf(s.Roof, s.Surface, s.Ponds, s.Evidence)
	s.Listed, s.Unresolved, s.Shallow = inspection.List(s.Surface, s.Ponds, s.Criteria, standing)
	if s.Errors.Source != evidence.Scatter || s.Means != nil || s.Unresolved.Count == 0 || s.Errors.Typical <= standard.LevelError {
		return
	}
	level := evidence.ErrorsAt(s.Surface, standard.LevelError)
	sure := inspection.StandingOf(s.Roof, s.Surface, s.Ponds, s.judged(level))
	_, left, _ := inspection.List(s.Surface, s.Ponds, s.Criteria, sure)
	s.Unresolved.AtLevel = max(0, s.Unresolved.Count-left.Count)
}

// judged prices the ponds with elevations that are good to e.
func (s *Study) judged(e *evidence.Errors) *evidence.Result {
	return evidence.Judge(&evidence.Input{Surface: s.Surface, Ponds: s.Ponds, Sigma: e.Sigma, Invert: e.Typical})
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
