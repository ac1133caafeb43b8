package change

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/dish"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/tape"
)

// The median of an odd number is the middle one, of an even number the mean of two; the order does not matter and is kept.
func TestMedian(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   float64
	}{{[]float64{4}, 4}, {[]float64{9, 1, 5}, 5}, {[]float64{8, 2, 4, 6}, 5}, {[]float64{-3, -1}, -2}, {[]float64{7, 7, 1, 100, 7}, 7}} {
		was := slices.Clone(c.values)
		if got := median(c.values); got != c.want || !slices.Equal(was, c.values) {
			t.Errorf("%v: %g, want %g", was, got, c.want)
		}
	}
}

// Of normal values the median distance from the middle is 0.67449 of their standard deviation (Abramowitz and Stegun, table 26.5): of distances 1, 2, 3, 4 and 90 it is 3, and the deviation 4.4478, whatever the last is.
func TestDeviation(t *testing.T) {
	for _, far := range []float64{90, -90, 5, 4000} {
		if got := deviation([]float64{10 + 1, 10 - 2, 10 + 3, 10 - 4, 10 + far}, 10); !(math.Abs(got-4.4478) <= 1e-3) {
			t.Errorf("the last %g off: %g, want 4.4478", far, got)
		}
	}
	r := rand.New(rand.NewPCG(1, 3))
	values := make([]float64, 20001)
	for i := range values {
		values[i] = 7 + 0.003*r.NormFloat64()
	}
	if got := deviation(values, median(values)); !(math.Abs(got-0.003) <= 1e-4) {
		t.Errorf("of normal errors of 3 mm: %g", got)
	}
}

// Water dries 5 mm a day: 10 mm have gone after 48 hours, so that whoever was there after 47 looked in time, and after 49 too late. Nobody knows where no hours were noted, or how deep it was.
func TestLooked(t *testing.T) {
	for _, c := range []struct {
		name   string
		visit  float64 // hours, below 0 not noted
		waters []float64
		depth  float64
		want   bool
	}{
		{"in time", 47, nil, 0.01, true},
		{"too late", 49, nil, 0.01, false},
		{"in time by what another pond says", -1, []float64{-1, 47}, 0.01, true},
		{"too late by what another pond says", -1, []float64{49, 3}, 0.01, false},
		{"the visit counts first", 49, []float64{3}, 0.01, false},
		{"not noted", -1, []float64{-1}, 0.01, false},
		{"no depth", 1, nil, 0, false},
		{"while it rained", 0, nil, 0.001, true},
		{"while it rained, by what another pond says", -1, []float64{0, 99}, 0.001, true},
	} {
		r := &roof.Roof{Tape: &roof.Tape{}}
		r.Visit.Hours, r.Visit.HasHours = c.visit, c.visit >= 0
		for _, h := range c.waters {
			r.Tape.Waters = append(r.Tape.Waters, roof.Water{HoursSinceRain: h})
		}
		s := &tape.Survey{Roof: r}
		if got := looked(s, c.depth); got != c.want {
			t.Errorf("%s: looked %v", c.name, got)
		}
		if got := hoursOf(s, &roof.Water{HoursSinceRain: 12}); got != 12 {
			t.Errorf("%s: a water that was seen after 12 hours: %g", c.name, got)
		}
	}
}

// pond is one of a square edge of 4 m, 16 m2, chalked with n marks, with a sounding of a depth.
func pond(n int, depth float64) *tape.Pond {
	p := &tape.Pond{Depth: depth, WeightLeast: 1000, WeightMost: 3000, Water: &roof.Water{Edge: make([]roof.Position, n)}}
	p.Bowl = &dish.Bowl{Ring: orb.Ring{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, Area: 16}
	return p
}

// Of a pond 16 m round each of 16 marks errs by 50 mm square to the edge: its area by 0.05 x 16 / 4 = 0.2 m2; of an oval by its two axes, which count as four marks, by 0.4 m2. With 95 % confidence it lies within 1.645 times that. Of 40 mm of water another 10 mm
// may have dried: a bowl was a quarter wider. Its weight has the same part for the edge, and what dried over all of the greatest area.
func TestRangesOfAPond(t *testing.T) {
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-3*want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	p := pond(16, 0.04)
	near("error of the area", areaError(p), 0.2)
	near("with four marks", areaError(pond(4, 0.04)), 0.4)
	oval := pond(16, 0.04)
	oval.Water.Oval = true
	near("of an oval", areaError(oval), 0.4)
	area := areaOf(p, 0)
	near("least area", area.Low, 16-0.329)
	near("greatest area", area.High, 16+0.329)
	area = areaOf(p, 0.01)
	near("least area before it dried", area.Low, 16-0.329)
	near("greatest area before it dried", area.High, 16.329*1.25)
	if got := areaOf(pond(16, 0), 0.01); !math.IsInf(got.High, 1) {
		t.Errorf("of water that dried and was not sounded: %+v", got)
	}
	weight := weightOf(p, 0)
	near("least weight", weight.Low, 1000*(1-0.329/16))
	near("greatest weight", weight.High, 3000*(1+0.329/16))
	weight = weightOf(p, 0.01)
	near("least weight before it dried", weight.Low, 1000*(1-0.329/16))
	near("greatest weight before it dried", weight.High, 3000*(1+0.329/16)+0.01*16.329*1.25*1000)
	if weightOf(pond(16, 0), 0.01) != nil {
		t.Error("a pond that nobody sounded has a weight")
	}
	deep := depthOf(p, 0.01)
	near("least depth", deep.Low, 0.04-1.645*0.0254/16)
	near("greatest depth", deep.High, 0.04+1.645*0.0254/16+0.01)
	if got := depthOf(pond(16, 0.001), 0); got.Low != 0 {
		t.Errorf("a depth below nothing: %+v", got)
	}
}

// Depths compare where both were sounded, at one place to a stride or so many times that they find the deepest.
func TestWhichDepthsCompare(t *testing.T) {
	c := &tapes{before: &tape.Survey{Roof: &roof.Roof{Frame: roof.Frame{Metres: 1}}}, after: &tape.Survey{Roof: &roof.Roof{Frame: roof.Frame{Metres: 1}}}}
	at := func(x, depth float64, soundings int) *tape.Pond {
		p := pond(8, depth)
		p.At, p.Bowl.Soundings = orb.Point{x, 2}, make([]dish.Sounding, soundings)
		return p
	}
	for _, k := range []struct {
		a, b *tape.Pond
		want bool
	}{
		{at(1, 0.04, 1), at(1+0.99*sameSounding, 0.05, 1), true},
		{at(1, 0.04, 1), at(1+1.01*sameSounding, 0.05, 1), false},
		{at(1, 0.04, fewSoundings), at(3, 0.05, fewSoundings), true},
		{at(1, 0.04, fewSoundings-1), at(3, 0.05, fewSoundings), false},
		{at(1, 0.04, fewSoundings), at(3, 0.05, fewSoundings-1), false},
		{at(1, 0, 1), at(1, 0.05, 1), false},
		{at(1, 0.04, 1), at(1, 0, 1), false},
	} {
		if got := c.depthsCompare(k.a, k.b); got != k.want {
			t.Errorf("at %v and %v, %g and %g deep, of %d and %d soundings: %v", k.a.At, k.b.At, k.a.Depth, k.b.Depth, len(k.a.Bowl.Soundings), len(k.b.Bowl.Soundings), got)
		}
	}
}

// Regions by brute force on squares of 2 m: spots that changed the same way are one region where a chain of facets joins them; each has a third of the facets at it; the largest change stands for it, and the largest of all comes first.
func TestRegions(t *testing.T) {
	row := make([]float64, 7)
	s := shape.Build(t, shape.Heights(2, row, row, row, row, row))
	r := rand.New(rand.NewPCG(6, 1))
	for trial := range 60 {
		c := &comparison{after: &study.Study{Surface: s}, result: &Result{}}
		rise := map[int32]float64{}
		for v := range int32(len(s.TIN.X)) {
			spot := Spot{Vertex: v, Rise: math.Round(20*r.NormFloat64())/1000 + 0.0001, Significant: r.IntN(3) > 0, Error: float64(v)}
			if c.result.Spots = append(c.result.Spots, spot); spot.Significant {
				rise[v] = spot.Rise
			}
		}
		c.result.Spots[5].Significant = true
		rise[5] = c.result.Spots[5].Rise
		group := map[int32]int32{}
		for v := range rise {
			group[v] = v
		}
		for changed := true; changed; {
			changed = false
			for f := 0; f < len(s.TIN.V); f += 3 {
				for _, a := range s.TIN.V[f : f+3] {
					for _, b := range s.TIN.V[f : f+3] {
						ra, okA := rise[a]
						rb, okB := rise[b]
						if okA && okB && (ra > 0) == (rb > 0) && group[a] < group[b] {
							group[b], changed = group[a], true
						}
					}
				}
			}
		}
		area, most, count := map[int32]float64{}, map[int32]float64{}, map[int32]int{}
		for v, z := range rise {
			g := group[v]
			count[g]++
			most[g] = math.Max(most[g], math.Abs(z))
			for f := 0; f < len(s.TIN.V); f += 3 {
				if slices.Contains(s.TIN.V[f:f+3], v) {
					area[g] += s.TIN.FacetArea(int32(f/3)) / 3
				}
			}
		}
		got := c.regions()
		if len(got) != len(count) {
			t.Fatalf("trial %d: %d regions, want %d", trial, len(got), len(count))
		}
		for i, region := range got {
			g := group[c.result.Spots[region.Spots[0]].Vertex]
			if len(region.Spots) != count[g] || !(math.Abs(region.Area-area[g]) <= 1e-9) || math.Abs(region.Rise) != most[g] || region.Error != float64(c.result.Spots[region.Spots[0]].Vertex) {
				t.Errorf("trial %d: %+v, want %d spots on %g m2 by %g", trial, region, count[g], area[g], most[g])
			}
			if i > 0 && math.Abs(region.Rise) > math.Abs(got[i-1].Rise) {
				t.Errorf("trial %d: the worst does not come first", trial)
			}
		}
	}
}

// What the later survey stands above the earlier one is told by five spots that both have, else by all: by hand 10 mm of five and 50 mm of twenty more that lie between. An error of 1 mm leaves
// that of a median of five, root(pi/2/5) of it; what is taken off adds it to that of each spot.
func TestShiftBySpotsOfBoth(t *testing.T) {
	for _, c := range []struct {
		same int
		want float64
		of   float64
	}{{4, 0.05, 24}, {5, 0.01, 5}, {6, 0.01, 6}} {
		for _, take := range []bool{false, true} {
			r := &Result{}
			for i := range 20 + c.same {
				r.Spots = append(r.Spots, Spot{Rise: 0.05, Error: 0.001, Between: true})
				if i < c.same {
					r.Spots[i] = Spot{Rise: 0.01, Error: 0.001}
				}
			}
			(&comparison{result: r}).shift(take)
			last := r.Spots[len(r.Spots)-1]
			rise, e := 0.05, 0.001
			if take {
				rise, e = 0.05-c.want, math.Hypot(0.001, r.Shift.Error)
			}
			if !(math.Abs(r.Shift.Median-c.want) <= 1e-12) || r.Shift.Taken != take || !r.Shift.Shown || !(math.Abs(last.Rise-rise) <= 1e-12) || !(math.Abs(last.Error-e) <= 1e-12) {
				t.Errorf("%d spots of both, taken off %v: %+v, the last %+v", c.same, take, r.Shift, last)
			}
			if c.same >= 5 && !(math.Abs(r.Shift.Error-0.001*math.Sqrt(math.Pi/2/c.of)) <= 1e-12) {
				t.Errorf("%d spots of both: an error of %g", c.same, r.Shift.Error)
			}
		}
	}
	few := &Result{Spots: make([]Spot, 4)}
	for i := range few.Spots {
		few.Spots[i].Rise = 1
	}
	if (&comparison{result: few}).shift(true); few.Shift != (Shift{}) || few.Spots[0].Rise != 1 {
		t.Errorf("four spots tell %+v", few.Shift)
	}
}

// Of one pond whose heights were read in both surveys: water that was chalked in the earlier one alone is gone, in the later one alone new, and sure where somebody was there before it would have dried, 10 mm in 48 hours. In neither, the height of the lip over the floor tells: 20 mm less, each good to 1 mm.
func TestWaterOfOnePondByTheSurveys(t *testing.T) {
	for _, c := range []struct {
		before, after bool
		hours         float64 // of both visits
		want          State
		unsure        bool
	}{
		{true, false, 47, Gone, false},
		{true, false, 49, Gone, true},
		{false, true, 47, New, false},
		{false, true, 49, New, true},
		{false, false, 47, Smaller, false},
	} {
		survey := func(seen bool, depth float64) *tape.Survey {
			r := &roof.Roof{Tape: &roof.Tape{}}
			r.Visit.Hours, r.Visit.HasHours = c.hours, true
			p := tape.Pond{Depth: 0.01}
			p.Holding.Highest = -1
			p.Holding.Depth.Value, p.Holding.Depth.Sigma = depth, 0.001
			if seen {
				p.Water = &roof.Water{HoursSinceRain: -1}
			}
			return &tape.Survey{Roof: r, Ponds: []tape.Pond{p}}
		}
		pair := &tapes{before: survey(c.before, 0.04), after: survey(c.after, 0.02), out: &Taped{}}
		pair.pair(0, 0)
		if w := pair.out.Waters; len(w) != 1 || w[0].State != c.want || w[0].Unsure != c.unsure {
			t.Errorf("seen before %v, after %v, %g hours after rain: %+v, want %v", c.before, c.after, c.hours, w, c.want)
		}
	}
}
