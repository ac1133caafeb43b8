// Package answer checks a roof whose files are held in memory, as a page in a browser hands them over, and says what was found: the page of text,
// the files, and what a drawing on a screen shows.
//
// It takes the steps of "runnel check", in the same order and through the same packages, so that the bytes are the same.
package answer

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/analysis/trial"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/drawing"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/export/taped"
	"runnel/export/text"
	"runnel/importer"
)

// File is a file that is read or written, by its bare name.
type File struct {
	Name string
	Data []byte
}

// Answer is what was found of one roof.
type Answer struct {
	sight *study.Study  // of a surveyed roof; all of it is there once model is
	model *model.Model  // nil before Complete, and where the roof was measured with tape, chalk and ruler
	taped *taped.Book   // nil elsewhere
	tried *trial.Result // the last, nil before
	stem  string
	steps study.Options
	units record.Units
	run   record.Run
}

// Glance checks the roof that files hold as far as the water: where it stands and how deep, which a drawing shows at once. Complete adds the
// words and all the rest. given are flags of check, as "--name=value"; a file that one of them names is no file of the roof. The error says
// what is wrong in the words of the command line.
func Glance(ctx context.Context, files []File, given []string) (*Answer, error) {
	in := held(files)
	flags := newFlags()
	in.Register(flags)
	flags.StringArrayVar(&in.Upper, "upper", nil, "")
	if err := flags.read(given); err != nil {
		return nil, err
	}
	if err := in.CheckUnits(); err != nil {
		return nil, err
	}
	options, err := in.Importer()
	if err != nil {
		return nil, err
	}
	steps, err := in.Study()
	if err != nil {
		return nil, err
	}
	steps.Context = ctx
	paths := roofFiles(files, flags)
	r, err := importer.Read(paths, in.Beside(options))
	if err != nil {
		return nil, err
	}
	units := choose.If[record.Units](in.US(r), record.US, record.SI)
	a := &Answer{stem: export.Stem(r), units: units, run: record.Run{Command: "check", Files: paths, Flags: flags.written()}}
	a.steps = in.StepsFor(r, steps)
	if tape.TierOf(r) != tape.C {
		criteria, err := study.CriteriaOf(r, a.steps)
		if err != nil {
			return nil, err
		}
		a.taped = &taped.Book{Survey: tape.Of(r, criteria), Units: units}
		return a, nil
	}
	if steps.Above, err = in.Above(r, options, steps); err != nil {
		return nil, err
	}
	a.steps = in.StepsFor(r, steps)
	a.sight, err = study.Sight(r, a.steps)
	if err != nil {
		return nil, err
	}
	return a, nil
}

// held returns the options of a check whose files are held in memory.
func held(files []File) *option.Input {
	in := &option.Input{Files: make(map[string][]byte, len(files))}
	for _, f := range files {
		in.Files[f.Name] = f.Data
	}
	in.Side = func(path string) ([]byte, error) {
		data, ok := in.Files[path]
		if !ok {
			return nil, fmt.Errorf("%s: there is no such file among those given", path)
		}
		return data, nil
	}
	return in
}

// Complete adds to an answer of Glance what that left out. The error is that of study.Run; the answer is then of no use.
func (a *Answer) Complete() error {
	if a.taped != nil || a.model != nil {
		return nil
	}
	if err := a.sight.Go(a.steps); err != nil {
		return err
	}
	book := record.NewBook(a.sight, "", a.units)
	book.Run = a.run
	a.model = model.Of(book)
	return nil
}

// roofFiles are the names of the files of the roof: all but those that a flag names.
func roofFiles(files []File, f *flags) (paths []string) {
	var beside []string
	for _, one := range append(option.InputFiles(), option.File{Flag: "upper"}) {
		beside = append(beside, f.taken[one.Flag]...)
	}
	for _, file := range files {
		if !slices.Contains(beside, file.Name) {
			paths = append(paths, file.Name)
		}
	}
	return paths
}

// Text returns the page that check prints.
func (a *Answer) Text() (string, error) {
	var b bytes.Buffer
	var err error
	if a.taped != nil {
		err = taped.Write(&b, a.taped)
	} else {
		err = text.Write(&b, a.model)
	}
	return b.String(), err
}

// Warnings are what was left out, moved or assumed.
func (a *Answer) Warnings() []string {
	if a.taped != nil {
		return a.taped.Survey.Roof.Warnings
	}
	return a.model.Warnings
}

// Files writes the given kinds of file, in the order in which check does. The error is that of export.
func (a *Answer) Files(kinds []export.Kind) ([]File, error) {
	var all []staged.Output
	var err error
	if a.taped != nil {
		all, err = export.TapeOutputs(a.taped, kinds, a.stem, drawing.Options{})
	} else {
		all, err = export.Outputs(a.model, kinds, export.Options{Stem: a.stem})
	}
	if err != nil {
		return nil, err
	}
	var out []File
	for _, o := range all {
		var b bytes.Buffer
		if err := o.Write(&b); err != nil {
			return nil, fmt.Errorf("%s: %w", o.Name, err)
		}
		out = append(out, File{o.Name, b.Bytes()})
	}
	return out, nil
}
