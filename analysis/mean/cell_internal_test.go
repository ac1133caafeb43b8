package mean

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// cell is a cell of points at these heights with errors of sigma, the points named by their places in the list.
func cell(sigma float64, heights ...float64) (*surface.TIN, *roof.Roof, *evidence.Errors, []member) {
	t, r, e := &surface.TIN{Z: heights}, &roof.Roof{}, &evidence.Errors{}
	var all []member
	for i := range heights {
		t.Spot = append(t.Spot, int32(i))
		e.Sigma = append(e.Sigma, sigma)
		s := roof.Spot{}
		s.ID = string(rune('A' + i))
		r.Spots = append(r.Spots, s)
		all = append(all, member{0, 0, int32(i)})
	}
	return t, r, e, all
}

// Off its cell's median by more than 60 mm a metre of its side and 75 mm, or five errors, one point is wild: over a cell of 0.5 m that is 105 mm with errors up to 15 mm, and 130 mm with errors of 20 mm. Two are a thing, and the median of two tells nothing.
func TestWildOf(t *testing.T) {
	for _, c := range []struct {
		name    string
		sigma   float64
		size    float64
		heights []float64
		kept    string
		wild    int // index of the wild point, -1 none
	}{
		{"106 mm high", 0.01, 0.5, []float64{3, 3, 3, 3.106}, "", 3},
		{"104 mm high", 0.01, 0.5, []float64{3, 3, 3, 3.104}, "", -1},
		{"106 mm low", 0.01, 0.5, []float64{3, 2.894, 3, 3}, "", 1},
		{"first of three", 0.01, 0.5, []float64{3.2, 3, 3}, "", 0},
		{"of two", 0.01, 0.5, []float64{3.2, 3}, "", -1},
		{"of one", 0.01, 0.5, []float64{3.2}, "", -1},
		{"131 mm high with errors of 20 mm", 0.02, 0.5, []float64{3, 3, 3.131}, "", 2},
		{"129 mm high with errors of 20 mm", 0.02, 0.5, []float64{3, 3, 3.129}, "", -1},
		{"134 mm high on 1 m", 0.01, 1, []float64{3, 3.134, 3}, "", -1},
		{"136 mm high on 1 m", 0.01, 1, []float64{3, 3.136, 3}, "", 1},
		{"two of five", 0.01, 0.5, []float64{3, 3.5, 3, 3.5, 3}, "", -1},
		{"one high and one low of five", 0.01, 0.5, []float64{3, 3.5, 3, 2.5, 3}, "", -1},
		{"it is meant", 0.01, 0.5, []float64{3, 3, 3, 3.5}, "D", -1},
		{"another is meant", 0.01, 0.5, []float64{3, 3, 3, 3.5}, "A", 3},
		// The median of 3, 3.1, 3.2, 3.3 and 3.42 is 3.2: 0.22 m off it is the last one, and 0.2 the first.
		{"on a fall", 0.01, 2.3, []float64{3.3, 3.42, 3, 3.2, 3.1}, "", 1},
	} {
		tin, r, e, all := cell(c.sigma, c.heights...)
		if c.kept != "" {
			r.Kept = []string{c.kept}
		}
		n := wildOf(tin, r, e, all, c.size)
		if (n == 1) != (c.wild >= 0) || n > 1 || n == 1 && all[0].v != int32(c.wild) {
			t.Errorf("%s: %d wild, first %d", c.name, n, all[0].v)
		}
		seen := map[int32]bool{}
		for _, m := range all {
			seen[m.v] = true
		}
		if len(seen) != len(c.heights) {
			t.Errorf("%s: points are lost: %v", c.name, all)
		}
	}
}

// By hand: three points at (2, 1), (2.4, 1.1) and (2.1, 1.6) of a level roof, at 10, 20 and 40 mm, with errors of 10, 10 and 20 mm: weights of 4, 4 and 1 ninths put the mean at (2.1889, 1.1111) and
// 17.78 mm, with the error 10 mm over the root of 2.25. The second point, B, lies nearest to it, 0.2114 m off, the first 0.2192.
func TestMeanOf(t *testing.T) {
	row := make([]float64, 5)
	s := shape.Build(t, shape.Heights(1, row, row, row, row))
	tin := &surface.TIN{X: []float64{2, 2.4, 2.1}, Y: []float64{1, 1.1, 1.6}, Z: []float64{0.01, 0.02, 0.04}, Spot: []int32{2, 0, 1}}
	r := &roof.Roof{Spots: make([]roof.Spot, 3)}
	for i, id := range []string{"B", "C", "A"} {
		r.Spots[i].ID = id
	}
	e := &evidence.Errors{Sigma: []float64{0.01, 0.01, 0.02}}
	on := surface.NewLocator(s.TIN)
	got := meanOf(tin, r, e, on, []member{{v: 2}, {v: 1}, {v: 0}})
	want := orb.Point{(4*2 + 4*2.4 + 2.1) / 9, (4*1 + 4*1.1 + 1.6) / 9}
	if got.ID != "B" || !(math.Abs(got.Plan[0]-want[0]) <= 1e-12) || !(math.Abs(got.Plan[1]-want[1]) <= 1e-12) || !(math.Abs(got.Z-0.16/9) <= 1e-12) ||
		!(math.Abs(float64(got.Sigma)-0.01/1.5) <= 1e-12) || !got.HasZ {
		t.Errorf("%+v, want B at %v", got, want)
	}
	tin.X = []float64{-2, 2.4, -2.1} // the mean lies off the roof: it takes the place of the point nearest to it
	if got := meanOf(tin, r, e, on, []member{{v: 2}, {v: 1}, {v: 0}}); got.ID != "A" || got.Plan != (orb.Point{-2, 1}) {
		t.Errorf("off the roof: %+v", got)
	}
}

// Of four points about their mean none lies nearer to it: the first of them names it, wherever the roof stands.
func TestNameOfAMean(t *testing.T) {
	row := make([]float64, 9)
	s := shape.Build(t, shape.Heights(400, row, row, row, row))
	for _, by := range []float64{0, 1234.5, 77.7, 1000.1, 0.3} {
		tin, r, e, all := cell(0.01, 1, 1, 1, 1)
		tin.X, tin.Y = []float64{by + 0.2, by + 0.6, by + 0.2, by + 0.6}, []float64{by + 0.2, by + 0.2, by + 0.6, by + 0.6}
		if got := meanOf(tin, r, e, surface.NewLocator(s.TIN), all); got.ID != "A" {
			t.Errorf("moved by %g m: named %s, want A", by, got.ID)
		}
	}
}

// On lines are the points of borders and breaklines: of a roof of 4 by 4 squares with a valley along x = 2 from wall to wall, the 16 round it and the 3 of the valley inside.
func TestOnLines(t *testing.T) {
	row := []float64{0.02, 0.01, 0, 0.01, 0.02}
	r := shape.Heights(1, row, row, row, row, row)
	shape.Breakline(r, roof.Valley, shape.At(2, 0, 0), shape.At(2, 4, 0))
	s := shape.Build(t, r)
	for v, on := range onLines(s.TIN) {
		x, y := s.TIN.X[v], s.TIN.Y[v]
		if want := x == 0 || x == 4 || y == 0 || y == 4 || x == 2; on != want {
			t.Errorf("(%g, %g) is on a line: %v", x, y, on)
		}
	}
}

// A length of n sides lies in cell n, however it is rounded, and the last unit of the grid before it in cell n - 1.
func TestCellOf(t *testing.T) {
	for _, side := range []float64{0.4, 0.3, 0.7, 1.1} {
		for n := range 50 {
			far := float64(n) * side
			if got := cellOf(far, side); got != int32(n) && math.Abs(far/side-float64(n)) > 1e-12 {
				t.Errorf("%g in cells of %g: %d, want %d", far, side, got, n)
			}
			if got := cellOf(far+side-2*surface.Grid, side); got != int32(n) {
				t.Errorf("%g in cells of %g: %d, want %d", far+side-2*surface.Grid, side, got, n)
			}
		}
	}
}
