package surveysheet

import (
	"bytes"
	"testing"

	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
	"runnel/export/sample"
)

// A sheet of an unknown roof and one of the sample, thing by thing as they were read.
func TestGoldenSheets(t *testing.T) {
	for name, s := range map[string]*Sheet{
		"unknown": {Units: record.US},
		"sample":  {Units: record.SI, Book: record.NewBook(sample.Study(sample.Local()), "", record.SI)},
	} {
		pages, err := s.pages()
		if err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, name+".txt", scenetest.Told(pages))
		var csv bytes.Buffer
		if err := s.WriteCSV(&csv); err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, name+".csv", csv.String())
	}
}
