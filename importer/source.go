package importer

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/points"
	"runnel/importer/surveyfile"
)

// source is one input file: opened, then its unit and frame settled, then read.
type source struct {
	sigma  quantity.Length // standard error of elevations that state none, as a flag says; 0: none said
	path   string
	format *draft.Format
	file   draft.File
	set    draft.Setting
	stated bool // the unit was stated by the file or a flag
	draft  *draft.Draft
	deal   *points.Deal // of a point file with spots of many roofs, which draft lacks; else nil
}

// open loads the files and finds out what each states. Files that cannot be read are added to problems.
func open(paths []string, o Options, problems *roof.Refusal) []*source {
	var sources []*source
	opener := openers(fileOptions(o, problems), problems)
	for i, path := range paths {
		if slices.Contains(paths[:i], path) {
			surveyfile.Refuse(problems, path, "the file is given twice", "name it once")
			continue
		}
		data, format, rule, mend := surveyfile.Load(o.Files, path)
		if rule != "" {
			surveyfile.Refuse(problems, path, rule, mend)
			continue
		}
		if file := opener[format](path, data, problems); file != nil {
			sources = append(sources, &source{path: path, format: format, file: file})
		}
	}
	return sources
}

// maxCodeList bounds a list of codes [bytes].
const maxCodeList = 1 << 20

// fileOptions reads the code list and passes on what concerns the content of files.
func fileOptions(o Options, problems *roof.Refusal) draft.Options {
	fo := draft.Options{Columns: o.Columns, HI: o.HI, KeepZero: o.KeepZero, CodeList: o.CodeList}
	if o.CodeList == "" {
		return fo
	}
	size := int64(len(o.Files[o.CodeList]))
	if o.Files == nil {
		if info, err := os.Stat(o.CodeList); err == nil && info.Mode()&fs.ModeNamedPipe != 0 {
			surveyfile.Refuse(problems, o.CodeList, "this is a pipe, not a file", "write what it gives into a file")
			return fo
		} else if err == nil {
			size = info.Size()
		}
	}
	if size > maxCodeList {
		surveyfile.Refuse(problems, o.CodeList, fmt.Sprintf("the list of codes is over %d MB", maxCodeList>>20), "look whether it is the right file")
		return fo
	}
	data, _, rule, mend := surveyfile.Load(o.Files, o.CodeList)
	if rule != "" {
		surveyfile.Refuse(problems, o.CodeList, rule, mend)
		return fo
	}
	fo.Codes = data
	return fo
}

// frameName returns the frame in force, by name.
func (s *source) frameName() string { return choose.If(s.set.Geographic, "wgs84", "local") }

// input describes the file for the roof's record.
func (s *source) input() roof.Input {
	in := roof.Input{Path: s.path, Format: s.format.Name, Units: s.set.Unit.String(), Frame: s.frameName(), Counts: map[string]int{}}
	d := s.draft
	for name, n := range map[string]int{
		"outline": len(d.Outlines), "edge": len(d.Edges), "spot": len(d.Spots), "breakline": len(d.Breaklines), "curb": len(d.Curbs),
		"outlet": len(d.Outlets), "core": len(d.Cores), "stain": len(d.Stains), "sill": len(d.Sills), "control": len(d.Controls), "answer": len(d.Answers),
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

// openers returns what opens the files of each format.
func openers(o draft.Options, problems *roof.Refusal) map[*draft.Format]draft.Opener {
	formats := surveyfile.Formats()
	all := make(map[*draft.Format]draft.Opener, len(formats))
	for _, f := range formats {
		all[f] = f.Opener(o, problems)
	}
	return all
}
