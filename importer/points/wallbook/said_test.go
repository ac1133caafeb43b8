package wallbook_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/importer/points/wallbook"
)

// What cannot be a place says in full why, and what to write.
func TestMisplacedInFull(t *testing.T) {
	for text, want := range map[string]string{
		"3 from W wall":                               `"3 from W wall" is one distance, and a place needs two; add the distance from a wall that runs across`,
		"3 from W wall, 4 from E wall":                `"3 from W wall, 4 from E wall": wall 4 and wall 2 run too nearly alike to give a place; measure from two walls that meet at a corner, or run across each other`,
		"3 from W wall, 2 E of RD-1":                  `"3 from W wall, 2 E of RD-1" measures from a wall and from a thing, or from two things; ` + wallbook.Forms,
		"2 E of RD-1, 3 from W wall":                  `"2 E of RD-1, 3 from W wall" measures from a wall and from a thing, or from two things; ` + wallbook.Forms,
		"3 E of RD-1, 2 N of corner 1":                `"3 E of RD-1, 2 N of corner 1" measures from a wall and from a thing, or from two things; ` + wallbook.Forms,
		"1 E of RD-1, 2 N of RD-1, 3 W of RD-1":       `"1 E of RD-1, 2 N of RD-1, 3 W of RD-1" is not understood; ` + wallbook.Forms,
		"2 E of HATCH":                                `nothing on the roof is called "HATCH"; known names are RD-1`,
		"2 from RD-1":                                 `"RD-1" is no wall, so a direction is missing; say toward what: "2' from RD-1 toward P1", or "2' E of RD-1"; known names are RD-1`,
		"2 from RD-1 toward RD-1":                     `"RD-1" is the place that is measured from; say toward another place`,
		"-2 from W wall, 3 from S wall":               "a distance is negative; measure toward the roof",
		"two from W wall, 3 from S wall":              `"two" is not a length: a number is missing; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4"; ` + wallbook.Forms,
		"corner 9":                                    "there is no corner 9; corner 1 is where wall 1 begins; there are 4",
		"3 from wall 7, 2 from S wall":                "there is no wall 7; wall 1 (south, 40.00 m), wall 2 (east, 30.00 m), wall 3 (north, 40.00 m), wall 4 (west, 30.00 m)",
		"3 from NE wall, 2 from S wall":               "no wall faces north-east; wall 1 (south, 40.00 m), wall 2 (east, 30.00 m), wall 3 (north, 40.00 m), wall 4 (west, 30.00 m)",
		"3 m Q of RD-1":                               `"Q" is no direction; use N, NE, E, SE, S, SW, W or NW`,
		"3 of RD-1":                                   `"3 of RD-1" names no direction; ` + wallbook.Forms,
		"W wall":                                      `"W wall" is no place; ` + wallbook.Forms,
		"":                                            `"" is no place; ` + wallbook.Forms,
		"2 E of W wall":                               `"W wall" is no place; ` + wallbook.Forms,
		"by the hatch, 2 E of RD-1":                   `"by the hatch" is no distance; ` + wallbook.Forms,
		"2 from RD-1 toward P7, 2 from RD-1 toward E": `nothing on the roof is called "P7"; known names are RD-1`,
	} {
		_, wrong := book().Find(text)
		if wrong == nil {
			t.Errorf("%q is a place", text)
			continue
		}
		got := wrong.Rule + "; " + wrong.Mend
		if got != want || wrong.Unknown != strings.HasPrefix(want, "nothing on the roof") {
			t.Errorf("%q: %s\nwant\n%s (unknown %v)", text, got, want, wrong.Unknown)
		}
	}
}

// Without a name known yet the message says how to give one; of many names eight are told.
func TestKnownNames(t *testing.T) {
	b := wallbook.New(orb.Ring{{0, 0}, {40, 0}, {40, 30}, {0, 30}, {0, 0}}, false, quantity.Metres)
	if got := b.Known(); got != "give the thing its name first, as in DRAIN RD-1, or measure from two walls" {
		t.Error(got)
	}
	b.Call("", orb.Point{1, 1})
	for _, name := range strings.Split("A B C D E F G H I J", " ") {
		b.Call(name, orb.Point{1, 1})
		b.Call(name, orb.Point{2, 2})
	}
	if got := b.Known(); got != "known names are A, B, C, D, E, F, G, H" {
		t.Error(got)
	}
}

// The names of walls and the points of the compass, as people write them.
func TestNamesOfWalls(t *testing.T) {
	for text, want := range map[string]string{
		"W wall": "w", "the west wall": "west", "wall W": "w", "West Wall": "west", "wall 4": "wall 4", "the wall 12": "wall 12", "NORTH-EAST WALL": "north-east", "north east wall": "north east", "wall": "", "the wall": "", "": "", "the": "",
		"4 wall": "", "wall 4 5": "", "wall x": "", "walls W": "", "RD-1": "", "party wall": "",
	} {
		got, ok := wallbook.WallName(text)
		if ok != (want != "") || got != want {
			t.Errorf("%q: %q, %v; want %q", text, got, ok, want)
		}
	}
	for i, names := range [][]string{
		{"N", "n", "north", "North"}, {"NE", "north-east", "north east", "northeast", "N.E.", "n-e"}, {"E", "east"}, {"SE", "south-east", "SouthEast"}, {"S", "south"}, {"SW", "south west"}, {"W", "west", "w."}, {"NW", "north-west", "n w"},
	} {
		for _, name := range names {
			if got, ok := wallbook.CompassPoint(name); !ok || got != i {
				t.Errorf("%q: %d, %v; want %d", name, got, ok, i)
			}
		}
	}
	for _, name := range []string{"", "up", "nne", "norths", "x"} {
		if got, ok := wallbook.CompassPoint(name); ok {
			t.Errorf("%q is %d", name, got)
		}
	}
}

// Lengths are said as a tape gives them: to the eighth of an inch in units of feet and inches, to the centimetre in others; those of walls to the inch.
func TestSaidLengths(t *testing.T) {
	for _, c := range []struct {
		l    float64 // [m]
		unit quantity.Unit
		want string
	}{
		{3.6576, quantity.Feet, `12' 0"`},
		{3.8132, quantity.Feet, `12' 6-1/8"`},
		{0.1, quantity.Inches, `3-7/8"`},
		{3.6576, quantity.USSurveyFeet, `12' 0"`},
		{3.6576, quantity.Metres, "3.66 m"},
		{0.004, quantity.Millimetres, "0.00 m"},
		{12, quantity.Metres, "12.00 m"},
	} {
		if got := wallbook.SayLength(quantity.Length(c.l), c.unit); got != c.want {
			t.Errorf("%g m in %v: %s, want %s", c.l, c.unit, got, c.want)
		}
	}
	// A roof of 40 ft 1/4 in by 29 ft 11-3/4 in: its walls are called 40 ft and 30 ft.
	w, d := 40+0.25/12, 29+11.75/12
	b := wallbook.New(orb.Ring{{0, 0}, {w, 0}, {w, d}, {0, d}, {0, 0}}, false, quantity.Feet)
	if got, want := b.Walls(), `wall 1 (south, 40' 0"), wall 2 (east, 30' 0"), wall 3 (north, 40' 0"), wall 4 (west, 30' 0")`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A place on a roof that is turned any way is found from its distances square to two walls of it, whichever two meet or cross, and named from things: by the reckoning the other way round.
func TestPlacesOnTurnedRoofs(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 7)) //nolint:gosec // roofs that repeat
	for range 300 {
		turn := 2 * math.Pi * random.Float64()
		sin, cos := math.Sincos(turn)
		at := func(x, y float64) orb.Point { return orb.Point{100 + x*cos - y*sin, 200 + x*sin + y*cos} }
		ring := orb.Ring{at(0, 0), at(40, 0), at(40, 30), at(0, 30), at(0, 0)}
		b := wallbook.New(ring, false, quantity.Metres)
		x, y := math.Round(400*random.Float64())/10, math.Round(300*random.Float64())/10
		want := at(x, y)
		// walls 1 to 4 begin at the corners in order: y from wall 1, 40 - x from wall 2, 30 - y from wall 3, x from wall 4
		text := map[bool]string{true: say(x) + " from wall 4, " + say(y) + " from wall 1", false: say(30-y) + " from wall 3, " + say(40-x) + " from wall 2"}[random.IntN(2) == 0]
		got, wrong := b.Find(text)
		if wrong != nil || !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-6) {
			t.Fatalf("turned by %g: %s is %v, %+v; want %v", turn, text, got, wrong, want)
		}
		b.Call("A", at(20, 15))
		b.Call("B", want)
		far := math.Hypot(x-20, y-15)
		if far < 1 {
			continue
		}
		got, wrong = b.Find(say(far) + " from A toward B")
		if wrong != nil || !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-6) {
			t.Fatalf("turned by %g: %g from A toward B is %v, %+v; want %v", turn, far, got, wrong, want)
		}
		square, wrong := b.Direction(at(20, 15), "wall 2") // toward wall 2 is along the first side
		if wrong != nil || !(math.Hypot(square[0]-cos, square[1]-sin) <= 1e-9) {
			t.Fatalf("turned by %g: toward wall 2 is %v, %+v", turn, square, wrong)
		}
	}
	for i, name := range offset.Names { // eight points, an eighth of a turn apart, clockwise from north
		along, wrong := book().Direction(orb.Point{}, name)
		a := math.Pi / 4 * float64(i)
		if wrong != nil || !(math.Hypot(along[0]-math.Sin(a), along[1]-math.Cos(a)) <= 1e-12) {
			t.Errorf("%s: %v", name, along)
		}
	}
}

// say writes a distance with digits enough.
func say(v float64) string {
	return strconv.FormatFloat(v, 'f', 9, 64) + " m"
}
