package importer

import (
	"runnel/analysis/roof"
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

// detect returns the format of a file, by its beginning or, where head is nil, by its name alone.
func detect(name string, head []byte) *draft.Format {
	for _, f := range formats {
		if f.Is(name, head) {
			return f
		}
	}
	return points.Format
}

// openers returns what opens the files of each format.
func openers(o draft.Options, problems *roof.Refusal) map[*draft.Format]draft.Opener {
	all := make(map[*draft.Format]draft.Opener, len(formats))
	for _, f := range formats {
		all[f] = f.Opener(o, problems)
	}
	return all
}
