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

func TestAt(t *testing.T) {
	for value, want := range []string{"note", "repair", "urgent", "note"} {
		if got := choose.At([]string{"note", "repair", "urgent"}, uint8(value)); got != want {
			t.Errorf("%d: %q, want %q", value, got, want)
		}
	}
}
