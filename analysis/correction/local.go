package correction

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// mend is a local change for one pond.
type mend struct {
	kind      Kind
	set       map[int32]float64         // new elevations of the survey's vertices [m]
	apply     func(a *taper.Alteration) // lays planes; nil: none
	inverts   map[int]float64           // new ones, by index into roof.Outlets [m]
	adds      []roof.Outlet             // new outlets
	change    Change
	more      []Change // further ones of the same mend
	decides   []string
	questions []Question
	scupper   bool    // the outlet that is set down is a scupper
	section   bool    // of a section: it comes last and its elevations hold
	stock     bool    // a section in stock boards
	fill      bool    // builds up without taking anything out
	sump      float64 // side of its sump, 0 none [m]
	area      float64 // about how much it opens, to choose within a rank [m2]
	volume    float64 // about how much is laid, likewise; 0: not told [m3]
	pond      int     // index into designer.ponds
	box       *orb.Bound
}

// ways returns what may dry a pond, in the order of preference; within a rank the smaller first.
func (d *designer) ways(p *pond) []mend {
	var out []mend
	add := func(m mend, ok bool) {
		if ok && d.in.Steering.allows(m.kind) && !d.forbidden(&m) {
			m.pond = p.index
			if p.finding == finding.Camber && (m.fill || m.kind == Retaper) {
				d.arched(&m, p)
			}
			d.book(&m, p)
			out = append(out, m)
		}
	}
	hurt, sag := d.damaged(p) != nil, p.finding == finding.LevelArea || p.sags
	if hurt && (sag || !p.has(finding.CricketMissing)) {
		add(d.patch(p))
	}
	if sag {
		return out // a sag is for an engineer; a level roof has no local mend
	}
	d.lowered(p, add)
	d.built(p, hurt, add)
	add(d.addScupper(p))
	add(d.addOutlet(p))
	add(d.channel(p))
	add(d.retaper(p))
	d.order(out)
	return out
}

// forbidden reports whether a new outlet stands where an engineer said that nothing may be cut.
func (d *designer) forbidden(m *mend) bool {
	for i := range m.adds {
		if a := d.in.Study.Roof.AnsweredAt(roof.AskOpening, m.adds[i].Plan, nil); a != nil && !a.Yes {
			return true
		}
	}
	return false
}

// lowered adds the ways that take down what holds a pond: a rise, an outlet, an edge.
func (d *designer) lowered(p *pond, add func(mend, bool)) {
	if p.finding == finding.RidgeLine {
		add(d.obstacle(p))
	}
	if !inTheRoof(p.finding) {
		add(d.riseOff(p))
	}
	add(d.sump(p))
	if p.finding == finding.OutletOnHigh {
		add(d.reached(p))
	}
	if p.finding == finding.EdgeHigh || p.has(finding.EdgeHigh) {
		add(d.lowerEdge(p))
	}
}

// built adds the ways that build up: crickets, saddles and small tapers; over what is hurt only those that make it good first.
func (d *designer) built(p *pond, hurt bool, add func(mend, bool)) {
	if p.has(finding.CricketMissing) {
		add(d.cricketed(p, hurt))
	}
	if p.finding != finding.EdgeHigh && p.finding != finding.OutletHigh {
		add(d.saddle(p))
	}
	if hurt {
		return
	}
	if p.has(finding.CricketMissing) {
		for _, m := range d.tents(p) {
			add(m, true)
		}
	}
	large := false
	for _, m := range d.wedges(p) { // one plane
		large = large || m.area > standard.ToMeasure
		add(m, true)
	}
	for _, m := range d.fills(p) {
		small := m.area <= standard.ToMeasure || p.size <= standard.WideFeather // of a small pond a coarse survey reads wider than it is built
		large = large || !small
		if !small {
			d.unstocked(&m, "at "+p.id, p.pit, m.area)
		}
		add(m, true)
	}
	if !large {
		return
	}
	for _, m := range d.sectioned(p.id, p.pit, d.edgeOf(p), 1.02*d.in.Study.Criteria.MinSlope) {
		m.questions = []Question{d.dryAndFirm(p)}
		add(m, true)
	}
}

// unstocked leaves a build-up that follows the roof over more than a crew cuts to measure to an engineer: it comes after what is laid in stock boards.
func (d *designer) unstocked(m *mend, where string, at orb.Point, area float64) {
	m.kind, m.decides = Retaper, append([]string{finding.Engineer}, m.decides...)
	m.questions = append([]Question{{
		Ask: finding.Say("No boards in stock fit between a cut line and the walls "+where+": may {0} be built up to measure, as the roof lies?", finding.Plan("area", area)), Where: where, At: at, Decides: finding.Engineer,
		If: finding.Say("The engineer says of what it is built and what it may weigh"), Then: finding.Say("Build it up, priced by volume. Not allowed: re-taper the whole roof in stock boards"),
	}}, m.questions...)
}

// edgeOf returns the corners of a pond's outline.
func (d *designer) edgeOf(p *pond) []orb.Point {
	out := append([]orb.Point(nil), p.pits...)
	for _, poly := range p.place {
		out = append(out, poly[0]...)
	}
	return out
}

// arched asks an engineer before weight is laid along the support of a span that is arched.
func (d *designer) arched(m *mend, p *pond) {
	m.decides = append([]string{finding.Engineer}, m.decides...)
	m.questions = append([]Question{{
		Ask: finding.Say("How do the members lie at " + p.id + ": is the deck sound, and may it carry what is laid along the low line? Find the supports from below, and take levels on the deck over them and at mid-span"), Where: "below " + p.id, At: p.pit, Decides: finding.Engineer, Asked: roof.AskDeck,
		If: finding.Say("The members are sound and the arch is as they were made"), Then: finding.Say("Build slope over the low line. Members that move or are bent: the engineer's"),
	}}, m.questions...)
}

// inTheRoof reports whether what stands high is the roof itself, and no layer on it that could come off.
func inTheRoof(cause finding.Kind) bool {
	return cause == finding.EdgeHigh || cause == finding.OutletOnHigh || cause == finding.Step || cause == finding.Camber
}

// order sorts mends by preference; within a rank by what is opened, then by the trades that it takes and whether one works inside, then by volume.
func (d *designer) order(list []mend) {
	slices.SortStableFunc(list, func(a, b mend) int {
		const alike, same = 0.01, 1e-4 // [m2], [m3]
		switch rank, effort := d.in.Steering.rank(&a)-d.in.Steering.rank(&b), a.effort()-b.effort(); {
		case rank != 0:
			return rank
		case math.Abs(a.area-b.area) > alike:
			return cmp.Compare(a.area, b.area)
		case effort != 0:
			return effort
		case math.Abs(a.volume-b.volume) > same:
			return cmp.Compare(a.volume, b.volume)
		}
		return 0
	})
}

// effort counts the trades of a mend, work inside the building as one more.
func (m *mend) effort() int {
	if slices.Contains(m.decides, finding.Plumber) {
		return len(m.decides) + 1
	}
	return len(m.decides)
}

// book names what a mend's changes are for.
func (d *designer) book(m *mend, p *pond) {
	m.change.Kind, m.change.Finding, m.change.Pond = m.kind, p.finding, p.id
	if len(m.decides) > 0 {
		m.change.Decides = m.decides[0]
	}
	for i := range m.more {
		m.more[i].Finding, m.more[i].Pond = p.finding, p.id
	}
}

// altered applies mends together and runs the analysis on what comes of it.
func (d *designer) altered(mends []*mend) Option {
	a := taper.Alter(d.domain, d.base)
	z, inverts := d.moved(mends)
	o := Option{Possible: true, mends: mends}
	if len(mends) == 0 {
		return d.asFound(o)
	}
	a.Set(z)
	for _, m := range mends {
		if m.apply != nil && m.lowest(inverts) {
			m.apply(a)
		}
		o.addDecides(m.decides...)
		o.Changes = append(append(o.Changes, m.change), m.more...)
		o.questions = append(o.questions, m.questions...)
		if !slices.Contains(o.Parts, m.kind) {
			o.Parts = append(o.Parts, m.kind)
		}
	}
	if o.name(); o.Kind == Clear && !d.in.Steering.allows(Clear) {
		o.Kind = AsFound
	}
	o.Design = a.Design()
	o.Roof = setDown(o.Design.Roof(d.roof, d.s), inverts)
	for _, m := range mends {
		o.Roof.Outlets = append(o.Roof.Outlets, m.adds...)
	}
	d.judge(&o, 0)
	o.openings()
	d.open(&o, mends)
	return o
}

// asFound is the roof as it was measured, when nothing is done to it.
func (d *designer) asFound(o Option) Option {
	if o.Kind = Clear; !d.in.Steering.allows(Clear) {
		o.Kind = AsFound
	}
	o.Roof, o.Design = d.in.Study.Roof, taper.Alter(d.domain, d.base).Design() // without the folds that were found: a check finds them again
	d.weigh(&o, d.in.Study, 0)
	return o
}

// moved returns the elevations of the vertices and the inverts, by index into roof.Outlets, that mends give together [m].
func (d *designer) moved(mends []*mend) (z []float64, inverts map[int]float64) {
	z, inverts = append([]float64(nil), d.base.Z...), map[int]float64{}
	for _, m := range mends {
		for v, h := range m.set {
			if m.section || math.Abs(h-d.base.Z[v]) > math.Abs(z[v]-d.base.Z[v]) {
				z[v] = h
			}
		}
		for i, h := range m.inverts {
			if w, ok := inverts[i]; !ok || h < w {
				inverts[i] = h
			}
		}
	}
	return z, inverts
}

// name calls an option by its parts.
func (o *Option) name() {
	switch len(o.Parts) {
	case 0:
		o.Kind = Clear
	case 1:
		o.Kind = o.Parts[0]
		o.Parts = nil
	default:
		o.Kind = Combined
	}
}

// lowest reports whether no other mend sets the same outlet lower.
func (m *mend) lowest(inverts map[int]float64) bool {
	for i, z := range m.inverts {
		if z > inverts[i] {
			return false
		}
	}
	return true
}

func (o *Option) addDecides(who ...string) {
	for _, w := range who {
		if w != "" && !slices.Contains(o.Decides, w) {
			o.Decides = append(o.Decides, w)
		}
	}
}

// channel cuts a channel of half boards from the pond's low places straight to its outlet.
func (d *designer) channel(p *pond) (mend, bool) {
	if p.outlet < 0 {
		return mend{}, false
	}
	m := mend{kind: Retaper, decides: []string{finding.Roofer}}
	var patches []taper.Patch
	var cuts []channelCut
	for i, q := range p.pits[:min(len(p.pits), 4)] {
		c, sides, ok := d.cut(p, q, p.lows[i])
		if !ok {
			if i == 0 {
				return mend{}, false
			}
			continue
		}
		patches = append(patches, sides...)
		cuts = append(cuts, c)
		m.area += lineLength(c.line)
	}
	if len(patches) == 0 {
		return mend{}, false
	}
	m.change = d.channelled(p, cuts)
	m.apply = func(a *taper.Alteration) { a.Lower(patches...) }
	return m, true
}

// channelCut is one channel: its line and its fall.
type channelCut struct {
	line orb.LineString
	fall float64
}

// channelled says in one change what all channels of a pond are.
func (d *designer) channelled(p *pond, cuts []channelCut) Change {
	label := d.s.Outlets[p.outlet].Label
	c := Change{At: cuts[0].line[0], Line: cuts[0].line, Brief: "cut channels to the outlet"}
	long, flat := 0.0, math.Inf(1)
	for i, k := range cuts {
		if i > 0 {
			c.More = append(c.More, k.line)
		}
		long, flat = math.Max(long, lineLength(k.line)), math.Min(flat, k.fall)
	}
	if len(cuts) == 1 {
		c.What = finding.Say("Cut a channel of half boards from "+p.id+" to {3}, {0} long, falling at {1}, with sides at {2}",
			finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", channelSide), finding.Called(label))
		return c
	}
	c.What = finding.Say("Cut {0} channels of half boards from "+p.id+" to {4}, {1} long at most, falling at {2} or more, with sides at {3}",
		finding.Number("channels", len(cuts)), finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", channelSide), finding.Called(label))
	return c
}

// cut returns the channel from a low place q at elevation z to the outlet of p; ok is false where it would fall too little or no straight way leads there.
func (d *designer) cut(p *pond, q orb.Point, z float64) (c channelCut, sides []taper.Patch, ok bool) {
	o := &d.s.Outlets[p.outlet]
	end, stop := o.Plan, o.Invert
	if o.Line != nil {
		end = vector.Nearest(o.Line, q)
		if h, on := d.locate.HeightAt(end[0], end[1]); on {
			stop = h
		}
	}
	l := lineLength(orb.LineString{q, end})
	if l < 0.1 || !d.domain.Sees(q, end) {
		return c, nil, false
	}
	fall := (z - stop) / l
	if fall < d.in.Study.Criteria.MinValleySlope {
		return c, nil, false
	}
	fall = math.Min(fall, d.slope)
	return channelCut{orb.LineString{q, end}, fall}, trench(q, end, z, fall), true
}

// channelSide is the slope of a channel's sides: that of a sump's.
const channelSide = 1.0 / 24

// trench returns the two sides of a channel from a, at elevation z, to b: it falls towards b and its sides rise at 1/2 in per ft.
func trench(a, b orb.Point, z, fall float64) []taper.Patch {
	const wide = 1.2 // as far as sides may reach: a board [m]
	v := orb.Point{b[0] - a[0], b[1] - a[1]}
	l := vector.Norm(v[0], v[1])
	u := orb.Point{v[0] / l, v[1] / l}
	n := orb.Point{-u[1] * wide, u[0] * wide}
	m := channelSide / wide
	left := []orb.Point{a, b, {b[0] + n[0], b[1] + n[1]}, {a[0] + n[0], a[1] + n[1]}}
	right := []orb.Point{b, a, {a[0] - n[0], a[1] - n[1]}, {b[0] - n[0], b[1] - n[1]}}
	return []taper.Patch{
		{On: left, Plan: a, Z: z, DX: -float64(fall*u[0]) + float64(m*n[0]), DY: -float64(fall*u[1]) + float64(m*n[1])},
		{On: right, Plan: a, Z: z, DX: -float64(fall*u[0]) - float64(m*n[0]), DY: -float64(fall*u[1]) - float64(m*n[1])},
	}
}

func lineLength(line orb.LineString) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Sqrt(near2(line[i-1], line[i]))
	}
	return sum
}
