package draft

import (
	"fmt"
	"strings"

	"runnel/analysis/roof"
)

// The words for what water does at an edge, for the kinds of breakline and so on.
var edgeTypes = words[roof.EdgeType]{{"wall", roof.Wall}, {"gutter", roof.Gutter}, {"free", roof.Free}}

// ParseEdgeType reads wall, gutter or free.
func ParseEdgeType(text string) (roof.EdgeType, error) { return edgeTypes.find("edge type", text) }

var breaklineTypes = words[roof.BreaklineType]{
	{"ridge", roof.Ridge},
	{"valley", roof.Valley},
	{"hip", roof.Hip},
	{"cricket", roof.Cricket},
	{"grade-break", roof.GradeBreak},
}

// ParseBreaklineType reads ridge, valley, hip, cricket or grade-break.
func ParseBreaklineType(text string) (roof.BreaklineType, error) {
	return breaklineTypes.find("breakline type", text)
}

var duties = words[roof.Duty]{{"primary", roof.Primary}, {"overflow", roof.Overflow}}

var outlets = words[bool]{{"none", true}}

// ParseNoOutlets reads none, what an outline says of a roof that was looked over and has no outlet.
func ParseNoOutlets(text string) (bool, error) { return outlets.find("outlets", text) }

// ParseDuty reads primary or overflow.
func ParseDuty(text string) (roof.Duty, error) { return duties.find("duty", text) }

var outletTypes = words[roof.OutletType]{{"drain", roof.Drain}, {"scupper", roof.Scupper}}

// ParseOutletType reads drain or scupper.
func ParseOutletType(text string) (roof.OutletType, error) {
	return outletTypes.find("outlet type", text)
}

var crests = words[roof.Crest]{{"sharp", roof.SharpCrest}, {"floor-flush", roof.FloorFlush}}

// ParseCrest reads sharp or floor-flush.
func ParseCrest(text string) (roof.Crest, error) { return crests.find("crest", text) }

var sillKinds = words[roof.SillKind]{
	{"door-sill", roof.DoorSill},
	{"curb-top", roof.CurbTop},
	{"wall-joint", roof.WallJoint},
	{"low-parapet", roof.LowParapet},
}

// ParseSillKind reads door-sill, curb-top, wall-joint or low-parapet, with a hyphen or a blank.
func ParseSillKind(text string) (roof.SillKind, error) {
	return sillKinds.find("kind of sill", strings.Join(strings.Fields(text), "-"))
}

// words is a closed list of words and what they stand for.
type words[T any] []struct {
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
