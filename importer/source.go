package importer

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/geojson"
	"runnel/importer/points"
)

// source is one input file: opened, then its unit and frame settled, then read.
type source struct {
	sigma    quantity.Length // standard error of elevations that state none, as a flag says; 0: none said
	path     string
	document *geojson.Document // of a GeoJSON file, else nil
	file     *points.File      // of a point file, else nil
	set      draft.Setting
	stated   bool // the unit was stated by the file or a flag
	draft    *draft.Draft
}

// open loads the files and finds out what each states. Files that cannot be read are added to problems.
func open(paths []string, o Options, problems *roof.Refusal) []*source {
	var sources []*source
	po := pointOptions(o, problems)
	for i, path := range paths {
		if slices.Contains(paths[:i], path) {
			refuse(problems, path, "the file is given twice", "name it once")
			continue
		}
		data, isGeoJSON, rule, mend := load(path)
		if rule != "" {
			refuse(problems, path, rule, mend)
			continue
		}
		s := &source{path: path}
		if isGeoJSON {
			s.document = geojson.Open(path, data, problems)
		} else {
			s.file = points.Open(path, data, po, problems)
		}
		if s.document != nil || s.file != nil {
			sources = append(sources, s)
		}
	}
	return sources
}

// maxCodeList bounds a list of codes [bytes].
const maxCodeList = 1 << 20

// pointOptions reads the code list and passes on what concerns point files.
func pointOptions(o Options, problems *roof.Refusal) points.Options {
	po := points.Options{Columns: o.Columns, HI: o.HI, KeepZero: o.KeepZero}
	if o.CodeList == "" {
		return po
	}
	if info, err := os.Stat(o.CodeList); err == nil {
		switch {
		case info.Mode()&fs.ModeNamedPipe != 0:
			refuse(problems, o.CodeList, "this is a pipe, not a file", "write what it gives into a file")
			return po
		case info.Size() > maxCodeList:
			refuse(problems, o.CodeList, fmt.Sprintf("the list of codes is over %d MB", maxCodeList>>20), "look whether it is the right file")
			return po
		}
	}
	data, _, rule, mend := load(o.CodeList)
	if rule != "" {
		refuse(problems, o.CodeList, rule, mend)
		return po
	}
	po.Codes = points.ParseCodeList(o.CodeList, data, problems)
	return po
}

// statedUnit returns the unit that the file itself states.
func (s *source) statedUnit() quantity.Unit {
	if s.document != nil {
		return s.document.Units
	}
	return s.file.Units
}

// statedFrame returns the frame that the file itself states, empty for none.
func (s *source) statedFrame() string {
	if s.document != nil {
		return s.document.Frame
	}
	return s.file.Frame
}

// frameName returns the frame in force, by name.
func (s *source) frameName() string {
	if s.set.Geographic {
		return "wgs84"
	}
	return "local"
}

// input describes the file for the roof's record.
func (s *source) input() roof.Input {
	format := "points"
	if s.document != nil {
		format = "geojson"
	}
	in := roof.Input{Path: s.path, Format: format, Units: s.set.Unit.String(), Frame: s.frameName(), Counts: map[string]int{}}
	d := s.draft
	for name, n := range map[string]int{
		"outline": len(d.Outlines), "edge": len(d.Edges), "spot": len(d.Spots), "breakline": len(d.Breaklines), "curb": len(d.Curbs),
		"outlet": len(d.Outlets), "core": len(d.Cores), "stain": len(d.Stains), "sill": len(d.Sills), "control": len(d.Controls),
	} {
		if n > 0 {
			in.Counts[name] = n
		}
	}
	return in
}

// stem is the name of a file without folder and extension.
func stem(path string) string {
	base := filepath.Base(path)
	base = strings.TrimSuffix(base, filepath.Ext(base))
	return strings.TrimSuffix(base, ".local")
}
