package drawing

import "runnel/export/drawing/scene"

// clipped cuts paths off at the sides of a rectangle. A closed path stays closed along them (Sutherland and Hodgman, "Reentrant polygon clipping",
// Communications of the ACM 17, 1974; from memory); an open one falls into pieces.
func clipped(paths [][]scene.Point, closed bool, r scene.Rect) [][]scene.Point {
	var out [][]scene.Point
	for _, path := range paths {
		if !closed {
			out = append(out, pieces(path, r)...)
			continue
		}
		for _, side := range sides(r) {
			path = half(path, side)
		}
		if len(path) > 2 {
			out = append(out, path)
		}
	}
	return out
}

// sides returns how far a place lies inside each side of a rectangle.
func sides(r scene.Rect) [4]func(p scene.Point) float64 {
	return [4]func(p scene.Point) float64{
		func(p scene.Point) float64 { return p.X - r.X },
		func(p scene.Point) float64 { return r.X + r.W - p.X },
		func(p scene.Point) float64 { return p.Y - r.Y },
		func(p scene.Point) float64 { return r.Y + r.H - p.Y },
	}
}

// half returns the part of a closed path on the inner side.
func half(path []scene.Point, in func(p scene.Point) float64) []scene.Point {
	var out []scene.Point
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

func between(a, b scene.Point, t float64) scene.Point {
	return scene.Point{X: hundredth(a.X + float64(t*(b.X-a.X))), Y: hundredth(a.Y + float64(t*(b.Y-a.Y)))}
}

// pieces returns the parts of an open path inside a rectangle.
func pieces(path []scene.Point, r scene.Rect) [][]scene.Point {
	var out [][]scene.Point
	var run []scene.Point
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
			run = []scene.Point{between(a, b, from)}
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
