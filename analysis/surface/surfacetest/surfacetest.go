// Package surfacetest builds and measures surfaces in the tests of the packages that make them.
package surfacetest

import (
	"errors"
	"math"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Build makes the surface of r, which must be possible.
func Build(t *testing.T, r *roof.Roof) *surface.Surface {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Refused builds r and returns its problems, which must be there.
func Refused(t *testing.T, r *roof.Roof) []roof.Problem {
	t.Helper()
	_, err := surface.Build(r, surface.Options{})
	var refusal *roof.Refusal
	if !errors.As(err, &refusal) {
		t.Fatalf("got %v, want a refusal", err)
	}
	return refusal.Problems
}

// Says reports whether a warning holds every one of the words.
func Says(s *surface.Surface, words ...string) bool {
	for _, w := range s.Warnings {
		all := true
		for _, x := range words {
			all = all && strings.Contains(w, x)
		}
		if all {
			return true
		}
	}
	return false
}

// Near reports whether a and b differ by the tolerance at most.
func Near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// Has reports whether there is a vertex within 1e-9 of (x, y).
func Has(t *surface.TIN, x, y float64) bool {
	for v := range t.X {
		if Near(t.X[v], x, 1e-9) && Near(t.Y[v], y, 1e-9) {
			return true
		}
	}
	return false
}

// Volume is the integral of the elevation over the plan [m3].
func Volume(t *surface.TIN) float64 {
	sum := 0.0
	for f := range int32(t.Facets()) {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		sum += t.FacetArea(f) * (t.Z[a] + t.Z[b] + t.Z[c]) / 3
	}
	return sum
}
