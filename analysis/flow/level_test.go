package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// TestLevelGroundRoundACorner: a level floor of two arms 4 m wide and 10 m long has a drain of no extent in its far corner. Water runs to it as straight as the re-entrant corner allows: by hand, straight where the line to the drain
// stays on the floor, else over that corner. In a facet of which the drain is seen from some corners only, it may run over the corner of the facet that makes the shortest way. Spots stand anywhere; however the floor is turned by quarters or mirrored.
func TestLevelGroundRoundACorner(t *testing.T) {
	for k := range 8 {
		random := rand.New(rand.NewPCG(uint64(k), 3))
		lay := func(x, y float64) orb.Point { // elsewhere, turned and mirrored
			p := orb.Point{x, y}
			if k >= 4 {
				p[0] = -p[0]
			}
			for range k % 4 {
				p = orb.Point{-p[1], p[0]}
			}
			return orb.Point{p[0] + 30, p[1] - 50}
		}
		at := func(x, y float64) roof.Position { p := lay(x, y); return shape.At(p[0], p[1], 0) }
		corners := []roof.Position{at(0, 0), at(10, 0), at(10, 4), at(4, 4), at(4, 10), at(0, 10)}
		if k >= 4 {
			for i, j := 0, len(corners)-1; i < j; i, j = i+1, j-1 {
				corners[i], corners[j] = corners[j], corners[i]
			}
		}
		r := shape.New("floor", corners...)
		for range 30 {
			x, y := math.Round(random.Float64()*9900)/1000+0.05, math.Round(random.Float64()*3800)/1000+0.1
			if random.IntN(2) == 0 {
				x, y = y, x
			}
			p := lay(x, y)
			shape.Spot(r, p[0], p[1], 0)
		}
		s, err := surface.Build(r, surface.Options{})
		if err != nil {
			t.Fatal(err)
		}
		drain, corner := lay(10, 0), lay(4, 4)
		for v := range s.Cut.X {
			if math.Hypot(s.Cut.X[v]-drain[0], s.Cut.Y[v]-drain[1]) < 1e-6 {
				s.Outlets = append(s.Outlets, surface.Outlet{Type: roof.Drain, Vertices: []int32{int32(v)}})
			}
		}
		n := trace(t, s, Options{Tolerance: -1})
		if len(n.Ends) != 1 {
			t.Fatalf("ends %v", n.Ends)
		}
		beyond := distance(corner, drain)
		sees := func(p orb.Point) bool { // the line from the drain passes the corner on the floor's side
			side := func(q orb.Point) float64 {
				return cross(corner[0]-drain[0], corner[1]-drain[1], q[0]-drain[0], q[1]-drain[1])
			}
			return side(p)*side(lay(0, 0)) >= -1e-9 || distance(p, drain) <= beyond+1e-9
		}
		far := func(p orb.Point) float64 {
			if sees(p) {
				return distance(p, drain)
			}
			return distance(p, corner) + beyond
		}
		sum, count := 0.0, 0
		for range 3000 {
			p := somewhere(n, random)
			path, err := n.PathFrom(p)
			if err != nil {
				t.Fatal(err)
			}
			least := far(p.Point)
			greatest, mixed := math.Inf(1), false
			for _, v := range s.Cut.V[3*p.Facet : 3*p.Facet+3] {
				q := orb.Point{s.Cut.X[v], s.Cut.Y[v]}
				greatest = math.Min(greatest, distance(p.Point, q)+far(q))
				mixed = mixed || sees(q) != sees(p.Point)
			}
			if !mixed {
				greatest = least
			}
			if path.Travel < least-1e-6 || path.Travel > greatest+1e-6 {
				t.Fatalf("floor %d: from %v %g m, want %g to %g", k, p.Point, path.Travel, least, greatest)
			}
			sum, count = sum+path.Travel, count+1
		}
		// The farthest place is the end of the other arm: over the corner, root(4² + 6²) + root(6² + 4²).
		near(t, fmt.Sprintf("floor %d: longest", k), n.TravelMax[0], 2*math.Sqrt(52), 1e-6)
		near(t, fmt.Sprintf("floor %d: mean", k), n.TravelMean[0], sum/float64(count), 0.03*sum/float64(count))
	}
}

func distance(p, q orb.Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }

// TestLevelFacetBetweenTwoDrains: a level facet with drains of no extent at two corners runs to the one that its centroid lies nearer to. By hand: of (0, 0), (3, 6), (0, 6) the centroid (1, 4) lies root 17 = 4.1 m from the first and root 8 = 2.8 m
// from the second; so it does with x and y exchanged, whatever the order of the corners and wherever they lie.
func TestLevelFacetBetweenTwoDrains(t *testing.T) {
	for k := range 12 {
		x, y := []int32{0, 3 * metre, 0}, []int32{0, 6 * metre, 6 * metre}
		facet := [3]int32{0, 1, 2}
		if k%2 == 1 {
			x, y, facet = y, x, [3]int32{0, 2, 1}
		}
		shift := int32(k/6) * 40 * metre
		d := &draft{z: make([]int32, 3)}
		var number [3]int32
		for i := range 3 { // in another order
			v := (i + k/2) % 3
			number[v] = int32(i)
			d.x, d.y = append(d.x, x[v]-shift), append(d.y, y[v]+shift)
		}
		d.facets = [][3]int32{{number[facet[0]], number[facet[1]], number[facet[2]]}}
		s := d.walled()
		s.Outlets = append(s.Outlets, surface.Outlet{Type: roof.Drain, Vertices: []int32{number[0]}}, surface.Outlet{Type: roof.Drain, Vertices: []int32{number[1]}})
		n := trace(t, s, Options{Tolerance: -1})
		near(t, "area of the farther drain", n.Area[0], 0, 0)
		near(t, "area of the nearer drain", n.Area[1], 9, 1e-9)
	}
}
