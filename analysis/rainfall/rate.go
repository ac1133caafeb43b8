package rainfall

import (
	"fmt"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// AbsurdError says that a rate of rain is so great that it is taken for a slip of the pen.
type AbsurdError struct{ Text string }

// Error says what the limit is.
func (e *AbsurdError) Error() string {
	return fmt.Sprintf("%q is more rain than %.0f in/h (%.0f mm/h): is it meant?", e.Text,
		standard.AbsurdRate/float64(quantity.InchPerHour), standard.AbsurdRate/float64(quantity.MillimetrePerHour))
}

// Rate reads a rate of rain: "4 in/h", "100 mm/h". meant says that even an absurd one is meant, which is else an
// *AbsurdError; so is, whatever is meant, none over 10 m an hour.
func Rate(text string, meant bool) (quantity.Intensity, error) {
	rate, err := quantity.ParseIntensity(text)
	if err != nil {
		return 0, err
	}
	if float64(rate) > standard.AbsurdRate*(1+1e-12) && !meant {
		return 0, &AbsurdError{Text: text}
	}
	return rate, nil
}

// Flow returns the flow of a steady rate off an area [m2] from which everything runs off: Q = A i, exactly. The codes'
// 0.0104 gpm for a square foot and an inch an hour is this, rounded up by 0.1 %.
// Source: ASCE 7-05, commentary, equation C8-1, in consistent units.
func Flow(area float64, rate quantity.Intensity) quantity.Flow {
	return quantity.Flow(area * float64(rate))
}
