package shape

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
)

// Random returns a made-up roof with about the given number of spots, the same for the same seed.
//
// Outlines are rectangles, Ls and Us, with or without elevations; spots stand on a grid, on a shaken grid
// or at random places; elevations are whole multiples of 1 to 50 mm on planes, troughs, four-way falls, terraces
// or noise, so that equal elevations, level areas and facets parallel to each other are common. There may
// be curbs (some against a wall or against each other), breaklines that do not cross, drains with
// and without inverts (below and above the surface, side by side), scuppers, gutters and free edges. It
// holds no contradiction: surface.Build accepts it.
func Random(seed uint64, spots int) *roof.Roof {
	g := &generator{rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15)), nil, nil, nil, 0}
	g.outline(seed, spots)
	g.surface()
	g.scatter(spots)
	g.elevate()
	g.curbs()
	g.folds()
	g.outlets()
	g.edges()
	return g.r
}

type generator struct {
	*rand.Rand
	r      *roof.Roof
	ring   orb.Ring
	height func(x, y float64) float64
	pitch  float64 // typical distance between spots
}

// mm rounds to whole millimetres.
func mm(v float64) float64 { return math.Round(v*1000) / 1000 }

func (g *generator) outline(seed uint64, spots int) {
	pitch := []float64{0.5, 1, 2, 3}[g.IntN(4)]
	a := math.Ceil(math.Sqrt(float64(spots))*(0.7+g.Float64())) * pitch
	b := math.Ceil(float64(spots)*pitch*pitch/a/pitch) * pitch
	a, b = math.Max(a, 3*pitch), math.Max(b, 3*pitch)
	step := func(v float64) float64 { return mm(math.Ceil(v/3/pitch) * pitch) }
	p, q := step(a), step(b)
	var c [][2]float64
	switch g.IntN(3) {
	case 0:
		c = [][2]float64{{0, 0}, {a, 0}, {a, b}, {0, b}}
	case 1:
		c = [][2]float64{{0, 0}, {a, 0}, {a, q}, {p, q}, {p, b}, {0, b}}
	default:
		c = [][2]float64{{0, 0}, {a, 0}, {a, b}, {mm(a - p/2), b}, {mm(a - p/2), q}, {mm(p / 2), q}, {mm(p / 2), b}, {0, b}}
	}
	corners := make([]roof.Position, len(c))
	for i, v := range c {
		corners[i] = Bare(v[0], v[1])
		g.ring = append(g.ring, orb.Point(v))
	}
	g.ring = append(g.ring, g.ring[0])
	g.r = New(fmt.Sprintf("random %d", seed), corners...)
	g.pitch = pitch
}

// surface picks the height function.
func (g *generator) surface() {
	box := g.ring.Bound()
	sx, sy := (g.Float64()-0.5)*0.06, (g.Float64()-0.5)*0.06
	if g.IntN(3) == 0 {
		sx = 0
	}
	mx, my := box.Center()[0], box.Center()[1]
	period := g.pitch * float64(3+g.IntN(6))
	slope := []float64{0.005, 0.01, 0.02, 0.04}[g.IntN(4)]
	fold := func(v float64) float64 { return math.Abs(v - period*math.Round(v/period)) }
	noise := []float64{0, 0, 0.003, 0.02}[g.IntN(4)]
	base := func(x, y float64) float64 { return sx*(x-mx) + sy*(y-my) }
	switch g.IntN(5) {
	case 0: // plane
	case 1: // troughs along y
		base = func(x, y float64) float64 { return slope*fold(x) + sy*(y-my) }
	case 2: // four-way falls
		base = func(x, y float64) float64 { return slope * math.Max(fold(x), fold(y)) }
	case 3: // terraces
		base = func(x, _ float64) float64 { return slope * period * math.Floor(x/period) }
	default: // noise alone
		base, noise = func(_, _ float64) float64 { return 0 }, 0.05
	}
	quantum := []float64{0.001, 0.005, 0.01, 0.05}[g.IntN(4)]
	g.height = func(x, y float64) float64 {
		z := base(x, y) + noise*(g.Float64()-0.5)
		return mm(math.Round(z/quantum) * quantum)
	}
}

// scatter places the spots, never nearer than 50 mm to each other.
func (g *generator) scatter(spots int) {
	box := g.ring.Bound()
	kind := g.IntN(3)
	shake := g.pitch * 0.4
	if kind == 0 {
		shake = 0
	}
	taken := map[[2]int]bool{}
	add := func(x, y float64) {
		x, y = mm(x), mm(y)
		if !planar.RingContains(g.ring, orb.Point{x, y}) || g.crowded(taken, x, y) {
			return
		}
		Spot(g.r, x, y, 0)
	}
	if kind == 2 {
		for range spots {
			add(box.Max[0]*g.Float64(), box.Max[1]*g.Float64())
		}
		return
	}
	for y := 0.0; y <= box.Max[1]; y += g.pitch {
		for x := 0.0; x <= box.Max[0]; x += g.pitch {
			add(x+shake*(g.Float64()-0.5), y+shake*(g.Float64()-0.5))
		}
	}
}

// crowded reports whether a 50 mm cell at or next to (x, y) is taken, and takes its own.
func (g *generator) crowded(taken map[[2]int]bool, x, y float64) bool {
	i, j := int(math.Floor(x/0.05)), int(math.Floor(y/0.05))
	for di := -1; di <= 1; di++ {
		for dj := -1; dj <= 1; dj++ {
			if taken[[2]int{i + di, j + dj}] {
				return true
			}
		}
	}
	taken[[2]int{i, j}] = true
	return false
}

// elevate gives the spots their elevations, and the outline's corners theirs in one case of three.
func (g *generator) elevate() {
	for i := range g.r.Spots {
		s := &g.r.Spots[i]
		s.Z = g.height(s.Plan[0], s.Plan[1])
	}
	if g.IntN(3) > 0 {
		return
	}
	ring := g.r.Outline.Rings[0]
	for i := range ring {
		c := &ring[i]
		c.Z, c.HasZ = g.height(c.Plan[0], c.Plan[1]), true
		for _, s := range g.r.Spots {
			if planar.Distance(s.Plan, c.Plan) < 0.02 {
				c.Z = s.Z
			}
		}
	}
	ring[len(ring)-1] = ring[0]
}
