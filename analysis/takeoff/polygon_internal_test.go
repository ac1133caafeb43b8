package takeoff

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// By hand: over 4 by 2 m a thickness of 0.1 m at (0, 0) that grows by 2 % east and 1 % north is 0.1 + 0.04 + 0.01 m at the middle, whichever corner
// comes first; over a triangle it is that at the mean of its corners, here (3, 1).
func TestVolumeOfAPlaneOverAPolygon(t *testing.T) {
	f := flat{t: 0.1, g: orb.Point{0.02, 0.01}}
	for _, c := range []struct {
		ring   orb.Ring
		volume float64
	}{
		{orb.Ring{{0, 0}, {4, 0}, {4, 2}, {0, 2}, {0, 0}}, 8 * (0.1 + 0.02*2 + 0.01*1)},
		{orb.Ring{{4, 0}, {4, 2}, {0, 2}, {0, 0}, {4, 0}}, 8 * (0.1 + 0.02*2 + 0.01*1)},
		{orb.Ring{{1, 0}, {4, 0}, {4, 3}, {1, 0}}, 4.5 * (0.1 + 0.02*3 + 0.01*1)},
	} {
		_, volume := f.over(orb.Polygon{c.ring})
		if !(math.Abs(volume-c.volume) <= 1e-12) {
			t.Errorf("%v: %g m3, want %g", c.ring, volume, c.volume)
		}
	}
}

// Only neighbours that are cut to measure for one reason, over one kind of base and for one use are told as one.
func TestFieldsThatAreToldAsOne(t *testing.T) {
	why, other := finding.Say("no plane lies under it"), finding.Say("nobody stocks its taper")
	field := Field{Why: why}
	for name, c := range map[string]struct {
		second Field
		want   bool
	}{
		"the same":    {field, true},
		"laid":        {Field{Laid: true, Why: why}, false},
		"use":         {Field{Use: "other", Why: why}, false},
		"on the mesh": {Field{Mesh: true, Why: why}, false},
		"reason":      {Field{Why: other}, false},
	} {
		o := &TakeOff{Fields: []Field{field, c.second}}
		if o.alike(0, 1) != c.want || o.alike(1, 0) != c.want {
			t.Errorf("%s: alike %v", name, !c.want)
		}
	}
}
