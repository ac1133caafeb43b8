package finding

// String returns the severity as it stands in reports: "note", "repair" or "urgent".
func (s Severity) String() string {
	switch s {
	case Urgent:
		return "urgent"
	case Repair:
		return "repair"
	case Note:
	}
	return "note"
}

// String returns the confidence as it stands in reports.
func (c Confidence) String() string {
	switch c {
	case Shown:
		return "shown by the spots"
	case Likely:
		return "likely"
	case NotResolved:
	}
	return "not resolved"
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
