package taper_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
)

// TestFoldsShowThroughBoards: of a ridge from (2, 4) to (18, 6) all stays, 16 m along the wall, since boards follow what they are laid on: level as far as the cut line at x = 12 m, up 2 % over the boards' 2.4 m, and
// level again 48 mm higher. What bounds new work is named by its number.
func TestFoldsShowThroughBoards(t *testing.T) {
	r := level(20, 10)
	shape.Spot(r, 6, 4.5, 0)
	shape.Spot(r, 10, 5, 0)
	shape.Breakline(r, roof.Ridge, shape.At(2, 4, 0), shape.At(18, 6, 0))
	s := built(t, r)
	d, _ := sectioned(t, s, 2.4, taper.Courses{Taper: 0.02, Fall: 0.0001, Within: 0.003})
	kept, fresh := 0.0, 0
	for _, b := range d.Roof(r, s).Breaklines {
		if strings.HasPrefix(b.ID, "F") && b.Origin.File == "design" {
			fresh++
			if b.ID != fmt.Sprintf("F%d", b.Origin.Feature) || b.Origin.ID != b.ID {
				t.Errorf("%q comes from %+v", b.ID, b.Origin)
			}
			continue
		}
		for i := 1; i < len(b.Line); i++ {
			p, q := b.Line[i-1].Plan, b.Line[i].Plan
			kept += q[0] - p[0]
			if up := 0.02 * math.Min(2.4, math.Max(0, q[0]-12)); !(math.Abs(q[1]-(4+(q[0]-2)/8)) <= 1e-4) || !(math.Abs(b.Line[i].Z-up) <= 1e-6) {
				t.Errorf("%v lies off the ridge", b.Line[i])
			}
		}
	}
	near(t, "kept", kept, 16, 1e-4)
	if fresh == 0 {
		t.Error("no line bounds the new work")
	}
}

// TestLinesOfALayingFallAsBoardsDo: four ways on a level roof the boards' thickness goes with the greater of two distances, so where two sections meet it rises 0.02 over each root of 2 of the way.
func TestLinesOfALayingFallAsBoardsDo(t *testing.T) {
	r := level(20, 10)
	drain(r, 10, 5, 0)
	d := laid(t, r, taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003})
	length := 0.0
	for _, l := range d.Lines {
		a, b := d.Vertices[l.A], d.Vertices[l.B]
		near(t, "length", l.Length, math.Hypot(b.Plan[0]-a.Plan[0], b.Plan[1]-a.Plan[1]), 1e-9)
		near(t, "slope", l.Slope, 0.02/math.Sqrt2, 1e-6)
		length += l.Length
	}
	near(t, "four lines of 5 root 2 m", length, 20*math.Sqrt2, 1e-3)
}

// TestLowPlacesAddUp: two corners of a roof, of which one is the first vertex, are 10 and 6 mm low over facets whose area only the mesh tells: the places that are levelled take together what the leveller takes, each is as deep as its
// corner is low, and the deepest stands there.
func TestLowPlacesAddUp(t *testing.T) {
	r := level(20, 10)
	gutter(r)
	r.Edges[0].Line = []roof.Position{shape.At(20, 10, 0), shape.At(0, 10, 0)}
	low := func(i int, z float64) {
		for k := range r.Outline.Rings[0] {
			if p := &r.Outline.Rings[0][k]; p.Plan == r.Outline.Rings[0][i].Plan {
				p.Z = z
			}
		}
	}
	low(0, -0.010)
	low(1, -0.006)
	for _, p := range [][2]float64{{3, 0}, {0, 2}, {2, 2}, {17, 0}, {20, 2}, {18, 2}, {10, 5}} {
		shape.Spot(r, p[0], p[1], 0)
	}
	n := laid(t, r, taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003}).Leveller
	volume, area := 0.0, 0.0
	for _, p := range n.Places {
		volume, area = volume+p.Volume, area+p.Area
	}
	near(t, "volume", volume, n.Volume, 1e-9)
	near(t, "area", area, n.Area, 1e-9)
	if len(n.Places) != 2 || n.Volume < 0.01 {
		t.Fatalf("%+v", n)
	}
	near(t, "first", n.Places[0].Deepest, 0.010, 2e-5)
	near(t, "second", n.Places[1].Deepest, 0.006, 2e-5)
	near(t, "deepest", n.Deepest, 0.010, 2e-5)
	if n.At != n.Places[0].At || !(math.Hypot(n.At[0], n.At[1]) <= 1e-6) {
		t.Errorf("deepest at %v", n.At)
	}
}
