package command

import (
	"maps"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/tape"
	"runnel/cmd/call"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/export/summary"
	"runnel/export/text"
	"runnel/importer"
)

// check is one call of "runnel check".
type check struct {
	call.Streams
	input         option.Input
	output        call.OutputFlags
	json, timings bool
	benchMark     string
	storm         *stormFlags // nil without a storm
	shown         *call.SurveyProgress
}

func newCheck(s call.Streams) *cobra.Command {
	k := &check{Streams: s, output: call.OutputFlags{Kinds: export.Kinds()}}
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "Check one roof",
		Long: `check reads one roof from one or several files (GeoJSON, and CSV or TXT with survey
points or places by tape) and says where its water goes and stays. The page on stdout is
for reading; with -o the annotated map (GeoJSON), the summary (JSON) and the sheets are
written as well.`,
		Example: `  runnel check roof.geojson
  runnel check shed.csv
  runnel check outline.geojson spots.csv -o out
  runnel check outline.geojson spots.csv --units spots.csv=ft --columns point,north,east,elevation,code
  runnel check roof.geojson --min-slope "1/4 in per ft" --pond-depth "1/2 in" --fail-on repair`,
		Args: call.Arguments(1, 0, "give the files of one roof"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args) },
	}
	k.register(c)
	return c
}

// register adds the flags that every check of one roof has.
func (k *check) register(c *cobra.Command) {
	call.RegisterInput(c, &k.input)
	k.output.Register(c)
	c.Flags().StringArrayVar(&k.input.Upper, "upper", nil, "`FILE` of a roof above whose outlets discharge onto this one (their discharges_to is its name); may be repeated")
	call.NamesFile(c, "upper", "geojson", "json", "csv", "txt")
	c.Flags().BoolVar(&k.json, "json", false, "print the summary (JSON) instead of the page")
	c.Flags().StringVar(&k.benchMark, "bench-mark", "", "`LABEL` or id of the outlet, or id of the spot, from which the set-out sheet gives heights (default the first primary outlet)")
	c.Flags().BoolVar(&k.timings, "timings", false, "print the seconds of each step as one line of JSON on stderr")
}

func (k *check) run(paths []string) error {
	defer call.Slack()()
	options, steps, err := call.Parse(&k.input, &k.output)
	if err != nil {
		return err
	}
	if k.benchMark != "" && (k.output.Dir == "" || !slices.Contains(k.output.Kinds, export.SetOut)) {
		return call.Usage("--bench-mark is for the set-out sheet: -o FOLDER --write %s", export.SetOut)
	}
	steps.Context = k.Context
	if steps.Storm, err = k.storm.design(k.input.Meant); err != nil {
		return err
	}
	start := time.Now()
	r, err := k.read(paths, options)
	if err != nil {
		return err
	}
	if tape.TierOf(r) != tape.C {
		return k.tape(r, paths, k.input.StepsFor(r, steps))
	}
	if steps.Above, err = k.input.Above(r, options, steps); err != nil {
		return err
	}
	if err := k.free(r, paths); err != nil {
		return err
	}
	read := time.Since(start)
	steps.Clock = func() float64 { return time.Since(start).Seconds() }
	steps.Step = k.progress(r)
	defer func() { k.shown.End() }()
	s, err := study.Run(r, k.input.StepsFor(r, steps))
	if err != nil {
		for _, w := range r.Warnings { // what was left out or assumed may be why
			call.Note(k.Err, "warning: "+w)
		}
		return err
	}
	book := record.NewBook(s, "", call.UnitsOf(k.input.US(r)))
	book.Run = k.output.Run(paths)
	writing := time.Now()
	if err := k.write(model.Of(book), paths); err != nil {
		return err
	}
	if k.timings {
		k.printTimings(s, read, time.Since(writing), time.Since(start))
	}
	if k.output.Fails(s.Findings) {
		return call.ErrFindings
	}
	return nil
}

// read reads the roof, and lets memory be collected as its size asks.
func (k *check) read(paths []string, options importer.Options) (*roof.Roof, error) {
	r, err := importer.Read(paths, k.input.Beside(options))
	if err == nil {
		call.Tighten(len(r.Spots))
	}
	return r, err
}

// progress returns what tells of a large survey's steps on a terminal; nil where nothing does.
func (k *check) progress(r *roof.Roof) func(step string) {
	if !k.Terminal || len(r.Spots) < call.ManySpots {
		return nil
	}
	began := time.Now()
	k.shown = call.NewSurveyProgress(k.Err, func() float64 { return time.Since(began).Seconds() }, k.output.Dir != "")
	return k.shown.Step
}

// options are how the files of r are written.
func (k *check) options(r *roof.Roof) export.Options {
	return export.Options{Stem: export.Stem(r), Split: k.output.Split, Facets: k.output.Facets, Plan: k.output.Plan, BenchMark: k.benchMark}
}

// free refuses to begin where a file stands in the way.
func (k *check) free(r *roof.Roof, paths []string) error {
	return k.output.Free(k.Err, paths, export.Names(export.Stem(r), k.output.Kinds, k.output.Split, r.Frame.Kind))
}

// write writes the files, the page or the summary, and the warnings. Files get their names last, so that
// a page that cannot be printed leaves none behind.
func (k *check) write(m *model.Model, paths []string) error {
	set := &staged.Set{}
	if k.output.Dir != "" {
		var err error
		set, err = export.Write(m, k.output.Kinds, k.output.Target(paths), k.options(m.Book.Study.Roof))
		if err != nil {
			return err
		}
	}
	defer set.Discard()
	k.shown.End()
	if err := call.WritePage(k.Out, k.json, m, text.Write, summary.Write); err != nil {
		return err
	}
	k.Remember(maps.All(set.Paths()), k.output.Dir, m.Book.Run)
	return k.Commit(set, m.Warnings...)
}

func (k *check) printTimings(s *study.Study, read, write, total time.Duration) {
	var o record.Object
	o.Number("read", read.Seconds(), 6)
	for _, step := range []string{"surface", "slope", "flow", "ponds", "water", "storm"} {
		o.Number(step, s.Seconds[step], 6)
	}
	o.Number("write", write.Seconds(), 6)
	o.Number("total", total.Seconds(), 6)
	call.Note(k.Err, string(o.Append(nil)))
}
