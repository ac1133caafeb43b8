package slope

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"runnel/analysis/surface"
)

// squares is a TIN of n by n unit squares, each parted by its rising diagonal. Square (i, j) holds facets
// 2*(j*n+i), below the diagonal, and the next, above it.
func squares(n int) *surface.TIN {
	t := &surface.TIN{}
	for j := range n + 1 {
		for i := range n + 1 {
			t.X, t.Y, t.Z = append(t.X, float64(i)), append(t.Y, float64(j)), append(t.Z, 0)
		}
	}
	for j := range n {
		for i := range n {
			a := int32(j*(n+1) + i)
			b, c, d := a+1, a+int32(n)+2, a+int32(n)+1
			t.V = append(t.V, a, b, c, a, c, d)
		}
	}
	t.Twin, t.Flag = make([]int32, len(t.V)), make([]surface.EdgeFlag, len(t.V))
	byEnds := map[[2]int32]int32{}
	for e := range t.V {
		byEnds[[2]int32{t.V[e], t.V[surface.Next(int32(e))]}] = int32(e)
	}
	for e := range t.V {
		w, ok := byEnds[[2]int32{t.V[surface.Next(int32(e))], t.V[e]}]
		if t.Twin[e] = w; !ok {
			t.Twin[e] = -1
		}
	}
	return t
}

// Random patches, joined by their edges and full of holes and pinches: every outline is a valid polygon
// (judged by another library) with the area of its facets.
func TestOutlinesAreValid(t *testing.T) {
	const n = 9
	tin := squares(n)
	holes, pinches := 0, 0
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 3))
		set := make([]int32, tin.Facets())
		for f := range set {
			set[f] = -1
		}
		kind := make([]bool, len(set))
		for f := range kind {
			kind[f] = r.Float64() < 0.55
		}
		sets := int32(0)
		var members [][]int32
		for f := range set {
			if set[f] >= 0 {
				continue
			}
			patch := []int32{int32(f)}
			set[f] = sets
			for i := 0; i < len(patch); i++ {
				for e := 3 * patch[i]; e < 3*patch[i]+3; e++ {
					if w := tin.Twin[e]; w >= 0 && set[w/3] < 0 && kind[w/3] == kind[f] {
						set[w/3] = sets
						patch = append(patch, w/3)
					}
				}
			}
			members = append(members, patch)
			sets++
		}
		b := newBorderWalker(tin, set)
		for _, facets := range members {
			outline := b.outline(facets)
			if got, want := planar.Area(outline), float64(len(facets))/2; !(math.Abs(got-want) <= 1e-9) {
				t.Fatalf("seed %d: area %g, want %g", seed, got, want)
			}
			if err := valid(outline[0]); err != nil {
				t.Fatalf("seed %d: %v\n%v", seed, err, outline)
			}
			seen := map[orb.Point]int{}
			for k, ring := range outline[0] {
				if want := map[bool]orb.Orientation{true: orb.CCW, false: orb.CW}[k == 0]; ring.Orientation() != want {
					t.Fatalf("seed %d: ring %d turns the wrong way", seed, k)
				}
				holes += b2i(k > 0)
				for _, p := range ring[1:] {
					seen[p]++
					pinches += b2i(seen[p] == 2)
				}
			}
		}
	}
	if holes < 50 || pinches < 50 {
		t.Errorf("the patches had %d holes and %d pinches: too tame", holes, pinches)
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// valid asks the other library.
func valid(p orb.Polygon) error {
	rings := make([]geom.LineString, len(p))
	for i, ring := range p {
		var xy []float64
		for _, q := range ring {
			xy = append(xy, q[0], q[1])
		}
		rings[i] = geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	}
	return geom.NewPolygon(rings).Validate()
}

// Every link ends up in exactly one chain, chains run end to end, and fork vertices end them.
func TestChains(t *testing.T) {
	tin := squares(6)
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 5))
		var links []link
		degree := map[[2]int64]int{}
		for e, w := range tin.Twin {
			if w < int32(e) || r.Float64() < 0.6 {
				continue
			}
			key := int64(r.IntN(3))
			links = append(links, link{key, int32(e)})
			degree[[2]int64{key, int64(tin.V[e])}]++
			degree[[2]int64{key, int64(tin.V[w])}]++
		}
		keyOf := map[int32]int64{}
		for _, l := range links {
			keyOf[l.edge], keyOf[tin.Twin[l.edge]] = l.key, l.key
		}
		used := map[int32]bool{}
		for _, c := range chains(tin, links) {
			chain := c.edges
			for i, e := range chain {
				low := min(e, tin.Twin[e])
				if used[low] || keyOf[e] != c.key {
					t.Fatalf("seed %d: edge %d twice or of another line", seed, e)
				}
				used[low] = true
				if i == 0 {
					continue
				}
				if at := tin.V[e]; tin.V[tin.Twin[chain[i-1]]] != at || degree[[2]int64{keyOf[e], int64(at)}] != 2 {
					t.Fatalf("seed %d: chain broken or run through a fork at vertex %d", seed, at)
				}
			}
			first, last := tin.V[chain[0]], tin.V[tin.Twin[chain[len(chain)-1]]]
			for _, v := range []int32{first, last} {
				if first != last && degree[[2]int64{keyOf[chain[0]], int64(v)}] == 2 {
					t.Fatalf("seed %d: a chain ends at vertex %d, where its line goes on", seed, v)
				}
			}
		}
		if len(used) != len(links) {
			t.Fatalf("seed %d: %d of %d links in chains", seed, len(used), len(links))
		}
	}
}

// By hand: a strip of 12 by 4 m whose long sides step in and out by a metre at every other metre has the area of one 4 m wide. Told at a metre, its teeth are
// gone and so is what they add to its perimeter; told exactly, 11 teeth a side of two sides each add 44 m to 32 m.
func TestWidthOfATornPlane(t *testing.T) {
	p := Plane{Area: 48}
	ring := orb.Ring{{0, 0}}
	for x := 1.0; x <= 12; x++ {
		y := float64(int(x) % 2)
		ring = append(ring, orb.Point{x - 1, y}, orb.Point{x, y})
	}
	for x := 12.0; x >= 1; x-- {
		y := 4 + float64(int(x)%2)
		ring = append(ring, orb.Point{x, y}, orb.Point{x - 1, y})
	}
	p.Outline = orb.MultiPolygon{{append(ring, orb.Point{0, 0})}}
	if w := p.WidthAt(1); !(math.Abs(w-4) <= 0.6) {
		t.Errorf("told at a metre %.2f m wide, want 4", w)
	}
	if w := p.Width(); w > 2 {
		t.Errorf("told exactly %.2f m wide; the perimeter of its teeth must make it narrow", w)
	}
	if got := len(p.Outline[0][0]); got < 40 {
		t.Errorf("the outline itself has %d points left", got)
	}
}
