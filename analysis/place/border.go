package place

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// straight is how far a point of the outline may lie beside a wall that goes on past it [m]: no tape on a roof is read closer.
const straight = 0.005

// Border is one closed border of a surface, the roof on its left; it begins at its lowest x, y.
type Border struct {
	Plan []orb.Point
	Z    []float64 // [m]
	Open []bool    // per stretch that begins at that point: gutter or free edge
	area float64
}

// Wall is a straight stretch of the outline.
type Wall struct {
	Name   string // "south wall", "east gutter", with the label of its edge
	From   orb.Point
	To     orb.Point // the roof lies to the left of From-To
	Open   bool      // a gutter or free edge
	Length float64   // [m]
}

// Borders returns the borders of a surface, the outer one (the largest) first.
func Borders(t *surface.TIN) []Border {
	var borders []Border
	for _, ring := range t.Rings() {
		var b Border
		for _, k := range ring {
			v := t.V[k]
			b.Plan = append(b.Plan, orb.Point{t.X[v], t.Y[v]})
			b.Z = append(b.Z, t.Z[v])
			b.Open = append(b.Open, t.Flag[k]&surface.OpenEdge != 0)
		}
		b.begin()
		borders = append(borders, b)
	}
	slices.SortStableFunc(borders, func(a, b Border) int { return cmp.Compare(b.area, a.area) })
	return borders
}

// begin turns the border so that it begins at its lowest x, y, which is a corner, and measures its area.
func (b *Border) begin() {
	first, o := 0, b.Plan[0]
	for i, p := range b.Plan {
		q := b.Plan[(i+1)%len(b.Plan)]
		b.area += (float64((p[0]-o[0])*(q[1]-o[1])) - float64((q[0]-o[0])*(p[1]-o[1]))) / 2
		if f := b.Plan[first]; p[0] < f[0] || p[0] == f[0] && p[1] < f[1] {
			first = i
		}
	}
	b.Plan = append(slices.Clone(b.Plan[first:]), b.Plan[:first]...)
	b.Z = append(slices.Clone(b.Z[first:]), b.Z[:first]...)
	b.Open = append(slices.Clone(b.Open[first:]), b.Open[:first]...)
}

// Stretches joins what is straight and of one type, in the order of the border. Their names are empty.
func (b *Border) Stretches() []Wall {
	var walls []Wall
	n := len(b.Plan)
	for i := 0; i < n; {
		k := i + 1
		for k < n && b.Open[k] == b.Open[i] && b.isStraight(i, k+1) {
			k++
		}
		w := Wall{From: b.Plan[i], To: b.Plan[k%n], Open: b.Open[i]}
		w.Length = vector.Distance(w.From, w.To)
		walls = append(walls, w)
		i = k
	}
	return walls
}

// isStraight reports whether the points between i and k lie on the line from i to k.
func (b *Border) isStraight(i, k int) bool {
	w := Wall{From: b.Plan[i], To: b.Plan[k%len(b.Plan)]}
	for m := i + 1; m < k; m++ {
		if w.From == w.To || math.Abs(w.Square(b.Plan[m])) > straight {
			return false
		}
	}
	return true
}

// Square returns the distance of p square to the wall's line, positive on the roof's side [m].
func (w *Wall) Square(p orb.Point) float64 {
	dx, dy := w.To[0]-w.From[0], w.To[1]-w.From[1]
	return (float64(dx*(p[1]-w.From[1])) - float64(dy*(p[0]-w.From[0]))) / vector.Norm(dx, dy)
}

// along returns how far from the wall's beginning the foot of p lies on its line [m].
func (w *Wall) along(p orb.Point) float64 {
	dx, dy := w.To[0]-w.From[0], w.To[1]-w.From[1]
	return (float64(dx*(p[0]-w.From[0])) + float64(dy*(p[1]-w.From[1]))) / vector.Norm(dx, dy)
}

// Turn returns the sine of the turn from one wall to the next, positive to the left.
func (w *Wall) Turn(next *Wall) float64 {
	ax, ay := w.To[0]-w.From[0], w.To[1]-w.From[1]
	bx, by := next.To[0]-next.From[0], next.To[1]-next.From[1]
	return (float64(ax*by) - float64(ay*bx)) / (vector.Norm(ax, ay) * vector.Norm(bx, by))
}

func (w *Wall) middle() orb.Point {
	return orb.Point{(w.From[0] + w.To[0]) / 2, (w.From[1] + w.To[1]) / 2}
}
