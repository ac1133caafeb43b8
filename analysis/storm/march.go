package storm

import (
	"math"

	"runnel/analysis/choose"
)

// panel is a stretch of a water's way: from one level to another in some time.
type panel struct{ t0, t1, l0, l1, v0, v1 float64 }

// path is the way of a water from where it was looked at last, a few panels ahead. rest is the level that it
// tends to, NaN when it comes to something else first.
type path struct {
	panels []panel
	rest   float64
}

// panelsAhead is how far a path is worked out at once; most are cut short by an event.
const panelsAhead = 4

// approach is what a panel leaves of the way to the level at which a water stays.
const approach = 1.0 / 30

// move lets water k rise or fall: towards the next crest, its lip or its base, a quarter of the way a panel, or
// towards the level at which it stays.
func (r *run) move(k int32, up bool) {
	r.mode[k] = moving
	if r.path[k] == nil {
		r.path[k] = &path{}
	}
	if r.storm.Step > 0 {
		r.stride(k, up)
		return
	}
	p := r.path[k]
	p.panels = p.panels[:0]
	goal := r.nextStop(k, r.level[k], up)
	rest, stays := r.restLevel(k, r.level[k], goal, up)
	p.rest = math.NaN()
	if stays {
		p.rest = rest
	}
	at := panel{t1: r.now, l1: r.level[k], v1: r.volume[k]}
	stride := (goal - at.l1) / 4
	for len(p.panels) < panelsAhead && at.t1 < r.horizon && at.l1 != goal {
		to := rest + float64((at.l1-rest)*approach)
		if !stays {
			to = at.l1 + stride
			if math.Abs(goal-to) < math.Abs(stride)/2 {
				to = goal
			}
		}
		next, ok := r.panel(k, at, to)
		if !ok {
			break
		}
		p.panels = append(p.panels, next)
		at = next
		if stays && r.restful(k, at.l1) {
			break
		}
	}
	if len(p.panels) == 0 {
		r.hold(k, r.level[k])
		return
	}
	r.schedule(k, at.t1)
}

// restful reports whether a water at a level gains or loses so little that it may be held there.
func (r *run) restful(k int32, level float64) bool {
	in := float64(r.in[k]) * quantum
	return math.Abs(in-r.loss(k, level)) <= float64(steady*in)+calm
}

// nextStop returns the level at which a water that rises or falls meets something else.
func (r *run) nextStop(k int32, level float64, up bool) float64 {
	if up {
		to := r.nextCrest(k, level)
		if !r.closed(k) {
			return min(to, r.tree[k].Level)
		}
		return min(to, level+1)
	}
	to := r.tree[k].Base
	for _, o := range r.takers[k] {
		if c := r.mouths[o].crest; c < level {
			to = max(to, c)
		}
	}
	return to
}

// loss returns what leaves water k at a level strictly between stops.
func (r *run) loss(k int32, level float64) float64 {
	q := r.drain(k, level, true)
	if r.air > 0 {
		q += r.air * r.table.Area(k, level)
	}
	return q
}

// restLevel returns the level between two at which gain and loss are equal, if there is one: the last on the way
// there at which they are not.
func (r *run) restLevel(k int32, from, goal float64, up bool) (float64, bool) {
	in := float64(r.in[k]) * quantum
	gain := func(level float64, above bool) float64 {
		q := r.drain(k, level, above)
		if r.air > 0 {
			q += r.air * r.table.Area(k, level)
		}
		return choose.If(up, in-q, q-in)
	}
	near, far := from, goal
	g0, g1 := gain(near, true), gain(far, !up)
	if g1 > 0 {
		return goal, false
	}
	close := float64(1e-3*steady*in) + 1e-3*calm
	for i := range 200 {
		middle := near + (far-near)/2
		if i < 60 && i%3 != 2 && g0 > 0 && !math.IsInf(g1, 0) {
			if m := near + (far-near)*(g0/(g0-g1)); m > min(near, far) && m < max(near, far) {
				middle = m
			}
		}
		if middle == near || middle == far {
			break
		}
		if g := gain(middle, true); g > 0 {
			near, g0 = middle, g
			if g <= close {
				break
			}
		} else {
			far, g1 = middle, g
		}
	}
	return near, true
}

// panel returns the stretch from where another ended towards a level, cut back until gain and loss keep their
// order on it; false when nothing is left.
func (r *run) panel(k int32, from panel, to float64) (panel, bool) {
	for range 60 {
		if to == from.l1 {
			return panel{}, false
		}
		if dt, ok := r.span(k, from.l1, to); ok {
			return panel{from.t1, from.t1 + dt, from.l1, to, from.v1, r.table.Volume(k, to)}, true
		}
		to = from.l1 + (to-from.l1)/2
	}
	return panel{}, false
}

// Gauss-Kronrod nodes and weights of 15 points on -1..1, and Gauss weights of the seven odd ones. From memory;
// TestKronrod integrates polynomials with them up to the degrees for which they are exact.
var (
	kronrodNode = [8]float64{
		0.991455371120812639206854697526329, 0.949107912342758524526189684047851, 0.864864423359769072789712788640926,
		0.741531185599394439863864773280788, 0.586087235467691130294144245876080, 0.405845151377397166906606412076961,
		0.207784955007898467600689403773245, 0,
	}
	kronrodWeight = [8]float64{
		0.022935322010529224963732008058970, 0.063092092629978553290700663189204, 0.104790010322250183839876322541518,
		0.140653259715525918745189590510238, 0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
		0.204432940075298892414161999234649, 0.209482141084727828012999174891714,
	}
	gaussWeight = [4]float64{
		0.129484966168869693270611432679082, 0.279705391489276667901467771423780, 0.381830050505118944950369775488975,
		0.417959183673469387755102040816327,
	}
)

// kronrod integrates f from a to b, by fifteen and by seven points.
func kronrod(a, b float64, f func(float64) float64) (fine, coarse float64) {
	middle, half := a+(b-a)/2, (b-a)/2
	for i, x := range kronrodNode {
		y := f(middle + float64(half*x))
		if x != 0 {
			y += f(middle - float64(half*x))
		}
		fine += float64(kronrodWeight[i] * y)
		if i%2 == 1 {
			coarse += float64(gaussWeight[i/2] * y)
		}
	}
	return fine * half, coarse * half
}

// accuracy is the relative error allowed in the time that a panel takes.
const accuracy = 1e-7

// span returns the time that water k takes from level a to b: the integral of A / |Q - loss|. It is false when
// gain and loss do not keep their order in between. On the way to the level at which it stays the time
// goes like the logarithm of the distance; there the integral runs over the distance's fourth root.
func (r *run) span(k int32, a, b float64) (float64, bool) { return r.spanWithin(k, a, b, 0, 0) }

// spanWithin is span with the error that its caller allows [s], and how often the caller has halved the way.
func (r *run) spanWithin(k int32, a, b, allowed float64, depth int) (float64, bool) {
	if a == b {
		return 0, true
	}
	in := float64(r.in[k]) * quantum
	if r.in[k] == 0 && !r.reaches(k, min(a, b)) {
		return (a - b) / r.air, true // all of it dries evenly
	}
	up := b > a
	ok := true
	pace := func(level float64) float64 {
		gain := in - r.loss(k, level)
		if up != (gain > 0) || gain == 0 {
			ok = false
			return 0
		}
		return r.table.Area(k, level) / gain
	}
	var fine, coarse float64
	if rest := r.path[k].rest; rest == rest && (rest-b)*(b-a) > 0 {
		u, v := math.Sqrt(math.Sqrt((rest-a)/(rest-b))), 1.0
		fine, coarse = kronrod(v, u, func(u float64) float64 {
			u3 := u * u * u
			return 4 * u3 * (rest - b) * pace(rest-float64((rest-b)*(u3*u)))
		})
	} else {
		fine, coarse = kronrod(a, b, pace)
	}
	if !ok {
		return 0, false
	}
	if depth == 0 {
		allowed = accuracy * math.Abs(fine)
	}
	if math.Abs(fine-coarse) <= allowed || depth == 16 {
		return math.Abs(fine), true
	}
	middle := a + (b-a)/2
	first, ok1 := r.spanWithin(k, a, middle, allowed, depth+1)
	second, ok2 := r.spanWithin(k, middle, b, allowed, depth+1)
	return first + second, ok1 && ok2
}

// levelAfter returns the level that water k comes to in some time on a panel.
func (r *run) levelAfter(k int32, p *panel, dt float64) float64 {
	if r.storm.Step > 0 {
		return r.table.Level(k, p.v0+float64((p.v1-p.v0)*(dt/(p.t1-p.t0))))
	}
	near, far := p.l0, p.l1
	gone := 0.0 // time at near
	level := p.l0 + float64((p.l1-p.l0)*(dt/(p.t1-p.t0)))
	for range 40 {
		if level == near || level == far {
			break
		}
		t, ok := r.span(k, near, level)
		if !ok {
			return level
		}
		miss := gone + t - dt
		if math.Abs(miss) <= accuracy*dt {
			return level
		}
		slope := r.table.Area(k, level) / (float64(r.in[k])*quantum - r.loss(k, level))
		next := level - miss/slope
		if miss > 0 {
			far = level
		} else {
			near, gone = level, gone+t
		}
		if !((next > near && next < far) || (next < near && next > far)) {
			next = near + (far-near)/2
		}
		level = next
	}
	return level
}

// timeTo returns the time that water k takes on a panel to a level on it.
func (r *run) timeTo(k int32, p *panel, level float64) float64 {
	if r.storm.Step > 0 {
		return (p.t1 - p.t0) * ((r.table.Volume(k, level) - p.v0) / (p.v1 - p.v0))
	}
	dt, ok := r.span(k, p.l0, level)
	return choose.If(!ok, p.t1-p.t0, dt)
}
