package ponding

// The water of the fill-spill-merge of the tests below: it fills the tree of depressions with amounts that
// the tests choose, by the same Spills that a storm runs over, so that both can be held against the
// properties that are proved of it.

// Water is what stands in the depressions of one surface, and what has run off. It starts empty; Pour adds
// to it. The rules are those of fill, spill and merge (Barnes, Callaghan and Wickert, Earth Surface
// Dynamics 9, 2021): a full depression spills into the one beyond its lip; when both are full they become
// one. So the result does not depend on the order in which water comes.
type Water struct {
	Held []float64 // per node of the tree: what it holds itself, above its Left and Right [m3]
	Off  []float64 // per outlet: what has run off [m3]

	ps   *Ponds
	room []float64 // per node: what it can hold itself [m3]
	top  []int32   // per node: towards the largest depression that it has become part of

	spills *Spills
}

// Empty returns the surface's depressions without water.
func (ps *Ponds) Empty() *Water {
	n := len(ps.Tree)
	w := &Water{
		Held: make([]float64, n), Off: make([]float64, len(ps.sinks.level)),
		ps: ps, room: ownRoom(ps), top: make([]int32, n), spills: ps.Spills(),
	}
	for k := range ps.Tree {
		w.top[k] = int32(k)
	}
	return w
}

// Pour adds water to pits: volume per node of the tree [m3]; what is poured into a merged depression goes
// to its lowest pit.
func (w *Water) Pour(volume []float64) {
	for k, v := range volume {
		w.pour(w.spills.Leaf(w.ps.Tree[k].Pit), v)
	}
}

func (w *Water) pour(k int32, volume float64) {
	for volume > 0 {
		k = w.largest(k)
		n := &w.ps.Tree[k]
		if n.Parent < 0 && w.ps.Ponds[n.Pond].Undrained {
			w.Held[k] += volume
			return
		}
		take := min(volume, w.room[k]-w.Held[k])
		if take < volume {
			w.Held[k] = w.room[k]
		} else {
			w.Held[k] += take
		}
		if volume -= take; volume <= 0 {
			return
		}
		if w.merge(k) {
			continue
		}
		to, outlet := w.spills.Of(k)
		if outlet >= 0 {
			w.Off[outlet] += volume
			return
		}
		k = to
	}
}

// largest returns the largest depression that node k has become part of.
func (w *Water) largest(k int32) int32 {
	for w.top[k] != k {
		w.top[k] = w.top[w.top[k]]
		k = w.top[k]
	}
	return k
}

// full reports whether node k and all in it is full.
func (w *Water) full(k int32) bool {
	n := &w.ps.Tree[k]
	merged := n.Left < 0 || w.top[n.Left] != n.Left
	return merged && w.Held[k] >= w.room[k]
}

// merge makes full node k and its neighbour one, if that is full too.
func (w *Water) merge(k int32) bool {
	n := &w.ps.Tree[k]
	if n.Parent < 0 {
		return false
	}
	if beside := w.ps.beside(k); !w.full(beside) {
		return false
	}
	p := &w.ps.Tree[n.Parent]
	w.top[p.Left], w.top[p.Right] = n.Parent, n.Parent
	return true
}

// Level returns the elevation of the water in node k: its Base while it holds nothing itself.
func (w *Water) Level(k int32) float64 {
	n := &w.ps.Tree[k]
	switch {
	case w.Held[k] <= 0:
		return n.Base
	case w.Held[k] >= w.room[k]:
		return n.Level
	}
	curve := w.ps.curve(k)
	return curve.Level(curve.Volume(n.Base) + w.Held[k])
}

// ownRoom returns per node what it can hold itself: its volume when full less that of its parts.
func ownRoom(ps *Ponds) []float64 {
	full := make([]float64, len(ps.Tree))
	room := make([]float64, len(ps.Tree))
	for k := range ps.Tree {
		n := &ps.Tree[k]
		full[k] = ps.curve(int32(k)).Volume(n.Level)
		room[k] = full[k]
		if n.Left >= 0 {
			room[k] = max(0, full[k]-full[n.Left]-full[n.Right])
		}
	}
	return room
}
