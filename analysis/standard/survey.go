package standard

import "runnel/analysis/quantity"

// How close spots should stand, and what a roof needs besides its outlets.
const (
	// SurveySpacing is the greatest distance between spots that shows ponds.
	SurveySpacing = 10 * float64(quantity.Foot)
	// SurveySpacingSource says where it stands.
	SurveySpacingSource = "common practice, no source: spots 10 ft apart or closer, and no more than a quarter of the structural bay"
	// LowSlope is the steepest slope that is still called low; the source is recalled: International Building Code,
	// section 202, roof slopes of less than 2 in 12.
	LowSlope = 2.0 / 12
	// SillSource is the source of the room below a sill (read).
	SillSource = "NHBC Standards, 7.1.5 (2021): a drained edge at least 25 mm below the lowest place where water could enter the building"
)
