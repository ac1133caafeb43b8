package storm

import (
	"math"

	"runnel/analysis/capacity"
)

// record is the hydrograph of an outlet being written.
type record struct {
	kept, last Sample // last of Samples; the newest, which may not be kept
	caught     int64  // greatest catch on a slope
	begun      bool
	on         bool // it takes more than Trickle
}

// A sample is kept when its flow differs from the one kept before by more than this part of the peak so far, or
// when so much of the time while something comes down has gone by.
const (
	keepFlow = 0.01
	keepTime = 0.005
)

// sample notes what an outlet takes at a time.
func (r *run) sample(o int32, t, flow, head float64) {
	res, rec := &r.res.Outlets[o], &r.records[o]
	if flow > res.PeakFlow {
		res.PeakFlow, res.PeakTime = flow, t
	}
	res.PeakHead = max(res.PeakHead, head)
	s := Sample{t, flow}
	switch {
	case !rec.begun:
		rec.begun = true
		r.keep(o, s)
	case math.Abs(flow-rec.kept.Flow) > keepFlow*res.PeakFlow || t-rec.kept.Time > keepTime*r.res.Ended && flow > 0:
		if rec.last != rec.kept && rec.last.Flow != flow {
			r.keep(o, rec.last)
		}
		r.keep(o, s)
	}
	rec.last = s
}

// sampleNow notes what an outlet on a slope takes now, of what runs into it and of what stands over it.
func (r *run) sampleNow(o int32) {
	x := &r.mouths[o]
	flow, head := float64(r.caught[o])*quantum, 0.0
	if x.node >= 0 && r.status[x.node] != dormant {
		k := r.water(x.node)
		level := r.levelOf(k)
		switch {
		case level < x.crest:
		case r.mode[k] == held:
			flow, head = flow+r.rate[o], level-x.invert
		default:
			flow, head = r.flowAt(o, level, false), level-x.invert
		}
	}
	r.sample(o, r.now, flow, head)
	r.turn(o, r.now, flow > trickle)
}

func (r *run) keep(o int32, s Sample) {
	res := &r.res.Outlets[o]
	res.Samples = append(res.Samples, s)
	r.records[o].kept = s
}

// turn notes that an outlet begins or ceases to take more than Trickle.
func (r *run) turn(o int32, t float64, on bool) {
	res, rec := &r.res.Outlets[o], &r.records[o]
	if on == rec.on {
		return
	}
	rec.on = on
	switch {
	case !on:
		res.Stop = t
	case res.Start < 0:
		res.Start = t
	}
}

// show samples the outlets of a water that is held, and notes the level where it is watched.
func (r *run) show(k int32) {
	t := r.at[k]
	if r.mode[k] == held {
		for _, o := range r.takers[k] {
			x := &r.mouths[o]
			flow, head := float64(r.caught[o])*quantum, 0.0
			if r.level[k] >= x.crest {
				flow += r.rate[o]
				head = r.level[k] - x.invert
			}
			r.sample(o, t, flow, head)
			r.turn(o, t, flow > trickle)
		}
	}
	if !r.watched[k] {
		return
	}
	level := r.levelOf(k)
	for i, v := range r.c.Watch {
		if m := r.bare.NodeOf(v); m >= 0 && r.status[m] != dormant && r.water(m) == k {
			list := r.res.Watched[i]
			if n := len(list); n < 2 || list[n-1].Level != level || list[n-2].Level != level {
				r.res.Watched[i] = append(list, Moment{t, level})
			} else {
				list[n-1].Time = t
			}
		}
	}
}

// finish turns the state at the end into the result.
func (r *run) finish() {
	res := r.res
	for i := range res.Outlets {
		o, rec := &res.Outlets[i], &r.records[i]
		r.book(int32(i))
		if rec.begun && rec.last != rec.kept {
			r.keep(int32(i), rec.last)
		}
		o.Samples = thin(o.Samples, o.PeakFlow)
		if rec.on {
			o.Stop = r.now
		}
		o.PeakHead = max(o.PeakHead, r.mouths[i].headFor(float64(rec.caught)*quantum))
		res.Out += o.Volume
		o.Volume = max(0, o.Volume) // a difference of volumes may round to less than nothing, by far less than a drop
		res.DrainTime = max(res.DrainTime, o.Stop-res.Ended)
	}
	res.Left = r.held()
	if came := res.Before + res.Fallen + res.Let; came > 0 {
		res.MassError = max(0, math.Abs(came-res.Out-res.Evaporated-res.Left)-r.slack) / came
	}
	r.envelope()
}

// headFor returns the head at which an outlet's law gives a flow, found between 0 and 1 m.
func (x *mouth) headFor(flow float64) float64 {
	if x.law == nil || flow <= 0 {
		return 0
	}
	return capacity.LeastHead(0, 1, flow, x.takes)
}

// held adds up what stands on the roof.
func (r *run) held() float64 {
	sum := 0.0
	for k := range r.tree {
		if r.status[k] == standing {
			sum += r.volume[k]
		}
	}
	return sum
}

// envelope finds the greatest level at every vertex, and the deepest water.
func (r *run) envelope() {
	res := r.res
	res.Deepest = Deepest{Vertex: -1}
	level := make([]float64, len(r.tree))
	for k := len(r.tree) - 1; k >= 0; k-- {
		n := &r.tree[k]
		level[k] = math.Inf(-1)
		if r.most[k] > 0 {
			level[k] = r.table.Level(int32(k), r.most[k])
			if depth := level[k] - r.z[n.Pit]; depth > res.Deepest.Depth {
				res.Deepest = Deepest{Depth: depth, Level: level[k], Time: r.when[k], Vertex: n.Pit}
			}
			res.Covered = res.Covered || r.closed(int32(k)) && level[k] > n.Level
		}
		if n.Parent >= 0 {
			level[k] = max(level[k], level[n.Parent])
		}
	}
	res.Envelope = r.overVertices(level)
}

// overVertices returns the level at every vertex from that of every node.
func (r *run) overVertices(level []float64) []float64 {
	out := make([]float64, len(r.z))
	for v, z := range r.z {
		out[v] = z
		if k := r.bare.NodeOf(int32(v)); k >= 0 {
			out[v] = max(z, level[k])
		}
	}
	return out
}

// snapshot returns the level at every vertex now.
func (r *run) snapshot() []float64 {
	level := make([]float64, len(r.tree))
	for k := len(r.tree) - 1; k >= 0; k-- {
		n := &r.tree[k]
		level[k] = math.Inf(-1)
		switch {
		case r.status[k] == standing && r.volume[k] > 0:
			level[k] = r.levelOf(int32(k))
		case r.status[k] == absorbed:
			level[k] = level[n.Parent]
		}
	}
	return r.overVertices(level)
}
