package study_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// said is one thing that a study says, with its numbers.
type said struct {
	what    string
	numbers []float64
}

// allSaid is what must not hang on how a roof lies: kinds, severities and sureness of findings, ponds with evidence, bounds and cause, heights that do not
// fit, catchments and their bounds, and what the next spots would tell. Heights whose two coordinates may have changed places are left out: what the numbers
// of a place look like is what tells of them.
func allSaid(s *study.Study) []said {
	var out []said
	say := func(what string, numbers ...float64) { out = append(out, said{what, numbers}) }
	for _, f := range s.Findings {
		if f.Kind != finding.SpotOdd {
			say(fmt.Sprintf("finding %s %s %s", f.Kind, f.Severity, f.Confidence))
		}
	}
	for i, l := range s.Listed {
		p, b := &s.Ponds.Ponds[l.Pond], &s.Bounds.Ponds[i]
		say(fmt.Sprintf("pond %s, %s", l.Place, s.Causes[i].Causes[0].Kind), p.Depth, p.Area, p.Volume, s.Evidence.Ponds[l.Pond].Evidence)
		say("bounds of a pond", b.Depth.Low, b.Depth.High, b.Area.Low, b.Area.High)
	}
	for _, o := range s.Odd {
		if o.Vertex >= 0 && o.Spot >= 0 {
			say("odd "+s.Roof.Spots[o.Spot].ID, o.Off(), o.Score)
		}
	}
	for _, c := range s.Catchments.Full {
		say("catchment", c.Area)
	}
	for _, b := range s.Bounds.Catchments {
		say("bounds of a catchment", b.Low, b.High)
	}
	for _, n := range s.NextSpots {
		say(fmt.Sprintf("next %d", n.Kind), n.Weight)
	}
	return out
}

// lacks returns what of a is not in b, with numbers equal to a part.
func lacks(a, b []said, part float64) []said {
	b = slices.Clone(b)
	var out []said
	for _, x := range a {
		i := slices.IndexFunc(b, func(y said) bool {
			if x.what != y.what {
				return false
			}
			for k := range x.numbers {
				if math.Abs(x.numbers[k]-y.numbers[k]) > 1e-6+part*math.Abs(x.numbers[k]) {
					return false
				}
			}
			return true
		})
		if i < 0 {
			out = append(out, x)
			continue
		}
		b = slices.Delete(b, i, i+1)
	}
	return out
}

// lain is one way in which the same roof may lie and be written down.
type lain struct {
	name string
	to   func(p orb.Point) orb.Point
	also func(r *roof.Roof)
}

func waysToLie() []lain {
	nothing := func(*roof.Roof) {}
	return []lain{
		{"384 m east", func(p orb.Point) orb.Point { return orb.Point{p[0] + 384, p[1] - 640} }, nothing},
		{"512.25 m east", func(p orb.Point) orb.Point { return orb.Point{p[0] + 512.25, p[1] - 640.33} }, nothing},
		{"turned by 90 degrees", func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} }, nothing},
		{"turned by 180 degrees", func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} }, nothing},
		{"turned by 270 degrees", func(p orb.Point) orb.Point { return orb.Point{p[1], -p[0]} }, nothing},
		{"in another order", func(p orb.Point) orb.Point { return p }, func(r *roof.Roof) {
			rand.New(rand.NewPCG(1, 2)).Shuffle(len(r.Spots), func(i, j int) { r.Spots[i], r.Spots[j] = r.Spots[j], r.Spots[i] })
		}},
		{"mirrored", func(p orb.Point) orb.Point { return orb.Point{-p[0], p[1]} }, func(r *roof.Roof) {
			for i := range r.Outline.Rings {
				slices.Reverse(r.Outline.Rings[i])
			}
		}},
	}
}

// Wherever a roof stands on its grid, however it is turned and in whatever order its spots come, it gets one answer. 40 made-up roofs, most on grids whose diagonals could
// run either way, with equal elevations, level areas and curbs. Mirrored ones go round their facets the other way, and one in ten differs where two planes
// or causes are as good.
func TestRoofHoweverItLies(t *testing.T) {
	o := study.Options{
		Criteria: standard.Overrides{"rain_primary": 100 * float64(quantity.MillimetrePerHour), "rain_overflow": 200 * float64(quantity.MillimetrePerHour)}, NextSpots: 6,
	}
	run := func(seed uint64, w lain) []said {
		r := shape.Random(seed, 150)
		for i := range r.Spots {
			r.Spots[i].ID = fmt.Sprint("s", i)
		}
		shape.Places(r, func(p *orb.Point) { *p = w.to(*p) })
		w.also(r)
		s, err := study.Run(r, o)
		if err != nil {
			t.Fatalf("%d %s: %v", seed, w.name, err)
		}
		return allSaid(s)
	}
	mirrored, things := 0, 0
	for seed := range uint64(40) {
		here := run(seed, lain{"as it is", func(p orb.Point) orb.Point { return p }, func(*roof.Roof) {}})
		things += len(here)
		for _, w := range waysToLie() {
			there := run(seed, w)
			less, more := lacks(here, there, 1e-5), lacks(there, here, 1e-5)
			switch {
			case len(less)+len(more) == 0:
			case w.name == "mirrored":
				mirrored++
				t.Logf("%d %s: lacks %v, has %v", seed, w.name, less, more)
			default:
				t.Errorf("%d %s: lacks %v, has %v", seed, w.name, less, more)
			}
		}
	}
	if mirrored > 4 {
		t.Errorf("%d of 40 differ when mirrored", mirrored)
	}
	if things < 400 {
		t.Errorf("only %d things were said", things)
	}
}
