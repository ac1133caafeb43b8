package evidence_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// channel is a row of spots a metre apart between walls of spots 1 m higher; water leaves over the free edge at its end.
func channel(z ...float64) *roof.Roof {
	n := len(z)
	side := make([]float64, n)
	for i := range side {
		side[i] = 1
	}
	r := shape.Heights(1, side, z, side)
	end := float64(n - 1)
	shape.Edge(r, roof.Free, shape.Bare(end, 0), shape.Bare(end, 2))
	return r
}

// equal judges a roof whose elevations all have one standard error.
func equal(tb testing.TB, r *roof.Roof, sigma float64) (*surface.Surface, *ponding.Ponds, *evidence.Result) {
	tb.Helper()
	s := shape.Build(tb, r)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		tb.Fatal(err)
	}
	e := evidence.ErrorsOf(s, r).Equal(sigma)
	return s, ps, evidence.Judge(&evidence.Input{Surface: s, Ponds: ps, Errors: e})
}

// By hand: with sigma 5 mm and all spots at one level l, the sum of ((z-l)/sigma)^2 is least at their mean. A pit 40 mm
// below a lone spot: 2 * 20^2/25 = 32 = d^2/(2 sigma^2). Two spots of a lip, or two of a floor: (2/3) * 40^2/25. A lip of 40
// and 30 mm: the mean of 0, 40 and 30 is 23.33; (544.4 + 277.8 + 44.4)/25 = 34.67. A lip of 40 and 10 mm: the second lies
// below the level of 20 mm and costs nothing.
func TestEvidenceByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		z    []float64
		want float64
	}{
		{"lone pit, lone lip", []float64{1, 0, 0.04, -0.1}, 32},
		{"lip of two", []float64{1, 0, 0.04, 0.04, -0.1}, 2 * 64.0 / 3},
		{"floor of two", []float64{1, 0, 0, 0.04, -0.1}, 2 * 64.0 / 3},
		{"uneven lip", []float64{1, 0, 0.04, 0.03, -0.1}, (0.07*0 + 0.0005444444 + 0.0002777778 + 0.0000444444) / 0.000025},
		{"lip that falls away", []float64{1, 0, 0.04, 0.01, -0.1}, 32},
		{"the lip is the open edge", []float64{1, 0, 0.04}, 32},
	} {
		_, ps, got := equal(t, channel(c.z...), 0.005)
		if len(ps.Ponds) != 1 || !(math.Abs(got.Ponds[0].Evidence-c.want) <= 1e-3) || !got.Ponds[0].Shown {
			t.Errorf("%s: %+v, want one pond of evidence %.3f", c.name, got.Ponds, c.want)
		}
	}
}

// A pit of 10 mm at sigma 5 mm has evidence 2 and is cancelled: pit and lip meet half way, 5 mm each, and nothing else
// moves.
func TestPlainestSurface(t *testing.T) {
	s, _, got := equal(t, channel(1, 0, 0.01, -0.1), 0.005)
	if got.Ponds[0].Shown || !(math.Abs(got.Ponds[0].Evidence-2) <= 1e-6) {
		t.Errorf("verdict %+v, want 2 and not shown", got.Ponds[0])
	}
	for v, z := range got.Plain {
		want := s.TIN.Z[v]
		if want == 0 || want == 0.01 {
			want = 0.005
		}
		if !(math.Abs(z-want) <= 1e-9) {
			t.Errorf("(%g, %g) stands at %g, want %g", s.TIN.X[v], s.TIN.Y[v], z, want)
		}
	}
}

// Half as great an error makes four times the evidence.
func TestScaling(t *testing.T) {
	_, _, a := equal(t, channel(1, 0, 0.03, -0.1), 0.01)
	_, _, b := equal(t, channel(1, 0, 0.03, -0.1), 0.005)
	if a.Ponds[0].Evidence == 0 || !(math.Abs(b.Ponds[0].Evidence-4*a.Ponds[0].Evidence) <= 1e-3) {
		t.Errorf("evidence %g and %g", a.Ponds[0].Evidence, b.Ponds[0].Evidence)
	}
}

// Invert 12 mm above the only spot of a drain's low place: both may be wrong, 6 mm each. With an error of 2 mm: 2 * 9.
// Round about the roof rises too steeply to matter.
func TestOutletsMove(t *testing.T) {
	r := shape.Pyramid(10, 10, 0.05, 0.3)
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = 0.012, true
	_, _, got := equal(t, r, 0.002)
	if !(math.Abs(got.Ponds[0].Evidence-18) <= 1e-3) {
		t.Errorf("evidence %g, want 18", got.Ponds[0].Evidence)
	}
}

// Nothing drains a box: no error of the survey lets its water go.
func TestNoWayOutIsShown(t *testing.T) {
	_, ps, got := equal(t, shape.Box(10, 8, 1, 0.01), 0.05)
	if len(ps.Ponds) != 1 || !got.Ponds[0].Shown || got.Ponds[0].Evidence != evidence.Most {
		t.Errorf("%+v", got.Ponds)
	}
}

// Where pit and lip are level as built, evidence is the square of a normal error over its variance wherever there is a
// pit, which is half of the time. Published quantiles of chi-square with one degree of freedom (Abramowitz and Stegun,
// "Handbook of Mathematical Functions", table 26.8, recalled): 0.455 at 50 %, 2.706 at 10 %, 3.841 at 5 %.
func TestEvidenceOfALonePitIsChiSquare(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 9))
	const runs = 800
	pits, beyond := 0.0, [3]float64{}
	for range runs {
		_, ps, got := equal(t, channel(1, 0.004*random.NormFloat64(), 0.004*random.NormFloat64(), -0.1), 0.004)
		if len(ps.Ponds) == 0 || got.Ponds[0].Evidence == 0 {
			continue
		}
		pits++
		for i, q := range []float64{0.455, 2.706, 3.841} {
			if got.Ponds[0].Evidence > q {
				beyond[i]++
			}
		}
	}
	if !(math.Abs(pits/runs-0.5) <= 4*math.Sqrt(0.25/runs)) {
		t.Errorf("a pit in %.3f of the runs, want half", pits/runs)
	}
	for i, p := range []float64{0.5, 0.1, 0.05} {
		if got := beyond[i] / pits; !(math.Abs(got-p) <= 4*math.Sqrt(p*(1-p)/pits)) {
			t.Errorf("%.3f of the pits are dearer than the quantile of %g", got, p)
		}
	}
}

// The normal integral at the quantiles that package standard states.
func TestNormalQuantiles(t *testing.T) {
	for x, p := range map[float64]float64{standard.MedianError: 0.75, standard.SureError: 0.95} {
		if got := 0.5 * (1 + math.Erf(x/math.Sqrt2)); !(math.Abs(got-p) <= 1e-12) {
			t.Errorf("%g has %g below it, want %g", x, got, p)
		}
	}
}

// From the settled trial: 7 for a hundred spots, 0.95 for each e-fold more; no less for fewer.
func TestThreshold(t *testing.T) {
	if evidence.Threshold(100) != 7 || !(math.Abs(evidence.Threshold(1000)-9.1875) <= 1e-4) || evidence.Threshold(20) != 7 {
		t.Errorf("thresholds %g, %g, %g", evidence.Threshold(100), evidence.Threshold(1000), evidence.Threshold(20))
	}
}

// A roof falls at 2 % to a scupper in its south wall, whose foot nobody shot between the corners, and those stand 60 mm over its floor. Drawn straight between them, the foot
// dams 40 mm of water. The corners are 5 m and 20 m from the scupper: at 5 m what the roof's fall makes up half way, 50 mm, is as much as the dam; a corner on each side at 1 m is no farther
// off than a spot beside an edge, and there the dam is shown: two corners at most and two spots before it, 40 mm against errors of 3.
func TestWallFootThatNobodyShot(t *testing.T) {
	for _, c := range []struct {
		half  float64
		shown bool
	}{{1, true}, {5, false}, {20, false}} {
		r := shape.New("foot", shape.At(-c.half, 0, 0.06), shape.At(c.half, 0, 0.06), shape.At(c.half, 10, 0.2), shape.At(-c.half, 10, 0.2))
		r.Outline.Edge = roof.Wall
		for y := 1.0; y < 10; y++ {
			for x := -c.half + c.half/4; x < c.half; x += c.half / 4 {
				shape.Spot(r, x, y, 0.02*y)
			}
		}
		o := shape.Scupper(r, 0, 0, 0.2)
		o.Invert, o.HasInvert = 0, true
		_, ps, got := equal(t, r, 0.003)
		shown := false
		for i := range ps.Ponds {
			shown = shown || ps.Ponds[i].Depth > 0.03 && got.Ponds[i].Shown
		}
		if shown != c.shown {
			t.Errorf("corners %g m off: shown %t: %+v", c.half, shown, got.Ponds)
		}
	}
}
