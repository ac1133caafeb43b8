package record

import (
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// Book writes the properties of one study's results in one set of units.
type Book struct {
	Study *study.Study
	Names *Names
	Units Units
	Run   Run // that writes the files; empty where none are written

	Area      float64      // net roof area, rounded as written [m2]
	Undrained float64      // rounded so that Full and Undrained add up to Area
	Full      []float64    // areas of Study.Catchments.Full, rounded likewise
	Proposed  bool         // the roof is a design, not a survey: every sheet says so
	Found     *study.Study // the roof as it stands, where Study is a design; else nil: who goes up there goes onto this one
	Waters    []Water      // states of the water in bands of depth, under a storm or the stated rain
	Dry       []float64    // areas of Study.Catchments.Dry, rounded to add up to Area
	NextCores []NextCore   // where to cut next; none on a roof without cores
	NextSpots []NextSpot   // where to shoot next, in walking order

	catchment, direct []float64 // per outlet: area with ponds full, and dry [m2]
	full, dry         []Travel  // per outlet
}

// Travel is how far water travels to an outlet: the longest way, and the mean by area [m].
type Travel struct{ Longest, Mean float64 }

// NewBook prepares the properties of s. roofID is the roof's short id; empty means RoofID of its name.
func NewBook(s *study.Study, roofID string, units Units) *Book {
	n := len(s.Surface.Outlets)
	b := &Book{Study: s, Names: NewNames(s, roofID), Units: units}
	b.catchment, b.direct = make([]float64, n), make([]float64, n)
	b.full, b.dry = make([]Travel, n), make([]Travel, n)
	b.Area = units.Rounded([]float64{s.Surface.Area}, s.Surface.Area)[0]

	full := make([]float64, 0, len(s.Catchments.Full)+1)
	for i := range s.Catchments.Full {
		full = append(full, s.Catchments.Full[i].Area)
	}
	full = units.Rounded(append(full, s.Catchments.Undrained), s.Surface.Area)
	b.Full, b.Undrained = full[:len(full)-1], full[len(full)-1]

	dry := make([]float64, len(s.Catchments.Dry))
	for i := range dry {
		dry[i] = s.Catchments.Dry[i].Area
	}
	b.Dry = units.Rounded(dry, s.Surface.Area)
	for i := range s.Catchments.Full {
		if c := &s.Catchments.Full[i]; c.Outlet >= 0 {
			b.catchment[c.Outlet] += b.Full[i]
			b.full[c.Outlet] = Travel{c.TravelMax, c.TravelMean}
		}
	}
	for i := range s.Catchments.Dry {
		if c := &s.Catchments.Dry[i]; c.Outlet >= 0 {
			b.direct[c.Outlet] += b.Dry[i]
			b.dry[c.Outlet] = Travel{c.TravelMax, c.TravelMean}
		}
	}
	b.Waters = b.waters()
	b.NextCores = b.nextCores()
	b.NextSpots = b.nextSpots()
	return b
}

// Catchment returns the area that outlet i takes with ponds full [m2].
func (b *Book) Catchment(i int) float64 { return b.catchment[i] }

// Direct returns the area that runs to outlet i before any low place overflows [m2].
func (b *Book) Direct(i int) float64 { return b.direct[i] }

// Travel returns how far water travels to outlet i with ponds full.
func (b *Book) Travel(i int) Travel { return b.full[i] }

// DirectTravel returns how far water travels to outlet i before any low place overflows.
func (b *Book) DirectTravel(i int) Travel { return b.dry[i] }

// Pond adds the properties of listed pond i (index into Study.Listed).
func (b *Book) Pond(o *Object, i int) {
	l := &b.Study.Listed[i]
	p := &b.Study.Ponds.Ponds[l.Pond]
	u := b.Units
	if !b.Barely(i) {
		u.Depth(o, "depth", p.Depth)
		u.Area(o, "area", p.Area)
		u.Volume(o, "volume", p.Volume)
		u.Mass(o, "weight", l.Weight)
		u.Pressure(o, "load", l.Load)
	}
	b.addPondBounds(o, i)
	u.Length(o, "level", p.Level)
	o.Text("where", string(l.Place))
	switch {
	case p.HeldBy >= 0:
		o.Text("held_by", b.Names.Outlets[p.HeldBy])
	case p.Lip >= 0:
		o.Text("held_by", b.Names.Lip(int(l.Pond)))
	}
	o.Text("spills_to", b.Names.End(p.ToOutlet, p.ToPond))
	v := b.Study.Evidence.Ponds[l.Pond]
	o.Number("evidence", v.Evidence, 1)
	o.Text("confidence", b.Study.Confidence(i).String())
	if i < len(b.Study.Causes) && len(b.Study.Causes[i].Causes) > 0 {
		causes := make([]string, 0, len(b.Study.Causes[i].Causes))
		for _, c := range b.Study.Causes[i].Causes {
			causes = append(causes, string(c.Kind))
		}
		o.Texts("causes", causes)
	}
}

// Outlet adds the properties of outlet i.
func (b *Book) Outlet(o *Object, i int) {
	out := &b.Study.Surface.Outlets[i]
	u := b.Units
	o.Text("label", out.Label)
	o.Text("type", OutletType(out))
	o.Text("duty", out.Duty.String())
	u.Length(o, "invert", b.Invert(out))
	o.Flag("invert_assumed", out.InvertAssumed)
	u.Area(o, "catchment", b.catchment[i])
	if c := b.Study.Bounds; c != nil && c.Catchments != nil {
		areaUnit.addRange(o, u, "catchment", c.Catchments[i])
	}
	if b.catchment[i] > 0 {
		u.Length(o, "travel_max", b.full[i].Longest)
		u.Length(o, "travel_mean", b.full[i].Mean)
	}
	u.Area(o, "direct", b.direct[i])
	if b.direct[i] > 0 {
		u.Length(o, "direct_travel_max", b.dry[i].Longest)
		u.Length(o, "direct_travel_mean", b.dry[i].Mean)
	}
	b.capacity(o, i)
}

// Invert returns the invert of an outlet as it was stated, else as it was assumed [m].
func (b *Book) Invert(out *surface.Outlet) float64 {
	if out.Source >= 0 && b.Study.Roof.Outlets[out.Source].HasInvert {
		return b.Study.Roof.Outlets[out.Source].Invert
	}
	return out.Invert
}

// Share adds the properties of share i: what one of several outlets takes that hold a pond together.
func (b *Book) Share(o *Object, i int) {
	s := &b.Study.Catchments.Shares[i]
	o.Text("pond", b.Names.Ponds[s.Pond])
	o.Text("outlet", b.Names.Outlets[s.Outlet])
	b.Units.Area(o, "area", s.Area)
	o.Share("share", s.Part)
}

// OutletType returns the word for what kind of outlet o is: drain, scupper, gutter or free.
func OutletType(o *surface.Outlet) string {
	if word := o.Type.String(); word != "" {
		return word
	}
	return o.Edge.String()
}
