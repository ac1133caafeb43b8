package roof

import "runnel/analysis/quantity"

// Structure is what drawings or an engineer say of the framing under the roof. Nothing of it is measured from
// the survey, and nothing is concluded from it beyond flags for an engineer. The zero Structure says nothing.
type Structure struct {
	MemberDirection float64 // bearing of the secondary members [degrees clockwise from grid north, 0 to 180); meaningful when HasDirection
	HasDirection    bool
	MemberSpan      quantity.Length // of the secondary members
	MemberSpacing   quantity.Length // between the secondary members

	LoadLimit   float64 // greatest load of water that its author allows [Pa], 0 when none was given
	LoadLimitBy string  // who says so: a limit without an author is never compared with
	GravityLoad float64 // the design gravity load of the roof as somebody answered it [Pa], 0 when nobody did
}

// Limit returns the load that results may be compared with [Pa], and false without one that has an author.
func (s *Structure) Limit() (limit float64, ok bool) {
	return s.LoadLimit, s.LoadLimit > 0 && s.LoadLimitBy != ""
}
