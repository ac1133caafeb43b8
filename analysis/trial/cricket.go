package trial

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/cricket"
	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Built is a cricket as it is tried: tapered boards on the roof as it stands, of no thickness along the feet from either end of the base to a tip, and
// thickest at the base's middle.
type Built struct {
	Base      [2]orb.Point
	Tips      []orb.Point // one at a wall or a curb, else one to each side
	Thickness float64     // at the middle of the base [m]
	Rate      float64     // at which the boards rise, square to the feet [rise/run]
	Valley    float64     // least fall from a tip to an end of the base on the roof as found, along the foot [rise/run]

	halves []half
}

// half is the part of a cricket between one foot and the ridge.
type half struct {
	ring   []orb.Point // convex, counter-clockwise
	foot   orb.Point   // on the foot
	inward orb.Point   // unit vector square to the foot, towards the ridge
	rate   float64
}

const (
	reach     = 0.05 // how far a cricket goes on under a wall or a curb at its base, which is surveyed to some millimetres [m]
	onFoot    = 2e-5 // two units of the grid: what lies nearer to the foot is on it [m]
	samples   = 12   // parts of a side of the field that is looked at for its fall
	leastFall = 5e-4 // of a field that falls towards a base [rise/run]
)

// NoField is the error for a cricket towards whose base no roof falls.
type NoField struct{}

// Error says so.
func (NoField) Error() string {
	return "the roof falls to neither side of that line, so a cricket on it would shed nothing: put its ends where water runs against it"
}

func (c *Change) plan(on *surface.Locator) (*Built, error) {
	a, b := c.Base[0], c.Base[1]
	width := vector.Distance(a, b)
	if width < 10*reach {
		return nil, NoField{}
	}
	var sides []orb.Point // the ways out
	across := orb.Point{(b[1] - a[1]) / width, (a[0] - b[0]) / width}
	mid := vector.Along(a, b, 0.5)
	steepest, free := 0.0, 0
	for _, sign := range []float64{1, -1} {
		out := orb.Point{sign * across[0], sign * across[1]}
		if _, ok := on.HeightAt(mid[0]+float64(reach*out[0]), mid[1]+float64(reach*out[1])); !ok {
			continue // a wall or a curb
		}
		free++
		sides, steepest = append(sides, out), math.Max(steepest, fallTo(on, a, b, out))
	}
	if steepest < leastFall {
		return nil, NoField{}
	}
	built := &Built{Base: c.Base, Valley: math.Inf(1)}
	shape := cricket.On(width, steepest, cricket.Valley(steepest, c.Valley))
	if c.Tip > 0 {
		shape.Apex = c.Tip
		shape.Thickness = shape.Rate * width / 2 * shape.Apex / vector.Norm(shape.Apex, width/2)
	}
	if c.Rate > 0 {
		shape.Thickness *= c.Rate / shape.Rate
		shape.Rate = c.Rate
	}
	built.Thickness, built.Rate = shape.Thickness, shape.Rate
	under := choose.If(free == 1, reach, 0.0)
	for _, out := range sides {
		tip := orb.Point{mid[0] + float64(shape.Apex*out[0]), mid[1] + float64(shape.Apex*out[1])}
		built.Tips = append(built.Tips, tip)
		for _, end := range c.Base {
			built.halves = append(built.halves, newHalf(end, mid, tip, out, under, shape.Rate))
			built.Valley = math.Min(built.Valley, fallOf(on, tip, end))
		}
	}
	return built, nil
}

// fallTo returns how fast the field falls square to a base, from the plane through places all over the widest cricket on that side.
func fallTo(on *surface.Locator, a, b, out orb.Point) float64 {
	mid, half := vector.Along(a, b, 0.5), vector.Distance(a, b)/2
	var sums regression.Sums
	for i := range samples + 1 {
		for j := range samples + 1 - i {
			p := vector.Along(a, b, (float64(i)+float64(j)/2)/samples)
			off := half * float64(j) / samples
			p = orb.Point{p[0] + float64(off*out[0]), p[1] + float64(off*out[1])}
			if z, ok := on.HeightAt(p[0], p[1]); ok {
				sums.Add(p[0]-mid[0], p[1]-mid[1], z)
			}
		}
	}
	plane, ok := sums.Plane(1e-6)
	if !ok {
		return 0
	}
	return float64(plane.DX*out[0]) + float64(plane.DY*out[1])
}

// fallOf returns the fall from one place to another, nothing where either lies off the roof.
func fallOf(on *surface.Locator, from, to orb.Point) float64 {
	high, ok := on.HeightAt(from[0], from[1])
	low, there := on.HeightAt(to[0], to[1])
	if !ok || !there {
		return 0
	}
	return (high - low) / vector.Distance(from, to)
}

// newHalf returns the part of a cricket between the foot from an end of the base to a tip and the ridge from there to the base's middle.
func newHalf(end, mid, tip, out orb.Point, under, rate float64) half {
	l := vector.Distance(end, tip)
	inward := orb.Point{(end[1] - tip[1]) / l, (tip[0] - end[0]) / l}
	ring := []orb.Point{mid, tip, end}
	if under > 0 {
		below := func(p orb.Point) orb.Point {
			return orb.Point{p[0] - float64(under*out[0]), p[1] - float64(under*out[1])}
		}
		ring = []orb.Point{below(mid), tip, end, below(end)}
	}
	if vector.Dot(inward, vector.Minus(mid, end)) < 0 {
		inward = orb.Point{-inward[0], -inward[1]}
	}
	if vector.Cross(vector.Minus(ring[1], ring[0]), vector.Minus(ring[2], ring[0])) < 0 {
		for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	return half{ring: ring, foot: end, inward: inward, rate: rate}
}

// at returns the thickness of the boards at a place, nothing beside them.
func (h *half) at(p orb.Point) float64 {
	for i, a := range h.ring {
		d := vector.Minus(h.ring[(i+1)%len(h.ring)], a)
		if vector.Cross(d, vector.Minus(p, a)) < -onFoot*vector.Length(d) {
			return 0
		}
	}
	off := vector.Dot(h.inward, vector.Minus(p, h.foot))
	return choose.If(off < onFoot, 0, float64(h.rate*off))
}

// lay lays a cricket's boards on the roof; footprints of outlets stay free.
func (m *maker) lay(b *Built) {
	for v := range m.z {
		if m.foot[v] {
			continue
		}
		thick := 0.0
		for i := range b.halves {
			thick = math.Max(thick, b.halves[i].at(orb.Point{m.t.X[v], m.t.Y[v]}))
		}
		m.z[v] += thick
	}
}

// Covers reports whether boards lie at a place.
func (b *Built) Covers(p orb.Point) bool {
	return slices.ContainsFunc(b.halves, func(x half) bool { return x.at(p) > 0 })
}

// Off returns how far the tips stand off the base [m].
func (b *Built) Off() float64 {
	return vector.Distance(vector.Along(b.Base[0], b.Base[1], 0.5), b.Tips[0])
}
