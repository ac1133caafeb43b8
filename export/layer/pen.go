package layer

import (
	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// Pen makes features of things that are no layer of a study, one after the other, for the writers of the map. Their places are in plan.
type Pen struct{ w builder }

// NewPen returns a pen that hands what it makes to take, in the coordinates of a frame and a unit.
func NewPen(f roof.Frame, unit quantity.Unit, take func(*Feature)) *Pen {
	return &Pen{builder{grid: newGrid(f, unit), take: take}}
}

// Grid returns the coordinates in which features are made.
func (p *Pen) Grid() *Grid { return p.w.grid }

// Open begins a feature and returns its facts, which hold layer, id and title so far.
func (p *Pen) Open(layer, id, title string) *record.Object {
	p.w.open(layer, id, title)
	return &p.w.props
}

// Point sets the feature at a place.
func (p *Pen) Point(at orb.Point) { p.w.point(at, unknown) }

// Line sets the feature along a line.
func (p *Pen) Line(l []orb.Point) { p.w.line(l, func(int) (float64, bool) { return 0, false }) }

// Polygon sets the feature over a ring, less those that follow.
func (p *Pen) Polygon(rings ...orb.Ring) { p.w.polygons(orb.MultiPolygon{rings}, unknown) }

// Close ends the feature with its style and hands it over.
func (p *Pen) Close(s Style) { p.w.close(s) }
