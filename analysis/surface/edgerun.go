package surface

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// layEdges makes an outlet of every maximal run of gutter or free edge of one type.
func (l *layout) layEdges() {
	t := l.s.Cut
	kind := map[int32]roof.EdgeType{}
	for e, f := range t.Flag {
		if t.Twin[e] < 0 && f&OpenEdge != 0 {
			kind[int32(e)] = l.edgeType(int32(e))
		}
	}
	var runs []Outlet
	for e := range t.Flag {
		k, open := kind[int32(e)]
		if !open {
			continue
		}
		run := []int32{int32(e)}
		for h := t.Last(t.V[e]); h != int32(e); h = t.Last(t.V[h]) {
			if other, ok := kind[h]; !ok || other != k {
				break
			}
			run[0] = h
		}
		run[0] = l.runStart(run[0], k, kind)
		for h := t.Out[t.End(run[0])]; h != run[0]; h = t.Out[t.End(h)] {
			if other, ok := kind[h]; !ok || other != k {
				break
			}
			run = append(run, h)
		}
		for _, h := range run {
			delete(kind, h)
		}
		runs = append(runs, l.edgeOutlet(run, k))
	}
	slices.SortStableFunc(runs, func(a, b Outlet) int { return compareLine(a.Line, b.Line) })
	for _, o := range runs {
		l.outlets, l.rings, l.ends = append(l.outlets, o), append(l.rings, nil), append(l.ends, [2]int32{-1, -1})
	}
}

// runStart returns where a run that may go all the way round begins: at its lowest x, y when it does.
func (l *layout) runStart(e int32, k roof.EdgeType, kind map[int32]roof.EdgeType) int32 {
	t := l.s.Cut
	if other, ok := kind[t.Last(t.V[e])]; !ok || other != k {
		return e
	}
	best := e
	for h := t.Out[t.End(e)]; h != e; h = t.Out[t.End(h)] {
		if v, w := t.V[h], t.V[best]; t.GX[v] < t.GX[w] || t.GX[v] == t.GX[w] && t.GY[v] < t.GY[w] {
			best = h
		}
	}
	return best
}

func compareLine(a, b orb.LineString) int {
	lowest := func(l orb.LineString) orb.Point {
		return slices.MinFunc(l, comparePoint)
	}
	return cmp.Or(comparePoint(lowest(a), lowest(b)), comparePoint(a[0], b[0]))
}

func comparePoint(p, q orb.Point) int {
	return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
}

// edgeSource returns the edge of the roof on which a border half-edge of the cut TIN lies, or -1.
func (l *layout) edgeSource(e int32) int32 {
	t := l.s.Cut
	a, b := t.V[e], t.End(e)
	return l.EdgeAt((float64(t.GX[a])+float64(t.GX[b]))/2, (float64(t.GY[a])+float64(t.GY[b]))/2)
}

func (l *layout) edgeType(e int32) roof.EdgeType {
	if i := l.edgeSource(e); i >= 0 {
		return l.r.Edges[i].Type
	}
	return l.r.Outline.Edge
}

// edgeOutlet makes the outlet of a run of half-edges.
func (l *layout) edgeOutlet(run []int32, k roof.EdgeType) Outlet {
	t := l.s.Cut
	o := Outlet{Source: -1, Type: roof.EdgeOutlet, Edge: k, Edges: run, Low: math.Inf(1)}
	see := func(v int32) {
		p := orb.Point{t.X[v], t.Y[v]}
		o.Line = append(o.Line, p)
		o.Vertices = append(o.Vertices, v)
		if t.Z[v] < o.Low || t.Z[v] == o.Low && comparePoint(p, o.Plan) < 0 {
			o.Low, o.Plan = t.Z[v], p
		}
	}
	see(t.V[run[0]])
	for _, e := range run {
		see(t.End(e))
	}
	for _, e := range run {
		if i := l.edgeSource(e); i >= 0 {
			edge := &l.r.Edges[i]
			if o.Label == "" {
				o.Label = edge.Label
			}
			o.Duty = edge.Duty
			break
		}
	}
	o.Invert = o.Low
	return o
}
