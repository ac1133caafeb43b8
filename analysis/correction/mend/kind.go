package mend

import "slices"

// Kind names a change, or an option by the changes that it is made of.
type Kind string

// The kinds of change, in the order of preference: what a crew tries first stands first.
const (
	Clear        Kind = "clear"         // and flow-test
	Dewater      Kind = "dewater"       // pump or siphon, until the mend
	RemoveSource Kind = "remove-source" // water that no rain brings
	MoveObstacle Kind = "move-obstacle" // a support, sleeper, walk pad or conduit
	Resecure     Kind = "re-secure"     // buckled boards
	LowerRise    Kind = "lower-rise"    // laps, old patches or a ridge off
	LowerOutlet  Kind = "lower-outlet"  // reset in a sump; a scupper's floor within its rough opening
	ReplacePatch Kind = "replace-patch" // of wet or crushed insulation
	RaiseCurb    Kind = "raise-curb"    // before a cricket where too little flashing is left
	Cricket      Kind = "cricket"       // and saddles
	LowerEdge    Kind = "lower-edge"    // nailer and metal
	Fill         Kind = "fill"          // a small taper inside a cut line
	AddScupper   Kind = "add-scupper"   // through the parapet
	AddOutlet    Kind = "add-outlet"    // with leader and overflow
	Retaper      Kind = "re-taper"      // of a section
	Overlay      Kind = "overlay"       // stock taper on the existing surface
	Replace      Kind = "replace"       // tapered, on the deck
	Structure    Kind = "structure"     // for an engineer
	AsFound      Kind = "as-found"      // an option that changes nothing; no change is of it
	Combined     Kind = "combined"      // an option of several kinds; no change is of it
)

// Kinds returns the kinds of change in the order of preference.
func Kinds() []Kind {
	return []Kind{
		Clear, Dewater, RemoveSource, MoveObstacle, Resecure, LowerRise, LowerOutlet, ReplacePatch, RaiseCurb, Cricket,
		LowerEdge, Fill, AddScupper, AddOutlet, Retaper, Overlay, Replace, Structure,
	}
}

// Steering is what the user asks for; zero values take the defaults.
type Steering struct {
	Only      []Kind
	Forbid    []Kind
	Prefer    []Kind   // these first, in this order; then the others in theirs
	Keep      []string // labels or ids of outlets whose inverts must stay
	Slope     float64  // that planes are to be brought to [rise/run]; 0: the criteria
	Thickness float64  // least, above what the insulation is laid on [m]; 0: the default
	Flashing  float64  // height that must be left above the new surface [m]; 0: the default
}

// Preference returns the order in which kinds are considered.
func (s *Steering) Preference() []Kind {
	out := append([]Kind(nil), s.Prefer...)
	for _, k := range Kinds() {
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// Allows reports whether the user wants a kind looked at.
func (s *Steering) Allows(k Kind) bool {
	return (len(s.Only) == 0 || slices.Contains(s.Only, k)) && !slices.Contains(s.Forbid, k)
}

// Rank is the place of a mend in the order of preference. A scupper's floor comes after crickets unless the user says where outlets come.
func (s *Steering) Rank(m *Mend) int {
	order := s.Preference()
	if m.Kind == LowerOutlet && m.scupper && !slices.Contains(s.Prefer, LowerOutlet) {
		return 2*slices.Index(order, LowerEdge) - 1
	}
	return 2 * slices.Index(order, m.Kind)
}
