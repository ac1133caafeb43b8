package palette_test

import (
	"math"
	"strconv"
	"testing"

	"runnel/export/palette"
)

type triple [3]float64

type matrix [3]triple

// views turn linear sRGB into what is seen with full protanopia, deuteranopia and tritanopia. Source:
// Machado, Oliveira, Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency",
// IEEE Transactions on Visualization and Computer Graphics 15(6), 2009, severity 1.0 (recalled; each row
// sums to 1, so that greys stay as they are: checked below).
var views = map[string]matrix{
	"plain sight":  {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// toXYZ turns linear sRGB into CIE XYZ: IEC 61966-2-1:1999. white is its D65 white.
var (
	toXYZ = matrix{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750}, {0.0193339, 0.1191920, 0.9503041}}
	white = triple{0.95047, 1, 1.08883}
)

func (m matrix) of(v triple) (out triple) {
	for i, row := range m {
		for k := range row {
			out[i] += row[k] * v[k]
		}
	}
	return out
}

// linear turns "#RRGGBB" into linear sRGB: IEC 61966-2-1:1999.
func linear(t *testing.T, colour string) (out triple) {
	t.Helper()
	for i := range out {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil || len(colour) != 7 {
			t.Fatalf("%q is no colour", colour)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			out[i] = c / 12.92
		} else {
			out[i] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return out
}

// lab turns linear sRGB into CIE L*a*b*: ISO/CIE 11664-4.
func lab(v triple) triple {
	for i := range v {
		v[i] = math.Max(0, math.Min(1, v[i]))
	}
	xyz := toXYZ.of(v)
	for i := range xyz {
		q := xyz[i] / white[i]
		if q > 216.0/24389 {
			xyz[i] = math.Cbrt(q)
		} else {
			xyz[i] = q*24389/27/116 + 16.0/116
		}
	}
	return triple{116*xyz[1] - 16, 500 * (xyz[0] - xyz[1]), 200 * (xyz[1] - xyz[2])}
}

func TestViewsKeepGreys(t *testing.T) {
	for name, m := range views {
		for _, row := range m {
			if sum := row[0] + row[1] + row[2]; !(math.Abs(sum-1) <= 2e-6) {
				t.Errorf("%s: a row sums to %v", name, sum)
			}
		}
	}
}

// Known answers of L*a*b*: white is (100, 0, 0); sRGB red is (53.24, 80.09, 67.20) in published tables.
func TestLabOfKnownColours(t *testing.T) {
	for colour, want := range map[string]triple{"#FFFFFF": {100, 0, 0}, "#FF0000": {53.24, 80.09, 67.20}, "#000000": {0, 0, 0}} {
		got := lab(linear(t, colour))
		for i := range got {
			if !(math.Abs(got[i]-want[i]) <= 0.02) {
				t.Errorf("%s is %v, want %v", colour, got, want)
			}
		}
	}
}

func TestColoursStayApart(t *testing.T) {
	const least = 20 // of CIE 1976 colour difference; about 2 is just noticeable side by side
	for group, colours := range map[string][]string{
		"meanings": {
			palette.Ink, palette.Water, palette.Gather, palette.Part, palette.Level, palette.Way, palette.Primary,
			palette.Overflow, palette.Urgent, palette.Repair, palette.Note,
		},
		"steepness": palette.Steepness[:],
		"areas":     palette.Areas[:],
	} {
		for view, m := range views {
			for i, a := range colours {
				for _, b := range colours[:i] {
					p, q := lab(m.of(linear(t, a))), lab(m.of(linear(t, b)))
					if d := math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2]); d < least {
						t.Errorf("%s, %s: %s and %s are only %.1f apart", group, view, a, b, d)
					}
				}
			}
		}
	}
}

// In grey (no colour seen at all, or a copier), marks of one shape are told apart by lightness alone: CIE L* of each two of a group
// differs by 10 at least, about ten times what is just noticeable (the threshold is common practice, no source).
func TestGreysStayApart(t *testing.T) {
	const least = 10
	for group, colours := range map[string][]string{
		"outlets":   {palette.Primary, palette.Overflow},
		"findings":  {palette.Urgent, palette.Repair, palette.Note},
		"water":     {palette.Water, palette.Areas[0], palette.Areas[1], palette.Areas[2], palette.Areas[3]},
		"steepness": palette.Steepness[:],
	} {
		for i, a := range colours {
			for k, b := range colours[:i] {
				if group == "water" && k > 0 {
					continue // catchments differ from the water; from each other by their edges
				}
				if d := math.Abs(lab(linear(t, a))[0] - lab(linear(t, b))[0]); d < least {
					t.Errorf("%s: %s and %s are only %.1f apart in lightness", group, a, b, d)
				}
			}
		}
	}
}
