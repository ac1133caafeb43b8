package storm

import "math"

// wet fills the ponds to where they stand with every outlet working. Nothing is filled where no outlet and no
// edge drains a part of the roof.
func (r *run) wet() {
	crest := make([]float64, len(r.tree)) // lowest of the node's own
	for k := range crest {
		crest[k] = math.Inf(1)
	}
	for i := range r.mouths {
		if x := &r.mouths[i]; x.node >= 0 {
			crest[x.node] = min(crest[x.node], x.crest)
		}
	}
	full := make([]bool, len(r.tree))
	for k := range r.tree {
		n, node := &r.tree[k], int32(k)
		if n.Left >= 0 {
			if !full[n.Left] || !full[n.Right] {
				continue
			}
			if r.closed(node) && math.IsInf(crest[k], 1) {
				continue
			}
			r.status[n.Left], r.status[n.Right] = absorbed, absorbed
		}
		level := min(n.Level, crest[k])
		if r.closed(node) && math.IsInf(crest[k], 1) {
			level = n.Base
		}
		full[k] = level == n.Level && !r.closed(node)
		volume := r.full[k]
		if !full[k] {
			volume = r.table.Volume(node, level)
		}
		r.stand(node, volume)
		r.level[k] = level
	}
}
