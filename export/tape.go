package export

import (
	"io"
	"slices"

	"runnel/export/drawing"
	"runnel/export/staged"
	"runnel/export/taped"
)

// TapeKinds returns the kinds of file that a roof of tape, chalk and ruler is written as.
func TapeKinds() []Kind { return []Kind{GeoJSON, JSON, Plan, SetOut} }

// TapeOutputs returns the files of the given kinds of a roof that was measured with tape, chalk and ruler: of the set-out kind the spots to
// read next. The error is a *drawing.FitError where the plan does not fit on its sheet at the scale asked for.
func TapeOutputs(b *taped.Book, kinds []Kind, stem string, o drawing.Options) ([]staged.Output, error) {
	var all []staged.Output
	add := func(name string, write func(io.Writer, *taped.Book) error) {
		all = append(all, staged.Output{Name: stem + name, Write: func(w io.Writer) error { return write(w, b) }})
	}
	if slices.Contains(kinds, GeoJSON) {
		add(".local.geojson", taped.WriteMap)
	}
	if slices.Contains(kinds, JSON) {
		add(".json", taped.WriteSummary)
	}
	if slices.Contains(kinds, Plan) {
		sheets, err := taped.Plan(b, o)
		if err != nil {
			return nil, err
		}
		all = append(all, plans(sheets, stem)...)
	}
	if slices.Contains(kinds, SetOut) {
		add(nextCSV, taped.WriteNext)
	}
	return all, nil
}

// TapeNames returns the names of the files of TapeOutputs.
func TapeNames(stem string, kinds []Kind) []string {
	var names []string
	for _, k := range kinds {
		switch k {
		case GeoJSON:
			names = append(names, stem+".local.geojson")
		case JSON:
			names = append(names, stem+".json")
		case Plan:
			for _, output := range plans(nil, stem) {
				names = append(names, output.Name)
			}
		case SetOut:
			names = append(names, stem+nextCSV)
		case Report, Schedule:
		}
	}
	return names
}
