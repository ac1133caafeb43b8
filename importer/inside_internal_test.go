package importer

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// By hand: an outline of 20 by 12 m is 65.6 by 39.4 ft; places in feet are on it up to half a metre, 1.64 ft, beyond its edge.
func TestPlacesInFeetOnAnOutlineInMetres(t *testing.T) {
	corner := func(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }
	outline := roof.Outline{Rings: [][]roof.Position{{corner(0, 0), corner(20, 0), corner(20, 12), corner(0, 12), corner(0, 0)}}}
	metres := &source{set: draft.Setting{Unit: quantity.Metres}, draft: &draft.Draft{Outlines: []draft.Outline{{Outline: outline}}}}
	feet := &source{set: draft.Setting{Unit: quantity.Feet}, draft: &draft.Draft{}}
	on := insideOf([]*source{metres, feet}, feet)
	for place, want := range map[orb.Point]bool{
		{60, 30}: true, {30, 38}: true, {67, 30}: true, {67.5, 30}: false, {30, 40.9}: true, {30, 41.2}: false, {-1.6, 10}: true, {-1.7, 10}: false,
	} {
		if got := on(place); got != want {
			t.Errorf("%v ft: %v, want %v", place, got, want)
		}
	}
}
