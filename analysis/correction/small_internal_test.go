package correction

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// By hand: squares of 0.5 m from (1, 2), negative ones left of it and below; three in an L have 0.75 m2 and eight free sides of 0.5 m with a strip-in.
func TestSquaresOfASheet(t *testing.T) {
	s := &sheet{side: 0.5, origin: orb.Point{1, 2}, cells: map[[2]int]bool{{0, 0}: true, {1, 0}: true, {0, 1}: true}}
	for u, want := range map[orb.Point][2]int{{1.1, 2.1}: {0, 0}, {1.6, 2.4}: {1, 0}, {0.9, 2.1}: {-1, 0}, {1.2, 1.4}: {0, -2}, {1.5, 2.5}: {1, 1}} {
		if got := s.cell(u); got != want {
			t.Errorf("%v lies in %v, want %v", u, got, want)
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
		d := &designer{domain: &domain.Domain{Axis: axis}}
		s := &sheet{side: 0.6, origin: orb.Point{1, 2}}
		for _, c := range []struct {
			at, thick float64
			want      bool
		}{{1. / 6, 0.01, true}, {0.5, 0.01, true}, {5. / 6, 0.01, true}, {1. / 3, 0.01, false}, {2. / 3, 0.01, false}, {0.5, -0.01, true}, {0.5, Seen / 2, false}} {
			for _, along := range []bool{true, false} {
				p := &taper.Part{Thickness: []float64{c.thick, c.thick, c.thick, c.thick}}
				for _, q := range [4][2]float64{{-5, c.at - 0.05}, {5, c.at - 0.05}, {5, c.at + 0.05}, {-5, c.at + 0.05}} {
					if !along {
						q[0], q[1] = -q[1]+2*c.at, q[0]
					}
					p.On = append(p.On, d.back(s.within([2]int{3, -1}, q[0], q[1])))
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
			t.Errorf("%v lies on it", at)
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

// By hand, a channel 5 m from (1, 2) to (4, 6) at 0.1 m that falls 1 %: its floor ends at 50 mm, and a place a metre to either side stands 1/24 m higher.
func TestSidesOfAChannel(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{4, 6}
	at := func(p *taper.Patch, q orb.Point) float64 {
		return p.Z + p.DX*(q[0]-p.Plan[0]) + p.DY*(q[1]-p.Plan[1])
	}
	sides := trench(a, b, 0.1, 0.01)
	if len(sides) != 2 {
		t.Fatalf("%d sides", len(sides))
	}
	for i, sign := range []float64{1, -1} {
		p := &sides[i]
		n := orb.Point{-0.8 * sign, 0.6 * sign} // to the left, to the right
		for q, want := range map[orb.Point]float64{a: 0.1, b: 0.05, {a[0] + n[0], a[1] + n[1]}: 0.1 + 1.0/24, {b[0] + n[0], b[1] + n[1]}: 0.05 + 1.0/24} {
			if got := at(p, q); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("side %d at %v: %g, want %g", i, q, got, want)
			}
		}
		ring := orb.Ring(append(slices.Clone(p.On), p.On[0]))
		if ring.Orientation() != orb.CCW || !slices.Contains(p.On, orb.Point{a[0] + 1.2*n[0], a[1] + 1.2*n[1]}) {
			t.Errorf("side %d lies on %v", i, p.On)
		}
	}
}

// By hand, the sides of the same channel: two rectangles of 5 by 1.2 m, counter-clockwise, one on either side of its line and both along it.
func TestWhereSidesOfAChannelLie(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{4, 6}
	for k, p := range trench(a, b, 0.1, 0.01) {
		if len(p.On) != 4 {
			t.Fatalf("%v", p.On)
		}
		area := 0.0
		for i, q := range p.On {
			n := p.On[(i+1)%4]
			area += (q[0]*n[1] - n[0]*q[1]) / 2
			along := ((q[0]-a[0])*3 + (q[1]-a[1])*4) / 5
			left := ((q[1]-a[1])*3 - (q[0]-a[0])*4) / 5
			if along < -1e-9 || along > 5+1e-9 || (k == 0) != (left > -1e-9) && math.Abs(left) > 1e-9 || math.Abs(left) > 1.2+1e-9 {
				t.Errorf("side %d has a corner %g m along and %g m to the left", k, along, left)
			}
		}
		if !(math.Abs(area-6) <= 1e-9) {
			t.Errorf("side %d has %g m2", k, area)
		}
	}
}

// Places round another stand on its circle, every 30 degrees to the left from east, whatever their order; a line's length and the square of a distance by hand.
func TestPlacesRound(t *testing.T) {
	seen := map[int]bool{}
	for k := range turns {
		q := around(orb.Point{5, -2}, k, 2)
		angle := math.Atan2(q[1]+2, q[0]-5) * 180 / math.Pi
		if !(math.Abs(math.Hypot(q[0]-5, q[1]+2)-2) <= 1e-12) || !(math.Abs(angle-30*math.Round(angle/30)) <= 1e-9) {
			t.Errorf("place %d is %v", k, q)
		}
		seen[int(math.Round(angle/30)+12)%12] = true
	}
	if len(seen) != 12 {
		t.Errorf("%d places", len(seen))
	}
	if got := lineLength(orb.LineString{{0, 0}, {3, 4}, {3, 10}}); got != 11 {
		t.Errorf("length %g", got)
	}
	if got := near2(orb.Point{1, 7}, orb.Point{4, 3}); got != 25 {
		t.Errorf("square %g", got)
	}
	ring := orb.LineString{{0, 0}, {2, 0.005}, {4, 0}, {4, 3}, {2, 3.02}, {0, 3}, {0, 0}}
	if got := corners(ring); !slices.Equal(got, orb.LineString{{0, 0}, {4, 0}, {4, 3}, {2, 3.02}, {0, 3}, {0, 0}}) {
		t.Errorf("corners %v", got)
	}
}

// Changes that read alike are said once, with the lines of all; those of different ponds, sizes or words apart. Half a millimetre is told.
func TestChangesThatReadAlike(t *testing.T) {
	cut := func(pond string, mm float64, line orb.LineString) Change {
		return Change{Kind: LowerRise, Pond: pond, What: finding.Say("Take {0} off", finding.MM("rise", mm/1000)), Line: line}
	}
	a, b := orb.LineString{{0, 0}, {1, 0}}, orb.LineString{{5, 5}, {6, 5}}
	got := tidy([]Change{cut("P01", 20, a), cut("P01", 20.4, b), cut("P01", 20.6, b), cut("P02", 20, b)})
	if len(got) != 3 || len(got[0].More) != 1 || !slices.Equal(got[0].More[0], b) || len(got[1].More)+len(got[2].More) != 0 {
		t.Errorf("%+v", got)
	}
	raise := func(pond, name string) Change {
		return Change{Kind: RaiseCurb, Pond: pond, What: finding.Say("Raise {0}", finding.Called(name))}
	}
	if got := tidy([]Change{raise("P01", "K1"), raise("P02", "K1"), raise("P02", "K2")}); len(got) != 2 {
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

// By hand, with a main edge along (0.8, 0.6): 5 m to the east are 4 m along it and 3 m to its right, and back again.
func TestAlongTheMainEdgeAndBack(t *testing.T) {
	d := &designer{domain: &domain.Domain{Axis: orb.Point{0.8, 0.6}}}
	for p, want := range map[orb.Point]orb.Point{{5, 0}: {4, -3}, {0, 5}: {3, 4}, {8, 6}: {10, 0}, {-2, -9}: {-7, -6}} {
		u := d.turned(p)
		q := d.back(u)
		if !(math.Hypot(u[0]-want[0], u[1]-want[1]) <= 1e-12) || !(math.Hypot(q[0]-p[0], q[1]-p[1]) <= 1e-12) {
			t.Errorf("%v lies at %v, want %v, and back at %v", p, u, want, q)
		}
	}
}

// What a section of stock boards takes, by hand, on a level row of places 0.5 m apart and 2 m wide: from a cut line at 1 m boards of 2 % over 3 m, flat ones beyond: 21 m of distance at 2 % over ten square metres. Beyond 3 m it must still fall 8 mm a metre: the second of four places there lacks 4 mm, and the next two 8 and 12.
func TestWhatASectionTakes(t *testing.T) {
	g := &ground{step: 0.5, wide: 2, rows: [][]float64{make([]float64, 12)}}
	s := laidSection{ground: g, front: 1, taper: 0.02, run: 3}
	s.try(0.008)
	about(t, "area", s.area, 10)
	about(t, "taken", s.taken, 0.02*21+levellerCounts*(0.004+0.008+0.012+3*thinLevel))
	s = laidSection{ground: g, front: 1, taper: 0.02, run: 30}
	s.try(0.008)
	about(t, "taken by boards that run on", s.taken, 0.02*25)
}

// Boards may begin 5 cm before an outlet, or before a point of a gutter, and not beyond it.
func TestOutletsBeyondACutLine(t *testing.T) {
	g := &ground{up: orb.Point{0.6, 0.8}}
	for front, want := range map[float64]bool{5: false, 4.96: false, 4.94: true, -9: true} {
		for _, o := range []surface.Outlet{{Plan: orb.Point{3, 4}}, {Plan: orb.Point{-30, -40}, Line: orb.LineString{{-30, -40}, {3, 4}}}} {
			if got := g.stands(&surface.Surface{Outlets: []surface.Outlet{o}}, front); got != want {
				t.Errorf("a cut line at %g, an outlet at 5: beyond %v", front, got)
			}
		}
	}
}

// The new surface over a step, by hand: from 1 m on its crest 10 mm up along it a metre, 20 mm a metre up the roof, and down as steeply as a channel's side before it.
func TestSurfaceOverAStep(t *testing.T) {
	e := &ease{crest: &crest{z: 1, e: 0.01}, fall: 0.02}
	about(t, "up", e.at(2, 3), 1.07)
	about(t, "at the crest", e.at(0, -3), 0.97)
	about(t, "before it", e.at(-0.24, 3), 1.03-0.01)
}

// Of a rise under 5 cm long, which one spot shows, no length is told.
func TestLengthOfARise(t *testing.T) {
	for long, told := range map[float64]bool{0.049: false, 0.051: true, 2: true} {
		what := finding.Say("Take off the rise, {0} high and {1} long, down", finding.MM("high", 0.02), finding.Metres("length", long))
		if atOneSpot(&what); strings.Contains(what.Format, "long") != told {
			t.Errorf("%g m: %s", long, what.Format)
		}
	}
}
