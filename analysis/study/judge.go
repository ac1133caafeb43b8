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
	var sure *evidence.Result
	better := s.Errors.Source == evidence.Scatter && s.Means == nil && s.Errors.Typical > standard.LevelError
	atLevel := func() { sure = s.judged(evidence.ErrorsAt(s.Surface, standard.LevelError)) }
	if better && len(s.Surface.TIN.X) >= aside {
		atonce.Do(func() { s.Evidence = s.judged(s.Errors) }, atLevel)
	} else {
		s.Evidence = s.judged(s.Errors)
	}
	standing := inspection.StandingOf(s.Roof, s.Surface, s.Ponds, s.Evidence)
	s.Listed, s.Unresolved, s.Shallow = inspection.List(s.Surface, s.Ponds, s.Criteria, standing)
	if !better || s.Unresolved.Count == 0 {
		return
	}
	if sure == nil {
		atLevel()
	}
	_, left, _ := inspection.List(s.Surface, s.Ponds, s.Criteria, inspection.StandingOf(s.Roof, s.Surface, s.Ponds, sure))
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
