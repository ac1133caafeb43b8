package layer_test

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
)

// Roofs of a campus, each at its place: on a site grid in the unit of the file, whatever the unit of its own; those of the other kind of frame without a place.
func TestRoofsOfACampus(t *testing.T) {
	square := orb.Polygon{{{0, 0}, {0, 3.048}, {3.048, 3.048}, {3.048, 0}, {0, 0}}}
	feet, metres, degrees := roof.NewLocal(orb.Point{100, 200}, quantity.Feet), roof.NewLocal(orb.Point{50, 60}, quantity.Metres), roof.NewGeographic(orb.Point{-12.5, 41.25})
	for _, c := range []struct {
		name  string
		local bool
		unit  quantity.Unit
		frame roof.Frame
		own   quantity.Unit
		x, y  []float64 // of the corners, by hand: 3.048 m are 10 ft; nil where it has no place
	}{
		{"feet in feet", true, quantity.Feet, feet, quantity.Feet, []float64{100, 110}, []float64{200, 210}},
		{"metres in feet", true, quantity.Feet, metres, quantity.Metres, []float64{50 / 0.3048, 50/0.3048 + 10}, []float64{60 / 0.3048, 60/0.3048 + 10}},
		{"feet in metres", true, quantity.Metres, feet, quantity.Feet, []float64{30.48, 33.528}, []float64{60.96, 64.008}},
		{"degrees in feet", true, quantity.Feet, degrees, quantity.Metres, nil, nil},
		{"feet in degrees", false, quantity.Metres, feet, quantity.Feet, nil, nil},
		// A degree of latitude at 41.25 is some 111.07 km on WGS 84, one of longitude some 83.8 km: 3.048 m are 0.0000274 and 0.0000364.
		{"degrees in degrees", false, quantity.Metres, degrees, quantity.Metres, []float64{-12.5, -12.4999636}, []float64{41.25, 41.2500274}},
	} {
		n := 0
		grid := layer.CampusGrid(c.local, c.unit)
		take := layer.Roofs(c.local, c.unit, func(f *layer.Feature) {
			n++
			got := taken(t, f, grid)
			facts(t, &got, map[string]any{"layer": "outline", "id": "A", "title": "Roof A", "ponds": 3.0})
			if c.x == nil {
				if got.shape.Kind != layer.None || len(got.shape.Positions) > 0 {
					t.Errorf("%s: has a place", c.name)
				}
				return
			}
			if got.shape.Kind != layer.Polygon || area(got.shape.Ring(0)) <= 0 {
				t.Errorf("%s: no ring that turns counter-clockwise", c.name)
				return
			}
			for i := range got.shape.Positions {
				x, y, _ := got.place(i)
				if got.shape.Positions[i].HasZ || !near(c.x, x) || !near(c.y, y) {
					t.Errorf("%s: a corner at %v, %v", c.name, x, y)
				}
			}
		})
		var properties record.Object
		properties.Int("ponds", 3)
		take(&layer.Outline{ID: "A", Title: "Roof A", Frame: c.frame, Units: c.own, Rings: square, Properties: &properties})
		if n != 1 {
			t.Errorf("%s: %d features", c.name, n)
		}
	}
	var none record.Object
	layer.Roofs(true, quantity.Metres, func(f *layer.Feature) {
		if f.Shape.Kind != layer.None {
			t.Error("a roof that could not be read has a place")
		}
	})(&layer.Outline{ID: "B", Properties: &none})
}

// A roof of a campus is coloured by the worst that was found on it, the worst first in the key.
func TestRoofsAreColouredByTheWorst(t *testing.T) {
	var none record.Object
	for _, c := range []struct {
		worst  finding.Severity
		any    bool
		name   string
		fill   string
		first  int // its place in the key: the smallest comes first
		dimmed bool
	}{
		{finding.Urgent, true, "urgent", palette.Urgent, -int(finding.Urgent), false},
		{finding.Repair, true, "repair", palette.Repair, -int(finding.Repair), false},
		{finding.Note, true, "note", palette.Note, -int(finding.Note), false},
		{finding.Urgent, false, "no finding", palette.Primary, 1, true},
	} {
		layer.Roofs(true, quantity.Metres, func(f *layer.Feature) {
			if s := f.Style; s.Name != c.name || s.Fill != c.fill || s.Class != c.first || s.Opacity < 0.5 != c.dimmed {
				t.Errorf("%s: %+v", c.name, s)
			}
		})(&layer.Outline{Worst: c.worst, Any: c.any, Properties: &none})
	}
}
