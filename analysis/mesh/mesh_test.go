package mesh_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// check verifies every invariant of a mesh: orientation, mutual twins, Euler's count, area of the
// hull, and that every unconstrained edge is locally Delaunay with Tie exactly where cocircular.
func check(t *testing.T, m *mesh.Mesh) {
	t.Helper()
	next := func(e int32) int32 { return e - e%3 + (e+1)%3 }
	prev := func(e int32) int32 { return e - e%3 + (e+2)%3 }
	hull := 0
	for e := range int32(len(m.V)) {
		u, v, w := m.V[e], m.V[next(e)], m.V[prev(e)]
		if geometry.Orient(m.X[u], m.Y[u], m.X[v], m.Y[v], m.X[w], m.Y[w]) <= 0 {
			t.Fatalf("triangle %d is not counter-clockwise", e/3)
		}
		o := m.Twin[e]
		if o < 0 {
			hull++
			continue
		}
		if m.Twin[o] != e || m.V[o] != v || m.V[next(o)] != u || m.Flag[o] != m.Flag[e] {
			t.Fatalf("half-edges %d and %d do not agree", e, o)
		}
		q := m.V[prev(o)]
		in := geometry.InCircle(m.X[u], m.Y[u], m.X[v], m.Y[v], m.X[w], m.Y[w], m.X[q], m.Y[q])
		if m.Flag[e]&^mesh.Tie == 0 && (in > 0 || (in == 0) != (m.Flag[e] == mesh.Tie)) {
			t.Fatalf("edge %d-%d: in-circle %d, flag %#x", u, v, in, m.Flag[e])
		}
	}
	if got, want := len(m.V)/3, 2*len(m.X)-2-hull; got != want {
		t.Fatalf("%d triangles, by Euler %d", got, want)
	}
}

func randomPoints(r *rand.Rand, n int, span int32) (x, y, z []int32) {
	seen := map[[2]int32]bool{}
	for len(x) < n {
		p := [2]int32{r.Int32N(span), r.Int32N(span)}
		if seen[p] {
			continue
		}
		seen[p] = true
		x, y, z = append(x, p[0]), append(y, p[1]), append(z, r.Int32N(5))
	}
	return x, y, z
}

func TestTriangulateRandom(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 1))
		span := int32(4) << r.IntN(27)
		n := 3 + r.IntN(200)
		x, y, z := randomPoints(r, min(n, int(min(int64(span)*int64(span), 300))*3/4), span)
		m, _, err := mesh.Triangulate(x, y, z, nil)
		if err != nil {
			continue // all on one line
		}
		check(t, m)
	}
}

// Squares of a small grid stretched as far as the span goes, some points moved by one unit: the signs of determinants that are 0 or far too
// small for float64, with lengths on both sides of where products stop being exact.
func TestTriangulateNearCircles(t *testing.T) {
	ties := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 7))
		span := int32(3 + r.IntN(6))
		factor := (int32(geometry.MaxSpan-2)/span)>>r.IntN(24) - r.Int32N(2)
		x, y, z := randomPoints(r, int(span*span)*3/4, span)
		for i := range x {
			x[i], y[i] = factor*x[i], factor*y[i]
			if seed%2 == 1 && r.IntN(3) == 0 {
				x[i] += 1 - r.Int32N(3)
				y[i] += 1 - r.Int32N(3)
			}
		}
		m, _, err := mesh.Triangulate(x, y, z, nil)
		if err != nil {
			continue // all on one line
		}
		check(t, m)
		for _, f := range m.Flag {
			ties += int(f >> 7)
		}
	}
	if ties < 1000 {
		t.Fatalf("only %d halves of ties were met", ties)
	}
}

func TestTriangulateSegments(t *testing.T) {
	inserted := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 2))
		span := int32(8) << r.IntN(10)
		x, y, z := randomPoints(r, 40, span)
		var segs []mesh.Segment
		for range 8 {
			a, b := r.Int32N(40), r.Int32N(40)
			if a != b {
				segs = append(segs, mesh.Segment{A: a, B: b, Flag: 1 << r.IntN(3)})
			}
		}
		m, crossings, err := mesh.Triangulate(x, y, z, segs)
		if err != nil {
			t.Fatal(err)
		}
		for len(crossings) > 0 {
			drop := map[int]bool{}
			for _, c := range crossings {
				drop[c.Segment] = true
			}
			var kept []mesh.Segment
			for i, s := range segs {
				if !drop[i] {
					kept = append(kept, s)
				}
			}
			segs = kept
			if m, crossings, err = mesh.Triangulate(x, y, z, segs); err != nil {
				t.Fatal(err)
			}
		}
		check(t, m)
		for _, s := range segs {
			covered(t, m, s)
			inserted++
		}
	}
	if inserted < 1000 {
		t.Fatalf("only %d segments were tried", inserted)
	}
}

// covered walks the flagged edges from s.A to s.B.
func covered(t *testing.T, m *mesh.Mesh, s mesh.Segment) {
	t.Helper()
	at := s.A
	for at != s.B {
		moved := false
		for e, v := range m.V {
			if v != at {
				continue
			}
			for _, w := range []int32{m.V[e-e%3+(e+1)%3], m.V[e-e%3+(e+2)%3]} {
				on := geometry.Orient(m.X[s.A], m.Y[s.A], m.X[s.B], m.Y[s.B], m.X[w], m.Y[w]) == 0
				near := dist(m, w, s.B) < dist(m, at, s.B)
				f := m.Flag[e]
				if w == m.V[e-e%3+(e+2)%3] {
					f = m.Flag[e-e%3+(e+2)%3]
				}
				if on && near && f&s.Flag != 0 {
					at, moved = w, true
				}
			}
			if moved {
				break
			}
		}
		if !moved {
			t.Fatalf("segment %v is not in the mesh past vertex %d", s, at)
		}
	}
}

func dist(m *mesh.Mesh, a, b int32) int64 {
	dx, dy := int64(m.X[a]-m.X[b]), int64(m.Y[a]-m.Y[b])
	return dx*dx + dy*dy
}

// triples lists the triangles by coordinates, in an order of their own.
func triples(m *mesh.Mesh) [][6]int32 {
	var all [][6]int32
	for e := 0; e < len(m.V); e += 3 {
		v := m.V[e : e+3]
		low := 0
		for i := range 3 {
			if m.X[v[i]] < m.X[v[low]] || (m.X[v[i]] == m.X[v[low]] && m.Y[v[i]] < m.Y[v[low]]) {
				low = i
			}
		}
		var row [6]int32
		for i := range 3 {
			row[2*i], row[2*i+1] = m.X[v[(low+i)%3]], m.Y[v[(low+i)%3]]
		}
		all = append(all, row)
	}
	slices.SortFunc(all, func(a, b [6]int32) int { return slices.Compare(a[:], b[:]) })
	return all
}

// The triangulation depends neither on the order of the points nor on where they lie, ties included.
func TestTriangulateOrderFree(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 3))
		x, y, z := randomPoints(r, 60, 12)
		m, _, err := mesh.Triangulate(x, y, z, nil)
		if err != nil {
			t.Fatal(err)
		}
		perm := r.Perm(len(x))
		px, py, pz := make([]int32, len(x)), make([]int32, len(x)), make([]int32, len(x))
		for i, p := range perm {
			px[i], py[i], pz[i] = x[p]+1000, y[p]-77, z[p]
		}
		moved, _, err := mesh.Triangulate(px, py, pz, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := triples(m)
		for i := range want {
			for k := range 3 {
				want[i][2*k] += 1000
				want[i][2*k+1] -= 77
			}
		}
		if !slices.Equal(want, triples(moved)) {
			t.Fatalf("seed %d: another order gives another mesh", seed)
		}
	}
}

func TestTriangulateRefuses(t *testing.T) {
	line := []int32{0, 1, 2, 3}
	zero := []int32{0, 0, 0, 0}
	tri := []int32{0, 5, 0}
	for name, try := range map[string]func() error{
		"one line":   func() error { _, _, err := mesh.Triangulate(line, line, zero, nil); return err },
		"two points": func() error { _, _, err := mesh.Triangulate(line[:2], line[:2], zero[:2], nil); return err },
		"equal points": func() error {
			_, _, err := mesh.Triangulate([]int32{0, 5, 0, 5}, []int32{0, 0, 5, 0}, zero, nil)
			return err
		},
		"too wide": func() error {
			_, _, err := mesh.Triangulate([]int32{0, 1 << 30, 0}, tri, zero[:3], nil)
			return err
		},
		"segment to itself": func() error {
			_, _, err := mesh.Triangulate([]int32{0, 5, 5}, tri, zero[:3], []mesh.Segment{{A: 1, B: 1, Flag: 1}})
			return err
		},
		"segment without flag": func() error {
			_, _, err := mesh.Triangulate([]int32{0, 5, 5}, tri, zero[:3], []mesh.Segment{{A: 0, B: 1}})
			return err
		},
		"segment outside": func() error {
			_, _, err := mesh.Triangulate([]int32{0, 5, 5}, tri, zero[:3], []mesh.Segment{{A: 0, B: 3, Flag: 1}})
			return err
		},
	} {
		if try() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// diagonal reports whether a mesh has the edge between two places.
func diagonal(m *mesh.Mesh, a, b [2]int32) bool {
	for e := range m.V {
		u, v := m.V[e], m.V[e-e%3+(e+1)%3]
		if p, q := [2]int32{m.X[u], m.Y[u]}, [2]int32{m.X[v], m.Y[v]}; p == a && q == b || p == b && q == a {
			return true
		}
	}
	return false
}

// Of the two diagonals of a square that with the smaller difference of elevation is taken, whatever the sums; of equal differences the lower pair;
// then that from the lower left end. By hand from the rule as it is documented.
func TestDiagonalOfASquare(t *testing.T) {
	x, y := []int32{0, 10, 10, 0}, []int32{0, 0, 10, 10} // 0 and 2 are opposite, 1 and 3
	for _, c := range []struct {
		z      []int32
		rising bool // the diagonal 0-2
	}{
		{[]int32{5, 0, 5, 3}, true}, // differences 0 and 3; the pair taken is the higher one
		{[]int32{0, 5, 3, 5}, false},
		{[]int32{3, 5, 5, 0}, true}, // differences 2 and 5
		{[]int32{0, 4, 2, 6}, true}, // 2 and 2: the lower pair
		{[]int32{4, 0, 6, 2}, false},
		{[]int32{0, 0, 0, 0}, true}, // all alike: from the lower left
	} {
		m, _, err := mesh.Triangulate(x, y, c.z, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := diagonal(m, [2]int32{0, 0}, [2]int32{10, 10}); got != c.rising {
			t.Errorf("elevations %v: the diagonal from the lower left is taken: %v", c.z, got)
		}
	}
}

// The greatest set whose diagonals are chosen all at once: 256 points of one level on one circle. 48612265 = 5 x 13 x 17 x 29 x 37 x 41 is a
// sum of two squares in 4 x 2^6 = 256 ways (Jacobi). All keys but the last are equal, so that every diagonal starts at the most westerly point, the
// southern one of two: a fan of 254 triangles, whatever the order in which the points come.
func TestFanOfTheGreatestCircle(t *testing.T) {
	const n = 48612265
	var x, y []int32
	for i := int32(-6972); i <= 6972; i++ {
		for _, j := range []int32{1, -1} {
			k := j * int32(math.Round(math.Sqrt(float64(n-int64(i)*int64(i)))))
			if int64(i)*int64(i)+int64(k)*int64(k) == n {
				x, y = append(x, i), append(y, k)
			}
		}
	}
	if len(x) != 256 {
		t.Fatalf("%d points on the circle, want 256", len(x))
	}
	west := [2]int32{x[0], min(y[0], y[1])}
	order := rand.New(rand.NewPCG(5, 5)).Perm(len(x))
	px, py := make([]int32, len(x)), make([]int32, len(x))
	for i, p := range order {
		px[i], py[i] = x[p], y[p]
	}
	m, _, err := mesh.Triangulate(px, py, make([]int32, len(px)), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.V) != 3*254 {
		t.Fatalf("%d triangles, want 254", len(m.V)/3)
	}
	for f := 0; f < len(m.V); f += 3 {
		fan := false
		for _, v := range m.V[f : f+3] {
			fan = fan || [2]int32{m.X[v], m.Y[v]} == west
		}
		if !fan {
			t.Fatalf("triangle %d has no corner at %v", f/3, west)
		}
	}
}

// The twelve points of the circle of radius 5 have the diagonals that the rule as it is documented gives, by trying all in the order of their keys, two of which cross where each
// parts the ends of the other; whatever the elevations and the order of the points.
func TestDiagonalsOfACircle(t *testing.T) {
	rim := [][2]int32{{5, 0}, {4, 3}, {3, 4}, {0, 5}, {-3, 4}, {-4, 3}, {-5, 0}, {-4, -3}, {-3, -4}, {0, -5}, {3, -4}, {4, -3}}
	n := int32(len(rim))
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 12))
		elevation := make([]int32, n)
		for i := range elevation {
			elevation[i] = r.Int32N(1 + int32(seed%4))
		}
		var all [][8]int32 // key, then the ends
		for i := range n {
			for j := i + 1; j < n; j++ {
				a, b := rim[i], rim[j]
				if slices.Compare(b[:], a[:]) < 0 {
					a, b = b, a
				}
				if d := elevation[i] - elevation[j]; j-i > 1 && j-i < n-1 {
					all = append(all, [8]int32{max(d, -d), elevation[i] + elevation[j], a[0], a[1], b[0], b[1], i, j})
				}
			}
		}
		slices.SortFunc(all, func(a, b [8]int32) int { return slices.Compare(a[:], b[:]) })
		want := map[[2]int32]bool{}
		for _, d := range all {
			crossed := false
			for o := range want {
				in := func(k int32) bool { return d[6] < k && k < d[7] }
				out := func(k int32) bool { return k < d[6] || k > d[7] }
				crossed = crossed || in(o[0]) && out(o[1]) || out(o[0]) && in(o[1])
			}
			if !crossed {
				want[[2]int32{d[6], d[7]}] = true
			}
		}
		order := r.Perm(int(n))
		x, y, z := make([]int32, n), make([]int32, n), make([]int32, n)
		for i, p := range order {
			x[i], y[i], z[i] = rim[p][0], rim[p][1], elevation[p]
		}
		m, _, err := mesh.Triangulate(x, y, z, nil)
		if err != nil {
			t.Fatal(err)
		}
		check(t, m)
		for d := range want {
			if !diagonal(m, rim[d[0]], rim[d[1]]) {
				t.Errorf("elevations %v in order %v: no diagonal from %v to %v", elevation, order, rim[d[0]], rim[d[1]])
			}
		}
	}
}

// A mesh whose coordinates are mirrored afterwards and that is turned about is a mesh again: counter-clockwise, with twins and flags in their places; its edges are the same.
func TestMirror(t *testing.T) {
	x, y, z := randomPoints(rand.New(rand.NewPCG(4, 4)), 40, 9)
	straight, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		t.Fatal(err)
	}
	var segments []mesh.Segment
	for e := 0; e < len(straight.V); e += 7 {
		segments = append(segments, mesh.Segment{A: straight.V[e], B: straight.V[mesh.Next(int32(e))], Flag: uint8(1 + e%5)})
	}
	m, _, err := mesh.Triangulate(x, y, z, segments)
	if err != nil {
		t.Fatal(err)
	}
	flagged := func() map[[2]int32]uint8 {
		out := map[[2]int32]uint8{}
		for e := range int32(len(m.V)) {
			a, b := m.V[e], m.V[mesh.Next(e)]
			out[[2]int32{min(a, b), max(a, b)}] = m.Flag[e]
		}
		return out
	}
	edges, first := flagged(), slices.Clone(m.V)
	m.X = slices.Clone(m.X)
	for i := range m.X {
		m.X[i] = -m.X[i]
	}
	m.Mirror()
	check(t, m)
	if !maps.Equal(edges, flagged()) {
		t.Error("the edges are others")
	}
	for f := 0; f < len(m.V); f += 3 {
		if m.V[f] != first[f] {
			t.Errorf("triangle %d begins at %d, not %d", f/3, m.V[f], first[f])
		}
	}
}

// The span of the points counts, not where they lie.
func TestSpanOfThePoints(t *testing.T) {
	const half = geometry.MaxSpan / 2
	for _, c := range []struct {
		x  []int32
		ok bool
	}{
		{[]int32{-half, half, 0}, true},
		{[]int32{-half - 1, half + 1, 0}, false},
		{[]int32{half + 1, half + 9, half + 3}, true},
		{[]int32{-half - 1, -half - 9, -half - 3}, true},
		{[]int32{0, geometry.MaxSpan, 0}, true},
		{[]int32{0, geometry.MaxSpan + 1, 0}, false},
	} {
		for turned, err := range map[bool]error{
			false: second(mesh.Triangulate(c.x, []int32{0, 0, 7}, make([]int32, 3), nil)),
			true:  second(mesh.Triangulate([]int32{0, 0, 7}, c.x, make([]int32, 3), nil)),
		} {
			if (err == nil) != c.ok {
				t.Errorf("%v, across %v: %v", c.x, turned, err)
			}
		}
	}
}

func second(_ *mesh.Mesh, _ []mesh.Crossing, err error) error { return err }

// The western part of a mesh has the triangles that lie west, in their order and with their flags, and a border where the others were.
func TestExtract(t *testing.T) {
	x, y, z := randomPoints(rand.New(rand.NewPCG(6, 6)), 50, 12)
	m, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		t.Fatal(err)
	}
	keep := make([]bool, len(m.V)/3)
	var kept []int
	for f := range keep {
		if keep[f] = x[m.V[3*f]]+x[m.V[3*f+1]]+x[m.V[3*f+2]] < 15; keep[f] {
			kept = append(kept, f)
		}
	}
	part, old := m.Extract(keep)
	if len(kept) < 10 || len(part.V) != 3*len(kept) || len(old) != len(part.X) || !slices.IsSorted(old) {
		t.Fatalf("%d of %d triangles kept: %d corners, vertices %v", len(kept), len(keep), len(part.V), old)
	}
	now := map[int32]int32{-1: -1}
	for k, f := range kept {
		now[int32(f)] = int32(k)
	}
	for k, f := range kept {
		for c := range 3 {
			was, is := 3*f+c, 3*k+c
			v := part.V[is]
			want := int32(-1)
			if o := m.Twin[was]; o >= 0 && keep[o/3] {
				want = 3*now[o/3] + o%3
			}
			if old[v] != m.V[was] || part.X[v] != x[m.V[was]] || part.Y[v] != y[m.V[was]] || part.Z[v] != z[m.V[was]] || part.Flag[is] != m.Flag[was] || part.Twin[is] != want {
				t.Errorf("half-edge %d, that was %d: vertex %d, twin %d, want %d", is, was, old[v], part.Twin[is], want)
			}
		}
	}
}
