package blunder

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/surface"
)

// A point inside plainly fits the ring of its neighbours where it lies off their plane by less than 7.5 mm, a third of what hides in the unevenness of a roof; with a scatter of 6 mm, which counts 4.2 mm, by less than 10.5 mm.
func TestPlain(t *testing.T) {
	for _, c := range []struct {
		noise, off float64
		plain      bool
	}{{0.002, 0.0074, true}, {0.002, 0.0076, false}, {0.002, -0.0074, true}, {0.002, -0.0076, false}, {0.006, 0.0104, true}, {0.006, 0.0106, false}, {0, 0.0074, true}} {
		r := level(4, 4, 2)
		f := searching(t, r)
		f = newFinder(f.r, f.s, c.noise)
		v := f.vertexAt(t, 4, 4)
		f.t.Z[v] += c.off
		if got := f.plain(v); got != c.plain {
			t.Errorf("%g mm off with a scatter of %g mm: plain %v", 1000*c.off, 1000*c.noise, got)
		}
		if f.plain(f.vertexAt(t, 4, 0)) || f.plain(f.vertexAt(t, 0, 0)) {
			t.Error("a point of the border is plain")
		}
	}
}

// The plane through exact neighbours foretells a point on it, to the point's own error times the root of 1 and the leverage, which in centred coordinates is 1/n and a quadratic form of the inverse of the moments, here
// by Cramer's rule. A neighbour that stands off in the same direction by 0.6 of what the point is off keeps it company; one that stands off the other way does not.
func TestFromPlane(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for trial := range 60 {
		const n = 9
		tin := &surface.TIN{Sigma: make([]float64, n+1)}
		f := &finder{t: tin, noise: 0.003, without: make([]bool, n+1)}
		height := func(x, y float64) float64 { return 7 + 0.02*x - 0.03*y }
		tin.X, tin.Y, tin.Z = []float64{50}, []float64{80}, []float64{height(50, 80) + 0.1}
		var near []neighbour
		sx, sy := 0.0, 0.0
		for i := range n {
			turn := 2 * math.Pi * (float64(i) + 0.5*r.Float64()) / n
			far := 1 + r.Float64()
			x, y := far*math.Cos(turn)+0.4, far*math.Sin(turn)-0.2
			tin.X, tin.Y = append(tin.X, 50+x), append(tin.Y, 80+y)
			tin.Z = append(tin.Z, height(50+x, 80+y))
			near = append(near, neighbour{int32(i + 1), math.Hypot(x, y)})
			sx, sy = sx+x/n, sy+y/n
		}
		var xx, xy, yy float64
		for i := 1; i <= n; i++ {
			x, y := tin.X[i]-50-sx, tin.Y[i]-80-sy
			xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
		}
		lever := 1.0/n + (yy*sx*sx-2*xy*sx*sy+xx*sy*sy)/(xx*yy-xy*xy)
		p, ok := f.fromPlane(0, near)
		if !ok || !(math.Abs(p.z-height(50, 80)) <= 1e-9) || !(math.Abs(p.sigma-0.003*math.Sqrt(1+lever)) <= 1e-9) || p.company {
			t.Fatalf("trial %d: %+v, want %g +- %g", trial, p, height(50, 80), 0.003*math.Sqrt(1+lever))
		}
		which := 1 + trial%beside
		for off, company := range map[float64]bool{0.1: true, -0.1: false, 0.03: false} {
			tin.Z[which] += off
			p, ok := f.fromPlane(0, near)
			if !ok || p.company != company {
				t.Errorf("trial %d, neighbour %d off by %g: company %v, %v", trial, which, off, p.company, ok)
			}
			tin.Z[which] -= off
		}
		tin.Z[n] += 0.1 // a neighbour farther off keeps none company
		if p, ok := f.fromPlane(0, near); !ok || p.company {
			t.Errorf("trial %d: the last neighbour keeps company", trial)
		}
		if _, ok := f.fromPlane(0, near[:fewest-1]); ok {
			t.Error("four neighbours have a say")
		}
	}
}
