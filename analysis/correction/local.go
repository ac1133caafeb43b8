package correction

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
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
	scupper   bool       // the outlet that is set down is a scupper
	section   bool       // of a section: it comes last and its elevations hold
	stock     bool       // a section in stock boards
	fill      bool       // builds up without taking anything out
	sump      float64    // side of its sump, 0 none [m]
	area      float64    // about how much it opens, to choose within a rank [m2]
	volume    float64    // about how much is laid, likewise; 0: not told [m3]
	box       *orb.Bound // along and across the main edge; nil: not asked yet
}

// ways returns what may dry a pond, in the order of preference; within a rank the smaller first.
func (d *designer) ways(p *pond) []mend {
	var out []mend
	add := func(m mend, ok bool) {
		if ok && d.in.Steering.allows(m.kind) && !d.forbidden(&m) {
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
	switch {
	case p.finding == finding.EdgeHigh || p.has(finding.EdgeHigh):
		add(d.lowerEdge(p))
	case p.finding == finding.Step:
		add(d.thinned(p))
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
	for _, m := range d.onePlane(p) {
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

// onePlane are the tapers of one plane over a pond: up from the crest of a step or an arch, else from its lip.
func (d *designer) onePlane(p *pond) []mend {
	out := d.eased(p)
	if len(out) == 0 {
		out = d.wedges(p)
	}
	for i := range out {
		if m := &out[i]; m.area > standard.ToMeasure {
			m.questions = append(m.questions, p.cutToMeasure(m.area))
		}
	}
	return out
}

// cutToMeasure asks whether boards of one plane that are no stock can be had, where a crew does not cut so many.
func (p *pond) cutToMeasure(area float64) Question {
	return Question{
		Ask: finding.Say("Does the supplier cut tapered boards to measure, for {0} at "+p.id+"?", finding.Plan("area", area)), Where: "at " + p.id, At: p.pit, Decides: finding.Roofer,
		If: finding.Say("They are cut to measure"), Then: finding.Say("Lay them; else: re-taper the section in stock boards"),
	}
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
	return choose.If(slices.Contains(m.decides, finding.Plumber), len(m.decides)+1, len(m.decides))
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

func lineLength(line orb.LineString) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Sqrt(near2(line[i-1], line[i]))
	}
	return sum
}
