package drawing_test

import (
	"math"
	"testing"

	"runnel/export/drawing"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
)

// The plan of the sample on paper, and its picture with a key, thing by thing as they were read.
func TestGoldenPlan(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	plan, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scenetest.AsRead(t, "plan.txt", scenetest.Told(append(plan, drawing.Keyed(b, 150, 90))))
}

// The same in feet while a storm runs over it.
func TestGoldenPlanOfAStorm(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Feet()), "", record.US)
	plan, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scenetest.AsRead(t, "storm.txt", scenetest.Told(plan))
}

// By hand: a roof of 20 by 12 m in 42 by 40 mm less 1 mm each side goes by its width, 2 mm a metre: 42 by 26; in 60 by 14 mm by its height, 1 mm a metre: 22 by 14.
func TestThumbsFitTheirRoom(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	for _, c := range [][4]float64{{42, 40, 42, 26}, {60, 14, 22, 14}} {
		if n := drawing.NewThumbs(b, c[0], c[1]); !(math.Abs(n.Width-c[2]) <= 0.011) || !(math.Abs(n.Height-c[3]) <= 0.011) {
			t.Errorf("in %g by %g: %g by %g, want %g by %g", c[0], c[1], n.Width, n.Height, c[2], c[3])
		}
	}
}
