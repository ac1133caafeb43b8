package inspection

import "runnel/analysis/finding"

// Mend returns what would likely mend a cause, in one sentence or two; empty where the kind is no cause
// of a pond.
func Mend(k finding.Kind) string { return mends[k].text }
