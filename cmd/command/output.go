package command

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/finding"
	"runnel/export"
	"runnel/export/drawing"
	"runnel/export/drawing/sheet"
	"runnel/export/record"
	"runnel/export/staged"
)

// folderFlags are the flags that say where files are written.
type folderFlags struct {
	dir       string
	overwrite bool
}

func (f *folderFlags) register(c *cobra.Command) {
	c.Flags().StringVarP(&f.dir, "out", "o", "", "write files into this `FOLDER`")
	c.Flags().BoolVar(&f.overwrite, "overwrite", false, "replace files that exist")
}

func (f *folderFlags) target(inputs []string) staged.Target {
	return staged.Target{Dir: f.dir, Overwrite: f.overwrite, Inputs: inputs}
}

// outputFlags are the flags that say what is written, and what ends a run with exit code 1.
type outputFlags struct {
	folderFlags
	write, failOn string
	split, facets bool
	command       *cobra.Command
	sheet, scale  string
	rows          bool // --write none is possible: the run has rows beside the files of each roof

	kinds []export.Kind // to write; before parse: unless --write names others
	plan  drawing.Options
	level int // least severity that counts, above all of them for none
}

func (f *outputFlags) register(c *cobra.Command) {
	flags := c.Flags()
	f.folderFlags.register(c)
	f.command = c
	flags.StringVar(&f.write, "write", "", "`KINDS` of file, of "+kindNames(export.Kinds())+" (default: "+kindNames(f.kinds)+")")
	flags.BoolVar(&f.split, "split", false, "write one GeoJSON file a layer")
	flags.BoolVar(&f.facets, "facets", false, "write single triangles as a layer of the map")
	flags.StringVar(&f.sheet, "sheet", "", "`SHEET` of the plan: "+sheet.Names()+" (default: letter or a4, by the units of the results)")
	flags.StringVar(&f.scale, "scale", "", "`SCALE` of the plan, such as 1:100, \"1/8 in\" (to the foot) or \"1 in = 20 ft\" (default: the largest usual one that fits)")
	flags.BoolVar(&f.plan.Spots, "spots", false, "mark the spots on the plan, with their elevations as far as there is room")
	flags.StringVar(&f.failOn, "fail-on", "", "exit with 1 when a finding is at or above this `SEVERITY`: note, repair or urgent")
}

// noFiles stands for no files of single roofs.
const noFiles = "none"

func kindNames(kinds []export.Kind) string {
	names := make([]string, 0, len(kinds))
	for _, k := range kinds {
		names = append(names, string(k))
	}
	return strings.Join(names, ",")
}

// parse reads the flags' texts.
func (f *outputFlags) parse() error {
	if f.rows && f.write == noFiles {
		f.kinds = nil
	} else if f.write != "" {
		if f.dir == "" {
			return usage("--write needs a folder: -o FOLDER")
		}
		f.kinds = nil
		for name := range strings.SplitSeq(f.write, ",") {
			k := export.Kind(strings.TrimSpace(name))
			if !slices.Contains(export.Kinds(), k) {
				return usage("--write %s: unknown kind %q: use %s", f.write, name, kindNames(export.Kinds()))
			}
			f.kinds = append(f.kinds, k)
		}
	}
	if err := f.parsePlan(); err != nil {
		return err
	}
	f.level = int(finding.Urgent) + 1
	if f.failOn == "" {
		return nil
	}
	for _, s := range []finding.Severity{finding.Note, finding.Repair, finding.Urgent} {
		if f.failOn == s.String() {
			f.level = int(s)
			return nil
		}
	}
	return usage("--fail-on %q: use note, repair or urgent", f.failOn)
}

// parsePlan reads the flags of the plan.
func (f *outputFlags) parsePlan() error {
	if f.sheet == "" && f.scale == "" && !f.plan.Spots {
		return nil
	}
	if f.dir == "" || !slices.Contains(f.kinds, export.Plan) {
		return usage("--sheet, --scale and --spots are for the plan: write it with -o FOLDER --write plan")
	}
	var err error
	if f.sheet != "" {
		if f.plan.Sheet, err = sheet.Parse(f.sheet); err != nil {
			return usage("--sheet: %v", err)
		}
	}
	if f.scale != "" {
		if f.plan.Scale, err = sheet.ParseScale(f.scale); err != nil {
			return usage("--scale: %v", err)
		}
	}
	return nil
}

// target is where the files of a run over these files go: never into the place of one that it reads.
func (f *outputFlags) target(files []string) staged.Target {
	t := f.folderFlags.target(slices.Clone(files))
	f.command.Flags().VisitAll(func(flag *pflag.Flag) {
		if !flag.Changed || !isPath(flag) {
			return
		}
		for _, value := range valuesOf(flag) {
			if !isWord(flag, value) {
				t.Inputs = append(t.Inputs, value)
			}
		}
	})
	return t
}

// free settles what killed runs left in the folder of the output, and refuses to begin where one of the names is taken.
func (f *outputFlags) free(errs io.Writer, files, names []string) error {
	if f.dir == "" {
		return nil
	}
	for _, text := range staged.Settle(f.dir) {
		note(errs, "warning: "+text)
	}
	return staged.Free(f.target(files), names)
}

// run writes down the call with these files; it is empty where no files are written.
func (f *outputFlags) run(files []string) record.Run {
	if f.dir == "" {
		return record.Run{}
	}
	return recordRun(f.command, files, f.dir)
}

// fails reports whether one of these findings ends the run with exit code 1.
func (f *outputFlags) fails(findings []finding.Finding) bool {
	for i := range findings {
		if int(findings[i].Severity) >= f.level {
			return true
		}
	}
	return false
}
