package answer

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/bounds"
	"runnel/analysis/flood"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/tape"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/taped"
)

// Place is a place in plan: x east, y north [m], from the origin of the picture's frame, to the millimetre.
type Place [2]float64

// Picture is what a screen shows of an answer: words as all outputs have them, and shapes in plan.
type Picture struct {
	Heading string  `json:"heading"`
	Tier    string  `json:"tier"`     // A, B or C
	Units   string  `json:"units"`    // us or si, of the results
	KeepOff bool    `json:"keep_off"` // people are to keep off the roof
	First   []Entry `json:"first"`    // the first screen

	Origin Place   `json:"origin"` // of the frame, in the coordinates of the outline's file
	Metres float64 `json:"metres"` // per unit of those coordinates; 0: they are degrees

	Outline [][]Place `json:"outline"` // outer ring, then holes
	Curbs   []Named   `json:"curbs"`
	Outlets []Outlet  `json:"outlets"`
	Spots   []Place   `json:"spots"`
	Water   []Band    `json:"water"`   // of the ponds, the shallowest first
	Blocked []Band    `json:"blocked"` // the water with every primary outlet blocked, under the rain stated; empty where none is
	Ponds   []Pond    `json:"ponds"`   // worst first
	Next    []Spot    `json:"next"`    // where to take a height next, in walking order

	Findings []Finding `json:"findings"` // what a photo may show

	Doubt []string `json:"doubt"` // what is not resolved, and what was not measured
}

// Entry is a word of the first screen with its paragraphs, and the steps before them.
type Entry struct {
	Word  string   `json:"word"`
	Texts []string `json:"texts"`
	Steps []string `json:"steps"`
	Start int      `json:"start,omitempty"` // the number of the first step; without it 1
}

// Finding is a finding in a few words.
type Finding struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// Named is a ring with its name.
type Named struct {
	Name string  `json:"name"`
	Ring []Place `json:"ring"`
}

// Outlet is an outlet at its place.
type Outlet struct {
	Label    string   `json:"label"`
	Type     string   `json:"type"` // drain, scupper, gutter, free
	Overflow bool     `json:"overflow"`
	At       Place    `json:"at"`
	Line     []Place  `json:"line,omitempty"`   // of an edge
	Source   int      `json:"source"`           // index among the roof's outlets, -1 for an edge
	Invert   *float64 `json:"invert,omitempty"` // the elevation at which it takes water [m]; left out where nobody knows it
}

// Band is the water of a class of depth.
type Band struct {
	Name     string    `json:"name"`     // of the class
	Strength float64   `json:"strength"` // 0 to 1: how much of the water's colour it takes
	Rings    [][]Place `json:"rings"`    // filled by the even-odd rule
}

// Pond is a pond in words, at its deepest place.
type Pond struct {
	ID     string `json:"id"`
	At     Place  `json:"at"`
	Depth  string `json:"depth"`
	Area   string `json:"area"`
	Volume string `json:"volume"`
	Weight string `json:"weight"`
	Load   string `json:"load"`
	Where  string `json:"where"`
	Held   string `json:"held"` // what holds it, where a finding says so
	Sure   string `json:"sure"` // how sure that is, empty where nobody judged it
}

// Spot is a place where a height is wanted.
type Spot struct {
	At    Place  `json:"at"`
	For   string `json:"for"`
	Where string `json:"where"`
	Why   string `json:"why"`
}

// Picture returns what a screen shows of a. Its lists are never null.
func (a *Answer) Picture() *Picture {
	p := Picture{
		First: []Entry{}, Outline: [][]Place{}, Curbs: []Named{}, Outlets: []Outlet{}, Spots: []Place{}, Water: []Band{}, Blocked: []Band{}, Ponds: []Pond{}, Next: []Spot{}, Findings: []Finding{}, Doubt: []string{},
	}
	switch {
	case a.taped != nil:
		a.tapedPicture(&p)
	case a.model != nil:
		a.studied(&p)
	default:
		a.seen(&p)
	}
	for i := range p.First {
		e := &p.First[i]
		e.Texts, e.Steps = append([]string{}, e.Texts...), append([]string{}, e.Steps...)
	}
	return &p
}

// surveyed fills in what a picture shows as soon as the water is known.
func (a *Answer) surveyed(p *Picture) {
	s := a.sight
	p.Tier, p.Units, p.Spots = "C", a.units.String(), spots(s.Roof.Spots)
	p.Water = append(p.Water, a.water(s.Surface.Cut, s.Ponds.Level, s.Ponds.Of, a.listed())...)
	p.roof(s.Roof)
	for i := range s.Surface.Outlets {
		p.outlet(&s.Surface.Outlets[i])
	}
}

// deepest is where a listed pond is deepest.
func (a *Answer) deepest(l *inspection.Listed) (vertex int, at Place) {
	pit := a.sight.Ponds.Ponds[l.Pond].Pits[0]
	return int(pit), place(orb.Point{a.sight.Surface.Cut.X[pit], a.sight.Surface.Cut.Y[pit]})
}

// seen fills in a picture of a surveyed roof before there are words. A pond that the spots barely show has a range for a depth, which comes with them.
func (a *Answer) seen(p *Picture) {
	a.surveyed(p)
	s := a.sight
	p.Heading = s.Roof.Name
	for i := range s.Listed {
		l := &s.Listed[i]
		pond := Pond{ID: l.ID}
		_, pond.At = a.deepest(l)
		if !bounds.Barely(s.Evidence, l.Pond) {
			pond.Depth = a.units.SayDepth(s.Ponds.Ponds[l.Pond].Depth)
		}
		p.Ponds = append(p.Ponds, pond)
	}
}

// studied fills in a picture of a surveyed roof.
func (a *Answer) studied(p *Picture) {
	a.surveyed(p)
	m, b, s := a.model, a.model.Book, a.sight
	p.Heading, p.KeepOff = m.Heading(), b.Off().Is()
	p.First = append(p.First, entries(m.First)...)
	if s.RainLoad != nil && s.Criteria.RainOverflow > 0 {
		p.Blocked = append(p.Blocked, bands(s.Surface.Cut, s.RainLoad.Level, b.Units)...)
	}
	for i := range s.Listed {
		pit, at := a.deepest(&s.Listed[i])
		pond := Pond{
			ID: s.Listed[i].ID, At: at, Depth: b.SayPondDepth(i), Area: b.SayPondArea(i), Volume: b.SayPondVolume(i),
			Weight: b.SayPondWeight(i), Load: b.SayPondLoad(i), Where: b.AtVertex(pit), Sure: b.SayPondConfidence(i),
		}
		if f := b.PondFinding(i); f != nil {
			pond.Held = b.Units.SayText(f.Why)
		}
		p.Ponds = append(p.Ponds, pond)
	}
	for i := range b.NextSpots {
		n := &b.NextSpots[i]
		p.Next = append(p.Next, Spot{place(n.Plan), n.For, b.Place(n.Plan), b.Units.SayText(n.Why)})
	}
	for i := range m.Findings {
		p.Findings = append(p.Findings, Finding{m.Findings[i].ID, m.Findings[i].What})
	}
	if text := b.Unresolved(); text != "" {
		p.Doubt = append(p.Doubt, text)
	}
	p.Doubt = append(p.Doubt, m.NotMeasured...)
}

func (a *Answer) listed() []bool {
	s := a.sight
	out := make([]bool, len(s.Ponds.Ponds))
	for i := range s.Listed {
		out[s.Listed[i].Pond] = true
	}
	return out
}

// water draws the ponds that are wanted, in the classes of depth of the plan. level and of are those of package ponding.
func (a *Answer) water(t *surface.TIN, level []float64, of []int32, wanted []bool) []Band {
	stands := make([]float64, len(t.Z))
	for v, z := range t.Z {
		stands[v] = z
		if of[v] >= 0 && wanted[of[v]] {
			stands[v] = level[v]
		}
	}
	return bands(t, stands, a.units)
}

// bands draws water that stands at a level over each vertex [m], in the classes of depth of the plan.
func bands(t *surface.TIN, level []float64, u record.Units) []Band {
	classes := record.DepthClasses(u)
	limits := make([]float64, len(classes))
	for i := range classes {
		limits[i] = classes[i].From
	}
	var out []Band
	for _, b := range flood.Bands(t, level, limits) {
		band := Band{}
		for _, c := range classes {
			if c.From <= b.From {
				band.Name, band.Strength = c.Name, c.Strength
			}
		}
		for _, polygon := range b.Outline {
			for _, ring := range polygon {
				band.Rings = append(band.Rings, places(ring))
			}
		}
		out = append(out, band)
	}
	return out
}

// roof adds the roof's own shapes.
func (p *Picture) roof(r *roof.Roof) {
	p.Origin, p.Metres = Place(r.Frame.Origin), r.Frame.Metres
	if r.Frame.Kind == roof.Geographic {
		p.Metres = 0
	}
	for _, ring := range r.Outline.Rings {
		p.Outline = append(p.Outline, places(roof.PlanOf(ring)))
	}
	for i := range r.Curbs {
		c := &r.Curbs[i]
		p.Curbs = append(p.Curbs, Named{c.Label, places(roof.PlanOf(c.Ring))})
	}
}

func (p *Picture) outlet(o *surface.Outlet) {
	out := Outlet{Label: o.Label, Type: record.OutletType(o), Overflow: o.Duty == roof.Overflow, At: place(o.Plan), Line: places(o.Line), Source: o.Source}
	if o.Type == roof.EdgeOutlet {
		out.Source = -1
	} else {
		invert := o.Invert
		out.Invert = &invert
	}
	p.Outlets = append(p.Outlets, out)
}

// tapedPicture fills in that of a roof measured with tape, chalk and ruler.
func (a *Answer) tapedPicture(p *Picture) {
	b := a.taped
	s, u := b.Survey, b.Units
	p.Heading, p.Tier, p.Units, p.KeepOff = s.Roof.Name+" (tier "+s.Tier.String()+")", s.Tier.String(), u.String(), s.KeepOff.Is()
	p.Spots = spots(s.Roof.Spots)
	p.roof(s.Roof)
	lead := b.Lead()
	add := func(word string, steps []string, text string) {
		if len(steps) > 0 || text != "" {
			one := Entry{Word: word, Steps: steps}
			if text != "" {
				one.Texts = []string{text}
			}
			p.First = append(p.First, one)
		}
	}
	add(lead.Word, nil, lead.Text)
	if lead.Word != "PONDS" && len(s.Ponds) > 0 {
		add("PONDS", nil, b.Ponds())
	}
	add("HELD BY", nil, b.Held())
	add("NEXT", b.Steps(), "")
	add("MEND", nil, b.Mend())
	add("SURVEY", nil, b.Measured())
	add("LIMIT", nil, taped.Limit)
	p.tapedOutlets(s)
	p.tapedPonds(b)
	for i := range s.Next {
		n := &s.Next[i]
		p.Next = append(p.Next, Spot{place(n.Plan), n.Code, b.Place(n), u.SayText(n.For)})
	}
	for i := range s.Findings {
		p.Findings = append(p.Findings, Finding{taped.FindingID(i), u.SayText(s.Findings[i].What)})
	}
	p.Doubt = []string{"It cannot tell: " + b.CannotSay(), b.NextTier()}
}

// tapedOutlets adds outlets and open edges.
func (p *Picture) tapedOutlets(s *tape.Survey) {
	for i := range s.Exits {
		e := &s.Exits[i]
		if e.Outlet < 0 {
			p.Outlets = append(p.Outlets, Outlet{Label: e.Name, Type: e.Edge.String(), Overflow: e.Duty == roof.Overflow, Line: places(e.Line), Source: -1})
			continue
		}
		o := &s.Roof.Outlets[e.Outlet]
		out := Outlet{Label: e.Name, Type: o.Type.String(), Overflow: o.Duty == roof.Overflow, At: place(o.Plan), Source: e.Outlet}
		if o.HasInvert {
			out.Invert = &o.Invert
		}
		p.Outlets = append(p.Outlets, out)
	}
}

// tapedPonds adds ponds, and their water as it was chalked.
func (p *Picture) tapedPonds(b *taped.Book) {
	s, u := b.Survey, b.Units
	chalk := Band{Name: "water as chalked", Strength: 0.35}
	for i := range s.Ponds {
		q := &s.Ponds[i]
		pond := Pond{ID: q.ID, At: place(q.At), Where: u.SayText(q.Where), Held: b.HeldBy(q)}
		if q.Water != nil {
			chalk.Rings = append(chalk.Rings, places(q.Bowl.Ring))
			pond.Area = u.SayArea(q.Bowl.Area)
		}
		if q.Depth > 0 {
			pond.Depth, pond.Load = u.SayDepth(q.Depth), u.SayPressure(q.Load)
			pond.Weight = u.SayMass(q.WeightLeast) + " to " + u.SayMass(q.WeightMost)
		}
		p.Ponds = append(p.Ponds, pond)
	}
	if len(chalk.Rings) > 0 {
		p.Water = []Band{chalk}
	}
}

func entries(all []model.Entry) (out []Entry) {
	for _, e := range all {
		out = append(out, Entry{e.Word, e.Texts, e.Steps, e.Start})
	}
	return out
}

func place(p orb.Point) Place {
	return Place{math.Round(p[0]*1000) / 1000, math.Round(p[1]*1000) / 1000}
}

func places[T ~[]orb.Point](line T) []Place {
	out := make([]Place, len(line))
	for i, p := range line {
		out[i] = place(p)
	}
	return out
}

func spots(all []roof.Spot) []Place {
	out := make([]Place, len(all))
	for i := range all {
		out[i] = place(all[i].Plan)
	}
	return out
}
