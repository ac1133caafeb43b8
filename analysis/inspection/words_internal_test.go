package inspection

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// TestStrip: the strip of a straight line has its length times one foot; that of two legs of 4 m at right
// angles as well, because a mitre gives on one side what it takes on the other.
func TestStrip(t *testing.T) {
	line := orb.LineString{{1, 2}, {4, 6}} // 5 m
	ring := strip(line)
	if got := planar.Area(orb.Polygon{ring}); !(math.Abs(got-5*0.3048) <= 1e-9) || ring.Orientation() != orb.CCW {
		t.Errorf("area %g, want %g; orientation %v", got, 5*0.3048, ring.Orientation())
	}
	bent := strip(through(orb.LineString{{0, 4}, {0, 0}}, orb.LineString{{0, 4}, {4, 4}}))
	if got := planar.Area(orb.Polygon{bent}); !(math.Abs(got-8*0.3048) <= 1e-9) {
		t.Errorf("bent: area %g, want %g", got, 8*0.3048)
	}
	for _, p := range []orb.Point{{0, 0.01}, {0, 4}, {3.99, 4}} {
		if !planar.RingContains(bent, p) {
			t.Errorf("the bent strip does not hold %v", p)
		}
	}
}

// TestHalf: half way along two legs of 3 and 5 m is 4 m from the start.
func TestHalf(t *testing.T) {
	got := half(orb.LineString{{0, 0}, {3, 0}, {3, 5}})
	if !(math.Hypot(got[0]-3, got[1]-1) <= 1e-12) {
		t.Errorf("got %v, want (3, 1)", got)
	}
}
