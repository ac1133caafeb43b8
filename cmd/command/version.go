package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
)

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
