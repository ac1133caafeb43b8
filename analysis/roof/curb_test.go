package roof_test

import (
	"testing"

	"runnel/analysis/roof"
)

// A sentence such as "at RTU-2" names a curb by its label; a bare number or none is no name by itself.
func TestNameOfACurb(t *testing.T) {
	for _, c := range []struct{ label, id, want string }{{"RTU-2", "7", "RTU-2"}, {"2", "7", "curb 2"}, {"", "7", "curb 7"}} {
		curb := roof.Curb{Feature: roof.Feature{ID: c.id}, Label: c.label}
		if got := curb.Name(); got != c.want {
			t.Errorf("label %q, id %q: %q, not %q", c.label, c.id, got, c.want)
		}
	}
}
