package nextspot

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/cause"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// booked is a place without what has its own test.
type booked struct {
	kind         Kind
	plan         orb.Point
	pond, outlet int32
	weight       float64
}

func (c *collector) booked() []booked {
	var out []booked
	for _, p := range c.places {
		out = append(out, booked{p.Kind, p.Plan, p.Pond, p.Outlet, p.Weight})
	}
	return out
}

// Ponds of 10 m2 whose lowest vertex is (1, 2) and whose lip is vertex 0 at (0, 5), or the drain at (7, 7). A lip settles 0.8 of the verdict, a lowest place 0.7, an inlet all
// of it; what settles less than 0.5 m2 is not worth the walk.
func TestPondsInDoubt(t *testing.T) {
	low := booked{Lowest, orb.Point{1, 2}, 0, -1, 7}
	lip := booked{Lip, orb.Point{0, 5}, 0, -1, 8}
	sure := cause.Diagnosis{Resolved: true}
	for _, c := range []struct {
		name      string
		pond      ponding.Pond
		diagnosis cause.Diagnosis
		doubted   bool
		want      []booked
	}{
		{"resolved", ponding.Pond{Area: 10, HeldBy: -1}, sure, false, nil},
		{"in doubt by the survey's error", ponding.Pond{Area: 10, HeldBy: -1}, sure, true, []booked{low, lip}},
		{"uncertain", ponding.Pond{Area: 10, HeldBy: -1}, cause.Diagnosis{Resolved: true, Uncertain: true}, false, []booked{low, lip}},
		{"its lip assumed", ponding.Pond{Area: 10, HeldBy: -1}, cause.Diagnosis{Resolved: true, LipAssumed: true}, false, []booked{low, lip}},
		{"not resolved", ponding.Pond{Area: 10, HeldBy: -1}, cause.Diagnosis{}, false, []booked{low, lip}},
		{"without a way out", ponding.Pond{Area: 10, HeldBy: -1, Undrained: true}, sure, true, nil},
		{"held by a drain", ponding.Pond{Area: 10, Lip: -1}, sure, true, []booked{low, {Inlet, orb.Point{7, 7}, 0, 0, 10}}},
		{"held by nothing known", ponding.Pond{Area: 10, Lip: -1, HeldBy: -1}, sure, true, []booked{low}},
		{"of 0.72 m2", ponding.Pond{Area: 0.72, HeldBy: -1}, sure, true, []booked{{Lowest, low.plan, 0, -1, 0.504}, {Lip, lip.plan, 0, -1, 0.576}}},
		{"of 0.7 m2", ponding.Pond{Area: 0.7, HeldBy: -1}, sure, true, []booked{{Lip, lip.plan, 0, -1, 0.56}}},
		{"of 0.6 m2", ponding.Pond{Area: 0.6, HeldBy: -1}, sure, true, nil},
	} {
		c.pond.Pits = []int32{1}
		in := &Input{
			Surface: &surface.Surface{Cut: &surface.TIN{X: []float64{0, 1}, Y: []float64{5, 2}}, Outlets: []surface.Outlet{{Plan: orb.Point{7, 7}}}},
			Ponds:   &ponding.Ponds{Ponds: []ponding.Pond{c.pond}}, Listed: []int32{0}, Causes: []cause.Diagnosis{c.diagnosis},
		}
		if c.doubted {
			in.InDoubt = []int32{0}
		}
		got := &collector{Input: in}
		got.ponds()
		if !reflect.DeepEqual(got.booked(), c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got.booked(), c.want)
		}
		for _, p := range got.places {
			if p.Plane != -1 || p.Odd != -1 {
				t.Errorf("%s: a place of a pond concerns plane %d and height %d", c.name, p.Plane, p.Odd)
			}
		}
	}
}

// A drain of 0.15 m radius has a spot at its rim within 0.3 m of its footprint, 0.45 m of its middle. An inlet that nobody shot settles all of its catchment, one without
// a spot at the rim half of it; where no catchment was measured, a square of the spacing, 3 m, stands for it. A gutter is no outlet to shoot.
func TestOutletsInDoubt(t *testing.T) {
	cut := &surface.TIN{X: []float64{5.15, 4.85}, Y: []float64{5, 5}}
	drain := surface.Outlet{Plan: orb.Point{5, 5}, Vertices: []int32{0, 1}}
	assumed, gutter := drain, drain
	assumed.InvertAssumed, gutter.InvertAssumed = true, true
	gutter.Line = orb.LineString{{0, 0}, {9, 0}}
	for _, c := range []struct {
		name   string
		outlet surface.Outlet
		spot   orb.Point
		area   float64
		want   []booked
	}{
		{"a spot at the rim", drain, orb.Point{5.44, 5}, 50, nil},
		{"a spot too far off", drain, orb.Point{5, 5.46}, 50, []booked{{Rim, drain.Plan, -1, 0, 25}}},
		{"nobody shot the inlet", assumed, orb.Point{5, 5}, 50, []booked{{Inlet, drain.Plan, -1, 0, 50}}},
		{"nor is the catchment known", assumed, orb.Point{5, 5}, 0, []booked{{Inlet, drain.Plan, -1, 0, 9}}},
		{"a gutter", gutter, orb.Point{0, 0}, 50, nil},
	} {
		tin := &surface.TIN{X: []float64{c.spot[0], 20, 5}, Y: []float64{c.spot[1], 20, 5}, Spot: []int32{0, 1, -1}, Assumed: make([]bool, 3)}
		in := &Input{Surface: &surface.Surface{TIN: tin, Cut: cut, Outlets: []surface.Outlet{c.outlet}, Spacing: 3}, Catchments: []float64{c.area}}
		got := &collector{Input: in}
		if got.outlets(); !reflect.DeepEqual(got.booked(), c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got.booked(), c.want)
		}
	}
	tin := &surface.TIN{X: []float64{1, 2, 3}, Y: []float64{4, 5, 6}, Spot: []int32{0, -1, 7}, Assumed: []bool{false, false, true}}
	in := &collector{Input: &Input{Surface: &surface.Surface{TIN: tin}}}
	if got := in.shots(); !slices.Equal(got, []orb.Point{{1, 4}}) {
		t.Errorf("shot were %v, want the first alone: the second is no spot, the third was inferred", got)
	}
	o := surface.Outlet{Plan: orb.Point{5, 5}}
	for x, want := range map[float64]bool{5.29: true, 5.31: false} { // a point of a drain
		at := []orb.Point{{x, 5}}
		if got := in.shotAt(&o, at, nearby.New(at)); got != want {
			t.Errorf("a spot at x = %g is at the drain: %v", x, got)
		}
	}
}

// squares is a level roof of 3 by 2 squares of 4 m.
func squares(t *testing.T) *surface.Surface {
	t.Helper()
	row := make([]float64, 4)
	return shape.Build(t, shape.Heights(4, row, row, row))
}

// round is the area of the facets that have a corner at v.
func round(tin *surface.TIN, v int32) float64 {
	sum := 0.0
	for f := range int32(tin.Facets()) {
		if slices.Contains(tin.V[3*f:3*f+3], v) {
			sum += tin.FacetArea(f)
		}
	}
	return sum
}

// A height that does not fit is shot again for the facets round it and the ponds that rest on it; one that is no vertex was never there. An edge whose height was inferred
// settles a twentieth of the facets that rest on it.
func TestHeightsInDoubt(t *testing.T) {
	s := squares(t)
	for v := range int32(len(s.TIN.X)) {
		at := orb.Point{s.TIN.X[v], s.TIN.Y[v]}
		area := round(s.TIN, v)
		c := &collector{Input: &Input{
			Surface: s, Odd: []blunder.Odd{{Vertex: -1}, {Vertex: v, Plan: at}}, Rests: [][]int32{{0}, {1, 0}, {}, {1}}, Listed: []int32{0, 2, 1, 1},
			Ponds: &ponding.Ponds{Ponds: []ponding.Pond{{Area: 1000}, {Area: 5}, {Area: 7}}},
		}}
		c.odd()
		if want := []booked{{Again, at, -1, -1, area + 12}}; !reflect.DeepEqual(c.booked(), want) || c.places[0].Odd != 1 || c.places[0].Plane != -1 {
			t.Errorf("vertex %d: %+v, want %+v", v, c.places, want)
		}
		s.TIN.Assumed[v] = true
		c.places = nil
		c.edges()
		s.TIN.Assumed[v] = false
		if want := (booked{EdgeUnshot, at, -1, -1, alike(area / 20)}); area >= 10 && (len(c.places) != 1 || c.booked()[0] != want) || area < 10 && len(c.places) > 0 {
			t.Errorf("vertex %d, %g m2 round it: %+v", v, area, c.places)
		}
	}
}

// A plane of 96 m2 whose slope is not two standard errors from the criterion, 2 %, is shot at its lowest and its highest vertex, of several the one with the least number, whatever
// the order of its facets; each settles a tenth. A level plane has no ends.
func TestPlanesInDoubt(t *testing.T) {
	s := squares(t)
	facets := make([]int32, s.TIN.Facets())
	for i := range facets {
		facets[i] = int32(i)
	}
	turned := slices.Clone(facets)
	slices.Reverse(turned)
	for _, c := range []struct {
		gradient [2]float64
		error    float64
		level    bool
		booked   bool
	}{
		{[2]float64{0.02, 0}, 0.001, false, true},
		{[2]float64{0, 0.025}, 0.0026, false, true},
		{[2]float64{0, 0.025}, 0.0024, false, false},
		{[2]float64{0, -0.015}, 0.0026, false, true},
		{[2]float64{0, -0.015}, 0.0024, false, false},
		{[2]float64{0.012, 0.016}, 0.0001, false, true},
		{[2]float64{-0.012, 0.016}, 0.0001, false, true},
		{[2]float64{0.02, 0}, 0.001, true, false},
	} {
		for _, order := range [][]int32{facets, turned} {
			p := slope.Plane{Facets: order, Gradient: c.gradient, Slope: math.Hypot(c.gradient[0], c.gradient[1]), Sigma: c.error, Level: c.level, Area: 96}
			got := &collector{Input: &Input{Surface: s, Slopes: &slope.Slopes{Planes: []slope.Plane{{Level: true}, p}}, Criteria: standard.Criteria{MinSlope: 0.02}}}
			got.planes()
			if !c.booked {
				if len(got.places) > 0 {
					t.Errorf("%v, %g: %+v", c.gradient, c.error, got.places)
				}
				continue
			}
			low, high := 0, 0
			up := func(v int) float64 { return alike(c.gradient[0]*s.TIN.X[v] + c.gradient[1]*s.TIN.Y[v]) }
			for v := range s.TIN.X {
				if up(v) < up(low) {
					low = v
				}
				if up(v) > up(high) {
					high = v
				}
			}
			want := []booked{{PlaneLow, orb.Point{s.TIN.X[low], s.TIN.Y[low]}, -1, -1, 9.6}, {PlaneHigh, orb.Point{s.TIN.X[high], s.TIN.Y[high]}, -1, -1, 9.6}}
			if !reflect.DeepEqual(got.booked(), want) || got.places[0].Plane != 1 || got.places[1].Plane != 1 {
				t.Errorf("%v, %g: %+v, want %+v", c.gradient, c.error, got.places, want)
			}
		}
	}
}

// Of places a stride, 0.75 m, apart both are told, of nearer ones the weightier; of equal weights the kind that comes first.
func TestWhichOfPlaces(t *testing.T) {
	s := &surface.Surface{TIN: &surface.TIN{}, Cut: &surface.TIN{X: []float64{0, 0.74, 10, 10.76}, Y: []float64{3, 3, 3, 3}}}
	pond := func(pit, lip int32, area float64) ponding.Pond {
		return ponding.Pond{Pits: []int32{pit}, Lip: lip, HeldBy: -1, Area: area}
	}
	in := &Input{Surface: s, Slopes: &slope.Slopes{}, Ponds: &ponding.Ponds{Ponds: []ponding.Pond{pond(0, 1, 10), pond(2, 3, 20)}}, InDoubt: []int32{0, 1}}
	got := (&collector{places: Of(in, 8)}).booked()
	if want := []booked{{Lip, orb.Point{0.74, 3}, 0, -1, 8}, {Lowest, orb.Point{10, 3}, 1, -1, 14}, {Lip, orb.Point{10.76, 3}, 1, -1, 16}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if one := Of(in, 1); len(one) != 1 || one[0].Weight != 16 {
		t.Errorf("the one that tells most: %+v", one)
	}
	if none := Of(in, 0); len(none) != 0 {
		t.Errorf("%+v", none)
	}
}

// The corners of a triangle on the circle of 5 m about (4, 3), by the triangle of 3, 4 and 5; turned the other way round, or on one line, they lie on none.
func TestCircle(t *testing.T) {
	tin := &surface.TIN{X: []float64{9, 7, 0, 1, 2, 3}, Y: []float64{3, 7, 6, 1, 2, 3}, V: []int32{0, 1, 2, 2, 1, 0, 3, 4, 5}}
	p, r, ok := circle(tin, 0)
	if !ok || !(math.Abs(p[0]-4) <= 1e-12) || !(math.Abs(p[1]-3) <= 1e-12) || !(math.Abs(r-5) <= 1e-12) {
		t.Errorf("circle about %v, %g m", p, r)
	}
	for _, f := range []int32{1, 2} {
		if _, _, ok := circle(tin, f); ok {
			t.Errorf("facet %d lies on a circle", f)
		}
	}
}
