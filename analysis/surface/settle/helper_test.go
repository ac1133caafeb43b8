package settle_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

func build(t *testing.T, r *roof.Roof) *surface.Surface {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// refused builds r and returns its problems, which must be there.
func refused(t *testing.T, r *roof.Roof) []roof.Problem {
	t.Helper()
	_, err := surface.Build(r, surface.Options{})
	var refusal *roof.Refusal
	if !errors.As(err, &refusal) {
		t.Fatalf("got %v, want a refusal", err)
	}
	return refusal.Problems
}

// says reports whether a warning holds every one of the words.
func says(s *surface.Surface, words ...string) bool {
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

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// at returns the vertex at (x, y), or fails.
func at(t *testing.T, tin *surface.TIN, x, y float64) int32 {
	t.Helper()
	for v := range tin.X {
		if near(tin.X[v], x, 1e-9) && near(tin.Y[v], y, 1e-9) {
			return int32(v)
		}
	}
	t.Fatalf("no vertex at (%g, %g)", x, y)
	return -1
}

// has reports whether there is a vertex within 1e-9 of (x, y).
func has(tin *surface.TIN, x, y float64) bool {
	for v := range tin.X {
		if near(tin.X[v], x, 1e-9) && near(tin.Y[v], y, 1e-9) {
			return true
		}
	}
	return false
}

// volume is the integral of the elevation over the plan.
func volume(t *surface.TIN) float64 {
	sum := 0.0
	for f := range int32(t.Facets()) {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		sum += t.FacetArea(f) * (t.Z[a] + t.Z[b] + t.Z[c]) / 3
	}
	return sum
}
