package flow

import (
	"math"
	"math/rand/v2"
	"runtime"
	"strconv"
	"testing"

	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// survey returns random spots, about one per square metre, triangulated.
func survey(tb testing.TB, spots int, height func(x, y float64, noise float64) float64) *surface.Surface {
	tb.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	side := math.Sqrt(float64(spots))
	var x, y, z []int32
	add := func(px, py float64) {
		gx, gy := math.Round(px/surface.Grid), math.Round(py/surface.Grid)
		x, y = append(x, int32(gx)), append(y, int32(gy))
		h := height(gx*surface.Grid/side, gy*surface.Grid/side, r.Float64()*2-1)
		z = append(z, int32(math.Round(h/surface.Grid)))
	}
	for range spots {
		add(r.Float64()*side, r.Float64()*side)
	}
	for i := range int(side) {
		at := float64(i)
		add(at, 0)
		add(side, at)
		add(side-at, side)
		add(0, side-at)
	}
	m, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		tb.Fatal(err)
	}
	d := &draft{x: m.X, y: m.Y, z: m.Z}
	for f := 0; f < len(m.V); f += 3 {
		d.facets = append(d.facets, [3]int32{m.V[f], m.V[f+1], m.V[f+2]})
	}
	s := d.walled()
	for _, at := range []float64{0.125, 0.375, 0.625, 0.875} {
		for _, bt := range []float64{0.125, 0.375, 0.625, 0.875} {
			bowl(s, func(x, y float64) bool { return math.Hypot(x-at*side, y-bt*side) < 2 })
		}
	}
	return s
}

// fourWay is sixteen squares of four-way falls of 2 % on a roof of unit side, with 3 mm noise per 1 m
// spot spacing at the given side.
func fourWay(side float64) func(x, y, noise float64) float64 {
	return func(x, y, noise float64) float64 {
		u, v := math.Mod(x*4, 1)-0.5, math.Mod(y*4, 1)-0.5
		return 0.02*max(math.Abs(u), math.Abs(v))*side/4 + 0.003*noise
	}
}

// waves is a 2 % plane with smooth waves.
func waves(side float64) func(x, y, noise float64) float64 {
	return func(x, y, _ float64) float64 {
		return 0.02*side*y + 0.0004*side*(math.Sin(x*40)*math.Cos(y*31)+math.Sin(17*x+23*y))
	}
}

func BenchmarkTrace(b *testing.B) {
	for _, c := range []struct {
		name   string
		height func(side float64) func(x, y, noise float64) float64
	}{{"four-way", fourWay}, {"waves", waves}} {
		for _, spots := range []int{10000, 100000} {
			s := survey(b, spots, c.height(math.Sqrt(float64(spots))))
			for _, o := range []Options{{LabelsOnly: true}, {}, {Tolerance: -1}} {
				name := c.name + "/" + strconv.Itoa(spots) + "/"
				switch {
				case o.LabelsOnly:
					name += "labels"
				case o.Tolerance < 0:
					name += "exact"
				default:
					name += "travel"
				}
				b.Run(name, func(b *testing.B) {
					for b.Loop() {
						trace(b, s, o)
					}
					report(b, s, o)
				})
			}
		}
	}
}

// report adds how many intervals a side has on average.
func report(b *testing.B, s *surface.Surface, o Options) {
	b.Helper()
	n := trace(b, s, Options{LabelsOnly: true})
	v := newSolver(n, o)
	v.solve()
	sides, total := 0, 0
	for e, k := range n.kind {
		if k == crosses {
			sides++
			total += len(v.lists.of(int32(e)))
		}
	}
	b.ReportMetric(float64(total)/float64(sides), "intervals/side")
	b.ReportMetric(float64(v.followed), "followed")
	b.ReportMetric(float64(len(n.Ends)), "labels")
	runtime.KeepAlive(v)
}
