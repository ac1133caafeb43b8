package correction

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// By hand: squares of 0.5 m from (1, 2), negative ones left of it and below; three in an L have 0.75 m2 and eight free sides of 0.5 m with a strip-in.
func TestSquaresOfASheet(t *testing.T) {
	s := &sheet{side: 0.5, origin: orb.Point{1, 2}, cells: map[[2]int]bool{{0, 0}: true, {1, 0}: true, {0, 1}: true}}
	for u, want := range map[orb.Point][2]int{{1.1, 2.1}: {0, 0}, {1.6, 2.4}: {1, 0}, {0.9, 2.1}: {-1, 0}, {1.2, 1.4}: {0, -2}, {1.5, 2.5}: {1, 1}} {
		if got := s.cell(u); got != want {
			t.Errorf("%v mendtest.Lies in %v, want %v", u, got, want)
		}
	}
	if got := s.within([2]int{2, -1}, 0.5, 0.25); got != (orb.Point{2.25, 1.625}) {
		t.Errorf("%v", got)
	}
	if got, want := s.area(), 0.75+8*0.5*standard.StripIn; !(math.Abs(got-want) <= 1e-12) {
		t.Errorf("%g m2, want %g", got, want)
	}
	if got := (&sheet{side: 0.5}).area(); got != 0 {
		t.Errorf("nothing has %g m2", got)
	}
}

// By hand, the border of those three squares: six straight runs, each once, those along the main edge first.
func TestBorderOfASheet(t *testing.T) {
	s := &sheet{side: 0.5, origin: orb.Point{1, 2}, cells: map[[2]int]bool{{0, 0}: true, {1, 0}: true, {0, 1}: true}}
	want := []orb.LineString{{{1, 2}, {2, 2}}, {{1.5, 2.5}, {2, 2.5}}, {{1, 3}, {1.5, 3}}, {{1, 2}, {1, 3}}, {{2, 2}, {2, 2.5}}, {{1.5, 2.5}, {1.5, 3}}}
	got := s.edges()
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i, l := range got {
		k := slices.IndexFunc(want, l.Equal)
		if k < 0 || (k < 3) != (i < 3) {
			t.Errorf("run %d: %v", i, l)
			continue
		}
		want[k] = nil
	}
}

// A strip a tenth of a square wide that runs across it changes it where it runs over one of its nine places, at a sixth, a half and five sixths; one that lies between them is not seen, nor one too thin to see. Either way across, and turned.
func TestSquaresThatAPartChanges(t *testing.T) {
	for _, axis := range []orb.Point{{1, 0}, {0.8, 0.6}} {
		d := &designer{Designer: &mend.Designer{Domain: &domain.Domain{Axis: axis}}}
		s := &sheet{side: 0.6, origin: orb.Point{1, 2}}
		for _, c := range []struct {
			at, thick float64
			want      bool
		}{{1. / 6, 0.01, true}, {0.5, 0.01, true}, {5. / 6, 0.01, true}, {1. / 3, 0.01, false}, {2. / 3, 0.01, false}, {0.5, -0.01, true}, {0.5, mend.Seen / 2, false}} {
			for _, along := range []bool{true, false} {
				p := &taper.Part{Thickness: []float64{c.thick, c.thick, c.thick, c.thick}}
				for _, q := range [4][2]float64{{-5, c.at - 0.05}, {5, c.at - 0.05}, {5, c.at + 0.05}, {-5, c.at + 0.05}} {
					if !along {
						q[0], q[1] = -q[1]+2*c.at, q[0]
					}
					p.On = append(p.On, d.Back(s.within([2]int{3, -1}, q[0], q[1])))
				}
				if got := d.differs(s, p, [2]int{3, -1}); got != c.want {
					t.Errorf("axis %v, %+v, along it %v: %v", axis, c, along, got)
				}
			}
		}
	}
}

// By hand, a part of 4 by 2 m whose thickness is 10 mm at one end, 30 mm at the other and even between.
func TestThicknessOfAPart(t *testing.T) {
	p := &taper.Part{On: []orb.Point{{0, 0}, {4, 0}, {4, 2}, {0, 2}}, Thickness: []float64{0.01, 0.03, 0.03, 0.01}}
	for at, want := range map[orb.Point]float64{{0, 1}: 0.01, {1, 0.1}: 0.015, {2, 1.9}: 0.02, {3.9, 1}: 0.0295, {4, 2}: 0.03} {
		if got, ok := thicknessAt(p, at); !ok || !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%v: %g, %t, want %g", at, got, ok, want)
		}
	}
	for _, at := range []orb.Point{{-0.1, 1}, {4.1, 1}, {2, 2.1}, {2, -0.1}} {
		if _, ok := thicknessAt(p, at); ok {
			t.Errorf("%v mendtest.Lies on it", at)
		}
	}
	if thick(p) != 0.03 || centre(p.On) != (orb.Point{2, 1}) || towards(orb.Point{0, 0}, orb.Point{2, 1}) != (orb.Point{0.02, 0.01}) {
		t.Errorf("%g thick at most, middle %v", thick(p), centre(p.On))
	}
	p.Thickness[2] = -0.05
	if thick(p) != 0.05 {
		t.Errorf("a cut of 50 mm: %g", thick(p))
	}
	if got := vector.Turn(orb.Point{1, 1}, orb.Point{4, 1}, orb.Point{1, 3}); got != 6 {
		t.Errorf("twice the area %g", got)
	}
}

// Changes that read alike are said once, with the lines of all; those of different ponds, sizes or words apart. Half a millimetre is told.
func TestChangesThatReadAlike(t *testing.T) {
	cut := func(pond string, mm float64, line orb.LineString) mend.Change {
		return mend.Change{Kind: mend.LowerRise, Pond: pond, What: finding.Say("Take {0} off", finding.MM("rise", mm/1000)), Line: line}
	}
	a, b := orb.LineString{{0, 0}, {1, 0}}, orb.LineString{{5, 5}, {6, 5}}
	got := tidy([]mend.Change{cut("P01", 20, a), cut("P01", 20.4, b), cut("P01", 20.6, b), cut("P02", 20, b)})
	if len(got) != 3 || len(got[0].More) != 1 || !slices.Equal(got[0].More[0], b) || len(got[1].More)+len(got[2].More) != 0 {
		t.Errorf("%+v", got)
	}
	raise := func(pond, name string) mend.Change {
		return mend.Change{Kind: mend.RaiseCurb, Pond: pond, What: finding.Say("Raise {0}", finding.Called(name))}
	}
	if got := tidy([]mend.Change{raise("P01", "K1"), raise("P02", "K1"), raise("P02", "K2")}); len(got) != 2 {
		t.Errorf("of two curbs %+v", got)
	}
	limits := []Limit{{Name: "a", Where: "x"}, {Name: "a", Where: "y"}, {Name: "b", Where: "x"}, {Name: "a", Where: "x"}}
	if got := once(limits); len(got) != 3 {
		t.Errorf("once %+v", got)
	}
	if got := only(limits, "a"); len(got) != 3 {
		t.Errorf("only %+v", got)
	}
}
