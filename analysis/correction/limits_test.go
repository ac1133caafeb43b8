package correction_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

const psf = quantity.PoundPerSquareFoot

func limit(list []correction.Limit, name, where string) *correction.Limit {
	for i := range list {
		if l := &list[i]; l.Name == name && (where == "" || l.Where == where) {
			return l
		}
	}
	return nil
}

// gutter is a roof of 12 by 8 m whose two planes fall at 2 % to a line at y = 4 m between drains at x = 1 and x = 11 m; the line sags by 20 mm
// midway.
func gutter() *roof.Roof {
	h := func(x, y float64) float64 {
		return 0.02*math.Abs(y-4) + 0.004*(math.Abs(x-6)-5)*math.Max(0, 1-math.Abs(y-4))
	}
	r := shape.New("gutter", shape.At(0, 0, h(0, 0)), shape.At(12, 0, h(12, 0)), shape.At(12, 8, h(12, 8)), shape.At(0, 8, h(0, 8)))
	shape.Grid(r, 0, 0, 12, 8, 12, 8, h)
	for _, x := range []float64{1, 11} {
		o := shape.Drain(r, x, 4, 0.3)
		o.Invert, o.HasInvert = 0, true
	}
	return r
}

// TestSaddle: 10 m between drains on a field of 2 %: a valley 1.25 times 1/8 in per ft (1.302 %) needs sin(phi) = 0.65104, so the tip stands off
// 5*tan(phi) = 4.288 m, and at twice the field's rate it is 2*0.02*5*sin(phi) = 130.2 mm thick at the middle. By hand.
func TestSaddle(t *testing.T) {
	r := corrected(t, gutter(), correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.Cricket}}})
	o := option(t, r, mend.Cricket)
	if !o.Possible || o.PondsLeft != 0 {
		t.Fatalf("possible %t, %d ponds left: %s", o.Possible, o.PondsLeft, o.Why.Format)
	}
	near(t, "greatest", o.Greatest, 0.1302+0.020, 0.004) // over the sag
	z, ok := o.Design.Height(orb.Point{6, 4})
	if !ok {
		t.Fatal("no height at the middle")
	}
	near(t, "ridge", z, 0.1302, 0.004)
	for i := range o.Changes {
		if c := &o.Changes[i]; c.Kind == mend.Cricket {
			near(t, "length", c.What.Args[0].Value, 10, 1e-9)
			near(t, "width", c.What.Args[1].Value, 2*4.288, 0.3)
			near(t, "thickness that is told", c.What.Args[2].Value, o.Greatest, mend.Seen)
			return
		}
	}
	t.Errorf("no cricket among %+v", o.Changes)
}

// TestGravityLoad: 5.5 in of polyiso on the square: 5 % of the load against what is added; without the user's figure the limit is named.
func TestGravityLoad(t *testing.T) {
	foam, _ := standard.FindMaterial("polyiso")
	added := 5.5 * inch * foam.Weight
	for _, k := range []struct {
		gravity float64
		broken  bool
	}{{added/0.05 + psf, false}, {added/0.05 - psf, true}} {
		o := option(t, corrected(t, square(14*inch), correction.Input{Gravity: k.gravity}), mend.Overlay)
		l := limit(o.Checked, "added load as a share of the design gravity load", "")
		if k.broken {
			l = limit(o.Limits, "added load as a share of the design gravity load", "")
		}
		if l == nil || o.Meets == k.broken {
			t.Fatalf("%g Pa: limits %+v, meets %t", k.gravity, o.Limits, o.Meets)
		}
		near(t, "added", l.Available.Value, added, 1e-6*added)
		near(t, "figure", l.Required.Value, k.gravity/20, 1e-9) // International Existing Building Code, 2009, section 606.2: 5 %
	}
	o := option(t, corrected(t, square(14*inch), correction.Input{}), mend.Overlay)
	if limit(o.Unknown, "added load as a share of the design gravity load", "") == nil {
		t.Error("a load that nobody stated was passed")
	}
}

// cored is the square with nine cores of an even thickness of polyiso under a membrane of 1 psf.
func cored(thickness float64) *roof.Roof {
	r := square(14 * inch)
	for i := range 9 {
		c := roof.Core{Position: shape.At(2+4*float64(i%3), 2+4*float64(i/3), 0), Cutter: "hand"}
		c.ID = "K" + string(rune('1'+i))
		c.Layers = []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(thickness), Condition: "dry"}}
		r.Cores = append(r.Cores, c)
	}
	return r
}

// TestNetLoadAndResistance: a level deck 4 in down, replaced: 4 in come off everywhere, 1 in to 6 in go on (10/3 more on average), so the
// greatest net is 2 in and the average 1/3 in of the material's weight; R goes from 4 in to 1 in at the drain, which is flagged, and
// to 4-1/3 in on average. An overlay loses none. By hand.
func TestNetLoadAndResistance(t *testing.T) {
	foam, _ := standard.FindMaterial("polyiso")
	deck := func(orb.Point) (float64, float64, bool) { return -4 * inch, 0.003, true }
	r := corrected(t, cored(4*inch), correction.Input{Deck: deck, Steering: mend.Steering{Only: []mend.Kind{mend.Replace}}})
	o := option(t, r, mend.Replace)
	if !o.OffKnown || !o.R.Known {
		t.Fatalf("off %t, R %+v", o.OffKnown, o.R)
	}
	near(t, "off", o.Off, 4*inch*foam.Weight, 1e-6*o.Off)
	near(t, "net at most", o.Most, 2*inch*foam.Weight, 1e-3*o.Off)
	near(t, "net on average", o.Added, inch/3*foam.Weight, 1e-3*o.Off)
	near(t, "least after", o.R.LeastAfter, inch*foam.PerMetre, 1e-6)
	near(t, "average after", o.R.AverageAfter, 13*inch/3*foam.PerMetre, 1e-3)
	if f := limit(o.Flags, "thermal resistance is reduced", ""); f == nil || f.Decides != "energy authority" {
		t.Errorf("flags %+v", o.Flags)
	}
	o = option(t, corrected(t, cored(4*inch), correction.Input{Deck: deck}), mend.Overlay)
	if len(o.Flags) != 0 {
		t.Errorf("an overlay reduces: %+v", o.Flags)
	}
	near(t, "gain on average", o.R.AverageAfter-o.R.AverageBefore, 23*inch/6*foam.PerMetre, 1e-3)
	near(t, "gain at the thinnest", o.R.LeastAfter-o.R.LeastBefore, inch/2*foam.PerMetre, 1e-3)
}

// TestHeightsLeft: the overlay of the square rises 5.5 in at the middle of a wall, 0.5 in + 0.25 in per ft in the field. A door sill 12 in up keeps 6.5 in, a
// brick joint 14 in up 8.5 in, a curb of unknown height is named. By hand.
func TestHeightsLeft(t *testing.T) {
	r := square(14 * inch)
	a := 40 * foot
	for _, s := range []struct {
		label string
		kind  roof.SillKind
		z     float64
	}{{"door", roof.DoorSill, 12}, {"weep", roof.WallJoint, 14}} {
		p := roof.Sill{Position: shape.At(-0.05, a/2, s.z*inch), Kind: s.kind, Label: s.label} // in the wall
		p.ID = s.label
		r.Sills = append(r.Sills, p)
	}
	shape.Curb(r, shape.Bare(2, 2), shape.Bare(3, 2), shape.Bare(3, 3), shape.Bare(2, 3))
	r.Curbs[0].Label = "C1"
	o := option(t, corrected(t, r, correction.Input{}), mend.Overlay)
	l := limit(o.Limits, "flashing height", "door")
	if l == nil || l.Decides == "" || l.Source == "" {
		t.Fatalf("limits %+v", o.Limits)
	}
	near(t, "door", l.Available.Value/inch, 6.5, 1e-3)
	near(t, "asked for", l.Required.Value/inch, 8, 1e-9)
	near(t, "where", l.At[1], a/2, 1e-9)
	if l = limit(o.Checked, "flashing height", "weep"); l == nil {
		t.Fatalf("kept %+v", o.Checked)
	}
	near(t, "weep", l.Available.Value/inch, 8.5, 1e-3)
	if limit(o.Unknown, "flashing height", "C1") == nil {
		t.Error("a curb of no stated height was passed")
	}
}

// TestDeckDecides: where nobody knows the deck, a sump asks for the insulation left; with the deck known it is compared, and where too little
// is left under the cut the outlet is not set down.
func TestDeckDecides(t *testing.T) {
	asks := func(a *correction.Answer) bool {
		for i := range a.Questions {
			if a.Questions[i].Where == "D1" {
				return true
			}
		}
		return false
	}
	r := corrected(t, sunk(), correction.Input{})
	if r.Options[r.Answers[0].Option].Kind != mend.LowerOutlet || !asks(&r.Answers[0]) {
		t.Errorf("unknown deck: %s, questions %+v", r.Options[r.Answers[0].Option].Kind, r.Answers[0].Questions)
	}
	deep := func(orb.Point) (float64, float64, bool) { return -0.5, 0.003, true }
	if r = corrected(t, sunk(), correction.Input{Deck: deep}); r.Options[r.Answers[0].Option].Kind != mend.LowerOutlet || asks(&r.Answers[0]) {
		t.Errorf("deep deck: %s, questions %+v", r.Options[r.Answers[0].Option].Kind, r.Answers[0].Questions)
	}
	thin := func(orb.Point) (float64, float64, bool) { return -0.02, 0.003, true } // 20 mm; 25 mm are to be left
	r = corrected(t, sunk(), correction.Input{Deck: thin})
	if o := &r.Options[r.Answers[0].Option]; o.Kind == mend.LowerOutlet || o.Roof.Outlets[0].Invert < 0.03 {
		t.Errorf("thin: %s, invert %g", o.Kind, o.Roof.Outlets[0].Invert)
	}
}

// TestOverflowUnderTheBoards: an overflow drain that has to stay, 1 m from its drain and 2 in above it, is covered by boards that are 1/2 in thick at the drain and rise 1/4 in per ft: 12.7 + 20.8 mm
// leave it open by 17 mm; one that stands 1 in above it is covered, and that breaks the option. By hand.
func TestOverflowUnderTheBoards(t *testing.T) {
	for _, c := range []struct {
		above  float64
		broken bool
	}{{2 * inch, false}, {1 * inch, true}} {
		r := square(14 * inch)
		r.Outlets[1].Label, r.Outlets[1].Invert = "OD-1", c.above
		o := option(t, corrected(t, r, correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.Overlay}, Keep: []string{"OD-1"}}}), mend.Overlay)
		l, k := limit(o.Limits, "overflow above the new surface", "OD-1"), limit(o.Checked, "overflow above the new surface", "OD-1")
		if (l != nil) != c.broken || (k != nil) == c.broken {
			t.Errorf("%g m above the drain: broken %+v, kept %+v", c.above, l, k)
		}
		if k != nil && math.Abs(k.Available.Value-(c.above-0.5*inch-1.0/48)) > 0.004 {
			t.Errorf("stands %g m over the boards", k.Available.Value)
		}
	}
}

// TestCoveringsCounted: no re-cover where two or more coverings lie already (International Building Code, 2012, section 1510.3); of one, or where nobody
// counted, the limit is not broken.
func TestCoveringsCounted(t *testing.T) {
	for _, k := range []struct {
		coverings                int
		broken, kept, unanswered bool
	}{{0, false, false, true}, {1, false, true, false}, {2, true, false, false}, {3, true, false, false}} {
		r := cored(5.5 * inch)
		r.Visit.Coverings = k.coverings
		o := option(t, corrected(t, r, correction.Input{}), mend.Overlay)
		for _, list := range []struct {
			name string
			in   []correction.Limit
			want bool
		}{{"broken", o.Limits, k.broken}, {"kept", o.Checked, k.kept}, {"not known", o.Unknown, k.unanswered}} {
			if got := limit(list.in, correction.TwoRoofs, "") != nil; got != list.want {
				t.Errorf("%d coverings: %s %t", k.coverings, list.name, got)
			}
		}
	}
}

// TestTheOfficialAnswered: a yes takes the question away where nothing is known; a no breaks the limit on every roof; two coverings stay two.
func TestTheOfficialAnswered(t *testing.T) {
	const not = "covering again, which the building official did not allow"
	for _, k := range []struct {
		coverings    int
		said         string
		broken, kept bool
	}{{0, "yes", false, true}, {1, "yes", false, true}, {2, "yes", true, false}} {
		r := cored(5.5 * inch)
		r.Visit.Coverings = k.coverings
		r.Answers = []roof.Answer{{Question: string(roof.AskCover), Text: k.said, Yes: k.said == "yes", By: "C. Person", On: "2026-12-02"}}
		o := option(t, corrected(t, r, correction.Input{}), mend.Overlay)
		if limit(o.Limits, correction.TwoRoofs, "") != nil != k.broken || limit(o.Checked, correction.TwoRoofs, "") != nil != k.kept || limit(o.Unknown, correction.TwoRoofs, "") != nil {
			t.Errorf("%d coverings and a yes: %+v, checked %+v, unknown %+v", k.coverings, o.Limits, o.Checked, o.Unknown)
		}
	}
	r := cored(5.5 * inch)
	r.Visit.Coverings = 1
	r.Answers = []roof.Answer{{Question: string(roof.AskCover), Text: "no", By: "C. Person", On: "2026-12-02"}}
	if o := option(t, corrected(t, r, correction.Input{}), mend.Overlay); limit(o.Limits, not, "") == nil {
		t.Errorf("a no: %+v", o.Limits)
	}
}
