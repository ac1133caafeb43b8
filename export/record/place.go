package record

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// Place says where p lies: "3.2 m north-east of RD-1", from the nearest drain or scupper, else from the roof's south-west corner.
func (b *Book) Place(p orb.Point) string {
	ring := b.Study.Roof.Outline.Rings[0]
	from, name := ring[0].Plan, "the roof's south-west corner"
	for i := range ring {
		if q := ring[i].Plan; q[0]+q[1] < from[0]+from[1] {
			from = q
		}
	}
	best := math.Inf(1)
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		if d := apart(p, o.Plan); o.Type != roof.EdgeOutlet && d < best {
			best, from, name = d, o.Plan, o.Label
		}
	}
	return b.Units.Say(finding.Metres("", apart(p, from))) + " " + direction(p[0]-from[0], p[1]-from[1]) + " of " + name
}

func apart(p, q orb.Point) float64 {
	dx, dy := p[0]-q[0], p[1]-q[1]
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// direction names a vector by the nearest of eight points of the compass; y is grid north.
func direction(dx, dy float64) string {
	const tan = math.Sqrt2 - 1 // of 22.5 degrees
	i := 1
	switch x, y := math.Abs(dx), math.Abs(dy); {
	case x <= tan*y:
		i = 0
	case y <= tan*x:
		i = 2
	}
	switch {
	case dx >= 0 && dy >= 0:
		return compass[i]
	case dx >= 0:
		return compass[4-i]
	case dy < 0:
		return compass[(4+i)%8]
	}
	return compass[(8-i)%8]
}
