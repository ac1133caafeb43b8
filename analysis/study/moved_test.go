package study_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/sample"
)

// uneven is a roof that has something of everything, its heights a few millimetres off its planes and one of them far off, and what to ask of it.
func uneven() (*roof.Roof, study.Options) {
	r := sample.Local()
	for i := range r.Spots {
		r.Spots[i].Z += 0.0001 * float64(i*i%41-20)
	}
	r.Spots[40].Z += 0.08
	c := r.Cores[0]
	for i, p := range []orb.Point{{9, 3}, {3, 9}, {8, 9}} {
		c.Plan, c.ID = p, fmt.Sprintf("C%d", i+2)
		r.Cores = append(r.Cores, c)
	}
	return r, study.Options{
		Criteria: standard.Overrides{"rain_primary": 100 * float64(quantity.MillimetrePerHour), "rain_overflow": 200 * float64(quantity.MillimetrePerHour)}, NextSpots: 12,
	}
}

// told is what a study says, with the numbers to a micrometre and places as from x, y.
func told(s *study.Study, x, y float64) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	text := func(t finding.Text) string {
		return t.Fill(func(q finding.Quantity) string { return fmt.Sprintf("%s %.6f %s", q.Name, q.Value, q.Word) })
	}
	for _, f := range s.Findings {
		say("%s %s %s: %s, %s, %s, %s", f.Kind, f.Severity, f.Confidence, text(f.What), text(f.Where), text(f.Why), text(f.Do))
		for _, q := range append(f.Measured, f.Required...) {
			say("  %s %.6f", q.Name, q.Value)
		}
		if f.Geometry != nil {
			p := f.Geometry.Bound().Center()
			say("  at %.5f %.5f", p[0]-x, p[1]-y)
		}
	}
	for i, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		say("pond %s %.6f %.6f %.6f, held by %d, evidence %.4f", l.ID, p.Depth, p.Area, p.Volume, p.HeldBy, s.Evidence.Ponds[l.Pond].Evidence)
		for _, c := range s.Causes[i].Causes {
			say("  %s %.6f: %s", c.Kind, c.Score, text(c.Why))
		}
		say("  rests on %v", s.Rests[i])
	}
	for _, n := range s.NextSpots {
		say("next %v %.5f %.5f, weight %.6f", n.Kind, n.Plan[0]-x, n.Plan[1]-y, n.Weight)
	}
	for _, p := range s.Slopes.Planes {
		say("plane %.6f %.6f %.6f, error %.8f", p.Slope, p.Aspect, p.Area, p.Error())
	}
	for _, c := range s.Catchments.Full {
		say("catchment %d %.6f", c.Outlet, c.Area)
	}
	for _, p := range s.Catchments.Longest {
		say("way to %d %.6f", p.Outlet, p.Travel)
	}
	for _, o := range s.Drainage.Outlets {
		say("demand %.9f of %.6f and %.6f, head %.6f", o.Demand, o.Area, o.Walls, o.Head)
	}
	if s.RainLoad != nil {
		for _, w := range s.RainLoad.Waters {
			say("blocked: %.6f m over %.6f", w.Depth, w.Area)
		}
	}
	if s.Assembly != nil {
		for _, r := range s.Assembly.Regions {
			say("insulation: %s, %d more", r.Verdict, r.More)
			for _, p := range r.Next {
				say("  core at %.5f %.5f", p[0]-x, p[1]-y)
			}
		}
	}
	return out
}

// Where the site grid begins is nobody's business: the same roof 384 m east and 640 m south of it, exact in binary, gives the same numbers and words.
func TestRoofElsewhereOnItsGrid(t *testing.T) {
	var here []string
	for _, by := range []orb.Point{{0, 0}, {384, -640}, {-2048, 96}} {
		r, o := uneven()
		shape.Places(r, func(p *orb.Point) { p[0], p[1] = p[0]+by[0], p[1]+by[1] })
		s, err := study.Run(r, o)
		if err != nil {
			t.Fatal(err)
		}
		got := told(s, by[0], by[1])
		if here == nil {
			here = got
			if len(here) < 60 || len(s.Listed) == 0 || len(s.NextSpots) == 0 || s.RainLoad == nil {
				t.Fatalf("the roof says little: %q", here)
			}
			continue
		}
		for i, line := range got {
			if i >= len(here) || line != here[i] {
				t.Errorf("moved by %v: %q", by, line)
			}
		}
		if len(got) != len(here) {
			t.Errorf("moved by %v: %d lines, %d before, lacks %q", by, len(got), len(here), slices.DeleteFunc(here, func(l string) bool { return slices.Contains(got, l) }))
		}
	}
}

// figures are the numbers of a study that do not hang on which way north is, in an order of their own.
func figures(s *study.Study) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, f := range s.Findings {
		say("%s %s %s, size %.4f", f.Kind, f.Severity, f.Confidence, f.Size)
		for _, q := range append(f.Measured, f.Required...) {
			if q.Dim != finding.Bearing && q.Dim != finding.Elevation {
				say("%s: %s %.5f", f.Kind, q.Name, q.Value)
			}
		}
	}
	for i, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		say("pond %.6f %.5f %.6f, evidence %.3f", p.Depth, p.Area, p.Volume, s.Evidence.Ponds[l.Pond].Evidence)
		for _, c := range s.Causes[i].Causes {
			say("%s %.4f", c.Kind, c.Score)
		}
	}
	for _, n := range s.NextSpots {
		say("next %v, weight %.4f", n.Kind, n.Weight)
	}
	for _, p := range s.Slopes.Planes {
		if p.Area > 1 {
			say("plane %.6f %.5f", p.Slope, p.Area)
		}
	}
	for _, c := range s.Catchments.Full {
		say("catchment of outlet %d %.5f", c.Outlet, c.Area)
	}
	for _, o := range s.Drainage.Outlets {
		say("demand %.7f of %.5f, head %.5f", o.Demand, o.Area, o.Head)
	}
	if s.RainLoad != nil {
		for _, w := range s.RainLoad.Waters {
			say("blocked: %.5f m over %.4f", w.Depth, w.Area)
		}
	}
	slices.Sort(out)
	return out
}

// Which way north is turns words and bearings, no depth, area or flow.
func TestRoofTurnedOnItsGrid(t *testing.T) {
	var straight []string
	scattered := func(i int, p *orb.Point) { // so that no four spots lie on a circle
		if p[0] > 0 && p[0] < 20 && p[0] != 6 && p[0] != 14 && p[1] > 0 && p[1] < 12 {
			p[0], p[1] = p[0]+0.01*float64(i*7%19-9), p[1]+0.01*float64(i*5%17-8)
		}
	}
	for turn, turned := range []func(p orb.Point) orb.Point{
		func(p orb.Point) orb.Point { return p },
		func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} },
		func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} },
		func(p orb.Point) orb.Point { return orb.Point{p[1], -p[0]} },
	} {
		r, o := uneven()
		for i := range r.Spots {
			scattered(i, &r.Spots[i].Plan)
		}
		shape.Places(r, func(p *orb.Point) { *p = turned(*p) })
		s, err := study.Run(r, o)
		if err != nil {
			t.Fatal(err)
		}
		got := figures(s)
		if turn == 0 {
			straight = got
		}
		for _, line := range got {
			if !slices.Contains(straight, line) {
				t.Errorf("turned by %d degrees: %q", 90*turn, line)
			}
		}
		if len(got) != len(straight) {
			t.Errorf("turned by %d degrees: %d lines, %d before", 90*turn, len(got), len(straight))
		}
	}
}

// Which level counts as 0 is nobody's business either: 64 m lower, where elevations are below 0 and above it, depths and areas are the same.
func TestRoofOnAnotherDatum(t *testing.T) {
	var before []string
	for _, by := range []float64{0, -64, -100.125} {
		r, o := uneven()
		shape.Raise(r, by)
		s, err := study.Run(r, o)
		if err != nil {
			t.Fatal(err)
		}
		got := figures(s)
		if by == 0 {
			before = got
		}
		for _, line := range got {
			if !slices.Contains(before, line) {
				t.Errorf("%g m higher: %q", by, line)
			}
		}
		if len(got) != len(before) {
			t.Errorf("%g m higher: %d lines, %d before", by, len(got), len(before))
		}
	}
}

// Askew to the grid, by the angle of the triangle of 3, 4 and 5, places are rounded to the grid anew, so that numbers hold but for that: depths to 0.05 mm,
// areas and flows to half a percent, and what is found is the same.
func TestRoofAskewToItsGrid(t *testing.T) {
	type number struct {
		name          string
		value, within float64
	}
	told := func(turned func(p orb.Point) orb.Point) (words []string, numbers []number) {
		r, o := uneven()
		shape.Places(r, func(p *orb.Point) { *p = turned(*p) })
		s, err := study.Run(r, o)
		if err != nil {
			t.Fatal(err)
		}
		add := func(name string, value, part, within float64) {
			numbers = append(numbers, number{name, value, within + part*math.Abs(value)})
		}
		for _, f := range s.Findings {
			words = append(words, fmt.Sprintf("%s %s %s, decides the %s", f.Kind, f.Severity, f.Confidence, f.Decides))
		}
		for i, l := range s.Listed {
			p := &s.Ponds.Ponds[l.Pond]
			words = append(words, fmt.Sprintf("%s %s %s", l.ID, l.Place, s.Causes[i].Causes[0].Kind))
			add("depth", p.Depth, 0, 5e-5)
			add("area", p.Area, 0.005, 0)
			add("volume", p.Volume, 0.005, 0)
			add("evidence", s.Evidence.Ponds[l.Pond].Evidence, 0.02, 0)
			add("score", s.Causes[i].Causes[0].Score, 0.02, 0)
		}
		for i := range s.Surface.Outlets {
			d := &s.Drainage.Outlets[i]
			add("catchment", d.Area, 0.005, 0.01)
			add("demand", d.Demand, 0.005, 1e-7)
			add("head", d.Head, 0.005, 1e-5)
		}
		for _, w := range s.RainLoad.Waters {
			add("blocked depth", w.Depth, 0, 1e-4)
			add("blocked area", w.Area, 0.005, 0)
		}
		for _, a := range s.Assembly.Regions {
			words = append(words, fmt.Sprintf("%s from %d cores", a.Verdict, len(a.Used)))
			for name, g := range map[string]assembly.Gradient{"surface": a.Surface, "thickness": a.Thickness, "deck": a.Deck} {
				if g.Known {
					add(name, g.Slope(), 0.01, 1e-5)
					add(name+" sigma", g.Sigma(), 0.01, 1e-6)
				}
			}
		}
		slices.SortStableFunc(numbers, func(a, b number) int { return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.value, b.value)) })
		return words, numbers
	}
	words, numbers := told(func(p orb.Point) orb.Point { return p })
	if len(words) < 8 || len(numbers) < 20 {
		t.Fatalf("little is told: %q, %v", words, numbers)
	}
	for turn, by := range []orb.Point{{0.8, 0.6}, {-0.6, 0.8}} {
		w, n := told(func(p orb.Point) orb.Point { return orb.Point{by[0]*p[0] - by[1]*p[1], by[1]*p[0] + by[0]*p[1]} })
		if !slices.Equal(w, words) || len(n) != len(numbers) {
			t.Errorf("turn %d: %q, not %q", turn, w, words)
			continue
		}
		for i := range n {
			if !(math.Abs(n[i].value-numbers[i].value) <= numbers[i].within) {
				t.Errorf("turn %d: %s %g, not %g", turn, n[i].name, n[i].value, numbers[i].value)
			}
		}
	}
}
