package surface_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
)

// The self-checks inside Build are the assertion.
func TestRandomRoofsPassTheSelfChecks(t *testing.T) {
	for seed := range uint64(400) {
		if _, err := surface.Build(shape.Random(seed, 100+int(seed)), surface.Options{}); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}
