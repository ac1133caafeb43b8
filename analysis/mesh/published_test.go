package mesh_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/analysis/mesh"
	"runnel/analysis/soak"
)

// degenerate is a point set that other triangulators were reported to fail on. The file of the same name under
// testdata/published/pointsets holds "x y" lines; scale is grid units a unit.
var degenerate = []struct {
	name      string
	scale     float64
	triangles int // 0: only the invariants are checked, since snapping merges or moves near-duplicates
	source    string
}{
	{"renka12", 100, 18, "Renka, ACM Transactions on Mathematical Software 22(1), 1996, algorithm 751: 12 nodes, 18 triangles"},
	{"thin-hull-3", 100, 1, "JTS issue 477, first set; exact count by rationals"},
	{"thin-hull-6", 1, 5, "JTS issue 477, second set; exact count by rationals"},
	{"collinear-9", 1, 13, "delaunator issue 24 (ISC), reduced set; by hand: ten points, five on the hull, 2*10 - 2 - 5"},
	{"circle-17", 1e7, 15, "delaunator issue 13 (ISC): 17 points of one circle, n - 2 triangles"},
	{"rows-5", 1e5, 0, "delaunator issue 43 (ISC)"},
	{"near-hull-4", 1e5, 2, "delaunator issue 91: the fourth point lies 2e-11 off a hull edge; on the grid it must split that edge or lie in the hull"},
	{"robustness-3", 1e7, 0, "delaunator fixture robustness3 (ISC)"},
	{"lattice-36", 1e7, 0, "delaunator fixture robustness4 (ISC): a turned lattice"},
	{"short-segment", 1e9, 0, "Constrainautor issue 15 (points)"},
}

func readPoints(t *testing.T, name string, scale float64) (x, y, z []int32) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "published", "pointsets", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[[2]int32]bool{}
	for line := range strings.Lines(string(data)) {
		var px, py float64
		if _, err := fmt.Sscan(line, &px, &py); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		p := [2]int32{int32(math.Round(px * scale)), int32(math.Round(py * scale))}
		if !seen[p] {
			seen[p] = true
			x, y, z = append(x, p[0]), append(y, p[1]), append(z, 0)
		}
	}
	return x, y, z
}

func TestTriangulatePublished(t *testing.T) {
	for _, d := range degenerate {
		t.Run(d.name, func(t *testing.T) {
			x, y, z := readPoints(t, d.name, d.scale)
			m, _, err := mesh.Triangulate(x, y, z, nil)
			if err != nil {
				t.Fatal(err)
			}
			check(t, m)
			if d.name == "near-hull-4" && len(m.V)/3 == 3 {
				return // the snapped point lies just inside
			}
			if d.triangles > 0 && len(m.V)/3 != d.triangles {
				t.Errorf("%d triangles, want %d (%s)", len(m.V)/3, d.triangles, d.source)
			}
		})
	}
}

// Constrainautor issue 15: a very short segment next to a hull edge sent a known implementation into an endless loop.
func TestTriangulateShortSegment(t *testing.T) {
	x, y, z := readPoints(t, "short-segment", 1e9)
	for a := range int32(len(x)) {
		for b := range a {
			m, crossings, err := mesh.Triangulate(x, y, z, []mesh.Segment{{A: a, B: b, Flag: 1}})
			if err != nil || len(crossings) > 0 {
				t.Fatal(a, b, crossings, err)
			}
			check(t, m)
		}
	}
}

// A grid turned by an odd angle (delaunator issue 61): no triangle is longer than two cells but at the hull.
func TestTriangulateTurnedGrid(t *testing.T) {
	s, c := math.Sincos(302.328 * math.Pi / 180)
	var x, y []int32
	for j := range 100 {
		for i := range 100 {
			x = append(x, int32(math.Round(1e5*(c*float64(i)-s*float64(j)))))
			y = append(y, int32(math.Round(1e5*(s*float64(i)+c*float64(j)))))
		}
	}
	m, _, err := mesh.Triangulate(x, y, make([]int32, len(x)), nil)
	if err != nil {
		t.Fatal(err)
	}
	check(t, m)
	for e, v := range m.V {
		tri := e - e%3
		if slices.ContainsFunc(m.V[tri:tri+3], func(v int32) bool {
			return v < 100 || v >= 9900 || v%100 == 0 || v%100 == 99 // rounding leaves slivers along the border rows
		}) {
			continue
		}
		w := m.V[tri+(e+1)%3]
		if d := math.Hypot(float64(x[v]-x[w]), float64(y[v]-y[w])); d > 2e5 {
			t.Fatalf("inner edge of %.3f cells", d/1e5)
		}
	}
}

const scipyDelaunay = `
import sys, numpy
from scipy.spatial import Delaunay
p = numpy.frombuffer(sys.stdin.buffer.read(), dtype='<f8').reshape(-1, 2)
for t in sorted(sorted(map(int, t)) for t in Delaunay(p).simplices): print(*t)
`

// The same triangles as SciPy's Qhull on seeded uniform points, where no four are cocircular.
func TestTriangulateLikeSciPy(t *testing.T) {
	for _, n := range []int{10, 1000, 20_000} {
		r := rand.New(rand.NewPCG(uint64(n), 4))
		x, y, z := randomPoints(r, n, 1<<26)
		var in bytes.Buffer
		for i := range x {
			if err := binary.Write(&in, binary.LittleEndian, []float64{float64(x[i]), float64(y[i])}); err != nil {
				t.Fatal(err)
			}
		}
		want := strings.TrimSpace(string(reference.Python(t, "python3-scipy", scipyDelaunay, in.Bytes())))
		m, _, err := mesh.Triangulate(x, y, z, nil)
		if err != nil {
			t.Fatal(err)
		}
		var rows [][3]int32
		for e := 0; e < len(m.V); e += 3 {
			row := [3]int32(m.V[e : e+3])
			slices.Sort(row[:])
			rows = append(rows, row)
		}
		slices.SortFunc(rows, func(a, b [3]int32) int { return slices.Compare(a[:], b[:]) })
		var got strings.Builder
		for _, row := range rows {
			fmt.Fprintln(&got, row[0], row[1], row[2])
		}
		if strings.TrimSpace(got.String()) != want {
			t.Errorf("%d points: other triangles than SciPy", n)
		}
	}
}

func triangulating() *soak.Target {
	g := soak.New("FuzzTriangulate")
	g.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9, 5, 5}, []byte{0, 2, 1, 3})
	g.Add([]byte{0, 0, 1, 0, 2, 0, 3, 0, 1, 1}, []byte{0, 3})
	g.Property = func(t *testing.T, points, segments []byte) {
		t.Helper()
		seen := map[[2]int32]bool{}
		var x, y, z []int32
		for i := 0; i+1 < len(points) && len(x) < 100; i += 2 {
			p := [2]int32{int32(points[i]), int32(points[i+1])}
			if !seen[p] {
				seen[p] = true
				x, y, z = append(x, p[0]), append(y, p[1]), append(z, p[0]^p[1])
			}
		}
		var segs []mesh.Segment
		for i := 0; i+1 < len(segments) && len(segs) < 40; i += 2 {
			segs = append(segs, mesh.Segment{A: int32(segments[i]), B: int32(segments[i+1]), Flag: 1 + segments[i]%3})
		}
		m, crossings, err := mesh.Triangulate(x, y, z, segs)
		if err != nil || len(crossings) > 0 {
			return
		}
		check(t, m)
		for _, s := range segs {
			covered(t, m, s)
		}
	}
	return g
}

func FuzzTriangulate(f *testing.F) { triangulating().Fuzz(f) }

func TestSoakTriangulate(t *testing.T) { triangulating().Soak(t) }
