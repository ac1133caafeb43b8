package points

import (
	"runnel/importer/draft"
	"runnel/importer/points/code"
)

// visit takes what a row notes of the visit: it has no place.
func (r *reader) visit() {
	r.kept = true
	v := r.out.Visit0()
	for _, p := range r.code.Pairs {
		text, rule := draft.Fitting(p.Key, p.Value)
		if rule != "" {
			r.refuse(rule, "shorten it")
			continue
		}
		if p.Key == code.SurveyedKey {
			v.Surveyed = text
			continue
		}
		if rule, mend := v.Set(p.Key, text); rule != "" {
			r.refuse(rule, mend)
		}
	}
}
