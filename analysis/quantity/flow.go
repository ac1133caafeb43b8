package quantity

import "strings"

// Flow is a volume of water a second [m3/s].
type Flow float64

// Units of flow, from the units of volume.
const (
	CubicMetrePerSecond Flow = 1
	LitrePerSecond           = Flow(Litre)
	LitrePerMinute           = Flow(Litre / 60)
	CubicMetrePerHour        = Flow(1.0 / 3600)
	GallonPerMinute          = Flow(Gallon / 60)
	CubicFootPerSecond       = Flow(CubicFoot)
)

// maxFlow is the largest flow that is taken for one [m3/s].
const maxFlow = 1e4

// flowUnits are the units a flow may carry, without blanks.
var flowUnits = map[string]Flow{
	"gpm": GallonPerMinute, "gal/min": GallonPerMinute, "galpermin": GallonPerMinute, "gallonsperminute": GallonPerMinute,
	"l/s": LitrePerSecond, "lps": LitrePerSecond, "lpers": LitrePerSecond, "l/min": LitrePerMinute, "lpm": LitrePerMinute,
	"cfs": CubicFootPerSecond, "ft3/s": CubicFootPerSecond, "m3/s": CubicMetrePerSecond, "m3/h": CubicMetrePerHour,
}

// ParseFlow reads a flow of water: "100 gpm", "6.3 L/s", "0.22 cfs", "23 m3/h". A unit is required, and the
// gallon is that of the United States.
func ParseFlow(text string) (Flow, error) {
	return read(text, "%.40q is not a flow: %s; write it like 100 gpm or 6.3 L/s", counted((*scanner).flow))
}

// flow takes the unit of a flow, to the end of the text.
func (s *scanner) flow(value float64) Flow {
	unit, ok := flowUnits[strings.ReplaceAll(s.rest, " ", "")]
	if !ok {
		s.refuse("%.40q is no unit of flow", strings.TrimSpace(s.rest))
	}
	flow := Flow(value * float64(unit))
	if flow > maxFlow {
		s.refuse("it is too large")
	}
	return flow
}
