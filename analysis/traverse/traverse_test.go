package traverse_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/traverse"
)

// legs makes legs of directions and feet.
func legs(walls ...any) []traverse.Leg {
	directions := map[string][2]float64{"E": {1, 0}, "N": {0, 1}, "W": {-1, 0}, "S": {0, -1}, "NE": {math.Sqrt2 / 2, math.Sqrt2 / 2}}
	var out []traverse.Leg
	for i := 0; i < len(walls); i += 2 {
		d := directions[walls[i].(string)]
		out = append(out, traverse.Leg{East: d[0], North: d[1], Length: quantity.Length(walls[i+1].(float64)) * quantity.Foot})
	}
	return out
}

// lShape is an L of 120 by 60 ft with 80 by 10 ft cut off its north-west corner.
var lShape = []any{"E", 120.0, "N", 60.0, "W", 40.0, "S", 10.0, "W", 80.0, "S", 50.0}

func TestWallsThatCloseGiveTheirCorners(t *testing.T) {
	c := traverse.Close(legs(lShape...))
	// by hand, in feet
	want := [][2]float64{{0, 0}, {120, 0}, {120, 60}, {80, 60}, {80, 50}, {0, 50}}
	for i, w := range want {
		for k := range w {
			if got := c.Corners[i][k] / float64(quantity.Foot); !(math.Abs(got-w[k]) <= 1e-9) {
				t.Errorf("corner %d: %.3f, want %v", i+1, c.Corners[i], w)
			}
		}
	}
	if !(c.Misclosure() <= 1e-12) || !c.Within() {
		t.Errorf("misclosure %g", c.Misclosure())
	}
}

func TestAMisclosureOfTheTapeIsSharedOutByTheTransitRule(t *testing.T) {
	c := traverse.Close(legs("E", 100.0, "N", 50.0, "W", 100.2, "S", 50.0))
	// By hand: 0.2 ft too far west over 200.2 ft of eastings: 0.0999 and 0.1001 ft; 1 in 1,000 of 300.2 ft and an inch allow 0.3835 ft.
	if got := c.Allowed / float64(quantity.Foot); !(math.Abs(got-(0.3002+1.0/12)) <= 1e-9) {
		t.Errorf("allowed %g ft", got)
	}
	for i, want := range [][2]float64{{0, 0}, {100.0999, 0}, {100.0999, 50}, {0, 50}} {
		for k := range want {
			if got := c.Corners[i][k] / float64(quantity.Foot); !(math.Abs(got-want[k]) <= 1e-4) {
				t.Errorf("corner %d: %g ft, want %v", i+1, got, want)
			}
		}
	}
}

// mended closes the legs without a slip.
func mended(legs []traverse.Leg, s traverse.Slip) traverse.Closure {
	switch s.Kind {
	case traverse.SaidTwice:
		legs = slices.Delete(legs, s.Leg, s.Leg+1)
	case traverse.LeftOut:
		legs = slices.Insert(legs, s.Leg, traverse.Leg{East: s.East, North: s.North, Length: s.Want})
	case traverse.Backward:
		legs[s.Leg].East, legs[s.Leg].North = -legs[s.Leg].East, -legs[s.Leg].North
	case traverse.Unit, traverse.Ten, traverse.Hundred, traverse.Transposed, traverse.Amount:
		legs[s.Leg].Length = s.Want
	}
	return traverse.Close(legs)
}

func TestPlantedSlipsAreFound(t *testing.T) {
	plant := func(i int, walls ...any) []any {
		out := append([]any{}, lShape[:2*i]...)
		out = append(out, walls...)
		return append(out, lShape[2*i+2:]...)
	}
	for _, tt := range []struct {
		name  string
		walls []any
		kind  traverse.Kind
		leg   int
		want  float64 // ft
	}{
		{"a foot", plant(0, "E", 121.0), traverse.Unit, 0, 120},
		{"ten feet", plant(1, "N", 70.0), traverse.Ten, 1, 60},
		{"a hundred feet", plant(0, "E", 20.0), traverse.Hundred, 0, 120},
		{"digits", plant(1, "N", 6.0), traverse.Amount, 1, 60}, // a digit left out is no transposition
		{"digits transposed", []any{"E", 48.0, "N", 30.0, "W", 84.0, "S", 30.0}, traverse.Transposed, 0, 84},
		{"other digits transposed", []any{"E", 48.0, "N", 30.0, "W", 84.0, "S", 30.0}, traverse.Transposed, 2, 48},
		{"digits of whole feet transposed", []any{"E", 48.5, "N", 30.0, "W", 84.5, "S", 30.0}, traverse.Transposed, 0, 84.5},
		{"a wall of 2 ft said as 12", []any{"E", 120.0, "N", 60.0, "W", 40.0, "S", 12.0, "W", 80.0, "S", 58.0}, traverse.Ten, 3, 2},
		{"said twice", plant(2, "W", 40.0, "W", 40.0), traverse.SaidTwice, 3, 40},
		{"left out", plant(3), traverse.LeftOut, 3, 10},
		{"backward", plant(3, "N", 10.0), traverse.Backward, 3, 10},
	} {
		c := traverse.Close(legs(tt.walls...))
		if c.Within() {
			t.Errorf("%s: passes with %g m", tt.name, c.Misclosure())
		}
		found := false
		for _, s := range traverse.Slips(legs(tt.walls...), c, quantity.Foot) {
			if m := mended(legs(tt.walls...), s); m.Misclosure() > c.Allowed*(1+1e-9) || s.Want < 0.01 {
				t.Errorf("%s: %+v leaves %g m", tt.name, s, m.Misclosure())
			}
			if s.Kind == tt.kind && s.Leg == tt.leg {
				found = true
				if s.Kind == traverse.LeftOut && (s.East != 0 || s.North != -1) {
					t.Errorf("%s: the missing wall runs %g, %g", tt.name, s.East, s.North)
				}
				if got := float64(s.Want / quantity.Foot); !(math.Abs(got-tt.want) <= 0.01) {
					t.Errorf("%s: want %g ft, is %g", tt.name, got, tt.want)
				}
			}
		}
		if !found {
			t.Errorf("%s: not found among %+v", tt.name, traverse.Slips(legs(tt.walls...), c, quantity.Foot))
		}
	}
}

func TestASlipOfAFootNeverPasses(t *testing.T) {
	for _, side := range []float64{20, 100, 500, 2000} {
		c := traverse.Close(legs("E", side, "N", side, "W", side+1, "S", side))
		if c.Within() {
			t.Errorf("a foot passes on a roof of %g ft", side)
		}
	}
}

func TestASlipInMetresMayTransposeDecimals(t *testing.T) {
	l := legs("E", 1.0, "N", 1.0, "W", 1.0, "S", 1.0)
	for i, metres := range []float64{12.34, 8, 12.43, 8} {
		l[i].Length = quantity.Length(metres)
	}
	c := traverse.Close(l)
	if c.Within() {
		t.Fatal("9 cm pass")
	}
	for _, s := range traverse.Slips(l, c, quantity.Metre) {
		if s.Kind == traverse.Transposed && s.Leg == 2 && math.Abs(float64(s.Want)-12.34) < 1e-9 {
			return
		}
	}
	t.Errorf("not found: %+v", traverse.Slips(l, c, quantity.Metre))
}

// By hand: of walls that all run north and south nothing is too far east or west; 0.1 ft too far north over 100.1 ft is 0.05 ft and 0.05 ft.
func TestWallsAlongOneLineShareNothingAcrossIt(t *testing.T) {
	c := traverse.Close(legs("N", 50.1, "S", 50.0))
	for i, want := range [][2]float64{{0, 0}, {0, 50.05}} {
		for k := range want {
			if got := c.Corners[i][k] / float64(quantity.Foot); !(math.Abs(got-want[k]) <= 1e-4) {
				t.Errorf("corner %d: %g ft, want %v", i+1, got, want)
			}
		}
	}
}

// A wall is said twice only where it is that before it once more, and the walls close without it: one of 40 ft more to the west than the one before, and one that is alike where the slip is elsewhere, are not.
func TestWhatIsNotSaidTwice(t *testing.T) {
	for name, walls := range map[string][]any{
		"of another length":        {"E", 120.0, "N", 60.0, "W", 120.0, "W", 40.0, "S", 60.0},
		"of another direction":     {"E", 120.0, "N", 60.0, "N", 60.0, "W", 120.0, "S", 60.0, "E", 60.0},
		"square to the one before": {"E", 60.0, "S", 60.0, "N", 60.0, "W", 60.0, "S", 60.0},
		"the slip is elsewhere":    {"E", 60.0, "E", 60.0, "N", 60.0, "W", 130.0, "S", 60.0},
	} {
		l := legs(walls...)
		for _, s := range traverse.Slips(l, traverse.Close(l), quantity.Foot) {
			m := mended(legs(walls...), s)
			before := l[(s.Leg+len(l)-1)%len(l)]
			if s.Kind == traverse.SaidTwice && (l[s.Leg].East != before.East || l[s.Leg].North != before.North || l[s.Leg].Length != before.Length || m.Misclosure() > m.Allowed) {
				t.Errorf("%s: %+v", name, s)
			}
		}
	}
}
