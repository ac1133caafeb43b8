package record_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/export/record"
)

// By hand: depths to the whole millimetre and to the nearest eighth of an inch (3.175 mm): 28.4 mm are 8.94 eighths, 1-1/8 in; half a
// sixteenth less and more falls to either side.
func TestDepthsAsSaid(t *testing.T) {
	for _, c := range []struct {
		mm     float64
		si, us string
	}{
		{28.4, "28 mm", `1-1/8"`},
		{28.5, "29 mm", `1-1/8"`},
		{25.4, "25 mm", `1"`},
		{26.9, "27 mm", `1"`},
		{27.1, "27 mm", `1-1/8"`},
		{0.49, "less than 1 mm", `less than 1/8"`},
		{0.5, "1 mm", `less than 1/8"`},
		{1.58, "2 mm", `less than 1/8"`},
		{1.59, "2 mm", `1/8"`},
		{-0.3, "less than 1 mm", `less than 1/8"`},
		{0, "0 mm", `0"`},
		{304.8, "305 mm", `12"`},
		{50.8, "51 mm", `2"`},
	} {
		if si, us := record.SI.SayDepth(c.mm/1000), record.US.SayDepth(c.mm/1000); si != c.si || us != c.us {
			t.Errorf("%v mm: %q and %q, want %q and %q", c.mm, si, us, c.si, c.us)
		}
	}
}

// Lengths along the roof: to the inch below 20 ft, whole feet from there on; a tape is always held to the inch. By hand: 20 ft are 6.096 m, 19 ft 11 in
// 6.0706 m; 25 ft 6 in 7.7724 m.
func TestLengthsAsSaid(t *testing.T) {
	for _, c := range []struct {
		m                float64
		si, length, tape string
	}{
		{6.096, "6.1 m", "20 ft", `20' 0"`},
		{6.0706, "6.1 m", `19' 11"`, `19' 11"`},
		{6.09, "6.1 m", "20 ft", `20' 0"`},
		{7.7724, "7.8 m", "26 ft", `25' 6"`},
		{0.3048, "0.3 m", "1 ft", `1' 0"`},
		{0.0254, "0.0 m", `1"`, `1"`},
		{0, "0.0 m", `0"`, `0"`},
		{-0.01, "0.0 m", `0"`, `0"`},
		{0.4064, "0.4 m", `1' 4"`, `1' 4"`},
		{1234.5678, "1234.6 m", "4,050 ft", `4050' 5"`},
	} {
		if si, us, tape := record.SI.SayLength(c.m), record.US.SayLength(c.m), record.US.SayTape(c.m); si != c.si || us != c.length || tape != c.tape {
			t.Errorf("%v m: %q, %q, by tape %q; want %+v", c.m, si, us, tape, c)
		}
		if record.SI.SayTape(c.m) != c.si {
			t.Errorf("%v m by tape: %q", c.m, record.SI.SayTape(c.m))
		}
	}
}

// Figures of at least ten are whole, smaller ones have one decimal; an opening of less than a tenth of a square metre has three.
func TestFiguresAsSaid(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{record.SI.SayMass(9.94), "9.9 kg"},
		{record.SI.SayMass(9.96), "10 kg"},
		{record.SI.SayMass(12345.6), "12,346 kg"},
		{record.SI.SayMass(0), "0 kg"},
		{record.US.SayMass(0.45359237), "1.0 lb"},
		{record.US.SayMass(1000), "2,205 lb"},
		{record.SI.SayArea(0.0491), "0.049 m²"},
		{record.SI.SayArea(0.0005), "0.001 m²"},
		{record.SI.SayArea(0.0004), "0.0 m²"},
		{record.SI.SayArea(0.1), "0.1 m²"},
		{record.SI.SayArea(99.94), "99.9 m²"},
		{record.SI.SayArea(100), "100 m²"},
		{record.US.SayArea(0.09290304 * 9.9), "9.9 sq ft"},
		{record.SI.SayPressure(1234), "1.23 kPa"},
		{record.US.SayPressure(47.880259), "1.0 psf"},
		{record.US.SayPressure(478.80259), "10.0 psf"},
		{record.SI.SayFlow(0.01234), "12.3 L/s"},
		{record.SI.SayRain(0.1016 / 3600), "102 mm/h"},
		{record.SI.SayRain(0.0045 / 3600), "4.5 mm/h"},
		{record.SI.SayElevation(100.1254), "100.125 m"},
		{record.US.SayElevation(100.1254), "328.50 ft"},
		{record.SI.SaySolid(1.254), "1.25 m³"},
		{record.US.SaySolid(1), "424 board ft"}, // 12 in of 1 ft2 are 12 board ft: 35.3147 ft3 x 12 = 423.8
		{record.SayShare(0), "0 %"},
		{record.SayShare(0.0099), "under 1 %"},
		{record.SayShare(0.01), "1 %"},
		{record.SayShare(1), "100 %"},
		{record.Count(999), "999"},
		{record.Count(1000), "1,000"},
		{record.Count(-1234567), "-1,234,567"},
		{record.Count(-0.4), "0"},
		{record.Count(-999), "-999"},
		{record.Plural(1, "place"), "1 place"},
		{record.Plural(0, "place"), "0 places"},
		{record.Plural(3, "place"), "3 places"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Slopes: 1/4 in per ft is 2.0833 %, 1/8 is 1.0417; limits read as fractions, what was measured has two decimals, three where two say little.
// Below 2.5 % a percentage has two decimals.
func TestSlopesAsSaid(t *testing.T) {
	for slope, want := range map[float64][2]string{
		0.25 / 12:  {"2.08 %", "1/4 in per ft (2.08 %)"},
		0.125 / 12: {"1.04 %", "1/8 in per ft (1.04 %)"},
		0.5 / 12:   {"4.2 %", "1/2 in per ft (4.2 %)"},
		1.5 / 12:   {"12.5 %", "1-1/2 in per ft (12.5 %)"},
		0.0249:     {"2.49 %", "0.30 in per ft (2.49 %)"},
		0.025:      {"2.5 %", "0.30 in per ft (2.5 %)"},
		0.0016:     {"0.16 %", "0.019 in per ft (0.16 %)"},
		0:          {"0.00 %", "0.000 in per ft (0.00 %)"},
		-0.01:      {"-1.00 %", "-0.12 in per ft (-1.00 %)"},
	} {
		if si, us := record.SI.SaySlope(slope), record.US.SaySlope(slope); si != want[0] || us != want[1] {
			t.Errorf("%v: %q and %q, want %q", slope, si, us, want)
		}
	}
}

// Both kinds of units say the same: a depth read back from the inches is within a sixteenth of an inch of that from the millimetres, and its half.
func TestBothUnitsSayTheSame(t *testing.T) {
	for mm := 2.0; mm < 400; mm += 0.7 {
		var whole, top, bottom, si float64
		text := strings.TrimSuffix(record.US.SayDepth(mm/1000), `"`)
		if !strings.Contains(text, "-") && strings.Contains(text, "/") {
			text = "0-" + text
		}
		if n, _ := fmt.Sscanf(text, "%f-%f/%f", &whole, &top, &bottom); n < 3 {
			top, bottom = 0, 1
		}
		if _, err := fmt.Sscanf(record.SI.SayDepth(mm/1000), "%f mm", &si); err != nil {
			t.Fatal(err)
		}
		if us := (whole + top/bottom) * 25.4; !(math.Abs(us-mm) <= 25.4/16+1e-9) || !(math.Abs(si-mm) <= 0.5+1e-9) {
			t.Errorf("%v mm: %s and %s", mm, record.SI.SayDepth(mm/1000), record.US.SayDepth(mm/1000))
		}
	}
}

// A few names stand in full, more are counted: six and the number of the rest.
func TestSomeNames(t *testing.T) {
	names := strings.Split("abcdefgh", "")
	for n, want := range map[int]string{0: "", 1: "a", 6: "a, b, c, d, e, f", 7: "a, b, c, d, e, f and 1 more", 8: "a, b, c, d, e, f and 2 more"} {
		if got := record.Some(names[:n]); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
	if got := record.Decides("roofer, engineer"); got != "Decides: the roofer, the engineer." {
		t.Error(got)
	}
}

func TestBeginnings(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want string
	}{
		{"abcdef", 6, "abcdef"}, {"abcdefg", 6, "abcde…"}, {"ééé", 3, "ééé"}, {"éééé", 3, "éé…"}, {"ab cdef", 4, "ab…"}, {"", 3, ""},
	} {
		if got := record.Beginning(c.text, c.most); got != c.want {
			t.Errorf("%q to %d: %q, want %q", c.text, c.most, got, c.want)
		}
	}
	if got := record.Cut("ab abcdefg", 6); got != "ab abcde…" {
		t.Errorf("words that no line holds: %q", got)
	}
	if got := record.Title(strings.Repeat("x", 121)); got != strings.Repeat("x", 119)+"…" || record.Title(strings.Repeat("x", 120)) != strings.Repeat("x", 120) {
		t.Errorf("a title of %d letters", len([]rune(got)))
	}
}
