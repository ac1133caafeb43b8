package importer

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
)

// visit takes over what one file notes of the visit: it comes after the outline, so it is the later one where both say something.
func visit(r *roof.Roof, s *source) {
	v := s.draft.Visit
	if v == nil {
		return
	}
	var changed []string
	if v.Surveyed != "" {
		if r.Surveyed != "" && r.Surveyed != v.Surveyed { // another day, another weather
			changed = append(changed, "surveyed")
			r.Visit = r.Visit.Lasting()
		}
		r.Surveyed = v.Surveyed
	}
	changed = append(changed, r.Visit.Take(&v.Visit)...)
	if len(changed) > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s: what its VISIT says is taken instead of what was said before: %s.", s.path, draft.Listing(changed)))
	}
}

// settleVisit lets what was noted of the whole visit hold where nothing else is said: the hours since rain for the water that was seen, and the instrument for
// how good heights are.
func settleVisit(r *roof.Roof) {
	v := &r.Visit
	if v.HasHours {
		for i := range r.Stains {
			if r.Stains[i].HoursSinceRain < 0 {
				r.Stains[i].HoursSinceRain = v.Hours
			}
		}
		if r.Tape != nil {
			for i := range r.Tape.Waters {
				if r.Tape.Waters[i].HoursSinceRain < 0 {
					r.Tape.Waters[i].HoursSinceRain = v.Hours
				}
			}
		}
	}
	known := standard.Instruments()
	i := slices.IndexFunc(known, func(k standard.Instrument) bool { return k.Name == strings.ToLower(v.Instrument) })
	if i < 0 || r.Sigma > 0 {
		return
	}
	e := quantity.Length(known[i].Error)
	for k := range r.Spots {
		if r.Spots[k].Sigma == 0 {
			r.Spots[k].Sigma = e
		}
	}
	if r.Tape != nil && r.Tape.Sigma == 0 {
		r.Tape.Sigma = e
	}
}
