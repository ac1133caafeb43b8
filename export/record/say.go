package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
)

// said says how a number of each dimension is written.
var said = map[finding.Dimension]func(u Units, value float64) string{
	finding.Depth: Units.SayDepth, finding.Length: Units.SayLength, finding.Offset: Units.SayTape, finding.Elevation: Units.SayElevation,
	finding.Area: Units.SayArea, finding.Volume: Units.SayVolume, finding.Mass: Units.SayMass, finding.Pressure: Units.SayPressure,
	finding.Slope: Units.SaySlope, finding.Flow: Units.SayFlow, finding.Rain: Units.SayRain,
	finding.Share:   func(_ Units, v float64) string { return SayShare(v) },
	finding.Bearing: func(_ Units, v float64) string { return SayBearing(v) },
	finding.Count:   func(_ Units, v float64) string { return Count(v) },
}

// Say writes a quantity for reading: whole millimetres or inches to eighths, and so on; a name as it stands.
func (u Units) Say(q finding.Quantity) string {
	if q.Dim == finding.Name {
		return q.Word
	}
	return said[q.Dim](u, q.Value)
}

// SayText writes a text with its quantities.
func (u Units) SayText(t finding.Text) string { return t.Fill(u.Say) }

// SayDepth writes a short length [m]: "35 mm", or 1-3/8" to the nearest eighth.
func (u Units) SayDepth(metres float64) string {
	if u == SI {
		if metres != 0 && math.Abs(metres) < 0.0005 {
			return "less than 1 mm"
		}
		return quantity.WholeMillimetres(quantity.Length(metres))
	}
	if metres != 0 && math.Abs(metres) < inch/16 {
		return `less than 1/8"`
	}
	return quantity.InchesEighths(quantity.Length(metres))
}

// SayLength writes a plan length [m]: "3.4 m", or 12' 3" to the nearest inch, whole feet and from 20 ft on
// all lengths as "12 ft".
func (u Units) SayLength(metres float64) string {
	inches := math.Round(metres / inch)
	if u != SI && (math.Abs(inches) >= 240 || inches != 0 && math.Mod(inches, 12) == 0) {
		return Count(metres/foot) + " ft"
	}
	return u.SayTape(metres)
}

// SayTape writes a plan distance [m] as it is held with a tape: "3.4 m", or 12' 3" to the nearest inch.
func (u Units) SayTape(metres float64) string {
	if u == SI {
		return fixed(metres, 1) + " m"
	}
	return quantity.FeetInches(quantity.Length(math.Round(metres/inch) * inch))
}

// SayElevation writes an elevation [m]: "100.125 m" or "328.49 ft".
func (u Units) SayElevation(metres float64) string {
	if u == SI {
		return strconv.FormatFloat(metres, 'f', 3, 64) + " m"
	}
	return strconv.FormatFloat(metres/foot, 'f', 2, 64) + " ft"
}

// SayArea writes a plan area [m2]: "12.3 m²" or "132 sq ft".
func (u Units) SayArea(area float64) string {
	if u == US {
		return figure(area/(foot*foot)) + " sq ft"
	}
	if area == 0 || area >= 100 {
		return figure(area) + " m²"
	}
	if area < 0.1 && area >= 0.0005 { // an opening, not a roof
		return fixed(area, 3) + " m²"
	}
	return fixed(area, 1) + " m²"
}

// SayVolume writes a volume of water [m3]: "350 litres" or "92 gal".
func (u Units) SayVolume(volume float64) string {
	if u == US {
		return figure(volume/gallon) + " gal"
	}
	return figure(volume*1000) + " litres"
}

// SaySolid writes a volume of material [m3]: "1.25 m³" or "531 board ft".
func (u Units) SaySolid(volume float64) string {
	const least = 0.005 // under which two decimals are nought [m3]
	switch {
	case u == US && volume > 0 && volume < foot*foot*inch/2:
		return "less than 1 board ft"
	case u == US:
		return Count(volume/(foot*foot*inch)) + " board ft"
	case volume > 0 && volume < least:
		return "less than 0.01 m³"
	}
	return fixed(volume, 2) + " m³"
}

// SayMass writes a mass [kg]: "350 kg" or "772 lb".
func (u Units) SayMass(mass float64) string {
	if u == US {
		return figure(mass/pound) + " lb"
	}
	return figure(mass) + " kg"
}

// SayFlow writes a flow of water [m3/s]: "6.3 L/s" or "100 gpm".
func (u Units) SayFlow(flow float64) string {
	if u == US {
		return figure(flow*60/gallon) + " gpm"
	}
	return fixed(flow*1000, 1) + " L/s"
}

// SayRain writes a rate of rain [m/s]: "102 mm/h" or "4.0 in/h".
func (u Units) SayRain(rate float64) string {
	if u == US {
		return fixed(rate*3600/inch, 1) + " in/h"
	}
	return figure(rate*3600*1000) + " mm/h"
}

// SayPressure writes a load [Pa]: "0.34 kPa" or "7.2 psf".
func (u Units) SayPressure(pascal float64) string {
	if u == US {
		return fixed(pascal/psf, 1) + " psf"
	}
	return fixed(pascal/1000, 2) + " kPa"
}

// SayR writes a thermal resistance [m2 K/W]: "3.61 m² K/W" or "R-20.5".
func (u Units) SayR(r float64) string {
	if u == US {
		return "R-" + fixed(r/quantity.RUnit, 1)
	}
	return fixed(r, 2) + " m² K/W"
}

// SayU writes a thermal transmittance [W/(m2 K)]: "0.277 W/(m² K)" or "0.049 Btu/(sq ft h °F)".
func (u Units) SayU(v float64) string {
	if u == US {
		return fixed(v*quantity.RUnit, 3) + " Btu/(sq ft h °F)"
	}
	return fixed(v, 3) + " W/(m² K)"
}

// fine is the slope under which percents have two decimals: above the usual limits, so that a slope and the
// limit that it misses never read the same.
const fine = 0.025

// SaySlope writes a slope: "2.08 %", or "1/4 in per ft (2.08 %)".
func (u Units) SaySlope(slope float64) string {
	percent := fixed(slope*100, 1) + " %"
	if math.Abs(slope) < fine {
		percent = fixed(slope*100, 2) + " %"
	}
	if u == SI {
		return percent
	}
	return perFoot(slope*12) + " in per ft (" + percent + ")"
}

// perFoot writes inches per foot: a fraction where it is a whole count of eighths, as limits and boards are, else decimals, as what was
// measured.
func perFoot(inches float64) string {
	if n := math.Round(inches * 8); n != 0 && math.Abs(inches*8-n) < 1e-6 {
		return strings.TrimSuffix(quantity.InchesEighths(quantity.Length(n)*quantity.Inch/8), `"`)
	}
	if math.Abs(inches) < 0.02 {
		return fixed(inches, 3)
	}
	return fixed(inches, 2)
}

// SayShare writes a share of one: "12 %".
func SayShare(share float64) string {
	percent := share * 100
	if percent > 0 && percent < 1 {
		return "under 1 %"
	}
	return Count(math.Round(percent)) + " %"
}

// SayBearing writes a direction [degrees clockwise from north] as one of eight points: "south-east".
func SayBearing(degrees float64) string { return vector.CompassAt(degrees) }

// fixed writes a number with that many decimals and without "-0.0".
func fixed(v float64, decimals int) string {
	if math.Round(v*pow10[decimals]) == 0 {
		v = 0
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// figure writes a number of at least 10 whole, a smaller one with one decimal.
func figure(v float64) string {
	if v != 0 && math.Abs(v) < 9.95 {
		return fixed(v, 1)
	}
	return Count(math.Round(v))
}

// Count writes a whole number with commas between the thousands.
func Count(v float64) string {
	s := strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	if s == "-0" {
		s = "0"
	}
	start := choose.If(s[0] == '-', 1, 0)
	for i := len(s) - 3; i > start; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Plural writes "1 place" or "3 places".
func Plural(n int, what string) string {
	return choose.If(n == 1, "1 "+what, strconv.Itoa(n)+" "+what+"s")
}

// LongestWord is how much of one word is said [characters]: a label may be of any length, and a line is not.
const LongestWord = 81

// Short returns text with the words cut that no line holds.
func Short(text string) string { return Cut(text, LongestWord) }

// Cut returns text with the words cut that are longer than most [characters].
func Cut(text string, most int) string {
	if len(text) <= most {
		return text
	}
	words := strings.Split(text, " ")
	for i, w := range words {
		words[i] = Beginning(w, most)
	}
	return strings.Join(words, " ")
}

// longestTitle is how long a title gets where it stands in one line: the tab of a browser, a pop-up of a map [characters].
const longestTitle = 120

// Title returns text as a title.
func Title(text string) string { return Beginning(text, longestTitle) }

// Beginning returns text, or where it has more than most characters its beginning.
func Beginning(text string, most int) string {
	if r := []rune(text); len(text) > most && len(r) > most {
		return strings.TrimRight(string(r[:most-1]), " ") + "…"
	}
	return text
}

// Place says where p lies, in the words of package place.
func (b *Book) Place(p orb.Point) string { return b.Units.SayText(b.Study.Places.Of(p)) }

// SayTime writes a time: "45 min", "1 h 20 min".
func SayTime(seconds float64) string {
	minutes := int(math.Round(seconds / 60))
	switch {
	case minutes < 1 && seconds > 0:
		return "under 1 min"
	case minutes < 60:
		return strconv.Itoa(minutes) + " min"
	case minutes%60 == 0:
		return strconv.Itoa(minutes/60) + " h"
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}

// Capital begins a text with a capital letter.
func Capital(text string) string { return begun(text, strings.ToUpper) }

// Small begins a text with a small letter.
func Small(text string) string { return begun(text, strings.ToLower) }

func begun(text string, with func(string) string) string {
	n := min(1, len(text))
	return with(text[:n]) + text[n:]
}
