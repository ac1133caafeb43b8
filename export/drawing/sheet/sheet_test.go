package sheet_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"runnel/export/drawing/sheet"
	"runnel/export/record"
)

func TestParse(t *testing.T) {
	if a4, err := sheet.Parse(" A4"); err != nil || a4.W != 297 || a4.H != 210 || a4.Say() != "A4" {
		t.Errorf("A4 is %+v, %v", a4, err)
	}
	if _, err := sheet.Parse("foolscap"); err == nil {
		t.Error("foolscap is a sheet")
	}
	if us, si := sheet.UsualFor(record.US), sheet.UsualFor(record.SI); us.Say() != "letter" || si.Say() != "A4" {
		t.Errorf("usual are %s and %s", us.Say(), si.Say())
	}
}

// Scales worked out by hand: 1/8 in to 1 ft is 1:96, 1 in to 20 ft is 1:240.
func TestParseScale(t *testing.T) {
	for text, want := range map[string]sheet.Scale{
		"1:100": 100, " 1 : 250": 250, "1:1": 1, "1:1000000": 1e6, `1/8" = 1'-0"`: 96, "1/8 in": 96, "1 in = 20 ft": 240, `3/32"`: 128,
	} {
		got, err := sheet.ParseScale(text)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "100", "2:100", "1:0", "1:-5", "1:NaN", "1:1e9", "1:0.99", "1:1000001", "x = 1 ft", "1 in = 0 ft", "0 in = 1 ft", "-1 in = -1 ft"} {
		if got, err := sheet.ParseScale(text); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
	for scale, want := range map[sheet.Scale]string{
		96: `1/8" = 1'-0" (1:96)`, 128: `3/32" = 1'-0" (1:128)`, 48: `1/4" = 1'-0" (1:48)`, 240: `1" = 20' (1:240)`, 100: "1:100",
	} {
		if got := scale.Say(record.US); got != want {
			t.Errorf("1:%v is %q, want %q", float64(scale), got, want)
		}
	}
	if got := sheet.Scale(100).Say(record.SI); got != "1:100" {
		t.Errorf("got %q", got)
	}
}

// A roof is drawn as large as the sheet allows in a usual scale: from one scale of rulers to the next a plan of a building grows by half at most.
func TestUsualScalesLeaveLittleRoom(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		scales := sheet.Usual(u)
		for i := 1; i < len(scales); i++ {
			if scales[i] <= scales[i-1] {
				t.Errorf("%s: %v follows %v", u, scales[i], scales[i-1])
			}
			if scales[i-1] >= 50 && scales[i] <= 500 && scales[i] > 1.5*scales[i-1] {
				t.Errorf("%s: nothing between 1:%v and 1:%v", u, scales[i-1], scales[i])
			}
		}
	}
}

// The reductions of ISO 5455, table of recommended scales (from memory), are all among the usual ones; the others are quarters and halves of tens as well, 1:125 or half as much again.
func TestUsualScalesOfISO5455(t *testing.T) {
	for _, s := range sheet.Usual(record.SI) {
		if begins := strings.TrimRight(strconv.Itoa(int(s)), "0"); !slices.Contains([]string{"1", "2", "5", "25", "75", "125", "15", "3", "4"}, begins) {
			t.Errorf("1:%v is no usual scale", float64(s))
		}
	}
	for _, n := range []sheet.Scale{20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if !slices.Contains(sheet.Usual(record.SI), n) {
			t.Errorf("no 1:%v", float64(n))
		}
	}
}

// What a sheet says of its scale is read back as that scale, for every usual one, and in US units the fraction or the feet are those of its ratio: by hand, 1/8 in = 1 ft is 12 x 8 = 96, 1 in = 20 ft is 240.
func TestScalesReadBack(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		for _, s := range sheet.Usual(u) {
			words, ratio, both := strings.Cut(s.Say(u), " (")
			if back, err := sheet.ParseScale(words); err != nil || back != s {
				t.Errorf("1:%v says %q, which reads as 1:%v, %v", float64(s), words, float64(back), err)
			}
			if both != (u == record.US) || both && strings.TrimSuffix(ratio, ")") != "1:"+strconv.FormatFloat(float64(s), 'f', -1, 64) {
				t.Errorf("1:%v says %q", float64(s), s.Say(u))
			}
		}
	}
	for odd, want := range map[sheet.Scale]string{99: "1:99", 96.5: "1:96.5", 768: `1" = 64' (1:768)`, 6: `2" = 1'-0" (1:6)`, 12: `1" = 1'-0" (1:12)`, 390: "1:390"} {
		if got := odd.Say(record.US); got != want {
			t.Errorf("1:%v says %q, want %q", float64(odd), got, want)
		}
	}
}

// A scale that does not fit says so with the sheet, what was asked and what would fit.
func TestScaleThatDoesNotFitInWords(t *testing.T) {
	err := &sheet.FitError{Sheet: "A4", Asked: "1:20", Largest: "1:125"}
	for _, want := range []string{"A4", "1:20", "1:125"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not say %q", err, want)
		}
	}
}

// ISO 216 for A4, A3 and A1; US sheets by ANSI/ASME Y14.1 in inches of 25.4 mm.
func TestSizesOfSheets(t *testing.T) {
	for name, want := range map[string][2]float64{
		"a4": {297, 210}, "a3": {420, 297}, "a1": {841, 594}, "letter": {11 * 25.4, 8.5 * 25.4}, "tabloid": {17 * 25.4, 11 * 25.4}, "22x34": {34 * 25.4, 22 * 25.4},
	} {
		got, err := sheet.Parse(name)
		if err != nil || !strings.Contains(sheet.Names(), name) {
			t.Errorf("%v of %s", err, sheet.Names())
		}
		if !(math.Abs(got.W-want[0]) <= 0.05) || !(math.Abs(got.H-want[1]) <= 0.05) {
			t.Errorf("%s is %v by %v mm, want %v", name, got.W, got.H, want)
		}
	}
}
