package layer

import "github.com/paulmach/orb"

// Kind is what a shape is.
type Kind uint8

// The kinds of shape, and None of a thing whose place is not known.
const (
	None Kind = iota
	Point
	Line
	Polygon
	MultiPolygon
)

// Position is a place: whole numbers of the last decimal of the coordinates, the elevation likewise where it is known.
type Position struct {
	X, Y, Z int64
	HasZ    bool
}

// Shape is where a feature lies. Its positions stand one after the other.
type Shape struct {
	Kind      Kind
	Positions []Position
	Rings     []int // where each ring of a polygon ends in Positions
	Polygons  []int // where each polygon ends in Rings
}

func (s *Shape) reset() {
	s.Kind, s.Positions, s.Rings, s.Polygons = None, s.Positions[:0], s.Rings[:0], s.Polygons[:0]
}

// Ring returns the positions of ring i, the first again at its end.
func (s *Shape) Ring(i int) []Position {
	from := 0
	if i > 0 {
		from = s.Rings[i-1]
	}
	return s.Positions[from:s.Rings[i]]
}

// RingsOf returns which rings polygon i has: from the first, its outline, up to before the last.
func (s *Shape) RingsOf(i int) (first, last int) {
	if i > 0 {
		first = s.Polygons[i-1]
	}
	return first, s.Polygons[i]
}

// height gives the elevation at a place of a geometry [m]; false where none is known.
type height func(p orb.Point) (float64, bool)

// at is a height that is the same everywhere.
func at(z float64) height { return func(orb.Point) (float64, bool) { return z, true } }

// unknown is a height that is known nowhere.
func unknown(orb.Point) (float64, bool) { return 0, false }

func (w *builder) position(p orb.Point, z height) {
	x, y := w.grid.fix(p)
	q := Position{X: x, Y: y}
	if !w.grid.Geographic {
		if v, ok := z(p); ok {
			q.Z, q.HasZ = w.grid.level(v), true
		}
	}
	w.shape.Positions = append(w.shape.Positions, q)
}

func (w *builder) point(p orb.Point, z height) {
	w.shape.Kind = Point
	w.position(p, z)
}

// line sets a line; z is asked for each of its points by number. Points that are one when rounded are set once, but for the second of the
// two that a line must have.
func (w *builder) line(l []orb.Point, z func(i int) (float64, bool)) {
	s := &w.shape
	s.Kind = Line
	for i, p := range l {
		w.position(p, func(orb.Point) (float64, bool) { return z(i) })
		if n := len(s.Positions); n > 1 && s.Positions[n-1] == s.Positions[n-2] && (n > 2 || i+1 < len(l)) {
			s.Positions = s.Positions[:n-1]
		}
	}
}

// polygons sets a polygon, or several; none leaves the shape without a place.
func (w *builder) polygons(m orb.MultiPolygon, z height) {
	for _, p := range m {
		for i, r := range p {
			w.ring(r, i > 0, z)
		}
		w.endPolygon()
	}
}

func (w *builder) endPolygon() {
	s := &w.shape
	s.Polygons = append(s.Polygons, len(s.Rings))
	s.Kind = Polygon
	if len(s.Polygons) > 1 {
		s.Kind = MultiPolygon
	}
}

// ring sets a closed ring, counter-clockwise, or clockwise for a hole, as its rounded positions turn.
func (w *builder) ring(r orb.Ring, hole bool, z height) {
	turn := 0.0
	x0, y0 := w.grid.fix(r[0])
	for i := 1; i+1 < len(r); i++ {
		ax, ay := w.grid.fix(r[i])
		bx, by := w.grid.fix(r[i+1])
		turn += float64(float64(ax-x0)*float64(by-y0)) - float64(float64(bx-x0)*float64(ay-y0))
	}
	backward := turn != 0 && (turn < 0) != hole
	for i := range r {
		if backward {
			i = len(r) - 1 - i
		}
		w.position(r[i], z)
	}
	w.shape.Rings = append(w.shape.Rings, len(w.shape.Positions))
}
