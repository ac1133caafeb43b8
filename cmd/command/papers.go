package command

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/bid"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/export"
	proposal "runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/logbook"
	"runnel/export/papers"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/export/taped"
)

func newPapers(s call.Streams) *cobra.Command {
	k := &correct{Streams: s, output: call.OutputFlags{Kinds: export.CorrectedKinds()}}
	bids := ""
	c := &cobra.Command{
		Use:   "papers FILE...",
		Short: "Write the letters and questions that a roof's mend asks for",
		Long: `papers reads one roof, designs what may mend it as correct does, and writes what goes to other people, each
on one page where it can be: a letter to the client, what the structural engineer, the plumber, the energy
authority and the building official are asked, notice to the warrantor, scope and allowances for bids, and a
table to compare bids on. What nobody is asked is not written. Set-out, layout and quantities come from correct.
Of a roof that was measured with tape, chalk and ruler it writes what is known: the letter and the engineer's
questions with the range in which the weight lies, and a sheet of what to measure next.`,
		Example: `  runnel papers outline.geojson spots.csv -o papers
  runnel papers roof.geojson --prices prices.json -o papers`,
		Args: call.Arguments(1, 0, "give the files of one roof"),
	}
	call.RegisterInput(c, &k.input)
	k.designs(c)
	f := c.Flags()
	f.StringVarP(&k.output.Dir, "out", "o", "", "write files into this `FOLDER`")
	f.BoolVar(&k.output.Overwrite, "overwrite", false, "replace files that exist")
	f.StringVar(&bids, "bids", "", "`FILE`: the table of bids that papers wrote, filled in; writes their comparison")
	call.NamesFile(c, "bids", "csv")
	k.output.Command = c
	c.RunE = func(_ *cobra.Command, args []string) error { return k.papers(args, bids) }
	return c
}

// papers writes the papers; bids names the table of bids that came back, if any.
func (k *correct) papers(paths []string, bids string) error {
	if k.output.Dir == "" {
		return call.Usage("say where to write: -o FOLDER")
	}
	k.byTape = true
	p, _, err := k.propose(paths)
	if err != nil {
		return err
	}
	var files []staged.Output
	if k.taped != nil {
		if bids != "" {
			return study.TooFewHeights(k.taped.Survey.Roof) // nothing is bid on
		}
		files = tapePapers(k.taped)
	} else {
		filled, err := readBids(bids)
		if err != nil {
			return err
		}
		if files = paperFiles(p, filled); filled == nil {
			files = k.keepBids(files)
		}
	}
	if files, err = withHistory(files, p, k.taped); err != nil {
		return err
	}
	inputs := paths
	if bids != "" {
		inputs = append(slices.Clone(paths), bids)
	}
	set, err := staged.Stage(k.output.Target(inputs), files)
	if err != nil {
		return err
	}
	if err := k.Commit(set); err != nil {
		return err
	}
	k.stale(files)
	return nil
}

// readBids reads the table of bids that came back, nil where none is named.
func readBids(path string) (*bid.Sheet, error) {
	if path == "" {
		return nil, nil //nolint:nilnil // none is named
	}
	data, err := call.ReadSide(path)
	if err != nil {
		return nil, err
	}
	sheet, err := bid.Read(data)
	if err != nil {
		return nil, fmt.Errorf("bids: %s: %w", path, err)
	}
	return sheet, nil
}

// keepBids leaves the table of bids out where somebody has filled in the one that lies there.
func (k *correct) keepBids(files []staged.Output) []staged.Output {
	return slices.DeleteFunc(files, func(o staged.Output) bool {
		if !k.output.Overwrite || !strings.HasSuffix(o.Name, ".bids.csv") {
			return false
		}
		data, err := os.ReadFile(filepath.Join(k.output.Dir, o.Name))
		if err != nil {
			return false
		}
		if _, err := bid.Read(data); err != nil {
			return false // nothing stands in it
		}
		call.Note(k.Err, "warning: "+o.Name+" has bids in it and was kept; compare them with --bids, or take it away.")
		return true
	})
}

// stale says which papers of an earlier run lie in the folder that were not written now: what they say no longer holds.
func (k *correct) stale(files []staged.Output) {
	if len(files) == 0 {
		return
	}
	stem, _, _ := strings.Cut(files[0].Name, ".letter.")
	for _, name := range papers.Names() {
		name = stem + "." + name
		if slices.ContainsFunc(files, func(o staged.Output) bool { return o.Name == name }) {
			continue
		}
		if _, err := os.Stat(filepath.Join(k.output.Dir, name)); err == nil {
			call.Note(k.Err, "warning: "+name+" is of an earlier run and no longer holds: it was not written now; take it away.")
		}
	}
}

// withHistory adds the paper with the roof's own history, where one is kept beside the file of its outline.
func withHistory(files []staged.Output, p *proposal.Proposal, b *taped.Book) ([]staged.Output, error) {
	var r *roof.Roof
	var u record.Units
	if b != nil {
		r, u = b.Survey.Roof, b.Units
	} else {
		r, u = p.Book.Study.Roof, p.Book.Units
	}
	kept, err := logbook.Read(logPath(r.Outline.Origin.File))
	if err != nil || len(kept.Entries) == 0 {
		return files, err
	}
	return append(files, staged.Output{Name: export.Stem(r) + ".history.pdf", Write: papers.History(r, u, kept).WritePDF}), nil
}

// tapePapers are the files of the papers of a roof by tape, with the one that takes the readings.
func tapePapers(b *taped.Book) []staged.Output {
	stem := export.Stem(b.Survey.Roof)
	files := gather.Each(papers.OfTape(b), func(a *papers.Paper) staged.Output {
		return staged.Output{Name: stem + "." + a.Name + ".pdf", Write: a.WritePDF}
	})
	if len(b.Survey.Next) == 0 {
		return files
	}
	next, _ := export.TapeOutputs(b, []export.Kind{export.SetOut}, stem, drawing.Options{}) // only a plan fails
	return append(files, next...)
}

// paperFiles are the files of a proposal's papers; filled is the table of bids that came back, nil where there is none: then an empty one is written.
func paperFiles(p *proposal.Proposal, filled *bid.Sheet) []staged.Output {
	stem := export.Stem(p.Book.Study.Roof)
	var files []staged.Output
	bids := false
	for _, a := range papers.Of(p) {
		files = append(files, staged.Output{Name: stem + "." + a.Name + ".pdf", Write: a.WritePDF})
		bids = bids || a.Name == "scope"
	}
	switch {
	case filled != nil:
		files = append(files, staged.Output{Name: stem + ".bids.pdf", Write: papers.Bids(p, filled).WritePDF})
	case bids:
		files = append(files, staged.Output{Name: stem + ".bids.csv", Write: func(w io.Writer) error { return papers.WriteBids(p, w) }})
	}
	return files
}
