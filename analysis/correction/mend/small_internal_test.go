package mend

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// By hand, with a main edge along (0.8, 0.6): 5 m to the east are 4 m along it and 3 m to its right, and back again.
func TestAlongTheMainEdgeAndBack(t *testing.T) {
	d := &Designer{Domain: &domain.Domain{Axis: orb.Point{0.8, 0.6}}}
	for p, want := range map[orb.Point]orb.Point{{5, 0}: {4, -3}, {0, 5}: {3, 4}, {8, 6}: {10, 0}, {-2, -9}: {-7, -6}} {
		u := d.Turned(p)
		q := d.Back(u)
		if !(math.Hypot(u[0]-want[0], u[1]-want[1]) <= 1e-12) || !(math.Hypot(q[0]-p[0], q[1]-p[1]) <= 1e-12) {
			t.Errorf("%v mendtest.Lies at %v, want %v, and back at %v", p, u, want, q)
		}
	}
}

// Places round another stand on its circle, every 30 degrees to the left from east, whatever their order; a line's length and the square of a distance by hand.
func TestPlacesRound(t *testing.T) {
	seen := map[int]bool{}
	for k := range turns {
		q := around(orb.Point{5, -2}, k, 2)
		angle := math.Atan2(q[1]+2, q[0]-5) * 180 / math.Pi
		if !(math.Abs(math.Hypot(q[0]-5, q[1]+2)-2) <= 1e-12) || !(math.Abs(angle-30*math.Round(angle/30)) <= 1e-9) {
			t.Errorf("place %d is %v", k, q)
		}
		seen[int(math.Round(angle/30)+12)%12] = true
	}
	if len(seen) != 12 {
		t.Errorf("%d places", len(seen))
	}
	if got := LineLength(orb.LineString{{0, 0}, {3, 4}, {3, 10}}); got != 11 {
		t.Errorf("length %g", got)
	}
	if got := vector.DistanceSquared(orb.Point{1, 7}, orb.Point{4, 3}); got != 25 {
		t.Errorf("square %g", got)
	}
	ring := orb.LineString{{0, 0}, {2, 0.005}, {4, 0}, {4, 3}, {2, 3.02}, {0, 3}, {0, 0}}
	if got := corners(ring); !slices.Equal(got, orb.LineString{{0, 0}, {4, 0}, {4, 3}, {2, 3.02}, {0, 3}, {0, 0}}) {
		t.Errorf("corners %v", got)
	}
}

// By hand, a channel 5 m from (1, 2) to (4, 6) at 0.1 m that falls 1 %: its floor ends at 50 mm, and a place a metre to either side stands 1/24 m higher.
func TestSidesOfAChannel(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{4, 6}
	at := func(p *taper.Patch, q orb.Point) float64 {
		return p.Z + p.DX*(q[0]-p.Plan[0]) + p.DY*(q[1]-p.Plan[1])
	}
	sides := trench(a, b, 0.1, 0.01)
	if len(sides) != 2 {
		t.Fatalf("%d sides", len(sides))
	}
	for i, sign := range []float64{1, -1} {
		p := &sides[i]
		n := orb.Point{-0.8 * sign, 0.6 * sign} // to the left, to the right
		for q, want := range map[orb.Point]float64{a: 0.1, b: 0.05, {a[0] + n[0], a[1] + n[1]}: 0.1 + 1.0/24, {b[0] + n[0], b[1] + n[1]}: 0.05 + 1.0/24} {
			if got := at(p, q); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("side %d at %v: %g, want %g", i, q, got, want)
			}
		}
		ring := orb.Ring(append(slices.Clone(p.On), p.On[0]))
		if ring.Orientation() != orb.CCW || !slices.Contains(p.On, orb.Point{a[0] + 1.2*n[0], a[1] + 1.2*n[1]}) {
			t.Errorf("side %d mendtest.Lies on %v", i, p.On)
		}
	}
}

// By hand, the sides of the same channel: two rectangles of 5 by 1.2 m, counter-clockwise, one on either side of its line and both along it.
func TestWhereSidesOfAChannelLie(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{4, 6}
	for k, p := range trench(a, b, 0.1, 0.01) {
		if len(p.On) != 4 {
			t.Fatalf("%v", p.On)
		}
		area := 0.0
		for i, q := range p.On {
			n := p.On[(i+1)%4]
			area += (q[0]*n[1] - n[0]*q[1]) / 2
			along := ((q[0]-a[0])*3 + (q[1]-a[1])*4) / 5
			left := ((q[1]-a[1])*3 - (q[0]-a[0])*4) / 5
			if along < -1e-9 || along > 5+1e-9 || (k == 0) != (left > -1e-9) && math.Abs(left) > 1e-9 || math.Abs(left) > 1.2+1e-9 {
				t.Errorf("side %d has a corner %g m along and %g m to the left", k, along, left)
			}
		}
		if !(math.Abs(area-6) <= 1e-9) {
			t.Errorf("side %d has %g m2", k, area)
		}
	}
}

// What a section of stock boards takes, by hand, on a level row of places 0.5 m apart and 2 m wide: from a cut line at 1 m boards of 2 % over 3 m, flat ones beyond: 21 m of distance at 2 % over ten square metres. Beyond 3 m it must still fall 8 mm a metre: the second of four places there lacks 4 mm, and the next two 8 and 12.
func TestWhatASectionTakes(t *testing.T) {
	g := &ground{step: 0.5, wide: 2, rows: [][]float64{make([]float64, 12)}}
	s := laidSection{ground: g, front: 1, taper: 0.02, run: 3}
	s.try(0.008)
	mendtest.About(t, "area", s.area, 10)
	mendtest.About(t, "taken", s.taken, 0.02*21+LevellerCounts*(0.004+0.008+0.012+3*thinLevel))
	s = laidSection{ground: g, front: 1, taper: 0.02, run: 30}
	s.try(0.008)
	mendtest.About(t, "taken by boards that run on", s.taken, 0.02*25)
}

// Boards may begin 5 cm before an outlet, or before a point of a gutter, and not beyond it.
func TestOutletsBeyondACutLine(t *testing.T) {
	g := &ground{up: orb.Point{0.6, 0.8}}
	for front, want := range map[float64]bool{5: false, 4.96: false, 4.94: true, -9: true} {
		for _, o := range []surface.Outlet{{Plan: orb.Point{3, 4}}, {Plan: orb.Point{-30, -40}, Line: orb.LineString{{-30, -40}, {3, 4}}}} {
			if got := g.stands(&surface.Surface{Outlets: []surface.Outlet{o}}, front); got != want {
				t.Errorf("a cut line at %g, an outlet at 5: beyond %v", front, got)
			}
		}
	}
}

// The new surface over a step, by hand: from 1 m on its crest 10 mm up along it a metre, 20 mm a metre up the roof, and down as steeply as a channel's side before it.
func TestSurfaceOverAStep(t *testing.T) {
	e := &ease{crest: &crest{z: 1, e: 0.01}, fall: 0.02}
	mendtest.About(t, "up", e.at(2, 3), 1.07)
	mendtest.About(t, "at the crest", e.at(0, -3), 0.97)
	mendtest.About(t, "before it", e.at(-0.24, 3), 1.03-0.01)
}

// Of a rise under 5 cm long, which one spot shows, no length is told.
func TestLengthOfARise(t *testing.T) {
	for long, told := range map[float64]bool{0.049: false, 0.051: true, 2: true} {
		what := finding.Say("Take off the rise, {0} high and {1} long, down", finding.MM("high", 0.02), finding.Metres("length", long))
		if atOneSpot(&what); strings.Contains(what.Format, "long") != told {
			t.Errorf("%g m: %s", long, what.Format)
		}
	}
}
