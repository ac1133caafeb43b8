package chart_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"runnel/export/chart"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/scene/scenetest"
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

// What a ruler finds on a chart of 180 by 60 mm, whose plot is 157 mm wide from 17 and 60-6-12 = 42 high from 6: numbers centred below their ticks and right-aligned before them, at equal steps; the label of an axis along its middle;
// rain hangs from the top, its half half as deep, and never reaches down to where the lines begin, 10 mm below; no text covers another, stands in the plot or leaves the sheet.
func TestChartByRuler(t *testing.T) {
	c := chart.Chart{
		Name: "flow-1", Words: "words", X: chart.Axis{Label: "minutes", Most: 60, Step: 10}, Y: chart.Axis{Label: "flow, L/s", Most: 10, Step: 5},
		Lines: []chart.Line{{Name: "first", X: []float64{0, 60}, Y: []float64{0, 10}}, {Name: "second", Stroke: 1, X: []float64{0, 60}, Y: []float64{10, 10}}},
		Top:   &chart.Steps{Name: "rain", Time: []float64{0, 30, 60}, Rate: []float64{2, 1}},
	}
	s := c.Draw(180, 60)
	plot, l := scene.Rect{X: 17, Y: 6, W: 157, H: 42}, s.Layers[0]
	at := map[string]scene.Rect{}
	for i := range l.Texts {
		x := &l.Texts[i]
		b := x.Bounds()
		if !b.Within(scene.Rect{W: 180, H: 60}) || b.Overlaps(plot.Inset(0.3)) {
			t.Errorf("%q at %v leaves the sheet or stands in the plot", x.String, b)
		}
		for k := range i {
			if b.Overlaps(l.Texts[k].Bounds()) {
				t.Errorf("%q covers %q", x.String, l.Texts[k].String)
			}
		}
		key := x.String
		if _, taken := at[key]; taken { // the 0 and 10 of the other axis
			key += " of y"
		}
		at[key] = b
	}
	off := func(what string, got, want, tolerance float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tolerance) {
			t.Errorf("%s at %.2f mm, want %.2f", what, got, want)
		}
	}
	for i, n := range []string{"0", "10", "20", "30", "40", "50", "60"} {
		b := at[n]
		off(n, b.X+b.W/2, 17+157*float64(i)/6, 0.02)
		if gap := b.Y - 48; !(gap > 0.2 && gap < 3) {
			t.Errorf("%s stands %.2f mm below the plot", n, gap)
		}
	}
	for i, n := range []string{"0 of y", "5", "10 of y"} {
		b := at[n]
		off(n, b.Y+b.H/2, 48-32*float64(i)/2, 0.5)
		if gap := 17 - b.X - b.W; !(gap > 0.5 && gap < 3) {
			t.Errorf("%s stands %.2f mm before the plot", n, gap)
		}
	}
	off("minutes", at["minutes"].X+at["minutes"].W/2, 17+157.0/2, 0.02)
	off("flow", at["flow, L/s"].Y+at["flow, L/s"].H/2, 48-16, 0.02)
	ticks := map[float64]bool{} // of vertical lines, by their place
	for _, shape := range l.Shapes {
		path := shape.Paths[0]
		switch {
		case shape.Closed && len(path) == 6: // rain
			if deep := path[1].Y - 6; !(deep > 5 && deep < 9.5) {
				t.Errorf("rain hangs %v mm deep", deep)
			}
			off("half the rain", path[3].Y, 6+(path[1].Y-6)/2, 0.01)
			off("its change", path[2].X, 17+157.0/2, 0.01)
		case len(path) == 2 && path[0].X == path[1].X:
			off("the foot of a tick", math.Max(path[0].Y, path[1].Y), 48, 0.01)
			off("its top", math.Min(path[0].Y, path[1].Y), 6, 0.01)
			ticks[path[0].X] = true
		case !shape.Closed && len(path) == 2 && path[0].Y == path[1].Y && path[1].X-path[0].X < 20: // a piece of a line, before its name in the key
			for _, name := range []string{"first", "second"} {
				if b := at[name]; b.X > path[0].X && b.X-path[1].X < 3 {
					off("the middle of "+name, b.Y+b.H/2, path[0].Y, 0.5)
				}
			}
			if path[1].Y > 6 {
				t.Errorf("the key reaches into the plot: %v", path)
			}
		}
	}
	if len(ticks) != 7 {
		t.Errorf("%d ticks", len(ticks))
	}
}

// Three lines over two blocks of rain on a chart whose key takes two rows, and one line by itself, thing by thing as they were read beside the picture.
func TestGoldenChart(t *testing.T) {
	c := chart.Chart{
		Name: "flow-1", Words: "Flow of outlet RD-1", X: chart.Axis{Label: "minutes after the rain begins", Most: 60, Step: 10}, Y: chart.Axis{Label: "flow, L/s", Most: 10, Step: 2},
		Lines: []chart.Line{
			{Name: "outlets as stated", X: []float64{0, 10, 10.01, 10.02, 60, 70}, Y: []float64{0, 4, 4, 4.01, 1, 0}},
			{Name: "every primary outlet blocked", Stroke: 1, X: []float64{0, 60}, Y: []float64{0, 8}},
			{Name: "half clogged", Stroke: 2, X: []float64{5, 60}, Y: []float64{0, 10}},
		},
		Top: &chart.Steps{Name: "rain, at most 75 mm/h", Time: []float64{5, 30, 60}, Rate: []float64{75, 30}},
	}
	d := chart.Chart{Name: "pond-1", Words: "Depth against volume", X: chart.Scale("water, m³", 3.2), Y: chart.Scale("depth, mm", 160), Lines: []chart.Line{{Name: "water below the level", X: []float64{0, 0.8, 3.2}, Y: []float64{0, 80, 160}}, {Name: "a place", X: []float64{1}, Y: []float64{1}}}}
	scenes := []*scene.Scene{c.Draw(120, 60), d.Draw(90, 50)}
	scenetest.AsRead(t, "charts.txt", scenetest.Told(scenes))
}
