package chart_test

import (
	"bytes"
	"strings"
	"testing"

	"runnel/export/chart"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
)

// By hand: about five steps of 1, 2 or 5 tens, and the axis ends at or above the greatest value.
func TestScale(t *testing.T) {
	for _, c := range []struct{ most, end, step float64 }{
		{60, 60, 20}, {34, 40, 10}, {0.9, 1, 0.2}, {1, 1, 0.2}, {10, 10, 2}, {5.1, 6, 2}, {0.034, 0.04, 0.01}, {0, 1, 1},
	} {
		a := chart.Scale("x", c.most)
		if near(a.Most, c.end) && near(a.Step, c.step) {
			continue
		}
		t.Errorf("to %v: end %v, step %v, want %v, %v", c.most, a.Most, a.Step, c.end, c.step)
	}
}

// On a narrow chart the key takes as many rows as it needs: every name and piece of line stays on the chart and over the plot, and no two
// names lie over each other.
func TestKeyOfANarrowChart(t *testing.T) {
	c := chart.Chart{
		Name: "flow-1", Words: "flow", X: chart.Axis{Label: "min", Most: 60, Step: 10}, Y: chart.Axis{Label: "gpm", Most: 10, Step: 5},
		Lines: []chart.Line{{Name: "outlets as stated", X: []float64{0, 60}, Y: []float64{0, 5}}, {Name: "every primary outlet blocked", Stroke: 1, X: []float64{0, 60}, Y: []float64{0, 10}}, {Name: "two primary outlets blocked", Stroke: 2, X: []float64{0, 60}, Y: []float64{0, 10}}},
		Top:   &chart.Steps{Name: "rain, at most 75 mm/h", Time: []float64{0, 30}, Rate: []float64{2}},
	}
	s := c.Draw(110, 60)
	if wide := c.Draw(300, 60); wide.Height != 60 || s.Height <= 60 {
		t.Errorf("%v high with room for the key, %v without", wide.Height, s.Height)
	}
	var names []scene.Text
	for _, text := range s.Layers[0].Texts {
		if text.At.X < 0 || !text.Turned && text.Anchor == scene.Start && text.At.X+text.Width > 110 || text.At.Y > s.Height {
			t.Errorf("%q lies off the chart", text.String)
		}
		if text.Anchor == scene.Start && !text.Turned {
			names = append(names, text)
		}
	}
	if len(names) != 4 {
		t.Fatalf("%d names in the key", len(names))
	}
	for i, a := range names {
		if a.At.Y > s.Height-60+6 { // by hand: the plot begins 6 mm under the top of a chart of one row
			t.Errorf("%q lies in the plot", a.String)
		}
		for _, b := range names[:i] {
			if a.At.Y == b.At.Y && a.At.X < b.At.X+b.Width && b.At.X < a.At.X+a.Width {
				t.Errorf("%q lies over %q", a.String, b.String)
			}
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9*b && b-a < 1e-9*b }

// A triangle of flow under one block of rain. By hand: the plot is 180-17-6 = 157 mm wide from 17, so minute 30 of 60 lies at 95.5;
// 60-6-12-10 = 32 mm of its height are for the flow, so 5 of 10 lies 16 mm over its foot at 48.
func TestPointsLieWhereTheirValuesAre(t *testing.T) {
	c := chart.Chart{
		Name: "flow-1", Words: "A flow <that> rises & falls", X: chart.Axis{Label: "min", Most: 60, Step: 10}, Y: chart.Axis{Label: "gpm", Most: 10, Step: 5},
		Lines: []chart.Line{{Name: "flow", X: []float64{0, 30, 60}, Y: []float64{0, 5, 0}}, {Name: "other", Stroke: 1, X: []float64{0, 60}, Y: []float64{10, 10}}},
		Top:   &chart.Steps{Name: "rain", Time: []float64{0, 30}, Rate: []float64{2}},
	}
	s := c.Draw(180, 60)
	found, dashed := false, 0
	for _, shape := range s.Layers[0].Shapes {
		for _, path := range shape.Paths {
			if len(path) == 3 && path[1] == (scene.Point{X: 95.5, Y: 32}) {
				found = true
			}
			for _, p := range path {
				if p.X < 0 || p.X > 180 || p.Y < 0 || p.Y > 60 {
					t.Errorf("%v lies off the chart", p)
				}
			}
		}
		if shape.Dash != nil {
			dashed++
		}
	}
	if !found {
		t.Error("the peak is not where it should be")
	}
	if dashed == 0 {
		t.Error("the two lines differ by colour alone")
	}
	var out bytes.Buffer
	if err := svg.Write(&out, s); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "<title>A flow &lt;that&gt; rises &amp; falls</title>") {
		t.Error("what the chart shows does not stand in it as text")
	}
}
