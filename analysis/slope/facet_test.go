package slope_test

import (
	"math"
	"testing"

	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

func bearing(azimuth, distance float64) (east, north float64) {
	sin, cos := math.Sincos(azimuth * math.Pi / 180)
	return distance * sin, distance * cos
}

func TestThreePointProblems(t *testing.T) {
	mx, my := bearing(247, 4100)
	lx, ly := bearing(198, 5160)
	cases := []struct {
		name        string
		points      [3][3]float64
		dip, aspect float64 // degrees
		tolerance   float64
		source      string
	}{
		{
			"high, middle and low outcrop",
			[3][3]float64{{0, 0, 700}, {mx, my, 500}, {lx, ly, 200}},
			5.646, 186.566, 0.0005,
			"solved three-point spreadsheet (strike 276.566, dip 5.646): water runs at strike - 90",
		},
		{
			"outcrops A, B, C",
			[3][3]float64{{400, 100, 400}, {0, 0, 200}, {0, 300, 500}},
			45.868, 194.036, 0.0005,
			"structural geology laboratory GG303, exercise 3; by hand: gradient 1/4 east, 1 north; atan(sqrt(17)/4), 180 + atan(1/4)",
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var s survey
			for _, p := range c.points {
				s.spot(p[0], p[1], p[2])
			}
			got, err := slope.Of(s.surface(t), nil, standard.Criteria{})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "dip of the facet", math.Atan(got.Slope[0])*180/math.Pi, c.dip, c.tolerance)
			near(t, "aspect of the facet", got.Aspect[0], c.aspect, c.tolerance)
			near(t, "dip of the plane", math.Atan(got.Planes[0].Slope)*180/math.Pi, c.dip, c.tolerance)
			near(t, "aspect of the plane", got.Planes[0].Aspect, c.aspect, c.tolerance)
		})
	}
}

func TestAspectIsTheBearingOfFallingWater(t *testing.T) {
	cases := []struct {
		name   string
		dx, dy float64
		want   float64 // by hand: opposite of the uphill direction
	}{
		{"rises north, runs south", 0, 1, 180},
		{"rises south, runs north", 0, -1, 0},
		{"rises east, runs west", 1, 0, 270},
		{"rises west, runs east", -1, 0, 90},
		{"rises north-east", 1, 1, 225},
	}
	for _, c := range cases {
		near(t, c.name, slope.Aspect(c.dx, c.dy), c.want, 1e-12)
	}
	if a := slope.Aspect(0, 0); !math.IsNaN(a) {
		t.Errorf("aspect of a level plane is %g, want none", a)
	}
}

func TestLevelFacetHasNoAspect(t *testing.T) {
	var s survey
	for _, p := range [][2]float64{{0, 0}, {4, 0}, {4, 3}, {0, 3}} {
		s.spot(p[0], p[1], 2)
	}
	got, err := slope.Of(s.surface(t), nil, standard.Criteria{MinSlope: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	for f := range got.Slope {
		if got.Slope[f] != 0 || !math.IsNaN(got.Aspect[f]) {
			t.Errorf("facet %d: slope %g, aspect %g", f, got.Slope[f], got.Aspect[f])
		}
	}
	if len(got.Planes) != 1 || !got.Planes[0].Level || !got.Planes[0].BelowMin || !got.Planes[0].Resolved {
		t.Errorf("planes: %+v", got.Planes)
	}
	if got.BelowMinShare != 1 {
		t.Errorf("share below %g, want 1", got.BelowMinShare)
	}
}

func TestFacetSigma(t *testing.T) {
	// By hand: right triangle of legs 3 and 4 m, area 6 m2, edges opposite the corners 5, 4 and 3 m:
	// equal errors of 2 mm give 0.002 * sqrt(25 + 16 + 9) / 12.
	var s survey
	s.spot(0, 0, 1)
	s.spot(3, 0, 1.1)
	s.spot(0, 4, 1.2)
	s.sigma = []float64{0.002, 0.002, 0.002}
	got, err := slope.Of(s.surface(t), nil, standard.Criteria{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sigma of the facet", got.Sigma[0], 0.002*math.Sqrt(50)/12, 1e-9)
	// The gradient is (1.1-1.0)/3, (1.2-1.0)/4 = 1/30, 1/20, so the unit vector of the fall is
	// (2, 3)/sqrt(13) and slope = z1 (2/3)/sqrt(13) + z2 (3/4)/sqrt(13) - z0 (17/12)/sqrt(13).
	want := 0.002 * math.Sqrt(4./9+9./16+289./144) / math.Sqrt(13)
	near(t, "sigma of the plane", got.Planes[0].Sigma, want, 1e-9)
}

func TestNoFacets(t *testing.T) {
	for _, s := range []*surface.Surface{nil, {}, {TIN: &surface.TIN{}}} {
		if _, err := slope.Of(s, nil, standard.Criteria{}); err == nil {
			t.Errorf("%+v was taken", s)
		}
	}
}
