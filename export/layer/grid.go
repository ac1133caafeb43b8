package layer

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// Grid turns places of the roof's local frame into the coordinates of the outline's file, as whole
// numbers of their last decimal.
type Grid struct {
	Geographic bool
	Frame      string // as the GeoJSON names it
	Unit       quantity.Unit
	Decimals   int
	scale      float64 // ten to the power of decimals
	rise       float64 // metres per unit of elevation
	back       roof.Frame
}

// newGrid returns the grid of a frame in a unit: 8 decimals of a degree, or at least 1e-6 m.
func newGrid(f roof.Frame, unit quantity.Unit) *Grid {
	g := &Grid{Unit: unit, Frame: "local", rise: unit.Metres(), back: f}
	if g.Unit == quantity.Unstated {
		g.Unit, g.rise = quantity.Metres, 1
	}
	switch {
	case f.Kind == roof.Geographic:
		g.Geographic, g.Frame, g.Decimals = true, "wgs84", 8
	case g.Unit == quantity.Millimetres:
		g.Decimals = 3
	case g.Unit == quantity.Inches:
		g.Decimals = 5
	default:
		g.Decimals = 6
	}
	g.scale = math.Pow10(g.Decimals)
	return g
}

// GridOf returns the grid of the file that the outline of b came in.
func GridOf(b *record.Book) *Grid { return newGrid(b.Study.Roof.Frame, b.Study.Roof.Units) }

// level returns an elevation [m] in units of the last decimal.
func (g *Grid) level(z float64) int64 { return int64(math.Round(float64(z/g.rise) * g.scale)) }

// fix returns the output coordinates of p in units of the last decimal.
func (g *Grid) fix(p orb.Point) (x, y int64) {
	q := g.back.ToFile(p)
	return int64(math.Round(q[0] * g.scale)), int64(math.Round(q[1] * g.scale))
}

// Number returns a coordinate or elevation, given in units of the last decimal, in the file's unit.
func (g *Grid) Number(n int64) float64 { return float64(n) / g.scale }
