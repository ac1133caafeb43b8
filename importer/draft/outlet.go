package draft

import (
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Sizes beyond which a bare number was more likely written in another unit than the file's.
const (
	maxDiameter = 24 * quantity.Inch
	maxBowl     = 10 * quantity.Foot
	maxWidth    = 100 * quantity.Foot
	maxHeight   = 10 * quantity.Foot
)

// CheckOutlet returns the rule that the sizes of an outlet break, or nothing.
func CheckOutlet(o *roof.Outlet) (rule, mend string) {
	const unit = "write the size with its unit, such as 4in or 100mm"
	switch {
	case o.Diameter > maxDiameter:
		return "the drain's pipe is over 24 in across", unit
	case o.Bowl > maxBowl:
		return "the drain's bowl is over 10 ft across", unit
	case o.Width > maxWidth:
		return "the scupper is over 100 ft wide", unit
	case o.OpeningHeight > maxHeight || o.DamHeight > maxHeight:
		return "the opening or dam is over 10 ft high", unit
	}
	return "", ""
}
