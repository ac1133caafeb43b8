package importer

import (
	"fmt"
	"maps"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// settleAnswers lets answers about the whole roof hold: they are later than what the outline states, and say who gave them.
func settleAnswers(r *roof.Roof) {
	if a := r.Answered(string(roof.AskLoad)); a != nil {
		if s := &r.Structure; s.LoadLimit > 0 && (s.LoadLimit != a.Amount || s.LoadLimitBy != a.By) {
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s: the load limit that %.60q answered on %s is taken instead of the outline's.", a.Origin, a.By, a.On))
		}
		r.Structure.LoadLimit, r.Structure.LoadLimitBy = a.Amount, a.By
	}
	if a := r.Answered(string(roof.AskGravity)); a != nil {
		r.Structure.GravityLoad = a.Amount
	}
	if a := r.Answered(string(roof.AskOverflow)); a != nil {
		r.Criteria = maps.Clone(r.Criteria)
		if r.Criteria == nil {
			r.Criteria = standard.Overrides{}
		}
		r.Criteria["overflow_height"] = a.Amount
	}
}
