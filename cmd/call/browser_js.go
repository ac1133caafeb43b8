package call

import (
	"iter"

	"runnel/export/record"
)

// In a browser the program is run by a page, which shows the results itself and keeps none.

// unwaited is nothing where there are no pipes.
const unwaited = 0

// Remember notes nothing.
func (*Streams) Remember(iter.Seq2[string, string], string, record.Run) {}

// SweepOnInterrupt does nothing: no signal comes.
func (*Streams) SweepOnInterrupt() {}
