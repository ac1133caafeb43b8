package vector

import "math"

// points are the eight points of the compass, clockwise from north.
var points = [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// CompassAt names a bearing [degrees clockwise from north] by the nearest of eight points.
func CompassAt(degrees float64) string {
	i := int(math.Round(degrees/45)) % 8
	return points[(i+8)%8]
}

// Compass names the direction (dx, dy) by the nearest of eight points; y is grid north. No direction is called east.
func Compass(dx, dy float64) string {
	const tan = 0.41421356237309503 // of 22.5 degrees: half of one eighth
	east, north := math.Abs(dx) > tan*math.Abs(dy), math.Abs(dy) > tan*math.Abs(dx)
	i := 2 // east of the meridian, from the south to the north
	switch {
	case north && !east && dy > 0:
		i = 0
	case north && !east:
		i = 4
	case north && dy > 0:
		i = 1
	case north:
		i = 3
	}
	if dx < 0 {
		i = (8 - i) % 8
	}
	return points[i]
}
