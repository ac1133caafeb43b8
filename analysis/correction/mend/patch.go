package mend

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
)

// CoreReach is how near to a pond a core tells of what lies under it [m]: about 10 ft. Own choice.
const CoreReach = 3.0

// Damaged returns the core in or beside a pond whose insulation is wet or pressed, nil for none.
func (d *Designer) Damaged(p *Pond) *roof.Core {
	var best *roof.Core
	far := CoreReach * CoreReach
	for i := range d.Roof.Cores {
		c := &d.Roof.Cores[i]
		if !LayerIs(c, "wet") && !LayerIs(c, "compressed") {
			continue
		}
		n := vector.DistanceSquared(c.Plan, p.Pit)
		if planar.MultiPolygonContains(p.Place, c.Plan) {
			n = 0
		}
		if n < far || best == nil && n <= far {
			best, far = c, n
		}
	}
	return best
}

// LayerIs reports whether a layer of a core is in a condition.
func LayerIs(c *roof.Core, condition string) bool {
	return slices.ContainsFunc(c.Layers, func(x roof.Layer) bool { return x.Condition == condition })
}

// patch replaces the insulation of a low place: the roof there comes up to the plane round it.
func (d *Designer) patch(p *Pond) (Mend, bool) {
	plane := d.planeRound(p)
	if plane == nil {
		return Mend{}, false
	}
	set := d.raisedTo(p, plane)
	if len(set) == 0 {
		return Mend{}, false
	}
	thick := 0.0
	for v, z := range set {
		thick = math.Max(thick, z-d.Base.Z[v])
	}
	m := Mend{Kind: ReplacePatch, Set: set, Decides: []string{finding.Roofer}, Area: d.Touched(set)}
	what, ask := "crushed", "How far does the crushed insulation at "+p.ID+" reach, and is the deck under it sound?"
	if c := d.Damaged(p); c != nil && LayerIs(c, "wet") {
		what, ask = "wet", "How far does the wet insulation at "+p.ID+" reach, where does the water come in, and is the deck under it sound?"
	}
	m.Change = Change{At: p.Pit, What: finding.Say("Replace the "+what+" insulation at "+p.ID+" with boards that bring the roof up by {0} at most, to the plane round it", finding.MM("rise", thick))}
	m.Questions = []Question{{
		Ask: finding.Say(ask), Where: "cores outward from " + p.ID + " until they are sound", At: p.Pit, Decides: finding.Roofer,
		If: finding.Say("The deck is sound"), Then: finding.Say("Replace the patch as far as it is " + what + ". A soft or sagging deck: an engineer first"),
	}}
	return m, true
}

// planeRound returns the largest plane beside a pond, looked for above it.
func (d *Designer) planeRound(p *Pond) *slope.Plane {
	var best *slope.Plane
	reach := math.Sqrt(p.size/math.Pi) + 0.5
	for _, off := range []float64{reach, 1.5 * reach, 2 * reach} {
		for k := range turns {
			q := around(p.Pit, k, off)
			f, ok := d.Locate.Locate(q[0], q[1])
			if !ok || !d.Domain.Sees(p.Pit, q) {
				continue
			}
			i := d.Study.Slopes.Plane[f]
			if i < 0 {
				continue
			}
			a := &d.Study.Slopes.Planes[i]
			if !a.BelowMin && a.At(p.Pit) > p.low+proud && (best == nil || a.Area > best.Area) {
				best = a
			}
		}
	}
	return best
}

// raisedTo returns the vertices under a plane that hang together with a pond's lowest place, on the plane: outside the pond those that stand lower than errors alone would put them.
func (d *Designer) raisedTo(p *Pond, plane *slope.Plane) map[int32]float64 {
	t := d.Surface.TIN
	set := map[int32]float64{}
	reach := 3*math.Sqrt(p.size) + 2
	wet := slices.DeleteFunc(d.within(p.Pit, math.Sqrt(p.size)+0.5), func(v int32) bool { return !d.Under(p, v) })
	d.spread(wet, func(v int32) bool {
		q := orb.Point{t.X[v], t.Y[v]}
		least := proud / 2
		if !d.Under(p, v) {
			least = math.Max(least, 2*d.Study.Errors.Typical)
		}
		z := plane.At(q)
		if vector.DistanceSquared(q, p.Pit) > reach*reach || z-t.Z[v] <= least {
			return false
		}
		set[v] = math.Round(z*1e5) / 1e5
		return true
	})
	return set
}

// spread returns the vertices that takes accepts among from, then among the neighbours of each that it took. It asks once of each.
func (d *Designer) spread(from []int32, takes func(v int32) bool) []int32 {
	var list []int32
	seen := map[int32]bool{}
	push := func(v int32) {
		if !seen[v] {
			seen[v] = true
			if takes(v) {
				list = append(list, v)
			}
		}
	}
	for _, v := range from {
		push(v)
	}
	for i := 0; i < len(list); i++ {
		for _, w := range d.Star[list[i]] {
			push(w)
		}
	}
	return list
}
