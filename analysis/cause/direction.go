package cause

// Directions are taken from a table and lengths by a square root whose products are rounded one by one:
// sines, angles and hypotenuses of the standard library may differ in the last bit from machine to
// machine, and results must not.

// turns is the number of directions in a full turn; one is 7.5 degrees.
const turns = 48

// sines holds the sines of the first quarter, from 0 to 90 degrees.
var sines = [turns/4 + 1]float64{
	0,
	0.13052619222005157,
	0.25881904510252074,
	0.3826834323650898,
	0.5,
	0.6087614290087207,
	0.7071067811865475,
	0.7933533402912352,
	0.8660254037844386,
	0.9238795325112867,
	0.9659258262890683,
	0.9914448613738104,
	1,
}

// direction returns the unit vector k steps of 7.5 degrees counter-clockwise from east; k may be negative.
func direction(k int) [2]float64 {
	k = (k%turns + turns) % turns
	const quarter = turns / 4
	up := func(k int) float64 {
		switch {
		case k <= quarter:
			return sines[k]
		case k <= 2*quarter:
			return sines[2*quarter-k]
		case k <= 3*quarter:
			return -sines[k-2*quarter]
		default:
			return -sines[4*quarter-k]
		}
	}
	return [2]float64{up((k + quarter) % turns), up(k)}
}

// turned returns v turned counter-clockwise by k steps of 7.5 degrees.
func turned(v [2]float64, k int) [2]float64 {
	d := direction(k)
	return [2]float64{float64(v[0]*d[0]) - float64(v[1]*d[1]), float64(v[0]*d[1]) + float64(v[1]*d[0])}
}
