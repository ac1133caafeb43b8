package layer

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// The path of water turns more finely than six decimals tell; a reader must not meet the same point twice in a row.
func TestLineWritesARoundedPointOnce(t *testing.T) {
	for _, c := range []struct {
		line orb.LineString
		want []Position
	}{
		{orb.LineString{{1, 2}, {1 + 1e-9, 2}, {3, 4}, {3, 4}}, []Position{{1000000, 2000000, 7000000, true}, {3000000, 4000000, 7000000, true}}},
		{orb.LineString{{1, 2}, {3, 4}, {1, 2}}, []Position{{1000000, 2000000, 7000000, true}, {3000000, 4000000, 7000000, true}, {1000000, 2000000, 7000000, true}}},
		{orb.LineString{{1, 2}, {1, 2}, {1, 2}}, []Position{{1000000, 2000000, 7000000, true}, {1000000, 2000000, 7000000, true}}},
	} {
		w := &builder{grid: newGrid(roof.NewLocal(orb.Point{}, quantity.Metres), quantity.Metres)}
		w.line(c.line, func(int) (float64, bool) { return 7, true })
		if w.shape.Kind != Line || !slices.Equal(w.shape.Positions, c.want) {
			t.Errorf("%v is set as %v, want %v", c.line, w.shape.Positions, c.want)
		}
	}
}
