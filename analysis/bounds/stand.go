package bounds

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/ponding"
	"runnel/analysis/queue"
)

// stander finds what stands on replicates of one patch over given vertices. Water rises from these until it finds a way out, so that what the
// patch has besides costs little.
type stander struct {
	*replica
	wet    []int32   // the vertices
	low    []int32   // the same, the lowest first
	leave  []float64 // per vertex: level from which water leaves over the border there; -Inf over an open edge, +Inf never
	out    []float64 // per vertex: the same on the replicate at hand, outlets included
	pool   []int32   // per vertex: number of the water that it lies in; -1 none that is known
	seen   []int32   // per vertex: number of the search that saw it
	search int32
	queue  queue.Queue
	walk   []int32 // vertices that rising water went on from, in that order
	next   []int32 // vertices that it covers and has still to go on from
	likely float64 // level from which the deepest water rises: near as high as it stood on the replicates before
	waters []water
}

// water is what stands somewhere.
type water struct{ level, depth, area, volume float64 }

func newStander(r *replica, wet []int32) *stander {
	p := r.p
	n := len(p.vertex)
	s := &stander{replica: r, wet: wet, low: slices.Clone(wet), leave: slices.Clone(p.beyond), pool: make([]int32, n), seen: make([]int32, n), likely: math.Inf(-1)}
	slices.SortFunc(s.low, func(a, b int32) int { return cmp.Or(cmp.Compare(p.base[a], p.base[b]), cmp.Compare(a, b)) })
	for i, open := range p.open {
		if open {
			s.leave[i] = math.Inf(-1)
		}
	}
	s.out = slices.Clone(s.leave)
	return s
}

// standing returns the greatest water, by volume, that covers any of the vertices on the replicate at hand.
func (s *stander) standing() water {
	s.m.t.Halt.Ask()
	s.open()
	s.waters = s.waters[:0]
	for i := range s.pool {
		s.pool[i] = -1
	}
	for _, i := range s.low { // what drains into lower water ends there
		if s.pool[i] < 0 {
			s.rise(i)
		}
	}
	var best water
	if len(s.waters) == 0 {
		return best
	}
	s.measure()
	for _, i := range s.wet {
		if n := s.pool[i]; n >= 0 && s.waters[n].volume > best.volume {
			best = s.waters[n]
		}
	}
	return best
}

// dammed returns what stands on the surface at hand where water rises to a depth over the lowest of the vertices, and neither outlets nor edges let it out: a mirror
// image by ratio can be of a pond that the roof round it has no room for.
func (s *stander) dammed(depth float64) water {
	level := s.z[s.low[0]] + depth
	s.search++
	for i := range s.pool {
		s.pool[i] = -1
	}
	s.seen[s.low[0]] = s.search
	s.next = append(s.next[:0], s.low[0])
	s.waters = append(s.waters[:0], water{level: level, depth: depth})
	for len(s.next) > 0 {
		v := s.next[len(s.next)-1]
		s.next, s.pool[v] = s.next[:len(s.next)-1], 0
		for _, w := range s.p.near[s.p.first[v]:s.p.first[v+1]] {
			if s.seen[w] != s.search && s.z[w] <= level {
				s.seen[w] = s.search
				s.next = append(s.next, w)
			}
		}
	}
	s.measure()
	return s.waters[0]
}

// open finds from which level each vertex of an outlet lets water go.
func (s *stander) open() {
	for _, feet := range s.p.feet {
		for _, i := range feet {
			s.out[i] = s.leave[i]
		}
	}
	for k, feet := range s.p.feet {
		for _, i := range feet {
			s.out[i] = math.Min(s.out[i], s.limit[k])
		}
	}
}

// rise lets water rise from vertex i until it finds a way out, and numbers the water that then stands there. Without a way out, which is not what is
// tried here, none does.
func (s *stander) rise(i int32) {
	if i != s.low[0] {
		s.riseFrom(i, s.z[i])
		return
	}
	held := s.riseFrom(i, math.Max(s.z[i], s.likely))
	if !held {
		s.riseFrom(i, s.z[i])
	}
	if n := s.pool[i]; n >= 0 {
		level := s.waters[n].level
		if held && !math.IsInf(s.likely, -1) {
			level = s.likely + (level-s.likely)/8
		}
		s.likely = level
	}
}

// riseFrom is rise for water that stands at a level at least. false: it has a way out there, and nothing is numbered.
func (s *stander) riseFrom(i int32, level float64) bool {
	s.search++
	s.seen[i] = s.search
	s.queue, s.walk, s.next = s.queue[:0], s.walk[:0], append(s.next[:0], i)
	for below := 0; ; {
		for len(s.next) > 0 {
			v := s.next[len(s.next)-1]
			s.next, s.walk = s.next[:len(s.next)-1], append(s.walk, v)
			if s.reach(v, level) {
				s.stand(level, s.walk[:below])
				return below > 0
			}
		}
		if len(s.queue) == 0 {
			return true
		}
		key, v := s.queue.Pop()
		if key > level {
			level, below = key, len(s.walk)
		}
		if v < 0 {
			s.stand(level, s.walk[:below])
			return true
		}
		s.next = append(s.next, v)
	}
}

// reach has water of a level at vertex v go on to its neighbours, and reports whether it is out.
func (s *stander) reach(v int32, level float64) bool {
	if out := math.Max(s.z[v], s.out[v]); out <= level {
		return true
	} else if !math.IsInf(out, 1) {
		s.queue.Push(out, -1)
	}
	for _, w := range s.p.near[s.p.first[v]:s.p.first[v+1]] {
		if s.seen[w] == s.search {
			continue
		}
		s.seen[w] = s.search
		switch {
		case s.pool[w] >= 0: // of water that stands no higher: it would have come here too
			return true
		case s.z[w] <= level:
			s.next = append(s.next, w)
		default:
			s.queue.Push(s.z[w], w)
		}
	}
	return false
}

// stand numbers the water of a level over some vertices; none where there are none.
func (s *stander) stand(level float64, over []int32) {
	if len(over) == 0 {
		return
	}
	w := water{level: level}
	for _, v := range over {
		s.pool[v] = int32(len(s.waters))
		w.depth = math.Max(w.depth, level-s.z[v])
	}
	s.waters = append(s.waters, w)
}

// measure adds up what stands of each water over the facets.
func (s *stander) measure() {
	for k := range s.p.facets {
		c := &s.p.facets[k]
		a, b, d := s.pool[c[0]], s.pool[c[1]], s.pool[c[2]]
		if a >= 0 {
			s.sum(k, a)
		}
		if b >= 0 && b != a {
			s.sum(k, b)
		}
		if d >= 0 && d != a && d != b {
			s.sum(k, d)
		}
	}
}

// sum adds what stands of water n over facet k.
func (s *stander) sum(k int, n int32) {
	c, w := &s.p.facets[k], &s.waters[n]
	area, volume := ponding.Under(w.level-s.z[c[0]], w.level-s.z[c[1]], w.level-s.z[c[2]], s.p.area[k])
	w.area += area
	w.volume += volume
}
