package study_test

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// crew shoots a roof on a plain grid and codes nothing.
type crew struct {
	pitch, sigma float64 // [m]
	feet         bool
}

// crews are in metres and feet, every 1 to 3 m, without error and with 2 mm.
var crews = []crew{{1, 0, false}, {1.5, 0.002, false}, {3, 0, false}, {1.5, 0, true}, {2, 0.002, true}, {3, 0.002, false}}

// shot gives r the crew's errors and states 2 mm; an outlet's invert is the reading of the spot at it.
func (c crew) shot(r *roof.Roof, seed uint64) *roof.Roof {
	g := rand.New(rand.NewPCG(seed, 9))
	r.Sigma = 0.002
	for i := range r.Spots {
		r.Spots[i].Z += c.sigma * g.NormFloat64()
		r.Spots[i].Sigma = 0.002
	}
	if c.feet {
		shape.ReadInFeet(r)
	}
	for i := range r.Outlets {
		for _, p := range r.Spots {
			if o := &r.Outlets[i]; p.Plan == o.Plan {
				o.Invert = p.Z
			}
		}
	}
	return r
}

// relief is what stands on or hangs under a plane, by the pitch of the spots.
type relief func(pitch float64) func(x, y float64) float64

func both(f, g func(x, y float64) float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return f(x, y) + g(x, y) }
}

const (
	grade      = 0.02 // of the field to the wall with the scuppers
	sc1, sc2   = 3, 15
	long, deep = 18, 12
)

// plainCase is a roof with one fault, or with a look-alike of one.
type plainCase struct {
	name   string
	grade  float64
	relief relief
	want   []finding.Kind // any of them leads; none: the look-alike, of which kinds must not be named
	not    []finding.Kind // kinds that no pond may be named or said to be as well
	says   string
}

var plainCases = []plainCase{
	{
		"level wall, foot hangs 20 mm", grade, func(float64) func(x, y float64) float64 { return shape.Sagging(sc1, sc2, 0.02, 3) },
		[]finding.Kind{finding.CricketMissing},
		[]finding.Kind{finding.CricketFlat},
		"Look for a cricket between SC-1 and SC-2: take levels",
	},
	{
		"level wall, foot hangs 30 mm", grade, func(float64) func(x, y float64) float64 { return shape.Sagging(sc1, sc2, 0.03, 4) },
		[]finding.Kind{finding.CricketMissing},
		[]finding.Kind{finding.CricketFlat},
		"Build a cricket along the wall",
	},
	{"cricket 1.5 m wide on 12 m: valleys of 0.49 %", grade, func(float64) func(x, y float64) float64 {
		return both(shape.Saddle(sc1, sc2, 1.5, grade), shape.Sagging(4, 9, 0.03, 4))
	}, []finding.Kind{finding.CricketFlat}, nil, "Look for a cricket between SC-1 and SC-2"},
	{"cricket 3 m wide on 12 m: valleys of 0.89 %", grade, func(float64) func(x, y float64) float64 {
		return both(shape.Saddle(sc1, sc2, 3, grade), shape.Sagging(4, 9, 0.045, 4))
	}, []finding.Kind{finding.CricketFlat}, []finding.Kind{finding.CricketMissing}, "Make the cricket wider"},
	{"lap from wall to wall, 20 mm over its foot", grade, func(p float64) func(x, y float64) float64 {
		return shape.Lap(-2*p, long+2*p, 6, p, grade*p+0.02)
	}, []finding.Kind{finding.RidgeLine, finding.RiseBefore}, []finding.Kind{finding.Dish}, "feel"},
	{"deck hangs 24 mm below its fall over 6 m", 0.0156, func(float64) func(x, y float64) float64 {
		return shape.Sag(9, 6, 3, 0.024+3*0.0156)
	}, []finding.Kind{finding.Dish}, []finding.Kind{finding.RidgeLine, finding.CricketFlat}, ""},

	{
		// Its foot is level and it has no cricket: where error alone makes a pond there, that name fits the roof.
		"level wall that drains", grade, func(float64) func(x, y float64) float64 { return nil }, nil,
		[]finding.Kind{finding.CricketFlat, finding.RidgeLine},
		"",
	},
	{
		"cricket 4 m wide on 12 m: valleys of 1.11 %", grade, func(float64) func(x, y float64) float64 { return shape.Saddle(sc1, sc2, 4, grade) }, nil,
		[]finding.Kind{finding.CricketMissing, finding.CricketFlat, finding.RidgeLine},
		"",
	},
	{"that cricket, and a sag above it", grade, func(float64) func(x, y float64) float64 {
		return both(shape.Saddle(sc1, sc2, 4, grade), shape.Sag(9, 8, 3, 0.09))
	}, []finding.Kind{finding.Dish}, []finding.Kind{finding.CricketMissing, finding.CricketFlat, finding.RidgeLine}, ""},
	{"cricket half as wide as long, its valley hanging", grade, func(float64) func(x, y float64) float64 {
		return both(shape.Saddle(sc1, sc2, 6, grade), shape.Sagging(4, 9, 0.09, 4))
	}, nil, []finding.Kind{finding.CricketMissing, finding.CricketFlat}, ""},
}

// TestPlainGridCauses: roofs of closed shapes, with two scuppers at a level wall, shot on a plain grid without coded lines, have the cause that was
// built into them named first, and a roof that looks like one of them has not.
func TestPlainGridCauses(t *testing.T) {
	seeds := uint64(1)
	if os.Getenv("RUNNEL_LONG") == "1" {
		seeds = 20
	}
	for _, k := range plainCases {
		tried, found, asked, none, wrong := 0, 0, 0, 0, 0
		for i, c := range crews {
			for seed := range seeds {
				r := c.shot(shape.Scuppered(long, deep, k.grade, sc1, sc2, c.pitch, k.relief(c.pitch)), 100*seed+uint64(i))
				v := k.judge(t, r, c)
				tried++
				found, asked, none, wrong = found+v.found, asked+v.asked, none+v.none, wrong+v.wrong
			}
		}
		t.Logf("%s: %d of %d as built, %d asked about, %d without a pond, %d wrong", k.name, found, tried, asked, none, wrong)
		if wrong > tried/50 || len(k.want) > 0 && (100*found < 95*(tried-none) || 2*none > tried) {
			t.Errorf("%s: %d of %d as built (%d without a pond), %d wrong", k.name, found, tried, none, wrong)
		}
	}
}

// verdict counts what a roof's findings say.
type verdict struct{ found, asked, none, wrong int }

// judge looks at the findings of the largest pond, and of all ponds for kinds that must not be named.
func (k *plainCase) judge(t *testing.T, r *roof.Roof, c crew) (v verdict) {
	t.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Listed) == 0 {
		v.none = 1
	}
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.Pond < 0 {
			continue
		}
		text := f.Do.Fill(func(q finding.Quantity) string { return q.Word })
		for _, n := range k.not {
			if f.Kind == n || slices.Contains(f.Also, n) {
				t.Logf("%s: %v: named %s, also %v", k.name, c, f.Kind, f.Also)
				v.wrong = 1
			}
		}
		switch {
		case len(s.Listed) == 0 || f.Pond != int(s.Listed[0].Pond):
		case slices.Contains(k.want, f.Kind) && strings.Contains(text, k.says):
			v.found = 1
		case len(k.want) > 0:
			if f.Kind == finding.LowPlace && strings.Contains(text, k.says) {
				v.asked = 1
			}
			t.Logf("%s: %v: named %s, also %v: %s", k.name, c, f.Kind, f.Also, text)
		}
	}
	return v
}
