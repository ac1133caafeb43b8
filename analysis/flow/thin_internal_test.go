package flow

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/surface"
)

// By hand: 9 m from its end water's travel may be told to 9 mm where 10 mm are allowed far off and half of that at 1 m. One line replaces two pieces where it starts
// with the first and passes each of their ends within that: over a kink of 13.5 mm, whose line ends at half of what it left out at the kink; over a step of 18 mm, half of it before and half behind.
// An error that a piece has already is taken off what it may have.
func TestPiecesOfOneLine(t *testing.T) {
	v := &solver{tol: 0.01, scale: 1}
	for _, c := range []struct {
		kink, step float64 // of the travel at the middle [m]
		err        float32 // of the second piece
		count      int
		worst      float64 // error of the line
	}{
		{0.0134, 0, 0, 1, 0.009},
		{0.0136, 0, 0, 2, 0},
		{-0.0134, 0, 0, 1, 0.009},
		{-0.0136, 0, 0, 2, 0},
		{0, 0.0179, 0, 1, 0.009},
		{0, 0.0181, 0, 2, 0},
		{0, -0.0179, 0, 1, 0.009},
		{0, -0.0181, 0, 2, 0},
		{0, 0.0139, 0.004, 1, 0.009},
		{0, 0.0141, 0.004, 2, 0},
		{0, 0, 0.02, 1, 0.02},
	} {
		for _, lead := range []bool{false, true} { // of another label before them
			list := []interval{{end: 0.5, d0: 9, d1: 9 + c.kink}, {end: 1, d0: 9 + c.kink + c.step, d1: 9 + c.step, err: c.err}}
			want := c.count
			if lead {
				for i := range list {
					list[i].end = 0.5 + list[i].end/2
				}
				list = append([]interval{{end: 0.5, d0: 9, d1: 9, label: 1}}, list...)
				want++
			}
			whole := slices.Clone(list)
			got := v.thin(list)
			if len(got) != want {
				t.Errorf("%+v, behind another %v: %d pieces, want %d", c, lead, len(got), want)
				continue
			}
			if c.count == 2 {
				if !slices.Equal(got, whole) {
					t.Errorf("%+v: changed to %+v", c, got)
				}
				continue
			}
			if one := got[want-1]; one.end != 1 || one.d0 != 9 || one.label != 0 || !(math.Abs(float64(one.err)-c.worst) <= 0.0002) {
				t.Errorf("%+v, behind another %v: %+v", c, lead, one)
			}
		}
	}
	// Pieces of one straight line are one, without error; so many of them as lie on it.
	var list []interval
	for i := range 7 {
		at := func(k int) float64 { return 5 - 3*float64(k)/7 }
		list = append(list, interval{end: float64(i+1) / 7, d0: at(i), d1: at(i + 1)})
	}
	if got := v.thin(list); len(got) != 1 || got[0].end != 1 || got[0].d0 != 5 || !(math.Abs(got[0].d1-2) <= 1e-12) || !(got[0].err <= 1e-9) {
		t.Errorf("of a straight line: %+v", got)
	}
}

// Over a level triangle of sides 3, 4 and 5 whose corners all are exits the mean way is that to the nearest corner: by integration of r2 over the right triangles between
// the corners and the middles of its sides, h3/6 (sec tan + ln(sec + tan)) each, 1.34739 m. To a place 1,000 km off it is that from the centroid, and what that place has before it.
func TestMeanOverLevelGround(t *testing.T) {
	tin := &surface.TIN{V: []int32{0, 1, 2}, X: []float64{300, 302.4, 297.6, 1e6, -700}, Y: []float64{-200, -196.8, -198.2, 500, -1e6}, Z: make([]float64, 5), DX: []float64{0}, DY: []float64{0}}
	way := slices.Repeat([]int32{waySink}, 5)
	n := &Network{t: tin, way: way, level: make([]float64, 5), far: make([]float64, 5), vertex: make([]Label, 5)}
	s := &sums{Network: n, part: solver{Network: n, dist: make([]float64, 5), err: make([]float32, 5)}}
	piece := func(h, tan float64) float64 {
		sec := math.Sqrt(1 + tan*tan)
		return h * h * h / 6 * (sec*tan + math.Log(sec+tan))
	}
	want := (2*piece(2, 0.75) + 2*piece(1.5, 4.0/3)) / 6
	if got := s.meanPooled(0); !(math.Abs(got-want) <= 0.005*want) {
		t.Errorf("to the nearest corner: %g m, want %g", got, want)
	}
	for q := int32(3); q < 5; q++ {
		n.aims = map[int32]int32{0: q}
		s.part.dist[q] = 7
		n.far = []float64{1e7, 1e7, 1e7, 0, 0}
		want := 7 + math.Hypot(300-tin.X[q], -200+5.0/3-tin.Y[q])
		if got := s.meanPooled(0); !(math.Abs(got-want) <= 1e-4) {
			t.Errorf("to a place far off: %.6f m, want %.6f", got, want)
		}
	}
}
