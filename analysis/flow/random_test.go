package flow

import (
	"math/rand/v2"
	"os"
	"testing"
)

// TestLabelsAgainstPaths compares the label of random places with where water traced from them ends.
// Places on level facets or whose path passes within a micrometre of a fork are left out.
func TestLabelsAgainstPaths(t *testing.T) {
	roofs, seeds := 60, 1500
	if os.Getenv("RUNNEL_LONG") == "1" {
		roofs, seeds = 200, 20000
	}
	for k := range roofs {
		r := rand.New(rand.NewPCG(uint64(k), 7))
		size := 6 + r.IntN(20)
		s := random(r, size)
		n := trace(t, s, Options{})
		wrong, excluded := 0, 0
		for range seeds {
			x, y := r.Float64()*float64(size), r.Float64()*float64(size)
			label, _ := n.At(x, y)
			p, ok, err := n.Path(x, y)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				continue
			}
			if label != p.Label {
				wrong++
			}
		}
		t.Logf("roof %d size %d: wrong %d excluded %d of %d; labels %d ind %.3g", k, size, wrong, excluded, seeds, len(n.Ends), n.Indeterminate/s.Area)
	}
}
