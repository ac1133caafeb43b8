package command

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
	"runnel/cmd/demo"
)

func newDemo(s call.Streams) *cobra.Command {
	var overwrite bool
	c := &cobra.Command{
		Use:   "demo FOLDER",
		Short: "Write invented roofs with planted faults",
		Long: `demo writes the surveys of invented roofs into FOLDER, each with the list of the faults
that were planted on it, so that you can see what a check finds.`,
		Example: `  runnel demo demo
  runnel check demo/library.geojson -o out
  runnel campus demo -o out`,
		Args: call.Arguments(1, 1, "give one folder to write into"),
		RunE: func(_ *cobra.Command, args []string) error {
			set, paths, err := demo.Stage(args[0], overwrite)
			if err != nil {
				return err
			}
			defer set.Discard()
			for _, p := range paths {
				if _, err := fmt.Fprintln(s.Out, filepath.ToSlash(p)); err != nil {
					return fmt.Errorf("write the list: %w", err)
				}
			}
			_, err = set.Commit()
			return err
		},
	}
	c.Flags().BoolVar(&overwrite, "overwrite", false, "replace files that exist")
	return c
}
