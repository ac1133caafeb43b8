package settle

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry"
	"runnel/analysis/roof"
)

// maxWide is how wide a roof may be [m], half of what the grid can hold.
const maxWide = float64(geometry.MaxSpan) / geometry.PerMetre / 2

// checkNumbers refuses what cannot stand on the grid: numbers that are not finite, and lines too far off.
func (d *draft) checkNumbers() {
	if len(d.r.Outline.Rings) == 0 || len(d.r.Outline.Rings[0]) < 4 {
		d.refusal.Add(roof.Problem{Origin: d.r.Outline.Origin, Rule: "the roof has no outline", Mend: "give a polygon with role outline"})
		return
	}
	for i, ring := range d.r.Outline.Rings {
		d.checkLine(ringSource(i), ring)
	}
	for i := range d.r.Curbs {
		d.checkLine(source{isCurb, int32(i)}, d.r.Curbs[i].Ring)
	}
	for i := range d.r.Breaklines {
		d.checkLine(source{isBreakline, int32(i)}, d.r.Breaklines[i].Line)
	}
	for i := range d.r.Edges {
		d.checkLine(source{isEdge, int32(i)}, d.r.Edges[i].Line)
	}
	for i := range d.r.Spots {
		s := &d.r.Spots[i]
		if bad := badPosition(s.Position, math.Inf(1)); bad != "" {
			d.refuse(source{isSpot, int32(i)}, s.Plan, bad, "mend its numbers or leave it out")
		} else if !s.HasZ {
			d.refuse(source{isSpot, int32(i)}, s.Plan, "spot has no elevation", "give it one or leave it out")
		}
	}
	for i := range d.r.Outlets {
		d.checkOutlet(source{isOutlet, int32(i)}, &d.r.Outlets[i])
	}
	d.checkRange()
}

func (d *draft) checkOutlet(s source, o *roof.Outlet) {
	sizes := []float64{float64(o.Bowl), float64(o.Width), float64(o.DamHeight)}
	if o.HasInvert {
		sizes = append(sizes, o.Invert)
	}
	for _, v := range sizes {
		if tooFar(v) {
			d.refuse(s, o.Plan, "outlet has a number that is not finite", "mend its properties")
			return
		}
	}
	if bad := badPosition(roof.Position{Plan: o.Plan}, math.Inf(1)); bad != "" {
		d.refuse(s, o.Plan, bad, "mend its numbers")
	}
}

func ringSource(i int) source {
	if i == 0 {
		return source{isOutline, 0}
	}
	return source{isHole, int32(i)}
}

func (d *draft) checkLine(s source, line []roof.Position) {
	for _, p := range line {
		if bad := badPosition(p, maxWide); bad != "" {
			d.refuse(s, p.Plan, bad, "mend its numbers")
			return
		}
	}
}

// badPosition says what is wrong with a position: plan coordinates beyond limit metres, or none.
func badPosition(p roof.Position, limit float64) string {
	for _, v := range p.Plan {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return "coordinate is not finite"
		case math.Abs(v) > limit:
			return "place is more than 5 km from the roof's origin"
		}
	}
	return choose.If(p.HasZ && tooFar(p.Z), "elevation is not finite or beyond 10 km", "")
}

// checkRange refuses elevations that span more than the grid can hold.
func (d *draft) checkRange() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range d.r.Spots {
		if s := &d.r.Spots[i]; s.HasZ {
			lo, hi = math.Min(lo, s.Z), math.Max(hi, s.Z)
		}
	}
	for i := range d.r.Breaklines {
		for _, p := range d.r.Breaklines[i].Line {
			if p.HasZ {
				lo, hi = math.Min(lo, p.Z), math.Max(hi, p.Z)
			}
		}
	}
	for _, ring := range d.r.Outline.Rings {
		for _, p := range ring {
			if p.HasZ {
				lo, hi = math.Min(lo, p.Z), math.Max(hi, p.Z)
			}
		}
	}
	if hi-lo > maxWide {
		d.refusal.Add(roof.Problem{Origin: d.r.Outline.Origin, Rule: "elevations span more than 5 km", Mend: "check the units of the elevations"})
	}
}

// bounds returns the box of a ring.
func bounds(ring []roof.Position) orb.Bound {
	b := orb.Bound{Min: ring[0].Plan, Max: ring[0].Plan}
	for _, p := range ring {
		b = b.Extend(p.Plan)
	}
	return b
}
