package flood

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// joiner joins pieces to polygons: what two pieces share, once each way, is left out, and the rest closes to rings.
type joiner struct {
	next map[key][]key // ends of the edges that start at a corner
	at   map[key]orb.Point
}

// add adds a piece.
func (j *joiner) add(c []corner) {
	for i := range c {
		from, to := c[i].key, c[(i+1)%len(c)].key
		j.at[from] = c[i].plan
		if back := j.next[to]; len(back) > 0 {
			if k := slices.Index(back, from); k >= 0 {
				j.next[to] = slices.Delete(back, k, k+1)
				continue
			}
		}
		j.next[from] = append(j.next[from], to)
	}
}

// polygons returns what is left: outer rings with their holes, in a fixed order.
func (j *joiner) polygons() orb.MultiPolygon {
	starts := make([]key, 0, len(j.next))
	for k, to := range j.next {
		if len(to) > 0 {
			starts = append(starts, k)
		}
	}
	slices.SortFunc(starts, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(a.cut, b.cut), cmp.Compare(a.level, b.level))
	})
	var rings []orb.Ring
	for _, s := range starts {
		for len(j.next[s]) > 0 {
			rings = append(rings, j.walk(s)...)
		}
	}
	return nest(rings)
}

// walk follows edges from a corner until it is back, and cuts the way wherever it comes to one corner twice.
func (j *joiner) walk(start key) []orb.Ring {
	var rings []orb.Ring
	var way []key
	index := map[key]int{}
	for at := start; ; {
		if i, seen := index[at]; seen {
			if len(way)-i >= 3 {
				rings = append(rings, j.ring(way[i:]))
			}
			for _, k := range way[i:] {
				delete(index, k)
			}
			way = way[:i]
		}
		to := j.next[at]
		if len(to) == 0 {
			return rings
		}
		index[at] = len(way)
		way = append(way, at)
		j.next[at] = to[:len(to)-1]
		at = to[len(to)-1]
	}
}

// ring returns the closed ring of a way.
func (j *joiner) ring(way []key) orb.Ring {
	r := make(orb.Ring, 0, len(way)+1)
	for _, k := range way {
		r = append(r, j.at[k])
	}
	return append(r, r[0])
}

// nest puts every clockwise ring into the smallest counter-clockwise one that holds it.
func nest(rings []orb.Ring) orb.MultiPolygon {
	var out orb.MultiPolygon
	var areas []float64
	var holes []orb.Ring
	for _, r := range rings {
		switch a := planar.Area(r); {
		case a > 0:
			out, areas = append(out, orb.Polygon{r}), append(areas, a)
		case a < 0:
			holes = append(holes, r)
		}
	}
	for _, h := range holes {
		best := -1
		for i := range out {
			if out[i][0].Bound().Contains(h[0]) && (best < 0 || areas[i] < areas[best]) && within(out[i][0], h) {
				best = i
			}
		}
		if best >= 0 {
			out[best] = append(out[best], h)
		}
	}
	return out
}

// within reports whether most corners of h lie in r or on it.
func within(r, h orb.Ring) bool {
	in := 0
	for _, p := range h[1:] {
		if planar.RingContains(r, p) {
			in++
		}
	}
	return 2*in > len(h)-1
}
