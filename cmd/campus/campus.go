//go:build !js

// Package campus checks many roofs in one run of runnel, by itself or by workers that a queue hands the roofs out to; it puts the parts of a run together, and compares two runs.
package campus

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/choose"
	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/campus"
	"runnel/export/ledger"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/importer"
)

// campusRun is one call of "runnel campus".
type campusRun struct {
	call.Streams
	input   option.Input
	output  call.OutputFlags
	workers int
	timeout time.Duration
	rank    string
	shard   string
	address string // of the queue's server
	reports bool

	paths []string
	order campus.Rank
	part  part
	call  record.Run
}

// New returns the command campus.
func New(s call.Streams) *cobra.Command {
	c, _ := newRun(s)
	return c
}

// newRun returns the command and what its flags set.
func newRun(s call.Streams) (*cobra.Command, *campusRun) {
	k := &campusRun{Streams: s, output: call.OutputFlags{Kinds: export.CampusKinds(), Rows: true}}
	c := &cobra.Command{
		Use:   "campus PATH... -o FOLDER",
		Short: "Check many roofs and put the worst first",
		Long: `campus checks every roof of a folder (files that share a stem make one roof), of one GeoJSON
with many outlines and the point files beside it, or of a sequence of GeoJSON texts (a file, or -
for stdin). Each roof stands on its own: one that cannot be checked is a row with its reason, and
the exit code is then 4. FOLDER gets each roof's files, and campus.html, campus.xlsx, campus.csv,
campus.ndjson, campus.geojson and campus.gpkg with the headline numbers of all. A run that was
stopped goes on when it is called again.

` + campus.Fold(campus.Rank(nil).Say()),
		Example: `  runnel campus surveys -o out
  runnel campus outlines.geojson spots.csv --units ft --frame local -o out
  zcat roofs.ndjson.gz | runnel campus - -o out --write none
  runnel campus surveys -o out --shard 1/8        # on each of eight machines, then:
  runnel campus merge out
  runnel campus surveys -o out --queue nats://10.0.0.5:4222   # the work is done by: runnel worker`,
		Args: call.Arguments(1, 0, "give a folder, or the files of a campus"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args) },
	}
	call.RegisterInput(c, &k.input)
	k.output.Register(c)
	flags := c.Flags()
	flags.Lookup("write").Usage += "; none for no files of single roofs"
	flags.IntVar(&k.workers, "workers", runtime.NumCPU(), "`NUMBER` of roofs at a time")
	flags.DurationVar(&k.timeout, "roof-timeout", 10*time.Minute, "`TIME` after which a roof is given up, such as 30s")
	flags.BoolVar(&k.reports, "reports", false, "write each roof's report too, and link it")
	flags.StringVar(&k.rank, "rank", "", "what puts a roof first, `NAMES` of "+campus.RankNames())
	flags.StringVar(&k.shard, "shard", "", "check only part `I/N` of the roofs, such as 3/8; merge puts the parts together")
	flags.StringVar(&k.address, "queue", "", "have workers check the roofs: the `URL` of a NATS server with JetStream, such as nats://10.0.0.5:4222")
	c.AddCommand(newMerge(s), newCompare(s))
	return c, k
}

func (k *campusRun) run(paths []string) error {
	defer call.Slack()()
	steps, read, err := k.parse()
	if err != nil {
		return err
	}
	read.In = k.stdin()
	roofs, err := importer.Campus(paths, read)
	if err != nil {
		return err
	}
	k.paths, k.call = paths, k.output.Run(paths)
	for _, w := range roofs.Warnings {
		call.Note(k.Err, "warning: "+w)
	}
	book, err := k.open(roofs)
	if err != nil {
		return err
	}
	defer book.Close()
	work := choose.If(k.address != "", k.handOut, k.checkAll)
	if err := work(roofs, steps, book); err != nil {
		return k.stopped(book, err)
	}
	total, err := k.finish(book)
	if err != nil {
		return k.stopped(book, err)
	}
	for _, w := range missed(&k.input, total) {
		call.Note(k.Err, "warning: "+w)
	}
	return verdict(total, k.output.Level)
}

// stdin is what "-" stands for.
func (k *campusRun) stdin() io.Reader {
	if k.Process {
		return os.Stdin
	}
	return nil
}

// open begins the record of the run, or goes on with that of an earlier one. It refuses where a file stands in the way.
func (k *campusRun) open(roofs *importer.Roofs) (*ledger.Ledger, error) {
	for _, text := range staged.Settle(k.output.Dir) {
		call.Note(k.Err, "warning: "+text)
	}
	taken, err := ledger.Left(k.output.Dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("write into %s: %w", k.output.Dir, err)
	}
	book, err := ledger.Open(k.output.Dir, k.part.folder(), k.signature())
	if err != nil {
		return nil, err
	}
	if book.Note != "" {
		call.Note(k.Err, "warning: "+book.Note)
	}
	if book.Before > 0 {
		call.Note(k.Err, fmt.Sprintf("An earlier run had done %d roofs; this one goes on from there.", book.Before))
	}
	if taken && !book.Moving && !roofs.Once {
		if err := k.free(roofs); err != nil {
			return nil, k.stopped(book, err)
		}
	}
	return book, nil
}

// free refuses to begin where a file stands in the way.
func (k *campusRun) free(roofs *importer.Roofs) error {
	names := k.part.names()
	var read []string
	given, number := numberer{}, 0
	for job := range roofs.All() {
		number++
		stem := given.stem(job.Name)
		if !k.part.has(number) {
			continue
		}
		names = append(names, export.Names(stem, k.output.Kinds, k.output.Split)...)
		if n := len(read); n == 0 || len(job.Files) > 0 && job.Files[0] != read[n-1] {
			read = append(read, job.Files...)
		}
	}
	return staged.Free(k.output.Target(read), names)
}

// signature is what a run must be called with to go on with another one.
func (k *campusRun) signature() string {
	side := fnv.New64a()
	k.output.Command.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Changed && call.IsPath(f) {
			for _, value := range call.ValuesOf(f) {
				data, _ := os.ReadFile(value)
				_, _ = side.Write(data)
			}
		}
	})
	text, _ := json.Marshal([]string{call.Version(), string(k.call.Object().Append(nil)), k.timeout.String(), k.shard, fmt.Sprintf("%016x", side.Sum64())})
	return string(text)
}

// stopped ends a run that is not done: what it has done stays for the next one, and where that is nothing, nothing stays.
func (k *campusRun) stopped(book *ledger.Ledger, err error) error {
	done := book.Roofs()
	if done == 0 {
		book.Discard()
		return err
	}
	book.Close()
	if call.ExitCode(err) != call.ExitUsage {
		call.Note(k.Err, choose.If(done == 1, "1 roof is done", fmt.Sprintf("%d roofs are done", done))+"; the same call goes on from there.")
	}
	return err
}

func (k *campusRun) parse() (steps study.Options, read importer.Options, err error) {
	switch {
	case k.output.Dir == "":
		return steps, read, call.Usage("campus needs a folder to write into: -o FOLDER")
	case k.workers < 1:
		return steps, read, call.Usage("--workers %d: give 1 or more", k.workers)
	case k.timeout <= 0:
		return steps, read, call.Usage("--roof-timeout %v: give a time above 0", k.timeout)
	}
	if k.order, err = campus.ParseRank(k.rank); err != nil {
		return steps, read, call.Usage("--rank: %v", err)
	}
	if k.part, err = parsePart(k.shard); err != nil {
		return steps, read, err
	}
	if err := k.queueFits(); err != nil {
		return steps, read, err
	}
	if read, steps, err = call.Parse(&k.input, &k.output); err != nil {
		return steps, read, err
	}
	if k.reports && !slices.Contains(k.output.Kinds, export.Report) {
		k.output.Kinds = append(k.output.Kinds, export.Report)
	}
	steps.Context = k.Context
	return steps, read, nil
}

// finish writes the files of the campus and puts all files in their places.
func (k *campusRun) finish(book *ledger.Ledger) (*campus.Total, error) {
	rows := func(take func(*campus.Row) error) error {
		defer book.Forget()
		return book.Rows(func(text []byte) error {
			r, err := campus.ParseRow(text)
			if err != nil {
				return err
			}
			return take(&r)
		})
	}
	o := campus.Options{Rank: k.order, UnitsOut: k.input.UnitsOut, Reports: slices.Contains(k.output.Kinds, export.Report)}
	var total *campus.Total
	var err error
	if k.part.of > 0 {
		total, err = campus.WritePart(book, rows, k.part.head(k, o))
	} else {
		total, err = campus.Write(book, k.Out, rows, o)
	}
	if err != nil {
		return nil, err
	}
	if k.part.of > 0 {
		if _, err := fmt.Fprintf(k.Out, "Part %d of %d: roofs checked: %d. Could not be checked: %d.\nWhen all parts are there: runnel campus merge %s\n",
			k.part.number, k.part.of, total.Roofs-total.Failed, total.Failed, k.output.Dir); err != nil {
			return nil, fmt.Errorf("write the page: %w", err)
		}
	}
	return total, place(&k.Streams, k.output.Dir, book, k.call)
}

// place puts all files in their places in the folder dir and names those of the campus.
func place(s *call.Streams, dir string, book *ledger.Ledger, run record.Run) error {
	var wrote []string
	for name := range book.Paths() {
		if strings.HasPrefix(name, "campus.") {
			wrote = append(wrote, name)
		}
	}
	s.Remember(book.Paths(), dir, run)
	if err := book.Place(); err != nil {
		return err
	}
	for _, name := range campus.InOrder(wrote) {
		call.Note(s.Err, "wrote "+filepath.Join(dir, name))
	}
	return nil
}

// verdict returns the error that sets the exit code; findings at the least level or above it count.
func verdict(total *campus.Total, least int) error {
	if total.Failed > 0 {
		return call.ErrPartial
	}
	for level, found := range total.Findings {
		if found && level >= least {
			return call.ErrFindings
		}
	}
	return nil
}
