package compared_test

import (
	"bytes"
	"errors"
	"testing"

	"runnel/analysis/change"
	"runnel/export/compared"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
)

// The sample once as found and once with its drain set down by 15 mm of its 20 and a part 30 mm lower, as it was read.
func TestGoldenComparison(t *testing.T) {
	for name, u := range map[string]record.Units{"si": record.SI, "us": record.US} {
		before, after := sample.Local(), sample.Local()
		after.Outlets[0].Invert -= 0.015
		for i := range after.Spots {
			if s := &after.Spots[i]; s.Plan[0] > 8 && s.Plan[0] < 13 && s.Plan[1] > 2 && s.Plan[1] < 8 {
				s.Z -= 0.03
			}
		}
		c := compared.New(record.NewBook(sample.Study(before), "", u), record.NewBook(sample.Study(after), "", u), change.Options{})
		var text, object, csv, geo bytes.Buffer
		if err := errors.Join(c.WriteText(&text), c.WriteJSON(&object), c.WriteCSV(&csv), c.WriteGeoJSON(&geo)); err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, name+".txt", text.String())
		scenetest.AsRead(t, name+".json", object.String())
		scenetest.AsRead(t, name+".csv", csv.String())
		scenetest.AsRead(t, name+".geojson", geo.String())
	}
}
