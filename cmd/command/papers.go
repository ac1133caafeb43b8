package command

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"runnel/analysis/roof"
	"runnel/export"
	proposal "runnel/export/correction"
	"runnel/export/drawing"
	"runnel/export/logbook"
	"runnel/export/papers"
	"runnel/export/record"
	"runnel/export/staged"
	"runnel/export/taped"
)

func newPapers(s Streams) *cobra.Command {
	k := &correct{Streams: s, output: outputFlags{kinds: export.CorrectedKinds()}}
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
		Args: arguments(0, "give the files of one roof"),
	}
	registerInput(c, &k.input)
	k.designs(c)
	f := c.Flags()
	f.StringVarP(&k.output.dir, "out", "o", "", "write files into this `FOLDER`")
	f.BoolVar(&k.output.overwrite, "overwrite", false, "replace files that exist")
	k.output.command = c
	c.RunE = func(_ *cobra.Command, args []string) error { return k.papers(args) }
	return c
}

// papers writes the papers.
func (k *correct) papers(paths []string) error {
	if k.output.dir == "" {
		return usage("say where to write: -o FOLDER")
	}
	k.byTape = true
	p, _, err := k.propose(paths)
	if err != nil {
		return err
	}
	var files []staged.Output
	if k.taped != nil {
		files = tapePapers(k.taped)
	} else {
		files = paperFiles(p)
	}
	if files, err = withHistory(files, p, k.taped); err != nil {
		return err
	}
	set, err := staged.Stage(k.output.target(paths), files)
	if err != nil {
		return err
	}
	if err := k.commit(set); err != nil {
		return err
	}
	k.stale(files)
	return nil
}

// stale says which papers of an earlier run lie in the folder that were not written now: what they say no longer holds.
func (k *correct) stale(files []staged.Output) {
	if len(files) == 0 {
		return
	}
	stem, _, _ := strings.Cut(files[0].Name, ".letter.")
	for _, name := range append(papers.Names(), "bids.csv") {
		name = stem + "." + name
		if slices.ContainsFunc(files, func(o staged.Output) bool { return o.Name == name }) {
			continue
		}
		if _, err := os.Stat(filepath.Join(k.output.dir, name)); err == nil {
			note(k.Err, "warning: "+name+" is of an earlier run and no longer holds: it was not written now; take it away.")
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
	var files []staged.Output
	for _, a := range papers.OfTape(b) {
		files = append(files, staged.Output{Name: stem + "." + a.Name + ".pdf", Write: a.WritePDF})
	}
	if len(b.Survey.Next) == 0 {
		return files
	}
	next, _ := export.TapeOutputs(b, []export.Kind{export.SetOut}, stem, drawing.Options{}) // only a plan fails
	return append(files, next...)
}

// paperFiles are the files of a proposal's papers.
func paperFiles(p *proposal.Proposal) []staged.Output {
	stem := export.Stem(p.Book.Study.Roof)
	var files []staged.Output
	bids := false
	for _, a := range papers.Of(p) {
		files = append(files, staged.Output{Name: stem + "." + a.Name + ".pdf", Write: a.WritePDF})
		bids = bids || a.Name == "scope"
	}
	if bids {
		files = append(files, staged.Output{Name: stem + ".bids.csv", Write: func(w io.Writer) error { return papers.WriteBids(p, w) }})
	}
	return files
}
