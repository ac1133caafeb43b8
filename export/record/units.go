package record

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
)

// Units is the set of units in which results are written.
type Units uint8

// SI writes metres, millimetres, litres, kilograms and kilopascals; US writes feet, inches, US gallons,
// pounds and pounds per square foot.
const (
	SI Units = iota
	US
)

// Conversions, all exact by definition (international yard and pound agreement 1959: foot 0.3048 m,
// pound 0.45359237 kg; US gallon 231 cubic inches; standard gravity 9.80665 m/s2). From memory.
const (
	foot   = 0.3048
	inch   = 0.0254
	gallon = 231 * inch * inch * inch
	pound  = 0.45359237
	psf    = pound * 9.80665 / (foot * foot)
)

// Gallon [m3] and PSF [Pa] turn what was written in US units back.
const (
	Gallon = gallon
	PSF    = psf
)

// String returns "si" or "us".
func (u Units) String() string {
	if u == US {
		return "us"
	}
	return "si"
}

// unit is how one dimension is written in one set of units.
type unit struct {
	suffix   string
	size     float64 // of the unit in SI
	decimals int
}

// dimension picks a unit by Units.
type dimension [2]unit

// Decimals keep 1e-6 m, 1e-6 m2 or better.
var (
	lengthUnit   = dimension{{"_m", 1, 6}, {"_ft", foot, 6}}
	depthUnit    = dimension{{"_mm", 0.001, 3}, {"_in", inch, 5}}
	areaUnit     = dimension{{"_m2", 1, 6}, {"_ft2", foot * foot, 6}}
	volumeUnit   = dimension{{"_l", 0.001, 3}, {"_gal", gallon, 4}}
	massUnit     = dimension{{"_kg", 1, 3}, {"_lb", pound, 3}}
	pressureUnit = dimension{{"_kpa", 1000, 6}, {"_psf", psf, 5}}
)

func (d dimension) add(o *Object, u Units, name string, value float64) {
	o.Number(name+d[u].suffix, value/d[u].size, d[u].decimals)
}

// Length adds a plan length or an elevation [m].
func (u Units) Length(o *Object, name string, metres float64) { lengthUnit.add(o, u, name, metres) }

// Depth adds a short length [m].
func (u Units) Depth(o *Object, name string, metres float64) { depthUnit.add(o, u, name, metres) }

// Area adds a plan area [m2].
func (u Units) Area(o *Object, name string, area float64) { areaUnit.add(o, u, name, area) }

// Volume adds a volume [m3].
func (u Units) Volume(o *Object, name string, volume float64) { volumeUnit.add(o, u, name, volume) }

// Solid adds a volume of material [m3], in cubic metres or cubic feet.
func (u Units) Solid(o *Object, name string, volume float64) {
	if u == US {
		o.Number(name+"_ft3", volume/(foot*foot*foot), 5)
		return
	}
	o.Number(name+"_m3", volume, 6)
}

// Mass adds a mass [kg].
func (u Units) Mass(o *Object, name string, mass float64) { massUnit.add(o, u, name, mass) }

// Pressure adds a load [Pa].
func (u Units) Pressure(o *Object, name string, pascal float64) { pressureUnit.add(o, u, name, pascal) }

// flow adds a flow of water [m3/s] in litres a second or gallons a minute.
func (u Units) flow(o *Object, name string, flow float64) {
	if u == US {
		o.Number(name+"_gpm", flow*60/gallon, 5)
		return
	}
	o.Number(name+"_lps", flow*1000, 6)
}

// Rain adds a rate of rain [m/s] in millimetres or inches an hour.
func (u Units) Rain(o *Object, name string, rate float64) {
	if u == US {
		o.Number(name+"_in_per_h", rate*3600/inch, 6)
		return
	}
	o.Number(name+"_mm_per_h", rate*3600*1000, 6)
}

// R adds a thermal resistance [m2 K/W], in m2 K/W or ft2 h degF/Btu.
func (u Units) R(o *Object, name string, r float64) {
	if u == US {
		o.Number(name+"_ft2_h_f_per_btu", r/quantity.RUnit, 4)
		return
	}
	o.Number(name+"_m2_k_per_w", r, 5)
}

// RName returns the name under which R writes a resistance.
func (u Units) RName(name string) string {
	var o Object
	u.R(&o, name, 1)
	return o.facts[0].Name
}

// U adds a thermal transmittance [W/(m2 K)], in W/(m2 K) or Btu/(ft2 h degF).
func (u Units) U(o *Object, name string, v float64) {
	if u == US {
		o.Number(name+"_btu_per_ft2_h_f", v*quantity.RUnit, 6)
		return
	}
	o.Number(name+"_w_per_m2_k", v, 5)
}

// Slope adds a slope (rise over run) in per cent, in US units also in inches per foot.
func (u Units) Slope(o *Object, name string, slope float64) {
	o.Number(name+"_pct", slope*100, 4)
	if u == US {
		o.Number(name+"_in_per_ft", slope*12, 4)
	}
}

// Bearing adds an angle in degrees from 0 to under 360.
func (o *Object) Bearing(name string, degrees float64) { o.Number(name, wholeTurn(degrees), 4) }

// wholeTurn returns an angle of 0 to 360 degrees, 0 where it would be written as 360.
func wholeTurn(degrees float64) float64 {
	if math.Round(degrees*1e2) >= 360e2 {
		return 0
	}
	return degrees
}

// Share adds a share of one, four decimals.
func (o *Object) Share(name string, share float64) { o.Number(name, share, 4) }

// Rounded rounds areas to the decimals in which Area writes them, so that the rounded parts add up to
// the rounded total exactly: the parts with the largest remainders are rounded up (first ones first
// where equal). It returns the parts in SI; total is the sum that the parts stand for [m2].
// Parts that do not add up to total come back rounded one by one.
func (u Units) Rounded(parts []float64, total float64) []float64 {
	size := areaUnit[u].size / pow10[areaUnit[u].decimals]
	out := make([]float64, len(parts))
	rest := make([]float64, len(parts))
	order := make([]int, len(parts))
	left := math.Round(total / size)
	for i, p := range parts {
		out[i] = math.Floor(p / size)
		rest[i] = p/size - out[i]
		order[i] = i
		left -= out[i]
	}
	if left < 0 || left > float64(len(parts)) {
		for i, p := range parts {
			out[i] = math.Round(p/size) * size
		}
		return out
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for _, i := range order[:int(left)] {
		out[i]++
	}
	for i := range out {
		out[i] *= size
	}
	return out
}

// Name returns the name under which Quantity writes a number of that dimension.
func (u Units) Name(name string, dim finding.Dimension) string {
	var o Object
	u.Quantity(&o, name, finding.Quantity{Dim: dim})
	return o.facts[0].Name
}
