package export

import (
	"io"
	"slices"

	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/model"
	"runnel/export/report"
	"runnel/export/staged"
	"runnel/export/summary"
	"runnel/export/taped"
)

// Kind is a kind of file, by the name that --write gives it.
type Kind string

// The kinds of file that callers name.
const (
	GeoJSON  Kind = "geojson"
	GPKG     Kind = "gpkg"
	JSON     Kind = "json"
	Plan     Kind = "plan"
	Report   Kind = "report"
	Schedule Kind = "schedule"
	SetOut   Kind = "setout"
)

// What ends the names of files that more than one kind of survey is written as.
const (
	mapEnd     = ".geojson"
	localEnd   = ".local" // before mapEnd: the coordinates are no degrees
	summaryEnd = ".json"
	nextCSV    = ".nextspots.csv" // where to shoot, or to read, more spots
)

// order is what files are to be made of a roof, or which there may be.
type order struct {
	Options
	model  *model.Model     // nil: only the names of all files that there may be are asked for
	frames []roof.FrameKind // that the roof may be in; one where there is a model
}

// tapeOrder is what files are to be made of a roof that was measured with tape, chalk and ruler.
type tapeOrder struct {
	book *taped.Book // nil: only their names are asked for
	stem string
	plan drawing.Options
}

// row is a kind of file: what it writes of a roof and of one measured with tape (nil: nothing), and whether a check of many
// roofs and a correction write it unless told otherwise.
type row struct {
	kind              Kind
	campus, corrected bool
	files             func(*order) ([]staged.Output, error)
	taped             func(*tapeOrder) ([]staged.Output, error)
}

// rows are the kinds of file, in the order of writing.
var rows = []row{
	{GeoJSON, true, true, layerFiles, tapedMap},
	{GPKG, false, false, packageFiles, nil},
	{JSON, true, true, summaryFile, tapedSummary},
	{Plan, false, true, planFiles, tapedPlan},
	{Report, false, false, reportFiles, nil},
	{Schedule, false, false, scheduleFiles, nil},
	{SetOut, false, true, setOutFiles, tapedNext},
}

// Kinds returns every kind that Write knows.
func Kinds() []Kind { return kindsWith(func(*row) bool { return true }) }

// CampusKinds returns the kinds that a check of many roofs writes unless told otherwise.
func CampusKinds() []Kind { return kindsWith(func(r *row) bool { return r.campus }) }

// CorrectedKinds returns the kinds that are written of a corrected roof unless told otherwise.
func CorrectedKinds() []Kind { return kindsWith(func(r *row) bool { return r.corrected }) }

// TapeKinds returns the kinds of file that a roof of tape, chalk and ruler is written as.
func TapeKinds() []Kind { return kindsWith(func(r *row) bool { return r.taped != nil }) }

func kindsWith(wanted func(*row) bool) []Kind {
	var out []Kind
	for i := range rows {
		if wanted(&rows[i]) {
			out = append(out, rows[i].kind)
		}
	}
	return out
}

// gather returns the files of these kinds, in the order of writing.
func gathered(kinds []Kind, files func(*row) ([]staged.Output, error)) ([]staged.Output, error) {
	var all []staged.Output
	for i := range rows {
		if !slices.Contains(kinds, rows[i].kind) {
			continue
		}
		more, err := files(&rows[i])
		if err != nil {
			return nil, err
		}
		all = append(all, more...)
	}
	return all, nil
}

func (o *order) outputs(kinds []Kind) ([]staged.Output, error) {
	return gathered(kinds, func(r *row) ([]staged.Output, error) { return r.files(o) })
}

func (o *tapeOrder) outputs(kinds []Kind) ([]staged.Output, error) {
	return gathered(kinds, func(r *row) ([]staged.Output, error) {
		if r.taped == nil {
			return nil, nil
		}
		return r.taped(o)
	})
}

func names(files []staged.Output) []string {
	return gather.Each(files, func(x staged.Output) string { return x.Name })
}

// layerFiles are the map, or a file for each of its layers.
func layerFiles(o *order) ([]staged.Output, error) {
	layers := []string{""}
	switch {
	case o.Split && o.model != nil:
		layers = layer.Of(o.model.Book, o.Facets)
	case o.Split:
		layers = layer.All()
	}
	var all []staged.Output
	for _, one := range layers {
		for _, frame := range o.frames {
			name := o.Stem
			if one != "" {
				name += "." + one
			}
			if frame == roof.Local && !o.RoofFile {
				name += localEnd
			}
			all = append(all, staged.Output{Name: name + mapEnd, Write: func(w io.Writer) error {
				if one == "" {
					return geojson.Write(w, o.model.Book, layer.Of(o.model.Book, o.Facets)...)
				}
				return geojson.Write(w, o.model.Book, one)
			}})
		}
	}
	return all, nil
}

func summaryFile(o *order) ([]staged.Output, error) {
	return []staged.Output{{Name: o.Stem + summaryEnd, Write: func(w io.Writer) error { return summary.Write(w, o.model) }}}, nil
}

// planFiles are the plan. The report shows it as well where it is on the usual sheet.
func planFiles(o *order) ([]staged.Output, error) {
	var sheets []*scene.Scene
	var err error
	switch {
	case o.model == nil:
	case o.Plan == drawing.Options{}:
		sheets, err = o.model.Plan()
	default:
		sheets, err = drawing.Plan(o.model.Book, o.Plan)
	}
	return drawn(o.Stem, sheets), err
}

// drawn is a drawing for the screen and for paper.
func drawn(stem string, sheets []*scene.Scene) []staged.Output {
	return append([]staged.Output{
		{Name: stem + ".plan.svg", Write: func(w io.Writer) error { return svg.Write(w, sheets...) }},
	}, planOnPaper(stem, sheets)...)
}

// reportFiles are the report for the browser and on paper.
func reportFiles(o *order) ([]staged.Output, error) {
	return append([]staged.Output{
		{Name: o.Stem + ".report.html", Write: func(w io.Writer) error { return report.Write(w, o.model) }},
	}, reportOnPaper(o)...), nil
}
