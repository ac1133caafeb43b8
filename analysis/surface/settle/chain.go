package settle

import (
	"cmp"
	"slices"
)

// spans returns the pieces of chains from first to last, the last excluded.
func (d *draft) spans(first, last int) []span {
	var out []span
	for c := first; c < last; c++ {
		node := d.chains[c].node
		for i := 1; i < len(node); i++ {
			out = append(out, span{int32(c), int32(i - 1), node[i-1], node[i]})
		}
	}
	return out
}

// applySplits threads the noted nodes into their chains.
func (d *draft) applySplits() {
	if len(d.splits) == 0 {
		return
	}
	slices.SortStableFunc(d.splits, func(a, b split) int {
		return cmp.Or(cmp.Compare(a.chain, b.chain), cmp.Compare(a.at, b.at), cmp.Compare(a.t, b.t), cmp.Compare(a.node, b.node))
	})
	for i := 0; i < len(d.splits); {
		j := i
		for j < len(d.splits) && d.splits[j].chain == d.splits[i].chain {
			j++
		}
		d.chains[d.splits[i].chain].thread(d.splits[i:j])
		i = j
	}
	d.splits = d.splits[:0]
}

// thread inserts nodes, sorted along the chain.
func (c *chain) thread(splits []split) {
	out := chain{source: c.source, closed: c.closed}
	k := 0
	for i, n := range c.node {
		out.push(n, c.own[i])
		for ; k < len(splits) && splits[k].at == int32(i); k++ {
			out.push(splits[k].node, false)
		}
	}
	*c = out
}
