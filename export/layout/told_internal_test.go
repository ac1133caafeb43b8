package layout

import (
	"testing"

	"runnel/analysis/correction/mend"
	"runnel/export/drawing/scene/scenetest"
	"runnel/export/record"
)

// The sheets of a drain that is set down, and of a level roof laid out anew in feet, thing by thing as they were read.
func TestGoldenSheets(t *testing.T) {
	_, pages := pagesOf(t, drawn(t, proud()))
	scenetest.AsRead(t, "proud.txt", scenetest.Told(pages))
	_, pages = pagesOf(t, set(t, flat(), record.US, mend.Retaper))
	scenetest.AsRead(t, "flat.txt", scenetest.Told(pages))
}
