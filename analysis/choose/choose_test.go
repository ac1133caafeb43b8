package choose_test

import (
	"testing"

	"runnel/analysis/choose"
)

func TestIf(t *testing.T) {
	if got := choose.If(true, "is", "are"); got != "is" {
		t.Errorf("where the condition holds: %q", got)
	}
	if got := choose.If(false, 1.5, 2); got != 2 {
		t.Errorf("elsewhere: %v", got)
	}
}
