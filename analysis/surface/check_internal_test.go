package surface

import (
	"math/rand/v2"
	"testing"
)

// A TIN of a square of 10 m passes; not so one that covers another area, whose twins do not know each other or run between other vertices, which has a facet without area, or a vertex too many.
func TestWhatTheCheckRefuses(t *testing.T) {
	const square = 2 * 1000000 * 1000000
	inner := func(tin *TIN) int32 {
		for e, o := range tin.Twin {
			if o >= 0 {
				return int32(e)
			}
		}
		return -1
	}
	for name, c := range map[string]struct {
		net   int64
		wrong func(tin *TIN)
		bad   bool
	}{
		"sound":        {square, func(*TIN) {}, false},
		"another area": {square + 2, func(*TIN) {}, true},
		"twin of none": {square, func(tin *TIN) { tin.Twin[tin.Twin[inner(tin)]] = -1 }, true},
		"own twin":     {square, func(tin *TIN) { e := inner(tin); tin.Twin[e] = e }, true},
		"level facet":  {square, func(tin *TIN) { v := tin.V[:3]; tin.GX[v[2]], tin.GY[v[2]] = tin.GX[v[0]], tin.GY[v[0]] }, true},
		"loose vertex": {square, func(tin *TIN) { tin.GX, tin.GY = append(tin.GX, 5), append(tin.GY, 5) }, true},
		"free of tie": {square, func(tin *TIN) {
			tin.Flag[max(inner(tin), tin.Twin[inner(tin)])] ^= TieEdge
			tin.Flag[min(inner(tin), tin.Twin[inner(tin)])] ^= TieEdge
		}, true},
	} {
		tin := sheet(t, rand.New(rand.NewPCG(3, 1)), 20)
		c.wrong(tin)
		if err := tin.check(nil, c.net); (err != nil) != c.bad {
			t.Errorf("%s: %v", name, err)
		}
	}
}
