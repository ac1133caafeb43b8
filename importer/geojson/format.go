package geojson

import (
	"bytes"
	"path/filepath"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/textfile"
	"runnel/importer/draft"
)

// Format is GeoJSON.
var Format = &draft.Format{
	Name: "geojson", Noun: "GeoJSON", Extensions: []string{".geojson"}, Shared: map[string]string{".json": `"FeatureCollection"`},
	Outlines: true, Geographic: true, // RFC 7946, section 4: longitude and latitude
	Smaller: "give the spots as a point file", Is: looksLikeJSON, Fault: textfile.NotText,
	Opener: func(draft.Options, *roof.Refusal) draft.Opener { return draft.OpenerOf(Open) },
}

// looksLikeJSON reports whether a file is GeoJSON by its first sign, or by its name.
func looksLikeJSON(name string, head []byte) bool {
	head = bytes.TrimSpace(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")))
	if len(head) > 0 && (head[0] == '{' || head[0] == '[') {
		return true
	}
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".geojson" || ext == ".json"
}

// Stated returns the unit and the frame that the members state.
func (d *Document) Stated() (unit quantity.Unit, frame string) { return d.Units, d.Frame }
