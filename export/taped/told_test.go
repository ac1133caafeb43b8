package taped_test

import (
	"bytes"
	"strings"
	"testing"

	"runnel/export/drawing"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/taped"
)

// What is written of two roofs measured by tape, as it was read.
func TestGoldenTaped(t *testing.T) {
	for name, text := range map[string]string{"shed": shed, "metric": metric} {
		b := bookOf(t, text)
		var page, next, roofMap bytes.Buffer
		if err := taped.Write(&page, b); err != nil {
			t.Fatal(err)
		}
		if err := taped.WriteNext(&next, b); err != nil {
			t.Fatal(err)
		}
		if err := taped.WriteMap(&roofMap, b); err != nil {
			t.Fatal(err)
		}
		plan, err := taped.Plan(b, drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		before, _, _ := strings.Cut(page.String(), "\nWARNINGS") // which name files
		scenetest.AsRead(t, name+".txt", before)
		scenetest.AsRead(t, name+".csv", next.String())
		scenetest.AsRead(t, name+".geojson", roofMap.String())
		scenetest.AsRead(t, name+"-plan.txt", scenetest.Told(append(plan, taped.Picture(b, 120, 60))))
	}
}
