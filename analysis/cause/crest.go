package cause

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Crest is the high ground under a pond's lip, looked at across and along.
type crest struct {
	ok      bool
	x, y, z float64    // where it is looked at: the lip, or near it where the lip lies at a wall
	rise    float64    // plan distance over which the ground rises from the water's floor to the lip [m]
	across  [2]float64 // unit vector over the crest, away from the pond
	height  float64    // of the crest over the ground at both its feet [m]
	up      float64    // height over the pond's ground carried on to the crest [m]
	down    float64    // height over the ground beyond carried back to the crest [m]
	beyond  bool       // there is ground beyond to say so
	length  float64    // how far the crest keeps at least half its height on a straight line [m]
	hump    float64    // 1 where the lip stands up from the roof as it runs on, 0 where the pond's floor lies below it
}

// Distances at which a crest is looked at [m].
const (
	crestStep   = 0.25 // between stations along the crest
	crestReach  = 8.0  // longest crest followed to either side
	crestField  = 2.0  // length of ground fitted before and beyond
	crestBow    = 0.15 // how far a straight crest may stand off its line
	crestLeast  = 0.15 // narrowest foot: closer shots are not held apart
	crestWidest = 1.0  // widest foot of what counts as one crest
	crestClear  = 0.75 // from a wall at which the lip lies
	riseStep    = 0.05 // between places on the rise
)

// riseShares are the shares of the depth on which a rise is measured.
var riseShares = [3]float64{0.4, 0.55, 0.7}

// crestOf looks at the ground under the lip of a pond's way out.
func (m *model) crestOf(st *site) crest {
	var c crest
	w := &st.way
	if w.lip == 0 {
		return c
	}
	c.ok = true
	c.x, c.y, c.z = m.stand(st)
	var towards [2]float64
	c.rise, towards = m.steepest(st, &c)
	foot := math.Min(crestWidest, math.Max(crestLeast, c.rise))
	m.probe.start(w.v[w.lip])
	c.across, c.height = m.turn(c.x, c.y, towards, foot)
	along := [2]float64{-c.across[1], c.across[0]}
	c.length = m.follow(along, c, foot) + m.follow([2]float64{-along[0], -along[1]}, c, foot)
	c.hump = m.humpShare(st, c)
	if h, ok := m.carried(c, -1, foot); ok {
		c.up = c.z - h
	}
	if h, ok := m.carried(c, 1, foot); ok {
		c.down, c.beyond = c.z-h, true
	}
	return c
}

// stand returns the place from which a crest is looked at: the lip, with two exceptions. Where water goes
// round the end of a dam, the dam itself stands on the straight line from the lowest place to where the way
// has come down again, higher than the lip. And where the lip lies at a wall or a curb, half of the crest
// and of the ground about it cannot be seen: then it is the highest place near by that is clear of it.
func (m *model) stand(st *site) (x, y, z float64) {
	t, w := m.t, &st.way
	lip := w.v[w.lip]
	if x, y, z, ok := m.bypassed(st); ok {
		return x, y, z
	}
	x, y, z = t.X[lip], t.Y[lip], t.Z[lip]
	m.probe.start(lip)
	e := t.Out[lip]
	if e < 0 || t.Twin[e] >= 0 {
		return x, y, z
	}
	next := t.V[surface.Next(e)]
	wall := unit([2]float64{t.X[next] - x, t.Y[next] - y})
	top := math.Inf(-1)
	for k := -5; k <= 5; k++ {
		d := float64(k) * riseStep
		px, py := t.X[lip]-float64(wall[1]*crestClear)+float64(wall[0]*d), t.Y[lip]+float64(wall[0]*crestClear)+float64(wall[1]*d)
		if h, ok := m.probe.height(px, py); ok && h > top {
			x, y, z, top = px, py, h, h
		}
	}
	return x, y, z
}

// bypassed returns the top of the ground that the way out goes round: of the straight line from the deepest place to where the way has come down again, if that
// is higher than the lip farther from it than half the water's width, or beside it by a third of the depth and by more than two readings can be out. Where a dam is about as high as the ground at its ends, chance says over which of them the water leaves; from there the dam
// cannot be told from a dish's rim, since the line across the lip then climbs the side of the valley in which the dam lies.
func (m *model) bypassed(st *site) (x, y, z float64, ok bool) {
	w := &st.way
	end := w.v[m.below(w)]
	ax, ay := m.t.X[st.deep], m.t.Y[st.deep]
	dx, dy := m.t.X[end]-ax, m.t.Y[end]-ay
	n := int(math.Min(vector.Norm(dx, dy), 2*crestReach) / riseStep)
	m.probe.start(st.deep)
	lip := w.v[w.lip]
	top := m.t.Z[lip]
	clear := top + math.Max((top-st.low)/3, 2*m.noise) // beside the lip itself, the ground is a little higher everywhere
	z = top
	for k := 1; k < n; k++ {
		px, py := ax+dx*float64(k)/float64(n), ay+dy*float64(k)/float64(n)
		h, inside := m.probe.height(px, py)
		if !inside {
			return 0, 0, 0, false
		}
		if h > z && (h > clear || vector.Norm(px-m.t.X[lip], py-m.t.Y[lip]) > st.wide/2) {
			x, y, z, ok = px, py, h, true
		}
	}
	return x, y, z, ok
}

// humpShare tells a hump from a hollow. On the straight line across the lip it draws the chord from ground
// above the pond to ground beyond the lip: the roof as it was meant to run. A dam stands above that chord
// and the floor lies on it; in a hollow the lip lies on it and the floor below.
//
// The chord starts at five times the length of the rise. Physical reason: a dish of radius r that holds
// water on a slope has its lip at r and its lowest place between the middle and halfway to the lip, so that
// its far side is at most four times as far as that; one is added because the rise is steepest by the lip.
// Where the roof ends sooner, the chord starts there.
func (m *model) humpShare(st *site, c crest) float64 {
	m.probe.start(st.way.v[st.way.lip])
	read := func(k float64) (float64, bool) {
		return m.probe.height(c.x-float64(k*c.rise*c.across[0]), c.y-float64(k*c.rise*c.across[1]))
	}
	above, zAbove, okA := first(read, 5, 4, 3.5, 3, 2.5, 2, 1.5)
	most := 1.0
	if c.rise > 0 {
		most = math.Max(0.25, (st.way.s[len(st.way.s)-1]-st.way.s[st.way.lip])/c.rise)
	}
	below, zBelow, okB := first(read, -math.Min(1, most), -math.Min(0.5, most), -0.25)
	floor, okF := read(1)
	if !okA || !okB || !okF {
		return 0.5
	}
	chord := func(k float64) float64 { return zBelow + (zAbove-zBelow)*(k-below)/(above-below) }
	up := math.Max(0, c.z-chord(0))
	down := math.Max(0, chord(1)-floor)
	if up+down == 0 {
		return 0.5
	}
	return up / (up + down)
}

// first returns the first of the places at which the surface can be read.
func first(read func(k float64) (float64, bool), places ...float64) (k, z float64, ok bool) {
	for _, k := range places {
		if z, ok := read(k); ok {
			return k, z, true
		}
	}
	return 0, 0, false
}

// steepest returns the shortest plan distance over which the ground rises from the water's floor to the
// lip, and the direction of that rise. It is found by looking from the lip into the pond all round for the
// nearest place that lies a share of the depth lower, scaled up to the whole depth: the way along edges of
// the surface may climb at a slant. Smaller shares count as well, because in a long pond the floor by the
// lip need not be as low as elsewhere.
func (m *model) steepest(st *site, c *crest) (rise float64, across [2]float64) {
	w := &st.way
	lip := w.v[w.lip]
	x, y, z := c.x, c.y, c.z
	rise = math.Inf(1)
	for k := range turns {
		u := direction(k)
		m.probe.start(lip)
		share := 0
		for d := riseStep; d <= crestReach && d < rise && share < len(riseShares); d += riseStep {
			h, ok := m.probe.height(x-float64(u[0]*d), y-float64(u[1]*d))
			if !ok {
				break
			}
			for share < len(riseShares) && z-h >= riseShares[share]*(z-st.low) && m.inPond(m.probe.at, st.index) {
				if r := d / riseShares[share]; r < rise {
					rise, across = r, u
				}
				share++
			}
		}
	}
	if math.IsInf(rise, 1) {
		return w.s[w.lip], m.heading(w)
	}
	return rise, across
}

// inPond reports whether facet f has a corner under the water of pond p.
func (m *model) inPond(f, p int32) bool {
	for c := range int32(3) {
		if m.ps.Of[m.t.V[3*f+c]] == p {
			return true
		}
	}
	return false
}

// heading returns the direction of the way over its lip, from the middle of its climb.
func (m *model) heading(w *way) [2]float64 {
	a := w.lip - 1
	for a > 0 && w.s[w.lip]-w.s[a] < w.s[w.lip]/2 {
		a--
	}
	lip := w.v[w.lip]
	return unit([2]float64{m.t.X[lip] - m.t.X[w.v[a]], m.t.Y[lip] - m.t.Y[w.v[a]]})
}

// turn finds the direction near heading in which the crest stands out most from the ground at its feet,
// measured at seven stations along it.
func (m *model) turn(x, y float64, heading [2]float64, foot float64) (across [2]float64, hump float64) {
	across = heading
	best := math.Inf(-1)
	for k := -4; k <= 4; k++ {
		n := turned(heading, k)
		middle, ok := m.standsOut(x, y, n, foot)
		if !ok {
			continue
		}
		sum := 0.0
		for _, j := range [6]float64{-3, -2, -1, 1, 2, 3} {
			d := j * crestStep
			if h, ok := m.standsOut(x-float64(n[1]*d), y+float64(n[0]*d), n, foot); ok {
				sum += math.Min(h, middle)
			}
		}
		if sum+middle > best {
			best, across, hump = sum+middle, n, middle
		}
	}
	return across, hump
}

// standsOut returns how far the ground at (x, y) stands above its feet on both sides in direction n.
func (m *model) standsOut(x, y float64, n [2]float64, foot float64) (float64, bool) {
	top, ok := m.probe.height(x, y)
	if !ok {
		return 0, false
	}
	a, okA := m.probe.height(x-float64(n[0]*foot), y-float64(n[1]*foot))
	b, okB := m.probe.height(x+float64(n[0]*foot), y+float64(n[1]*foot))
	switch {
	case okA && okB:
		return top - (a+b)/2, true
	case okA:
		return top - a, true
	default:
		return 0, false
	}
}

// follow returns how far the crest goes on along a straight line with at least half its height.
func (m *model) follow(along [2]float64, c crest, foot float64) float64 {
	for d := crestStep; d <= crestReach; d += crestStep {
		high := math.Inf(-1)
		for _, bow := range [3]float64{0, -crestBow, crestBow} {
			h, ok := m.standsOut(c.x+float64(along[0]*d)+float64(c.across[0]*bow), c.y+float64(along[1]*d)+float64(c.across[1]*bow), c.across, foot)
			if ok {
				high = math.Max(high, h)
			}
		}
		if high < c.height/2 {
			return d - crestStep
		}
	}
	return crestReach
}

// carried fits the ground on one side (-1 before, +1 beyond) along five lines across the crest and
// returns its elevation carried on to the crest. Where the roof ends sooner, less ground is fitted.
func (m *model) carried(c crest, side, foot float64) (float64, bool) {
	for _, field := range [3]float64{crestField, crestField / 2, crestField / 4} {
		if h, ok := m.fitted(c.x, c.y, [2]float64{c.across[0] * side, c.across[1] * side}, foot, field); ok {
			return h, true
		}
	}
	return 0, false
}

func (m *model) fitted(x, y float64, n [2]float64, foot, field float64) (float64, bool) {
	var s, z, ss, sz, count float64
	for j := -2; j <= 2; j++ {
		px, py := x-float64(n[1]*float64(j)*crestStep), y+float64(n[0]*float64(j)*crestStep)
		for k := range 9 {
			d := foot + field*float64(k)/8
			if h, ok := m.probe.height(px+float64(n[0]*d), py+float64(n[1]*d)); ok {
				s, z, ss, sz, count = s+d, z+h, ss+float64(d*d), sz+float64(d*h), count+1
			}
		}
	}
	det := float64(count*ss) - float64(s*s)
	if count < 30 || det <= 0 {
		return 0, false
	}
	return (float64(ss*z) - float64(s*sz)) / det, true
}
