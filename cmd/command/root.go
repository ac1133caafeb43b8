// Package command is runnel's command line: one file a sub-command, and one place that turns errors
// into exit codes.
package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
	"runnel/cmd/campus"
)

// Main runs the command line args and returns the exit code.
func Main(args []string, s call.Streams) int {
	err := run(args, s)
	if text := call.Explain(err); text != "" {
		call.Note(s.Err, "runnel: "+text)
	}
	return call.ExitCode(err)
}

// run runs the command line; a panic is returned as an error.
func run(args []string, s call.Streams) (err error) {
	defer call.Caught(&err)
	root := newRootFor(s, args)
	root.SetArgs(append([]string{}, args...)) // for nil cobra takes those of the process
	return root.Execute()
}

// viewName is the command that shows results.
const viewName = "view"

// manName is the command that prints the manual page.
const manName = "man"

// makers make the commands, by their names, but the one that shows results.
var makers = []struct {
	name string
	make func(call.Streams) *cobra.Command
}{
	{"check", newCheck},
	{"storm", newStorm},
	{"correct", newCorrect},
	{"campus", campus.New},
	{"outlet", newOutlet},
	{"reduce", newReduce},
	{"compare", newCompare},
	{"sheet", newSheet},
	{"papers", newPapers},
	{"answer", newAnswer},
	{"log", newLog},
	{"worker", campus.NewWorker},
	{"demo", newDemo},
	{manName, newMan},
	{"version", newVersion},
}

// newRoot returns the program with all its commands.
func newRoot(s call.Streams) *cobra.Command {
	root := newBare(s)
	for _, m := range makers {
		root.AddCommand(m.make(s))
	}
	root.AddCommand(views(s)...)
	root.AddCommand(newReference()...)
	return root
}

// newRootFor returns the program with what a command line asks for: the one command that it names, since to make all of them takes
// longer than many a command itself; else all.
func newRootFor(s call.Streams, args []string) *cobra.Command {
	for _, m := range makers {
		if len(args) > 0 && args[0] == m.name && m.name != manName { // which tells of all
			root := newBare(s)
			root.AddCommand(m.make(s))
			return root
		}
	}
	return newRoot(s)
}

// newBare returns the program without a command.
func newBare(s call.Streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "runnel",
		Short: "Where water goes and stays on a low-slope roof",
		Long: `runnel reads the survey of a low-slope roof and says where water goes, where it
stays, how deep, how heavy, and what holds it there.

  runnel demo FOLDER                             write invented roofs to try it on
  runnel sheet -o visit                          print a survey sheet to fill in on the roof
  runnel check outline.geojson spots.csv -o out  check one roof
  runnel storm roof.geojson --depth 3in --duration 1h
                                                 send a storm over it, outlets blocked or not
  runnel correct roof.geojson -o out             design what may mend it, and check that
  runnel papers roof.geojson -o papers           write the letters and questions that go with it
  runnel compare BEFORE AFTER                    say what changed between two surveys
  runnel log roof.geojson "RD-1 cleaned"         add to the roof's own history, or print it
  runnel campus FOLDER -o out                    check many roofs, worst first
  runnel view out                                look at it in a browser, kept up to date`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			text := fmt.Sprintf("unknown command %q", args[0])
			if near := c.SuggestionsFor(args[0]); len(near) > 0 {
				text += "; did you mean " + strings.Join(near, " or ") + "?"
			}
			return call.Usage("%s\nSee runnel --help.", text)
		},
		RunE: func(c *cobra.Command, _ []string) error {
			_ = c.Usage()
			return call.Usage("no command given")
		},
	}
	root.SuggestionsMinimumDistance = 2
	root.PersistentPreRunE = func(c *cobra.Command, _ []string) error {
		if c.Name() != viewName { // which ends by itself
			s.SweepOnInterrupt()
		}
		return refuseEmpty(c)
	}
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return call.Usage("%s\nSee %s --help.", flagError(err), c.CommandPath())
	})
	return root
}

func newVersion(s call.Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  call.NoArguments,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(s.Out, "runnel "+call.Version())
			return err
		},
	}
}
