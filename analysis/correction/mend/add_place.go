package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// lowPlaces returns where a drain may stand for a pond, lowest first: its lowest place, else places in the water within reach of it that are clear.
func (d *Designer) lowPlaces(p *Pond, reach float64) []orb.Point {
	const step = 0.3
	var out []orb.Point
	var heights []float64
	look := func(q orb.Point) {
		z, on := d.Locate.HeightAt(q[0], q[1])
		if !on || z > p.level || !d.clearFor(q, roof.Drain) || !d.Domain.Sees(p.Pit, q) {
			return
		}
		k := len(out)
		for k > 0 && z < heights[k-1]-surface.Grid {
			k--
		}
		out = append(out[:k:k], append([]orb.Point{q}, out[k:]...)...)
		heights = append(heights[:k:k], append([]float64{z}, heights[k:]...)...)
	}
	look(p.Pit)
	for far := step; far <= reach+1e-9; far += step {
		for k := range turns {
			look(around(p.Pit, k, far))
		}
	}
	return out[:min(len(out), mostPlaces)]
}

// mostPlaces is how many places a new outlet is tried at.
const mostPlaces = 12

func (d *Designer) roundAbout(q orb.Point, far float64) []orb.Point {
	out := make([]orb.Point, turns)
	for k := range out {
		out[k] = around(q, k, far)
	}
	return out
}

// clearFor reports whether a new outlet may stand at q: clear of curbs and other outlets, a drain of walls and, where people can fall, of open edges too;
// a scupper of corners and of open edges.
func (d *Designer) clearFor(q orb.Point, kind roof.OutletType) bool {
	for i := range d.Roof.Curbs {
		if closer(Plan(d.Roof.Curbs[i].Ring), q, standard.OutletClear) {
			return false
		}
	}
	return d.clearOfOutlets(q) && d.clearOfWalls(q, kind)
}

// closer reports whether a line comes closer to q than far.
func closer(line orb.LineString, q orb.Point, far float64) bool {
	return len(line) > 0 && vector.DistanceSquared(vector.Nearest(line, q), q) < float64(far*far)-1e-9
}

// clearOfOutlets reports whether q is clear of other outlets and of open edges.
func (d *Designer) clearOfOutlets(q orb.Point) bool {
	for i := range d.Surface.Outlets {
		o := &d.Surface.Outlets[i]
		if o.Line != nil {
			if closer(o.Line, q, standard.EdgeClear) {
				return false
			}
			continue
		}
		far := standard.OutletClear
		if o.Source >= 0 {
			far = math.Max(far, float64(d.Roof.Outlets[o.Source].Bowl)/2+standard.OutletClear/2)
		}
		if vector.DistanceSquared(o.Plan, q) < float64(far*far)-1e-9 {
			return false
		}
	}
	return true
}

// clearOfWalls reports whether q is clear of walls; a scupper stands in the outer one, and is clear of its corners.
func (d *Designer) clearOfWalls(q orb.Point, kind roof.OutletType) bool {
	for i, ring := range d.Roof.Outline.Rings {
		if kind == roof.Drain || i > 0 {
			if closer(Plan(ring), q, standard.OutletClear) {
				return false
			}
			continue
		}
		for _, c := range corners(Plan(ring)) {
			if vector.DistanceSquared(c, q) < standard.OutletClear*standard.OutletClear-1e-9 {
				return false
			}
		}
	}
	return true
}

// parapet is a place on a wall of the outline with the direction of the wall.
type parapet struct {
	plan, unit orb.Point
}

// along returns the places on the wall at a distance on both sides.
func (w *parapet) along(far float64) []orb.Point {
	var out []orb.Point
	for _, k := range []float64{far, -far, 1.5 * far, -1.5 * far} {
		out = append(out, orb.Point{w.plan[0] + float64(k*w.unit[0]), w.plan[1] + float64(k*w.unit[1])})
	}
	return out
}

// parapets returns where a scupper may be cut for a pond: on walls within reach of its lowest place, nearest first, clear of what stands there. A wall
// that a higher wall or roof adjoins has no way out behind it.
func (d *Designer) parapets(p *Pond, reach float64) []parapet {
	if len(d.Roof.Outline.Rings) == 0 {
		return nil
	}
	var out []parapet
	var fars []float64
	ring := corners(Plan(d.Roof.Outline.Rings[0]))
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		l := LineLength(orb.LineString{a, b})
		if l < 2*standard.OutletClear {
			continue
		}
		u := orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		t := float64((p.Pit[0]-a[0])*u[0]) + float64((p.Pit[1]-a[1])*u[1])
		for _, off := range []float64{0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9} {
			s := math.Max(standard.OutletClear, math.Min(l-standard.OutletClear, t+off))
			q := orb.Point{a[0] + float64(s*u[0]), a[1] + float64(s*u[1])}
			far := vector.Distance(q, p.Pit)
			if far > reach+1e-9 || d.adjoined(q) || !d.clearFor(q, roof.Scupper) {
				continue
			}
			k := len(out)
			for k > 0 && far < fars[k-1]-1e-9 {
				k--
			}
			out = append(out[:k:k], append([]parapet{{q, u}}, out[k:]...)...)
			fars = append(fars[:k:k], append([]float64{far}, fars[k:]...)...)
		}
	}
	return out[:min(len(out), mostPlaces)]
}

// adjoined reports whether something higher adjoins the wall at q.
func (d *Designer) adjoined(q orb.Point) bool {
	for i := range d.Roof.Edges {
		e := &d.Roof.Edges[i]
		if line := Plan(e.Line); e.AdjoiningHeight > 0 && len(line) > 1 && vector.DistanceSquared(vector.Nearest(line, q), q) < standard.OutletClear*standard.OutletClear {
			return true
		}
	}
	return false
}

// besideOutlet is how far from a primary drain its overflow drain is drawn [m]. Own choice: room for both sumps.
const besideOutlet = 1.0

// OverflowPlace draws where an overflow may stand on a roof that has none: beside its lowest primary outlet, clear of what stands there. ok is false where no place is clear. The engineer decides.
func (d *Designer) OverflowPlace() (c Change, ok bool) {
	low, of := -1, map[roof.OutletType]int{}
	for i := range d.Surface.Outlets {
		if o := &d.Surface.Outlets[i]; o.Duty == roof.Primary && o.Type != roof.EdgeOutlet {
			of[o.Type]++
			if low < 0 || o.Invert < d.Surface.Outlets[low].Invert {
				low = i
			}
		}
	}
	if low < 0 {
		return c, false
	}
	over, ok := d.OverflowBeside(low)
	if !ok {
		return c, false
	}
	o := &d.Surface.Outlets[low]
	what, kind := "Ask the engineer for an overflow: a drain in the place drawn beside {0}, its inlet {1} over that of {0} at most, with a leader and a place of discharge of its own", "drains"
	if o.Type == roof.Scupper {
		what, kind = "Ask the engineer for an overflow: a scupper in the place drawn beside {0}, its floor {1} over that of {0} at most", "scuppers"
	}
	others := of[o.Type] - 1
	if others > 0 {
		what += ", and so beside each of the other {2} " + kind
	}
	return Change{
		Kind: Structure, Finding: finding.NoOverflow, Decides: finding.Engineer, At: over.Plan, Brief: "ask the engineer for an overflow",
		What: finding.Say(what, finding.Called(o.Label), finding.MM("over", d.Study.Criteria.OverflowMost()), finding.Number("others", others)),
	}, true
}
