package model_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

// walled falls 1/4 in per ft over 25 ft to a wall with a primary scupper whose floor stands so high above the roof and holds a pond as deep, and
// with an overflow so high above that.
func walled(overflow, floor float64) *roof.Roof {
	l, w, s := 40*foot, 25*foot, 1.0/48
	r := shape.New("walled", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, s*w), shape.At(0, w, s*w))
	r.Outline.EdgeAssumed = false
	shape.Grid(r, 0, 0, l, w, 8, 5, func(_, y float64) float64 { return s * y })
	p := shape.Scupper(r, l/2, 0, 12*inch)
	p.Invert, p.HasInvert, p.Label, p.OpeningHeight = floor, true, "SC-1", 6*quantity.Inch
	o := shape.Scupper(r, l/4, 0, 8*inch)
	o.Invert, o.HasInvert, o.Duty, o.Label, o.OpeningHeight = floor+overflow, true, roof.Overflow, "OS-1", 6*quantity.Inch
	return r
}

// sagging falls at 2 % to a gutter and sags 60 mm below its plane over a radius of 2.5 m: on the fall line through the middle of the dish
// 60 (1 - 50/120)² = 20.4 mm of water stand.
func sagging() *roof.Roof {
	const slope, sag, radius = 0.02, 0.06, 2.5
	r := shape.New("sagging", shape.Bare(0, 0), shape.Bare(20, 0), shape.Bare(20, 14), shape.Bare(0, 14))
	shape.Grid(r, 0, 0, 20, 14, 40, 28, func(x, y float64) float64 {
		d := math.Hypot(x-10, y-7) / radius
		return float64(slope*y) - float64(sag*math.Max(0, 1-float64(d*d)))
	})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	return r
}

// small is the walled roof with a leader of 2 in, which takes 34 gpm at most (International Plumbing Code, Table 1106.2) of the
// 1000 x 8 / 96.25 = 83.1 gpm that 8 in/h bring to it.
func small(floor float64) *roof.Roof {
	r := walled(2*inch, floor)
	r.Outlets[0].Leader.Diameter = 2 * quantity.Inch
	return r
}

// box is walled all round and has no outlet, as its outline says.
func box() *roof.Roof {
	r := shape.Box(10, 8, 1, 0.04)
	r.Outline.NoOutlets = true
	return r
}

func deep() *roof.Roof {
	r := sample.Local()
	r.Outlets[0].Invert = 100.09
	return r
}

func rotten() *roof.Roof {
	r := sample.Local()
	r.Cores = append(r.Cores, roof.Core{
		Feature: roof.Feature{ID: "C2"}, Position: roof.Position{Plan: orb.Point{16, 3}}, Deck: "boards, rotten",
		Layers: []roof.Layer{{Material: "foam", Thickness: 0.1}},
	})
	return r
}

var storm = standard.Overrides{"rain_primary": 8 * float64(quantity.InchPerHour), "rain_overflow": 8 * float64(quantity.InchPerHour)}

// TestFirstScreen: the words of the left column in their order, and what stands under the first of them and in the first step, on roofs
// where a different thing is worst.
func TestFirstScreen(t *testing.T) {
	for _, c := range []struct {
		name   string
		roof   *roof.Roof
		stated standard.Overrides
		order  string // words of the left column
		begins []string
		step   string
	}{
		{
			"90 mm of water", deep(), nil, "FIRST, PONDS, HELD BY, NEXT, MEND, SLOPE IN, SURVEY, LIMIT",
			[]string{"1 pond: P01, at RD-1. When full it is 90 mm deep"},
			"Keep off, and call a structural engineer today: when full P01 is 90 mm deep. Clear the space below. Until the engineer lets people on, measure from dry ground, or wait for another day. Decides: the engineer.",
		},
		{
			"a rotten deck", rotten(), nil, "FIRST, WORST, PONDS, HELD BY, NEXT, MEND, SLOPE IN, SURVEY, LIMIT",
			[]string{"The deck is soft, rotten or rusted here. Where: at core C2.", "1 pond: P01"},
			"Keep off, and call a structural engineer today: the deck is soft, rotten or rusted at one core.",
		},
		{
			"a sagging dish", sagging(), nil, "FIRST, PONDS, HELD BY, NEXT, MEND, SURVEY, LIMIT",
			[]string{"1 pond: P01, 6.0 m from the south gutter", "bent down like a dish"},
			"Keep off, and call a structural engineer today: the roof is bent down like a dish under P01.",
		},
		{
			"blocked water the worst", walled(6*inch, inch), storm, "WORST, PONDS, HELD BY, NEXT, MEND, SURVEY, LIMIT",
			[]string{"With every primary outlet blocked and 203 mm/h of rain, water stands at least ", "The overflow OS-1 stands 152 mm above SC-1.", "1 pond: P01"},
			"The overflow OS-1 stands 152 mm above SC-1. Do not raise any overflow.",
		},
		{
			"an outlet that takes less than half", small(inch), storm, "WORST, PONDS, HELD BY, BLOCKED, NEXT, MEND, SURVEY, LIMIT",
			[]string{"5.2 L/s comes to SC-1, and the leader takes ", "1 pond: P01"},
			"5.2 L/s comes to SC-1",
		},
		{"no way out", box(), nil, "PONDS, HELD BY, NEXT, MEND, SURVEY, LIMIT", []string{"It has no way out at any level.", "Water has no way out here at any level."}, "URGENT. Look for an outlet that the survey missed."},
		{"outlets not surveyed", shape.Box(10, 8, 1, 0.04), nil, "WORST, PONDS, NEXT, SURVEY, LIMIT", []string{"Outlets not surveyed: look for them.", "No pond can be told before the outlets are surveyed. Its shape shows one low place, 40 mm deep: either an outlet stands in it, or water does."}, "N01: Outlets not surveyed"},
		{"nothing wrong", walled(2*inch, 0), nil, "PONDS, NEXT, SURVEY, LIMIT", []string{"No ponds found. Ponds smaller than the 1.3 m between spots may be missed."}, "All the roof drains to SC-1 alone. "},
	} {
		s, err := study.Run(c.roof, study.Options{Criteria: c.stated})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		check(t, c.name, model.Of(record.NewBook(s, "", record.SI)).First, c.order, c.begins, c.step)
	}
}

// check compares the entries of a first screen.
func check(t *testing.T, name string, entries []model.Entry, order string, begins []string, begin string) {
	t.Helper()
	step := 0
	var words, all []string
	first := ""
	for _, e := range entries {
		words = append(words, e.Word)
		if first == "" && (e.Word == model.FirstOfAll || e.Word == "NEXT") {
			first = append(slices.Clone(e.Steps), e.Texts...)[0]
		}
		for i, s := range e.Steps {
			if step++; e.Number(i) != step {
				t.Errorf("%s: step %d has the number %d", name, step, e.Number(i))
			}
			if !strings.Contains(s, "Decides: the ") {
				t.Errorf("%s: step %d does not say who decides: %q", name, step, s)
			}
		}
		all = append(append(all, e.Steps...), e.Texts...)
	}
	if got := strings.Join(words, ", "); got != order {
		t.Errorf("%s: order %q, want %q", name, got, order)
	}
	rest := strings.Join(all, "\n")
	for _, want := range begins {
		_, after, ok := strings.Cut(rest, want)
		if !ok {
			t.Errorf("%s: no %q in its place:\n%s", name, want, strings.Join(all, "\n"))
			return
		}
		rest = after
	}
	if !strings.HasPrefix(first, begin) {
		t.Errorf("%s: the first step is %q, want %q", name, first, begin)
	}
}
