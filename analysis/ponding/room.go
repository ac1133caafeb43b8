package ponding

// rooms returns per node what it can hold itself: its volume when full less that of its parts.
//
// Facets that are wholly under water stay so in every larger depression; only the others are carried
// upwards one by one.
func (ps *Ponds) rooms() []float64 {
	rims := make([]rimmed, len(ps.Tree))
	for i := range ps.Ponds {
		for _, f := range ps.Ponds[i].Facets {
			if k := ps.nodeOf[ps.lowest(f)]; k != none {
				rims[k].part = append(rims[k].part, newTent(ps.t, ps.z, f))
			}
		}
	}
	room := make([]float64, len(ps.Tree))
	for k := range ps.Tree {
		n, r := &ps.Tree[k], &rims[k]
		r.base = ps.z[n.Pit]
		below := 0.0
		if n.Left >= 0 {
			below = rims[n.Left].volume + rims[n.Right].volume
			r.take(&rims[n.Left])
			r.take(&rims[n.Right])
		}
		r.fill(n.Level)
		room[k] = max(0, r.volume-below)
	}
	return room
}

// rimmed is the facets of a depression: those under water as sums, the rest one by one.
type rimmed struct {
	base, area, moment float64 // elevation; plan area; plan area times height of the ground above base
	part               []tent
	volume             float64
}

// take moves all of other into r, whose base is not higher.
func (r *rimmed) take(other *rimmed) {
	r.area += other.area
	r.moment += other.moment + float64(other.area*(other.base-r.base))
	if len(other.part) > len(r.part) {
		r.part, other.part = other.part, r.part
	}
	r.part = append(r.part, other.part...)
	*other = rimmed{volume: other.volume}
}

// fill raises the water to level.
func (r *rimmed) fill(level float64) {
	rest, volume := r.part[:0], 0.0
	for _, k := range r.part {
		if k.c <= level {
			r.area += k.size
			r.moment += float64(k.size * (((k.a - r.base) + (k.b - r.base) + (k.c - r.base)) / 3))
			continue
		}
		_, v := k.water(level)
		volume += v
		rest = append(rest, k)
	}
	r.part = rest
	r.volume = volume + float64(r.area*(level-r.base)) - r.moment
}
