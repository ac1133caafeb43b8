package geodesic

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/mesh"
)

// box is a rectangle on a grid of whole numbers.
type box struct{ x0, y0, x1, y1 int32 }

func (b box) holds(p orb.Point) bool {
	return p[0] > float64(b.x0) && p[0] < float64(b.x1) && p[1] > float64(b.y0) && p[1] < float64(b.y1)
}

// blocks reports whether the straight way from p to q runs through the inside of the box: it is clipped to the box, and
// the middle of what is left lies inside (Liang and Barsky's clipping; from memory).
func (b box) blocks(p, q orb.Point) bool {
	t0, t1 := 0.0, 1.0
	d := vector.Minus(q, p)
	for _, c := range [4][2]float64{
		{-d[0], p[0] - float64(b.x0)}, {d[0], float64(b.x1) - p[0]}, {-d[1], p[1] - float64(b.y0)}, {d[1], float64(b.y1) - p[1]},
	} {
		switch {
		case c[0] == 0 && c[1] <= 0:
			return false
		case c[0] < 0:
			t0 = math.Max(t0, c[1]/c[0])
		case c[0] > 0:
			t1 = math.Min(t1, c[1]/c[0])
		}
	}
	return t1-t0 > 1e-9 && b.holds(vector.Along(p, q, (t0+t1)/2))
}

// yard is a square with boxes that stand apart, in triangles over their corners and some places between.
type yard struct {
	side  int32
	boxes []box
	r     *Region
}

func newYard(t *testing.T, seed uint64, boxes, places int) *yard {
	t.Helper()
	g := rand.New(rand.NewPCG(seed, 7))
	y := &yard{side: 10000}
	for tries := 0; len(y.boxes) < boxes && tries < 1000; tries++ {
		b := box{x0: 100 + g.Int32N(8500), y0: 100 + g.Int32N(8500)}
		b.x1, b.y1 = b.x0+50+g.Int32N(1200), b.y0+50+g.Int32N(1200)
		if !slices.ContainsFunc(y.boxes, func(o box) bool {
			return b.x0 <= o.x1+20 && o.x0 <= b.x1+20 && b.y0 <= o.y1+20 && o.y0 <= b.y1+20
		}) {
			y.boxes = append(y.boxes, b)
		}
	}
	var xs, ys []int32
	var segments []mesh.Segment
	ring := func(b box) {
		n := int32(len(xs))
		xs, ys = append(xs, b.x0, b.x1, b.x1, b.x0), append(ys, b.y0, b.y0, b.y1, b.y1)
		for i := range int32(4) {
			segments = append(segments, mesh.Segment{A: n + i, B: n + (i+1)%4, Flag: 1})
		}
	}
	ring(box{0, 0, y.side, y.side})
	for _, b := range y.boxes {
		ring(b)
	}
	for len(xs) < 4+4*boxes+places {
		p := orb.Point{float64(1 + g.Int32N(y.side-2)), float64(1 + g.Int32N(y.side-2))}
		if !slices.ContainsFunc(y.boxes, func(b box) bool { return box{b.x0 - 1, b.y0 - 1, b.x1 + 1, b.y1 + 1}.holds(p) }) {
			xs, ys = append(xs, int32(p[0])), append(ys, int32(p[1]))
		}
	}
	m, _, err := mesh.Triangulate(xs, ys, make([]int32, len(xs)), segments)
	if err != nil {
		t.Fatal(err)
	}
	y.r = &Region{}
	for i := range xs {
		y.r.X, y.r.Y = append(y.r.X, float64(xs[i])), append(y.r.Y, float64(ys[i]))
	}
	number := map[int32]int32{} // half-edge -> its number once triangles in boxes are gone
	for f := range int32(len(m.V) / 3) {
		c := orb.Point{}
		for _, v := range m.V[3*f : 3*f+3] {
			c[0], c[1] = c[0]+float64(xs[v])/3, c[1]+float64(ys[v])/3
		}
		if !slices.ContainsFunc(y.boxes, func(b box) bool { return b.holds(c) }) {
			for e := 3 * f; e < 3*f+3; e++ {
				number[e] = int32(len(y.r.V))
				y.r.V = append(y.r.V, m.V[e])
			}
		}
	}
	y.r.Twin = make([]int32, len(y.r.V))
	for e, n := range number {
		y.r.Twin[n] = -1
		if twin, ok := number[m.Twin[e]]; ok && m.Twin[e] >= 0 {
			y.r.Twin[n] = twin
		}
	}
	return y
}

// visible reports whether nothing stands between two places.
func (y *yard) visible(p, q orb.Point) bool {
	return !slices.ContainsFunc(y.boxes, func(b box) bool { return b.blocks(p, q) })
}

// shortest returns the shortest ways from the corners of the boxes to a target, by Dijkstra's method over all pairs that
// see each other: nothing of it is shared with what is tested.
func (y *yard) shortest(target orb.Point) (corners []orb.Point, far []float64) {
	corners = []orb.Point{target}
	for _, b := range y.boxes {
		for _, x := range []int32{b.x0, b.x1} {
			for _, z := range []int32{b.y0, b.y1} {
				corners = append(corners, orb.Point{float64(x), float64(z)})
			}
		}
	}
	far = make([]float64, len(corners))
	done := make([]bool, len(corners))
	for i := range far {
		far[i] = math.Inf(1)
	}
	far[0] = 0
	for range corners {
		at := -1
		for i := range corners {
			if !done[i] && (at < 0 || far[i] < far[at]) {
				at = i
			}
		}
		done[at] = true
		for i := range corners {
			if y.visible(corners[at], corners[i]) {
				far[i] = math.Min(far[i], far[at]+vector.Distance(corners[at], corners[i]))
			}
		}
	}
	return corners, far
}

// TestAgainstVisibility compares with the shortest ways over a visibility graph, and walks every way: it is as long as it
// is said to be, and runs through no box.
func TestAgainstVisibility(t *testing.T) {
	for seed := range uint64(30) {
		y := newYard(t, seed, int(seed%16), int(seed*7%60))
		target := int32(len(y.r.X) - 1)
		if len(y.r.X) == 4 {
			target = 2
		}
		f := y.r.From([]int32{target})
		corners, far := y.shortest(y.r.point(target))
		g := rand.New(rand.NewPCG(seed, 8))
		for range 300 {
			tri := g.Int32N(y.r.triangles())
			a, b, c := y.r.point(y.r.V[3*tri]), y.r.point(y.r.V[3*tri+1]), y.r.point(y.r.V[3*tri+2])
			p := vector.Along(vector.Along(a, b, g.Float64()), c, g.Float64())
			want := math.Inf(1)
			for i := range corners {
				if y.visible(p, corners[i]) {
					want = math.Min(want, far[i]+vector.Distance(p, corners[i]))
				}
			}
			got := f.View().At(tri, p)
			if !(math.Abs(got-want) <= 1e-6*want+1e-6) {
				t.Fatalf("seed %d: %v is %.6f from the target, not %.6f", seed, p, want, got)
			}
			way := f.Way(tri, p)
			length := 0.0
			for i := 1; i < len(way); i++ {
				length += vector.Distance(way[i-1], way[i])
				if !y.visible(way[i-1], way[i]) {
					t.Fatalf("seed %d: the way %v runs through a box", seed, way)
				}
			}
			if !(math.Abs(length-got) <= 1e-6) || way[len(way)-1] != y.r.point(target) {
				t.Fatalf("seed %d: a way of %.6f is said to be %.6f long", seed, length, got)
			}
		}
	}
}
