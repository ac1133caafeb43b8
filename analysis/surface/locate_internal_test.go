package surface

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// A locator for a few boxes finds what one for all finds: inside the boxes without asking it, elsewhere and off the roof by it.
func TestLocatorInBoxes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	tin := sheet(t, rnd, 2000)
	boxes := []orb.Bound{{Min: orb.Point{1, 2}, Max: orb.Point{1.5, 2.5}}, {Min: orb.Point{8, 8}, Max: orb.Point{8.3, 8.3}}}
	all, near := NewLocator(tin), newLocatorIn(tin, boxes)
	same := func(x, y float64) {
		t.Helper()
		f, ok := all.Locate(x, y)
		if g, found := near.Locate(x, y); g != f || found != ok {
			t.Fatalf("(%g, %g): facet %d, %v; want %d, %v", x, y, g, found, f, ok)
		}
	}
	for range 2000 {
		b := boxes[rnd.IntN(2)]
		same(b.Min[0]+rnd.Float64()*(b.Max[0]-b.Min[0]), b.Min[1]+rnd.Float64()*(b.Max[1]-b.Min[1]))
	}
	for v := range tin.X { // corners of several facets
		if p := (orb.Point{tin.X[v], tin.Y[v]}); boxes[0].Contains(p) {
			same(p[0], p[1])
		}
	}
	if near.whole.made != nil {
		t.Error("all facets were sorted for places inside the boxes")
	}
	if n := len(near.few); n == 0 || n > tin.Facets()/10 {
		t.Errorf("%d of %d facets are looked through", n, tin.Facets())
	}
	for range 2000 {
		same(12*rnd.Float64()-1, 12*rnd.Float64()-1)
	}
	same(-0.000005, 5)
	same(5, 10.000005)
}
