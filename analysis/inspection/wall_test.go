package inspection_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// TestFeetOfWalls: a roof of 24 by 12 m falls 2 % to its south wall, which has scuppers at 6 and 18 m. The wall is level from its ends to the scuppers, 6 m each, and over
// 12 m between them. What turns the water to the scuppers takes the note away: a fall of 1.5 % along the wall, crickets whose crowns rise 2.5 % from the scuppers; so does
// a gutter, which takes what comes.
func TestFeetOfWalls(t *testing.T) {
	field := func(_, y float64) float64 { return 10 + 0.02*y }
	cricket := func(x float64) float64 { return 10 + 0.025*math.Min(math.Abs(x-6), math.Abs(x-18)) }
	for _, c := range []struct {
		name   string
		height func(x, y float64) float64
		edge   roof.EdgeType
		length float64 // m
		places int
	}{
		{"level", field, roof.Wall, 24, 3},
		{"falls along", func(x, y float64) float64 { return 10 + 0.02*y + 0.015*x }, roof.Wall, 0, 0},
		{"crickets", func(x, y float64) float64 { return math.Max(field(x, y), cricket(x)) }, roof.Wall, 0, 0},
		{"one cricket missing", func(x, y float64) float64 {
			if x > 6 && x < 18 {
				return field(x, y)
			}
			return math.Max(field(x, y), cricket(x))
		}, roof.Wall, 12, 1},
		{"gutter", field, roof.Gutter, 0, 0},
	} {
		r := shape.New("wall", shape.At(0, 0, c.height(0, 0)), shape.At(24, 0, c.height(24, 0)), shape.At(24, 12, c.height(24, 12)), shape.At(0, 12, c.height(0, 12)))
		shape.Grid(r, 0, 0, 24, 12, 24, 12, c.height)
		shape.Edge(r, c.edge, shape.Bare(0, 0), shape.Bare(24, 0))
		for _, x := range []float64{6, 18} {
			shape.Scupper(r, x, 0, 0.3)
		}
		f := of(run(t, readBy(r, 0.002), nil), finding.WallFlat)
		if c.places == 0 {
			if len(f) != 0 {
				t.Errorf("%s: %s", c.name, plain(f[0].What))
			}
			continue
		}
		if len(f) != 1 || f[0].Severity != finding.Note || !(math.Abs(measured(f[0], "length")-c.length) <= 0.01) {
			t.Errorf("%s: %+v, want %g m of wall", c.name, f, c.length)
		} else if many := strings.Contains(plain(f[0].What), "3 stretches"); many != (c.places == 3) {
			t.Errorf("%s: %s", c.name, plain(f[0].What))
		}
	}
}
