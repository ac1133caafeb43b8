package record

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
)

// NextCore is a place where a core would tell most, and why.
type NextCore struct {
	Plan orb.Point
	For  string // what it tells of, in words: a pond, a plane, the roof
	Why  finding.Text
}

// mostNext is how many cores are proposed for a region that more cannot settle.
const mostNext = 3

// nextCores gathers the places of cores to cut next, those of ponds first, each place once. A roof without cores has none:
// that they are missing is said by itself.
func (b *Book) nextCores() []NextCore {
	a := b.Study.Assembly
	if a == nil || len(a.Cores) == 0 {
		return nil
	}
	var all []NextCore
	add := func(n NextCore) {
		if !slices.ContainsFunc(all, func(m NextCore) bool { return m.Plan == n.Plan }) {
			all = append(all, n)
		}
	}
	for i := range a.Ponds {
		if p := &a.Ponds[i]; p.HasNext {
			add(NextCore{p.Next, "pond " + b.Study.Listed[i].ID, b.Study.KeepOff.Guard(p.NextWhy)})
		}
	}
	for i := range a.Regions {
		g := &a.Regions[i]
		n := g.More
		if n < 0 {
			n = mostNext
		}
		for _, at := range g.Next[:min(n, len(g.Next))] {
			add(NextCore{at, b.RegionName(g), b.Study.KeepOff.Guard(finding.Say("It tells most about whether structure or insulation slopes here.").And(finding.Say(assembly.Caution)))})
		}
	}
	return all
}

// RegionName names what the cores of a region were taken together over: "plane L02", "catchment of RD-1", "the roof".
func (b *Book) RegionName(g *assembly.Region) string {
	switch g.Kind {
	case assembly.OnPlane:
		return "plane " + b.Names.Local(b.Names.Plane(int(g.Index)))
	case assembly.OnCatchment:
		if o := b.Study.Catchments.Full[g.Index].Outlet; o >= 0 {
			return "catchment of " + b.Study.Surface.Outlets[o].Label
		}
		return "catchment without an outlet"
	case assembly.OnRoof:
	}
	return "the roof"
}

// regionID returns the id of what a region lies on.
func (b *Book) regionID(g *assembly.Region) string {
	switch g.Kind {
	case assembly.OnPlane:
		return b.Names.Plane(int(g.Index))
	case assembly.OnCatchment:
		c := &b.Study.Catchments.Full[g.Index]
		return b.Names.End(c.Outlet, c.Pond) + ".full"
	case assembly.OnRoof:
	}
	return b.Names.Roof
}

// Assembly adds what the cores say. There must be cores.
func (b *Book) Assembly(o *Object) {
	a := b.Study.Assembly
	o.Text("slope_is_in", slopeIsIn(a))
	objects(o, "regions", len(a.Regions), b.region)
	objects(o, "ponds", len(a.Ponds), b.pondCores)
	objects(o, "next_cores", len(b.NextCores), func(p *Object, i int) {
		p.Text("id", b.Names.NextCore(i))
		b.NextCore(p, i)
	})
	objects(o, "cores", len(a.Cores), func(p *Object, i int) {
		p.Text("id", b.Names.Input("core", a.Cores[i].ID))
		b.Core(p, i)
	})
	objects(o, "wet", len(a.Wet), func(p *Object, i int) {
		w := &a.Wet[i]
		p.Text("core", b.Names.Input("core", a.Cores[w.Core].ID))
		p.Int("layer", w.Layer+1)
		p.Text("material", w.Material)
		b.Units.Depth(p, "thickness", w.Thickness)
		p.Text("condition", w.Condition)
	})
	o.add("resistance", b.resistance)
	o.add("dead_load", b.deadLoad)
	objects(o, "unknown_materials", len(a.Unknown), func(p *Object, i int) {
		p.Text("material", a.Unknown[i].Material)
		p.Bool("r_unknown", a.Unknown[i].R)
		p.Bool("load_unknown", a.Unknown[i].Load)
	})
}

// slopeIsIn says in a word or two what makes the slope of the roof: that of every region whose cores tell, "mixed" where they
// differ, "not resolved" where none tells.
func slopeIsIn(a *assembly.Result) string {
	word := ""
	for i := range a.Regions {
		v := a.Regions[i].Verdict
		if v == assembly.NotResolved {
			continue
		}
		if w := Maker(v); word == "" {
			word = w
		} else if word != w {
			return "mixed"
		}
	}
	if word == "" {
		return Maker(assembly.NotResolved)
	}
	return word
}

// Maker says what makes the slope by a verdict.
func Maker(v assembly.Verdict) string {
	switch v {
	case assembly.StructureSlopes:
		return "the structure"
	case assembly.InsulationTapers:
		return "the insulation"
	case assembly.BothSlope:
		return "both"
	case assembly.TaperFights:
		return "both, against each other"
	case assembly.NothingSlopes:
		return "neither"
	case assembly.NotResolved:
	}
	return "not resolved"
}

func (b *Book) region(o *Object, i int) {
	g, u := &b.Study.Assembly.Regions[i], b.Units
	o.Text("of", g.Kind.String())
	o.Text("id", b.regionID(g))
	o.Text("verdict", g.Verdict.String())
	o.Texts("cores", b.coreIDs(g.Cores))
	o.Texts("used", b.coreIDs(g.Used))
	for _, k := range []struct {
		name string
		g    assembly.Gradient
	}{{"surface", g.Surface}, {"deck", g.Deck}, {"taper", g.Thickness}} {
		if k.g.Known {
			u.Slope(o, k.name+"_slope", k.g.Slope())
			u.Slope(o, k.name+"_slope_sigma", k.g.Sigma())
		}
	}
	if g.HasShare {
		o.Share("insulation_share", g.Share)
		o.Share("insulation_share_sigma", g.ShareSigma)
	}
	if len(g.Used) > 0 {
		u.Depth(o, "thickness", g.Mean)
		u.Depth(o, "thickness_spread", g.Spread)
	}
	o.Text("says", u.SayText(g.Sentence))
	o.Text("source", g.Source)
	o.Text("cannot_say", u.SayText(g.Cannot))
	if len(g.Next) > 0 && g.More > 0 {
		o.Int("more_cores", g.More)
	}
}

func (b *Book) pondCores(o *Object, i int) {
	p, u := &b.Study.Assembly.Ponds[i], b.Units
	o.Text("pond", b.Names.Ponds[p.Pond])
	o.Text("verdict", p.Cause.String())
	o.Flag("deck_soft", p.Soft)
	o.Texts("cores", b.coreIDs(p.Inside))
	if p.Compared {
		o.Texts("compared_with", b.coreIDs(p.Outside))
		u.Depth(o, "surface_lower", p.Drop)
		u.Depth(o, "deck_lower", p.DeckDrop)
		u.Depth(o, "thinner", p.Thinner)
		u.Depth(o, "sigma", p.Sigma)
	}
	o.Text("why", string(p.Why))
	o.Text("says", u.SayText(p.Sentence))
}

// Core adds what follows from core i: thickness, deck, resistance, load and flags.
func (b *Book) Core(o *Object, i int) {
	c, u := &b.Study.Assembly.Cores[i], b.Units
	u.Length(o, "surface", Where(c.HasSurface, c.Surface))
	if c.HasThickness {
		u.Depth(o, "thickness", c.Thickness)
		u.Depth(o, "thickness_sigma", c.Sigma)
	}
	if c.HasDeck {
		u.Length(o, "deck_level", c.Deck)
		u.Depth(o, "deck_level_sigma", c.DeckSigma)
	}
	u.R(o, "r", Where(c.RKnown, c.R))
	u.Pressure(o, "dead_load", Where(c.LoadKnown, c.Load))
	if c.Pond >= 0 {
		o.Text("pond", b.Names.Ponds[b.Study.Assembly.Ponds[c.Pond].Pond])
	}
	flags := gather.Each(c.Flags, func(f assembly.Flag) string { return string(f) })
	o.Text("flags", strings.Join(flags, "; "))
}

// NextCore adds where proposed core i lies and why.
func (b *Book) NextCore(o *Object, i int) {
	n := &b.NextCores[i]
	o.Text("for", n.For)
	o.Text("place", b.Place(n.Plan))
	o.Text("why", b.Units.SayText(n.Why))
}

func (b *Book) resistance(o *Object) {
	r, u := &b.Study.Assembly.R, b.Units
	o.Bool("known", r.Known)
	o.Text("missing", r.Why)
	u.R(o, "films_r", r.Films)
	o.Text("method", string(r.Chosen))
	if !r.Known {
		return
	}
	u.Area(o, "area", r.Area)
	o.Share("area_share", r.Share)
	u.Depth(o, "thickness_mean", r.Mean)
	u.Depth(o, "thickness_least", r.Least)
	u.Depth(o, "thickness_greatest", r.Greatest)
	u.R(o, "least_r", r.LeastR)
	u.R(o, "greatest_r", r.GreatestR)
	objects(o, "methods", len(r.Rows), func(p *Object, i int) {
		w := &r.Rows[i]
		p.Text("method", string(w.Method))
		p.Flag("chosen", w.Method == r.Chosen)
		if w.OK {
			u.R(p, "r", w.R)
			u.U(p, "u", w.U)
		}
		p.Text("not_because", w.Why)
		p.Text("meaning", w.Meaning)
		p.Text("source", w.Source)
	})
}

func (b *Book) deadLoad(o *Object) {
	l := &b.Study.Assembly.Load
	o.Bool("known", l.Known)
	o.Int("cores", l.Cores)
	b.Units.Pressure(o, "mean", l.Mean)
	b.Units.Pressure(o, "greatest", l.Greatest)
}

// coreIDs returns the ids of cores by their positions.
func (b *Book) coreIDs(of []int) []string {
	return gather.Each(of, func(i int) string { return b.Names.Input("core", b.Study.Assembly.Cores[i].ID) })
}

// add adds the object that fill makes.
func (o *Object) add(name string, fill func(*Object)) {
	var p Object
	fill(&p)
	o.Raw(name, p.Append(nil))
}

// objects adds a list of n objects, empty where there are none.
func objects(o *Object, name string, n int, fill func(p *Object, i int)) {
	list := make([]Object, n)
	for i := range list {
		fill(&list[i], i)
	}
	if n == 0 {
		o.Raw(name, []byte("[]"))
		return
	}
	o.Objects(name, list)
}
