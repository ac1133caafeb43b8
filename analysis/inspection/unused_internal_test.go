package inspection

import (
	"testing"

	"runnel/analysis/bounds"
	"runnel/analysis/catchment"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// A roof of 200 m2 is level between two drains and, as surveyed, runs to one. A range of the other's that is wider than 0.05 of the roof, 10 m2, leaves open whether
// water runs to it; one of 9 m2 or none does not.
func TestUnusedOutletThatIsOpen(t *testing.T) {
	r := shape.New("level", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 10, 0), shape.At(0, 10, 0))
	shape.Grid(r, 0, 0, 20, 10, 10, 5, func(_, _ float64) float64 { return 0 })
	for _, x := range []float64{5, 15} {
		o := shape.Drain(r, x, 5, 0.3)
		o.Invert, o.HasInvert, o.Duty = 0, true, roof.Primary
	}
	s := shape.Build(t, r)
	in := &inspector{Results: &Results{
		Roof: r, Surface: s, Criteria: standard.Defaults(), Ponds: &ponding.Ponds{},
		Catchments: &catchment.Catchments{Full: []catchment.Catchment{{Outlet: 0, Area: 200}}},
	}}
	for _, c := range []struct {
		ranges     []bounds.Range
		confidence finding.Confidence
		says       int // arguments of what is said: the outlet, and up to how much
	}{
		{nil, finding.Shown, 1},
		{[]bounds.Range{{Low: 191, High: 200}, {Low: 0, High: 9}}, finding.Shown, 1},
		{[]bounds.Range{{Low: 189, High: 200}, {Low: 0, High: 11}}, finding.NotResolved, 2},
		{[]bounds.Range{{Low: 60, High: 200}, {Low: 0, High: 140}}, finding.NotResolved, 2},
	} {
		in.Bounds = nil
		if c.ranges != nil {
			in.Bounds = &bounds.Bounds{Catchments: c.ranges}
		}
		found := in.unused()
		if len(found) != 1 || found[0].Outlet != 1 || found[0].Kind != finding.OutletUnused || found[0].Confidence != c.confidence || len(found[0].What.Args) != c.says {
			t.Errorf("%v: %+v", c.ranges, found)
			continue
		}
		if c.says == 2 && found[0].What.Args[1].Value != c.ranges[1].High {
			t.Errorf("%v: up to %g", c.ranges, found[0].What.Args[1].Value)
		}
	}
}
