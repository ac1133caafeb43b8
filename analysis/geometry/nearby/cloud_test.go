package nearby_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"runnel/analysis/geometry/nearby"
)

// TestNearestAgainstAll: the nearest points of a cloud, in order, the lower number first of equals, against a sort of all by their whole distances: in the plane, on a line, at one place, on a lattice full of ties, and asked from within, from outside and far off.
func TestNearestAgainstAll(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 3))
	shapes := []func() (x, y int32){
		func() (x, y int32) { return r.Int32N(100000), r.Int32N(30000) },
		func() (x, y int32) { return -500000, r.Int32N(40000) - 20000 },
		func() (x, y int32) { return 7, 7 },
		func() (x, y int32) { return 10 * r.Int32N(9), 10 * r.Int32N(9) },
		func() (x, y int32) { return r.Int32N(10) * r.Int32N(90000), r.Int32N(20) },
	}
	for k, shape := range shapes {
		for _, n := range []int{0, 1, 2, 7, 60, 400} {
			x, y := make([]int32, n), make([]int32, n)
			var nodes []int32
			for i := range n {
				if x[i], y[i] = shape(); i%3 != 1 { // others are not in the cloud
					nodes = append(nodes, int32(i))
				}
			}
			c := nearby.NewCloud(x, y, nodes)
			for ask := range 60 {
				px, py := shape()
				switch ask % 3 {
				case 1:
					px, py = px+r.Int32N(200000)-100000, py-r.Int32N(200000)+100000
				case 2:
					px, py = px+5, py-5
				}
				far := func(i int32) int64 {
					dx, dy := int64(x[i])-int64(px), int64(y[i])-int64(py)
					return dx*dx + dy*dy
				}
				want := slices.Clone(nodes)
				slices.SortFunc(want, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
				most := 1 + r.IntN(9)
				got := c.Nearest(px, py, most)
				if len(got) != min(most, len(nodes)) {
					t.Fatalf("shape %d of %d: %d of %d nearest", k, n, len(got), most)
				}
				for i, v := range got {
					if v.N != want[i] || v.Distance != float64(far(want[i])) {
						t.Fatalf("shape %d of %d, from (%d, %d): number %d is %+v, want node %d at %d", k, n, px, py, i, v, want[i], far(want[i]))
					}
				}
			}
		}
	}
}

// TestNodesAgainstAll: what stands at a place, to within the reach, against a look at all, while nodes are added and moved, on both sides of 0, in a table that has to grow: the nearest one, of equals the lowest, or none.
func TestNodesAgainstAll(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	for _, reach := range []float64{1, 5, 1000} {
		span := int32(40 * reach)
		var x, y []int32
		p := nearby.NewNodes(1, reach)
		found := 0
		for n := range int32(600) {
			px, py := r.Int32N(2*span)-span, r.Int32N(2*span)-span
			x, y = append(x, px), append(y, py)
			p.Put(n, px, py)
			if n%4 == 3 {
				m := r.Int32N(n + 1)
				nx, ny := x[m]+r.Int32N(span)-span/2, y[m]-r.Int32N(span)+span/2
				p.Move(m, x[m], y[m], nx, ny)
				x[m], y[m] = nx, ny
			}
			for range 5 {
				qx, qy := r.Int32N(2*span)-span, r.Int32N(2*span)-span
				least := int64(reach*reach) + 1
				want := int32(-1)
				for i := range x {
					dx, dy := int64(x[i])-int64(qx), int64(y[i])-int64(qy)
					if d := dx*dx + dy*dy; d < least {
						least, want = d, int32(i)
					}
				}
				got := p.Find(qx, qy, x, y)
				if got != want {
					t.Fatalf("reach %g, %d nodes: at (%d, %d) stands %d, want %d", reach, n+1, qx, qy, got, want)
				}
				if got >= 0 {
					found++
				}
			}
		}
		if found < 20 {
			t.Errorf("reach %g: %d found in all", reach, found)
		}
	}
}
