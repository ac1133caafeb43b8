package record_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"runnel/export/drawing/scene/scenetest"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/summary"
	"runnel/export/text"
)

// The page and the summary of the sample in metres, and of the same in feet in a storm, as they were read. By hand: the drain stands 20 mm above a roof that falls
// 2 % along the low line and 0.5 % across it, so that its pond is 8 m2 and holds a third of 8 x 0.02 m3: 53 kg, 20 mm deep, 0.20 kPa.
func TestGoldenWords(t *testing.T) {
	for name, b := range map[string]*record.Book{
		"metres": record.NewBook(sample.Study(sample.Local()), "", record.SI),
		"storm":  record.NewBook(sample.Storm(sample.Feet()), "", record.US),
	} {
		var page, object, lines bytes.Buffer
		if err := text.Write(&page, model.Of(b)); err != nil {
			t.Fatal(err)
		}
		if err := summary.Write(&object, model.Of(b)); err != nil {
			t.Fatal(err)
		}
		if err := json.Indent(&lines, object.Bytes(), "", " "); err != nil {
			t.Fatal(err)
		}
		scenetest.AsRead(t, name+".txt", page.String())
		scenetest.AsRead(t, name+".json", lines.String())
	}
}
