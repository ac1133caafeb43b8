//go:build screen

package export

import (
	"runnel/export/drawing/scene"
	"runnel/export/staged"
)

// A program that is built for the screen alone writes nothing on paper and no workbook: what sets those is half of the whole
// program's size, and a page fetches it when it is asked for.

func planOnPaper(string, []*scene.Scene) []staged.Output { return nil }

func reportOnPaper(*order) []staged.Output { return nil }

func scheduleFiles(*order) ([]staged.Output, error) { return nil, nil }

func setOutFiles(*order) ([]staged.Output, error) { return nil, nil }
