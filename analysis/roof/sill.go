package roof

// SillKind is what a sill is the lowest point of.
type SillKind uint8

// Kinds of sill. SillUnknown is one whose kind nobody stated.
const (
	SillUnknown SillKind = iota
	DoorSill
	CurbTop
	WallJoint
	LowParapet
)

// Sill is a place where water would get into the building, or over its edge, once it stands that high. Its
// elevation is always known.
type Sill struct {
	Feature
	Position
	Kind  SillKind
	Label string
}
