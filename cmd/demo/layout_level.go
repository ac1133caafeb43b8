package demo

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// level lays out a terrace without slope, walls all round, no overflow. Its surface wanders about its mean:
// a board of fields about 4 m wide, hollows and humps in turn, each unevenness high, with the mean level on
// the lines between them:
//
//	z = unevenness*sin(pi*nx*u/width)*sin(pi*ny*v/depth), u and v being x and y drawn out a little
//
// So water stands unevenness deep in every hollow, until it runs to the next over the corner they share.
// The one drain stands in the hollow nearest the middle.
func level(width, depth, unevenness float64) *site {
	s := &site{wavy: true, edge: "wall", outline: rectangle(0, 0, width, depth)}
	nx, ny := int(math.Max(3, math.Round(width/4))), int(math.Max(2, math.Round(depth/4)))
	wave := func(x, size float64, n int) float64 {
		return math.Sin(math.Pi * float64(n) * drawn(x/size))
	}
	s.relief = func(p orb.Point) float64 { return unevenness * wave(p[0], width, nx) * wave(p[1], depth, ny) }
	var hollows []orb.Point
	for i := range nx {
		for j := range ny {
			if (i+j)%2 == 1 {
				hollows = append(hollows, orb.Point{
					width * undrawn((float64(i)+0.5)/float64(nx)), depth * undrawn((float64(j)+0.5)/float64(ny)),
				})
			}
		}
	}
	middle := orb.Point{width / 2, depth / 2}
	drain, far := hollows[0], hollows[0]
	for _, p := range hollows {
		if distance(p, middle) < distance(drain, middle) {
			drain = p
		}
	}
	for _, p := range hollows {
		if distance(p, drain) > distance(far, drain) {
			far = p
		}
	}
	s.drain("RD-1", drain)
	s.shoot(hollows...)
	area := box(-0.5, -0.5, width+0.5, depth+0.5)
	s.faults = append(s.faults, Fault{
		Kind: finding.LevelArea, What: "the terrace was built without slope",
		Place: far, Depth: unevenness, Area: area,
		// every hollow holds water, unevenness deep: where errors part the terrace's water, it is told as the hollow or the hump that it is
		Brings: []finding.Kind{finding.PlaneFlat, finding.ValleyFlat, finding.Dish, finding.LowPlace, finding.Camber},
	}, Fault{
		Kind: finding.NoOverflow, What: "walls all round and no overflow outlet",
		Place: drain, Area: area,
	})
	return s
}

// drawn moves shares of a length so that the fields are not all of one size.
func drawn(share float64) float64 { return share + 0.05*math.Sin(2*math.Pi*share) }

// undrawn is the inverse of drawn, by fixed-point steps, which close in by a third each.
func undrawn(share float64) float64 {
	x := share
	for range 40 {
		x = share - 0.05*math.Sin(2*math.Pi*x)
	}
	return x
}
