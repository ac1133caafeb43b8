package cause

import "math"

// Crest is the high ground under a pond's lip, looked at across and along.
type crest struct {
	ok     bool
	rise   float64    // plan distance over which the ground rises from the water's floor to the lip [m]
	across [2]float64 // unit vector over the crest, away from the pond
	hump   float64    // height of the crest over the ground at both its feet [m]
	up     float64    // height over the pond's ground carried on to the crest [m]
	down   float64    // height over the ground beyond carried back to the crest [m]
	beyond bool       // there is ground beyond to say so
	length float64    // how far the crest keeps at least half its height on a straight line [m]
}

// Distances at which a crest is looked at [m].
const (
	crestStep   = 0.25 // between stations along the crest
	crestReach  = 8.0  // longest crest followed to either side
	crestField  = 2.0  // length of ground fitted before and beyond
	crestBow    = 0.15 // how far a straight crest may stand off its line
	crestLeast  = 0.15 // narrowest foot: closer shots are not held apart
	crestWidest = 1.0  // widest foot of what counts as one crest
)

// crestOf looks at the ground under the lip of a pond's way out.
func (m *model) crestOf(st *site) crest {
	var c crest
	w := &st.way
	if w.lip == 0 {
		return c
	}
	c.ok = true
	c.rise = m.riseLength(st)
	foot := math.Min(crestWidest, math.Max(crestLeast, c.rise))
	lip := w.v[w.lip]
	m.probe.start(lip)
	x, y := m.t.X[lip], m.t.Y[lip]
	c.across, c.hump = m.turn(x, y, m.heading(w, 2*foot), foot)
	along := [2]float64{-c.across[1], c.across[0]}
	c.length = m.follow(x, y, along, c, foot) + m.follow(x, y, [2]float64{-along[0], -along[1]}, c, foot)
	z := m.t.Z[lip]
	if h, ok := m.carried(x, y, c.across, -1, foot); ok {
		c.up = z - h
	}
	if h, ok := m.carried(x, y, c.across, 1, foot); ok {
		c.down, c.beyond = z-h, true
	}
	return c
}

// riseLength returns the plan distance over which the way climbs from the water's floor to the lip. It
// is taken between a quarter and nine tenths of the height, where noise at either end weighs little, and
// scaled up to the whole.
func (m *model) riseLength(st *site) float64 {
	w := &st.way
	height := m.t.Z[w.v[w.lip]] - st.low
	if height <= 0 {
		return w.s[w.lip]
	}
	a := m.lastAt(w, st.low+0.25*height)
	b := m.firstAt(w, st.low+0.9*height)
	return math.Max(0, b-a) / (0.9 - 0.25)
}

// lastAt returns the last distance before the lip at which the way rises through elevation h.
func (m *model) lastAt(w *way, h float64) float64 {
	for i := w.lip; i > 0; i-- {
		a, b := m.t.Z[w.v[i-1]], m.t.Z[w.v[i]]
		if a <= h && b > h {
			return w.s[i-1] + (w.s[i]-w.s[i-1])*(h-a)/(b-a)
		}
	}
	return 0
}

// firstAt returns the first distance after the last low at which the way reaches elevation h.
func (m *model) firstAt(w *way, h float64) float64 {
	for i := 1; i <= w.lip; i++ {
		a, b := m.t.Z[w.v[i-1]], m.t.Z[w.v[i]]
		if a < h && b >= h {
			return w.s[i-1] + (w.s[i]-w.s[i-1])*(h-a)/(b-a)
		}
	}
	return w.s[w.lip]
}

// heading returns the direction of the way over its lip, from reach before it to reach beyond.
func (m *model) heading(w *way, reach float64) [2]float64 {
	a, b := w.lip, w.lip
	for a > 0 && w.s[w.lip]-w.s[a] < reach {
		a--
	}
	for b < len(w.v)-1 && w.s[b]-w.s[w.lip] < reach {
		b++
	}
	return unit([2]float64{m.t.X[w.v[b]] - m.t.X[w.v[a]], m.t.Y[w.v[b]] - m.t.Y[w.v[a]]})
}

// turn finds the direction near heading in which the crest stands out most from the ground at its feet,
// measured at seven stations along it.
func (m *model) turn(x, y float64, heading [2]float64, foot float64) (across [2]float64, hump float64) {
	across = heading
	best := math.Inf(-1)
	for k := range 25 {
		sin, cos := math.Sincos(float64(k-12) * math.Pi / 36)
		n := [2]float64{heading[0]*cos - heading[1]*sin, heading[0]*sin + heading[1]*cos}
		middle, ok := m.standsOut(x, y, n, foot)
		if !ok {
			continue
		}
		sum := 0.0
		for _, j := range [6]float64{-3, -2, -1, 1, 2, 3} {
			d := j * crestStep
			if h, ok := m.standsOut(x-n[1]*d, y+n[0]*d, n, foot); ok {
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
	a, okA := m.probe.height(x-n[0]*foot, y-n[1]*foot)
	b, okB := m.probe.height(x+n[0]*foot, y+n[1]*foot)
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
func (m *model) follow(x, y float64, along [2]float64, c crest, foot float64) float64 {
	for d := crestStep; d <= crestReach; d += crestStep {
		high := math.Inf(-1)
		for _, bow := range [3]float64{0, -crestBow, crestBow} {
			h, ok := m.standsOut(x+along[0]*d+c.across[0]*bow, y+along[1]*d+c.across[1]*bow, c.across, foot)
			if ok {
				high = math.Max(high, h)
			}
		}
		if high < c.hump/2 {
			return d - crestStep
		}
	}
	return crestReach
}

// carried fits the ground on one side (-1 before, +1 beyond) along five lines across the crest and
// returns its elevation carried on to the crest.
func (m *model) carried(x, y float64, n [2]float64, side, foot float64) (float64, bool) {
	var s, z, ss, sz, count float64
	for _, j := range [5]float64{-2, -1, 0, 1, 2} {
		px, py := x-n[1]*j*crestStep, y+n[0]*j*crestStep
		for k := range 9 {
			d := side * (foot + crestField*float64(k)/8)
			h, ok := m.probe.height(px+n[0]*d, py+n[1]*d)
			if !ok {
				break
			}
			s, z, ss, sz, count = s+d, z+h, ss+d*d, sz+d*h, count+1
		}
	}
	det := count*ss - s*s
	if count < 15 || det <= 0 {
		return 0, false
	}
	return (ss*z - s*sz) / det, true
}
