package place_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/place"
	"runnel/analysis/roof"
)

// TestCompass: x is east and y north; a direction belongs to the nearest of eight.
func TestCompass(t *testing.T) {
	for _, c := range []struct {
		dx, dy float64
		want   string
	}{
		{1, 0, "east"},
		{1, 0.4, "east"},
		{1, 0.45, "north-east"},
		{0, 1, "north"},
		{-1, 1, "north-west"},
		{-1, -0.1, "west"},
		{-1, -1, "south-west"},
		{0.1, -1, "south"},
		{1, -1, "south-east"},
	} {
		if got := vector.Compass(c.dx, c.dy); got != c.want {
			t.Errorf("(%g, %g): %s, want %s", c.dx, c.dy, got, c.want)
		}
	}
}

// plain fills a text with decimetres and names as they stand.
func plain(t finding.Text) string {
	return t.Fill(func(q finding.Quantity) string {
		if q.Dim == finding.Name {
			return q.Word
		}
		return fmt.Sprintf("%.1f m", q.Value)
	})
}

// level returns a roof with these corners at elevation 0, with spots at the corners.
func level(corners ...orb.Point) *roof.Roof {
	ring := make([]roof.Position, len(corners))
	for i, c := range corners {
		ring[i] = shape.At(c[0], c[1], 0)
	}
	r := shape.New("level", ring...)
	r.Outline.Edge = roof.Wall
	for _, c := range corners {
		shape.Spot(r, c[0], c[1], 0)
	}
	return r
}

func finder(t *testing.T, r *roof.Roof) *place.Finder {
	t.Helper()
	s := shape.Build(t, r)
	return place.New(r, s.TIN, s.Outlets)
}

// said fails where a place is not said in those words.
func said(t *testing.T, f *place.Finder, x, y float64, want string) {
	t.Helper()
	if got := plain(f.Of(orb.Point{x, y})); got != want {
		t.Errorf("(%g, %g): %q, want %q", x, y, got, want)
	}
}

// A rectangle of 20 m by 10 m with a curb from (8, 4) to (10, 6), a drain at (15, 5) and a gutter on the south side. By hand: square distances
// are the coordinates; next to the curb its near face counts.
func TestRectangle(t *testing.T) {
	r := level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 10}, orb.Point{0, 10})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	shape.Curb(r, shape.At(8, 4, 0), shape.At(10, 4, 0), shape.At(10, 6, 0), shape.At(8, 6, 0))
	r.Curbs[0].Label = "RTU-1"
	shape.Drain(r, 15, 5, 0.3).Label = "RD-1"
	f := finder(t, r)
	said(t, f, 1, 2, "1.0 m from the west wall, 2.0 m from the south gutter")
	said(t, f, 11, 5, "5.0 m from the south gutter, 9.0 m from the east wall; 1.0 m east of RTU-1")
	said(t, f, 15, 6.5, "3.5 m from the north wall, 5.0 m from the east wall; 1.5 m north of RD-1")
	said(t, f, 15.1, 5, "at RD-1")
	said(t, f, 9, 3.9, "3.9 m from the south gutter, 9.0 m from the west wall; at RTU-1")
	said(t, f, 0, 2.5, "at the west wall, 2.5 m from the south gutter")
}

// An L of 20 m by 15 m without its upper right 12 m by 9 m: two walls face north and two east, told apart by their lengths of 12 and 8 m, and of
// 9 and 6 m. From (4, 12) the east wall of the upper leg is reached at x = 8; from (15, 3) the one at x = 20. The way square to the upper
// leg's north wall from (15, 3) ends outside, so that the notch's counts.
func TestL(t *testing.T) {
	f := finder(t, level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 6}, orb.Point{8, 6}, orb.Point{8, 15}, orb.Point{0, 15}))
	said(t, f, 7, 13, "1.0 m from the 9.0 m long east wall, 2.0 m from the 8.0 m long north wall")
	said(t, f, 18, 5, "1.0 m from the 12.0 m long north wall, 2.0 m from the 6.0 m long east wall")
	said(t, f, 4.5, 4, "4.0 m from the south wall, 4.5 m from the west wall")
	said(t, f, 3, 2, "2.0 m from the south wall, 3.0 m from the west wall")
}

// A U whose arms are alike: both north walls are 4 m long, and the part of the roof tells them apart.
func TestU(t *testing.T) {
	f := finder(t, level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 12}, orb.Point{16, 12}, orb.Point{16, 4}, orb.Point{4, 4}, orb.Point{4, 12}, orb.Point{0, 12}))
	said(t, f, 1.5, 11, "1.0 m from the 4.0 m long north wall in the west, 1.5 m from the 12.0 m long west wall")
	said(t, f, 18.5, 11, "1.0 m from the 4.0 m long north wall in the east, 1.5 m from the 12.0 m long east wall")
}

// The rectangle turned by 30 degrees to the left: its long lower side faces east of south (its outward normal has a bearing of 150 degrees,
// nearest to south-east), its short left side south of west (240 degrees: south-west). Distances turn with it.
func TestTurned(t *testing.T) {
	turn := func(x, y float64) orb.Point {
		c, s := math.Sqrt(3)/2, 0.5
		return orb.Point{c*x - s*y, s*x + c*y}
	}
	f := finder(t, level(turn(0, 0), turn(20, 0), turn(20, 10), turn(0, 10)))
	p := turn(3, 2)
	said(t, f, p[0], p[1], "2.0 m from the south-east wall, 3.0 m from the south-west wall")
}

// A right triangle whose long side lies askew. At (1, 1) both legs are 1 m away. A curb with a corner in a triangle does not matter to walls.
func TestTriangle(t *testing.T) {
	f := finder(t, level(orb.Point{0, 0}, orb.Point{12, 0}, orb.Point{0, 5}))
	said(t, f, 2, 1, "1.0 m from the south wall, 2.0 m from the west wall")
}

// A long lozenge: no second wall can be reached square from near its sharp east end, so the way along the first counts.
// The lower right side runs from (0, -1) to (20, 0); from its foot the east end is nearer.
func TestAlongTheWall(t *testing.T) {
	f := finder(t, level(orb.Point{-20, 0}, orb.Point{0, -1}, orb.Point{20, 0}, orb.Point{0, 1}))
	// By hand: the direction of the side is (20, 1)/20.025; from (0, -1) to (17, -0.05) it is (17*20+0.95)/20.025 = 17.03 along, 3.0 from the end.
	said(t, f, 17, -0.05, "at the 20.0 m long south wall in the east, 3.0 m along it from its east end")
}

// A circle has no wall to measure from: the drain, however far, and without one the corner that is farthest west.
func TestRound(t *testing.T) {
	var ring []orb.Point
	for k := range 120 {
		a := 2 * math.Pi * float64(k) / 120
		ring = append(ring, orb.Point{10 * math.Cos(a), 10 * math.Sin(a)})
	}
	r := level(ring...)
	said(t, finder(t, r), -7, 0, "3.0 m east of the roof's west end")
	shape.Drain(r, 9, 0, 0.3).Label = "RD {0} 50%"
	said(t, finder(t, r), -7, 0, "16.0 m west of RD {0} 50%")
}
