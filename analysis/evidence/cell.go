package evidence

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/surface"
)

// scalesOf returns the sides of the cells, in spots, in which a ground is judged, the finest first. Where the error is
// small against the fall from spot to spot the spots are enough; where it is great, cells are made that it is not.
func scalesOf(g *ground, in *Input, slope float64) []int {
	const widest, fewest = 8, 30
	r := g.typicalError() / float64(slope*in.Surface.Spacing)
	if r < leastRatio {
		return []int{1}
	}
	var out []int
	for k := 1; k <= widest && (k == 1 || g.measured/(k*k) >= fewest); k++ {
		if k > 3 && len(out) > 0 {
			break
		}
		if r/float64(k*k) <= greatestRatio {
			out = append(out, k)
		}
	}
	if len(out) == 0 {
		out = []int{1}
	}
	return out
}

// typicalError returns the median standard error of the elements [m].
func (g *ground) typicalError() float64 {
	all := make([]float64, len(g.low))
	for i, w := range g.low {
		all[i] = 1 / math.Sqrt(w)
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// cells returns the ground in square cells of k by k spots each, and the cell of every element. A cell stands at the mean
// of what was measured in it; where the ground bends within it, what the bend can hide is added to its error.
func (g *ground) cells(in *Input, k int) (*ground, []int32) {
	size := float64(k) * in.Surface.Spacing
	of := make([]int32, len(g.z))
	type key struct{ i, j int32 }
	where := make([]key, len(g.z))
	x0, y0 := slices.Min(g.x), slices.Min(g.y)
	for e := range g.z {
		where[e] = key{int32(onGrid(g.x[e]-x0) / size), int32(onGrid(g.y[e]-y0) / size)}
	}
	order := identity(len(g.z))
	slices.SortFunc(order, func(a, b int32) int {
		switch {
		case where[a].i != where[b].i:
			return cmp.Compare(where[a].i, where[b].i)
		case where[a].j != where[b].j:
			return cmp.Compare(where[a].j, where[b].j)
		}
		return cmp.Compare(a, b)
	})
	seen := make([]int32, len(g.z))
	out := &ground{line: g.line, curbs: g.curbs, invert: g.invert, outWeight: g.outWeight, vertex: g.vertex, number: g.number}
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && where[order[to]] == where[order[from]] {
			to++
		}
		for _, e := range order[from:to] {
			of[e] = int32(len(out.z))
		}
		g.average(out, order[from:to], size, seen)
		from = to
	}
	g.joinCells(out, of)
	if g.curb != nil {
		out.curb = make([]bool, len(out.z))
		for e, c := range of {
			out.curb[c] = out.curb[c] || g.curb[e]
		}
	}
	return out, of
}

// average adds the cell of some elements to out. seen is room for one number an element, zero at first.
func (g *ground) average(out *ground, of []int32, size float64, seen []int32) {
	var weight, x, y, z float64
	add := func(e int32) {
		w := g.low[e]
		weight, x, y, z = weight+w, x+float64(w*g.x[e]), y+float64(w*g.y[e]), z+float64(w*g.z[e])
	}
	sink, fold := false, false
	for _, e := range of {
		sink, fold = sink || g.sink[e], fold || g.fold[e]
		if g.high[e] > 0 {
			add(e)
		}
	}
	assumed := weight == 0
	if assumed {
		add(of[0])
	}
	variance := 1 / weight
	bend := g.bend(of, seen, int32(len(out.z))+1, fold)
	variance += float64(float64(bend*size/4) * float64(bend*size/4))
	out.x, out.y, out.z = append(out.x, x/weight), append(out.y, y/weight), append(out.z, onGrid(z/weight))
	out.low, out.sink = append(out.low, 1/variance), append(out.sink, sink)
	out.fold = append(out.fold, fold)
	if assumed {
		out.high = append(out.high, 0)
	} else {
		out.high = append(out.high, 1/variance)
		out.measured++
	}
}

// bend returns by how much the gradient differs between the elements of a cell and round about: the misfit of a plane, as a
// slope, beyond what their errors make. Where no fold is known to run through the cell, twice that is taken off, since scatter may
// merely be great: what it is taken for then hides ponds. seen has the number of the cell, which is above 0, at what was looked at for it.
func (g *ground) bend(of, seen []int32, number int32, folded bool) float64 {
	var f fit
	list := make([]int32, 0, 64)
	o := of[0]
	look := func(e int32) {
		if seen[e] != number && g.high[e] > 0 {
			seen[e] = number
			list = append(list, e)
		}
	}
	for _, e := range of {
		look(e)
		for _, w := range g.around(e) {
			look(w)
		}
	}
	slices.Sort(list)
	reach := 0.0
	for _, e := range list {
		dx, dy := g.x[e]-g.x[o], g.y[e]-g.y[o]
		f.add(dx, dy, g.z[e]-g.z[o])
		reach = math.Max(reach, float64(dx*dx)+float64(dy*dy))
	}
	height, gx, gy, _, ok := f.plane()
	if !ok || len(list) < 5 {
		return 0
	}
	sum, errors := 0.0, 0.0
	for _, e := range list {
		d := g.z[e] - g.z[o] - height - float64(gx*(g.x[e]-g.x[o])) - float64(gy*(g.y[e]-g.y[o]))
		sum += float64(d * d)
		errors += 1 / g.low[e]
	}
	n := float64(len(list))
	misfit := sum/(n-3) - errors/n
	if !folded {
		misfit -= errors / n
	}
	if misfit <= 0 {
		return 0
	}
	return alike(4 * math.Sqrt(misfit) / math.Sqrt(reach))
}

// joinCells makes cells neighbours that an edge joins, and gives each the doors of its elements.
func (g *ground) joinCells(out *ground, of []int32) {
	n := len(out.z)
	found, doors := make([][]int32, n), make([][]door, n)
	for e := range of {
		c := of[e]
		for _, w := range g.around(int32(e)) {
			if of[w] != c {
				found[c] = append(found[c], of[w])
			}
		}
		for _, d := range g.doorsOf(int32(e)) {
			d.own = 0
			doors[c] = append(doors[c], d)
		}
	}
	out.first, out.firstDoor = make([]int32, n+1), make([]int32, n+1)
	for c := range n {
		slices.Sort(found[c])
		out.near = append(out.near, slices.Compact(found[c])...)
		out.first[c+1] = int32(len(out.near))
		slices.SortFunc(doors[c], func(a, b door) int {
			return cmp.Or(cmp.Compare(a.outlet, b.outlet), cmp.Compare(a.at, b.at), cmp.Compare(a.weight, b.weight))
		})
		out.doors = append(out.doors, slices.CompactFunc(doors[c], func(a, b door) bool { return a.outlet == b.outlet })...)
		out.firstDoor[c+1] = int32(len(out.doors))
	}
}

// Side returns the side, in points, of the cells over which a survey has to be averaged for its error to be small against
// the fall from cell to cell: 1 where the points themselves are so; most at most.
func Side(s *surface.Surface, e *Errors, most int) int {
	r := e.Typical / float64(e.Slope*s.Spacing)
	for k := 1; k < most; k++ {
		if r/float64(k*k) <= greatestRatio {
			return k
		}
	}
	return most
}
