package record

import "runnel/analysis/roof"

// Crest returns the word for the shape of a scupper's floor, empty where nobody stated it.
func Crest(c roof.Crest) string {
	switch c {
	case roof.SharpCrest:
		return "sharp"
	case roof.FloorFlush:
		return "floor-flush"
	case roof.CrestUnknown:
	}
	return ""
}

// SillKind returns the word for a kind of sill, empty where nobody stated it.
func SillKind(k roof.SillKind) string {
	switch k {
	case roof.DoorSill:
		return "door-sill"
	case roof.CurbTop:
		return "curb-top"
	case roof.WallJoint:
		return "wall-joint"
	case roof.LowParapet:
		return "low-parapet"
	case roof.SillUnknown:
	}
	return ""
}
