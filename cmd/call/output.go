package call

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/export"
	"runnel/export/drawing"
	"runnel/export/drawing/sheet"
	"runnel/export/record"
	"runnel/export/staged"
)

// FolderFlags are the flags that say where files are written.
type FolderFlags struct {
	Dir       string
	Overwrite bool
}

// Register adds the flags to c.
func (f *FolderFlags) Register(c *cobra.Command) {
	c.Flags().StringVarP(&f.Dir, "out", "o", "", "write files into this `FOLDER`")
	c.Flags().BoolVar(&f.Overwrite, "overwrite", false, "replace files that exist")
}

// Target is where files go that are made from these inputs.
func (f *FolderFlags) Target(inputs []string) staged.Target {
	return staged.Target{Dir: f.Dir, Overwrite: f.Overwrite, Inputs: inputs}
}

// OutputFlags are the flags that say what is written, and what ends a run with exit code 1.
type OutputFlags struct {
	FolderFlags
	write, FailOn string
	Split, Facets bool
	Command       *cobra.Command
	sheet, scale  string
	Rows          bool // --write none is possible: the run has rows beside the files of each roof

	Kinds []export.Kind // to write; before parse: unless --write names others
	Plan  drawing.Options
	Level int // least severity that counts, above all of them for none
}

// Register adds the flags to c.
func (f *OutputFlags) Register(c *cobra.Command) {
	flags := c.Flags()
	f.FolderFlags.Register(c)
	f.Command = c
	flags.StringVar(&f.write, "write", "", "`KINDS` of file, of "+kindNames(export.Kinds())+" (default: "+kindNames(f.Kinds)+")")
	flags.BoolVar(&f.Split, "split", false, "write one GeoJSON file a layer")
	flags.BoolVar(&f.Facets, "facets", false, "write single triangles as a layer of the map")
	flags.StringVar(&f.sheet, "sheet", "", "`SHEET` of the plan: "+sheet.Names()+" (default: letter or a4, by the units of the results)")
	flags.StringVar(&f.scale, "scale", "", "`SCALE` of the plan, such as 1:100, \"1/8 in\" (to the foot) or \"1 in = 20 ft\" (default: the largest usual one that fits)")
	flags.BoolVar(&f.Plan.Spots, "spots", false, "mark the spots on the plan, with their elevations as far as there is room")
	flags.StringVar(&f.FailOn, "fail-on", "", "exit with 1 when a finding is at or above this `SEVERITY`: note, repair or urgent")
}

// noFiles stands for no files of single roofs.
const noFiles = "none"

func kindNames(kinds []export.Kind) string {
	return strings.Join(gather.Each(kinds, func(k export.Kind) string { return string(k) }), ",")
}

// Parse reads the flags' texts.
func (f *OutputFlags) Parse() error {
	if f.Rows && f.write == noFiles {
		f.Kinds = nil
	} else if f.write != "" {
		if f.Dir == "" {
			return Usage("--write needs a folder: -o FOLDER")
		}
		f.Kinds = nil
		for name := range strings.SplitSeq(f.write, ",") {
			k := export.Kind(strings.TrimSpace(name))
			if !slices.Contains(export.Kinds(), k) {
				return Usage("--write %s: unknown kind %q: use %s", f.write, name, kindNames(export.Kinds()))
			}
			f.Kinds = append(f.Kinds, k)
		}
	}
	if err := f.parsePlan(); err != nil {
		return err
	}
	f.Level = math.MaxInt // nothing found is worse
	if f.FailOn == "" {
		return nil
	}
	for _, s := range []finding.Severity{finding.Note, finding.Repair, finding.Urgent} {
		if f.FailOn == s.String() {
			f.Level = int(s)
			return nil
		}
	}
	return Usage("--fail-on %q: use note, repair or urgent", f.FailOn)
}

// parsePlan reads the flags of the plan.
func (f *OutputFlags) parsePlan() error {
	if f.sheet == "" && f.scale == "" && !f.Plan.Spots {
		return nil
	}
	if f.Dir == "" || !slices.Contains(f.Kinds, export.Plan) {
		return Usage("--sheet, --scale and --spots are for the plan: write it with -o FOLDER --write plan")
	}
	var err error
	if f.sheet != "" {
		if f.Plan.Sheet, err = sheet.Parse(f.sheet); err != nil {
			return Usage("--sheet: %v", err)
		}
	}
	if f.scale != "" {
		if f.Plan.Scale, err = sheet.ParseScale(f.scale); err != nil {
			return Usage("--scale: %v", err)
		}
	}
	return nil
}

// Target is where the files of a run over these files go: never into the place of one that it reads.
func (f *OutputFlags) Target(files []string) staged.Target {
	t := f.FolderFlags.Target(slices.Clone(files))
	f.Command.Flags().VisitAll(func(flag *pflag.Flag) {
		if !flag.Changed || !IsPath(flag) {
			return
		}
		for _, value := range ValuesOf(flag) {
			if !IsWord(flag, value) {
				t.Inputs = append(t.Inputs, value)
			}
		}
	})
	return t
}

// Free settles what killed runs left in the folder of the output, and refuses to begin where one of the names is taken.
func (f *OutputFlags) Free(errs io.Writer, files, names []string) error {
	if f.Dir == "" {
		return nil
	}
	for _, text := range staged.Settle(f.Dir) {
		Note(errs, "warning: "+text)
	}
	return staged.Free(f.Target(files), names)
}

// Run writes down the call with these files; it is empty where no files are written.
func (f *OutputFlags) Run(files []string) record.Run {
	if f.Dir == "" {
		return record.Run{}
	}
	return recordRun(f.Command, files, f.Dir)
}

// Fails reports whether one of these findings ends the run with exit code 1.
func (f *OutputFlags) Fails(findings []finding.Finding) bool {
	return slices.ContainsFunc(findings, func(x finding.Finding) bool { return int(x.Severity) >= f.Level })
}

// WritePage prints a result as a page of text or as JSON.
func WritePage[T any](w io.Writer, asJSON bool, result T, text, json func(io.Writer, T) error) error {
	page := choose.If(asJSON, json, text)
	if err := page(w, result); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	return nil
}
