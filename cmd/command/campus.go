package command

import (
	"fmt"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"

	"runnel/analysis/study"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/campus"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/importer"
)

// campusRun is one call of "runnel campus".
type campusRun struct {
	Streams
	input   option.Input
	output  outputFlags
	workers int
	call    record.Run
	dropped named
	kept    named
}

func newCampus(s Streams) *cobra.Command {
	k := &campusRun{Streams: s, output: outputFlags{kinds: export.CampusKinds()}, dropped: named{flag: "drop"}, kept: named{flag: "keep"}}
	c := &cobra.Command{
		Use:   "campus PATH... -o FOLDER",
		Short: "Check many roofs and put the worst first",
		Long: `campus checks every roof of a folder (files that share a stem make one roof), or of one
GeoJSON with many outlines and the point files beside it. Each roof stands on its own: one
that cannot be checked is a row with its reason, and the exit code is then 4. FOLDER gets each
roof's files, and campus.html, campus.csv and campus.geojson with the headline numbers of all.

` + campus.Rule,
		Example: `  runnel campus surveys -o out
  runnel campus outlines.geojson spots.csv --units ft --frame local -o out --workers 4`,
		Args: arguments(0, "give a folder, or the files of a campus"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args) },
	}
	registerInput(c, &k.input)
	k.output.register(c)
	c.Flags().IntVar(&k.workers, "workers", runtime.NumCPU(), "`NUMBER` of roofs at a time")
	return c
}

func (k *campusRun) run(paths []string) error {
	options, steps, err := k.parse()
	if err != nil {
		return err
	}
	jobs, warnings, err := importer.Campus(paths, options)
	if err != nil {
		return err
	}
	k.call = k.output.run(paths)
	stems := k.stems(jobs)
	read := k.reads(jobs)
	if err := k.free(stems, read); err != nil {
		return err
	}
	set, err := staged.Begin(k.output.target(read))
	if err != nil {
		return err
	}
	defer set.Discard()
	steps.Context = k.Context
	rows := k.checkAll(jobs, stems, steps, set)
	if k.ended() {
		return k.Context.Err()
	}
	files, err := k.write(rows, set)
	if err != nil {
		return err
	}
	for _, w := range warnings {
		note(k.Err, "warning: "+w)
	}
	for _, w := range append(k.dropped.missed(k.input.Drop, rows), k.kept.missed(k.input.Keep, rows)...) {
		note(k.Err, "warning: "+w)
	}
	for _, f := range files {
		note(k.Err, "wrote "+f)
	}
	return k.verdict(rows)
}

func (k *campusRun) parse() (importer.Options, study.Options, error) {
	if k.output.dir == "" {
		return importer.Options{}, study.Options{}, usage("campus needs a folder to write into: -o FOLDER")
	}
	if k.workers < 1 {
		return importer.Options{}, study.Options{}, usage("--workers %d: give 1 or more", k.workers)
	}
	return parse(&k.input, &k.output)
}

// stems returns what the files of each roof begin with, no two the same and none "campus".
func (k *campusRun) stems(jobs []importer.Job) []string {
	names := []string{"campus"}
	for i := range jobs {
		names = append(names, export.StemOf(jobs[i].Name))
	}
	return export.Number(names)[1:]
}

// reads returns the files that the jobs read.
func (k *campusRun) reads(jobs []importer.Job) []string {
	var all []string
	for i := range jobs {
		all = append(all, jobs[i].Files...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// free refuses to begin where a file stands in the way.
func (k *campusRun) free(stems, read []string) error {
	names := campus.Names()
	for _, stem := range stems {
		names = append(names, export.Names(stem, k.output.kinds, k.output.split)...)
	}
	return k.output.free(k.Err, read, names)
}

// write adds the files of the campus itself, prints the table, and puts the files of all roofs in their places. It
// returns the paths of the files of the campus.
func (k *campusRun) write(rows []campus.Row, set *staged.Set) ([]string, error) {
	units := unitsOf(k.us(rows))
	if err := set.Add(campus.Outputs(rows, units, slices.Contains(k.output.kinds, export.Report))); err != nil {
		return nil, err
	}
	if err := campus.Page(k.Out, rows, units); err != nil {
		return nil, fmt.Errorf("write the page: %w", err)
	}
	k.remember(set, k.output.dir, k.call)
	files, err := set.Commit()
	return slices.DeleteFunc(files, func(path string) bool { return !slices.Contains(campus.Names(), filepath.Base(path)) }), err
}

// us reports whether the table is in feet and inches: as --units-out says, else when any roof's input is.
func (k *campusRun) us(rows []campus.Row) bool {
	if k.input.UnitsOut != "" {
		return k.input.UnitsOut == "us"
	}
	for i := range rows {
		if rows[i].Imperial {
			return true
		}
	}
	return false
}

// verdict returns the error that sets the exit code.
func (k *campusRun) verdict(rows []campus.Row) error {
	var err error
	for i := range rows {
		switch {
		case rows[i].Reason != "":
			return errPartial
		case rows[i].Counts[2] > 0 && k.output.level <= 2,
			rows[i].Counts[1] > 0 && k.output.level <= 1,
			rows[i].Counts[0] > 0 && k.output.level <= 0:
			err = errFindings
		}
	}
	return err
}
