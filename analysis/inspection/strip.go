package inspection

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// stripHalf is half the width of the strip of roof that stands for a valley on the map [m]: half a foot.
const stripHalf = 0.1524

// strip returns the strip along a line: a ring that runs along its right side from its first point, round
// its end and back along its left side.
func strip(line orb.LineString) orb.Ring {
	n := len(line)
	ring := make(orb.Ring, 2*n+1)
	for i, p := range line {
		nx, ny := mitre(line, i)
		ring[i] = orb.Point{p[0] + nx, p[1] + ny}
		ring[2*n-1-i] = orb.Point{p[0] - nx, p[1] - ny}
	}
	ring[2*n] = ring[0]
	return ring
}

// mitre returns the offset from point i of a line to the right side of its strip: square to the line at an end,
// and where two pieces meet, to where their right sides meet, but no farther than twice the half width.
func mitre(line orb.LineString, i int) (nx, ny float64) {
	in := direction(line, max(i-1, 0), max(i, 1))
	out := direction(line, min(i, len(line)-2), min(i+1, len(line)-1))
	nx, ny = in[1]+out[1], -in[0]-out[0]
	// The sum of two unit normals has the length 2 cos(half the turn); the side stands off by 1/cos of it.
	scale := 2 * stripHalf / math.Max(float64(nx*nx)+float64(ny*ny), 1)
	return nx * scale, ny * scale
}

// direction returns the unit vector from point i of a line to point j.
func direction(line orb.LineString, i, j int) orb.Point {
	dx, dy := line[j][0]-line[i][0], line[j][1]-line[i][1]
	length := math.Max(vector.Norm(dx, dy), 1e-12)
	return orb.Point{dx / length, dy / length}
}

// through returns the line from the end of a back to their common first point and on along b.
func through(a, b orb.LineString) orb.LineString {
	line := make(orb.LineString, 0, len(a)+len(b)-1)
	for i := len(a) - 1; i > 0; i-- {
		line = append(line, a[i])
	}
	return append(line, b...)
}
