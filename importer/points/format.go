package points

import (
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/textfile"
	"runnel/importer/draft"
	"runnel/importer/points/code"
)

// Format is text with one row a point. A file that nothing else claims is taken for one.
var Format = &draft.Format{
	Name: "points", Noun: "file", Extensions: []string{".csv", ".txt", ".tsv", ".xyz", ".pts"}, Line: MaxLine,
	Smaller: "thin the survey to a spot every few inches, or check the roof in parts",
	Is:      func(string, []byte) bool { return true }, Fault: textfile.NotText, Opener: opener,
}

// opener reads the list of codes once for all files.
func opener(o draft.Options, problems *roof.Refusal) draft.Opener {
	own := Options{Columns: o.Columns, HI: o.HI, KeepZero: o.KeepZero}
	if o.Codes != nil {
		own.Codes = code.ParseList(o.CodeList, o.Codes, problems)
	}
	return draft.OpenerOf(func(name string, data []byte, problems *roof.Refusal) *File { return Open(name, data, own, problems) })
}

// Stated returns the unit and the frame that the names of the columns state.
func (f *File) Stated() (unit quantity.Unit, frame string) { return f.Units, f.Frame }
