package flow

import (
	"errors"
	"testing"

	"runnel/analysis/fault"
)

// TestChecks breaks what Trace promises and wants each check to notice.
func TestChecks(t *testing.T) {
	tilted := func(i, j int) int32 { return int32(i)*100 + int32(j)*2000 }
	s := grid(4, 4, tilted, func(int, int) bool { return true }).walled()
	gutter(s, func(_, y float64) bool { return y == 0 })
	n := trace(t, s, Options{})
	want := func(what string, err error) {
		t.Helper()
		var broken *fault.Error
		if !errors.As(err, &broken) {
			t.Errorf("%s: got %v, want a *fault.Error", what, err)
		}
	}
	if err := n.checkWays(); err != nil {
		t.Error(err)
	}
	low, high := int32(7), int32(12)
	kept := n.way[low]
	n.way[low] = high
	want("a way up", n.checkWays())
	n.way[low] = kept
	n.vertex[20], n.way[20] = Unlabelled, wayPit
	want("no end", n.checkWays())
	want("area", n.checkArea(s.Area+1e-6))
	s.Area++
	_, err := Trace(s, Options{})
	want("net roof area", err)
	// Corner 6 lifted by a metre after the directions were settled: paths across its facets rise.
	s.Cut.Z[6]++
	_, _, err = n.path(1.4, 1.9)
	want("a path that rises", err)
}

// TestSpill leaves a saddle on either side as asked. By hand: between pits at x = 1 and x = 5 the ridge
// line x = 3 is level; water that stands there reaches either pit in 2 m.
func TestSpill(t *testing.T) {
	z := []int32{3000, 0, 1000, 2000, 1500, 500, 3000}
	s := grid(6, 2, func(i, _ int) int32 { return z[i] }, func(int, int) bool { return true }).walled()
	n := trace(t, s, Options{})
	ridge := int32(3)
	for _, pit := range []int32{1, 5} {
		p, ok, err := n.Spill(ridge, func(p Path) bool { return n.Ends[p.Label].Pit == pit })
		if err != nil || !ok {
			t.Fatalf("no way to pit %d: %v", pit, err)
		}
		near(t, "travel", p.Travel, 2, 1e-12)
		near(t, "start", p.Line[0][0], 3, 1e-9)
		near(t, "end", p.Line[len(p.Line)-1][0], float64(pit), 1e-9)
	}
	if _, ok, err := n.Spill(ridge, func(Path) bool { return false }); ok || err != nil {
		t.Errorf("a way that nobody wants: %v, %v", ok, err)
	}
}
