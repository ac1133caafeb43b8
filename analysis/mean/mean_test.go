package mean_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/mean"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// dense is an exact plane of 2 %, n by n points 0.4 m apart and 0.2 m from the walls, whose elevations are said to be good to sigma.
func dense(n int, sigma float64) *roof.Roof {
	l := 0.4 * float64(n)
	r := shape.New("plane", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, l, 0.02*l), shape.At(0, l, 0.02*l))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
	shape.Grid(r, 0.2, 0.2, l-0.2, l-0.2, n-1, n-1, func(_, y float64) float64 { return 0.02 * y })
	shape.Spot(r, l/2, 0, 0) // on the gutter
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Length(sigma)
	}
	return r
}

// Errors of 25 mm are three times the fall of 8 mm from point to point; over cells of 2 by 2 points they are 12.5 mm to 16. The mean of a plane
// is the plane at the mean place, the error of a mean of n points is 25 mm / root n, every point is in one mean, and the point
// on the gutter stays as it was.
func TestMeansOfAPlane(t *testing.T) {
	const n = 50
	r := dense(n, 0.025)
	s := shape.Build(t, r)
	out, m := mean.Of(s, r, evidence.ErrorsOf(s, r))
	if m == nil {
		t.Fatal("not averaged")
	}
	if m.Points != n*n+1 || !(math.Abs(m.Size-0.8) <= 0.01) || len(r.Spots) != n*n+1 {
		t.Errorf("%+v", m)
	}
	if most := len(r.Spots) / 3; len(out.Spots) > most {
		t.Errorf("%d means of cells of four points, want at most %d", len(out.Spots), most)
	}
	points := 0.0
	for i := range out.Spots {
		p := &out.Spots[i]
		if p.Plan[1] == 0 {
			if p.Z != 0 || p.Sigma != 0.025 {
				t.Errorf("on the gutter: %+v", p)
			}
			points++
			continue
		}
		count := math.Pow(0.025/float64(p.Sigma), 2)
		points += count
		if !(math.Abs(p.Z-0.02*p.Plan[1]) <= 1e-6) || !(math.Abs(count-math.Round(count)) <= 1e-6) || p.ID == "" {
			t.Errorf("mean %s at %v, %g: of %g points", p.ID, p.Plan, p.Z, count)
		}
	}
	if !(math.Abs(points-(n*n+1)) <= 1e-6) {
		t.Errorf("means of %g points in all", points)
	}
}

// TestWildPoints: of two points 0.3 m off a plane of 2 % the high one stays a point under its own name, the low one is left out and named, and neither is in a mean: all
// others lie on the plane. A low point that the user keeps is averaged: it lowers the mean of its four by 75 mm.
func TestWildPoints(t *testing.T) {
	for _, kept := range []bool{false, true} {
		r := dense(50, 0.025)
		high, low := 1234, 411
		r.Spots[high].Z += 0.3
		r.Spots[low].Z -= 0.3
		if kept {
			r.Kept = []string{r.Spots[low].ID}
		}
		s := shape.Build(t, r)
		out, m := mean.Of(s, r, evidence.ErrorsOf(s, r))
		if m == nil {
			t.Fatal("not averaged")
		}
		off := 0
		for i := range out.Spots {
			p := &out.Spots[i]
			switch d := p.Z - 0.02*p.Plan[1]; {
			case p.ID == r.Spots[high].ID:
				if p.Z != r.Spots[high].Z || p.Sigma != 0.025 {
					t.Errorf("the high point is %+v", p)
				}
			case !(math.Abs(d) <= 1e-6):
				if off++; !kept || !(math.Abs(d+0.075) <= 1e-6) {
					t.Errorf("mean %s is off by %g", p.ID, d)
				}
			}
		}
		if kept != (off == 1) || kept != (len(m.Below) == 0) || !kept && m.Below[0] != r.Spots[low].ID {
			t.Errorf("kept %t: %d off, %v below", kept, off, m.Below)
		}
	}
}

// Errors below the fall from point to point, and few points, are left alone.
func TestWhatIsLeftAlone(t *testing.T) {
	for name, r := range map[string]*roof.Roof{"good": dense(50, 0.005), "few": dense(20, 0.025)} {
		s := shape.Build(t, r)
		if out, m := mean.Of(s, r, evidence.ErrorsOf(s, r)); out != nil || m != nil {
			t.Errorf("%s: %+v", name, m)
		}
	}
}

// 2,000 points on a roof are enough to be averaged, as the package says; one less is not.
func TestHowManyPointsAreDense(t *testing.T) {
	for n, want := range map[int]bool{2000: true, 1999: false} {
		r := dense(45, 0.025)
		r.Spots = r.Spots[:n]
		s := shape.Build(t, r)
		if _, m := mean.Of(s, r, evidence.ErrorsOf(s, r)); (m != nil) != want {
			t.Errorf("%d points: averaged %t", n, m != nil)
		}
	}
}

// Where a roof stands tells nothing: the same means 1234.5 m east and 77 m south, each at its place there.
func TestMeansMoveWithTheRoof(t *testing.T) {
	r := dense(46, 0.025)
	s := shape.Build(t, r)
	here, m := mean.Of(s, r, evidence.ErrorsOf(s, r))
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].Plan = move(r.Outline.Rings[0][i].Plan)
	}
	for i := range r.Edges[0].Line {
		r.Edges[0].Line[i].Plan = move(r.Edges[0].Line[i].Plan)
	}
	for i := range r.Spots {
		r.Spots[i].Plan = move(r.Spots[i].Plan)
	}
	s = shape.Build(t, r)
	there, n := mean.Of(s, r, evidence.ErrorsOf(s, r))
	if m == nil || n == nil || len(here.Spots) != len(there.Spots) || !(math.Abs(m.Sigma-0.0125) <= 1e-12) || !(math.Abs(n.Sigma-m.Sigma) <= 1e-12) {
		t.Fatalf("%+v here, %+v there", m, n)
	}
	for i := range here.Spots {
		a, b := &here.Spots[i], &there.Spots[i]
		if at := move(a.Plan); a.ID != b.ID || !(math.Hypot(at[0]-b.Plan[0], at[1]-b.Plan[1]) <= 1e-6) || !(math.Abs(a.Z-b.Z) <= 1e-9) {
			t.Errorf("mean %s at %v, %s at %v there", a.ID, a.Plan, b.ID, b.Plan)
		}
	}
}

func move(p orb.Point) orb.Point { return orb.Point{p[0] + 1234.5, p[1] - 77} }
