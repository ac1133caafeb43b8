// Package pose says how points lie on their grid, so that choices which nothing else settles go one way wherever a roof stands, however it is
// turned by quarters or mirrored, and in whatever order its points come.
//
// Of the eight ways to turn and mirror the grid that one is taken in which the points lie heaviest towards the east, then the north. What is
// compared "x first, then y" is compared in the coordinates of that pose. Points that lie alike in two poses are one set of points seen
// twice: then it does not matter which is taken.
package pose

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
)

// Pose is one of the eight ways to turn and mirror the grid; the zero value leaves it as it is.
type Pose struct{ swap, flipX, flipY bool }

// Point returns where (x, y) lies in the pose.
func (p Pose) Point(x, y int32) (u, v int32) {
	if p.flipX {
		x = -x
	}
	if p.flipY {
		y = -y
	}
	if p.swap {
		return y, x
	}
	return x, y
}

// Back returns the place that lies at (u, v) in the pose.
func (p Pose) Back(u, v int32) (x, y int32) {
	if p.swap {
		u, v = v, u
	}
	if p.flipX {
		u = -u
	}
	if p.flipY {
		v = -v
	}
	return u, v
}

// Plan is Point for places in metres.
func (p Pose) Plan(q orb.Point) orb.Point {
	if p.flipX {
		q[0] = -q[0]
	}
	if p.flipY {
		q[1] = -q[1]
	}
	if p.swap {
		return orb.Point{q[1], q[0]}
	}
	return q
}

// Mirrors reports whether what turns counter-clockwise turns clockwise in the pose.
func (p Pose) Mirrors() bool { return p.swap != (p.flipX != p.flipY) }

// All returns where the points lie in the pose. len(x) == len(y).
func (p Pose) All(x, y []int32) (u, v []int32) {
	u, v = make([]int32, len(x)), make([]int32, len(x))
	for i := range x {
		u[i], v[i] = p.Point(x[i], y[i])
	}
	return u, v
}

// Before compares two places by x, then y, in the pose: negative where a comes first.
func (p Pose) Before(a, b orb.Point) int {
	a, b = p.Plan(a), p.Plan(b)
	for k := range a {
		switch {
		case a[k] < b[k]:
			return -1
		case a[k] > b[k]:
			return 1
		}
	}
	return 0
}

// Finder finds the pose of points that are told it group by group, the one that counts most first: what a group leaves open, the next settles.
type Finder struct {
	left [8]Pose
	n    int
	// of the first group, about whose middle all are weighed: twice the middle
	midX, midY int64
	placed     bool
}

// NewFinder returns a finder that has been told nothing.
func NewFinder() *Finder {
	f := &Finder{n: 8}
	for i := range f.left {
		f.left[i] = Pose{i&1 != 0, i&2 != 0, i&4 != 0}
	}
	return f
}

// slack is by how many grid units on average points may lie off without telling: what rounding to the grid does.
const slack = 4

// Tell takes in a group of points with their weights from 0 to 255; nil: all weigh 1. len(x) == len(y).
func (f *Finder) Tell(x, y []int32, weight []uint8) {
	if f.n == 1 || len(x) == 0 {
		return
	}
	f.place(x, y)
	var mx, my, all int64
	for i := range x {
		w := int64(1)
		if weight != nil {
			w = int64(weight[i])
		}
		mx, my, all = mx+w*(2*int64(x[i])-f.midX), my+w*(2*int64(y[i])-f.midY), all+w
	}
	f.keep(mx, my, slack*all)
}

// TellMarks is Tell with weights that tell points apart by a third coordinate, whatever it is counted from, and by how far they lie from the middle, to a
// tenth of a metre on a grid of ten micrometres: what balances under every other weight does not under these, unless it is alike.
func (f *Finder) TellMarks(x, y, z []int32) {
	if f.n == 1 || len(x) == 0 {
		return
	}
	f.place(x, y)
	least := slices.Min(z)
	weight := make([]uint8, len(x))
	for i := range x {
		dx, dy := float64(2*int64(x[i])-f.midX), float64(2*int64(y[i])-f.midY)
		far := uint64(math.Round(math.Sqrt(float64(dx*dx)+float64(dy*dy)) / 20_000))
		// Hashing by multiplication with the golden ratio: Knuth, "The Art of Computer Programming", volume 3, 6.4; from memory.
		h := (uint64(int64(z[i])-int64(least)) + far<<40) * 0x9e3779b97f4a7c15
		weight[i] = uint8((h ^ h>>29) * 0x9e3779b97f4a7c15 >> 56)
	}
	f.Tell(x, y, weight)
}

// place sets the middle about which points are weighed to that of the box of the first group.
func (f *Finder) place(x, y []int32) {
	if f.placed {
		return
	}
	f.placed = true
	f.midX, f.midY = int64(slices.Min(x))+int64(slices.Max(x)), int64(slices.Min(y))+int64(slices.Max(y))
}

// keep keeps the poses in which a moment lies farthest east, of these those farthest north; what differs by no more than a slack is as far.
func (f *Finder) keep(mx, my, slack int64) {
	at := func(p Pose) (u, v int64) {
		u = choose.If(p.flipX, -mx, mx)
		if v = my; p.flipY {
			v = -my
		}
		if p.swap {
			return v, u
		}
		return u, v
	}
	for axis := range 2 {
		value := func(p Pose) int64 {
			u, v := at(p)
			return choose.If(axis == 0, u, v)
		}
		most := value(f.left[0])
		for _, p := range f.left[1:f.n] {
			most = max(most, value(p))
		}
		n := 0
		for _, p := range f.left[:f.n] {
			if value(p) >= most-slack {
				f.left[n] = p
				n++
			}
		}
		f.n = n
	}
}

// Pose returns the pose that what was told leaves, the first of several.
func (f *Finder) Pose() Pose { return f.left[0] }

// Heights returns weights from 1 to 255 that rise with a third coordinate, whatever it is counted from.
func Heights(z []int32) []uint8 {
	if len(z) == 0 {
		return nil
	}
	least, most := slices.Min(z), slices.Max(z)
	shift := 0
	for (int64(most)-int64(least))>>shift > 254 {
		shift++
	}
	weight := make([]uint8, len(z))
	for i, c := range z {
		weight[i] = 1 + uint8((int64(c)-int64(least))>>shift)
	}
	return weight
}
