package command

import (
	"github.com/spf13/cobra"

	"runnel/export/record"
	"runnel/export/staged"
)

// In a browser the program is run by a page, which shows the results itself and keeps none.

// unwaited is nothing where there are no pipes.
const unwaited = 0

func views(Streams) []*cobra.Command { return nil }

func (*Streams) remember(*staged.Set, string, record.Run) {}

func (*Streams) sweepOnInterrupt() {}
