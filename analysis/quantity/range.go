package quantity

import (
	"fmt"
	"strconv"
)

// RangeError says that a formula or table was used outside the range in which it was tested.
type RangeError struct {
	What      string // what is outside, such as "head" or "width"
	Value     Length
	Low, High Length // the range; High of 0 means that there is no upper end
}

// Error says what is outside which range, in both systems of units.
func (e *RangeError) Error() string {
	if e.High == 0 {
		return fmt.Sprintf("%s of %s is under the tested %s", e.What, bothUnits(e.Value), bothUnits(e.Low))
	}
	return fmt.Sprintf("%s of %s is outside the tested range of %s to %s", e.What, bothUnits(e.Value), bothUnits(e.Low), bothUnits(e.High))
}

// InRange returns nil where low <= value <= high, with a billionth of a metre to spare, and a *RangeError elsewhere.
func InRange(what string, value, low, high Length) error {
	const slack = 1e-9
	if value >= low-slack && (high == 0 || value <= high+slack) {
		return nil
	}
	return &RangeError{What: what, Value: value, Low: low, High: high}
}

// bothUnits writes a length in inches and in millimetres: 4 in (102 mm).
func bothUnits(l Length) string {
	return strconv.FormatFloat(Round(float64(l/Inch), 2), 'f', -1, 64) + " in (" + WholeMillimetres(l) + ")"
}
