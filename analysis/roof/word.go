package roof

import (
	"fmt"
	"strings"
)

// The words for what water does at an edge, for the kinds of breakline and so on.
var edgeTypes = words[EdgeType]{{"wall", Wall}, {"gutter", Gutter}, {"free", Free}}

// ParseEdgeType reads wall, gutter or free.
func ParseEdgeType(text string) (EdgeType, error) { return edgeTypes.find("edge type", text) }

// String returns the word for a type of edge.
func (v EdgeType) String() string { return edgeTypes.of(v) }

var breaklineTypes = words[BreaklineType]{
	{"ridge", Ridge},
	{"valley", Valley},
	{"hip", Hip},
	{"cricket", Cricket},
	{"grade-break", GradeBreak},
}

// ParseBreaklineType reads ridge, valley, hip, cricket or grade-break.
func ParseBreaklineType(text string) (BreaklineType, error) {
	return breaklineTypes.find("breakline type", text)
}

// String returns the word for a type of breakline.
func (v BreaklineType) String() string { return breaklineTypes.of(v) }

var duties = words[Duty]{{"primary", Primary}, {"overflow", Overflow}}

// ParseDuty reads primary or overflow.
func ParseDuty(text string) (Duty, error) { return duties.find("duty", text) }

// String returns the word for an outlet's duty.
func (v Duty) String() string { return duties.of(v) }

var outletTypes = words[OutletType]{{"drain", Drain}, {"scupper", Scupper}}

// ParseOutletType reads drain or scupper.
func ParseOutletType(text string) (OutletType, error) { return outletTypes.find("outlet type", text) }

// String returns the word for a type of outlet, empty for a stretch of edge.
func (v OutletType) String() string { return outletTypes.of(v) }

var crests = words[Crest]{{"sharp", SharpCrest}, {"floor-flush", FloorFlush}}

// ParseCrest reads sharp or floor-flush.
func ParseCrest(text string) (Crest, error) { return crests.find("crest", text) }

// String returns the word for the shape of a scupper's floor, empty where nobody stated it.
func (v Crest) String() string { return crests.of(v) }

var sillKinds = words[SillKind]{
	{"door-sill", DoorSill},
	{"curb-top", CurbTop},
	{"wall-joint", WallJoint},
	{"low-parapet", LowParapet},
}

// ParseSillKind reads door-sill, curb-top, wall-joint or low-parapet, with a hyphen or a blank.
func ParseSillKind(text string) (SillKind, error) {
	return sillKinds.find("kind of sill", strings.Join(strings.Fields(text), "-"))
}

// String returns the word for a kind of sill, empty where nobody stated it.
func (v SillKind) String() string { return sillKinds.of(v) }

var outlets = words[bool]{{"none", true}}

// ParseNoOutlets reads none, what an outline says of a roof that was looked over and has no outlet.
func ParseNoOutlets(text string) (bool, error) { return outlets.find("outlets", text) }

var elevations = words[Elevations]{{"measured", Measured}, {"drawn", Drawn}, {"tops", WallTops}}

// ParseElevations reads measured, drawn or tops, what an outline says of the elevations of its roof.
func ParseElevations(text string) (Elevations, error) { return elevations.find("elevations", text) }

// String returns the word for the elevations of a roof, empty where they were measured.
func (v Elevations) String() string {
	if v == Measured {
		return ""
	}
	return elevations.of(v)
}

// words is a closed list of words and what they stand for.
type words[T comparable] []struct {
	word  string
	value T
}

func (w words[T]) find(what, text string) (value T, err error) {
	names := make([]string, len(w))
	for i, entry := range w {
		if strings.EqualFold(entry.word, strings.TrimSpace(text)) {
			return entry.value, nil
		}
		names[i] = entry.word
	}
	return value, fmt.Errorf("unknown %s %.40q: use %s", what, text, strings.Join(names, ", "))
}

// of returns the word for a value, empty where there is none.
func (w words[T]) of(value T) string {
	for _, entry := range w {
		if entry.value == value {
			return entry.word
		}
	}
	return ""
}
