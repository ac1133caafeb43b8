package finding

import "runnel/analysis/choose"

// String returns the severity as it stands in reports: "note", "repair" or "urgent".
func (s Severity) String() string { return choose.At([]string{"note", "repair", "urgent"}, s) }

// String returns the confidence as it stands in reports.
func (c Confidence) String() string {
	return choose.At([]string{"not resolved", "likely", "shown by the spots"}, c)
}

// Who decides on a mend.
const (
	Roofer   = "roofer"
	Plumber  = "plumber"
	Engineer = "engineer"
	Owner    = "owner"

	Mechanical = "mechanical"
	Electrical = "electrical"
)
