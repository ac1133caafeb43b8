package standard

import "runnel/analysis/quantity"

// How close spots should stand, and what a roof needs besides its outlets.
const (
	// SurveySpacing is the greatest distance between spots that shows ponds.
	SurveySpacing = 10 * float64(quantity.Foot)
	// SurveySpacingSource says where it stands.
	SurveySpacingSource = "common practice, no source: spots 10 ft apart or closer, and no more than a quarter of the structural bay"
	// LeastError, LevelError, UsualError: the standard error of an elevation is never taken as smaller [m]; it is that of a
	// level; and it is taken where nothing states it and too few spots tell. Common practice, no source: the best levels and total stations of InstrumentError.
	LeastError = 0.001
	LevelError = 0.003
	UsualError = 0.005
	// MedianError is the median of the size of normal errors in standard deviations: the quantile 0.75. Source (recalled):
	// Abramowitz and Stegun, "Handbook of Mathematical Functions", table 26.1.
	MedianError = 0.6744897501960817
	// SureError is how many standard errors leave one in twenty beyond them on one side: the quantile 0.95, same source.
	SureError = 1.6448536269514722
	// SureChange is how many standard errors leave one in twenty beyond them on both sides: the quantile 0.975, same source.
	SureChange = 1.959963984540054
	// ChangeRisk is the chance that a comparison of two surveys of a roof on which nothing moved names any change at all (common practice, no source).
	ChangeRisk = 0.05
	// NextSpots is how many places to shoot next are named unless told otherwise: what a crew shoots in a quarter of an hour (common
	// practice, no source).
	NextSpots = 8
	// LowSlope is the steepest slope that is still called low; the source is recalled: International Building Code,
	// section 202, roof slopes of less than 2 in 12.
	LowSlope = 2.0 / 12
	// SillSource is the source of the room below a sill (read).
	SillSource = "NHBC Standards, 7.1.5 (2021): a drained edge at least 25 mm below the lowest place where water could enter the building"
)

// Instrument is a way to measure elevations and its usual standard error.
type Instrument struct {
	Name  string
	Error float64 // of an elevation [m]
}

// Instruments returns the instruments that a roof is surveyed with and the standard error of an elevation that each usually
// has, the upper end of its range. Common practice, no source: rotating laser or level 1 to 3 mm, total station with a pole 2
// to 5 mm, satellite positioning with real-time corrections 15 to 20 mm, photogrammetry 10 to 50 mm, laser scanner 5 to 20 mm.
func Instruments() []Instrument {
	return []Instrument{
		{"level", LevelError}, {"total-station", UsualError}, {"gnss", 0.020}, {"photogrammetry", 0.050}, {"laser", 0.020},
	}
}
