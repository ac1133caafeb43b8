package page

import (
	"math"
	"testing"
)

// By hand: where texts take less than the width, all columns grow by the same factor; where they take more, the widest give way to one limit
// first, but none below its longest word; where even these are too wide, all shrink by the same factor.
func TestWidthsOfColumns(t *testing.T) {
	for _, c := range []struct {
		name        string
		least, most []float64
		width       float64
		want        []float64
	}{
		{"just so", []float64{10, 10, 10}, []float64{20, 50, 90}, 160, []float64{20, 50, 90}},
		{"room to spare: half as much again", []float64{10, 10, 10}, []float64{20, 50, 90}, 240, []float64{30, 75, 135}},
		{"the widest gives way", []float64{10, 10, 10}, []float64{20, 50, 90}, 130, []float64{20, 50, 60}},
		{"the two widest, to 40 each", []float64{10, 10, 10}, []float64{20, 50, 90}, 100, []float64{20, 40, 40}},
		{"a long word keeps its 60", []float64{60, 10, 10}, []float64{60, 50, 90}, 120, []float64{60, 30, 30}},
		{"too narrow for the words: by half", []float64{40, 60, 100}, []float64{40, 60, 100}, 100, []float64{20, 30, 50}},
		{"one column", []float64{5}, []float64{7}, 100, []float64{100}},
	} {
		got := fit(c.least, c.most, c.width)
		for i, w := range c.want {
			if !(math.Abs(got[i]-w) <= 0.0101) {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}
