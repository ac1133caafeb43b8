package record

import "testing"

// A place says little of a pond that takes most of the roof: how much it takes is said then, and else not.
func TestShareOfTheRoof(t *testing.T) {
	for share, want := range map[float64]string{0.01: "", 0.5: "", 0.51: ", more than half of the roof", 0.93: ", nearly all of the roof", 1: ", all of the roof"} {
		if got := ofRoof(share); got != want {
			t.Errorf("%g: %q, want %q", share, got, want)
		}
	}
}
