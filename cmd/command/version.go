package command

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func newVersion(s Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  noArguments,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(s.Out, "runnel "+version())
			return err
		},
	}
}

// version returns the module's version, or the revision it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown)"
	}
	for _, setting := range info.Settings {
		if setting.Key == "vcs.revision" && info.Main.Version == "(devel)" {
			return "revision " + setting.Value
		}
	}
	if info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

// noArguments refuses any argument.
func noArguments(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usage("%s takes no arguments, but got %q", c.CommandPath(), args[0])
	}
	return nil
}
