package nextspot

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// Of random places, any number of them: the way begins at the lowest x + y, comes to each once, and no stretch of it turned round makes it a hand's breadth shorter.
func TestWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for n := range 12 {
		for range 40 {
			places := make([]Place, n)
			for i := range places {
				places[i].Plan = orb.Point{50 + 20*r.Float64(), 40 - 30*r.Float64()}
			}
			way := walk(slices.Clone(places))
			if len(way) != n {
				t.Fatalf("%d of %d places", len(way), n)
			}
			for _, p := range places {
				if !slices.ContainsFunc(way, func(q Place) bool { return q.Plan == p.Plan }) {
					t.Fatalf("%v is left out", p.Plan)
				}
				if p.Plan[0]+p.Plan[1] < way[0].Plan[0]+way[0].Plan[1] {
					t.Errorf("of %d places the way begins at %v and not at %v", n, way[0].Plan, p.Plan)
				}
			}
			length := Length(way)
			for i := 1; i < n; i++ {
				for k := i + 1; k < n; k++ {
					other := slices.Clone(way)
					slices.Reverse(other[i : k+1])
					if Length(other) < length-0.1-1e-9 {
						t.Errorf("%d places: %.3f m, and %.3f with places %d to %d turned round", n, length, Length(other), i, k)
					}
				}
			}
			if greedy := nearestFirst(places); length > greedy+1e-9 {
				t.Errorf("%d places: %.3f m, always to the nearest %.3f", n, length, greedy)
			}
		}
	}
}

// nearestFirst is the length of the way from the lowest x + y always to the nearest place left.
func nearestFirst(places []Place) float64 {
	left := make([]orb.Point, 0, len(places))
	for _, p := range places {
		left = append(left, p.Plan)
	}
	slices.SortFunc(left, func(a, b orb.Point) int {
		if a[0]+a[1] < b[0]+b[1] {
			return -1
		}
		return 1
	})
	sum := 0.0
	for len(left) > 1 {
		at := left[0]
		left = left[1:]
		slices.SortFunc(left, func(a, b orb.Point) int {
			if vector.Distance(at, a) < vector.Distance(at, b) {
				return -1
			}
			return 1
		})
		sum += vector.Distance(at, left[0])
	}
	return sum
}

// By hand: sides of 3, 4 and 12 m and their ends.
func TestLength(t *testing.T) {
	way := []Place{{Plan: orb.Point{1, 1}}, {Plan: orb.Point{4, 1}}, {Plan: orb.Point{4, 5}}, {Plan: orb.Point{4, -7}}}
	if got := Length(way); !(math.Abs(got-19) <= 1e-12) || Length(way[:1]) != 0 || Length(nil) != 0 {
		t.Errorf("%g m, want 19", got)
	}
}
