package call

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"runnel/analysis/rainfall"
	"runnel/cmd/option"
	"runnel/export/record"
)

// unrecorded are flags that change no file of a roof, or are given anew when a run is repeated.
var unrecorded = []string{"out", "overwrite", "json", "timings", "fail-on", "workers", "roof-timeout", "shard", "queue"}

// perFileFlags may name a file that is read, as FILE=VALUE.
var perFileFlags = []string{"units", "frame", "sigma", "instrument"}

// NamesFile marks a flag whose value is the path of a file that is read.
func NamesFile(c *cobra.Command, flag string, extensions ...string) {
	if err := c.MarkFlagFilename(flag, extensions...); err != nil {
		panic(err)
	}
}

// IsPath reports whether the value of a flag is the path of a file.
func IsPath(f *pflag.Flag) bool { return f.Annotations[cobra.BashCompFilenameExt] != nil }

// IsWord reports whether a flag that may name a file has one of its words instead.
func IsWord(f *pflag.Flag, value string) bool {
	return f.Name == "pattern" && slices.Contains(rainfall.PatternNames(), value)
}

// ValuesOf returns what a flag was given.
func ValuesOf(f *pflag.Flag) []string {
	if s, ok := f.Value.(pflag.SliceValue); ok {
		return s.GetSlice()
	}
	return []string{f.Value.String()}
}

// recordRun writes down the call of c with these files, for the folder its output goes to.
func recordRun(c *cobra.Command, files []string, folder string) record.Run {
	run := record.Run{Command: c.Name()}
	for _, f := range files {
		run.Files = append(run.Files, seenFrom(folder, f))
	}
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Changed || slices.Contains(unrecorded, f.Name) {
			return
		}
		for _, value := range ValuesOf(f) {
			switch file, rest := option.PerFile(value); {
			case IsPath(f) && !IsWord(f, value):
				value = seenFrom(folder, value)
			case slices.Contains(perFileFlags, f.Name) && slices.Contains(files, file):
				value = seenFrom(folder, file) + "=" + rest
			}
			run.Flags = append(run.Flags, "--"+f.Name+"="+value)
		}
	})
	return run
}

// seenFrom returns the path from folder to file, with slashes; whole where there is none.
func seenFrom(folder, file string) string {
	from, err := filepath.Abs(folder)
	if err != nil {
		return filepath.ToSlash(file)
	}
	to, err := filepath.Abs(file)
	if err != nil {
		return filepath.ToSlash(file)
	}
	if way, err := filepath.Rel(from, to); err == nil {
		to = way
	}
	return filepath.ToSlash(to)
}

// reach returns a recorded path as it is reached from here.
func reach(folder, recorded string) string {
	if path.IsAbs(recorded) || filepath.IsAbs(recorded) {
		return filepath.FromSlash(recorded)
	}
	return filepath.Join(folder, filepath.FromSlash(recorded))
}

// Repetition is a recorded run, to be made again.
type Repetition struct {
	Arguments []string // of the command line
	Inputs    []string // files and folders that it reads
	Allowed   bool     // it is not the user's own run, but the user said yes to it
}

// Repeat turns a recorded run of c, nil where the record names no command that can be made again, into a command line that replaces the files in folder. A record is the text of a file:
// what recordRun does not write is refused.
func Repeat(c *cobra.Command, run record.Run, folder string) (Repetition, error) {
	if c == nil {
		return Repetition{}, fmt.Errorf("the summary does not say how it was made; run check again")
	}
	if len(run.Files) == 0 {
		return Repetition{}, fmt.Errorf("the summary names no input; run %s again", run.Command)
	}
	r := Repetition{Arguments: []string{run.Command, "--out=" + folder, "--overwrite"}}
	for _, text := range run.Flags {
		name, value, _ := strings.Cut(strings.TrimPrefix(text, "--"), "=")
		f := c.Flags().Lookup(name)
		if f == nil || slices.Contains(unrecorded, name) {
			return Repetition{}, fmt.Errorf("the summary names a flag that cannot be repeated, %.40q; run %s again", text, run.Command)
		}
		file, rest := option.PerFile(value)
		switch {
		case IsPath(f) && !IsWord(f, value):
			value = reach(folder, value)
			r.Inputs = append(r.Inputs, value)
		case slices.Contains(perFileFlags, name) && slices.Contains(run.Files, file):
			value = reach(folder, file) + "=" + rest
		}
		r.Arguments = append(r.Arguments, "--"+name+"="+value)
	}
	r.Arguments = append(r.Arguments, "--")
	for _, file := range run.Files {
		r.Inputs = append(r.Inputs, reach(folder, file))
		r.Arguments = append(r.Arguments, reach(folder, file))
	}
	return r, nil
}
