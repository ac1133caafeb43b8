package flow

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// trials returns how many random roofs, and how many places on each, a property is tried on.
func trials() (roofs, places int) {
	if os.Getenv("RUNNEL_LONG") == "1" {
		return 200, 20000
	}
	return 40, 2000
}

// randomRoof returns made-up roof number k: hand-made grids with every kind of tie, and surveyed roofs
// with curbs, breaklines, outlets and edges.
func randomRoof(t *testing.T, k int) (*surface.Surface, *rand.Rand) {
	t.Helper()
	r := rand.New(rand.NewPCG(uint64(k), 7))
	if k%2 == 0 {
		return random(r, 6+r.IntN(20)), r
	}
	s, err := surface.Build(shape.Random(uint64(k), 50+r.IntN(400)), surface.Options{})
	if err != nil {
		t.Fatalf("roof %d: %v", k, err)
	}
	return s, r
}

// somewhere returns a random place on the surface.
func somewhere(n *Network, r *rand.Rand) Place {
	box := orb.MultiPoint{}
	for i, x := range n.t.X {
		box = append(box, orb.Point{x, n.t.Y[i]})
	}
	b := box.Bound()
	for {
		x, y := b.Min[0]+r.Float64()*(b.Max[0]-b.Min[0]), b.Min[1]+r.Float64()*(b.Max[1]-b.Min[1])
		if f := n.index.find(x, y); f >= 0 {
			return Place{f, orb.Point{x, y}}
		}
	}
}

// forked reports whether water that starts a micrometre away ends elsewhere or takes another way.
func forked(t *testing.T, n *Network, p Place) bool {
	t.Helper()
	here, err := n.PathFrom(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range [][2]float64{{1e-6, 0}, {-1e-6, 0}, {0, 1e-6}, {0, -1e-6}} {
		q := orb.Point{p.Point[0] + d[0], p.Point[1] + d[1]}
		f := n.index.find(q[0], q[1])
		if f < 0 {
			return true
		}
		there, err := n.PathFrom(Place{f, q})
		if err != nil {
			t.Fatal(err)
		}
		if there.Label != here.Label || !(math.Abs(there.Travel-here.Travel) <= 1e-4) {
			return true
		}
	}
	return false
}

// TestLabelsAndTravel compares label and travel of random places with those of the path traced from
// them, which knows nothing of interval lists. Places whose water forks within a micrometre are left out.
func TestLabelsAndTravel(t *testing.T) {
	roofs, places := trials()
	tried, left := 0, 0
	for k := range roofs {
		s, r := randomRoof(t, k)
		n := trace(t, s, Options{})
		thinned, whole := newSolver(n, Options{}), newSolver(n, Options{Tolerance: -1})
		thinned.solve()
		whole.solve()
		for range places {
			p := somewhere(n, r)
			path, err := n.PathFrom(p)
			if err != nil {
				t.Fatalf("roof %d: %v", k, err)
			}
			tried++
			label := n.LabelOf(p)
			got, exact := thinned.travelOf(p), whole.travelOf(p)
			if label == path.Label && math.Abs(exact-path.Travel) < 1e-6 && math.Abs(got-path.Travel) < 0.010 {
				continue
			}
			if forked(t, n, p) {
				left++
				continue
			}
			t.Errorf("roof %d at %v: label %d, travel %.6f, unthinned %.6f; traced label %d, travel %.6f",
				k, p, label, got, exact, path.Label, path.Travel)
		}
	}
	if left*5 > tried {
		t.Errorf("%d of %d places left out", left, tried)
	}
	t.Logf("%d places, %d left out", tried, left)
}

// travelOf returns the travel that the lists give a place.
func (v *solver) travelOf(p Place) float64 {
	if v.sinks.facet[p.Facet] >= 0 {
		return 0
	}
	if pooled(v.t, p.Facet) {
		c := v.poolCorner(p.Facet)
		if v.way[c] == wayPit {
			return 0
		}
		c = v.poolTarget(p.Facet, p.Point[0], p.Point[1])
		return v.dist[c] + vector.Norm(p.Point[0]-v.t.X[c], p.Point[1]-v.t.Y[c])
	}
	dx, dy, _ := v.fall(p.Facet)
	best, travel := math.Inf(1), 0.0
	for e := 3 * p.Facet; e < 3*p.Facet+3; e++ {
		if v.t.Run[e] <= 0 {
			continue
		}
		a, b := v.t.V[e], v.t.V[surface.Next(e)]
		qa := cross(v.t.X[a]-p.Point[0], v.t.Y[a]-p.Point[1], dx, dy)
		qb := cross(v.t.X[b]-p.Point[0], v.t.Y[b]-p.Point[1], dx, dy)
		w := qa / (qa - qb)
		if miss := max(-w, w-1); miss < best {
			at := v.on(e, max(0, min(1, w)))
			best = miss
			_, d, _ := v.value(e, max(0, min(1, w)))
			travel = d + vector.Norm(at[0]-p.Point[0], at[1]-p.Point[1])
		}
	}
	return travel
}

// TestErrorBound keeps the accumulated bound of all intervals within the tolerance.
func TestErrorBound(t *testing.T) {
	for k := range 10 {
		s, _ := randomRoof(t, k)
		n := trace(t, s, Options{LabelsOnly: true})
		v := newSolver(n, Options{Tolerance: 0.005})
		v.solve()
		for e, at := range v.lists.at {
			if at < 0 {
				continue
			}
			last := 0.0
			for _, x := range v.lists.of(int32(e)) {
				if x.err > 0.005+1e-5 || x.end <= last {
					t.Fatalf("roof %d side %d: %+v after %g", k, e, x, last)
				}
				last = x.end
			}
			if last != 1 {
				t.Fatalf("roof %d side %d ends at %g", k, e, last)
			}
		}
	}
}

// TestStripsCover adds up the strips of every facet.
func TestStripsCover(t *testing.T) {
	for k := range 20 {
		s, _ := randomRoof(t, k)
		n := trace(t, s, Options{LabelsOnly: true})
		area := make([]float64, len(n.Ends))
		for f := range int32(s.Cut.Facets()) {
			n.strips(f, func(x Strip) {
				for i := 1; i < len(x.Ring); i++ {
					a, b, o := x.Ring[i-1], x.Ring[i], x.Ring[0]
					area[x.Label] += cross(a[0]-o[0], a[1]-o[1], b[0]-o[0], b[1]-o[1]) / 2
				}
			})
		}
		for l := range area {
			near(t, "area by strips", area[l], n.Area[l], 1e-9*s.Area)
		}
	}
}

// TestMoved shifts a roof, renumbers its corners and facets, and turns it by a right angle: the areas by
// end stay the same.
func TestMoved(t *testing.T) {
	for k := range 30 {
		r := rand.New(rand.NewPCG(uint64(k), 11))
		size := 5 + r.IntN(12)
		fine := func(i, j int) int32 { return int32(i)*700 + int32(j)*300 + r.Int32N(1<<20)>>(5*(k%3)) }
		d := grid(size, size, fine, func(i, j int) bool { return (i*7+j*3)%4 < 2 })
		if k%2 == 0 {
			d.shake(r, size)
		}
		w := float64(size)
		areas := func(d *draft, x0, y0 float64, turned bool) []float64 {
			s := d.walled()
			local := func(x, y float64) (float64, float64) {
				if turned {
					return y - y0, w - (x - x0)
				}
				return x - x0, y - y0
			}
			gutter(s, func(x, y float64) bool { x, y = local(x, y); return math.Abs(y) < 1e-7 && x > w/3+0.1 })
			bowl(s, func(x, y float64) bool { x, y = local(x, y); return x > 1.5 && x < 4.5 && y > 2.5 && y < 5.5 })
			a := trace(t, s, Options{}).Area
			slices.Sort(a[2:])
			return a
		}
		want := areas(d, 0, 0, false)
		for name, got := range map[string][]float64{
			"shifted":    areas(d.moved(func(x, y int32) (int32, int32) { return x + 12345678, y - 7654321 }), 123.45678, -76.54321, false),
			"renumbered": areas(d.shuffled(r), 0, 0, false),
			"turned":     areas(d.moved(func(x, y int32) (int32, int32) { return int32(size)*metre - y, x }), 0, 0, true),
		} {
			if len(got) != len(want) {
				t.Errorf("roof %d %s: %d ends, want %d", k, name, len(got), len(want))
				continue
			}
			for i := range got {
				near(t, name, got[i], want[i], 1e-9*w*w)
			}
		}
	}
}

func (d *draft) moved(to func(x, y int32) (int32, int32)) *draft {
	m := &draft{z: d.z, facets: d.facets}
	for i := range d.x {
		x, y := to(d.x[i], d.y[i])
		m.x, m.y = append(m.x, x), append(m.y, y)
	}
	return m
}

func (d *draft) shuffled(r *rand.Rand) *draft {
	m := &draft{x: make([]int32, len(d.x)), y: make([]int32, len(d.x)), z: make([]int32, len(d.x))}
	to := r.Perm(len(d.x))
	for i, k := range to {
		m.x[k], m.y[k], m.z[k] = d.x[i], d.y[i], d.z[i]
	}
	for _, i := range r.Perm(len(d.facets)) {
		turn := r.IntN(3)
		var f [3]int32
		for c := range 3 {
			f[c] = int32(to[d.facets[i][(c+turn)%3]])
		}
		m.facets = append(m.facets, f)
	}
	return m
}

// TestFollow makes lists without any settled side or vertex to rest on, as happens where sides need each
// other in a ring, and compares them with the usual ones.
func TestFollow(t *testing.T) {
	for k := range 12 {
		s, _ := randomRoof(t, k)
		n := trace(t, s, Options{LabelsOnly: true})
		v, alone := newSolver(n, Options{Tolerance: -1}), newSolver(n, Options{Tolerance: -1})
		v.solve()
		if v.followed > 0 {
			t.Logf("roof %d: %d rings", k, v.followed)
		}
		for e, kind := range n.kind {
			if kind != crosses {
				continue
			}
			alone.buf = alone.buf[:0]
			alone.follow(stretch{side: int32(e), w1: 1, s1: 1})
			for _, w := range []float64{0.123, 0.5, 0.789} {
				label, d, _ := v.value(int32(e), w)
				other, d2 := at(alone.buf, w)
				if label != other || !(math.Abs(d-d2) <= 1e-6) {
					if a, da, _ := v.value(int32(e), w+1e-6); a != label || !(math.Abs(da-d) <= 1e-4) {
						continue // the water forks here
					}
					if a, da, _ := v.value(int32(e), w-1e-6); a != label || !(math.Abs(da-d) <= 1e-4) {
						continue
					}
					t.Errorf("roof %d side %d at %g: label %d, %.9f m; alone %d, %.9f m", k, e, w, label, d, other, d2)
				}
			}
		}
	}
}

// at returns label and travel at position w of a list.
func at(list []interval, w float64) (Label, float64) {
	start := 0.0
	for i, x := range list {
		if w < x.end || i == len(list)-1 {
			return x.label, carry(w, start, x.end, x.d0, x.d1)
		}
		start = x.end
	}
	return Unlabelled, 0
}
