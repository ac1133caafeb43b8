package shape_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
)

// thing holds one of all that results hold.
type thing struct {
	Depth  float64
	Name   string
	Plan   orb.Point
	List   []float64
	Map    map[string]float64
	Next   *thing
	Any    any
	X      float64 // hangs on the origin
	hidden float64
	Do     func()
}

func some() thing {
	return thing{
		Depth: 2, Name: "P1", Plan: orb.Point{3, 4}, List: []float64{1, 2}, Map: map[string]float64{"a": 1}, Next: &thing{Depth: 7}, Any: 5.0, X: 1, hidden: 1,
	}
}

// Two results differ where their exported values do, beyond a millionth and 1e-7, and the place is told; places are brought back first. What hangs on the origin is not looked at.
func TestDiffer(t *testing.T) {
	stay := func(p orb.Point) orb.Point { return p }
	for name, c := range map[string]struct {
		change func(b *thing)
		want   string // in the one difference; empty: none
	}{
		"nothing":                    {func(*thing) {}, ""},
		"what is not exported":       {func(b *thing) { b.hidden = 9 }, ""},
		"what hangs on the origin":   {func(b *thing) { b.X = 9 }, ""},
		"functions":                  {func(b *thing) { b.Do = func() {} }, ""},
		"a millionth of a number":    {func(b *thing) { b.Depth = 2 + 2e-6 }, ""},
		"more than a millionth":      {func(b *thing) { b.Depth = 2 + 2.3e-6 }, ".Depth: "},
		"no number":                  {func(b *thing) { b.Depth = math.NaN() }, ".Depth: NaN, not 2"},
		"a word":                     {func(b *thing) { b.Name = "P2" }, ".Name: P2, not P1"},
		"a place by a micrometre":    {func(b *thing) { b.Plan[0] += 0.9e-6 }, ""},
		"a place by more to x":       {func(b *thing) { b.Plan[0] += 1.1e-6 }, ".Plan: "},
		"a place by more to y":       {func(b *thing) { b.Plan[1] -= 1.1e-6 }, ".Plan: "},
		"a list's number":            {func(b *thing) { b.List[1] = 3 }, ".List[1]: 3, not 2"},
		"a list's length":            {func(b *thing) { b.List = b.List[:1] }, ".List has: 1, not 2"},
		"a map's value":              {func(b *thing) { b.Map["a"] = 2 }, ".Map[a]: 2, not 1"},
		"what a pointer points to":   {func(b *thing) { b.Next.Depth = 8 }, ".Next.Depth: 8, not 7"},
		"a pointer to nothing":       {func(b *thing) { b.Next = nil }, ".Next is nil: true, not false"},
		"what stands for anything":   {func(b *thing) { b.Any = 6.0 }, ".Any: 6, not 5"},
		"another type":               {func(b *thing) { b.Any = "5" }, ".Any: "},
		"nothing where anything was": {func(b *thing) { b.Any = nil }, ".Any is nil: true, not false"},
	} {
		a, b := some(), some()
		c.change(&b)
		got := shape.Differ(&a, &b, stay)
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || !strings.Contains(got[0], c.want)) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	a, b := some(), some()
	b.Plan = orb.Point{13, 4}
	if got := shape.Differ(&a, &b, func(p orb.Point) orb.Point { return orb.Point{p[0] - 10, p[1]} }); len(got) > 0 {
		t.Errorf("a place 10 m on: %q", got)
	}
	a.Plan, b.Plan = orb.Point{}, orb.Point{}
	if got := shape.Differ(&a, &b, func(p orb.Point) orb.Point { return orb.Point{p[0] - 10, p[1]} }); len(got) > 0 {
		t.Errorf("the origin in both is no place: %q", got)
	}
	a.Depth, b.Depth = math.NaN(), math.NaN()
	if got := shape.Differ(&a, &b, stay); len(got) > 0 {
		t.Errorf("no number in both: %q", got)
	}
	a.Next = &a // a ring of pointers ends
	b.Next = &b
	if got := shape.Differ(&a, &b, stay); len(got) > 0 {
		t.Errorf("%q", got)
	}
	many, other := make([]int, 30), make([]int, 30)
	for i := range many {
		other[i] = 1
	}
	if got := shape.Differ(many, other, stay); len(got) != 10 || got[0] != "[0]: 1, not 0" {
		t.Errorf("%d differences are told, want 10: %q", len(got), got[0])
	}
}
