package command

import (
	"iter"

	"github.com/spf13/cobra"

	"runnel/export/record"
)

// In a browser the program is run by a page, which shows the results itself and keeps none.

// unwaited is nothing where there are no pipes.
const unwaited = 0

// newCampus stands for what needs a disk.
func newCampus(Streams) *cobra.Command { return &cobra.Command{Use: "campus", Hidden: true} }

// newWorker stands for what needs a disk and a network.
func newWorker(Streams) *cobra.Command { return &cobra.Command{Use: "worker", Hidden: true} }

func views(Streams) []*cobra.Command { return nil }

func (*Streams) remember(iter.Seq2[string, string], string, record.Run) {}

func (*Streams) sweepOnInterrupt() {}
