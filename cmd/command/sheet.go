package command

import (
	"github.com/spf13/cobra"

	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/export/surveysheet"
	"runnel/export/taped"
	"runnel/importer"
)

// sheetRun is one call of "runnel sheet".
type sheetRun struct {
	call.Streams
	input  option.Input
	output call.FolderFlags
}

func newSheet(s call.Streams) *cobra.Command {
	r := &sheetRun{Streams: s}
	c := &cobra.Command{
		Use:   "sheet [FILE...]",
		Short: "Print a survey sheet to fill in on the roof",
		Long: `sheet writes a sheet to take to the roof: who, when and with what; a grid to draw on; outlets with the
readings that each needs, ponds, cores, readings; and what to mind before going up. Of a roof that was surveyed
before it has the plan, the outlets by name and the spots wanted, in walking order. The CSV file beside it takes
the readings afterwards, and check reads it. So it has of a roof that was taped: the heights wanted next, and the
ponds that were seen.`,
		Example: `  runnel sheet -o blank
  runnel sheet outline.geojson spots.csv -o visit`,
		RunE: func(_ *cobra.Command, args []string) error { return r.run(args) },
	}
	call.RegisterInput(c, &r.input)
	r.output.Register(c)
	return c
}

func (r *sheetRun) run(paths []string) error {
	if r.output.Dir == "" {
		return call.Usage("say where to write: -o FOLDER")
	}
	sheet, stem, err := r.sheet(paths)
	if err != nil {
		return err
	}
	set, err := staged.Stage(r.output.Target(paths), []staged.Output{
		{Name: stem + ".pdf", Write: sheet.WritePDF},
		{Name: stem + ".csv", Write: sheet.WriteCSV},
	})
	if err != nil {
		return err
	}
	return r.Commit(set)
}

// sheet reads the roof, where one is given.
func (r *sheetRun) sheet(paths []string) (*surveysheet.Sheet, string, error) {
	options, err := r.input.Importer()
	if err != nil {
		return nil, "", err
	}
	steps, err := r.input.Study()
	if err != nil {
		return nil, "", err
	}
	if len(paths) == 0 {
		return &surveysheet.Sheet{Units: call.UnitsOf(r.input.UnitsOut != record.SI.String())}, "survey-sheet", nil
	}
	read, err := importer.Read(paths, options)
	if err != nil {
		return nil, "", err
	}
	if tape.TierOf(read) != tape.C {
		criteria, err := study.CriteriaOf(read, r.input.StepsFor(read, steps))
		if err != nil {
			return nil, "", err
		}
		units := call.UnitsOf(r.input.US(read))
		return &surveysheet.Sheet{Units: units, Taped: &taped.Book{Survey: tape.Of(read, criteria), Units: units}}, export.Stem(read) + ".survey-sheet", nil
	}
	s, err := study.Run(read, r.input.StepsFor(read, steps))
	if err != nil {
		return nil, "", err
	}
	book := record.NewBook(s, "", call.UnitsOf(r.input.US(read)))
	return &surveysheet.Sheet{Units: book.Units, Book: book}, export.Stem(read) + ".survey-sheet", nil
}
