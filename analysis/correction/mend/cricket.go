package mend

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/cricket"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
)

// cricketed builds a cricket on the side of the curb behind which the pond stands; what is pressed down or hurt there is made good first.
func (d *Designer) cricketed(p *Pond, hurt bool) (Mend, bool) {
	a, b, label, ok := d.sideAt(p.Pit)
	if !ok {
		return Mend{}, false
	}
	f, on := d.field(a, b)
	if !on {
		return Mend{}, false
	}
	c := cricket.On(LineLength(orb.LineString{a, b}), f.fall, d.valley(f.fall))
	if f.fall <= 0 || c.Valley < d.Study.Criteria.MinValleySlope-1e-9 {
		return Mend{}, false
	}
	patches := f.triangle(a, b, c)
	m := Mend{
		Kind: Cricket, Apply: func(t *taper.Alteration) { t.Raise(patches...) }, Area: c.Width * c.Apex, Decides: []string{finding.Roofer},
	}
	first := ""
	under, low := d.patch(p)
	if low {
		m.Set = under.Set
		first = ", the low place under it filled with boards first,"
	}
	built := Change{
		Kind: Cricket, Decides: finding.Roofer,
		What: finding.Say("Build a cricket behind {4}"+choose.If(hurt, ",", first)+" {0} along it and {1} from its side to the tip, {2} thick at the side; its valleys fall at {3}",
			finding.Metres("width", c.Width), finding.Metres("depth", c.Apex), finding.MM("thickness", c.Thickness), finding.Fall("valley", c.Valley), finding.Called(label)),
		At: p.Pit, Line: orb.LineString{a, f.apex(a, b, c), b},
	}
	m.Change = built
	if low && hurt {
		m.Kind, m.Change, m.More, m.Questions = ReplacePatch, under.Change, []Change{built}, under.Questions
	}
	m.Questions = append(m.Questions, d.flashingLeft(p, label, c.Thickness)...)
	return m, true
}

// flashingLeft asks whether the flashing of a curb leaves enough above a cricket of a thickness; nothing where the curb's height is stated.
func (d *Designer) flashingLeft(p *Pond, label string, thickness float64) []Question {
	if slices.ContainsFunc(d.Roof.Curbs, func(c roof.Curb) bool { return c.Name() == label && c.Height > 0 }) {
		return nil
	}
	return []Question{{
		Ask: finding.Say("How high does the flashing of {1} stand above the roof? {0} must be left above the cricket", finding.MM("left", d.Flashing), finding.Called(label)), Where: label, At: p.Pit, Decides: finding.Roofer,
		If: finding.Say("{0} or more", finding.MM("height", d.Flashing+thickness)), Then: finding.Say("Build the cricket; less: raise the curb first, with its gas, power and duct"),
	}}
}

// sideAt returns the curb's side nearest to q, the roof on the right of the way from a to b.
func (d *Designer) sideAt(q orb.Point) (a, b orb.Point, label string, ok bool) {
	far := 0.6
	for i := range d.Roof.Curbs {
		c := &d.Roof.Curbs[i]
		ring := corners(Plan(c.Ring))
		for k := 1; k < len(ring); k++ {
			u, v := ring[k-1], ring[k]
			n := vector.Nearest(orb.LineString{u, v}, q)
			if w := LineLength(orb.LineString{n, q}); w < far {
				a, b, far, ok = u, v, w, true
				label = c.Name()
			}
		}
	}
	return a, b, label, ok
}

// corners returns a closed ring without points that stand within a centimetre of the line through their neighbours.
func corners(ring orb.LineString) orb.LineString {
	if len(ring) < 4 {
		return ring
	}
	ring = ring[:len(ring)-1]
	n := len(ring)
	var out orb.LineString
	for i, p := range ring {
		if q := vector.Nearest(orb.LineString{ring[(i+n-1)%n], ring[(i+1)%n]}, p); LineLength(orb.LineString{p, q}) > 0.01 {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return ring
	}
	return append(out, out[0])
}

// field is the plane that falls to a curb's side: its elevation at a place, gradient, and how fast it falls square to the side.
type field struct {
	at   orb.Point
	z    float64
	grad [2]float64
	out  orb.Point // unit vector from the side onto the roof
	fall float64
}

// field finds the plane a little way off the middle of a side.
func (d *Designer) field(a, b orb.Point) (field, bool) {
	v := orb.Point{b[0] - a[0], b[1] - a[1]}
	l := vector.Norm(v[0], v[1])
	out := orb.Point{v[1] / l, -v[0] / l} // a curb's ring runs counter-clockwise
	mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	for _, off := range []float64{l, l / 2, l / 4, 0.1} {
		q := orb.Point{mid[0] + float64(off*out[0]), mid[1] + float64(off*out[1])}
		f, ok := d.Locate.Locate(q[0], q[1])
		if !ok {
			continue
		}
		for i := range d.Study.Slopes.Planes {
			p := &d.Study.Slopes.Planes[i]
			for _, g := range p.Facets {
				if g == f {
					fall := float64(p.Gradient[0]*out[0]) + float64(p.Gradient[1]*out[1])
					return field{mid, p.At(mid), p.Gradient, out, fall}, fall > 0
				}
			}
		}
	}
	return field{}, false
}

func (f *field) apex(a, b orb.Point, c cricket.Triangle) orb.Point {
	return orb.Point{(a[0]+b[0])/2 + float64(c.Apex*f.out[0]), (a[1]+b[1])/2 + float64(c.Apex*f.out[1])}
}

// underCurb is how far a cricket's planes reach under a curb's side [m].
const underCurb = 0.05

// triangle returns the two planes of the cricket over the side from a to b.
func (f *field) triangle(a, b orb.Point, c cricket.Triangle) []taper.Patch {
	tip, mid := f.apex(a, b, c), orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	half := func(corner orb.Point, on []orb.Point) taper.Patch {
		v := orb.Point{tip[0] - corner[0], tip[1] - corner[1]}
		l := vector.Norm(v[0], v[1])
		n := orb.Point{-v[1] / l, v[0] / l} // square to the valley, towards the middle
		if float64(n[0]*(mid[0]-corner[0]))+float64(n[1]*(mid[1]-corner[1])) < 0 {
			n = orb.Point{-n[0], -n[1]}
		}
		z := f.z + float64(f.grad[0]*(corner[0]-f.at[0])) + float64(f.grad[1]*(corner[1]-f.at[1]))
		return taper.Patch{On: on, Plan: corner, Z: z, DX: f.grad[0] + float64(c.Rate*n[0]), DY: f.grad[1] + float64(c.Rate*n[1])}
	}
	// The roof lies on the right of the way from a to b, so these run counter-clockwise. They reach a little under the curb, whose side is surveyed to
	// some millimetres.
	under := func(p orb.Point) orb.Point {
		return orb.Point{p[0] - float64(underCurb*f.out[0]), p[1] - float64(underCurb*f.out[1])}
	}
	left, right := half(a, []orb.Point{under(mid), under(a), a, tip}), half(b, []orb.Point{b, under(b), under(mid), tip})
	return []taper.Patch{left, right}
}
