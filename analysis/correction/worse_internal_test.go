package correction

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/slope"
	"runnel/analysis/study"
)

// TestFlatRoofAsFoundIsNotMore: of a level roof every plane fails, and where nothing was changed none of it is more than before; where a spot in the
// middle of it goes up by 20 mm, all that is joined to the plane counts.
func TestFlatRoofAsFoundIsNotMore(t *testing.T) {
	d := weighed(t)
	all := make([]int32, d.s.TIN.Facets())
	for i := range all {
		all[i] = int32(i)
	}
	level := slope.Plane{Facets: all, Area: 100, BelowMin: true, Resolved: true, Spots: 8}
	level.Outline = orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}
	s := &study.Study{Surface: d.s, Slopes: &slope.Slopes{Planes: []slope.Plane{level}}}
	if area, _ := d.flatChanged(s); area != 0 {
		t.Errorf("%g m2 of the roof as found count as new", area)
	}
	tin := *d.s.TIN
	tin.Z = append([]float64(nil), tin.Z...)
	for v := range tin.Z {
		if tin.X[v] == 3 && tin.Y[v] == 5 {
			tin.Z[v] += 0.020
		}
	}
	surface := *d.s
	surface.TIN = &tin
	s.Surface = &surface
	if area, _ := d.flatChanged(s); area != 100 {
		t.Errorf("%g m2 count where a spot was raised, want 100", area)
	}
}
