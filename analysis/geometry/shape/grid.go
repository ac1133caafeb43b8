package shape

import (
	"math"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Scuppered is a walled rectangle l (east) by w (north) that rises s to the north from its south wall, whose foot is level at elevation 0;
// two scuppers 0.3 m wide stand there at (a, 0) and (b, 0), with invert 0. It is shot as somebody does who codes nothing: on a plain grid no
// wider than pitch, walls included, with a spot at each scupper. relief [m] is added to every spot, nil none.
//
// Without relief: one plane of slope s, and no pond.
func Scuppered(l, w, s, a, b, pitch float64, relief func(x, y float64) float64) *roof.Roof {
	r := New("scuppered", Bare(0, 0), Bare(l, 0), Bare(l, w), Bare(0, w))
	if relief == nil {
		relief = func(_, _ float64) float64 { return 0 }
	}
	Grid(r, 0, 0, l, w, int(math.Ceil(l/pitch-1e-9)), int(math.Ceil(w/pitch-1e-9)), func(x, y float64) float64 { return s*y + relief(x, y) })
	for i, x := range [2]float64{a, b} {
		if !taken(r, x, 0) {
			Spot(r, x, 0, relief(x, 0))
		}
		o := Scupper(r, x, 0, 0.3)
		o.Label, o.Invert, o.HasInvert = [2]string{"SC-1", "SC-2"}[i], 0, true
	}
	return r
}

// Sagging is a wall's foot that hangs by depth [m] from a to b: in full over the middle half, less in a straight line to nothing at the ends,
// and to nothing at the distance reach [m] from the wall.
//
// On Scuppered of slope s it holds a pond of that depth along the wall, from a to b, as wide as depth/(s+depth/reach).
func Sagging(a, b, depth, reach float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		ends := math.Min(1, 4*math.Min(x-a, b-x)/(b-a))
		return -depth * math.Max(0, ends) * math.Max(0, 1-y/reach)
	}
}

// Saddle is a cricket between two scuppers at a and b: a plane on each side of its crown, which runs square to the wall from its middle, level,
// as far as wide [m]. On a roof of slope s.
//
// Its valleys run from the scuppers to the crown's end and fall s*wide/sqrt(wide^2+(b-a)^2/4). No pond.
func Saddle(a, b, wide, s float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		top := s * wide * (1 - math.Abs(2*x-a-b)/(b-a))
		return math.Max(0, top-s*y)
	}
}

// Lap is a strip on the roof along y = at from x = a to b that is so high [m] there and nothing at the distance half [m] on either side and
// beyond its ends: plies lapped against the fall, or one layer more. On a roof that falls to y = 0 with slope s it holds a pond of the depth
// high - s*half.
func Lap(a, b, at, half, high float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		end := math.Min(1, 1-math.Max(a-x, x-b)/half)
		return high * math.Max(0, math.Min(end, 1)) * math.Max(0, 1-math.Abs(y-at)/half)
	}
}

// Sag is a bay of the deck of side 2*half round (x0, y0) that hangs between its supports by depth [m] in the middle, as a parabola each way.
func Sag(x0, y0, half, depth float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		u, v := (x-x0)/half, (y-y0)/half
		return -depth * math.Max(0, 1-u*u) * math.Max(0, 1-v*v)
	}
}

// ReadInFeet turns r into a survey in feet: places and elevations are read to the hundredth of a foot.
func ReadInFeet(r *roof.Roof) {
	r.Units = quantity.Feet
	for i := range r.Spots {
		s := &r.Spots[i]
		s.Z = math.Round(s.Z/0.003048) * 0.003048
	}
}

func taken(r *roof.Roof, x, y float64) bool {
	for i := range r.Spots {
		if math.Hypot(r.Spots[i].Plan[0]-x, r.Spots[i].Plan[1]-y) < 0.05 {
			return true
		}
	}
	return false
}
