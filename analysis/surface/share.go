package surface

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/geometry"
	"runnel/analysis/roof"
)

// collectBorders finds the half-edges of every scupper, then settles inverts and what footprints share.
func (l *layout) collectBorders() {
	t := l.s.Cut
	for i := range l.outlets {
		o := &l.outlets[i]
		if o.Type == roof.Scupper {
			o.Low = math.Inf(1)
			u, w := l.ends[i][0], l.ends[i][1]
			o.Low = math.Min(t.Z[u], t.Z[w])
			for v := u; v != w; v = t.End(t.Out[v]) {
				o.Edges = append(o.Edges, t.Out[v])
				o.Low = math.Min(o.Low, t.Z[v])
			}
		}
		l.setInvert(o)
	}
	l.share()
}

// setInvert takes an outlet's invert from the roof, on the grid of the elevations, or assumes the lowest surface plus a dam.
func (l *layout) setInvert(o *Outlet) {
	if o.Source < 0 {
		return
	}
	in := &l.r.Outlets[o.Source]
	o.Invert = geometry.Metres(geometry.OnGrid(in.Invert))
	if !in.HasInvert {
		o.Invert, o.InvertAssumed = o.Low+float64(in.DamHeight), true
	}
}

// share gives facets and half-edges that several footprints cover to one: lower invert, then primary, then order.
func (l *layout) share() {
	t := l.s.Cut
	order := make([]int, len(l.outlets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		p, q := &l.outlets[a], &l.outlets[b]
		return cmp.Or(cmp.Compare(p.Invert, q.Invert), cmp.Compare(p.Duty, q.Duty))
	})
	facets, edges := map[int32]bool{}, map[int32]bool{}
	for _, i := range order {
		o := &l.outlets[i]
		had := len(o.Facets) + len(o.Edges)
		o.Facets, o.Edges = claim(o.Facets, facets), claim(o.Edges, edges)
		if had > 0 && len(o.Facets)+len(o.Edges) == 0 && o.Source >= 0 {
			l.NoteShared(o.Source)
		}
		o.Vertices = t.verticesOf(o)
	}
}

func claim(list []int32, taken map[int32]bool) []int32 {
	kept := list[:0]
	for _, v := range list {
		if !taken[v] {
			taken[v] = true
			kept = append(kept, v)
		}
	}
	slices.Sort(kept)
	return kept
}

// verticesOf returns the vertices of an outlet's facets and half-edges, ascending.
func (t *TIN) verticesOf(o *Outlet) []int32 {
	var all []int32
	for _, f := range o.Facets {
		all = append(all, t.V[3*f:3*f+3]...)
	}
	for _, e := range o.Edges {
		all = append(all, t.V[e], t.End(e))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// name gives every outlet an id and a label that no other has.
func (l *layout) name() {
	letters := map[roof.OutletType]string{roof.Drain: "D", roof.Scupper: "S", roof.EdgeOutlet: "E"}
	count := map[string]int{}
	next := map[string]int{}
	used := map[string]bool{}
	for i := range l.outlets {
		o := &l.outlets[i]
		letter := letters[o.Type]
		count[letter]++
		o.ID = fmt.Sprintf("%s%02d", letter, count[letter])
		o.Label = strings.TrimSpace(o.Label)
		if o.Label == "" {
			continue
		}
		if strings.Trim(o.Label, "0123456789") == "" {
			o.Label = letter + o.Label // a bare number is no name in a sentence
		}
		base := o.Label
		for n := 2; used[o.Label]; n++ {
			o.Label = fmt.Sprintf("%s (%d)", base, n)
		}
		used[o.Label] = true
	}
	for i := range l.outlets {
		o := &l.outlets[i]
		if o.Label != "" {
			continue
		}
		letter := o.ID[:1]
		for o.Label == "" || used[o.Label] {
			next[letter]++
			o.Label = fmt.Sprintf("%s%d", letter, next[letter])
		}
		used[o.Label] = true
	}
}
