package study_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// A dish of a paraboloid, 60 mm deep and 2 x 1.5 m in half axes, on a roof of 20 x 12 m that falls 2 % to a gutter along its south edge;
// spots stand 4 m apart and none of them in the dish, whose middle is (10, 6). Its water stands level with the roof at y = 4.5, its lowest rim.
const (
	dishDeep, dishA, dishB = 0.06, 2.0, 1.5
	dishX, dishY           = 10.0, 6.0
)

func fallingRoof(waters ...roof.Water) *roof.Roof {
	r := shape.New("Shed", shape.At(0, 0, 10), shape.At(20, 0, 10), shape.At(20, 12, 10.24), shape.At(0, 12, 10.24))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	for _, x := range []float64{0.5, 4, 8, 12, 16, 19.5} {
		for _, y := range []float64{0.5, 4, 8, 11.5} {
			shape.Spot(r, x, y, 10+0.02*y)
		}
	}
	r.Outline.EdgeAssumed = false
	if waters != nil {
		r.Tape = &roof.Tape{Waters: waters}
	}
	return r
}

const level = 10.10

// chalked is the dish's water as chalked at twelve marks and sounded at five places.
func chalked(known bool) roof.Water {
	w := roof.Water{Number: "1", HoursSinceRain: -1, Level: level, HasLevel: known}
	w.ID = "P1"
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		w.Edge = append(w.Edge, shape.Bare(dishX+dishA*math.Cos(turn), dishY+dishB*math.Sin(turn)))
	}
	w.Soundings = []roof.Sounding{{Plan: orb.Point{dishX, dishY}, Depth: dishDeep}}
	for i := range 4 {
		turn := math.Pi * (float64(i)/2 + 0.2)
		w.Soundings = append(w.Soundings, roof.Sounding{Plan: orb.Point{dishX + dishA/2*math.Cos(turn), dishY + dishB/2*math.Sin(turn)}, Depth: dishDeep * 0.75})
	}
	return w
}

// By hand: the paraboloid holds pi a b d / 2 = 0.2827 m3 at its edge's level.
func TestChalkAndDepthsShowAPondThatTheSpotsMiss(t *testing.T) {
	alone, err := study.Run(fallingRoof(), study.Options{})
	if err != nil || len(alone.Listed) != 0 {
		t.Fatalf("%d ponds without the water, %v", len(alone.Listed), err)
	}
	s, err := study.Run(fallingRoof(chalked(true)), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Listed) != 1 {
		t.Fatalf("%d ponds", len(s.Listed))
	}
	p := &s.Ponds.Ponds[s.Listed[0].Pond]
	if !(math.Abs(p.Depth-dishDeep) <= 1e-4) || !(math.Abs(p.Level-level) <= 1e-4) {
		t.Errorf("depth %.4f at %.4f", p.Depth, p.Level)
	}
	if want := math.Pi * dishA * dishB * dishDeep / 2; !(math.Abs(p.Volume/want-1) <= 0.1) {
		t.Errorf("volume %.4f m3, want %.4f", p.Volume, want)
	}
	k := slices.IndexFunc(s.Findings, func(f finding.Finding) bool { return f.Kind == finding.StainDiffers })
	if k < 0 || !strings.Contains(s.Findings[k].What.Format, "spots alone do not show") {
		t.Errorf("that the spots miss it is not said: %+v", s.Findings)
	}
	// the spots lie on their plane to the grid of 10 um: what they scatter is the least error that is taken, and no error of the water's
	if s.Errors.Source != alone.Errors.Source || !(math.Abs(s.Errors.Typical-alone.Errors.Typical) <= 1e-9) {
		t.Errorf("the error of the spots was %+v, and is %+v", alone.Errors.Typical, s.Errors.Typical)
	}
	if s.Roof.Tape != nil {
		t.Error("what the tape says would be added again to a roof made from this one")
	}
}

// A level that nobody read is taken from the roof round the water: twelve marks of a plane that falls 2 % about y = 6 have the mean 10.12.
func TestAnUnknownLevelIsTakenFromTheSpotsRoundIt(t *testing.T) {
	s, err := study.Run(fallingRoof(chalked(false)), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Listed) != 1 || !(math.Abs(s.Ponds.Ponds[s.Listed[0].Pond].Depth-dishDeep) <= 0.03) {
		t.Errorf("%d ponds", len(s.Listed))
	}
	i := slices.IndexFunc(s.Roof.Spots, func(s roof.Spot) bool { return s.ID == "P1-E1" })
	if i < 0 || !(math.Abs(s.Roof.Spots[i].Z-10.12) <= 1e-3) {
		t.Errorf("the water's edge stands at %v", s.Roof.Spots[i].Z)
	}
	// their standard deviation is 0.02 x 1.5 x sqrt(6/11) = 22 mm, of the mean a half: 11 mm
	if got := float64(s.Roof.Spots[i].Sigma); !(math.Abs(got-0.0112) <= 0.001) {
		t.Errorf("its error is %.4f", got)
	}
	if !slices.ContainsFunc(s.Warnings, func(w string) bool { return strings.Contains(w, "nobody read the level of the water") }) {
		t.Errorf("not said: %q", s.Warnings)
	}
}

// By hand: the ruler's 1.5875 mm and the level's 0.6 mm over 1.2 m are 1.41 mm a metre, three of which are 4.2; the spots' own error adds little.
func TestASlopeByLevelIsComparedWithTheSpots(t *testing.T) {
	gap := func(slope float64) roof.Gap {
		g := roof.Gap{Plan: orb.Point{16, 7}, Level: quantity.Length(1.2), Gap: quantity.Length(1.2 * slope), Toward: [2]float64{0, -1}}
		g.Origin.Line = 7
		return g
	}
	for _, tt := range []struct {
		slope float64
		says  bool
	}{{0.02, false}, {0.024, false}, {0.028, true}, {0.012, true}} {
		r := fallingRoof()
		r.Tape = &roof.Tape{Gaps: []roof.Gap{gap(tt.slope)}}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := fmt.Sprintf("by level the roof falls %.2f %% toward south here, by the spots 2.00 %%", 100*tt.slope)
		if got := slices.ContainsFunc(s.Warnings, func(w string) bool { return strings.Contains(w, want) }); got != tt.says {
			t.Errorf("%.3f: %q", tt.slope, s.Warnings)
		}
	}
}

func TestARoofByTapeIsRefused(t *testing.T) {
	r := fallingRoof(chalked(true))
	r.Spots, r.Tape.Placed = nil, true
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].HasZ = false
	}
	if _, err := study.Run(r, study.Options{}); err == nil || !strings.Contains(err.Error(), "tier A") {
		t.Errorf("%v", err)
	}
}
