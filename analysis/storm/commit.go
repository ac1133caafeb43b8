package storm

import "math"

// commit books all that water k did up to a time.
func (r *run) commit(k int32, t float64) {
	dt := t - r.at[k]
	if dt <= 0 {
		return
	}
	switch r.mode[k] {
	case held:
		r.commitHeld(k, dt)
	case filling:
		r.volume[k] += float64(float64(r.in[k]) * quantum * dt)
	case moving:
		r.commitPath(k, t)
	}
	r.at[k] = t
	r.note(k)
	r.show(k)
}

func (r *run) commitHeld(k int32, dt float64) {
	if len(r.takers[k]) == 0 && r.air == 0 {
		return
	}
	rest := float64(r.in[k]-r.out[k]) * quantum
	for _, o := range r.takers[k] {
		r.res.Outlets[o].Volume += r.rate[o] * dt
		rest -= r.rate[o]
	}
	if r.air > 0 {
		r.res.Evaporated += rest * dt
	}
}

func (r *run) commitPath(k int32, t float64) {
	path := r.path[k]
	for len(path.panels) > 0 && path.panels[0].t0 < t {
		p := path.panels[0]
		if p.t1 > t {
			p.l1 = r.levelAfter(k, &p, t-p.t0)
			p.t1, p.v1 = t, r.table.Volume(k, p.l1)
			rest := &path.panels[0]
			rest.t0, rest.l0, rest.v0 = p.t1, p.l1, p.v1
		} else {
			path.panels = path.panels[1:]
		}
		r.bookPanel(k, &p)
		r.level[k], r.volume[k] = p.l1, p.v1
	}
}

// passAtOnce takes water k over panels that last less than the clock can tell at the present: late in a storm, a
// volume of 1e-16 m3 is gone in no time.
func (r *run) passAtOnce(k int32) {
	path := r.path[k]
	for len(path.panels) > 0 && path.panels[0].t1 <= r.now {
		p := path.panels[0]
		path.panels = path.panels[1:]
		r.bookPanel(k, &p)
		r.level[k], r.volume[k] = p.l1, p.v1
	}
	r.note(k)
}

// bookPanel books what left water k on a panel: what came in, less what stayed.
func (r *run) bookPanel(k int32, p *panel) {
	out := float64(float64(r.in[k])*quantum*(p.t1-p.t0)) - (p.v1 - p.v0)
	r.share(k, p, out)
	points := 1
	if every := keepTime * r.res.Ended; every > 0 {
		points = int(min(8, 1+(p.t1-p.t0)/every))
	}
	for i := 1; i < points; i++ {
		dt := (p.t1 - p.t0) * float64(i) / float64(points)
		level := r.levelAfter(k, p, dt)
		for _, o := range r.takers[k] {
			r.sampleAt(o, p.t0+dt, level, true)
		}
	}
	for _, o := range r.takers[k] {
		up := p.l1 > p.l0
		before, after := r.flowAt(o, p.l0, up) > trickle, r.flowAt(o, p.l1, !up) > trickle
		r.turn(o, p.t0, before) // it may have changed between panels: rain came, waters merged
		if before != after {
			r.turn(o, min(p.t1, p.t0+r.timeTo(k, p, r.levelOfTrickle(o, p, before))), after)
		}
		r.sampleAt(o, p.t1, p.l1, !up)
	}
}

// flowAt returns all that outlet o takes while water stands at a level over it; above is as in drain.
func (r *run) flowAt(o int32, level float64, above bool) float64 {
	return float64(r.caught[o])*quantum + r.taken(o, level, above)
}

func (r *run) sampleAt(o int32, t, level float64, above bool) {
	head := 0.0
	if x := &r.mouths[o]; level > x.crest {
		head = level - x.invert
	}
	r.sample(o, t, r.flowAt(o, level, above), head)
}

// levelOfTrickle returns where on a panel an outlet begins or stops taking more than Trickle.
func (r *run) levelOfTrickle(o int32, p *panel, on bool) float64 {
	near, far := p.l0, p.l1
	for range 60 {
		if middle := near + (far-near)/2; (r.flowAt(o, middle, true) > trickle) == on {
			near = middle
		} else {
			far = middle
		}
	}
	return far
}

// share divides what left water k on a panel between its takers and the air.
func (r *run) share(k int32, p *panel, out float64) {
	level := max(p.l0, p.l1)
	only, count := int32(-1), 0
	for _, o := range r.takers[k] {
		if r.mouths[o].crest < level {
			only = o
			count++
		}
	}
	switch {
	case count == 0:
		r.res.Evaporated += out
		return
	case count == 1 && r.air == 0:
		r.res.Outlets[only].Volume += out
		return
	}
	air, whole := 0.0, 0.0
	if r.air > 0 {
		air = r.mean(k, p, func(l float64) float64 { return r.air * r.table.Area(k, l) })
		whole = air
	}
	parts := make([]float64, len(r.takers[k]))
	for i, o := range r.takers[k] {
		if r.mouths[o].crest < level {
			parts[i] = r.mean(k, p, func(l float64) float64 { return r.taken(o, l, true) })
			whole += parts[i]
		}
	}
	if !(whole > 0) {
		r.res.Outlets[only].Volume += out
		return
	}
	r.res.Evaporated += out * (air / whole)
	for i, o := range r.takers[k] {
		r.res.Outlets[o].Volume += out * (parts[i] / whole)
	}
}

// mean returns a flow's mean over the time of a panel, times any factor that all flows of the panel share.
func (r *run) mean(k int32, p *panel, flow func(level float64) float64) float64 {
	if r.storm.Step > 0 {
		return flow(p.l0 + (p.l1-p.l0)/2)
	}
	in := float64(r.in[k]) * quantum
	fine, _ := kronrod(p.l0, p.l1, func(l float64) float64 {
		return flow(l) * r.table.Area(k, l) / (in - r.loss(k, l))
	})
	return math.Abs(fine)
}
