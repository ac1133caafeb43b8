package record

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/choose"
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
func (u Units) String() string { return choose.If(u == US, "us", "si") }

// Unit is a unit of the reader's: how it is written, and how large it is in SI.
type Unit struct {
	Name     string
	Size     float64
	suffix   string // of the names of properties in it
	decimals int
}

// dimension picks a unit by Units.
type dimension [2]Unit

// Decimals keep 1e-6 m, 1e-6 m2 or better.
var (
	lengthUnit        = dimension{{"m", 1, "_m", 6}, {"ft", foot, "_ft", 6}}
	depthUnit         = dimension{{"mm", 0.001, "_mm", 3}, {"in", inch, "_in", 5}}
	areaUnit          = dimension{{"m2", 1, "_m2", 6}, {"ft2", foot * foot, "_ft2", 6}}
	volumeUnit        = dimension{{"litres", 0.001, "_l", 3}, {"gal", gallon, "_gal", 4}}
	solidUnit         = dimension{{"m3", 1, "_m3", 6}, {"ft3", foot * foot * foot, "_ft3", 5}}
	massUnit          = dimension{{"kg", 1, "_kg", 3}, {"lb", pound, "_lb", 3}}
	pressureUnit      = dimension{{"kPa", 1000, "_kpa", 6}, {"psf", psf, "_psf", 5}}
	flowUnit          = dimension{{"L/s", 0.001, "_lps", 6}, {"gpm", gallon / 60, "_gpm", 5}}
	rainUnit          = dimension{{"mm/h", 0.001 / 3600, "_mm_per_h", 6}, {"in/h", inch / 3600, "_in_per_h", 6}}
	resistanceUnit    = dimension{{"m2 K/W", 1, "_m2_k_per_w", 5}, {"ft2 h degF/Btu", quantity.RUnit, "_ft2_h_f_per_btu", 4}}
	transmittanceUnit = dimension{{"W/(m2 K)", 1, "_w_per_m2_k", 5}, {"Btu/(ft2 h degF)", 1 / quantity.RUnit, "_btu_per_ft2_h_f", 6}}
)

func (d dimension) add(o *Object, u Units, name string, value float64) {
	o.Number(name+d[u].suffix, value/d[u].Size, d[u].decimals)
}

// DepthUnit is the unit of short lengths.
func (u Units) DepthUnit() Unit { return depthUnit[u] }

// AreaUnit is that of plan areas.
func (u Units) AreaUnit() Unit { return areaUnit[u] }

// MassUnit is that of what water weighs.
func (u Units) MassUnit() Unit { return massUnit[u] }

// VolumeUnit is that of volumes of water.
func (u Units) VolumeUnit() Unit { return volumeUnit[u] }

// FlowUnit is that of flows of water.
func (u Units) FlowUnit() Unit { return flowUnit[u] }

// Length adds a plan length or an elevation [m].
func (u Units) Length(o *Object, name string, metres float64) { lengthUnit.add(o, u, name, metres) }

// Depth adds a short length [m].
func (u Units) Depth(o *Object, name string, metres float64) { depthUnit.add(o, u, name, metres) }

// Area adds a plan area [m2].
func (u Units) Area(o *Object, name string, area float64) { areaUnit.add(o, u, name, area) }

// Volume adds a volume [m3].
func (u Units) Volume(o *Object, name string, volume float64) { volumeUnit.add(o, u, name, volume) }

// Solid adds a volume of material [m3], in cubic metres or cubic feet.
func (u Units) Solid(o *Object, name string, volume float64) { solidUnit.add(o, u, name, volume) }

// Mass adds a mass [kg].
func (u Units) Mass(o *Object, name string, mass float64) { massUnit.add(o, u, name, mass) }

// Pressure adds a load [Pa].
func (u Units) Pressure(o *Object, name string, pascal float64) { pressureUnit.add(o, u, name, pascal) }

// flow adds a flow of water [m3/s] in litres a second or gallons a minute.
func (u Units) flow(o *Object, name string, flow float64) { flowUnit.add(o, u, name, flow) }

// Rain adds a rate of rain [m/s] in millimetres or inches an hour.
func (u Units) Rain(o *Object, name string, rate float64) { rainUnit.add(o, u, name, rate) }

// R adds a thermal resistance [m2 K/W], in m2 K/W or ft2 h degF/Btu.
func (u Units) R(o *Object, name string, r float64) { resistanceUnit.add(o, u, name, r) }

// RName returns the name under which R writes a resistance.
func (u Units) RName(name string) string { return name + resistanceUnit[u].suffix }

// U adds a thermal transmittance [W/(m2 K)], in W/(m2 K) or Btu/(ft2 h degF).
func (u Units) U(o *Object, name string, v float64) { transmittanceUnit.add(o, u, name, v) }

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
	return choose.If(math.Round(degrees*1e2) >= 360e2, 0, degrees)
}

// Share adds a share of one, four decimals.
func (o *Object) Share(name string, share float64) { o.Number(name, share, 4) }

// Rounded rounds areas to the decimals in which Area writes them, so that the rounded parts add up to
// the rounded total exactly: the parts with the largest remainders are rounded up (first ones first
// where equal). It returns the parts in SI; total is the sum that the parts stand for [m2].
// Parts that do not add up to total come back rounded one by one.
func (u Units) Rounded(parts []float64, total float64) []float64 {
	size := areaUnit[u].Size / pow10[areaUnit[u].decimals]
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
