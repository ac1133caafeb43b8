package storm

import "math"

// Water is one connected water at rest.
type Water struct {
	Node    int32   // of the tree of depressions
	Pit     int32   // its lowest vertex
	Level   float64 // [m]
	Depth   float64 // over the pit [m]
	Area    float64 // [m2]
	Volume  float64 // [m3]
	Reached bool    // false where water cannot stand so high: it runs off at Level first, or v stays dry
}

// Standing returns the water through vertex v that stands at a level, with every drain and scupper blocked: the
// whole connected water, which may be deeper elsewhere than at v. Where it would run off before, it is the
// water at the level at which it does.
func (m *Model) Standing(v int32, level float64) Water {
	k := m.bare.NodeOf(v)
	if k < 0 {
		return Water{Node: -1, Pit: v, Level: m.z[v]}
	}
	w := Water{Reached: level > m.z[v]}
	for m.tree[k].Level < level && m.tree[k].Parent >= 0 {
		k = m.tree[k].Parent
	}
	w.Node, w.Pit, w.Level = k, m.tree[k].Pit, level
	if level > m.tree[k].Level && !m.closed(k) {
		w.Level, w.Reached = m.tree[k].Level, false
	}
	w.Depth = w.Level - m.z[w.Pit]
	// Level ground at exactly the level is dry.
	w.Area, w.Volume = m.table.Area(k, math.Nextafter(w.Level, math.Inf(-1))), m.table.Volume(k, w.Level)
	return w
}

// Crest returns where outlet o starts: the lowest vertex of its footprint, and the level, which is its invert or
// that vertex where it is higher. The vertex is -1 for an edge, and for an outlet whose footprint others took.
func (m *Model) Crest(o int) (vertex int32, level float64) {
	return m.mouths[o].vertex, m.mouths[o].crest
}
