package cause

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
)

// WetValley is the valley line of which the pond covers most.
type wetValley struct {
	line   *slope.Line // nil none
	length float64     // plan length of it under water [m]
	beside float64     // depth of water over it at its place nearest to the lip [m]
	back   float64     // share of the way from the deepest place to the lip that runs up valleys which nobody coded
}

// valleyOf finds the valley under the pond's water.
func (m *model) valleyOf(st *site) wetValley {
	wet := map[int32]float64{}
	var best wetValley
	for _, v := range st.wet {
		if i := m.lineAt(m.valley, v); i >= 0 {
			if _, ok := wet[i]; ok {
				continue
			}
			l := &m.sl.Valleys[i]
			wet[i] = m.wetLength(l, st)
			if best.line == nil || wet[i] > best.length || wet[i] == best.length && l.Named && !best.line.Named {
				best = wetValley{line: l, length: wet[i]}
			}
		}
	}
	upper, gap := m.interrupted(st)
	if best.line == nil {
		best.line = upper
	}
	if best.line == nil {
		return best
	}
	best.back = m.upValleys(st, gap)
	lip := st.way.v[st.way.lip]
	near := math.Inf(1)
	l := best.line
	for i := 1; i < len(l.Plan); i++ {
		if d, k := apart(m.t.X[lip], m.t.Y[lip], l.Plan[i-1], l.Plan[i]); d < near {
			near = d
			za, zb := m.t.Z[l.Vertices[i-1]], m.t.Z[l.Vertices[i]]
			best.beside = math.Max(0, st.p.Level-za-float64(k*(zb-za)))
		}
	}
	return best
}

// upValleys returns the share of the way from the deepest place to the lip that runs along valleys, to half a
// spacing, which nobody coded but the spots of their planes bear. Physical reason: where two planes of a roof meet in a valley, the valley is the lowest way on; if water has to climb that very line to get out, the
// valley falls back. It is told in pieces then: one that falls to the low place from above, and one from the lip, against the way the water should run.
//
// So is gap, where the valley is interrupted: nil none.
func (m *model) upValleys(st *site, gap orb.LineString) float64 {
	var near []*slope.Line
	add := func(v int32) {
		if i := m.lineAt(m.valley, v); i >= 0 && m.borne(&m.sl.Valleys[i]) && !slices.Contains(near, &m.sl.Valleys[i]) {
			near = append(near, &m.sl.Valleys[i])
		}
	}
	w := &st.way
	for _, v := range st.wet {
		add(v)
	}
	add(w.v[w.lip])
	in := 0.0
	for i := 1; i <= w.lip; i++ {
		a, b := w.v[i-1], w.v[i]
		x, y := (m.t.X[a]+m.t.X[b])/2, (m.t.Y[a]+m.t.Y[b])/2
		if slices.ContainsFunc(near, func(l *slope.Line) bool { return offLine(l.Plan, x, y) < m.scale/2 }) || offLine(gap, x, y) < m.scale/2 {
			in += w.s[i] - w.s[i-1]
		}
	}
	return in / math.Max(w.s[w.lip], 1e-9)
}

// borne reports whether nobody coded a valley, and it runs along a fold that was found, or between planes that spots within them bear.
func (m *model) borne(l *slope.Line) bool {
	switch {
	case l.Named || l.Left < 0 || l.Right < 0 || m.sl.Planes[l.Left].BelowMin || m.sl.Planes[l.Right].BelowMin:
		return false // nothing that is level falls to a valley
	case m.sl.Planes[l.Left].Inner > 0 && m.sl.Planes[l.Right].Inner > 0:
		return true
	}
	return slices.ContainsFunc(l.Vertices, func(v int32) bool { return m.s.TIN.Found[v] })
}

// aligned is the cosine of the greatest angle by which two parts of one valley run apart: 20 degrees.
const aligned = 0.94

// interrupted finds a valley that nobody coded and that goes on beyond a pond: one falls to its deepest place, and one falls away from its lip in the same
// line. It returns the upper one and the stretch between both, nil where there is none. Physical reason: two valleys in one line are one valley. Where it
// falls back in between, a few spots on the short faces of the sag seldom tell their planes, and nothing is left but the low place in its line.
func (m *model) interrupted(st *site) (upper *slope.Line, gap orb.LineString) {
	w := &st.way
	lip := w.v[w.lip]
	deep, out := orb.Point{m.t.X[st.deep], m.t.Y[st.deep]}, orb.Point{m.t.X[lip], m.t.Y[lip]}
	var above, below []*slope.Line
	for i := range m.sl.Valleys {
		l := &m.sl.Valleys[i]
		if l.Length < 1.5*m.scale || l.Named || !m.borne(l) {
			continue
		}
		if vector.Distance(l.Plan[len(l.Plan)-1], deep) < w.s[w.lip]+m.scale {
			above = append(above, l)
		}
		if vector.Distance(l.Plan[0], out) < 1.5*m.scale {
			below = append(below, l)
		}
	}
	for _, a := range above {
		for _, b := range below {
			from, to := a.Plan[len(a.Plan)-1], b.Plan[0]
			u := unit([2]float64{to[0] - from[0], to[1] - from[1]})
			if a == b || vector.Dot(u, heading(a)) < aligned || vector.Dot(u, heading(b)) < aligned {
				continue
			}
			line := orb.LineString{from, to}
			if off := offLine(line, deep[0], deep[1]); off < m.scale/2 && off < offLine(gap, deep[0], deep[1]) {
				upper, gap = a, line
			}
		}
	}
	return upper, gap
}

// heading returns the direction of a line from end to end.
func heading(l *slope.Line) [2]float64 {
	a, b := l.Plan[0], l.Plan[len(l.Plan)-1]
	return unit([2]float64{b[0] - a[0], b[1] - a[1]})
}

// offLine returns how far a place lies off a line, +Inf off none.
func offLine(l orb.LineString, x, y float64) float64 {
	least := math.Inf(1)
	for i := 1; i < len(l); i++ {
		d, _ := apart(x, y, l[i-1], l[i])
		least = math.Min(least, d)
	}
	return least
}

// lineAt reads a table of lines, which knows vertices of the uncut surface only.
func (m *model) lineAt(of []int32, v int32) int32 {
	if int(v) >= len(m.s.TIN.X) {
		return -1
	}
	return of[v]
}

// wetLength returns the plan length of a line that lies under the pond's water.
func (m *model) wetLength(l *slope.Line, st *site) float64 {
	sum := 0.0
	for i := 1; i < len(l.Vertices); i++ {
		if a, b := l.Vertices[i-1], l.Vertices[i]; m.ps.Of[a] == st.index || m.ps.Of[b] == st.index {
			sum += float64(wetPart(m.t.Z[a], m.t.Z[b], st.p.Level) * vector.Norm(m.t.X[b]-m.t.X[a], m.t.Y[b]-m.t.Y[a]))
		}
	}
	return sum
}

// apart returns the distance of (x, y) from the stretch p to q, and where on it the nearest place lies.
func apart(x, y float64, p, q [2]float64) (d, k float64) {
	ux, uy := q[0]-p[0], q[1]-p[1]
	vx, vy := x-p[0], y-p[1]
	if l := float64(ux*ux) + float64(uy*uy); l > 0 {
		k = math.Min(1, math.Max(0, (float64(vx*ux)+float64(vy*uy))/l))
	}
	return vector.Norm(vx-float64(k*ux), vy-float64(k*uy)), k
}

// alongValley says how far the pond is a stretch of its valley that does not run: it lies along the line,
// and its way out goes along the line too, so that the line itself rises to the level where the water
// leaves. Physical reason: a valley is where water is led to an outlet. Where water stands in a trough but
// goes out across its side, the line being deep under water there, the trough is the foot of something
// else: a dam, a step, a span that is arched.
func (v *view) alongValley() float64 {
	w := &v.valley
	if w.line == nil || v.long == 0 {
		return 0
	}
	return ramp(w.length/v.long, 0.3, 0.7) * ramp(w.beside/v.depth, 0.6, 0.3)
}

// valleyFlat: the pond lies along a valley that is level or falls back.
//
// Physical reason: a valley is flatter than its planes; level or falling back, it holds long thin water
// whose way out goes on along it. The rise is long, unlike a lap or a lump in the valley.
func valleyFlat(v *view) (Candidate, bool) {
	l := v.valley.line
	if l != nil && v.isCricket(l) || v.p.HeldBy >= 0 && !v.overflowHolds() {
		return Candidate{}, false
	}
	if l == nil {
		return fallenBack(v)
	}
	along, up := v.alongValley(), math.Max(v.upValley(), v.trough*v.offCurb())
	if along == 0 && up == 0 {
		return Candidate{}, false
	}
	flat := ramp(l.Slope, 2*v.c.MinValleySlope, v.c.MinValleySlope)
	back := ramp(l.BackFall/v.depth, 0.3, 0.8)
	rise := v.crest.rise
	if up > 0 { // the way itself says over what length the valley falls back
		rise = math.Max(rise, v.way.s[v.way.lip])
	}
	long := v.longRise(rise)
	if !l.Named { // found in the surface alone: then the water must look like a valley's, long and thin
		along *= ramp(v.long/math.Max(v.wide, 1e-9), 1.5, 2.5) * v.offCurb()
		if c, ok := camber(v); ok { // the trough above an arched span is where two planes meet, too, but its water leaves over the arch
			along *= 1 - c.Score/2
			up *= 1 - c.Score/2
		}
	}
	out := Candidate{Score: 0.9 * math.Max(up, along*math.Max(flat, back)) * long * v.resolved(v.depth)}
	out.Facts, out.Why = v.valleyFacts(l, "valley")
	if up > along*math.Max(flat, back) {
		out.Why = v.upTheValley()
	}
	out.Measure = alongIt()
	return out, true
}

// fallenBack is valleyFlat where no valley is told: the sides of the roof alone tell the line that falls back.
func fallenBack(v *view) (Candidate, bool) {
	up := v.trough * v.offCurb()
	if up == 0 {
		return Candidate{}, false
	}
	out := Candidate{
		Score: 0.9 * up * v.longRise(math.Max(v.crest.rise, v.way.s[v.way.lip])) * v.resolved(v.depth),
		Facts: []finding.Quantity{finding.MM("rise against the fall", v.depth)},
		Why:   v.upTheValley(),
	}
	out.Measure = alongIt()
	return out, true
}

// longRise is 1 where a valley falls back over metres, and less where what holds the water is as short as a thing laid on the roof.
func (v *view) longRise(rise float64) float64 {
	return 0.4 + float64(0.6*ramp(rise, shortRise, longRise))
}

func (v *view) upTheValley() finding.Text {
	return finding.Say("The water lies where two planes of the roof meet in a valley, and its way out runs up that valley: it rises {0} to where the water leaves.",
		finding.MM("rise against the fall", v.depth))
}

func alongIt() finding.Text {
	return finding.Say("Take levels along the valley every {0} from its top to the outlet.", finding.Metres("spacing", 1.524)) // 5 ft
}

// upValley says how far the way out runs up a valley that nobody coded.
func (v *view) upValley() float64 { return ramp(v.valley.back, 0.4, 0.7) * v.offCurb() }

// offCurb says how far the water does not stand against a curb. Physical reason: water that does is held by that, whatever folds the roof has beside it.
func (v *view) offCurb() float64 { return ramp(v.shore.curb/math.Max(v.long, 1e-9), 0.6, 0.2) }

// isCricket reports whether a valley line is the edge of a cricket.
func (v *view) isCricket(l *slope.Line) bool { return l.Named && l.Type == roof.Cricket }

func (v *view) valleyFacts(l *slope.Line, name string) ([]finding.Quantity, finding.Text) {
	facts := []finding.Quantity{
		finding.Fall(name+" slope", l.Slope), finding.Metres("length of the "+name, l.Length),
		finding.MM("rise against the fall", l.BackFall), finding.Metres("under water", v.valley.length),
	}
	if l.BackFall > v.depth/2 {
		return facts, finding.Say("The "+name+" rises {0} against its fall. {1} of its {2} are under water.",
			finding.MM("rise against the fall", l.BackFall), finding.Metres("under water", v.valley.length), finding.Metres("length", l.Length))
	}
	return facts, finding.Say("The "+name+" falls {0} end to end. {1} of its {2} are under water.",
		finding.Fall(name+" slope", l.Slope), finding.Metres("under water", v.valley.length), finding.Metres("length", l.Length))
}
