package record_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/export/record"
)

// Expected numbers by hand from the definitions of the foot (0.3048 m), the pound (0.45359237 kg), the US
// gallon (231 cubic inches = 3.785411784 l) and standard gravity. 1 in of water at 1000 kg/m3 is 25.4 kg/m2,
// by hand 25.4 / 0.45359237 * 0.09290304 = 5.20233 psf; published tables of the weight of water on roofs have 5.202288.
func TestUnitsEndTheName(t *testing.T) {
	for _, c := range []struct {
		name   string
		add    func(u record.Units, o *record.Object)
		si, us string
	}{
		{"length", func(u record.Units, o *record.Object) { u.Length(o, "travel", 3.048) }, `{"travel_m":3.048}`, `{"travel_ft":10}`},
		{"depth", func(u record.Units, o *record.Object) { u.Depth(o, "depth", 0.0254) }, `{"depth_mm":25.4}`, `{"depth_in":1}`},
		{"area", func(u record.Units, o *record.Object) { u.Area(o, "area", 9.290304) }, `{"area_m2":9.290304}`, `{"area_ft2":100}`},
		{"volume", func(u record.Units, o *record.Object) { u.Volume(o, "volume", 0.003785411784) }, `{"volume_l":3.785}`, `{"volume_gal":1}`},
		{"mass", func(u record.Units, o *record.Object) { u.Mass(o, "weight", 45.359237) }, `{"weight_kg":45.359}`, `{"weight_lb":100}`},
		{"load", func(u record.Units, o *record.Object) { u.Pressure(o, "load", 0.0254*1000*9.80665) }, `{"load_kpa":0.249089}`, `{"load_psf":5.20233}`},
		{"slope", func(u record.Units, o *record.Object) { u.Slope(o, "slope", 0.25/12) }, `{"slope_pct":2.0833}`, `{"slope_pct":2.0833,"slope_in_per_ft":0.25}`},
	} {
		var si, us record.Object
		c.add(record.SI, &si)
		c.add(record.US, &us)
		if got := string(si.Append(nil)); got != c.si {
			t.Errorf("%s, si: %s, want %s", c.name, got, c.si)
		}
		if got := string(us.Append(nil)); got != c.us {
			t.Errorf("%s, us: %s, want %s", c.name, got, c.us)
		}
	}
}

func TestBearingStaysBelowFullTurn(t *testing.T) {
	var o record.Object
	o.Bearing("a", 359.996)
	o.Bearing("b", 359.99)
	if got, want := string(o.Append(nil)), `{"a":0,"b":359.99}`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// The written parts must add up to the written total to the last decimal, and none may move by more than
// one unit of it.
func TestRoundedPartsAddUp(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		parts := make([]float64, 1+random.IntN(20))
		total := 0.0
		for i := range parts {
			parts[i] = random.Float64() * 500
			total += parts[i]
		}
		for _, u := range []record.Units{record.SI, record.US} {
			unit := 1e-6
			if u == record.US {
				unit = 1e-6 * 0.3048 * 0.3048
			}
			sum := 0.0
			for i, r := range u.Rounded(parts, total) {
				sum += math.Round(r / unit)
				if !(math.Abs(r-parts[i]) <= unit) {
					t.Fatalf("part %v became %v", parts[i], r)
				}
			}
			if want := math.Round(total / unit); sum != want {
				t.Fatalf("parts add up to %v, want %v units of the last decimal", sum, want)
			}
		}
	}
	if got := record.SI.Rounded([]float64{1, 2}, 5); got[0] != 1 || got[1] != 2 {
		t.Errorf("parts of another total became %v", got)
	}
}

func TestSay(t *testing.T) {
	for _, c := range []struct {
		q      finding.Quantity
		si, us string
	}{
		{finding.MM("", 0.035), "35 mm", `1-3/8"`},
		{finding.MM("", 0.00635), "6 mm", `1/4"`},
		{finding.MM("", 0.0004), "less than 1 mm", `less than 1/8"`},
		{finding.MM("", 0), "0 mm", `0"`},
		{finding.Metres("", 3.7338), "3.7 m", `12' 3"`},
		{finding.Metres("", 30.48), "30.5 m", "100 ft"},
		{finding.Metres("", 3.048), "3.0 m", "10 ft"},
		{finding.Metres("", 0.05), "0.1 m", `2"`},
		{finding.Metres("", 0), "0.0 m", `0"`},
		{finding.Fall("", 0.004/12), "0.03 %", "0.004 in per ft (0.03 %)"},
		{finding.Level("", 30.48), "30.480 m", "100.00 ft"},
		{finding.Plan("", 9.290304), "9.3 m²", "100 sq ft"},
		{finding.Plan("", 1234.5), "1,235 m²", "13,288 sq ft"},
		{finding.Plan("", 0), "0 m²", "0 sq ft"},
		{finding.Quantity{Value: 0.3785411784, Dim: finding.Volume}, "379 litres", "100 gal"},
		{finding.Quantity{Value: 0.003785411784, Dim: finding.Volume}, "3.8 litres", "1.0 gal"},
		{finding.Weight("", 453.59237), "454 kg", "1,000 lb"},
		{finding.Load("", 249.0889), "0.25 kPa", "5.2 psf"},
		{finding.Fall("", 0.25/12), "2.08 %", "1/4 in per ft (2.08 %)"},
		{finding.Fall("", 0.01), "1.00 %", "0.12 in per ft (1.00 %)"},
		{finding.Fall("", 0.0209), "2.09 %", "0.25 in per ft (2.09 %)"}, // measured: not the limit of 1/4
		{finding.Fall("", 0.03), "3.0 %", "0.36 in per ft (3.0 %)"},
		{finding.Fall("", 0.1/12), "0.83 %", "0.10 in per ft (0.83 %)"},
		{finding.Part("", 0.125), "13 %", "13 %"},
		{finding.Part("", 0.004), "under 1 %", "under 1 %"},
		{finding.Number("", 3), "3", "3"},
		{finding.Quantity{Value: 0.0063090196, Dim: finding.Flow}, "6.3 L/s", "100 gpm"},    // by hand: 231 in3 x 100 / 60 s
		{finding.Quantity{Value: 0.1016 / 3600, Dim: finding.Rain}, "102 mm/h", "4.0 in/h"}, // by hand: 4 x 25.4 mm
		{finding.Quantity{Value: 184, Dim: finding.Bearing}, "south", "south"},
		{finding.Quantity{Value: 350, Dim: finding.Bearing}, "north", "north"},
	} {
		if got := record.SI.Say(c.q); got != c.si {
			t.Errorf("%v in si: %q, want %q", c.q, got, c.si)
		}
		if got := record.US.Say(c.q); got != c.us {
			t.Errorf("%v in us: %q, want %q", c.q, got, c.us)
		}
	}
}

func TestRoofID(t *testing.T) {
	for name, want := range map[string]string{
		"Library": "LIB", "North wing 2": "NW2", "Roof 1": "R1", "": "R1", "--": "R1",
		"L-shaped school wing": "LSSW", "Halle 12b": "H12B", "étage": "ÉTA",
	} {
		if got := record.RoofID(name); got != want {
			t.Errorf("RoofID(%q) = %q, want %q", name, got, want)
		}
	}
}

// TestASlopeReadsLessThanTheLimitItMisses: 1.00 % is under 1/8 in per ft, which is 1/96 or 1.0417 %; both must not read
// "1.0 %" in "falls 1.0 %, less than 1.0 %".
func TestASlopeReadsLessThanTheLimitItMisses(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		if got, limit := u.SaySlope(0.01), u.SaySlope(1.0/96); got == limit || !strings.Contains(limit, "1.04 %") {
			t.Errorf("%s: 0.01 reads %q, its limit %q", u, got, limit)
		}
	}
}

// A volume that two decimals or a whole board foot would round to nought is said to be less; by hand, a board foot is 0.00236 m3.
func TestSmallVolume(t *testing.T) {
	for _, c := range []struct {
		u      record.Units
		volume float64
		want   string
	}{
		{record.SI, 0.0049, "less than 0.01 m³"},
		{record.SI, 0.0051, "0.01 m³"},
		{record.SI, 0, "0.00 m³"},
		{record.US, 0.0011, "less than 1 board ft"},
		{record.US, 0.0013, "1 board ft"},
		{record.US, 0, "0 board ft"},
	} {
		if got := c.u.SaySolid(c.volume); got != c.want {
			t.Errorf("%v m3: %q, want %q", c.volume, got, c.want)
		}
	}
}
