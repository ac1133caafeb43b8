package nextspot

import (
	"slices"

	"runnel/analysis/geometry/vector"
)

// walk puts places in walking order.
func walk(places []Place) []Place {
	if len(places) < 2 {
		return places
	}
	out := make([]Place, 0, len(places))
	rest := slices.Clone(places)
	first := 0
	for i := range rest {
		if rest[i].Plan[0]+rest[i].Plan[1] < rest[first].Plan[0]+rest[first].Plan[1] {
			first = i
		}
	}
	for next := first; ; {
		out = append(out, rest[next])
		rest = slices.Delete(rest, next, next+1)
		if len(rest) == 0 {
			break
		}
		next = 0
		for i := range rest {
			if vector.Distance(rest[i].Plan, out[len(out)-1].Plan) < vector.Distance(rest[next].Plan, out[len(out)-1].Plan) {
				next = i
			}
		}
	}
	untangle(out)
	return out
}

// untangle turns stretches of the way round while that makes it shorter by a hand's breadth at least. The first place stays.
func untangle(way []Place) {
	const gain = 0.1 // [m]
	for turned := true; turned; {
		turned = false
		for i := 1; i < len(way)-1; i++ {
			for k := i + 1; k < len(way); k++ {
				before := vector.Distance(way[i-1].Plan, way[i].Plan)
				after := vector.Distance(way[i-1].Plan, way[k].Plan)
				if k+1 < len(way) {
					before += vector.Distance(way[k].Plan, way[k+1].Plan)
					after += vector.Distance(way[i].Plan, way[k+1].Plan)
				}
				if after < before-gain {
					slices.Reverse(way[i : k+1])
					turned = true
				}
			}
		}
	}
}

// Length returns how far it is to walk from the first place to the last [m].
func Length(way []Place) float64 {
	sum := 0.0
	for i := 1; i < len(way); i++ {
		sum += vector.Distance(way[i-1].Plan, way[i].Plan)
	}
	return sum
}
