package catchment_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"

	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// trials returns how many random roofs a property is tried on.
func trials() int {
	if os.Getenv("RUNNEL_LONG") == "1" {
		return 1000
	}
	return 60
}

func randomRun(t *testing.T, k int) result {
	t.Helper()
	return run(t, shape.Random(uint64(k), 200), func(p *ponding.Ponds) []bool {
		listed := make([]bool, len(p.Ponds))
		for i := range listed {
			listed[i] = k%3 > 0 && i%3 < k%3
		}
		return listed
	})
}

// TestOutlinesValid has every outline checked by an independent library: rings closed and simple, holes
// inside, nothing crossing.
func TestOutlinesValid(t *testing.T) {
	for k := range trials() {
		x := randomRun(t, k)
		for _, m := range outlines(x.c) {
			if err := valid(m); err != nil {
				t.Errorf("roof %d: %v", k, err)
			}
		}
	}
}

func outlines(c *catchment.Catchments) []orb.MultiPolygon {
	list := []orb.MultiPolygon{c.Undrawn}
	for _, x := range append(append([]catchment.Catchment{}, c.Dry...), c.Full...) {
		list = append(list, x.Outline)
	}
	return list
}

func valid(m orb.MultiPolygon) error {
	var polygons []geom.Polygon
	for _, p := range m {
		var rings []geom.LineString
		for _, r := range p {
			var flat []float64
			for _, at := range r {
				flat = append(flat, at[0], at[1])
			}
			rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
		}
		polygons = append(polygons, geom.NewPolygon(rings))
	}
	return geom.NewMultiPolygon(polygons).Validate()
}

// TestOutlinesMatch proves that the dry catchments fit without gaps: every side of an outline is that of
// one neighbour turned round, or lies on the border of the roof, all of which is used. Points are compared
// to the nanometre: where two boundaries run side by side nearer than that, the sliver between them is
// not drawn.
func TestOutlinesMatch(t *testing.T) {
	for k := range trials() {
		x := randomRun(t, k)
		sides := map[[2]orb.Point]int{}
		for _, c := range x.c.Dry {
			for _, p := range c.Outline {
				for _, r := range p {
					for i := 1; i < len(r); i++ {
						a, b := nanometre(r[i-1]), nanometre(r[i])
						sides[[2]orb.Point{a, b}]++
						sides[[2]orb.Point{b, a}]--
					}
				}
			}
		}
		open := 0.0
		for side, count := range sides {
			if count > 1 {
				t.Errorf("roof %d: side %v is used %d times", k, side, count)
			}
			if count == 1 {
				open += planar.Distance(side[0], side[1])
			}
		}
		near(t, "unmatched sides", open, borderLength(x.s.Cut), 1e-6)
	}
}

func nanometre(p orb.Point) orb.Point {
	return orb.Point{math.Round(p[0]*1e9) / 1e9, math.Round(p[1]*1e9) / 1e9}
}

func borderLength(t *surface.TIN) float64 {
	sum := 0.0
	for e, twin := range t.Twin {
		if twin < 0 {
			a, b := t.V[e], t.V[surface.Next(int32(e))]
			sum += math.Hypot(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
		}
	}
	return sum
}

// TestPlacesLieInTheirOutlines compares the label of random places with the outline that holds them.
func TestPlacesLieInTheirOutlines(t *testing.T) {
	places, skipped := 0, 0
	for k := range trials() {
		x := randomRun(t, k)
		r := rand.New(rand.NewPCG(uint64(k), 3))
		bound := bounds(x.s.Cut)
		for range 100 {
			at := orb.Point{bound.Min[0] + r.Float64()*(bound.Max[0]-bound.Min[0]), bound.Min[1] + r.Float64()*(bound.Max[1]-bound.Min[1])}
			label, _ := x.n.At(at[0], at[1])
			if label == flow.Unlabelled {
				continue
			}
			places++
			if planar.MultiPolygonContains(dryOf(x, label).Outline, at) {
				continue
			}
			if beside(x.c, at) {
				skipped++
				continue
			}
			t.Errorf("roof %d: %v drains to %+v but lies outside its outline", k, at, x.n.Ends[label])
		}
	}
	if places == 0 || skipped*5 > places {
		t.Errorf("%d of %d places skipped", skipped, places)
	}
}

func bounds(t *surface.TIN) orb.Bound {
	var m orb.MultiPoint
	for i, x := range t.X {
		m = append(m, orb.Point{x, t.Y[i]})
	}
	return m.Bound()
}

// dryOf returns the dry catchment that a label belongs to.
func dryOf(x result, label flow.Label) *catchment.Catchment {
	end := x.n.Ends[label]
	var shared *catchment.Catchment
	for i := range x.c.Dry {
		c := &x.c.Dry[i]
		switch {
		case end.Outlet >= 0 && c.Outlet == end.Outlet, end.Pit >= 0 && c.Pond >= 0 && c.Pond == x.p.OfPit[end.Pit]:
			return c
		case c.Pond >= 0:
			shared = c
		}
	}
	return shared
}

// beside reports whether a place lies within a micrometre of an outline.
func beside(c *catchment.Catchments, at orb.Point) bool {
	for _, x := range c.Dry {
		for _, p := range x.Outline {
			for _, r := range p {
				if planar.DistanceFrom(orb.LineString(r), at) < 1e-6 {
					return true
				}
			}
		}
	}
	return false
}

// TestLongest checks the paths: they never rise, are as long as they say, and the dry ones are as long as
// the longest travel of their outlet.
func TestLongest(t *testing.T) {
	full := 0
	for k := range trials() {
		x := randomRun(t, k)
		for _, p := range x.c.Longest {
			length := 0.0
			for i := 1; i < len(p.Line); i++ {
				length += planar.Distance(p.Line[i-1], p.Line[i])
				if p.Elevations[i] > p.Elevations[i-1] {
					t.Errorf("roof %d: path to outlet %d rises at %v", k, p.Outlet, p.Line[i])
				}
			}
			near(t, "length of the line", length, p.Travel, 1e-9)
			near(t, "drop", p.Drop, p.Elevations[0]-p.Elevations[len(p.Elevations)-1], 1e-12)
			if p.Full {
				full++
			} else {
				near(t, "dry travel", p.Travel, x.n.TravelMax[p.Outlet], 0.010)
			}
		}
	}
	if full == 0 {
		t.Error("no path crosses a full pond")
	}
}
