package geodesic

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/queue"
	"runnel/analysis/surface"
)

// source is a corner that light comes from: of the target, or one that a way rounds.
type source struct {
	at       orb.Point
	distance float64 // from it to the target
	via      int32   // source that its own way goes to, -1 at the target
}

// window is the part of half-edge e, from position t0 to t1, through which a source is seen from the triangle of e.
type window struct {
	source, e int32
	t0, t1    float64
	after     int32 // next window on the same half-edge, -1 none
}

// Field is how far every place of a region is from a target.
type Field struct {
	r       *Region
	dist    []float64 // per vertex
	via     []int32   // per vertex: source that its way goes to, -1 at the target
	corner  []int32   // per vertex: half-edge that starts there, of the triangle in which it was seen
	sources []source
	windows []window
	first   []int32     // per half-edge: its first window, -1 none
	queue   queue.Queue // windows and vertices by their distance; of equal ones windows in the order in which they were made, then vertices by number
}

// firstWindow is the number of the first window in the queue: windows stand below 0, vertices above.
const firstWindow = math.MinInt32

// same is the length up to which two ways count as equally long [m], and grazing the share of an edge up to which a
// corner counts as seen.
const (
	same    = 1e-9
	grazing = 1e-9
)

// windowsPerSide is how many windows a half-edge has at most on average. No pond was found that needs three; the limit
// keeps the time in bounds whatever the shape, and beyond it ways keep to corners that were reached.
const windowsPerSide = 60

// From returns the distances to a target: a set of vertices of the region.
func (r *Region) From(target []int32) *Field {
	n := len(r.X)
	f := &Field{r: r, dist: make([]float64, n), via: make([]int32, n), corner: make([]int32, n), first: make([]int32, len(r.V))}
	for v := range f.dist {
		f.dist[v], f.via[v], f.corner[v] = math.Inf(1), -1, -1
	}
	for e := range f.first {
		f.first[e] = -1
	}
	for _, v := range target {
		f.dist[v] = 0
	}
	f.light(target)
	for limit := windowsPerSide*len(r.V) + 1000; len(f.queue) > 0 && len(f.windows) < limit; {
		switch distance, id := f.queue.Pop(); {
		case id < 0:
			f.cross(id - firstWindow)
		case f.dist[id] == distance:
			f.round(id)
		}
	}
	f.reachRest()
	return f
}

// light lets every vertex of the target shine into all triangles round it.
func (f *Field) light(target []int32) {
	of := make([]int32, len(f.r.X)) // source of a vertex of the target, plus 1
	for _, v := range target {
		if of[v] == 0 {
			f.sources = append(f.sources, source{f.r.point(v), 0, -1})
			of[v] = int32(len(f.sources))
		}
	}
	for e, v := range f.r.V {
		if of[v] > 0 {
			f.shine(of[v]-1, surface.Next(int32(e)), 0, 1)
			f.see(f.r.V[surface.Next(int32(e))], of[v]-1, surface.Next(int32(e)))
			f.see(f.r.V[surface.Prev(int32(e))], of[v]-1, surface.Prev(int32(e)))
		}
	}
}

// see notes that vertex v is seen from a source, in the triangle of the half-edge e that starts there.
func (f *Field) see(v, src, e int32) {
	s := &f.sources[src]
	if d := s.distance + vector.Distance(s.at, f.r.point(v)); d < f.dist[v]-same {
		f.dist[v], f.via[v], f.corner[v] = d, src, e
		f.queue.Push(d, v)
	}
}

// shine makes the window of a source on the neighbour's side of half-edge g, which light leaves its triangle over between
// positions t0 and t1 of g.
func (f *Field) shine(src, g int32, t0, t1 float64) {
	e := f.r.Twin[g]
	if e < 0 {
		return
	}
	t0, t1 = max(0, 1-t1), min(1, 1-t0)
	if !(t1-t0 > 1e-12) || f.beaten(src, e, t0, t1) {
		return
	}
	s := &f.sources[src]
	a, b := f.r.ends(e)
	f.windows = append(f.windows, window{source: src, e: e, t0: t0, t1: t1, after: -1})
	f.queue.Push(s.distance+toSegment(s.at, vector.Along(a, b, t0), vector.Along(a, b, t1)), firstWindow+int32(len(f.windows)-1))
}

// beaten reports whether no shortest way comes through a window, because the way over one end of its edge is shorter.
func (f *Field) beaten(src, e int32, t0, t1 float64) bool {
	s := &f.sources[src]
	a, b := f.r.ends(e)
	p, q := vector.Along(a, b, t0), vector.Along(a, b, t1)
	return s.distance+vector.Distance(s.at, q) > f.dist[f.r.V[e]]+vector.Distance(a, q)+same ||
		s.distance+vector.Distance(s.at, p) > f.dist[f.r.V[surface.Next(e)]]+vector.Distance(b, p)+same
}

// cross pushes a window across its triangle.
func (f *Field) cross(i int32) {
	w := f.windows[i]
	if f.beaten(w.source, w.e, w.t0, w.t1) {
		return
	}
	f.windows[i].after, f.first[w.e] = f.first[w.e], i
	s := f.sources[w.source].at
	a, b := f.r.ends(w.e)
	right, left := surface.Next(w.e), surface.Prev(w.e)
	c := f.r.point(f.r.V[left])
	tc := meets(s, c, a, b)
	if tc >= w.t0-grazing && tc <= w.t1+grazing {
		f.see(f.r.V[left], w.source, left)
	}
	if t1 := min(w.t1, tc); t1 > w.t0 {
		f.shine(w.source, left, f.behind(s, c, a, vector.Along(a, b, t1), t1 == tc, 0), f.behind(s, c, a, vector.Along(a, b, w.t0), w.t0 == 0, 1))
	}
	if t0 := max(w.t0, tc); t0 < w.t1 {
		f.shine(w.source, right, f.behind(s, b, c, vector.Along(a, b, w.t1), w.t1 == 1, 0), f.behind(s, b, c, vector.Along(a, b, t0), t0 == tc, 1))
	}
}

// behind returns where the ray from s through p meets the line from a to b: at the end given where it is known to.
func (f *Field) behind(s, a, b, p orb.Point, known bool, end float64) float64 {
	if known {
		return end
	}
	return max(0, min(1, meets(s, p, a, b)))
}

// round makes a source of vertex v where the border bends away from the light, for the shadow behind it.
func (f *Field) round(v int32) {
	from := f.corner[v]
	if f.via[v] < 0 || !f.onBorder(from) {
		return
	}
	at := f.r.point(v)
	back := vector.Minus(f.sources[f.via[v]].at, at)
	src, lit := int32(-1), true
	for e := f.left(from); e >= 0; e = f.left(e) {
		a, b := f.r.ends(surface.Next(e))
		switch {
		case lit && vector.Cross(back, vector.Minus(b, at)) < 0:
			lit, src = false, f.sourceAt(src, v)
			f.cast(src, e, f.clip(at, back, a, b, 0), 1)
			f.see(f.r.V[surface.Prev(e)], src, surface.Prev(e))
		case !lit:
			f.cast(src, e, 0, 1)
			f.see(f.r.V[surface.Prev(e)], src, surface.Prev(e))
		}
	}
	lit = true
	for e := f.right(from); e >= 0; e = f.right(e) {
		a, b := f.r.ends(surface.Next(e))
		switch {
		case lit && vector.Cross(back, vector.Minus(a, at)) > 0:
			lit, src = false, f.sourceAt(src, v)
			f.cast(src, e, 0, f.clip(at, back, a, b, 1))
			f.see(f.r.V[surface.Next(e)], src, surface.Next(e))
		case !lit:
			f.cast(src, e, 0, 1)
			f.see(f.r.V[surface.Next(e)], src, surface.Next(e))
		}
	}
}

// left returns the half-edge that starts where e does and comes next counter-clockwise, -1 at the border; right the next
// clockwise.
func (f *Field) left(e int32) int32 { return f.r.Twin[surface.Prev(e)] }

func (f *Field) right(e int32) int32 {
	if t := f.r.Twin[e]; t >= 0 {
		return surface.Next(t)
	}
	return -1
}

// onBorder reports whether the vertex that half-edge e starts at lies on the border.
func (f *Field) onBorder(e int32) bool {
	for x := f.left(e); x != e; x = f.left(x) {
		if x < 0 {
			return true
		}
	}
	return false
}

// clip returns where on the line from a to b the shadow begins behind a corner that is lit from back, or end where the
// line of light misses it.
func (f *Field) clip(at, back, a, b orb.Point, end float64) float64 {
	t := meets(at, orb.Point{at[0] - back[0], at[1] - back[1]}, a, b)
	return choose.If(t >= 0 && t <= 1, t, end)
}

// cast lets a source at the start of half-edge e shine over part of the opposite side.
func (f *Field) cast(src, e int32, t0, t1 float64) { f.shine(src, surface.Next(e), t0, t1) }

// sourceAt returns the source at vertex v, made if src is -1.
func (f *Field) sourceAt(src, v int32) int32 {
	if src >= 0 {
		return src
	}
	f.sources = append(f.sources, source{f.r.point(v), f.dist[v], f.via[v]})
	return int32(len(f.sources) - 1)
}

// reachRest gives vertices that no window came to the way along edges.
func (f *Field) reachRest() {
	for again := true; again; {
		again = false
		for e := range f.r.V {
			a, b := f.r.V[e], f.r.V[surface.Next(int32(e))]
			for range 2 {
				if d := f.dist[a] + vector.Distance(f.r.point(a), f.r.point(b)); math.IsInf(f.dist[b], 1) && !math.IsInf(d, 1) {
					f.sources = append(f.sources, source{f.r.point(a), f.dist[a], f.via[a]})
					f.dist[b], f.via[b] = d, int32(len(f.sources)-1)
					again = true
				}
				a, b = b, a
			}
		}
	}
}

// Vertex returns the distance of a vertex [m]; infinite where no way leads from it.
func (f *Field) Vertex(v int32) float64 { return f.dist[v] }

// Way returns the way from a place of triangle t to the target, the place itself first.
func (f *Field) Way(t int32, p orb.Point) orb.LineString {
	v, src := f.View(), int32(-1)
	way := orb.LineString{p}
	if _, i := v.find(t, p); i >= 0 {
		l := &v.lights[i]
		if src = l.source; l.corner >= 0 {
			way = append(way, l.from)
		}
	}
	for ; src >= 0; src = f.sources[src].via {
		way = append(way, f.sources[src].at)
	}
	return way
}
