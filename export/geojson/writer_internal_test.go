package geojson

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// The path of water turns more finely than six decimals tell; a reader must not meet the same point twice in a row.
func TestLineWritesARoundedPointOnce(t *testing.T) {
	for _, c := range []struct {
		line orb.LineString
		want string
	}{
		{orb.LineString{{1, 2}, {1 + 1e-9, 2}, {3, 4}, {3, 4}}, "[[1,2,7],[3,4,7]]"},
		{orb.LineString{{1, 2}, {3, 4}, {1, 2}}, "[[1,2,7],[3,4,7],[1,2,7]]"},
		{orb.LineString{{1, 2}, {1, 2}, {1, 2}}, "[[1,2,7],[1,2,7]]"},
	} {
		w := &writer{grid: newGrid(roof.NewLocal(orb.Point{}, quantity.Metres), quantity.Metres)}
		w.line(c.line, func(int) (float64, bool) { return 7, true })
		if got := string(w.buf); got != `{"type":"LineString","coordinates":`+c.want+"}" {
			t.Errorf("%v is written as %s, want %s", c.line, got, c.want)
		}
	}
}
