package settle

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/roof"
)

// empty returns a draft of no roof with the default tolerances.
func empty() *draft { return newDraft(&roof.Roof{}, 1, nil) }

// scatter adds n nodes at random places of a square with the given side, in grid units.
func (d *draft) scatter(rnd *rand.Rand, n int, side int32) {
	for range n {
		d.add(rnd.Int32N(side)-side/2, rnd.Int32N(side)-side/2, source{isSpot, 0})
	}
}

// Every structure for searching is held against looking at everything.

func TestPlacesAgainstAll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	d := empty()
	d.scatter(rnd, 3000, 60000)
	for n := range d.x { // some move, near and far
		if n%5 == 0 {
			x, y := d.x[n]+rnd.Int32N(40000)-20000, d.y[n]+rnd.Int32N(4000)-2000
			d.places.Move(int32(n), d.x[n], d.y[n], x, y)
			d.x[n], d.y[n] = x, y
		}
	}
	found := 0
	for range 3000 {
		x, y := rnd.Int32N(80000)-40000, rnd.Int32N(80000)-40000
		want, wantD := int32(-1), int64(1000*1000)
		for n := range d.x {
			dx, dy := int64(d.x[n]-x), int64(d.y[n]-y)
			if dd := dx*dx + dy*dy; dd < wantD || dd == wantD && want < 0 {
				want, wantD = int32(n), dd
			}
		}
		if got := d.at(x, y); got != want {
			t.Fatalf("at (%d, %d): node %d, want %d", x, y, got, want)
		}
		if want >= 0 {
			found++
		}
	}
	if found < 500 {
		t.Errorf("only %d places were taken", found)
	}
}

func TestNearestLineAgainstAll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	d := empty()
	d.scatter(rnd, 400, 2000000)
	var segs []span
	for i := int32(0); i+1 < int32(len(d.x)); i += 2 {
		if i%4 == 0 { // short ones and axis-parallel ones too
			d.x[i+1], d.y[i+1] = d.x[i]+rnd.Int32N(3000), d.y[i]
		}
		segs = append(segs, span{0, i, i, i + 1})
	}
	l := d.newLines(segs, 30000)
	found := 0
	for range 3000 {
		x, y := rnd.Int32N(2100000)-1050000, rnd.Int32N(2100000)-1050000
		want := foot{seg: -1, far: 30000}
		for i := range segs {
			if f := l.foot(i, float64(x), float64(y)); f.far < want.far {
				want = f
			}
		}
		if got := l.nearest(x, y, nil); got.seg != want.seg || got.far != want.far {
			t.Fatalf("from (%d, %d): piece %d at %g, want %d at %g", x, y, got.seg, got.far, want.seg, want.far)
		}
		if want.seg >= 0 {
			found++
		}
	}
	if found < 1000 {
		t.Errorf("only %d places were near a line", found)
	}
}

func TestCrossingsAgainstAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	d := empty()
	d.scatter(rnd, 300, 1000000)
	var segs []span
	for i := int32(0); i+1 < int32(len(d.x)); i += 2 {
		segs = append(segs, span{0, i, i, i + 1})
	}
	l := d.newLines(segs, 2)
	want := 0
	for i := range segs {
		for j := range i {
			if _, ok := l.cross(int32(i), int32(j)); ok {
				want++
			}
		}
	}
	got := l.crossings()
	seen := map[[2]int32]bool{}
	for _, c := range got {
		seen[[2]int32{c.i, c.j}] = true
		for k, s := range []span{segs[c.i], segs[c.j]} {
			if f := l.foot([]int{int(c.i), int(c.j)}[k], float64(c.x), float64(c.y)); f.far > 1 {
				t.Errorf("crossing at (%d, %d) is %g units off the line from node %d", c.x, c.y, f.far, s.a)
			}
		}
	}
	if len(got) != want || len(seen) != want || want < 1000 {
		t.Errorf("%d crossings of %d pairs, want %d", len(got), len(seen), want)
	}
}

func TestNearestPointsAgainstAll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	for _, n := range []int{1, 5, 6, 7, 300} {
		d := empty()
		d.scatter(rnd, n, 10000)
		for i := range n / 3 { // a far cluster, and a few equal distances
			d.x[i] += 500000
		}
		var all []int32
		for i := range d.x {
			all = append(all, int32(i))
		}
		c := nearby.NewCloud(d.x, d.y, all)
		for range 300 {
			x, y := rnd.Int32N(1200000)-300000, rnd.Int32N(400000)-200000
			want := slices.Clone(all)
			far := func(i int32) int64 {
				dx, dy := int64(d.x[i]-x), int64(d.y[i]-y)
				return dx*dx + dy*dy
			}
			slices.SortFunc(want, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
			got := c.Nearest(x, y, 6)
			if len(got) != min(n, 6) {
				t.Fatalf("%d of %d points", len(got), n)
			}
			for k := range got {
				if got[k].N != want[k] {
					t.Fatalf("n = %d: point %d nearest to (%d, %d) is %d, want %d", n, k, x, y, got[k].N, want[k])
				}
			}
		}
	}
}

// Points off the ring's lines only, where orb's test in float64 can be trusted.
func TestRingAgainstOrb(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 30 {
		d := empty()
		n := 3 + rnd.IntN(40)
		var ring []int32
		for k := range n { // a star, so that it does not cross itself
			r := 100000 + 900000*rnd.Float64()
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			ring = append(ring, d.add(int32(r*cos), int32(r*sin), source{}))
		}
		ring = append(ring, ring[0])
		test, plan := d.newRingTest(ring), d.plan(ring)
		for range 500 {
			x, y := rnd.Int32N(2200000)-1100000, rnd.Int32N(2200000)-1100000
			p := orb.Point{geometry.Metres(x), geometry.Metres(y)}
			if planar.DistanceFrom(orb.LineString(plan), p) < 1e-4 {
				continue
			}
			if got, want := test.holds(x, y), planar.RingContains(plan, p); got != want {
				t.Fatalf("(%d, %d) in %v: %v, want %v", x, y, plan, got, want)
			}
		}
	}
}

// TestRingOnALattice: corners and places stand on a lattice of few units, so that most rows of places run through corners and along sides: exactly by thirds of a unit. Expected by counting the sides that a ray to the east meets, each with its lower end and without its upper one, in whole numbers.
func TestRingOnALattice(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 5))
	tried := 0
	for range 200 {
		d := empty()
		n := 3 + rnd.IntN(9)
		var ring []int32
		for k := range n { // a star round (0, 0)
			r := 3 + 9*rnd.Float64()
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.2) / float64(n))
			ring = append(ring, d.add(int32(math.Round(r*cos)), int32(math.Round(r*sin)), source{}))
		}
		if d.twiceRing(append(ring, ring[0])) <= 0 {
			continue
		}
		ring = append(ring, ring[0])
		test := d.newRingTest(ring)
		for x := int64(-40); x <= 40; x++ {
			for y := int64(-40); y <= 40; y++ {
				in, on := false, false
				for i := 1; i < len(ring); i++ {
					px, py, qx, qy := 3*int64(d.x[ring[i-1]]), 3*int64(d.y[ring[i-1]]), 3*int64(d.x[ring[i]]), 3*int64(d.y[ring[i]])
					cross := (qx-px)*(y-py) - (qy-py)*(x-px)
					if cross == 0 && min(px, qx) <= x && x <= max(px, qx) && min(py, qy) <= y && y <= max(py, qy) {
						on = true
					}
					if py <= y && y < qy && cross > 0 || qy <= y && y < py && cross < 0 {
						in = !in
					}
				}
				if on {
					continue
				}
				tried++
				if got := test.holdsThird(x, y); got != in {
					t.Fatalf("(%d/3, %d/3) in %v: %v, want %v", x, y, d.plan(ring), got, in)
				}
			}
		}
	}
	if tried < 500000 {
		t.Errorf("%d places", tried)
	}
}
