package mend

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// Mend is a local change for one pond.
type Mend struct {
	Kind      Kind
	Set       map[int32]float64         // new elevations of the survey's vertices [m]
	Apply     func(a *taper.Alteration) // lays planes; nil: none
	Inverts   map[int]float64           // new ones, by index into roof.Outlets [m]
	Adds      []roof.Outlet             // new outlets
	Change    Change
	More      []Change // further ones of the same mend
	Decides   []string
	Questions []Question
	scupper   bool       // the outlet that is set down is a scupper
	Section   bool       // of a section: it comes last and its elevations hold
	Stock     bool       // a section in stock boards
	Fill      bool       // builds up without taking anything out
	Sump      float64    // side of its sump, 0 none [m]
	Area      float64    // about how much it opens, to choose within a rank [m2]
	Volume    float64    // about how much is laid, likewise; 0: not told [m3]
	box       *orb.Bound // along and across the main edge; nil: not asked yet
}

// Shallow reports whether a mend takes off only what lies on the insulation, or wood at an edge.
func (m *Mend) Shallow() bool { return m.comesOff() || m.Kind == LowerEdge }

// comesOff reports whether a mend takes a rise off.
func (m *Mend) comesOff() bool {
	return m.Kind == LowerRise || m.Kind == MoveObstacle || m.Kind == Resecure
}

// Ways returns what may dry a pond, in the order of preference; within a rank the smaller first.
func (d *Designer) Ways(p *Pond) []Mend {
	var out []Mend
	add := func(m Mend, ok bool) {
		if ok && d.Steering.Allows(m.Kind) && !d.forbidden(&m) {
			if p.Finding == finding.Camber && (m.Fill || m.Kind == Retaper) {
				d.arched(&m, p)
			}
			d.Book(&m, p)
			out = append(out, m)
		}
	}
	hurt, sag := d.Damaged(p) != nil, p.Finding == finding.LevelArea || p.Sags
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
func (d *Designer) forbidden(m *Mend) bool {
	for i := range m.Adds {
		if a := d.Study.Roof.AnsweredAt(roof.AskOpening, m.Adds[i].Plan, nil); a != nil && !a.Yes {
			return true
		}
	}
	return false
}

// lowered adds the ways that take down what holds a pond: a rise, an outlet, an edge.
func (d *Designer) lowered(p *Pond, add func(Mend, bool)) {
	if p.Finding == finding.RidgeLine {
		add(d.obstacle(p))
	}
	if !inTheRoof(p.Finding) {
		add(d.riseOff(p))
	}
	add(d.sump(p))
	if p.Finding == finding.OutletOnHigh {
		add(d.reached(p))
	}
	switch {
	case p.Finding == finding.EdgeHigh || p.has(finding.EdgeHigh):
		add(d.lowerEdge(p))
	case p.Finding == finding.Step:
		add(d.thinned(p))
	}
}

// built adds the ways that build up: crickets, saddles and small tapers; over what is hurt only those that make it good first.
func (d *Designer) built(p *Pond, hurt bool, add func(Mend, bool)) {
	if p.has(finding.CricketMissing) {
		add(d.cricketed(p, hurt))
	}
	if p.Finding != finding.EdgeHigh && p.Finding != finding.OutletHigh {
		add(d.Saddle(p))
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
		large = large || m.Area > standard.ToMeasure
		add(m, true)
	}
	for _, m := range d.fills(p) {
		small := m.Area <= standard.ToMeasure || p.size <= standard.WideFeather // of a small pond a coarse survey reads wider than it is built
		large = large || !small
		if !small {
			d.Unstocked(&m, "at "+p.ID, p.Pit, m.Area)
		}
		add(m, true)
	}
	if !large {
		return
	}
	for _, m := range d.Sectioned(p.ID, p.Pit, d.edgeOf(p), 1.02*d.Study.Criteria.MinSlope) {
		m.Questions = []Question{d.dryAndFirm(p)}
		add(m, true)
	}
}

// Unstocked leaves a build-up that follows the roof over more than a crew cuts to measure to an engineer: it comes after what is laid in stock boards.
func (d *Designer) Unstocked(m *Mend, where string, at orb.Point, area float64) {
	m.Kind, m.Decides = Retaper, append([]string{finding.Engineer}, m.Decides...)
	m.Questions = append([]Question{{
		Ask: finding.Say("No boards in stock fit between a cut line and the walls "+where+": may {0} be built up to measure, as the roof lies?", finding.Plan("area", area)), Where: where, At: at, Decides: finding.Engineer,
		If: finding.Say("The engineer says of what it is built and what it may weigh"), Then: finding.Say("Build it up, priced by volume. Not allowed: re-taper the whole roof in stock boards"),
	}}, m.Questions...)
}

// onePlane are the tapers of one plane over a pond: up from the crest of a step or an arch, else from its lip.
func (d *Designer) onePlane(p *Pond) []Mend {
	out := d.eased(p)
	if len(out) == 0 {
		out = d.wedges(p)
	}
	for i := range out {
		if m := &out[i]; m.Area > standard.ToMeasure {
			m.Questions = append(m.Questions, p.cutToMeasure(m.Area))
		}
	}
	return out
}

// cutToMeasure asks whether boards of one plane that are no stock can be had, where a crew does not cut so many.
func (p *Pond) cutToMeasure(area float64) Question {
	return Question{
		Ask: finding.Say("Does the supplier cut tapered boards to measure, for {0} at "+p.ID+"?", finding.Plan("area", area)), Where: "at " + p.ID, At: p.Pit, Decides: finding.Roofer,
		If: finding.Say("They are cut to measure"), Then: finding.Say("Lay them; else: re-taper the section in stock boards"),
	}
}

// edgeOf returns the corners of a pond's outline.
func (d *Designer) edgeOf(p *Pond) []orb.Point {
	out := append([]orb.Point(nil), p.pits...)
	for _, poly := range p.Place {
		out = append(out, poly[0]...)
	}
	return out
}

// arched asks an engineer before weight is laid along the support of a span that is arched.
func (d *Designer) arched(m *Mend, p *Pond) {
	m.Decides = append([]string{finding.Engineer}, m.Decides...)
	m.Questions = append([]Question{{
		Ask: finding.Say("How do the members lie at " + p.ID + ": is the deck sound, and may it carry what is laid along the low line? Find the supports from below, and take levels on the deck over them and at mid-span"), Where: "below " + p.ID, At: p.Pit, Decides: finding.Engineer, Asked: roof.AskDeck,
		If: finding.Say("The members are sound and the arch is as they were made"), Then: finding.Say("Build slope over the low line. Members that move or are bent: the engineer's"),
	}}, m.Questions...)
}

// inTheRoof reports whether what stands high is the roof itself, and no layer on it that could come off.
func inTheRoof(cause finding.Kind) bool {
	return cause == finding.EdgeHigh || cause == finding.OutletOnHigh || cause == finding.Step || cause == finding.Camber
}

// order sorts mends by preference; within a rank by what is opened, then by the trades that it takes and whether one works inside, then by volume.
func (d *Designer) order(list []Mend) {
	slices.SortStableFunc(list, func(a, b Mend) int {
		const alike, same = 0.01, 1e-4 // [m2], [m3]
		switch rank, effort := d.Steering.Rank(&a)-d.Steering.Rank(&b), a.effort()-b.effort(); {
		case rank != 0:
			return rank
		case math.Abs(a.Area-b.Area) > alike:
			return cmp.Compare(a.Area, b.Area)
		case effort != 0:
			return effort
		case math.Abs(a.Volume-b.Volume) > same:
			return cmp.Compare(a.Volume, b.Volume)
		}
		return 0
	})
}

// effort counts the trades of a mend, work inside the building as one more.
func (m *Mend) effort() int {
	return choose.If(slices.Contains(m.Decides, finding.Plumber), len(m.Decides)+1, len(m.Decides))
}

// Book names what a mend's changes are for.
func (d *Designer) Book(m *Mend, p *Pond) {
	m.Change.Kind, m.Change.Finding, m.Change.Pond = m.Kind, p.Finding, p.ID
	if len(m.Decides) > 0 {
		m.Change.Decides = m.Decides[0]
	}
	for i := range m.More {
		m.More[i].Finding, m.More[i].Pond = p.Finding, p.ID
	}
}

// volume returns about how much a set of raised vertices adds [m3].
func (d *Designer) volume(set map[int32]float64) float64 {
	t := d.Surface.TIN
	sum := 0.0
	up := func(v int32) float64 {
		if z, ok := set[v]; ok {
			return z - d.Base.Z[v]
		}
		return 0
	}
	for f := range t.Facets() {
		v := t.V[3*f : 3*f+3]
		h := up(v[0]) + up(v[1]) + up(v[2])
		if h == 0 {
			continue
		}
		p := func(k int) orb.Point { return orb.Point{t.X[v[k]], t.Y[v[k]]} }
		sum += math.Abs(vector.Turn(p(0), p(1), p(2))) / 2 * h / 3
	}
	return sum
}

// Lowest reports whether no other mend sets the same outlet lower.
func (m *Mend) Lowest(inverts map[int]float64) bool {
	for i, z := range m.Inverts {
		if z > inverts[i] {
			return false
		}
	}
	return true
}

// From returns how far a place is from the box round what a mend changes, along and across the main edge, squared [m2]; of places as near, the one nearer to its middle comes first.
func (d *Designer) From(m *Mend, q orb.Point) float64 {
	if m.box == nil {
		m.box = d.holding(nil, m.Change.At)
		t := d.Surface.TIN
		for v := range m.Set {
			m.box = d.holding(m.box, orb.Point{t.X[v], t.Y[v]})
		}
		for _, p := range m.Change.Line {
			m.box = d.holding(m.box, p)
		}
	}
	u := d.Turned(q)
	dx := math.Max(0, math.Max(m.box.Min[0]-u[0], u[0]-m.box.Max[0]))
	dy := math.Max(0, math.Max(m.box.Min[1]-u[1], u[1]-m.box.Max[1]))
	return float64(dx*dx) + float64(dy*dy) + 1e-6*vector.DistanceSquared(m.Change.At, q)
}

// Seen is the least change of the surface for which the membrane is opened [m]: less is left to it. What changes less counts as unchanged. Own choice.
const Seen = 0.002

// HalfBoard is the side of the squares in which opened membrane is counted: half a board [m].
const HalfBoard = standard.Board / 2
