package call

import "github.com/spf13/cobra"

// Arguments checks how many arguments there are: least or more, and no more than most; most of 0 means no upper limit.
func Arguments(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return Usage("%s: %s\nSee %s --help.", c.CommandPath(), what, c.CommandPath())
		case most > 0 && len(args) > most:
			return Usage("%s: %q is one argument too many: %s\nSee %s --help.", c.CommandPath(), args[most], what, c.CommandPath())
		}
		return nil
	}
}

// NoArguments refuses any argument.
func NoArguments(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return Usage("%s takes no arguments, but got %q", c.CommandPath(), args[0])
	}
	return nil
}
