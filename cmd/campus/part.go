//go:build !js

package campus

import (
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/choose"
	"runnel/cmd/call"
	"runnel/export/campus"
	"runnel/export/ledger"
	"runnel/export/record"
	"runnel/export/staged"
)

// part is one of several parts of a campus, each checked by a run of its own: the roofs whose number, counted from 1, leaves
// number when divided by of. The zero part is the whole.
type part struct{ number, of int }

// parsePart reads I/N.
func parsePart(text string) (p part, err error) {
	if text == "" {
		return p, nil
	}
	first, second, ok := strings.Cut(text, "/")
	number, err1 := strconv.Atoi(first)
	of, err2 := strconv.Atoi(second)
	if !ok || err1 != nil || err2 != nil || number < 1 || number > of || of > campus.MostParts {
		return p, call.Usage("--shard %q: give a part and how many there are, such as 3/8", text)
	}
	return part{number, of}, nil
}

// has reports whether a roof belongs to the part, by its number from 1.
func (p part) has(roof int) bool { return p.of == 0 || (roof-1)%p.of == p.number-1 }

// share is how many of so many roofs belong to the part.
func (p part) share(roofs int) int { return (roofs + p.of - p.number) / p.of }

// folder ends the name of the folder in which the run works, so that several parts may do so at once.
func (p part) folder() string {
	return choose.If(p.of == 0, "", fmt.Sprintf("-%d-of-%d", p.number, p.of))
}

// names returns the names of the files of the whole that the run writes.
func (p part) names() []string {
	if p.of == 0 {
		return campus.Names()
	}
	return []string{campus.PartName(p.number, p.of)}
}

// head is what the file of the part's rows begins with.
func (p part) head(k *campusRun, o campus.Options) campus.Head {
	return campus.Head{
		Part: p.number, Of: p.of, Rank: o.Rank.String(), Units: o.UnitsOut, Reports: o.Reports,
		Call: fmt.Sprintf("%016x", sumOfText(call.Version(), string(k.call.Object().Append(nil)))),
	}
}

// merging is one call of "runnel campus merge".
type merging struct {
	call.Streams
	output   call.OutputFlags
	rank     string
	unitsOut string
}

func newMerge(s call.Streams) *cobra.Command {
	k := &merging{Streams: s}
	c := &cobra.Command{
		Use:   "merge FOLDER",
		Short: "Put the parts of a campus together",
		Long: `merge puts together what runs of campus with --shard wrote into one folder (or what was copied into
one): it writes the same files that one run over all roofs writes, and takes the rows of the parts
away.`,
		Example: `  runnel campus surveys -o out --shard 1/2
  runnel campus surveys -o out --shard 2/2
  runnel campus merge out`,
		Args: call.Arguments(1, 1, "give the folder that holds the parts"),
		RunE: func(_ *cobra.Command, args []string) error { return k.run(args[0]) },
	}
	flags := c.Flags()
	flags.StringVar(&k.rank, "rank", "", "what puts a roof first, `NAMES` of "+campus.RankNames()+" (default: as the parts were called)")
	flags.StringVar(&k.unitsOut, "units-out", "", "`UNITS` of results, us or si (default: as the parts were called)")
	flags.BoolVar(&k.output.Overwrite, "overwrite", false, "replace files that exist")
	flags.StringVar(&k.output.FailOn, "fail-on", "", "exit with 1 when a finding is at or above this `SEVERITY`: note, repair or urgent")
	k.output.Command = c
	return c
}

func (k *merging) run(dir string) error {
	k.output.Dir = dir
	if err := k.output.Parse(); err != nil {
		return err
	}
	if k.unitsOut != "" && k.unitsOut != "us" && k.unitsOut != "si" {
		return call.Usage("--units-out %q: give us or si", k.unitsOut)
	}
	parts, err := campus.PartsIn(dir)
	if err != nil {
		return err
	}
	o := campus.Options{UnitsOut: parts.Head.Units, Reports: parts.Head.Reports}
	if k.unitsOut != "" {
		o.UnitsOut = k.unitsOut
	}
	if k.rank == "" {
		k.rank = parts.Head.Rank
	}
	if o.Rank, err = campus.ParseRank(k.rank); err != nil {
		return call.Usage("--rank: %v", err)
	}
	total, err := k.merge(parts, o)
	if err != nil {
		return err
	}
	return verdict(total, k.output.Level)
}

// merge writes the files of the whole, and takes the parts away.
func (k *merging) merge(parts *campus.Parts, o campus.Options) (*campus.Total, error) {
	book, err := ledger.Open(k.output.Dir, "", "merge")
	if err != nil {
		return nil, err
	}
	defer book.Discard()
	if !book.Moving {
		if err := staged.Free(k.output.Target(parts.Paths), campus.Names()); err != nil {
			return nil, err
		}
	}
	total, err := campus.Write(book, k.Out, parts.Rows, o)
	if err != nil {
		return nil, err
	}
	if err := place(&k.Streams, k.output.Dir, book, record.Run{}); err != nil {
		return nil, err
	}
	for _, path := range parts.Paths {
		if err := os.Remove(path); err != nil {
			return nil, err
		}
	}
	return total, nil
}
