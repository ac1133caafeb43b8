package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// wedge is one plane of tapered boards laid into a low place: it rises from the pond's lip at a slope and meets the roof flush all round.
type wedge struct {
	patch  taper.Patch
	area   float64    // where it lies above the roof [m2]
	volume float64    // [m3]
	thick  float64    // at most [m]
	box    *orb.Bound // along and across the main edge
}

// wedged is the smaller of the wedges over a pond: one rises from the lip to the lowest place, one as the roof round the pond does. ok is false where no plane
// that rises from the lip meets the roof flush within reach.
func (d *Designer) wedged(p *Pond, fall float64) (best wedge, ok bool) {
	if p.Held >= 0 {
		return best, false
	}
	ways := []orb.Point{{p.Pit[0] - p.lip[0], p.Pit[1] - p.lip[1]}}
	if plane := d.planeRound(p); plane != nil {
		ways = append(ways, orb.Point(plane.Gradient))
	}
	for _, u := range ways {
		l := vector.Distance(u, orb.Point{})
		if l < 1e-4 {
			continue
		}
		if w, flush := d.wedgeAlong(p, orb.Point{u[0] / l, u[1] / l}, fall); flush && (!ok || w.area < best.area) {
			best, ok = w, true
		}
	}
	return best, ok
}

// wedgeAlong is the wedge that rises along u, over a rectangle round the pond that is widened until it meets the roof flush.
func (d *Designer) wedgeAlong(p *Pond, u orb.Point, fall float64) (w wedge, ok bool) {
	long, left, right := 0.0, 0.0, 0.0
	for _, poly := range p.Place {
		for _, q := range poly[0] {
			v := orb.Point{q[0] - p.lip[0], q[1] - p.lip[1]}
			s, t := float64(v[0]*u[0])+float64(v[1]*u[1]), float64(v[1]*u[0])-float64(v[0]*u[1])
			long, left, right = math.Max(long, s), math.Max(left, t), math.Max(right, -t)
		}
	}
	for _, more := range []float64{1.2, 2, 3.5} {
		w = d.wedgeOver(p, u, fall, [3]float64{more*long + 0.5, more*left + 0.5, more*right + 0.5})
		if w.area > 0 && d.flush(&w.patch) {
			return w, true
		}
	}
	return w, false
}

// wedgeOver is the plane that rises from the lip along u, over a rectangle so long, and so wide to the left and to the right.
func (d *Designer) wedgeOver(p *Pond, u orb.Point, fall float64, size [3]float64) wedge {
	at := func(s, t float64) orb.Point {
		return orb.Point{p.lip[0] + float64(s*u[0]) - float64(t*u[1]), p.lip[1] + float64(s*u[1]) + float64(t*u[0])}
	}
	long, left, right := size[0], size[1], size[2]
	w := wedge{patch: taper.Patch{
		On: []orb.Point{at(0, -right), at(long, -right), at(long, left), at(0, left)}, Plan: p.lip, Z: p.level, DX: fall * u[0], DY: fall * u[1],
	}}
	const step = 0.2
	for s := step / 2; s < long; s += step {
		for t := -right + step/2; t < left; t += step {
			q := at(s, t)
			if z, on := d.Locate.HeightAt(q[0], q[1]); on && p.level+float64(fall*s) > z {
				up := p.level + float64(fall*s) - z
				w.volume += float64(step * step * up)
				w.thick = math.Max(w.thick, up)
				if up >= Seen {
					w.area, w.box = w.area+step*step, d.holding(w.box, q)
				}
			}
		}
	}
	return w
}

// flush reports whether a patch lies nowhere above the roof along its border.
func (d *Designer) flush(p *taper.Patch) bool {
	const step, most = 0.2, 0.001
	for i, a := range p.On {
		b := p.On[(i+1)%len(p.On)]
		n := int(LineLength(orb.LineString{a, b})/step) + 1
		for k := range n {
			t := float64(k) / float64(n)
			q := orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
			z, on := d.Locate.HeightAt(q[0], q[1])
			if on && p.Z+float64(p.DX*(q[0]-p.Plan[0]))+float64(p.DY*(q[1]-p.Plan[1])) > z+most {
				return false
			}
		}
	}
	return true
}

// wedges are tapers of one plane in a low place, flattest first.
func (d *Designer) wedges(p *Pond) []Mend {
	var out []Mend
	for _, rate := range fillRates {
		fall := rate * d.Study.Criteria.MinValleySlope
		w, ok := d.wedged(p, fall)
		if !ok {
			continue
		}
		m := Mend{
			Kind: Fill, Decides: []string{finding.Roofer}, Fill: true, Area: w.area, Volume: w.volume,
			Apply: func(a *taper.Alteration) { a.Raise(w.patch) }, box: w.box,
		}
		m.Change = d.filledWords(p, w.thick, fall)
		m.Questions = []Question{d.dryAndFirm(p)}
		out = append(out, m)
	}
	return out
}

// tents are crickets of two planes before a curb that stands across a valley: each rises from one corner of the curb's side to a ridge between them and lies
// level up the valley until it meets the roof. Flattest first.
func (d *Designer) tents(p *Pond) []Mend {
	a, b, label, ok := d.sideAt(p.Pit)
	if !ok {
		return nil
	}
	l := LineLength(orb.LineString{a, b})
	u := orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
	out := orb.Point{u[1], -u[0]}
	za, ona := d.Locate.HeightAt(a[0]+float64(tentOff*out[0]), a[1]+float64(tentOff*out[1]))
	zb, onb := d.Locate.HeightAt(b[0]+float64(tentOff*out[0]), b[1]+float64(tentOff*out[1]))
	if !ona || !onb {
		return nil
	}
	za, zb = math.Min(za, p.level), math.Min(zb, p.level)
	var list []Mend
	for _, rate := range tentRates {
		fall := rate * d.Study.Criteria.MinValleySlope
		if fall > standard.SumpSteepest || len(list) == 2 {
			break
		}
		at := math.Min(l, math.Max(0, (zb-za)/(2*fall)+l/2)) // of the ridge, from a
		for _, deep := range []float64{1.5, 3, 5, 8} {
			left := tent{corner: a, along: u, out: out, z: za, fall: fall, wide: at, deep: deep}
			right := tent{corner: b, along: orb.Point{-u[0], -u[1]}, out: out, z: zb, fall: fall, wide: l - at, deep: deep}
			if m, ok := d.tented(p, label, left, right); ok {
				list = append(list, m)
				break
			}
		}
	}
	return list
}

// tentRates are the falls that a tent is tried at, over the least of valleys: its valleys run up the roof and fall less than its planes. Own choice.
var tentRates = [...]float64{1.1, 1.45, 2, 2.7, 3.6, 4.8, 6, 7.5}

// tentOff is how far before a curb's corner the roof is read [m].
const tentOff = 0.02

// tent is one plane of a tent: from a corner of a curb along its side.
type tent struct {
	corner, along, out orb.Point
	z, fall            float64
	wide, deep         float64
}

func (t *tent) at(s, k float64) orb.Point {
	return orb.Point{t.corner[0] + float64(s*t.along[0]) + float64(k*t.out[0]), t.corner[1] + float64(s*t.along[1]) + float64(k*t.out[1])}
}

// patch returns the plane, a little way under the curb too. It runs counter-clockwise whichever corner it starts from.
func (t *tent) patch() taper.Patch {
	on := []orb.Point{t.at(0, -underCurb), t.at(t.wide, -underCurb), t.at(t.wide, t.deep), t.at(0, t.deep)}
	if vector.Turn(on[0], on[1], on[2]) < 0 {
		on[1], on[3] = on[3], on[1]
	}
	return taper.Patch{On: on, Plan: t.corner, Z: t.z, DX: t.fall * t.along[0], DY: t.fall * t.along[1]}
}

// greatestRate returns the greatest taper of boards in stock [rise/run].
func (d *Designer) greatestRate() float64 {
	if n := len(d.Rates); n > 0 {
		return d.Rates[n-1]
	}
	return standard.BoardRates[len(standard.BoardRates)-1]
}

// tented is the mend of a tent; ok is false where it does not meet the roof flush or raises nothing.
func (d *Designer) tented(p *Pond, label string, sides ...tent) (m Mend, ok bool) {
	m = Mend{Kind: Cricket, Decides: []string{finding.Roofer}}
	var patches []taper.Patch
	var built []*tent
	thick, far := 0.0, 0.0
	for i := range sides {
		t := &sides[i]
		if t.wide < 0.05 {
			continue
		}
		const step = 0.1
		for s := step / 2; s < t.wide; s += step {
			for k := step / 2; k < t.deep+step; k += step {
				q := t.at(s, k)
				z, on := d.Locate.HeightAt(q[0], q[1])
				up := t.z + float64(t.fall*s) - z
				if !on || up < Seen {
					continue
				}
				if k > t.deep-step {
					return m, false
				}
				m.box = d.holding(m.box, q)
				m.Area, m.Volume = m.Area+step*step, m.Volume+float64(step*step*up)
				thick, far = math.Max(thick, up), math.Max(far, k)
			}
		}
		for k := tentOff; k < t.deep; k += 0.02 { // along the ridge
			q := t.at(t.wide, k)
			if z, on := d.Locate.HeightAt(q[0], q[1]); on {
				thick = math.Max(thick, t.z+float64(t.fall*t.wide)-z)
			}
		}
		patches, built = append(patches, t.patch()), append(built, t)
	}
	for _, t := range built { // the valley from the tip of the ridge to the corner
		if l := math.Sqrt(float64(t.wide*t.wide) + float64(far*far)); float64(t.fall*t.wide)/l < fillRates[0]*d.Study.Criteria.MinValleySlope {
			return m, false
		}
	}
	m.Apply = func(a *taper.Alteration) { a.Raise(patches...) }
	wide := sides[0].wide + sides[1].wide
	m.Change = Change{At: p.Pit, What: finding.Say("Build a cricket of two planes behind {4}, {0} along it and {1} up the valley, {2} thick at most; each plane falls to its corner of the curb at {3}",
		finding.Metres("width", wide), finding.Metres("depth", far), finding.MM("thickness", thick), finding.Fall("slope", sides[0].fall), finding.Called(label))}
	if steepest := d.greatestRate(); thick/math.Max(sides[0].wide, sides[1].wide) > steepest {
		m.Change.What.Format += "; no board in stock tapers so fast: it is built up, or cut to measure"
	}
	m.Questions = d.flashingLeft(p, label, thick)
	return m, m.Area > 0
}
