package surveyfile

import (
	"runnel/importer/draft"
	"runnel/importer/geojson"
	"runnel/importer/las"
	"runnel/importer/points"
)

// formats are the ways in which files may be written, a package each. The first that claims a file has it; points
// claims every file.
var formats = []*draft.Format{
	geojson.Format,
	las.Format,
	points.Format,
}

// Formats returns all formats.
func Formats() []*draft.Format { return formats }

// Detect returns the format of a file, by its beginning or, where head is nil, by its name alone.
func Detect(name string, head []byte) *draft.Format {
	for _, f := range formats {
		if f.Is(name, head) {
			return f
		}
	}
	return points.Format
}
