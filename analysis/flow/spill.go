package flow

import (
	"container/heap"
	"slices"
)

// Spill follows water that stands at vertex v and leaves over it: by the steepest of its ways down whose
// path wanted accepts, else by those of the level area around it, nearest first. It returns false when no
// path is accepted, and a *fault.Error when one rises or never ends.
func (n *Network) Spill(v int32, wanted func(Path) bool) (Path, bool, error) {
	seen := map[int32]int32{} // vertex reached -> vertex before it; looked up only
	r := &reaches{t: n.t, list: []reach{{0, v, v, v}}}
	for r.Len() > 0 {
		x := heap.Pop(r).(reach)
		if _, known := seen[x.vertex]; known {
			continue
		}
		seen[x.vertex] = x.to
		if p, ok, err := n.leave(n.levelLine(seen, x.vertex), x.vertex, wanted); ok || err != nil {
			return p, ok, err
		}
		n.eachLevel(x.vertex, func(w int32) {
			if _, known := seen[w]; !known {
				heap.Push(r, reach{x.distance + n.nanometres(x.vertex, w), v, w, x.vertex})
			}
		})
	}
	return Path{}, false, nil
}

// levelLine returns the vertices from the start of a search to v, without v.
func (n *Network) levelLine(before map[int32]int32, v int32) []int32 {
	var line []int32
	for before[v] != v {
		v = before[v]
		line = append(line, v)
	}
	slices.Reverse(line)
	return line
}

// leave tries the ways down from v, steepest first; lead is the level way that leads to v.
func (n *Network) leave(lead []int32, v int32, wanted func(Path) bool) (Path, bool, error) {
	ways := []down{{way: waySink}}
	if n.way[v] != waySink || n.options.Shore != nil && n.options.Shore[v] == -1 {
		ways = n.downs(ways[:0], v)
		slices.SortStableFunc(ways, func(a, b down) int {
			switch {
			case a.before(b):
				return -1
			case b.before(a):
				return 1
			}
			return 0
		})
	}
	for _, d := range ways {
		w := walker{Network: n, record: true, landing: Landing{Side: -1, Vertex: -1}}
		for _, u := range lead {
			w.toVertex(u)
		}
		w.toVertex(v)
		switch taker := n.ahead(d.way); {
		case taker >= 0: // v stands at the level of that water
			w.landing = Landing{Side: -1, Vertex: v}
			w.walk(stop{at: atEnd, endLabel: Label(taker)})
		case d.way == waySink:
			w.walk(stop{at: onVertex, i: v})
		case d.way >= 0:
			w.walk(stop{at: onVertex, i: d.way})
		default:
			w.walk(w.hit(wayCorner(d.way)/3, -1, []int32{opposite(wayCorner(d.way))}))
		}
		if p, err := w.result(); err != nil || wanted(p) {
			return p, err == nil, err
		}
	}
	return Path{}, false, nil
}
