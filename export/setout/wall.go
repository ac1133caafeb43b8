package setout

import (
	"errors"
	"math"
	"slices"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/place"
)

// near is how near two places count as one [m]: no tape on a roof is read closer.
const near = 0.03

// corner is a place where two stretches of the outline meet: number at and the one after it.
type corner struct {
	at     int
	worth  int     // how good a corner it is to measure from, whatever the lengths
	length float64 // of both stretches [m]
	way    float64 // sum of the distances to all points [m]
}

// walls picks the two longest walls that meet at a corner: walls rather than open edges, corners that point outwards and are
// between 30 and 150 degrees rather than others; of those as long to 2 % the one nearest to the points.
func (s *Sheet) walls(border []place.Border) error {
	if len(border) == 0 {
		return errors.New("the surface has no border")
	}
	all := border[0].Stretches()
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
	s.Walls = [2]place.Wall{a, b}
	for i := range s.Walls {
		s.Walls[i].Name = place.Name(s.book.Study.Roof, &s.Walls[i])
	}
	return nil
}

// corners returns the corners of the greatest worth.
func (s *Sheet) corners(all []place.Wall) []corner {
	var corners []corner
	most := 0
	for i := range all {
		a, b := &all[i], &all[(i+1)%len(all)]
		turn := a.Turn(b)
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
			c.way += vector.Distance(a.To, s.Points[k].Plan)
		}
		corners, most = append(corners, c), max(most, c.worth)
	}
	return slices.DeleteFunc(corners, func(c corner) bool { return c.worth < most })
}
