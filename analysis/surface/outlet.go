package surface

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/roof"
	"runnel/analysis/surface/settle"
)

// Sizes below which a footprint is not drawn smaller [m].
const leastFootprint = 0.01

// layout is the outlets being laid onto the TIN.
type layout struct {
	*settle.Ground
	r       *roof.Roof
	s       *Surface
	cut     *cutter
	locate  *Locator
	outlets []Outlet
	rings   [][]corner // per outlet, of drains
	ends    [][2]int32 // per outlet, of scuppers: first and last vertex along the border
}

// layOutlets cuts the footprints of all outlets into a copy of the TIN.
func (s *Surface) layOutlets(g *settle.Ground, r *roof.Roof) error {
	l := &layout{Ground: g, r: r, s: s, cut: newCutter(s.TIN)}
	if len(r.Outlets) > 0 {
		l.locate = newLocatorIn(s.TIN, drainBoxes(r))
	}
	for i := range r.Outlets {
		if err := l.lay(i); err != nil {
			return err
		}
	}
	if err := g.Refusal(); err != nil {
		return err
	}
	l.cut.indexOut()
	l.cut.mendSigns()
	s.Cut = l.cut.TIN
	l.layEdges()
	l.collectDrains()
	l.collectBorders()
	l.name()
	s.Outlets = l.outlets
	all := s.Cut.twiceAreas()
	s.Area = float64(all) / (2 * geometry.PerMetre * geometry.PerMetre)
	return s.checkCut(all, l.cut.grown)
}

// drainBoxes returns boxes in which the footprints of drains lie.
func drainBoxes(r *roof.Roof) []orb.Bound {
	var boxes []orb.Bound
	for i := range r.Outlets {
		if o := &r.Outlets[i]; o.Type == roof.Drain {
			boxes = append(boxes, o.Plan.Bound().Pad(math.Max(float64(o.Bowl), leastFootprint)))
		}
	}
	return boxes
}

// lay puts outlet i of the roof onto the TIN and cuts its footprint.
func (l *layout) lay(i int) error {
	o := &l.r.Outlets[i]
	out := Outlet{Source: i, Type: o.Type, Duty: o.Duty, Label: o.Label, Plan: o.Plan}
	var ring []corner
	ends := [2]int32{-1, -1}
	if o.Type == roof.Drain {
		var ok bool
		if out.Plan, ok = l.onRoof(i, o.Plan); !ok {
			return nil
		}
		ring = bowl(out.Plan, float64(o.Bowl))
		if err := l.cut.cutRing(l.locate, posed(ring, l.s.TIN.Pose)); err != nil {
			return err
		}
	} else {
		var ok bool
		if out.Plan, ends, ok = l.laySlot(i, o); !ok {
			return nil
		}
	}
	l.outlets, l.rings, l.ends = append(l.outlets, out), append(l.rings, ring), append(l.ends, ends)
	return nil
}

// onRoof returns a drain's place, on the border when it is near that from outside, and refuses one off the roof.
func (l *layout) onRoof(i int, p orb.Point) (orb.Point, bool) {
	if _, ok := l.locate.Locate(p[0], p[1]); ok {
		return p, true
	}
	if e, t, far := l.cut.border.nearest(p, 0); far <= l.OnLine() {
		return l.s.TIN.along(e, t), true
	}
	if l.InOutline(p) {
		l.RefuseOutlet(i, p, l.OutletName(i)+" stands inside a curb", "move the outlet or mend the curb")
	} else {
		l.RefuseOutlet(i, p, l.OutletName(i)+" stands outside the roof", "move it onto the roof or leave it out")
	}
	return p, false
}
