package drawing_test

import (
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
