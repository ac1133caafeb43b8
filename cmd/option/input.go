// Package option reads the options of a check, as a user writes them: how its files are read, and what its results are compared with.
package option

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"runnel/analysis/assembly"
	"runnel/analysis/gather"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/textfile"
	"runnel/importer"
)

// Input are the flags that say how files are read and what results are compared with.
type Input struct {
	Drop, Keep []string          // ids of spots that are left out, and that are meant
	Upper      []string          // files of roofs above, of check and storm
	UnitsOut   string            // us, si, or empty
	Meant      bool              // rates of rain over standard.AbsurdRate are meant
	Files      map[string][]byte // contents of the files, by path; nil: files are on the disk

	// Side reads a small file that goes beside a survey; its error names the file.
	Side func(path string) ([]byte, error)

	units, frames         []string
	sigmas, instruments   []string
	columns, codeList, hi string
	keepZero              bool
	tolerance             float64
	nextSpots             int
	criteriaFile          string
	criteria              map[string]*string
	materialsFile, method string
	practice              string
}

// Flags is where flags are made known: a set of flags of a command line, or whatever else reads their texts.
type Flags interface {
	BoolVar(p *bool, name string, value bool, usage string)
	Float64Var(p *float64, name string, value float64, usage string)
	IntVar(p *int, name string, value int, usage string)
	StringVar(p *string, name, value, usage string)
	StringArrayVar(p *[]string, name string, value []string, usage string)
}

// File is a flag of Input whose value is the path of a file, and how such files' names end.
type File struct {
	Flag    string
	Endings []string
}

// InputFiles are the flags of Input that name a file.
func InputFiles() []File {
	return []File{{"code-list", []string{"csv"}}, {"criteria", []string{"json"}}, {"materials", []string{"json"}}}
}

// UsageError is the error of a flag that is not what it should be.
type UsageError struct{ text string }

func (e *UsageError) Error() string { return e.text }

// longestQuote is how much of a value is said again where it is wrong [characters]: a path has room, a file that was pasted has none.
const longestQuote = 300

// Usage returns a *UsageError with this text; a value in it that is longer than one would type is cut.
func Usage(format string, args ...any) error {
	for i, a := range args {
		if text, ok := a.(string); ok {
			args[i] = textfile.Clip(text, longestQuote)
		}
	}
	return &UsageError{fmt.Sprintf(format, args...)}
}

// criterionFlags are the criteria that have a flag, and what their help says.
var criterionFlags = []struct{ name, help string }{
	{"min_slope", "least `SLOPE` of planes, such as \"1/8 in per ft\" or 2%"},
	{"min_valley_slope", "least `SLOPE` of valleys from end to end"},
	{"pond_depth", "list ponds from this `DEPTH`, such as \"1/4 in\"; wide ones from half of it"},
	{"near_outlet", "a small pond within this `LENGTH` of an outlet is less severe"},
	{"max_travel", "longest way that water may take, a `LENGTH`"},
	{"contour", "interval of contours, a `LENGTH`"},
	{"rain_primary", "`RATE` of rain for the primary outlets, such as \"4 in/h\" or 100mm/h"},
	{"rain_overflow", "`RATE` of rain for the overflows, with every primary outlet blocked"},
	{"overflow_height", "`HEIGHT` of an overflow over its primary outlet at most, as the engineer states it (default 2 in)"},
}

// leastTolerance and mostTolerance bound the factor on the plan tolerances: places that are the same within 0.1 mm to 1 m.
const (
	leastTolerance = 0.01
	mostTolerance  = 100
)

// Register makes the flags known.
func (f *Input) Register(flags Flags) {
	flags.StringArrayVar(&f.units, "units", nil, "`UNIT` of all files, or FILE=UNIT: "+quantity.UnitNames)
	flags.StringArrayVar(&f.frames, "frame", nil, "`FRAME` of all files, or FILE=FRAME: local or wgs84")
	flags.StringArrayVar(&f.instruments, "instrument", nil, "`NAME` of what took the elevations, or their standard error: "+instrumentNames()+", 3mm; also FILE=NAME")
	flags.StringArrayVar(&f.sigmas, "sigma", nil, "standard error of the elevations of all files that state none, a `LENGTH` such as 3mm, or FILE=LENGTH")
	flags.StringVar(&f.columns, "columns", "", "`NAMES` of the columns of point files without a header, such as point,north,east,elevation,code")
	flags.StringVar(&f.codeList, "code-list", "", "`FILE` (CSV) of your office's codes and the codes they stand for, in rows such as RD,DRAIN d=4in")
	flags.StringVar(&f.hi, "hi", "", "`ELEVATION` of the instrument's line of sight, for files with rod readings")
	flags.BoolVar(&f.keepZero, "keep-zero", false, "use elevations of exactly 0 among others that are not")
	flags.StringArrayVar(&f.Drop, "drop", nil, "leave out the spot with this `ID`; may be repeated")
	flags.StringArrayVar(&f.Keep, "keep", nil, "the spot with this `ID`, or the outlet with this label, is meant, however odd its level looks; may be repeated")
	flags.IntVar(&f.nextSpots, "next-spots", standard.NextSpots, "name this `NUMBER` of places at most where another spot would tell most")
	flags.BoolVar(&f.Meant, "yes", false, "rates of rain over 40 in/h are meant")
	flags.Float64Var(&f.tolerance, "tolerance", 1, "`FACTOR` on the plan tolerances (same place 10 mm, on a line 20 mm)")
	flags.StringVar(&f.criteriaFile, "criteria", "", "`FILE` (JSON) of criteria, such as {\"pond_depth\": \"1/2 in\"}; flags win")
	flags.StringVar(&f.UnitsOut, "units-out", "", "`UNITS` of results, us or si (default us when the input is in feet or inches)")
	flags.StringVar(&f.materialsFile, "materials", "", "`FILE` (JSON) of your own thermal resistances, such as {\"polyiso\": \"5.6 per in\"}; they win over the table")
	flags.StringVar(&f.method, "r-method", "", "`NAME` of the way to say one R for a roof of varying thickness: "+methodNames()+" (default "+string(assembly.LeastR)+")")
	flags.StringVar(&f.practice, "practice", "us", "`NAME` of the rules that give the limits and sources that nobody states: us (model codes of the United States) or eu (BS 6229, DIN 18531, EN 12056-3, DIN 1986-100)")
	f.criteria = make(map[string]*string, len(criterionFlags))
	for _, k := range criterionFlags {
		text := new(string)
		f.criteria[k.name] = text
		flags.StringVar(text, flagOf(k.name), "", k.help)
	}
}

func flagOf(criterion string) string { return strings.ReplaceAll(criterion, "_", "-") }

// Importer returns the options of reading.
func (f *Input) Importer() (importer.Options, error) {
	o := importer.Options{
		Units: map[string]quantity.Unit{}, Frames: map[string]string{},
		CodeList: f.codeList, HI: f.hi, KeepZero: f.keepZero, Drop: f.Drop, Keep: f.Keep, Files: f.Files,
	}
	if f.hi != "" {
		if _, _, err := quantity.ReadLength(f.hi, quantity.Metres); err != nil { // whose unit the file may state
			return o, Usage("--hi: %v", err)
		}
	}
	for _, text := range f.units {
		file, name := PerFile(text)
		u, err := quantity.ParseUnit(name)
		if err != nil {
			return o, Usage("--units %s: %v", text, err)
		}
		o.Units[file] = u
	}
	if err := f.accuracy(&o); err != nil {
		return o, err
	}
	for _, text := range f.frames {
		file, name := PerFile(text)
		o.Frames[file] = name
	}
	if f.columns != "" {
		o.Columns = strings.Split(f.columns, ",")
	}
	return o, nil
}

// accuracy reads the flags that say how good elevations are; --sigma wins over --instrument.
func (f *Input) accuracy(o *importer.Options) error {
	o.Sigma = map[string]quantity.Length{}
	for _, text := range f.instruments {
		file, name := PerFile(text)
		known := standard.Instruments()
		if k := slices.IndexFunc(known, func(i standard.Instrument) bool { return i.Name == strings.ToLower(name) }); k >= 0 {
			o.Sigma[file] = quantity.Length(known[k].Error)
			continue
		}
		sigma, err := parseSigma(name)
		if err != nil {
			return Usage("--instrument %s: give %s, or a standard error such as 3mm", text, instrumentNames())
		}
		o.Sigma[file] = sigma
	}
	for _, text := range f.sigmas {
		file, value := PerFile(text)
		sigma, err := parseSigma(value)
		if err != nil {
			return Usage("--sigma %s: %v", text, err)
		}
		o.Sigma[file] = sigma
	}
	return nil
}

// parseSigma reads a standard error with its unit.
func parseSigma(text string) (quantity.Length, error) {
	sigma, err := quantity.ParseLength(text, quantity.Unstated)
	if err == nil && !(sigma > 0 && sigma < 1) {
		err = fmt.Errorf("%s is not above 0 and below 1 m", text)
	}
	return sigma, err
}

// instrumentNames lists the instruments whose usual error is known.
func instrumentNames() string {
	return strings.Join(gather.Each(standard.Instruments(), func(i standard.Instrument) string { return i.Name }), ", ")
}

// PerFile splits FILE=VALUE at its last "="; without one the value is for every file.
func PerFile(text string) (file, value string) {
	if i := strings.LastIndexByte(text, '='); i >= 0 {
		return text[:i], text[i+1:]
	}
	return "", text
}

// Study returns the options of the analysis: what a criteria file and the flags state.
func (f *Input) Study() (study.Options, error) {
	var o study.Options
	if !(f.tolerance >= leastTolerance && f.tolerance <= mostTolerance) {
		return o, Usage("--tolerance %v: give a factor from %v to %v", f.tolerance, leastTolerance, mostTolerance)
	}
	if f.nextSpots < 0 {
		return o, Usage("--next-spots %d: give 0 or more", f.nextSpots)
	}
	o.Tolerance, o.Meant, o.NextSpots = f.tolerance, f.Meant, f.nextSpots
	if f.nextSpots == 0 {
		o.NextSpots = -1
	}
	if err := f.byPractice(&o); err != nil {
		return o, err
	}
	o.Criteria = standard.Overrides{}
	if f.criteriaFile != "" {
		data, err := f.Side(f.criteriaFile)
		if err != nil {
			return o, fmt.Errorf("criteria: %w", err)
		}
		if o.Criteria, err = standard.ParseFile(data); err != nil {
			return o, fmt.Errorf("criteria: %s: %w", f.criteriaFile, err)
		}
	}
	for _, k := range criterionFlags {
		text := *f.criteria[k.name]
		if text == "" {
			continue
		}
		v, err := standard.Parse(k.name, text, quantity.Unstated)
		if err != nil {
			return o, Usage("--%s: %v", flagOf(k.name), errors.Unwrap(err)) // without the criterion's name, which the flag's stands for
		}
		o.Criteria[k.name] = v
	}
	return o, f.assembly(&o)
}

// byPractice takes the practice, and what it picks besides criteria.
func (f *Input) byPractice(o *study.Options) (err error) {
	if o.Practice, err = standard.ParsePractice(f.practice); err != nil {
		return Usage("--practice: %v", err)
	}
	if o.Practice == standard.EU {
		o.Method = assembly.AreaU
	}
	return nil
}

// assembly reads the flags that say how cores are rated.
func (f *Input) assembly(o *study.Options) error {
	if f.method != "" {
		o.Method = assembly.Method(f.method)
		if !slices.ContainsFunc(assembly.Methods(), func(m assembly.ResistanceRow) bool { return m.Method == o.Method }) {
			return Usage("--r-method %q: use %s", f.method, methodNames())
		}
	}
	if f.materialsFile == "" {
		return nil
	}
	data, err := f.Side(f.materialsFile)
	if err != nil {
		return fmt.Errorf("materials: %w", err)
	}
	if o.PerMetre, err = standard.ParseMaterials(data); err != nil {
		return fmt.Errorf("materials: %s: %w", f.materialsFile, err)
	}
	return nil
}

// methodNames lists the ways to say one R.
func methodNames() string {
	return strings.Join(gather.Each(assembly.Methods(), func(m assembly.ResistanceRow) string { return string(m.Method) }), ", ")
}

// StepsFor returns the options of the analysis for r: contours come every 25 mm where results go out in
// SI and nothing states an interval.
func (f *Input) StepsFor(r *roof.Roof, o study.Options) study.Options {
	_, onOutline := r.Criteria["contour"]
	if _, stated := o.Criteria["contour"]; f.US(r) || onOutline || stated {
		return o
	}
	criteria := maps.Clone(o.Criteria)
	if criteria == nil {
		criteria = standard.Overrides{}
	}
	criteria["contour"] = standard.ContourMetric
	o.Criteria = criteria
	return o
}

// CheckUnits refuses a --units-out that is neither.
func (f *Input) CheckUnits() error {
	if f.UnitsOut != "" && f.UnitsOut != "us" && f.UnitsOut != "si" {
		return Usage("--units-out %q: give us or si", f.UnitsOut)
	}
	return nil
}

// US reports whether results go out in feet, inches and pounds.
func (f *Input) US(r *roof.Roof) bool {
	if f.UnitsOut == "" {
		return r.Imperial
	}
	return f.UnitsOut == "us"
}
