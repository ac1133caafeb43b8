package slope_test

import (
	"math"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// at returns the gradient of that slope, rising to the bearing th degrees from east.
func at(s, th float64) [2]float64 {
	sin, cos := math.Sincos(th * math.Pi / 180)
	return [2]float64{s * cos, s * sin}
}

const perFoot = 1.0 / 12 // an inch of rise in a foot of run

// twoPlanes surveys a square of 2a by 2a about a valley through its centre where planes of gradients
// g1 and g2 meet: z = max(g1.p, g2.p). The valley is a breakline.
func twoPlanes(g1, g2 [2]float64, a float64, kind roof.BreaklineType) *survey {
	height := func(x, y float64) float64 { return math.Max(g1[0]*x+g1[1]*y, g2[0]*x+g2[1]*y) }
	tx, ty := g2[1]-g1[1], g1[0]-g2[0]
	n := math.Hypot(tx, ty)
	tx, ty = tx/n, ty/n
	s := &survey{}
	var line [][3]float64
	for i := -2; i <= 2; i++ {
		x, y := tx*a*float64(i)/2, ty*a*float64(i)/2
		line = append(line, [3]float64{x, y, height(x, y)})
	}
	s.breakline(kind, line...)
	for i := -2; i <= 2; i++ {
		for _, d := range []float64{-a, -a / 2, a / 2, a} {
			x, y := tx*a*float64(i)/2-ty*d, ty*a*float64(i)/2+tx*d
			s.spot(x, y, height(x, y))
		}
	}
	return s
}

// The formula and its eight rows: the common line of two planes computed by brute-force intersection,
// agreeing to 1e-4 percent. Slopes in inches per foot but where marked.
func TestValleyOfTwoPlanes(t *testing.T) {
	cases := []struct {
		name        string
		s1, s2, th  float64
		percent     float64 // of the valley
		inchPerFoot float64
		oneIn       float64
	}{
		{"1/4 and 1/4 at 90", perFoot / 4, perFoot / 4, 90, 1.473, 0.177, 68},
		{"1/4 and 1/2 at 90", perFoot / 4, perFoot / 2, 90, 1.863, 0.224, 54},
		{"1/4 and 1/8 at 90", perFoot / 4, perFoot / 8, 90, 0.932, 0.112, 107},
		{"2 % and 2 % at 90", 0.02, 0.02, 90, 1.414, 0.170, 71},
		{"1:40 and 1:40 at 90", 1.0 / 40, 1.0 / 40, 90, 1.768, 0.212, 57},
		{"1:80 and 1:80 at 90", 1.0 / 80, 1.0 / 80, 90, 0.884, 0.106, 113},
		{"1/4 and 1/4 at 60", perFoot / 4, perFoot / 4, 60, 1.804, 0.217, 55},
		{"1/4 and 1/4 at 120", perFoot / 4, perFoot / 4, 120, 1.042, 0.125, 96},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			g1, g2 := at(c.s1, 20), at(c.s2, 20+c.th)
			near(t, "formula, percent", 100*slope.ValleySlope(g1, g2), c.percent, 0.0005)
			near(t, "formula, inch per foot", 12*slope.ValleySlope(g1, g2), c.inchPerFoot, 0.0005)
			near(t, "formula, 1 in", 1/slope.ValleySlope(g1, g2), c.oneIn, 0.5)

			s := twoPlanes(g1, g2, 12, roof.GradeBreak)
			got, err := slope.Of(s.surface(t), &s.roof, standard.Criteria{MinSlope: 0.01, MinValleySlope: 1.0 / 96})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Planes) != 2 || len(got.Valleys) != 1 || len(got.Ridges) != 0 {
				t.Fatalf("%d planes, %d valleys, %d ridges; want 2, 1, 0", len(got.Planes), len(got.Valleys), len(got.Ridges))
			}
			v := got.Valleys[0]
			near(t, "percent", 100*v.Slope, c.percent, 0.0005)
			near(t, "length", v.Length, 24, 1e-4)
			near(t, "slopes of both planes", got.Planes[v.Left].Slope+got.Planes[v.Right].Slope, c.s1+c.s2, 1e-5)
			if below := c.percent < 1.0416; v.BelowMin != below {
				t.Errorf("below the criterion of 1:96: %v at %.4f %%", v.BelowMin, 100*v.Slope)
			}
			if !v.Named || v.BackFall != 0 || v.Breakline != 0 {
				t.Errorf("line: %+v", v)
			}
		})
	}
}

func TestRidgeOfTwoPlanesFallsAsTheValley(t *testing.T) {
	g1, g2 := at(0.02, 20), at(0.02, 110)
	s := twoPlanes([2]float64{-g1[0], -g1[1]}, [2]float64{-g2[0], -g2[1]}, 12, roof.GradeBreak)
	for i := range s.z { // upside down: the planes fall away from the line
		s.z[i], s.gz[i] = -s.z[i], -s.gz[i]
	}
	got, err := slope.Of(s.surface(t), &s.roof, standard.Criteria{MinValleySlope: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Valleys) != 0 || len(got.Ridges) != 1 {
		t.Fatalf("%d valleys, %d ridges; want 0, 1", len(got.Valleys), len(got.Ridges))
	}
	r := got.Ridges[0]
	near(t, "percent", 100*r.Slope, 1.414, 0.0005)
	if r.BelowMin {
		t.Error("a ridge was held against the valley criterion")
	}
}

func TestEqualGradientsHaveNoValley(t *testing.T) {
	if v := slope.ValleySlope(at(0.02, 30), at(0.02, 30)); !math.IsNaN(v) {
		t.Errorf("got %g", v)
	}
}

// Crickets: a full diamond of length L along the low line and width W across it, on a field of slope s.
// The valley lies in the field: s sin(atan(W/L)), whatever the cricket's own taper. The last column is
// the finished slope of cricket material of twice the field's taper on a field of 1/4 in per ft.
func TestCricketValleys(t *testing.T) {
	cases := []struct {
		ratio    float64 // L/W
		share    float64 // valley slope / s
		quarter  float64 // in per ft at s = 1/4 in per ft
		half     float64 // at 1/2
		two      float64 // percent at 2 %
		oneIn    float64 // at 1:80
		finished float64 // in per ft
	}{
		{1, 0.707, 0.177, 0.354, 1.41, 113, 0.368},
		{1.5, 0.555, 0.139, 0.277, 1.11, 144, 0.323},
		{math.Sqrt(3), 0.500, 0.125, 0.250, 1.00, 160, 0.310},
		{2, 0.447, 0.112, 0.224, 0.89, 179, 0.298},
		{2.5, 0.371, 0.093, 0.186, 0.74, 215, 0.284},
		{3, 0.316, 0.079, 0.158, 0.63, 253, 0.275},
		{4, 0.243, 0.061, 0.121, 0.49, 330, 0.265},
		{6, 0.164, 0.041, 0.082, 0.33, 487, 0.257},
	}
	for _, c := range cases {
		phi := math.Atan(1 / c.ratio)
		valley := func(s, taper float64) float64 {
			// the low line runs east, the field rises north; the cricket's valley runs at phi to it
			m := taper * s
			field := [2]float64{0, s}
			cricket := [2]float64{m * math.Sin(phi), s - m*math.Cos(phi)}
			return slope.ValleySlope(field, cricket)
		}
		near(t, "share", valley(0.02, 2)/0.02, c.share, 0.0005)
		near(t, "share with another taper", valley(0.02, 3)/0.02, c.share, 0.0005)
		near(t, "1/4 in per ft", 12*valley(perFoot/4, 2), c.quarter, 0.0006)
		near(t, "1/2 in per ft", 12*valley(perFoot/2, 2), c.half, 0.0006)
		near(t, "2 %", 100*valley(0.02, 2), c.two, 0.006)
		near(t, "1:80", 1/valley(1.0/80, 2), c.oneIn, 0.6)
		s := perFoot / 4
		near(t, "finished", 12*math.Hypot(2*s*math.Sin(phi), s-2*s*math.Cos(phi)), c.finished, 0.0006)

		// The same as a surface: half a diamond against the low line y = 0, outlets at both its ends.
		const w = 4.0 // half width of the diamond
		l := w * c.ratio
		cricketSurvey(t, c.ratio, l, w, 12*s, c.quarter)
	}
}

// cricketSurvey builds the cricket from (0, 0) over its top on the field at (l, w), down to (2l, 0), its
// ridge square to the low line, and compares both valleys.
func cricketSurvey(t *testing.T, ratio, l, w, inches, want float64) {
	t.Helper()
	s := &survey{}
	slopeField := inches / 12
	field := func(y float64) float64 { return slopeField * y }
	top := [3]float64{l, w, field(w)}
	phi := math.Atan(1 / ratio)
	// finished height of the ridge at the low line: 2 s times the distance from the valley
	ridge := 2 * slopeField * l * math.Sin(phi)
	s.breakline(roof.Cricket, [3]float64{0, 0, 0}, top)
	s.breakline(roof.Cricket, top, [3]float64{2 * l, 0, 0})
	s.breakline(roof.Cricket, [3]float64{l, 0, ridge}, top)
	for _, p := range [][2]float64{{-3, 0}, {2*l + 3, 0}, {-3, w}, {2*l + 3, w}, {-3, 3 * w}, {l, 3 * w}, {2*l + 3, 3 * w}} {
		s.spot(p[0], p[1], field(p[1]))
	}
	got, err := slope.Of(s.surface(t), &s.roof, standard.Criteria{MinValleySlope: 1.0 / 96})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Valleys) != 2 || len(got.Ridges) != 1 {
		t.Fatalf("L:W %g: %d valleys, %d ridges; want 2, 1", ratio, len(got.Valleys), len(got.Ridges))
	}
	for _, v := range got.Valleys {
		near(t, "valley of the surface", 12*v.Slope, want, 0.0006)
		if v.Type != roof.Cricket {
			t.Errorf("type %d", v.Type)
		}
	}
}
