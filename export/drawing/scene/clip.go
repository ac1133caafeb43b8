package scene

import "slices"

// Clip cuts a shape off at the sides of a rectangle. The line round an area falls into pieces, so that none runs along those sides.
func Clip(s Shape, r Rect) []Shape {
	if inRect(s.Paths, r) {
		return []Shape{s}
	}
	var out []Shape
	if s.Closed && s.Fill != "" {
		area := Shape{Closed: true, Fill: s.Fill}
		for _, path := range s.Paths {
			for _, in := range sides(r) {
				path = half(path, in)
			}
			if len(path) > 2 {
				area.Paths = append(area.Paths, path)
			}
		}
		out = append(out, area)
	}
	if s.Stroke != "" {
		line := s
		line.Closed, line.Fill, line.Paths = false, "", nil
		for _, path := range s.Paths {
			if s.Closed && len(path) > 0 {
				path = append(path[:len(path):len(path)], path[0])
			}
			line.Paths = append(line.Paths, pieces(path, r)...)
		}
		out = append(out, line)
	}
	return slices.DeleteFunc(out, func(s Shape) bool { return len(s.Paths) == 0 })
}

// inRect reports whether all paths lie in a rectangle.
func inRect(paths [][]Point, r Rect) bool {
	for _, path := range paths {
		for _, p := range path {
			if p.X < r.X || p.X > r.X+r.W || p.Y < r.Y || p.Y > r.Y+r.H {
				return false
			}
		}
	}
	return true
}

// sides returns how far a place lies inside each side of a rectangle.
func sides(r Rect) [4]func(p Point) float64 {
	return [4]func(p Point) float64{
		func(p Point) float64 { return p.X - r.X },
		func(p Point) float64 { return r.X + r.W - p.X },
		func(p Point) float64 { return p.Y - r.Y },
		func(p Point) float64 { return r.Y + r.H - p.Y },
	}
}

// half returns the part of a closed path on the inner side (Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17,
// 1974; from memory).
func half(path []Point, in func(p Point) float64) []Point {
	var out []Point
	for i, a := range path {
		b := path[(i+1)%len(path)]
		da, db := in(a), in(b)
		if da >= 0 {
			out = append(out, a)
		}
		if (da >= 0) != (db >= 0) {
			out = append(out, between(a, b, da/(da-db)))
		}
	}
	return out
}

func between(a, b Point, t float64) Point {
	return Point{X: Hundredth(a.X + float64(t*(b.X-a.X))), Y: Hundredth(a.Y + float64(t*(b.Y-a.Y)))}
}

// pieces returns the parts of an open path inside a rectangle.
func pieces(path []Point, r Rect) [][]Point {
	var out [][]Point
	var run []Point
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		from, to := 0.0, 1.0
		for _, in := range sides(r) {
			switch da, db := in(a), in(b); {
			case da < 0 && db < 0:
				from = 2
			case da < 0:
				from = max(from, da/(da-db))
			case db < 0:
				to = min(to, da/(da-db))
			}
		}
		if from >= to {
			continue
		}
		if from > 0 || run == nil {
			if run != nil {
				out = append(out, run)
			}
			run = []Point{between(a, b, from)}
		}
		run = append(run, between(a, b, to))
		if to < 1 {
			out, run = append(out, run), nil
		}
	}
	if run != nil {
		out = append(out, run)
	}
	return out
}
