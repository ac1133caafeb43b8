package geojson

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// grid turns places of the roof's local frame into the coordinates of the outline's file, as whole
// numbers of their last decimal.
type grid struct {
	geographic bool
	frame      string
	unit       quantity.Unit
	decimals   int
	scale      float64 // ten to the power of decimals
	rise       float64 // metres per unit of elevation
	back       roof.Frame
}

// newGrid returns the grid of a frame in a unit: 8 decimals of a degree, or at least 1e-6 m.
func newGrid(f roof.Frame, unit quantity.Unit) *grid {
	g := &grid{unit: unit, frame: "local", rise: unit.Metres(), back: f}
	if g.unit == quantity.Unstated {
		g.unit, g.rise = quantity.Metres, 1
	}
	switch {
	case f.Kind == roof.Geographic:
		g.geographic, g.frame, g.decimals = true, "wgs84", 8
	case g.unit == quantity.Millimetres:
		g.decimals = 3
	case g.unit == quantity.Inches:
		g.decimals = 5
	default:
		g.decimals = 6
	}
	g.scale = math.Pow10(g.decimals)
	return g
}

// fix returns the output coordinates of p in units of the last decimal.
func (g *grid) fix(p orb.Point) (x, y int64) {
	q := g.back.ToFile(p)
	return int64(math.Round(q[0] * g.scale)), int64(math.Round(q[1] * g.scale))
}
