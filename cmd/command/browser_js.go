package command

import (
	"github.com/spf13/cobra"

	"runnel/cmd/call"
)

// views shows nothing: in a browser the page does.
func views(call.Streams) []*cobra.Command { return nil }
