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
	maxPipe     = 48 * quantity.Inch
	maxFall     = 1.0 // of a horizontal pipe
)

// over reports whether a size is more than the greatest, and not the same in another unit: 120 in times 0.0254 are a hair more than 10 ft times 0.3048.
func over(size, greatest quantity.Length) bool { return size > greatest+quantity.Millimetre/1000 }

// CheckOutlet returns the rule that the sizes of an outlet break, or nothing.
func CheckOutlet(o *roof.Outlet) (rule, mend string) {
	const unit = "write the size with its unit, such as 4in or 100mm"
	switch {
	case over(o.Diameter, maxDiameter):
		return "the drain's pipe is over 24 in across", unit
	case over(max(o.Bowl, o.DamDiameter), maxBowl):
		return "the drain's dam or bowl is over 10 ft across", unit
	case over(o.Width, maxWidth):
		return "the scupper is over 100 ft wide", unit
	case over(max(o.OpeningHeight, o.DamHeight), maxHeight):
		return "the opening or dam is over 10 ft high", unit
	}
	return checkPipes(o)
}

// checkPipes returns the rule that the sizes of what the water runs on through break, or nothing.
func checkPipes(o *roof.Outlet) (rule, mend string) {
	const unit = "write the size with its unit, such as 4in or 100mm"
	switch {
	case over(max(o.Leader.Diameter, o.Leader.Width, o.Leader.Depth), maxDiameter):
		return "the leader is over 24 in across", unit
	case over(o.Pipe, maxPipe):
		return "the horizontal pipe is over 48 in across", unit
	case o.PipeSlope > maxFall:
		return "the horizontal pipe falls more than 1 in 1", "write its slope like 1/8 in per ft or 1 %"
	case over(max(o.ConductorHead, o.CrestBreadth), maxHeight):
		return "the conductor head or the crest is over 10 ft", unit
	case o.Type == roof.Drain && (o.Crest != roof.CrestUnknown || o.ConductorHead > 0):
		return "a drain has no crest and no conductor head", "make it a scupper, or leave them out"
	}
	return "", ""
}
