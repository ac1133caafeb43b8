package setout

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// straight is how far a point of the outline may lie beside a wall that goes on past it [m], and near how near two places
// count as one [m]: no tape on a roof is read closer.
const (
	straight = 0.005
	near     = 0.03
)

// loop is one closed border of the surface, the roof on its left; it begins at its lowest x, y.
type loop struct {
	plan []orb.Point
	z    []float64
	open []bool // per stretch that begins at that point: gutter or free edge
	area float64
}

// borders returns the borders of the surface, the outer one (the largest) first.
func borders(t *surface.TIN) []loop {
	var loops []loop
	done := make([]bool, len(t.V))
	for e := range t.V {
		if t.Twin[e] >= 0 || done[e] {
			continue
		}
		var l loop
		for k := int32(e); !done[k]; k = t.Out[t.V[surface.Next(k)]] {
			done[k] = true
			v := t.V[k]
			l.plan = append(l.plan, orb.Point{t.X[v], t.Y[v]})
			l.z = append(l.z, t.Z[v])
			l.open = append(l.open, t.Flag[k]&surface.OpenEdge != 0)
		}
		l.begin()
		loops = append(loops, l)
	}
	slices.SortStableFunc(loops, func(a, b loop) int { return cmp.Compare(b.area, a.area) })
	return loops
}

// begin turns the loop so that it begins at its lowest x, y, which is a corner, and measures its area.
func (l *loop) begin() {
	first, o := 0, l.plan[0]
	for i, p := range l.plan {
		q := l.plan[(i+1)%len(l.plan)]
		l.area += (float64((p[0]-o[0])*(q[1]-o[1])) - float64((q[0]-o[0])*(p[1]-o[1]))) / 2
		if f := l.plan[first]; p[0] < f[0] || p[0] == f[0] && p[1] < f[1] {
			first = i
		}
	}
	l.plan = append(slices.Clone(l.plan[first:]), l.plan[:first]...)
	l.z = append(slices.Clone(l.z[first:]), l.z[:first]...)
	l.open = append(slices.Clone(l.open[first:]), l.open[:first]...)
}

// stretches joins what is straight and of one type.
func (l *loop) stretches() []Wall {
	var walls []Wall
	n := len(l.plan)
	for i := 0; i < n; {
		k := i + 1
		for k < n && l.open[k] == l.open[i] && l.isStraight(i, k+1) {
			k++
		}
		w := Wall{From: l.plan[i], To: l.plan[k%n], Open: l.open[i]}
		w.Length = distance(w.From, w.To)
		walls = append(walls, w)
		i = k
	}
	return walls
}

// isStraight reports whether the points between i and k lie on the line from i to k.
func (l *loop) isStraight(i, k int) bool {
	w := Wall{From: l.plan[i], To: l.plan[k%len(l.plan)]}
	for m := i + 1; m < k; m++ {
		if w.From == w.To || math.Abs(w.square(l.plan[m])) > straight {
			return false
		}
	}
	return true
}

// corner is a place where two stretches of the outline meet: number at and the one after it.
type corner struct {
	at     int
	worth  int     // how good a corner it is to measure from, whatever the lengths
	length float64 // of both stretches [m]
	way    float64 // sum of the distances to all points [m]
}

// walls picks the two longest walls that meet at a corner: walls rather than open edges, corners that point outwards and are
// between 30 and 150 degrees rather than others; of those as long to 2 % the one nearest to the points.
func (s *Sheet) walls(border []loop) error {
	if len(border) == 0 {
		return errors.New("the surface has no border")
	}
	all := border[0].stretches()
	corners, longest := s.corners(all), 0.0
	for _, c := range corners {
		longest = max(longest, c.length)
	}
	var best *corner
	for i := range corners {
		if c := &corners[i]; c.length > 0.98*longest && (best == nil || c.way < best.way-1e-6) {
			best = c
		}
	}
	if best == nil {
		return errors.New("the outline has no corner")
	}
	a, b := all[best.at], all[(best.at+1)%len(all)]
	s.Corner = a.To
	if b.Length > a.Length+1e-4 {
		a, b = b, a
	}
	s.Walls = [2]Wall{a, b}
	for i := range s.Walls {
		s.name(&s.Walls[i])
	}
	return nil
}

// corners returns the corners of the greatest worth.
func (s *Sheet) corners(all []Wall) []corner {
	var corners []corner
	most := 0
	for i := range all {
		a, b := &all[i], &all[(i+1)%len(all)]
		turn := a.cross(b)
		if !(math.Abs(turn) > 1e-3) {
			continue
		}
		c := corner{at: i, length: a.Length + b.Length}
		for _, good := range []bool{!a.Open && !b.Open, turn > 0.5, math.Abs(turn) > 0.5} {
			c.worth *= 2
			if good {
				c.worth++
			}
		}
		for k := range s.Points {
			c.way += distance(a.To, s.Points[k].Plan)
		}
		corners, most = append(corners, c), max(most, c.worth)
	}
	return slices.DeleteFunc(corners, func(c corner) bool { return c.worth < most })
}

// cross returns the sine of the turn from one wall to the next, positive to the left.
func (w *Wall) cross(next *Wall) float64 {
	ax, ay := w.To[0]-w.From[0], w.To[1]-w.From[1]
	bx, by := next.To[0]-next.From[0], next.To[1]-next.From[1]
	return (float64(ax*by) - float64(ay*bx)) / (norm(ax, ay) * norm(bx, by))
}

// name calls a wall by its label or by the side of the roof on which it stands.
func (s *Sheet) name(w *Wall) {
	what := " wall"
	if w.Open {
		what = " edge"
	}
	w.Name = side(w.To[1]-w.From[1], w.From[0]-w.To[0]) + what
	middle := orb.Point{(w.From[0] + w.To[0]) / 2, (w.From[1] + w.To[1]) / 2}
	for i := range s.book.Study.Roof.Edges {
		e := &s.book.Study.Roof.Edges[i]
		for k := 1; k < len(e.Line) && e.Label != ""; k++ {
			if a, b := e.Line[k-1].Plan, e.Line[k].Plan; between(a, b, middle) {
				w.Name += " (" + e.Label + ")"
				return
			}
		}
	}
}

// between reports whether p lies on the stretch from a to b.
func between(a, b, p orb.Point) bool {
	return distance(a, p)+distance(p, b) < distance(a, b)+near/10
}
