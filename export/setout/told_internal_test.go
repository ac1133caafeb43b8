package setout

import (
	"bytes"
	"testing"

	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
)

// The sheet and the table of the sample, thing by thing as they were read: its low line runs at x = 6, its ridge at x = 14, its drain stands at (6, 6), 20 mm above the roof.
func TestGoldenSheet(t *testing.T) {
	r := sample.Local()
	b := record.NewBook(sample.Study(r), "", record.SI)
	s, err := New(b, "")
	if err != nil {
		t.Fatal(err)
	}
	scenetest.AsRead(t, "sheet.txt", scenetest.Told(s.pages()))
	var csv, next bytes.Buffer
	if err := s.WriteCSV(&csv); err != nil {
		t.Fatal(err)
	}
	if err := WriteNextSpots(b, &next); err != nil {
		t.Fatal(err)
	}
	scenetest.AsRead(t, "sheet.csv", csv.String()+next.String())
	feet, err := New(record.NewBook(sample.Study(sample.Feet()), "", record.US), "")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := feet.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	scenetest.AsRead(t, "feet.csv", out.String())
}
