package wallbook_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/importer/points/wallbook"
)

// book is that of a rectangle of 40 by 30 m, its corners numbered from the south-west one, with a drain 10 m from the west wall and 5 m from the south wall.
func book() *wallbook.Book {
	b := wallbook.New(orb.Ring{{0, 0}, {40, 0}, {40, 30}, {0, 30}, {0, 0}}, false, quantity.Metres)
	b.Call("RD-1", orb.Point{10, 5})
	return b
}

// By hand, on the rectangle.
func TestFind(t *testing.T) {
	for text, want := range map[string]orb.Point{
		"12 m from W wall, 3 m from S wall":       {12, 3},
		"3 from the north wall and 4 from wall 2": {36, 27},
		"1,5 from W wall, 2 from S wall":          {1.5, 2},
		"corner 3":                                {40, 30},
		"at rd-1":                                 {10, 5},
		"2 from RD-1 toward E wall":               {12, 5},
		"2 m NE of RD-1":                          {10 + math.Sqrt2, 5 + math.Sqrt2},
		"3 E of RD-1, 4 N of RD-1":                {13, 9},
		"3 FROM THE NORTH WALL AND 4 FROM WALL 2": {36, 27}, // as a data collector writes, in capitals
		"2 M FROM RD-1 TOWARD E WALL":             {12, 5},
		"3 E OF RD-1":                             {13, 5},
		"5 from RD-1 toward corner 1":             {10 - 5*10/math.Hypot(10, 5), 5 - 5*5/math.Hypot(10, 5)},
	} {
		got, wrong := book().Find(text)
		if wrong != nil || !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-9) {
			t.Errorf("%q: got %v, %+v, want %v", text, got, wrong, want)
		}
	}
}

func TestFindRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"3 from W wall":                 "needs two",
		"3 from W wall, 4 from E wall":  "too nearly alike",
		"3 from W wall, 2 E of RD-1":    "from a wall and from a thing",
		"2 from RD-9 toward N":          `nothing on the roof is called "RD-9"`,
		"2 from RD-1":                   "a direction is missing",
		"-2 from W wall, 3 from S wall": "negative",
		"corner 9":                      "there is no corner 9",
		"3 from wall 7, 2 from S wall":  "there is no wall 7",
		"3 m Q of RD-1":                 `"Q" is no direction`,
		"3 m of RD-1, 2 from S wall":    `"m" is no direction`,
		"3 of RD-1":                     "names no direction",
		"3 m E of , 2 m N of RD-1":      "is no distance",
		"3 m from , 2 m from S wall":    "",
	} {
		_, wrong := book().Find(text)
		if wrong == nil || !strings.Contains(wrong.Rule, want) || wrong.Mend == "" {
			t.Errorf("%q: got %+v, want %q", text, wrong, want)
		}
	}
}

// A comma between digits is a decimal one, also before the last digit; one after the number of a wall, or at an end, is none.
func TestParts(t *testing.T) {
	for text, want := range map[string]string{
		"1,5 from W wall, 2 from S wall": "1,5 from W wall|2 from S wall", "E 12,5, N 3,5": "E 12,5|N 3,5", "3 from wall 2,4 from wall 1": "3 from wall 2|4 from wall 1", "3 E of A and 4 N of B": "3 E of A|4 N of B",
		"a;b": "a|b", ",5": "|5", "5,": "5|", "x,5": "x|5", "5,x": "5|x", "1,0 from W wall, 9,9 from S wall": "1,0 from W wall|9,9 from S wall", "wall 4,3 from wall 1": "wall 4|3 from wall 1", "3 E of A AND 4 N of B": "3 E of A|4 N of B",
	} {
		if got := strings.Join(wallbook.Parts(text), "|"); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// On a roof whose drawing is in feet a place is in feet too: metres are brought to them (1.5 m / 0.3048 = 4.9213 ft).
func TestFindInFeet(t *testing.T) {
	b := wallbook.New(orb.Ring{{0, 0}, {40, 0}, {40, 30}, {0, 30}, {0, 0}}, false, quantity.Feet)
	got, wrong := b.Find("12' 6\" from W wall, 1.5 m from S wall")
	if wrong != nil || !(math.Hypot(got[0]-12.5, got[1]-4.9213) <= 1e-4) {
		t.Errorf("got %v, %+v", got, wrong)
	}
}

// The first to take a name keeps it, and feet are noticed.
func TestCallAndFeet(t *testing.T) {
	b := book()
	b.Call("rd-1", orb.Point{1, 1})
	if at, _ := b.Find("RD-1"); at != (orb.Point{10, 5}) || b.Feet() {
		t.Errorf("RD-1 at %v, feet %t", at, b.Feet())
	}
	if at, wrong := b.Find("10' from W wall, 20' from S wall"); wrong != nil || !(math.Hypot(at[0]-3.048, at[1]-6.096) <= 1e-9) || !b.Feet() {
		t.Errorf("got %v, %+v, feet %t", at, wrong, b.Feet())
	}
}
