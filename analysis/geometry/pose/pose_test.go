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

// A finder that was told nothing leaves the grid as it is, and a group of no points tells nothing.
func TestNothingTold(t *testing.T) {
	f := pose.NewFinder()
	f.Tell(nil, nil, nil)
	f.TellMarks(nil, nil, nil)
	if p := f.Pose(); p != (pose.Pose{}) || p.Mirrors() {
		t.Errorf("%+v", p)
	}
	if u, v := (pose.Pose{}).Point(3, -8); u != 3 || v != -8 {
		t.Errorf("(%d, %d), not (3, -8)", u, v)
	}
}

// Points between two ends lie east or west of the middle by some units of the grid. On average 4 may be rounding: of five points in all 20 units of doubled moment to either side are as far. Three points 2 units west of the
// middle are 12 to either side, 24 apart, and turn the grid round; 1 unit west they are 12 apart and tell nothing, so that a single heavy point of the next group does.
func TestSlack(t *testing.T) {
	for _, c := range []struct {
		off, next int32
		along     int32 // how far east, or north, a place one unit east lies in the pose
	}{{-2, 0, -1}, {2, 0, 1}, {-1, 90, 1}, {-1, 10, -1}, {1, 10, -1}, {-2, 90, -1}} {
		f := pose.NewFinder()
		f.Tell([]int32{0, 100, 50 + c.off, 50 + c.off, 50 + c.off}, make([]int32, 5), nil)
		f.Tell([]int32{c.next}, []int32{0}, nil)
		if u, v := f.Pose().Point(1, 0); u+v != c.along {
			t.Errorf("%+v: (1, 0) lies at (%d, %d)", c, u, v)
		}
	}
}

// Weights rise by 1 for each unit of height from 1 on, whatever the heights are counted from; where they would pass 255, by 1 for each two, four and so on.
func TestHeightsByHand(t *testing.T) {
	for _, c := range []struct {
		z    []int32
		want []uint8
	}{
		{nil, nil},
		{[]int32{7}, []uint8{1}},
		{[]int32{-20, -10, 10}, []uint8{1, 11, 31}},
		{[]int32{254, 100, 0}, []uint8{255, 101, 1}},
		{[]int32{255, 100, 0}, []uint8{128, 51, 1}},
		{[]int32{1009, 500, -10}, []uint8{255, 128, 1}}, // 1019 and 510 by fours
		{[]int32{-2147483648, 2147483647, 0}, []uint8{1, 128, 65}},
	} {
		got := pose.Heights(c.z)
		if len(got) != len(c.want) {
			t.Errorf("%v: %v", c.z, got)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%v: %v, want %v", c.z, got, c.want)
			}
		}
	}
}
