package correction

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/correction/mend"
	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// weighed is a level roof of 10 by 10 m, 3 m up, with spots at (3, 5) and (7, 5), and what makes designs for it.
func weighed(t *testing.T) *designer {
	t.Helper()
	r := shape.New("level", shape.At(0, 0, 3), shape.At(10, 0, 3), shape.At(10, 10, 3), shape.At(0, 10, 3))
	shape.Spot(r, 3, 5, 3)
	shape.Spot(r, 7, 5, 3)
	o := shape.Drain(r, 5, 2, 0.3)
	o.Invert, o.HasInvert = 3, true
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := newDesigner(&Input{Study: s, Deck: func(orb.Point) (float64, float64, bool) { return 2.92, 0.001, true }})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// moved is the design in which the spot at (3, 5) goes up and that at (7, 5) down.
func moved(d *designer, up, down float64) *taper.Design {
	a := taper.Alter(d.Domain, d.Base)
	z := append([]float64(nil), d.Base.Z...)
	for v := range z {
		switch (orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]}) {
		case orb.Point{3, 5}:
			z[v] += up
		case orb.Point{7, 5}:
			z[v] -= down
		}
	}
	a.Set(z)
	return a.Design()
}

// told is what cores tell: R 2 where the roof is 50 mm thick, the thinnest, and 40 more for each metre; 60 mm on average.
func told() *assembly.Result {
	a := &assembly.Result{}
	a.R.Known, a.R.LeastR, a.R.Least, a.R.PerMetre, a.R.Mean, a.R.Share = true, 2, 0.05, 40, 0.06, 1
	return a
}

// TestRested, by hand: 2 + 40 x 0.03 = 3.2 at 80 mm, 2 - 40 x 0.03 = 0.8 at 20 mm, none where nothing is.
func TestRested(t *testing.T) {
	for thick, want := range map[float64]float64{0.05: 2, 0.08: 3.2, 0.02: 0.8, -1: 0} {
		mendtest.About(t, "R", told().R.At(thick), want)
	}
}

// TestResistanceBeforeAndAfter, by hand: over a deck 80 mm down R is 3.2 everywhere. Where 50 mm are laid on it the new boards' share comes on top, where 30 mm are cut off R is 2, 1.2 less, and that
// is the least. On average 0.5 m3 are laid and 0.25 m3 cut on 100 m2: 2.4, the R of the mean, with a hundredth of 0.5 of the boards and less 0.01 x 0.25 x 40. Laid on the deck the boards stand
// alone: 50 mm of them at the cut, and 0.5 m3 on 100 m2.
func TestResistanceBeforeAndAfter(t *testing.T) {
	d := weighed(t)
	foam := d.Foam.PerMetre
	o := &Option{Kind: mend.Fill, Design: moved(d, 0.05, 0.03), Fill: 0.5, Cut: 0.25}
	d.least2(o, told())
	d.average(o, told())
	mendtest.About(t, "least before", o.R.LeastBefore, 3.2)
	mendtest.About(t, "least after", o.R.LeastAfter, 2)
	mendtest.About(t, "lost", o.R.Lost, 1.2)
	if o.R.At != (orb.Point{7, 5}) {
		t.Errorf("lost at %v", o.R.At)
	}
	mendtest.About(t, "average before", o.R.AverageBefore, 2.4)
	mendtest.About(t, "average after", o.R.AverageAfter, 2.4+0.005*foam-0.1)
	o = &Option{Kind: mend.Replace, Design: moved(d, 0.05, 0.03), Fill: 0.5, Cut: 0.25}
	d.least2(o, told())
	d.average(o, told())
	mendtest.About(t, "least after on the deck", o.R.LeastAfter, 0.05*foam)
	mendtest.About(t, "average after on the deck", o.R.AverageAfter, 0.005*foam)
	o = &Option{Kind: mend.Fill, Design: moved(d, 0.05, 0), Fill: 0.5}
	d.least2(o, told())
	mendtest.About(t, "least after a fill", o.R.LeastAfter, 3.2)
	mendtest.About(t, "lost by a fill", o.R.Lost, 0)
}

// TestResistanceIsToldOrAsked: a cut is flagged where cores tell of the whole roof, and asked where they tell of less than 999 of 1,000 parts, or there are none; a fill is neither.
func TestResistanceIsToldOrAsked(t *testing.T) {
	for _, c := range []struct {
		name          string
		cores         int
		share, up, dn float64
		cut           float64
		flagged, ask  bool
	}{
		{"cut", 3, 1, 0, 0.03, 0.1, true, false},
		{"fill", 3, 1, 0.05, 0, 0, false, false},
		{"cut, part of the roof known", 3, 0.998, 0, 0.03, 0.1, false, true},
		{"cut, just enough of the roof known", 3, 0.999, 0, 0.03, 0.1, true, false},
		{"cut, no cores", 0, 1, 0, 0.03, 0.1, false, true},
		{"fill, no cores", 0, 1, 0.05, 0, 0, false, false},
	} {
		d := weighed(t)
		d.Study.Assembly = told()
		d.Study.Assembly.R.Share = c.share
		d.Roof.Cores = make([]roof.Core, c.cores)
		o := &Option{Kind: mend.Fill, Design: moved(d, c.up, c.dn), Cut: c.cut}
		d.resistance(o)
		if got := limited(o.Flags, "thermal resistance is reduced"); got != c.flagged || slices.Contains(o.Decides, "energy authority") != c.flagged {
			t.Errorf("%s: flagged %t, %v", c.name, got, o.Decides)
		}
		if got := limited(o.Unknown, Resisting); got != c.ask || o.R.Known == (c.ask || c.cores == 0) {
			t.Errorf("%s: asked %t, known %t", c.name, got, o.R.Known)
		}
	}
}

// TestResistanceAskedFor: a fill of 5 mm leaves 2.4 + 0.005 foam - 0.1 on average, as above; a cut alone 2.3 or so. Asked for 2 nothing is flagged, though the cut takes some away; asked for 4
// both fall short.
func TestResistanceAskedFor(t *testing.T) {
	for _, c := range []struct {
		asked float64
		short bool
	}{{2, false}, {4, true}} {
		d := weighed(t)
		d.Study.Assembly = told()
		d.Roof.Cores = make([]roof.Core, 3)
		d.Roof.Answers = []roof.Answer{{Question: string(roof.AskResistance), Amount: c.asked, By: "D. Person", On: "2026-12-02"}}
		o := &Option{Kind: mend.Fill, Design: moved(d, 0, 0.03), Cut: 0.1}
		d.resistance(o)
		if limited(o.Flags, ResistanceShort) != c.short || limited(o.Flags, ResistanceReduced) {
			t.Errorf("asked for %v, %v left: %+v", c.asked, o.R.AverageAfter, o.Flags)
		}
	}
}

func limited(list []Limit, name string) bool {
	return slices.ContainsFunc(list, func(l Limit) bool { return l.Name == name })
}

// TestLeftUnderACut: of 80 mm a cut of 30 mm leaves 50, one of 60 leaves 20; at least DeckThickness (1 in) has to be left, or what the user asks for. Where the deck is not known it is asked. A cut of half a
// millimetre is none, and is held to the thickness of what is laid.
func TestLeftUnderACut(t *testing.T) {
	for _, c := range []struct {
		name        string
		cut, asked  float64
		deck        bool
		left        float64
		kept, known bool
	}{
		{"30 mm", 0.03, 0, true, 0.05, true, true},
		{"60 mm", 0.06, 0, true, 0.02, false, true},
		{"30 mm, 60 mm to be left", 0.03, 0.06, true, 0.05, false, true},
		{"30 mm, no deck", 0.03, 0, false, 0, false, false},
	} {
		d := weighed(t)
		d.Steering.Thickness = c.asked
		if !c.deck {
			d.Deck = nil
		}
		o := &Option{Kind: mend.LowerOutlet, Design: moved(d, 0, c.cut), Deepest: c.cut}
		d.depth(o, 0)
		if !c.known {
			if !limited(o.Unknown, leftUnderCut) || len(o.Limits)+len(o.Checked) > 0 {
				t.Errorf("%s: %+v", c.name, o)
			}
			mendtest.About(t, c.name, o.Unknown[0].Available.Value, c.cut)
			continue
		}
		list := o.Limits
		if c.kept {
			list = o.Checked
		}
		if !limited(list, leftUnderCut) || len(o.Unknown) > 0 || len(o.Limits)+len(o.Checked) != 1 {
			t.Fatalf("%s: broken %+v, kept %+v", c.name, o.Limits, o.Checked)
		}
		mendtest.About(t, c.name+", left", list[0].Available.Value, c.left)
		if list[0].At != (orb.Point{7, 5}) {
			t.Errorf("%s at %v", c.name, list[0].At)
		}
		need := standard.DeckThickness
		if c.asked > 0 {
			need = c.asked
		}
		mendtest.About(t, c.name+", required", list[0].Required.Value, need)
	}
	d := weighed(t)
	o := &Option{Kind: mend.Overlay, Design: moved(d, 0, 0.0005), Deepest: 0.0005}
	if d.depth(o, 0.013); !limited(o.Limits, "minimum thickness") {
		t.Errorf("%+v", o)
	}
}

// TestHighestAlongALine: the surface rises by 50 mm at (3, 5) and is level again at (7, 5) and at the border. Along y = 5 from x = 1 to 5 it rises most at 3; along x = 3 it does so at y = 5; along the border it does not.
func TestHighestAlongALine(t *testing.T) {
	d := weighed(t)
	o := &Option{Design: moved(d, 0.05, 0)}
	for _, c := range []struct {
		line orb.LineString
		at   orb.Point
		up   float64
	}{
		{orb.LineString{{1, 5}, {5, 5}}, orb.Point{3, 5}, 0.05},
		{orb.LineString{{3, 9}, {3, 5.25}}, orb.Point{3, 5.25}, 0.05 * 4.75 / 5},
		{orb.LineString{{3, 5}, {5, 5}}, orb.Point{3, 5}, 0.05},
	} {
		at, up := d.highest(o, c.line)
		if !(math.Abs(at[0]-c.at[0]) <= 0.26) || !(math.Abs(at[1]-c.at[1]) <= 0.26) || !(math.Abs(up-c.up) <= 0.006) {
			t.Errorf("%v: %g m at %v, want %g at %v", c.line, up, at, c.up, c.at)
		}
	}
	if _, up := d.highest(o, orb.LineString{{0, 0}, {10, 0}}); !(math.Abs(up) <= 1e-9) {
		t.Errorf("along the border %g m", up)
	}
}

// TestCountedFlat: level areas, planes under the criterion as found and valleys count at repair, not as notes; a plane that only new work must not have, and the valley of a pond, do not.
func TestCountedFlat(t *testing.T) {
	s := &study.Study{}
	s.Criteria.MinSlope = 1.0 / 96
	plane := func(required float64) finding.Finding {
		return finding.Finding{Kind: finding.PlaneFlat, Pond: -1, Severity: finding.Repair, Required: []finding.Quantity{finding.Fall("slope", required)}}
	}
	s.Findings = []finding.Finding{
		{Kind: finding.LevelArea, Pond: -1},
		plane(1. / 96), plane(1. / 48),
		{Kind: finding.PlaneFlat, Pond: -1, Severity: finding.Note, Required: []finding.Quantity{finding.Fall("slope", 1./96)}},
		{Kind: finding.ValleyFlat, Pond: -1, Severity: finding.Repair},
		{Kind: finding.CricketFlat, Pond: -1, Severity: finding.Repair},
		{Kind: finding.ValleyFlat, Pond: -1, Severity: finding.Note},
		{Kind: finding.ValleyFlat, Pond: 0, Severity: finding.Repair},
	}
	o := &Option{Study: s, FlatLeft: 7}
	if o.count(3); o.FlatLeft != 4 || o.PondsLeft != 3 {
		t.Errorf("%d flat, %d ponds, want 4 and 3", o.FlatLeft, o.PondsLeft)
	}
}

// TestLoadsAgainstFigures: 3 psf is the clause's figure for a second layer, 5 % the share of the user's load. Of a fill of 3 psf the first is kept, of more it is broken; 3 psf of 60 psf are 5 %, of 59 psf more.
func TestLoadsAgainstFigures(t *testing.T) {
	const psf = 47.88026
	for _, c := range []struct {
		most, gravity        float64
		second, share, asked bool
	}{
		{2.99, 60, true, true, false}, {3.01, 61, false, true, false}, {2.99, 59, true, false, false}, {2.99, 0, true, false, true},
	} {
		d := weighed(t)
		d.in.Gravity = c.gravity * psf
		o := &Option{Kind: mend.Overlay, Design: moved(d, 0.05, 0), Fill: 1, Most: c.most * psf}
		d.loads(o)
		if got := limited(o.Checked, "added load of a second layer"); got != c.second {
			t.Errorf("%+v: second layer kept %t", c, got)
		}
		if got := limited(o.Checked, GravityShare); got != c.share {
			t.Errorf("%+v: share kept %t", c, got)
		}
		if got := limited(o.Unknown, GravityShare); got != c.asked {
			t.Errorf("%+v: share asked %t", c, got)
		}
	}
}

// TestNotedFlatIsNotNew: a plane that was noted as flat and that reads as one to be repaired after a mend nearby is nothing new, unless it falls less by more than a thousandth, lies
// elsewhere or is of another kind.
func TestNotedFlatIsNotNew(t *testing.T) {
	box := func(x float64) orb.Bound { return orb.Bound{Min: orb.Point{x, 0}, Max: orb.Point{x + 4, 4}} }
	a := &state{notes: []found{{kind: finding.PlaneFlat, source: -1, slope: 0.0078, bound: box(0)}}}
	for _, c := range []struct {
		name string
		f    found
		want bool
	}{
		{"as flat", found{kind: finding.PlaneFlat, source: -1, slope: 0.0075, bound: box(1)}, true},
		{"flatter", found{kind: finding.PlaneFlat, source: -1, slope: 0.0060, bound: box(1)}, false},
		{"elsewhere", found{kind: finding.PlaneFlat, source: -1, slope: 0.0075, bound: box(9)}, false},
		{"a valley", found{kind: finding.ValleyFlat, source: -1, slope: 0.0075, bound: box(1)}, false},
		{"a pond", found{kind: finding.PlaneFlat, source: -1, slope: 0.0078, pond: true, depth: 0.02, bound: box(1)}, false},
	} {
		if got := a.knows(&c.f); got != c.want {
			t.Errorf("%s: known %t", c.name, got)
		}
	}
}

// TestWaterNearerToASill: water that comes to stand 10 mm nearer to a sill than before is worse, as is water near a sill where none was; 1 mm nearer is what a level does not tell.
func TestWaterNearerToASill(t *testing.T) {
	r := shape.New("sill", shape.At(0, 0, 0), shape.At(4, 0, 0), shape.At(4, 4, 0), shape.At(0, 4, 0))
	r.Sills = append(r.Sills, roof.Sill{Label: "door"})
	after := func(margin float64) *state {
		return &state{s: &study.Study{Roof: r, Cases: []inspection.Case{{Name: "every primary outlet blocked"}}, Sills: []inspection.SillWater{{Sill: 0, Case: 0, Margin: margin}}}}
	}
	was := &state{margins: map[[2]int]float64{{0, 0}: 0.050}}
	none := &state{margins: map[[2]int]float64{}}
	for _, c := range []struct {
		name   string
		before *state
		margin float64
		want   int
	}{{"10 mm nearer", was, 0.040, 1}, {"1 mm nearer", was, 0.049, 0}, {"farther", was, 0.060, 0}, {"none before", none, 0.050, 1}} {
		if got := c.before.nearerSills(after(c.margin)); len(got) != c.want || c.want > 0 && got[0].Where != "door" {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// What misses of new work: by hand a roof that falls on average as asked and is flat on a few nooks misses nothing; one that is flat on all
// the share of nooks and a tenth misses a tenth; one that falls at half the slope misses 0.98 less a half.
func TestWhatFallsMissOfNewWork(t *testing.T) {
	d := &designer{Designer: &mend.Designer{Slope: 0.02}}
	g := domain.FourWay(orb.Point{1, 0})
	for _, c := range []struct {
		f    falls
		want float64
	}{{falls{mean: 0.02, flat: mostNook / 2}, 0}, {falls{mean: 0.02, flat: mostNook + 0.1}, 0.1}, {falls{mean: 0.01}, 0.48}, {falls{mean: 0.01, flat: mostNook + 0.1}, 0.58}} {
		if got := d.missing(c.f, &g); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("%+v: misses %g, want %g", c.f, got, c.want)
		}
	}
	if got := d.fallsOver([]taper.Run{{Area: 3, Slope: 0.02}, {Area: 1, Slope: 0.01}}); !(math.Abs(got.mean-0.0175) <= 1e-12) || got.flat != 0.25 {
		t.Errorf("3 m2 at 2 %% and 1 m2 at 1 %%: %+v", got)
	}
}
