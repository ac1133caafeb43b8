package points

import "runnel/importer/draft"

// visit takes what a row notes of the visit: it has no place.
func (r *reader) visit() {
	r.kept = true
	v := r.out.Visit0()
	for _, p := range r.code.pairs {
		text, rule := draft.Fitting(p.key, p.value)
		if rule != "" {
			r.refuse(rule, "shorten it")
			continue
		}
		if p.key == surveyedKey {
			v.Surveyed = text
			continue
		}
		if rule, mend := v.Set(p.key, text); rule != "" {
			r.refuse(rule, mend)
		}
	}
}
