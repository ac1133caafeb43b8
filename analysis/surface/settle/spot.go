package settle

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/roof"
)

// placeSpots makes the spots' nodes: merged with what stands there, moved onto a line, left out outside the
// outline and inside curbs, or as they are.
func (d *draft) placeSpots() {
	p := &spotPlacer{
		draft:   d,
		dense:   d.isDense(),
		around:  d.newLines(d.spans(0, len(d.chains)), d.units(onLine)),
		outside: d.newRingTest(d.chains[0].node),
		curbs:   d.newCurbTest(),
	}
	inside := 0
	order := d.spotOrder()
	for i := range order {
		d.line.Look()
		if p.place(&order[i]) {
			inside++
		}
	}
	d.applySplits()
	if inside == 0 && len(d.r.Spots) > 0 {
		s := &d.r.Spots[0]
		d.refuse(source{isSpot, 0}, s.Plan, "all spots lie outside the outline",
			"check that outline and spots are in the same frame, unit and order of coordinates")
		return
	}
	d.checkSpread()
}

type spotPlacer struct {
	*draft
	dense   bool // points of one place are averaged, however far they differ
	around  *lines
	outside *ringTest
	curbs   *curbTest
}

// place settles one spot and reports whether it is on the roof.
func (p *spotPlacer) place(s *reading) bool {
	f := p.around.nearest(s.x, s.y, p.isBorder)
	inside := p.outside.holds(s.x, s.y)
	if f.seg < 0 {
		if why, off := p.offRoof(s.x, s.y, inside); off {
			p.notes.add(why, source{isSpot, s.spot})
			if n := p.at(s.x, s.y); n >= 0 && p.how[n] == unknown {
				p.z[n], p.how[n] = s.z, given // the point of a breakline that lies on it
			}
			return false
		}
		f = p.around.nearest(s.x, s.y, nil)
	}
	n := p.at(s.x, s.y)
	switch {
	case n >= 0:
		p.merge(n, s)
	case f.seg >= 0:
		p.snap(f, s, inside)
	default:
		p.measured(p.add(s.x, s.y, source{isSpot, s.spot}), s)
	}
	return true
}

// offRoof reports whether (x, y) is outside the outline or inside a curb, and which.
func (p *spotPlacer) offRoof(x, y int32, inside bool) (note, bool) {
	if !inside {
		return noteOutside, true
	}
	return noteInCurb, p.curbs.holds(x, y)
}

func (p *spotPlacer) isBorder(s *span) bool { return int(s.chain) < p.draft.curbs }

// merge gives node n, at the same place, the elevation of a spot too.
func (p *spotPlacer) merge(n int32, s *reading) {
	me := source{isSpot, s.spot}
	had := p.how[n] == given
	if had && p.dense {
		p.average(n, s.z, s.sigma)
		p.notes.add(noteMerged, me)
		return
	}
	apart := s.z - p.z[n]
	if !p.meet(n, s.z, s.sigma) {
		p.refuse(me, p.r.Spots[s.spot].Plan, p.name(me)+" and "+p.name(p.whose(n))+" stand at the same place, but their "+
			differ(s.z, p.z[n]), "mend one of the elevations"+p.dropping(me, p.whose(n)))
		return
	}
	if had && p.r.Outline.Elevations != roof.Drawn { // corners of a design are ends of its lines too
		p.notes.add(noteMerged, me)
		p.notes.mostApart = max(p.notes.mostApart, apart, -apart)
	}
	p.measured(n, s)
}

// average gives node n the mean of its elevation and another of the same place, weighted by their errors: points of a dense
// survey stand so close by the way it was taken, and how far they differ is no mistake of anybody.
func (d *draft) average(n, z int32, sigma float64) {
	m := d.mixed[n]
	if m == nil {
		m = &mixture{n: 1}
		d.mixed[n] = m
	}
	own, other := 1/float64(m.n), 1.0 // variances, where nothing tells them: those of a mean of so many, and of one
	if d.sigma[n] > 0 && sigma > 0 {
		own, other = float64(d.sigma[n]*d.sigma[n]), float64(sigma*sigma)
		d.sigma[n] = math.Sqrt(own * other / (own + other))
	}
	d.z[n] += int32(math.Round(float64(z-d.z[n]) * own / (own + other)))
	m.n++
}

// isDense reports whether points stand as they do after a scan: many, and closer than a metre.
func (d *draft) isDense() bool {
	const many, close = 1000, 1.0
	return len(d.r.Spots) >= many && d.spacing() < close
}

// spacing returns the side of the square inside the outline that each spot has to itself [m].
func (d *draft) spacing() float64 {
	area := math.Abs(float64(d.twiceRing(d.chains[0].node))) / (2 * geometry.PerMetre * geometry.PerMetre)
	return math.Sqrt(area / float64(max(1, len(d.r.Spots))))
}

// whose returns what to name for a node: its spot if it has one.
func (d *draft) whose(n int32) source {
	if d.spot[n] >= 0 {
		return source{isSpot, d.spot[n]}
	}
	return d.what[n]
}

// measured makes node n the node of a spot, unless it has one.
func (p *spotPlacer) measured(n int32, s *reading) {
	if p.how[n] != given {
		p.z[n], p.how[n], p.sigma[n] = s.z, given, s.sigma
	}
	if p.spot[n] < 0 {
		p.spot[n] = s.spot
	}
}

// snap moves a spot onto a line. Where something of another elevation stands already, a spot inside stays where
// it is and one outside is refused.
func (p *spotPlacer) snap(f foot, s *reading, inside bool) {
	me := source{isSpot, s.spot}
	n := p.at(int32(math.Round(f.x)), int32(math.Round(f.y)))
	if n >= 0 {
		if inside && p.how[n] == given && math.Abs(float64(p.z[n]-s.z)) > elevationTolerance(0) {
			p.measured(p.add(s.x, s.y, me), s)
			return
		}
		p.merge(n, s)
		p.splitAt(p.around.segs[f.seg], f.t, n)
		return
	}
	n = p.onto(p.around, f, me)
	p.measured(n, s)
	if p.x[n] == s.x && p.y[n] == s.y {
		return
	}
	kind := choose.If(p.isBorder(&p.around.segs[f.seg]), noteOutline, noteLine)
	p.notes.add(kind, me)
}

// checkSpread refuses a roof whose measurements fix no plane.
func (d *draft) checkSpread() {
	var at []int32
	for n := range d.x {
		if d.how[n] == given {
			at = append(at, int32(n))
		}
	}
	if len(at) < 3 {
		d.refusal.Add(roof.Problem{
			Origin: d.r.Outline.Origin, Rule: "fewer than three spots lie on the roof",
			Mend: "measure more: three that are not on one line are the least that give a slope",
		})
		return
	}
	for k := 2; k < len(at); k++ {
		if d.orient(at[0], at[1], at[k]) != 0 {
			return
		}
	}
	d.refusal.Add(roof.Problem{
		Origin: d.r.Outline.Origin, At: d.r.Frame.ToFile(d.point(at[0])), HasAt: true,
		Rule: "all spots lie on one line", Mend: "measure more, to the side of that line",
	})
}

// curbTest answers whether places lie inside a curb.
type curbTest struct {
	rings []*ringTest
	grid  *nearby.Index
}

func (d *draft) newCurbTest() *curbTest {
	t := &curbTest{}
	var boxes []orb.Bound
	for c := d.outline; c < d.curbs; c++ {
		node := d.chains[c].node
		b := d.plan(node).Bound()
		boxes = append(boxes, orb.Bound{Min: orb.Point{b.Min[0] * geometry.PerMetre, b.Min[1] * geometry.PerMetre}, Max: orb.Point{b.Max[0] * geometry.PerMetre, b.Max[1] * geometry.PerMetre}})
		t.rings = append(t.rings, d.newRingTest(node))
	}
	t.grid = nearby.NewBoxes(len(boxes), max(64, 4*len(boxes)), func(i int) orb.Bound { return boxes[i] })
	return t
}

func (t *curbTest) holds(x, y int32) bool { return t.holdsThird(3*int64(x), 3*int64(y)) }

// holdsThird reports whether a curb holds (x/3, y/3), exactly.
func (t *curbTest) holdsThird(x, y int64) bool {
	if len(t.rings) == 0 {
		return false
	}
	for _, i := range t.grid.Near(float64(x)/3, float64(y)/3) {
		if t.rings[i].holdsThird(x, y) {
			return true
		}
	}
	return false
}
