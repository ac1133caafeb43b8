package sheet

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/export/record"
)

// Scale is how many times smaller than the roof the plan is; 0: none chosen.
type Scale float64

// Usual scales, largest first. SI: ISO 5455; 1:25, 1:250 and 1:2500, which are common on building plans; and those between them that stand on
// scale rulers, so that a roof is up to half as large again on its sheet. US: fractions of an inch to the foot, then whole tens of feet to the
// inch. Recalled.
var (
	usualSI = []Scale{20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 2000, 2500, 5000, 10000, 20000, 50000, 100000}
	usualUS = []Scale{24, 32, 48, 64, 96, 120, 128, 192, 240, 360, 384, 480, 600, 720, 1200, 2400, 6000, 12000, 24000, 60000, 120000}
)

// Usual returns the usual scales, largest first.
func Usual(u record.Units) []Scale { return choose.If(u == record.US, usualUS, usualSI) }

// ParseScale reads "1:100", `1/8" = 1'-0"`, `1/8 in` (to the foot) or `1" = 20'`.
func ParseScale(text string) (Scale, error) {
	wrong := fmt.Errorf("unknown scale %q: use such as 1:100, 1/8 in, or 1 in = 20 ft", text)
	if one, many, ok := strings.Cut(text, ":"); ok {
		n, err := strconv.ParseFloat(strings.TrimSpace(many), 64)
		if strings.TrimSpace(one) != "1" || err != nil || !possible(n) {
			return 0, wrong
		}
		return Scale(n), nil
	}
	paper, ground, ok := strings.Cut(text, "=")
	if !ok {
		ground = "1 ft"
	}
	p, err := quantity.ParseLength(strings.TrimSpace(paper), quantity.Unstated)
	g, err2 := quantity.ParseLength(strings.TrimSpace(ground), quantity.Unstated)
	if errors.Join(err, err2) != nil || !(p > 0) || !possible(float64(g/p)) {
		return 0, wrong
	}
	return Scale(math.Round(float64(g/p)*1e6) / 1e6), nil
}

// possible keeps scales to those at which a roof can be drawn.
func possible(n float64) bool { return n >= 1 && n <= 1e6 }

// Say writes the scale: "1:100", or in US units `1/8" = 1'-0"` and `1" = 20'` where it is a usual one.
func (s Scale) Say(u record.Units) string {
	n := float64(s)
	ratio := "1:" + strconv.FormatFloat(n, 'f', -1, 64)
	if u != record.US {
		return ratio
	}
	if sixteenths := 12 * 16 * 2 / n; n <= 384 && sixteenths == math.Trunc(sixteenths) {
		return fraction(int(sixteenths), 32) + `" = 1'-0" (` + ratio + ")"
	}
	if feet := n / 12; feet == math.Trunc(feet) {
		return `1" = ` + strconv.FormatFloat(feet, 'f', -1, 64) + `' (` + ratio + ")"
	}
	return ratio
}

// fraction writes n parts of a whole in lowest terms.
func fraction(n, parts int) string {
	for n%2 == 0 && parts > 1 {
		n, parts = n/2, parts/2
	}
	return choose.If(parts == 1, strconv.Itoa(n), strconv.Itoa(n)+"/"+strconv.Itoa(parts))
}

// FitError says that the plan at the scale asked for is larger than the sheet.
type FitError struct {
	Sheet   string
	Asked   string
	Largest string // usual scale that fits
}

// Error names both scales.
func (e *FitError) Error() string {
	return fmt.Sprintf("at %s the roof does not fit on %s: use %s or a larger sheet", e.Asked, e.Sheet, e.Largest)
}
