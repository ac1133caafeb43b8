package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
)

// CoreReach is how near to a pond a core tells of what lies under it [m]: about 10 ft. Own choice.
const CoreReach = 3.0

// damaged returns the core in or beside a pond whose insulation is wet or pressed, nil for none.
func (d *designer) damaged(p *pond) *roof.Core {
	var best *roof.Core
	far := CoreReach * CoreReach
	for i := range d.roof.Cores {
		c := &d.roof.Cores[i]
		if !layerIs(c, "wet") && !layerIs(c, "compressed") {
			continue
		}
		n := near2(c.Plan, p.pit)
		if planar.MultiPolygonContains(p.place, c.Plan) {
			n = 0
		}
		if n < far || best == nil && n <= far {
			best, far = c, n
		}
	}
	return best
}

func layerIs(c *roof.Core, condition string) bool {
	return slices.ContainsFunc(c.Layers, func(x roof.Layer) bool { return x.Condition == condition })
}

// patch replaces the insulation of a low place: the roof there comes up to the plane round it.
func (d *designer) patch(p *pond) (mend, bool) {
	plane := d.planeRound(p)
	if plane == nil {
		return mend{}, false
	}
	set := d.raisedTo(p, plane)
	if len(set) == 0 {
		return mend{}, false
	}
	thick := 0.0
	for v, z := range set {
		thick = math.Max(thick, z-d.base.Z[v])
	}
	m := mend{kind: ReplacePatch, set: set, decides: []string{finding.Roofer}, area: d.touched(set)}
	what, ask := "crushed", "How far does the crushed insulation at "+p.id+" reach, and is the deck under it sound?"
	if c := d.damaged(p); c != nil && layerIs(c, "wet") {
		what, ask = "wet", "How far does the wet insulation at "+p.id+" reach, where does the water come in, and is the deck under it sound?"
	}
	m.change = Change{At: p.pit, What: finding.Say("Replace the "+what+" insulation at "+p.id+" with boards that bring the roof up by {0} at most, to the plane round it", finding.MM("rise", thick))}
	m.questions = []Question{{
		Ask: finding.Say(ask), Where: "cores outward from " + p.id + " until they are sound", At: p.pit, Decides: finding.Roofer,
		If: finding.Say("The deck is sound"), Then: finding.Say("Replace the patch as far as it is " + what + ". A soft or sagging deck: an engineer first"),
	}}
	return m, true
}

// planeRound returns the largest plane beside a pond, looked for above it.
func (d *designer) planeRound(p *pond) *slope.Plane {
	var best *slope.Plane
	reach := math.Sqrt(p.size/math.Pi) + 0.5
	for _, off := range []float64{reach, 1.5 * reach, 2 * reach} {
		for k := range turns {
			q := around(p.pit, k, off)
			f, ok := d.locate.Locate(q[0], q[1])
			if !ok || !d.domain.Sees(p.pit, q) {
				continue
			}
			i := d.in.Study.Slopes.Plane[f]
			if i < 0 {
				continue
			}
			a := &d.in.Study.Slopes.Planes[i]
			if !a.BelowMin && a.At(p.pit) > p.low+proud && (best == nil || a.Area > best.Area) {
				best = a
			}
		}
	}
	return best
}

// raisedTo returns the vertices under a plane that hang together with a pond's lowest place, on the plane: outside the pond those that stand lower than errors alone would put them.
func (d *designer) raisedTo(p *pond, plane *slope.Plane) map[int32]float64 {
	t := d.s.TIN
	set := map[int32]float64{}
	reach := 3*math.Sqrt(p.size) + 2
	wet := slices.DeleteFunc(d.within(p.pit, math.Sqrt(p.size)+0.5), func(v int32) bool { return !d.under(p, v) })
	d.spread(wet, func(v int32) bool {
		q := orb.Point{t.X[v], t.Y[v]}
		least := proud / 2
		if !d.under(p, v) {
			least = math.Max(least, 2*d.in.Study.Errors.Typical)
		}
		z := plane.At(q)
		if near2(q, p.pit) > reach*reach || z-t.Z[v] <= least {
			return false
		}
		set[v] = math.Round(z*1e5) / 1e5
		return true
	})
	return set
}

// spread returns the vertices that takes accepts among from, then among the neighbours of each that it took. It asks once of each.
func (d *designer) spread(from []int32, takes func(v int32) bool) []int32 {
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
		for _, w := range d.star[list[i]] {
			push(w)
		}
	}
	return list
}
