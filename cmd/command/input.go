package command

import (
	"github.com/spf13/cobra"

	"runnel/cmd/option"
)

// registerInput adds the flags of in to c, which reads files from the disk.
func registerInput(c *cobra.Command, in *option.Input) {
	in.Side = readSide
	in.Register(c.Flags())
	for _, f := range option.InputFiles() {
		namesFile(c, f.Flag, f.Endings...)
	}
}
