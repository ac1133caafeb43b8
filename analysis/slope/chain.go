package slope

import (
	"cmp"
	"slices"

	"runnel/analysis/surface"
)

// link is an edge that belongs to a line; of its two half-edges the lower.
type link struct {
	key  int64 // links of one key make one line, or several where it forks
	edge int32
}

// chain is a line, or a part of one, as half-edges that run one way.
type chain struct {
	key   int64
	edges []int32
}

// chainer joins links into chains of half-edges that run one way.
type chainer struct {
	t     *surface.TIN
	ends  [][2]int32 // per vertex: the links at it, where there are two
	count []int32    // per vertex: links at it
	used  []bool     // per half-edge: in a chain
}

// chains joins links of equal key end to end. A chain ends where its line ends, forks or closes.
func chains(t *surface.TIN, links []link) []chain {
	slices.SortFunc(links, func(a, b link) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.edge, b.edge))
	})
	c := &chainer{t: t, ends: make([][2]int32, len(t.X)), count: make([]int32, len(t.X)), used: make([]bool, len(t.V))}
	var out []chain
	for i := 0; i < len(links); {
		j := i
		for j < len(links) && links[j].key == links[i].key {
			j++
		}
		out = c.line(out, links[i:j])
		i = j
	}
	return out
}

// line appends the chains of one key.
func (c *chainer) line(out []chain, links []link) []chain {
	t := c.t
	for _, l := range links {
		for _, e := range [2]int32{l.edge, t.Twin[l.edge]} {
			v := t.V[e]
			if c.count[v] < 2 {
				c.ends[v][c.count[v]] = e
			}
			c.count[v]++
		}
	}
	for _, l := range links {
		for _, e := range [2]int32{l.edge, t.Twin[l.edge]} {
			if !c.used[e] && c.count[t.V[e]] != 2 {
				out = append(out, chain{l.key, c.walk(e)})
			}
		}
	}
	for _, l := range links {
		if !c.used[l.edge] {
			out = append(out, chain{l.key, c.walk(l.edge)})
		}
	}
	for _, l := range links {
		c.count[t.V[l.edge]], c.count[t.V[t.Twin[l.edge]]] = 0, 0
	}
	return out
}

// walk follows the line from e until it ends, forks or closes.
func (c *chainer) walk(e int32) []int32 {
	var edges []int32
	for !c.used[e] {
		c.used[e], c.used[c.t.Twin[e]] = true, true
		edges = append(edges, e)
		v := c.t.V[c.t.Twin[e]]
		if c.count[v] != 2 {
			break
		}
		next := c.ends[v][0]
		if next == c.t.Twin[e] {
			next = c.ends[v][1]
		}
		e = next
	}
	return edges
}

// reverse turns a chain round.
func reverse(t *surface.TIN, chain []int32) {
	slices.Reverse(chain)
	for i, e := range chain {
		chain[i] = t.Twin[e]
	}
}
