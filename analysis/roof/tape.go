package roof

import (
	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
)

// Tape is what people measure on a roof with tape, chalk, ruler and level, beyond spots.
type Tape struct {
	Placed     bool            // places were given by distances from walls
	Walls      bool            // the outline came as walls, in their order
	Clockwise  bool            // they were taped clockwise
	Misclosure quantity.Length // of the walls, shared out
	Sighted    bool            // heights are rods below a line of sight whose elevation nobody stated
	Waters     []Water
	Probes     []Probe
	Gaps       []Gap
	Sigma      quantity.Length // standard error of heights that state none; 0: nothing says it
}

// Water is water that stood on the roof: its edge as chalked, and how deep it was.
type Water struct {
	Feature
	Number    string     // by which its parts belong together
	Edge      []Position // marks along the edge, in the order in which they were taken, not closed; all lie at one level
	Oval      bool       // Edge stands for an oval of a stated size
	Level     float64    // of the water as stated [m]; meaningful when HasLevel
	HasLevel  bool
	Soundings []Sounding

	HoursSinceRain float64 // negative when not given
	Outlets        OutletState
	Note           string
}

// Deepest returns the place of the deepest sounding, or else the middle of the edge's marks.
func (w *Water) Deepest() orb.Point {
	best := -1
	for i := range w.Soundings {
		if best < 0 || w.Soundings[i].Depth > w.Soundings[best].Depth {
			best = i
		}
	}
	if best >= 0 {
		return w.Soundings[best].Plan
	}
	var m orb.Point
	for i := range w.Edge {
		m[0] += w.Edge[i].Plan[0] / float64(len(w.Edge))
		m[1] += w.Edge[i].Plan[1] / float64(len(w.Edge))
	}
	return m
}

// Sounding is one depth of water.
type Sounding struct {
	Feature
	Plan  orb.Point
	Depth quantity.Length
}

// ProbeKind says what a reading was taken for.
type ProbeKind uint8

// The kinds of probe.
const (
	LowProbe    ProbeKind = iota // the lowest place under a pond
	LipProbe                     // where it may spill
	BeforeProbe                  // the roof before an outlet
	InletProbe                   // the inlet of an outlet
)

// Probe is one height that was read to find out what holds water.
type Probe struct {
	Feature
	Position
	Kind  ProbeKind
	Of    string // number of the pond, or label of the outlet; empty when not given
	Sigma quantity.Length
}

// Gap is a slope measured with a level laid on the roof and what gaps under its end.
type Gap struct {
	Feature
	Plan   orb.Point
	Level  quantity.Length // length of the level
	Gap    quantity.Length // under its far end; the roof falls that much over its length
	Toward [2]float64      // unit vector from the end that lies on the roof to the other; grid east and north
}
