package geodesic

import (
	"math"
	"testing"

	"runnel/analysis/geometry/vector"

	"github.com/paulmach/orb"
)

// strip returns a region over a strip of triangles between two lines of places.
func strip(t *testing.T, right, left []orb.Point) *Region {
	t.Helper()
	r := &Region{}
	for i := range right {
		for _, p := range []orb.Point{right[i], left[i]} {
			r.X, r.Y = append(r.X, p[0]), append(r.Y, p[1])
		}
	}
	for i := range int32(len(right) - 1) {
		r.V = append(r.V, 2*i, 2*i+2, 2*i+1, 2*i+2, 2*i+3, 2*i+1)
		before, after := 6*i-2, 6*i+8
		if i == 0 {
			before = -1
		}
		if int(i) == len(right)-2 {
			after = -1
		}
		r.Twin = append(r.Twin, -1, 6*i+5, before, after, -1, 6*i+1)
	}
	return r
}

// The mean distance of a square's places from its middle is its side times (sqrt 2 + ln(1 + sqrt 2)) / 6, that from a corner twice as much.
func TestMeanOverASquare(t *testing.T) {
	const side = 10.0
	r := &Region{
		X: []float64{0, side, side, 0, side / 2}, Y: []float64{0, 0, side, side, side / 2},
		V: []int32{0, 1, 4, 1, 2, 4, 2, 3, 4, 3, 0, 4}, Twin: []int32{-1, 5, 10, -1, 8, 1, -1, 11, 4, -1, 2, 7},
	}
	want := side * (math.Sqrt2 + math.Log(1+math.Sqrt2)) / 6
	for target, times := range map[int32]float64{4: 1, 2: 2} {
		got := Sums([]*Field{r.From([]int32{target})})[0]
		if !(math.Abs(got.Area-side*side) <= 1e-9) || !(math.Abs(got.Ways/got.Area-times*want) <= 0.001) {
			t.Errorf("mean %.9f over %.9f m2 to vertex %d, want %.9f", got.Ways/got.Area, got.Area, target, times*want)
		}
	}
}

// Two targets share a square: each takes the half nearer to it. The mean over a half of two by one from the middle of its outer long side is, by the same
// integral, (sqrt 2 + ln(1 + sqrt 2)) / 3.
func TestTwoTargetsShareASquare(t *testing.T) {
	r := strip(t, []orb.Point{{0, 0}, {1, 0}, {2, 0}}, []orb.Point{{0, 2}, {1, 2}, {2, 2}})
	sums := Sums([]*Field{r.From([]int32{2}), r.From([]int32{3})})
	for k, got := range sums {
		want := (math.Sqrt2 + math.Log(1+math.Sqrt2)) / 3
		if !(math.Abs(got.Area-2) <= 0.15) || !(math.Abs(got.Ways/got.Area-want) <= 0.03) {
			t.Errorf("target %d: mean %.4f over %.4f m2, want %.4f over 2", k, got.Ways/got.Area, got.Area, want)
		}
	}
	if !(math.Abs(sums[0].Area+sums[1].Area-4) <= 1e-12) {
		t.Errorf("%.9f m2 in all", sums[0].Area+sums[1].Area)
	}
}

// In an L of two arms the far arm's places behind the bend go by way of the inner corner: the outer end of one arm is the target. The wanted sum is that of a fine
// grid of places, of which each takes the way that it sees.
func TestMeanRoundACorner(t *testing.T) {
	r := strip(t, []orb.Point{{0, 0}, {4, 0}, {4, 6}}, []orb.Point{{0, 2}, {2, 2}, {2, 6}})
	target, inner := orb.Point{0, 0}, orb.Point{2, 2}
	const step = 0.005
	sum, area := 0.0, 0.0
	for x := step / 2; x < 4; x += step {
		for y := step / 2; y < 6; y += step {
			if x < 2 && y > 2 {
				continue
			}
			d := math.Hypot(x, y)
			if y > x && x > 2 { // behind the line from the target over the inner corner
				d = math.Hypot(inner[0]-target[0], inner[1]-target[1]) + math.Hypot(x-inner[0], y-inner[1])
			}
			sum, area = sum+d*step*step, area+step*step
		}
	}
	got := Sums([]*Field{r.From([]int32{0})})[0]
	if !(math.Abs(got.Area-16) <= 1e-9) || !(math.Abs(got.Ways/got.Area-sum/area) <= 0.004) {
		t.Errorf("mean %.5f over %.5f m2, want %.5f", got.Ways/got.Area, got.Area, sum/area)
	}
}

// Over yards with boxes, in which most triangles are lit by several corners, the mean is that of places at random.
func TestMeanOverYards(t *testing.T) {
	for seed := range uint64(8) {
		y := newYard(t, 100+seed, int(1+seed), int(seed*5))
		for i := range y.r.X { // 30 m wide
			y.r.X[i], y.r.Y[i] = 0.003*y.r.X[i], 0.003*y.r.Y[i]
		}
		f := y.r.From([]int32{int32(len(y.r.X) - 1)})
		got := Sums([]*Field{f})[0]
		want, v := 0.0, f.View()
		for tri := range y.r.triangles() {
			a, b, c := y.r.point(y.r.V[3*tri]), y.r.point(y.r.V[3*tri+1]), y.r.point(y.r.V[3*tri+2])
			want += fine(v, tri, a, b, c)
		}
		if !(math.Abs(got.Ways-want)/got.Area <= 0.003) {
			t.Errorf("seed %d: mean %.5f, want %.5f", seed, got.Ways/got.Area, want/got.Area)
		}
	}
}

// fine sums up the ways from the middles of pieces shorter than 0.1 m.
func fine(v *View, tri int32, a, b, c orb.Point) float64 {
	n := 1 + int(10*max(math.Hypot(b[0]-a[0], b[1]-a[1]), math.Hypot(c[0]-a[0], c[1]-a[1]), math.Hypot(c[0]-b[0], c[1]-b[1])))
	sum, cell := 0.0, ((b[0]-a[0])*(c[1]-a[1])-(b[1]-a[1])*(c[0]-a[0]))/2/float64(n*n)
	for i := range n {
		for j := range n - i {
			for k := range 2 {
				if i+j+k < n {
					p := vector.Along(a, b, (float64(i)+float64(1+k)/3)/float64(n))
					q := vector.Along(a, c, (float64(j)+float64(1+k)/3)/float64(n))
					sum += cell * v.At(tri, orb.Point{p[0] + q[0] - a[0], p[1] + q[1] - a[1]})
				}
			}
		}
	}
	return sum
}
