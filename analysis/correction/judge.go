package correction

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// judge runs the whole analysis on the option's roof, counts what is left, compares with the limits and with the roof as it was. thickness is the
// least that the design was asked for.
func (d *designer) judge(o *Option, thickness float64) {
	drawn := *written(o.Roof)
	o.Roof = &drawn
	o.Roof.Sigma = quantity.Length(d.Study.Errors.Typical) // a design is drawn on the survey and is no better
	d.Line.Ask()
	s, err := study.Run(o.Roof, d.options())
	if err != nil {
		d.Line.Ask()
		// One option that cannot be shown must not take the others away; it says so itself.
		*o = Option{Kind: o.Kind, Parts: o.Parts, Why: finding.Say("The analysis of the corrected roof failed, so nothing is known of it: {0}", finding.Called(err.Error()))}
		return
	}
	d.weigh(o, s, thickness)
}

// weigh compares an option whose roof has been analysed.
func (d *designer) weigh(o *Option, s *study.Study, thickness float64) {
	o.Study = s
	o.NewOutlets = newOutlets(d.found, o.Roof)
	o.count(len(d.standing(s)))
	o.Left = d.left(o.Study)
	if f := o.Design; f != nil {
		o.Fill, o.Cut, o.Area = f.Fill.Volume, f.Fill.Cut, f.Fill.Area
		if o.Area > 0 {
			o.Average = o.Fill / o.Area
		}
		o.Greatest, o.Deepest = math.Max(0, f.Fill.Thickest), math.Max(0, -f.Fill.Thinnest)
		if o.Area == 0 {
			o.Greatest, o.Deepest = 0, 0
		}
	}
	o.Added, o.Most = d.weights(o)
	d.limits(o, thickness)
	d.worse(o)
	o.Meets = o.PondsLeft == 0 && len(o.Worse) == 0 && len(o.Limits) == 0 && (len(o.mends) > 0 || o.FlatLeft == 0 || o.Gauge != "")
	d.finish(o)
}

// count counts what the check of the option's roof still finds: ponds, and planes under the criterion as found. Notes do not count: on
// planes between that and the criterion for new work, and on planes that the spots do not settle.
func (o *Option) count(ponds int) {
	o.PondsLeft, o.FlatLeft = ponds, 0
	for i := range o.Study.Findings {
		f := &o.Study.Findings[i]
		switch {
		case f.Kind == finding.LevelArea:
			o.FlatLeft++
		case f.Kind == finding.PlaneFlat && f.Severity >= finding.Repair && len(f.Required) > 0 && f.Required[0].Value <= o.Study.Criteria.MinSlope:
			o.FlatLeft++
		case f.Pond < 0 && f.Severity >= finding.Repair && (f.Kind == finding.ValleyFlat || f.Kind == finding.CricketFlat):
			o.FlatLeft++
		}
	}
}

// left returns the ids of the ponds in whose place, or within a step of it, a pond still stands.
func (d *designer) left(s *study.Study) []string {
	var out []string
	after := d.standing(s)
	for i := range d.Ponds {
		p := &d.Ponds[i]
	still:
		for _, k := range after {
			for _, v := range s.Ponds.Ponds[k].Pits {
				if p.Covers(placeOf(s, v)) {
					out = append(out, p.ID)
					break still
				}
			}
		}
	}
	return out
}

// standing returns the ponds of a corrected roof that count: those listed, and those that the error of the survey could make where the roof as found had
// none as deep in that place. What is designed is no error.
func (d *designer) standing(s *study.Study) []int32 {
	var out []int32
	listed := map[int32]bool{}
	for i := range s.Listed {
		listed[s.Listed[i].Pond] = true
	}
	for i := range s.Ponds.Ponds {
		p := &s.Ponds.Ponds[i]
		if listed[int32(i)] || inspection.IsListed(p, s.Criteria) && !d.had(placeOf(s, p.Pits[0]), p.Depth) {
			out = append(out, int32(i))
		}
	}
	return out
}

// had reports whether the roof as found has a low place as deep at or beside q that is no pond of it.
func (d *designer) had(q orb.Point, depth float64) bool {
	st := d.Study
	ponds := map[int32]bool{}
	for i := range st.Listed {
		ponds[st.Listed[i].Pond] = true
	}
	for i := range st.Ponds.Ponds {
		p := &st.Ponds.Ponds[i]
		if p.Depth < depth-deeper || ponds[int32(i)] || !inspection.IsListed(p, st.Criteria) {
			continue
		}
		for _, v := range p.Pits {
			if vector.DistanceSquared(placeOf(st, v), q) < beside*beside {
				return true
			}
		}
	}
	return false
}

// placeOf returns where vertex v of the surface with footprints stands.
func placeOf(s *study.Study, v int32) orb.Point {
	return orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]}
}

// limits compares the option with every limit and sorts the results into broken, kept and not known.
func (d *designer) limits(o *Option, thickness float64) {
	if o.Design == nil {
		return
	}
	d.flashings(o)
	d.overflows(o)
	d.loads(o)
	d.depth(o, thickness)
	d.overWet(o)
	if o.Kind == mend.Overlay {
		d.twoRoofs(o)
	}
}

// put sorts one comparison; more is better when least is set.
func (o *Option) put(l Limit, ok bool) {
	if ok {
		o.Checked = append(o.Checked, l)
	} else {
		o.Limits = append(o.Limits, l)
	}
}

// raise returns by how much the option raises the surface at p.
func (d *designer) raise(o *Option, p orb.Point) (float64, bool) {
	z, ok := o.Design.Height(p)
	old, on := d.Locate.HeightAt(p[0], p[1])
	return z - old, ok && on
}

// highest returns where along a line the surface rises most, looked at every half metre and at its points.
func (d *designer) highest(o *Option, line orb.LineString) (at orb.Point, up float64) {
	up = math.Inf(-1)
	look := func(p orb.Point) {
		if r, ok := d.raise(o, p); ok && r > up {
			at, up = p, r
		}
	}
	for i := 1; i < len(line); i++ {
		n := int(planar.Distance(line[i-1], line[i])/0.5) + 1
		for k := range n {
			t := float64(k) / float64(n)
			look(orb.Point{line[i-1][0] + float64(t*(line[i][0]-line[i-1][0])), line[i-1][1] + float64(t*(line[i][1]-line[i-1][1]))})
		}
		look(line[i])
	}
	return at, up
}

// leftUnderCut names the limit on what a cut leaves.
const leftUnderCut = "insulation left under the cut"

// depth compares what is left under cuts with the least thickness.
func (d *designer) depth(o *Option, thickness float64) {
	if len(o.mends) > 0 && !slices.ContainsFunc(o.mends, func(m *mend.Mend) bool { return !m.Shallow() }) {
		return // only what lies on the insulation comes off
	}
	if o.Deepest < mend.RaisedBy {
		if thickness > 0 {
			o.put(Limit{
				Name: "minimum thickness", Required: finding.MM("least", thickness), Available: finding.MM("thinnest", o.Design.Fill.Thinnest),
				Decides: "roofer", Source: standard.OverlayThicknessSource.Text,
			}, o.Design.Fill.Thinnest >= thickness-1e-5)
		}
		return
	}
	need := cmp.Or(d.Steering.Thickness, standard.DeckThickness)
	l := Limit{Name: leftUnderCut, Required: finding.MM("least", need), Decides: "roofer", Source: standard.DeckThicknessSource.Text}
	least, at, known := d.leastLeft(o)
	l.At = at
	if !known {
		l.Available = finding.MM("deepest cut", o.Deepest)
		o.Unknown = append(o.Unknown, l)
		return
	}
	l.Available = finding.MM("left", least)
	o.put(l, least >= need)
}

// leastLeft returns the least thickness that cuts leave over the deck [m] and where; known is false where the deck is not known
// under all of them.
func (d *designer) leastLeft(o *Option) (least float64, at orb.Point, known bool) {
	least, known = math.Inf(1), d.Deck != nil
	for _, f := range o.Design.Facets {
		if f.Existing || len(f.Polygon) == 0 || len(o.mends) > 0 && o.mends[d.owner(o.mends, f.Polygon.Bound().Center())].Shallow() {
			continue
		}
		for _, p := range f.Polygon[0] {
			z, _ := o.Design.Height(p)
			var deck float64
			ok := false
			if d.Deck != nil {
				deck, _, ok = d.Deck(p)
			}
			known = known && ok
			if old, on := d.Locate.HeightAt(p[0], p[1]); !on || old-z < mend.RaisedBy {
				continue
			}
			if ok && z-deck < least {
				least, at = z-deck, p
			}
		}
	}
	return least, at, known
}

// overWet breaks a limit where new work lies over wet or pressed insulation that stays, or over a sag.
func (d *designer) overWet(o *Option) {
	if o.Kind == mend.Replace {
		return
	}
	for i := range d.Roof.Cores {
		c := &d.Roof.Cores[i]
		if up, ok := d.raise(o, c.Plan); ok && up > mend.Seen && mend.LayerIs(c, "wet") && !o.replaces(d, c.Plan) {
			o.Limits = append(o.Limits, Limit{
				Name: "new work over wet insulation", Where: c.ID, At: c.Plan, Decides: finding.Roofer, Source: standard.TwoRoofsSource.Text,
			})
		}
	}
	for i := range d.Ponds {
		p := &d.Ponds[i]
		if up, ok := d.raise(o, p.Pit); p.Sags && ok && up > mend.Seen && !o.replaces(d, p.Pit) {
			o.Limits = append(o.Limits, Limit{
				Name: "new work over a sag", Where: p.ID, At: p.Pit, Decides: finding.Engineer, Source: "a deck that sags is looked at before weight is laid on it",
			})
		}
	}
}

// replaces reports whether one of the option's mends takes out the insulation at a place.
func (o *Option) replaces(d *designer, q orb.Point) bool {
	return slices.ContainsFunc(o.mends, func(m *mend.Mend) bool {
		return m.Kind == mend.ReplacePatch && d.From(m, q) < mend.CoreReach*mend.CoreReach
	})
}

// TwoRoofs names the limit on covering again.
const TwoRoofs = "re-cover over wet insulation or two coverings"

// twoRoofs says what the cores tell of covering again, and the coverings that were counted on the visit.
func (d *designer) twoRoofs(o *Option) {
	l := Limit{
		Name: TwoRoofs, Required: finding.Number("coverings at most", 1),
		Decides: "building official", Source: standard.TwoRoofsSource.Text,
	}
	coverings := d.Roof.Visit.Coverings
	answer := d.Roof.Answered(string(roof.AskCover))
	if answer != nil && !answer.Yes {
		o.Limits = append(o.Limits, Limit{Name: "covering again, which the building official did not allow", Decides: l.Decides, Source: answer.By + ", " + answer.On})
		return
	}
	if coverings >= standard.TwoRoofs {
		l.Available = finding.Number("coverings", coverings)
		o.Limits = append(o.Limits, l)
		return
	}
	if len(d.Roof.Cores) == 0 {
		o.allowed(l, answer)
		return
	}
	wet := 0
	for _, c := range d.Roof.Cores {
		for _, layer := range c.Layers {
			if layer.Condition == "wet" {
				wet++
				l.At, l.Where = c.Plan, c.ID
				break
			}
		}
	}
	l.Available = finding.Number("cores with wet layers", wet)
	if wet > 0 {
		o.Limits = append(o.Limits, l)
		return
	}
	if coverings > 0 {
		o.Checked = append(o.Checked, l)
		return
	}
	o.allowed(l, answer) // cores do not say how many coverings there are
}

// allowed sorts a limit of which nothing is known: checked where who decides allowed it, by name and day.
func (o *Option) allowed(l Limit, answer *roof.Answer) {
	if answer == nil {
		o.Unknown = append(o.Unknown, l)
		return
	}
	l.Source = "allowed by " + answer.By + ", " + answer.On + ". " + l.Source
	o.Checked = append(o.Checked, l)
}

// overflows compares inlets of overflows with the surface beside them.
func (d *designer) overflows(o *Option) {
	for i := range o.Study.Surface.Outlets {
		out := &o.Study.Surface.Outlets[i]
		if out.Duty != roof.Overflow || out.Source < 0 {
			continue
		}
		if up, ok := d.raise(o, out.Plan); !ok || math.Abs(up) < mend.RaisedBy {
			continue
		}
		l := Limit{
			Name: "overflow above the new surface", Required: finding.MM("least", 0), Available: finding.MM("inlet above the surface", out.Invert-out.Low),
			Where: out.Label, At: out.Plan, Decides: "plumber", Source: "an inlet below the surface is blocked; " + standard.LocalCode,
		}
		if out.InvertAssumed {
			o.Unknown = append(o.Unknown, l)
			continue
		}
		o.put(l, out.Invert > out.Low-mend.RaisedBy)
	}
}
