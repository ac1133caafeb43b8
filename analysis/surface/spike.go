package surface

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/surface/settle"
)

// spikeRise is how far a spot must stand off every neighbour, all in one direction, to be doubted [m]: deeper than a sump at a
// drain. It must also be steeper on one side than a low-slope roof falls.
const spikeRise = 0.15

// stance says on which side of its neighbours a vertex stands.
type stance uint8

const (
	unseen stance = iota
	above
	below
	between
)

// noteSpikes says which spots stand far above or far below all of their measured neighbours.
func noteSpikes(g *settle.Ground, t *TIN) {
	stances, steep := make([]stance, len(t.Z)), make([]bool, len(t.Z))
	look := func(u, w int32) {
		if stances[u] == between || t.Assumed[w] {
			return
		}
		rise := t.Z[u] - t.Z[w]
		now := stanceOf(rise)
		if stances[u] != unseen && stances[u] != now {
			now = between
		}
		stances[u] = now
		steep[u] = steep[u] || math.Abs(rise) > standard.LowSlope*vector.Norm(t.X[u]-t.X[w], t.Y[u]-t.Y[w])
	}
	for e := range int32(len(t.V)) {
		look(t.V[e], t.End(e))
		if t.Twin[e] < 0 {
			look(t.End(e), t.V[e])
		}
	}
	for v, s := range stances {
		if (s == above || s == below) && steep[v] && t.Spot[v] >= 0 {
			g.NoteSpike(t.Spot[v])
		}
	}
}

// stanceOf says how a vertex stands that is so much higher than a neighbour [m].
func stanceOf(rise float64) stance {
	switch {
	case rise > spikeRise:
		return above
	case -rise > spikeRise:
		return below
	}
	return between
}
