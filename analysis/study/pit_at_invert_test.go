package study_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
)

// A bowl that reaches over two low places, one of them at exactly its invert, left the other without a pond and ended
// the run with a fault. A drain in the lowest place of every pond of an invented roof makes such bowls.
func TestPitAtTheInvertOfABowlThatReachesLower(t *testing.T) {
	drains := 0
	for _, seed := range []uint64{12, 24, 26} {
		r := shape.Random(seed, 120)
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.Ponds.Ponds {
			p := &s.Ponds.Ponds[i]
			if p.Depth < s.Criteria.PondDepth {
				continue
			}
			v, c := p.Pits[0], s.Surface.Cut
			o := shape.Drain(r, c.X[v], c.Y[v], 0.3)
			o.Invert, o.HasInvert = c.Z[v], true
			drains++
		}
		if _, err := study.Run(r, study.Options{}); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
	if drains < 3 {
		t.Errorf("only %d drains were set", drains)
	}
}
