package inspection_test

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// On the roof of walled the spot at the primary scupper lies at 0, and the roof 10 ft up the slope at 10 ft/48 = 63.5 mm.
func TestLevelsThatDoNotFit(t *testing.T) {
	plain := walled(2 * inch)
	none(t, plain, nil, finding.RimBelowSpot, finding.SillBelowRoof, finding.OffRoof)

	low := walled(2 * inch)
	low.Outlets[0].Invert = -0.030
	if f := one(t, low, nil, finding.RimBelowSpot); f.Outlet != 0 {
		t.Errorf("it is said of outlet %d", f.Outlet)
	} else {
		close(t, "depth", f.Size, 0.030, 1e-9)
	}
	low.Outlets[0].Invert = -0.020 // an inch of a clamping ring
	none(t, low, nil, finding.RimBelowSpot)

	// The wall's foot is drawn straight between corners that stand 80 mm high, and no spot was shot within 1.5 m of it: the roof falls at 1/48 to the scupper's floor, and
	// the nearest spots, 5 ft before the wall, lie at 5 ft/48 = 32 mm, 48 below the foot.
	far := walled(2 * inch)
	far.Spots = slices.DeleteFunc(far.Spots, func(s roof.Spot) bool { return s.Plan[1] < 1 })
	for i := range far.Outline.Rings[0] {
		if p := &far.Outline.Rings[0][i]; p.Plan[1] == 0 {
			p.Z = 0.080
		}
	}
	if f := one(t, far, nil, finding.RimBelowSpot); f.Outlet != 0 || f.Confidence != finding.NotResolved {
		t.Errorf("outlet %d, %v", f.Outlet, f.Confidence)
	} else {
		close(t, "height", f.Size, 0.080, 1e-6)
	}
	none(t, far, nil, finding.OutletUnused)

	sills := walled(2 * inch)
	add := func(x, y, z float64) {
		s := roof.Sill{Label: "door", Position: roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true}}
		sills.Sills = append(sills.Sills, s)
	}
	add(20*feet, 10*feet, 0.020) // 43.5 mm below the roof
	add(20*feet, 10*feet, 0.060) // 3.5 mm: within what a level is good to
	add(-0.3, 10*feet, 0.500)    // in the doorway, beside the outline
	add(-5, 10*feet, 0.500)      // 5 m off
	close(t, "depth", one(t, sills, nil, finding.SillBelowRoof).Size, 10*feet/48-0.020, 1e-6)
	if f := one(t, sills, nil, finding.OffRoof); f.Geometry != (orb.Point{-5, 10 * feet}) {
		t.Errorf("off the roof: %v", f.Geometry)
	}
}
