package storm

import "math"

// drain returns the flow that takers of water k take at a level beyond what they catch: those with a crest
// below the level and, when above is set, at it.
func (r *run) drain(k int32, level float64, above bool) float64 {
	sum := 0.0
	for _, o := range r.takers[k] {
		sum += r.taken(o, level, above)
	}
	return sum
}

// taken returns the flow that outlet o takes from water at a level, beyond what it catches.
func (r *run) taken(o int32, level float64, above bool) float64 {
	x := &r.mouths[o]
	if level < x.crest || level == x.crest && !above {
		return 0
	}
	return max(0, x.takes(level-x.invert)-float64(r.caught[o])*quantum)
}

// drying returns what evaporates from water k, in quanta, at a level: as it rises from there when above is
// set, else as it falls. The ground at a saddle or on the floor of a pit may be level.
func (r *run) drying(k int32, level float64, above bool) int64 {
	n := &r.tree[k]
	switch {
	case r.air == 0:
		return 0
	case above || level > n.Base:
		return quanta(r.air * r.table.Area(k, level))
	case n.Left < 0:
		return 0
	}
	return r.drying(n.Left, n.Base, true) + r.drying(n.Right, n.Base, true)
}

// resolve says how standing water k goes on from now, and when something happens to it next.
func (r *run) resolve(k int32) {
	r.drop(k)
	switch {
	case !r.closed(k) && r.volume[k] >= r.full[k]:
		r.atLip(k)
	case len(r.takers[k]) == 0 && r.air == 0:
		r.setSpill(k, 0)
		level := r.tree[k].Level
		if r.closed(k) {
			level = math.Inf(1)
		}
		r.fill(k, level, r.full[k])
	default:
		r.setSpill(k, 0)
		r.between(k)
	}
}

// fill lets a water gain its inflow up to a level.
func (r *run) fill(k int32, level, volume float64) {
	for _, o := range r.takers[k] {
		r.rate[o] = 0
	}
	if r.in[k] <= 0 {
		r.level[k] = r.levelOf(k) // not kept while it was filling
		r.mode[k] = held
		r.show(k)
		return
	}
	r.mode[k], r.goal[k] = filling, level
	if !math.IsInf(level, 1) {
		r.schedule(k, r.now+(volume-r.volume[k])/(float64(r.in[k])*quantum))
	}
}

// atLip passes on what a full water gains, or lets it fall.
func (r *run) atLip(k int32) {
	level := r.tree[k].Level
	r.level[k] = level
	out := r.drying(k, level, false)
	for _, o := range r.takers[k] {
		q := quanta(r.taken(o, level, false))
		r.rate[o] = float64(q) * quantum
		out += q
	}
	spill := r.in[k] - out
	if spill < 0 {
		r.setSpill(k, 0)
		r.between(k)
		return
	}
	r.mode[k] = held
	if spill > 0 && r.meets(k) {
		return
	}
	r.setSpill(k, spill)
	r.show(k)
}

// meets makes full water k one with the one beside it, if that spills back.
func (r *run) meets(k int32) bool {
	p := r.tree[k].Parent
	if p < 0 {
		return false
	}
	beside := r.tree[p].Left + r.tree[p].Right - k
	if r.status[beside] != standing || r.volume[beside] < r.full[beside] || r.out[beside] <= 0 {
		return false
	}
	r.merge(k, beside)
	return true
}

// steady is the part of the inflow by which a water's outflow may differ from it, and calm the flow [m3/s],
// for its level to be taken as at rest.
const (
	steady = 1e-7
	calm   = 1e-11
)

// between lets a water that has takers, or that dries, go on from a level.
func (r *run) between(k int32) {
	n, level := &r.tree[k], r.levelOf(k)
	r.level[k] = level
	in := float64(r.in[k]) * quantum
	above := r.drain(k, level, true) + float64(r.drying(k, level, true))*quantum
	below := r.drain(k, level, false) + float64(r.drying(k, level, false))*quantum
	still := float64(steady*in) + calm
	switch {
	case r.air == 0 && !r.reaches(k, level):
		to := r.nextCrest(k, level)
		if to >= n.Level && !r.closed(k) {
			to = n.Level
		}
		if math.IsInf(to, 1) {
			r.fill(k, to, to)
		} else {
			r.fill(k, to, r.table.Volume(k, to))
		}
	case in-above > still:
		r.move(k, true)
	case below-in > still && level <= n.Base && n.Left >= 0:
		r.part(k)
	case below-in > still && level > n.Base:
		r.move(k, false)
	default:
		r.hold(k, level)
	}
}

// reaches reports whether water k at a level has come to any crest.
func (r *run) reaches(k int32, level float64) bool {
	for _, o := range r.takers[k] {
		if r.mouths[o].crest <= level {
			return true
		}
	}
	return false
}

// nextCrest returns the lowest crest above a level in water k; infinite when there is none.
func (r *run) nextCrest(k int32, level float64) float64 {
	next := math.Inf(1)
	for _, o := range r.takers[k] {
		if c := r.mouths[o].crest; c > level {
			next = min(next, c)
		}
	}
	return next
}

// hold keeps a water at its level: what comes in goes out, over crests below the level by their laws, the rest
// over those at it, in the measure of what each could take there.
func (r *run) hold(k int32, level float64) {
	r.mode[k] = held
	rest := r.in[k] - r.drying(k, level, false)
	last, room := int32(-1), int64(0)
	for _, o := range r.takers[k] {
		q := min(quanta(r.taken(o, level, false)), max(0, rest))
		r.rate[o] = float64(q) * quantum
		rest -= q
		if x := &r.mouths[o]; x.crest <= level {
			last = o
			if x.crest == level {
				room += quanta(r.taken(o, level, true)) >> 8
			}
		}
	}
	if rest > 0 && room > 0 {
		share := float64(rest) / float64(room)
		for _, o := range r.takers[k] {
			if r.mouths[o].crest == level {
				q := int64(share * float64(quanta(r.taken(o, level, true))>>8))
				r.rate[o] += float64(q) * quantum
				rest -= q
			}
		}
	}
	if last >= 0 && rest != 0 {
		r.rate[last] += float64(rest) * quantum
	}
	r.show(k)
}

// arrive brings a water to what its event was scheduled for.
func (r *run) arrive(k int32) {
	r.commit(k, r.now)
	if r.mode[k] == moving {
		r.passAtOnce(k)
	}
	if r.mode[k] != filling {
		return
	}
	// Rounding of the time leaves the volume a hair off.
	r.level[k], r.volume[k] = r.goal[k], r.full[k]
	if r.goal[k] != r.tree[k].Level {
		r.volume[k] = r.table.Volume(k, r.goal[k])
	}
	r.mode[k] = held
	r.note(k)
}

// levelOf returns the level of water k at the time up to which it is booked.
func (r *run) levelOf(k int32) float64 {
	if r.mode[k] == filling {
		return r.table.Level(k, r.volume[k])
	}
	return r.level[k]
}
