package settle

import (
	"cmp"
	"slices"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// reading is what settling asks of a spot, in grid units: spots themselves are large and lie in the order of the input.
type reading struct {
	spot, x, y, z int32
	sigma         float64 // [m]
}

// spotOrder returns the spots that may be on the roof along a Hilbert curve, so that neighbours in plan are
// neighbours in memory and the order of the input does not matter; those too far off are left out.
func (d *draft) spotOrder() []reading {
	keep := d.readings()
	x, y, z := make([]int32, len(keep)), make([]int32, len(keep)), make([]int32, len(keep))
	for k := range keep {
		x[k], y[k], z[k] = keep[k].x, keep[k].y, keep[k].z
	}
	d.pose = poseOf(d.r, x, y, z)
	order := mesh.Order(d.pose.All(x, y))
	out := make([]reading, len(keep))
	for k, o := range order {
		out[k] = keep[o]
	}
	d.sortEqual(out)
	return out
}

// readings returns the spots that may be on the roof, in the order of the input.
func (d *draft) readings() []reading {
	b := bounds(d.r.Outline.Rings[0]).Pad(2 * onLine * d.scale)
	keep := make([]reading, 0, len(d.r.Spots))
	raised := d.raised()
	for i := range d.r.Spots {
		s := &d.r.Spots[i]
		if len(raised) > 0 && raised[int32(i)] {
			continue
		}
		if !b.Contains(s.Plan) {
			d.notes.add(noteOutside, source{isSpot, int32(i)})
			continue
		}
		d.inferred = d.inferred || s.Assumed
		keep = append(keep, reading{
			int32(i), geometry.OnGrid(s.Plan[0]), geometry.OnGrid(s.Plan[1]), geometry.OnGrid(s.Z), float64(s.Sigma),
		})
	}
	return keep
}

// sortEqual puts spots that share a place into the order of their elevations.
func (d *draft) sortEqual(order []reading) {
	for i := 0; i < len(order); {
		j := i + 1
		for j < len(order) && order[j].x == order[i].x && order[j].y == order[i].y {
			j++
		}
		if j-i > 1 {
			slices.SortStableFunc(order[i:j], func(a, b reading) int {
				return cmp.Compare(d.r.Spots[a.spot].Z, d.r.Spots[b.spot].Z)
			})
		}
		i = j
	}
}
