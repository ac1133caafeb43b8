package correction

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/slope"
	"runnel/analysis/study"
)

// TestFlatRoofAsFoundIsNotMore: of a level roof every plane fails, and where nothing was changed none of it is more than before; where a spot in the
// middle of it goes up by 20 mm, the facets at that spot count, if they lay on no such plane before.
func TestFlatRoofAsFoundIsNotMore(t *testing.T) {
	d := weighed(t)
	all := make([]int32, d.Surface.TIN.Facets())
	for i := range all {
		all[i] = int32(i)
	}
	level := slope.Plane{Facets: all, Area: 100, BelowMin: true, Resolved: true, Spots: 8}
	level.Outline = orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}
	s := &study.Study{Surface: d.Surface, Slopes: &slope.Slopes{Planes: []slope.Plane{level}}}
	s.Criteria.MinSlope = 1 // what is raised is steep, but not steeper
	if area, _, _ := d.flatChanged(s); area != 0 {
		t.Errorf("%g m2 of the roof as found count as new", area)
	}
	tin := *d.Surface.TIN
	tin.Z = append([]float64(nil), tin.Z...)
	for v := range tin.Z {
		if tin.X[v] == 3 && tin.Y[v] == 5 {
			tin.Z[v] += 0.020
		}
	}
	surface := *d.Surface
	surface.TIN = &tin
	s.Surface = &surface
	own := *d.Study
	slopes := slope.Slopes{Plane: slices.Repeat([]int32{-1}, len(all))}
	own.Slopes, d.Study = &slopes, &own
	star := 0.0 // by the cross product of each facet at that spot
	for f := range all {
		v := tin.V[3*f : 3*f+3]
		for _, w := range v {
			if tin.X[w] == 3 && tin.Y[w] == 5 {
				star += ((tin.X[v[1]]-tin.X[v[0]])*(tin.Y[v[2]]-tin.Y[v[0]]) - (tin.X[v[2]]-tin.X[v[0]])*(tin.Y[v[1]]-tin.Y[v[0]])) / 2
			}
		}
	}
	if area, _, _ := d.flatChanged(s); star == 0 || !(math.Abs(area-star) <= 1e-9) {
		t.Errorf("%g m2 count where a spot was raised, want %g", area, star)
	}
	slopes.Planes, slopes.Plane = []slope.Plane{level}, make([]int32, len(all))
	if area, _, _ := d.flatChanged(s); area != 0 { // of a plane that was flat as found nothing is new
		t.Errorf("%g m2 of a plane that was flat count as new", area)
	}
}
