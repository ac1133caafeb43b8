package inspection

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// TestCrestOfARidge: by hand, a level strip of 2 by 10 m between two sides is a crest where they fall away from it along its long sides, 20 of the 24 m of its border, by half the least slope on the mean, 24/20 of 1/96 x 1/2: by 0.625 % each. Where one side rises, or falls alone, water crosses it. One wider than four spacings of the spots is a terrace. However the roof lies.
func TestCrestOfARidge(t *testing.T) {
	for k, to := range laid {
		for _, c := range []struct {
			west, east, spacing float64 // falls away from the strip
			want                bool
		}{
			{0.02, 0.02, 1, true},
			{0.0063, 0.0063, 1, true},
			{0.0062, 0.0062, 1, false},
			{0.03, 0.01, 1, true},
			{0.05, 0, 1, false},
			{0, 0.05, 1, false},
			{0.06, -0.02, 1, false},
			{-0.02, -0.02, 1, false},
			{0.02, 0.02, 0.501, true},
			{0.02, 0.02, 0.499, false},
		} {
			height := func(x float64) float64 { return 5 - c.west*math.Max(0, 9-x) - c.east*math.Max(0, x-11) }
			at := func(x, y float64) roof.Position {
				return roof.Position{Plan: to(orb.Point{x, y}), HasZ: true, Z: height(x)}
			}
			r := shape.New("ridge", at(0, 0), at(9, 0), at(11, 0), at(20, 0), at(20, 10), at(11, 10), at(9, 10), at(0, 10))
			for x := 1.0; x < 20; x += 2 {
				for y := 1.0; y < 10; y++ {
					p := at(x, y)
					shape.Spot(r, p.Plan[0], p.Plan[1], p.Z)
				}
			}
			for _, x := range []float64{9, 11} {
				r.Breaklines = append(r.Breaklines, roof.Breakline{Line: []roof.Position{at(x, 0), at(x, 10)}})
			}
			s := shape.Build(t, r)
			in := &inspector{Results: &Results{Roof: r, Surface: s, Criteria: standard.Defaults(), Slopes: &slope.Slopes{Planes: []slope.Plane{rectangle(2, 10)}, Plane: make([]int32, s.TIN.Facets())}}}
			s.Spacing = c.spacing
			p := &in.Slopes.Planes[0]
			p.Facets = nil
			for f := range int32(s.TIN.Facets()) {
				in.Slopes.Plane[f] = -1
				a, b, d := s.TIN.V[3*f], s.TIN.V[3*f+1], s.TIN.V[3*f+2]
				m := orb.Point{(s.TIN.X[a] + s.TIN.X[b] + s.TIN.X[d]) / 3, (s.TIN.Y[a] + s.TIN.Y[b] + s.TIN.Y[d]) / 3}
				if o, u := to(orb.Point{0, 0}), to(orb.Point{1, 0}); math.Abs((m[0]-o[0])*(u[0]-o[0])+(m[1]-o[1])*(u[1]-o[1])-10) < 1 {
					in.Slopes.Plane[f] = 0
					p.Facets = append(p.Facets, f)
				}
			}
			if got := in.crest(0); got != c.want {
				t.Errorf("laid %d, %+v: %v", k, c, got)
			}
		}
	}
}
