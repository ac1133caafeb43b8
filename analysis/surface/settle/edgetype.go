package settle

import (
	"math"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// pieceKind says what a piece of the outline is.
type pieceKind struct {
	open bool
	edge int32 // index into roof.Edges; -1 where the outline's default holds
}

// pieceType returns the kind of the outline's piece between two nodes: that of the edge on which its middle lies, or the
// outline's default. Two edges of different types on one piece are refused.
func (d *draft) pieceType(a, b int32) pieceKind {
	x := (float64(d.x[a]) + float64(d.x[b])) / 2
	y := (float64(d.y[a]) + float64(d.y[b])) / 2
	edge := d.edgeAt(x, y)
	t := d.r.Outline.Edge
	if edge >= 0 {
		t = d.r.Edges[edge].Type
	}
	return pieceKind{t != roof.Wall, edge}
}

// edgeAt returns the first edge that runs past (x, y) in grid units, or -1.
func (d *draft) edgeAt(x, y float64) int32 {
	for i := range d.r.Edges {
		if d.runsPast(i, x, y) {
			return int32(i)
		}
	}
	return -1
}

// runsPast reports whether edge i runs past a place of the outline, within tolerance.
func (d *draft) runsPast(i int, x, y float64) bool {
	line := d.r.Edges[i].Line
	reach := d.units(onLine) + 2
	for k := 1; k < len(line); k++ {
		ax, ay := line[k-1].Plan[0]*geometry.PerMetre, line[k-1].Plan[1]*geometry.PerMetre
		dx, dy := line[k].Plan[0]*geometry.PerMetre-ax, line[k].Plan[1]*geometry.PerMetre-ay
		long := vector.Norm(dx, dy)
		if long == 0 {
			continue
		}
		t := (float64((x-ax)*dx) + float64((y-ay)*dy)) / long
		if off := math.Abs(float64((x-ax)*dy)-float64((y-ay)*dx)) / long; t >= 0 && t <= long && off <= reach {
			return true
		}
	}
	return false
}

// checkEdges refuses edges that leave the outline, and stretches of the outline that two edges give different types.
func (d *draft) checkEdges() {
	along := make([]float64, len(d.r.Edges))
	told := map[[2]int]bool{}
	for _, s := range d.spans(0, d.outline) {
		x := (float64(d.x[s.a]) + float64(d.x[s.b])) / 2
		y := (float64(d.y[s.a]) + float64(d.y[s.b])) / 2
		first := -1
		for j := range d.r.Edges {
			if !d.runsPast(j, x, y) {
				continue
			}
			along[j] += vector.Norm(geometry.Metres(d.x[s.b]-d.x[s.a]), geometry.Metres(d.y[s.b]-d.y[s.a]))
			if first < 0 {
				first = j
			} else if d.r.Edges[j].Type != d.r.Edges[first].Type && !told[[2]int{first, j}] {
				told[[2]int{first, j}] = true
				me, other := source{isEdge, int32(j)}, source{isEdge, int32(first)}
				d.refuse(me, d.point(s.a), d.name(other)+" and "+d.name(me)+" give one stretch of the outline two types", "shorten one of them")
			}
		}
	}
	for j := range d.r.Edges {
		d.checkAlong(j, along[j])
	}
}

// checkAlong refuses edge j when it runs along less of the outline than it is long.
func (d *draft) checkAlong(j int, along float64) {
	line := d.r.Edges[j].Line
	long := 0.0
	for k := 1; k < len(line); k++ {
		long += vector.Norm(line[k].Plan[0]-line[k-1].Plan[0], line[k].Plan[1]-line[k-1].Plan[1])
	}
	if slack := 2 * onLine * d.scale * float64(len(line)); along < long-slack {
		me := source{isEdge, int32(j)}
		d.refuse(me, line[0].Plan, d.name(me)+" leaves the outline between its points", "draw it along the outline, with a point at every corner")
	}
}
