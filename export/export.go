// Package export writes a study's files: the annotated GeoJSON, the summary and the sheets.
//
// Every file is written under a temporary name in its own folder and renamed when all are whole (package staged): a
// run that fails leaves nothing behind, and a reader never sees half a file.
package export

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"runnel/analysis/roof"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
	"runnel/export/geojson"
	"runnel/export/model"
	"runnel/export/paged"
	"runnel/export/report"
	"runnel/export/schedule"
	"runnel/export/setout"
	"runnel/export/staged"
	"runnel/export/summary"
)

// Kind is a kind of file.
type Kind string

// The kinds of file, in the order of writing.
const (
	GeoJSON  Kind = "geojson"
	JSON     Kind = "json"
	Plan     Kind = "plan"
	Report   Kind = "report"
	Schedule Kind = "schedule"
	SetOut   Kind = "setout"
)

// Kinds returns every kind that Write knows.
func Kinds() []Kind { return []Kind{GeoJSON, JSON, Plan, Report, Schedule, SetOut} }

// CampusKinds returns the kinds that a check of many roofs writes unless told otherwise.
func CampusKinds() []Kind { return []Kind{GeoJSON, JSON} }

// Options are how files are written.
type Options struct {
	Stem      string // what every file's name begins with; see Stem
	Split     bool   // one GeoJSON a layer
	BenchMark string // of the set-out sheet: an outlet's label or id, or a spot's id; empty for the usual one
	Plan      drawing.Options
	RoofFile  bool // the GeoJSON is a corrected roof, "<stem>.geojson" also on a site grid
}

// Write stages the given kinds of file of m; Commit of what it returns puts them in place. The error is a *staged.InputError
// or wraps staged.ErrExists where something stands in the way, and is a *drawing.FitError where the plan does not fit on
// its sheet at the scale asked for.
func Write(m *model.Model, kinds []Kind, to staged.Target, o Options) (*staged.Set, error) {
	all, err := Outputs(m, kinds, o)
	if err != nil {
		return nil, err
	}
	return staged.Stage(to, all)
}

// Outputs returns the given kinds of file of m, to be staged. The error is a *drawing.FitError where the plan does not
// fit on its sheet at the scale asked for.
func Outputs(m *model.Model, kinds []Kind, o Options) ([]staged.Output, error) {
	all := outputs(m, kinds, o)
	if !slices.Contains(kinds, Plan) {
		return all, nil
	}
	plan, err := planOf(m, o.Plan)
	if err != nil {
		return nil, err
	}
	return append(all, plans(plan, o.Stem)...), nil
}

// planOf returns the plan, which the report shows as well where it is on the usual sheet.
func planOf(m *model.Model, o drawing.Options) ([]*scene.Scene, error) {
	if o == (drawing.Options{}) {
		return m.Plan()
	}
	return drawing.Plan(m.Book, o)
}

// plans are the plan as a drawing for the screen and for paper.
func plans(sheets []*scene.Scene, stem string) []staged.Output {
	return []staged.Output{
		{Name: stem + ".plan.svg", Write: func(w io.Writer) error { return svg.Write(w, sheets...) }},
		{Name: stem + ".plan.pdf", Write: func(w io.Writer) error { return pdf.Write(w, sheets...) }},
	}
}

func outputs(m *model.Model, kinds []Kind, o Options) []staged.Output {
	var all []staged.Output
	local := m.Book.Study.Roof.Frame.Kind == roof.Local && !o.RoofFile
	switch {
	case !slices.Contains(kinds, GeoJSON):
	case o.Split:
		for _, layer := range geojson.Layers(m.Book) {
			all = append(all, staged.Output{Name: name(o.Stem, layer, local), Write: func(w io.Writer) error {
				return geojson.Write(w, m.Book, layer)
			}})
		}
	default:
		all = append(all, staged.Output{Name: name(o.Stem, "", local), Write: func(w io.Writer) error { return geojson.Write(w, m.Book) }})
	}
	if slices.Contains(kinds, JSON) {
		all = append(all, staged.Output{Name: o.Stem + ".json", Write: func(w io.Writer) error { return summary.Write(w, m) }})
	}
	if slices.Contains(kinds, Report) {
		all = append(all, reports(m, o.Stem)...)
	}
	if slices.Contains(kinds, Schedule) {
		all = append(all, schedules(m, o.Stem)...)
	}
	if slices.Contains(kinds, SetOut) {
		all = append(all, setOuts(m, o)...)
	}
	return all
}

// reports are the report for the browser and on paper.
func reports(m *model.Model, stem string) []staged.Output {
	return []staged.Output{
		{Name: stem + reportHTML, Write: func(w io.Writer) error { return report.Write(w, m) }},
		{Name: stem + reportPDF, Write: func(w io.Writer) error { return paged.Write(w, m) }},
	}
}

// schedules are the workbook and its tables as CSV, those that there may be where m is nil.
func schedules(m *model.Model, stem string) []staged.Output {
	all := []staged.Output{{Name: stem + ".schedule.xlsx", Write: func(w io.Writer) error { return schedule.Write(w, m) }}}
	tables := schedule.AllTables()
	if m != nil {
		tables = schedule.Tables(m.Book)
	}
	for _, name := range tables {
		all = append(all, staged.Output{Name: stem + ".schedule." + name + ".csv", Write: func(w io.Writer) error {
			return schedule.WriteTable(w, m.Book, name)
		}})
	}
	return all
}

// The endings of the report and of the set-out sheet's files.
const (
	reportHTML = ".report.html"
	reportPDF  = ".report.pdf"

	setOutCSV = ".setout.csv"
	setOutPDF = ".setout.pdf"
	nextCSV   = ".nextspots.csv"
)

// setOuts are the set-out sheet as CSV and PDF.
func setOuts(m *model.Model, o Options) []staged.Output {
	sheet := sync.OnceValues(func() (*setout.Sheet, error) { return setout.New(m.Book, o.BenchMark) })
	with := func(write func(*setout.Sheet, io.Writer) error) func(io.Writer) error {
		return func(w io.Writer) error {
			s, err := sheet()
			if err != nil {
				return err
			}
			return write(s, w)
		}
	}
	return []staged.Output{
		{Name: o.Stem + setOutCSV, Write: with((*setout.Sheet).WriteCSV)},
		{Name: o.Stem + setOutPDF, Write: with((*setout.Sheet).WritePDF)},
		{Name: o.Stem + nextCSV, Write: func(w io.Writer) error { return setout.WriteNextSpots(m.Book, w) }},
	}
}

// Stem returns what the files of a roof begin with: the roof's name, or else the stem of its first file,
// in letters, digits and hyphens.
func Stem(r *roof.Roof) string {
	name := r.Name
	if name == "" && len(r.Inputs) > 0 {
		name = strings.TrimSuffix(filepath.Base(r.Inputs[0].Path), filepath.Ext(r.Inputs[0].Path))
	}
	return StemOf(name)
}

// longestStem keeps the names of files below what file systems take [bytes].
const longestStem = 80

// StemOf returns what the files of a roof of that name begin with, cut where it is very long; "roof" where no
// letter or digit is left.
func StemOf(name string) string {
	s := plain(name)
	if len(s) > longestStem {
		s = strings.TrimRight(s[:longestStem], "-")
	}
	if s != "" {
		return s
	}
	return "roof"
}

// plain keeps ASCII letters and digits and puts one hyphen for whatever else stands between them.
func plain(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(name) {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') {
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(r)
	}
	return b.String()
}

// Number makes names differ: the second of a kind gets "-2", the third "-3".
func Number(names []string) []string {
	used := make(map[string]bool, len(names))
	for _, n := range names {
		used[n] = false
	}
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = n
		for k := 2; used[out[i]]; k++ {
			out[i] = fmt.Sprintf("%s-%d", n, k)
		}
		used[out[i]] = true
	}
	return out
}

// Names returns the names of all files of these kinds that a roof of that stem may get, in the order of writing; split
// asks for one GeoJSON a layer, and frames are those that the roof may be in: any where none is given.
func Names(stem string, kinds []Kind, split bool, frames ...roof.FrameKind) []string {
	if frames == nil {
		frames = []roof.FrameKind{roof.Geographic, roof.Local}
	}
	var names []string
	if slices.Contains(kinds, GeoJSON) {
		for _, layer := range append([]string{""}, geojson.AllLayers()...) {
			if (layer != "") != split {
				continue
			}
			for _, f := range frames {
				names = append(names, name(stem, layer, f == roof.Local))
			}
		}
	}
	if slices.Contains(kinds, JSON) {
		names = append(names, stem+".json")
	}
	if slices.Contains(kinds, Plan) {
		for _, output := range plans(nil, stem) {
			names = append(names, output.Name)
		}
	}
	if slices.Contains(kinds, Report) {
		names = append(names, stem+reportHTML, stem+reportPDF)
	}
	if slices.Contains(kinds, Schedule) {
		for _, output := range schedules(nil, stem) {
			names = append(names, output.Name)
		}
	}
	if slices.Contains(kinds, SetOut) {
		names = append(names, stem+setOutCSV, stem+setOutPDF, stem+nextCSV)
	}
	return names
}

// name returns the name of a GeoJSON file; layer is empty for all in one.
func name(stem, layer string, local bool) string {
	if layer != "" {
		stem += "." + layer
	}
	if local {
		stem += ".local"
	}
	return stem + ".geojson"
}
