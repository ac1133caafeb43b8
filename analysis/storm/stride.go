package storm

// stride moves water k on by one step of the storage-indication method (level-pool routing with the trapezoid
// rule): V1 + dt/2 O1 = V0 - dt/2 O0 + I dt, where I is the mean inflow over the step. A step ends early where the
// water meets a crest, its lip or its base, and at the end of a rate of rain.
//
// Where a basin answers faster than the step its outflow overshoots: steps suit hand calculations on basins of
// some size.
//
// Source: Highway Hydrology, HDS 2, Federal Highway Administration, level-pool routing of example 8.11 (read); the same
// recursion stands in Applied Hydrology, 1988, section 8.2 (from memory).
func (r *run) stride(k int32, up bool) {
	at := panel{t1: r.now, l1: r.level[k], v1: r.volume[k]}
	dt := min(r.storm.Step, r.horizon-r.now)
	in, out := float64(r.in[k])*quantum, r.loss(k, at.l1)
	gain := at.v1 + float64((in-out/2)*dt)
	after := func(level, loss float64) bool { return (r.table.Volume(k, level)+float64(loss*dt/2) > gain) == up }
	beyond := func(level float64) bool { return after(level, r.loss(k, level)) }
	goal := r.nextStop(k, at.l1, up)
	for up && r.closed(k) && goal < r.nextCrest(k, at.l1) && !beyond(goal) {
		goal = min(at.l1+2*(goal-at.l1), r.nextCrest(k, at.l1))
	}
	level := goal
	if after(goal, r.drain(k, goal, !up)) {
		level = lastBefore(at.l1, goal, beyond)
	} else if mean := in - (out+r.drain(k, goal, !up))/2; mean != 0 {
		dt = min(dt, (r.table.Volume(k, goal)-at.v1)/mean)
	}
	p := r.path[k]
	p.panels = append(p.panels[:0], panel{at.t1, at.t1 + dt, at.l1, level, at.v1, r.table.Volume(k, level)})
	if level == at.l1 || dt <= 0 {
		r.hold(k, at.l1)
		return
	}
	r.schedule(k, at.t1+dt)
}

// lastBefore returns the last level on the way from one to another that is not beyond.
func lastBefore(near, far float64, beyond func(float64) bool) float64 {
	for range 200 {
		middle := near + (far-near)/2
		if middle == near || middle == far {
			break
		}
		if beyond(middle) {
			far = middle
		} else {
			near = middle
		}
	}
	return near
}
