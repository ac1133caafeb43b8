package pose_test

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/pose"
)

// ways are the eight ways to turn and mirror a plane, by hand.
var ways = []func(x, y int32) (int32, int32){
	func(x, y int32) (int32, int32) { return x, y },
	func(x, y int32) (int32, int32) { return -y, x },
	func(x, y int32) (int32, int32) { return -x, -y },
	func(x, y int32) (int32, int32) { return y, -x },
	func(x, y int32) (int32, int32) { return -x, y },
	func(x, y int32) (int32, int32) { return x, -y },
	func(x, y int32) (int32, int32) { return y, x },
	func(x, y int32) (int32, int32) { return -y, -x },
}

// found is the pose of points with elevations, and where they lie in it from the first of them.
func found(x, y, z []int32) (p pose.Pose, u, v []int32) {
	f := pose.NewFinder()
	f.Tell(x, y, nil)
	f.Tell(x, y, pose.Heights(z))
	f.TellMarks(x, y, z)
	p = f.Pose()
	u, v = p.All(x, y)
	for i := len(u) - 1; i >= 0; i-- {
		u[i], v[i] = u[i]-u[0], v[i]-v[0]
	}
	return p, u, v
}

// However points are moved, turned and mirrored, they lie alike in their pose; places in metres too, and going back ends where it began. A pose mirrors where a
// counter-clockwise triangle is clockwise in it.
func TestPointsLieAlike(t *testing.T) {
	d := rand.New(rand.NewPCG(1, 4))
	for n := range 200 {
		k := 3 + d.IntN(20)
		x, y, z := make([]int32, k), make([]int32, k), make([]int32, k)
		for i := range x {
			x[i], y[i], z[i] = 100_000*d.Int32N(50), 100_000*d.Int32N(50), d.Int32N(5)*100
		}
		if n%2 == 0 { // a grid, which only its heights tell how it lies
			for i := range x {
				x[i], y[i] = int32(i%4)*100_000, int32(i/4%4)*100_000
			}
		}
		_, u0, v0 := found(x, y, z)
		for way, turned := range ways {
			tx, ty := make([]int32, k), make([]int32, k)
			for i := range x {
				tx[i], ty[i] = turned(x[i], y[i])
				tx[i], ty[i] = tx[i]+123_456, ty[i]-7_891_011
			}
			p, u, v := found(tx, ty, z)
			same := true
			for i := range u {
				same = same && u[i] == u0[i] && v[i] == v0[i]
			}
			if !same && !symmetric(x, y, z) {
				t.Fatalf("%d, way %d: %v %v, not %v %v", n, way, u, v, u0, v0)
			}
			a, b := p.Point(tx[1], ty[1])
			if bx, by := p.Back(a, b); bx != tx[1] || by != ty[1] {
				t.Errorf("way %d: back at %d, %d", way, bx, by)
			}
			if q := p.Plan(orb.Point{float64(tx[1]), float64(ty[1])}); q != (orb.Point{float64(a), float64(b)}) {
				t.Errorf("way %d: %v, not %d, %d", way, q, a, b)
			}
			tri := func(x, y []int32) int { return geometry.Orient(x[0], y[0], x[1], y[1], x[2], y[2]) }
			ax, ay := p.All(tx, ty)
			if tri(tx, ty) != 0 && (tri(tx, ty) != tri(ax, ay)) != p.Mirrors() {
				t.Errorf("way %d: it mirrors: %t", way, p.Mirrors())
			}
		}
	}
}

// symmetric reports whether points with elevations are carried into themselves by one of the ways, so that either pose is theirs.
func symmetric(x, y, z []int32) bool {
	type point struct{ x, y, z int32 }
	set := func(turned func(x, y int32) (int32, int32)) map[point]int {
		all := map[point]int{}
		lx, ly := turned(x[0], y[0])
		for i := range x {
			a, b := turned(x[i], y[i])
			lx, ly = min(lx, a), min(ly, b)
		}
		for i := range x {
			a, b := turned(x[i], y[i])
			all[point{a - lx, b - ly, z[i]}]++
		}
		return all
	}
	own := set(ways[0])
	for _, turned := range ways[1:] {
		other, alike := set(turned), true
		for p, n := range own {
			alike = alike && other[p] == n
		}
		if alike {
			return true
		}
	}
	return false
}

// Before compares by x, then y, in the pose: with the heavy end in the west, what lies farther west comes last.
func TestBefore(t *testing.T) {
	f := pose.NewFinder()
	f.Tell([]int32{0, 0, 9000, 0}, []int32{0, 1000, 0, -9000}, nil) // the middle of the box is 4500, -4000: they lie west, then north of it
	p := f.Pose()
	if p.Before(orb.Point{5, 0}, orb.Point{1, 0}) >= 0 || p.Before(orb.Point{1, 0}, orb.Point{5, 0}) <= 0 || p.Before(orb.Point{1, 2}, orb.Point{1, 2}) != 0 {
		t.Errorf("%+v", p)
	}
}
