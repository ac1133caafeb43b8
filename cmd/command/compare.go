package command

import (
	"io"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/change"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/compared"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/importer"
)

// usualLimit is how far a finished place may stand off what was set out: 1/4 in (common practice, no source; the contract says what holds).
const usualLimit = "1/4 in"

// compareRun is one call of "runnel compare".
type compareRun struct {
	call.Streams
	input          option.Input
	output         call.FolderFlags
	json           bool
	level, planned bool
	within, failOn string
	command        *cobra.Command
}

func newCompare(s call.Streams) *cobra.Command {
	r := &compareRun{Streams: s}
	c := &cobra.Command{
		Use:   "compare BEFORE AFTER",
		Short: "Say what changed between two surveys of one roof",
		Long: `compare reads two surveys of one roof, each a file or several with commas between, and says where it
rose or dropped by more than the errors of both, and what became of the ponds. With --planned the first
is the planned roof, as correct draws it, and each place of its set-out sheet is within the limit, outside,
or not resolved by the survey of the finished roof. Surveys by tape compare by the water that was chalked and
sounded and the heights that were read, each with the range in which it lies.`,
		Example: `  runnel compare spring.geojson autumn.geojson
  runnel compare outline.geojson,2025.csv outline.geojson,2026.csv -o out
  runnel compare spring.csv autumn.csv
  runnel compare shed.corrected.geojson outline.geojson,finished.csv --planned --within "1/4 in" --fail-on repair`,
		Args: call.Arguments(2, 2, "give two surveys: that of before and that of after, each a file or several with commas between"),
		RunE: func(_ *cobra.Command, args []string) error {
			return r.run(strings.Split(args[0], ","), strings.Split(args[1], ","))
		},
	}
	r.command = c
	call.RegisterInput(c, &r.input)
	flags := c.Flags()
	r.output.Register(c)
	flags.BoolVar(&r.json, "json", false, "print what changed as JSON instead of the page")
	flags.BoolVar(&r.level, "level", false, "the two surveys hang on different bench marks: take off what the later one stands above the earlier one as a whole")
	flags.BoolVar(&r.planned, "planned", false, "the first is the planned roof: compare each place of its set-out sheet")
	flags.StringVar(&r.within, "within", usualLimit, "how far a finished place may stand off what was set out, a `LENGTH`")
	flags.StringVar(&r.failOn, "fail-on", "", "exit with 1 at or above this `SEVERITY`: note (a part that rose or dropped, a place not resolved) or repair (a new or deeper pond, more water, a place outside)")
	return c
}

func (r *compareRun) run(before, after []string) error {
	level, limit, err := r.parse()
	if err != nil {
		return err
	}
	options, err := r.input.Importer()
	if err != nil {
		return err
	}
	steps, err := r.input.Study()
	if err != nil {
		return err
	}
	old, err := importer.Read(before, options)
	if err != nil {
		return err
	}
	now, err := importer.Read(after, options)
	if err != nil {
		return err
	}
	if old.Frame.Kind != now.Frame.Kind {
		return call.Usage("one survey is on a site grid and the other in longitude and latitude: give both in one frame, or control points to both")
	}
	c, err := r.compare(old, now, steps, limit)
	if err != nil {
		return err
	}
	if err := r.write(c, now, append(before, after...)); err != nil {
		return err
	}
	if worst, ok := c.Worst(); ok && int(worst) >= level {
		return call.ErrFindings
	}
	return nil
}

// comparison is what a comparison writes, whatever the surveys were made with.
type comparison interface {
	WriteText(io.Writer) error
	WriteJSON(io.Writer) error
	WriteGeoJSON(io.Writer) error
	WriteCSV(io.Writer) error
	Worst() (finding.Severity, bool)
}

// compare compares two surveys: as surfaces where both have heights all over the roof, else by what was chalked, sounded and read.
func (r *compareRun) compare(old, now *roof.Roof, steps study.Options, limit quantity.Length) (comparison, error) {
	if tape.TierOf(old) != tape.C || tape.TierOf(now) != tape.C {
		return r.compareTaped(old, now, steps, limit)
	}
	before, after, err := both(r.book, r.book, old, now, steps)
	if err != nil {
		return nil, err
	}
	c := compared.New(before, after, change.Options{Level: r.level})
	if len(c.Result.Spots) == 0 {
		return nil, call.Usage("no spot of %s lies on a measured part of the roof of %s: are both in one frame?", now.Outline.Origin.File, old.Outline.Origin.File)
	}
	if r.planned {
		if err := c.Accept(limit); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// both works out the surveys before and after, each its own way.
func both[A, B any](ofOld func(*roof.Roof, study.Options) (A, error), ofNow func(*roof.Roof, study.Options) (B, error), old, now *roof.Roof, steps study.Options) (before A, after B, err error) {
	if before, err = ofOld(old, steps); err == nil {
		after, err = ofNow(now, steps)
	}
	return before, after, err
}

// parse reads the flags' texts.
func (r *compareRun) parse() (level int, limit quantity.Length, err error) {
	if r.output.Dir == "" && r.command.Flags().Changed("out") {
		return 0, 0, call.Usage("--out is empty: name a folder")
	}
	if r.command.Flags().Changed("within") && !r.planned {
		return 0, 0, call.Usage("--within goes with --planned: it is the limit for places that were set out")
	}
	within, err := quantity.ParseLength(r.within, quantity.Unstated)
	if err != nil || within <= 0 {
		return 0, 0, call.Usage("--within %q: give a length above zero, such as 6 mm or 1/4 in", r.within)
	}
	level = int(finding.Urgent) + 1
	switch r.failOn {
	case "":
	case finding.Note.String():
		level = int(finding.Note)
	case finding.Repair.String():
		level = int(finding.Repair)
	default:
		return 0, 0, call.Usage("--fail-on %q: use note or repair", r.failOn)
	}
	return level, within, nil
}

// book checks one survey.
func (r *compareRun) book(read *roof.Roof, steps study.Options) (*record.Book, error) {
	s, err := study.Run(read, r.input.StepsFor(read, steps))
	if err != nil {
		return nil, err
	}
	return record.NewBook(s, "", call.UnitsOf(r.input.US(read))), nil
}

// write prints the page or the JSON, and writes the files.
func (r *compareRun) write(c comparison, now *roof.Roof, paths []string) error {
	set := &staged.Set{}
	if r.output.Dir != "" {
		stem := export.Stem(now)
		layers := choose.If(now.Frame.Kind == roof.Local, stem+".change.local.geojson", stem+".change.geojson")
		var err error
		set, err = staged.Stage(r.output.Target(paths), []staged.Output{
			{Name: stem + ".change.json", Write: c.WriteJSON},
			{Name: layers, Write: c.WriteGeoJSON},
			{Name: stem + ".change.csv", Write: c.WriteCSV},
		})
		if err != nil {
			return err
		}
	}
	defer set.Discard()
	print := choose.If(r.json, c.WriteJSON, c.WriteText)
	if err := print(r.Out); err != nil {
		return err
	}
	return r.Commit(set)
}
