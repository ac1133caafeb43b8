// Package geometry decides questions of position exactly, on coordinates that are integers.
//
// All plan coordinates and elevations of a surface stand on one integer grid (ten micrometres), so
// that orientation, in-circle and the direction of flow are integer determinants. Orientation fits 64
// bits and the others 128; no rounding, no tolerance and no adaptive arithmetic is needed, and results are the
// same on every processor. The determinants are the usual ones (Guibas and Stolfi, "Primitives for the
// manipulation of general subdivisions", ACM Transactions on Graphics 4(2), 1985; from memory).
package geometry

import "math/bits"

// MaxSpan bounds the difference of two coordinates for which the predicates are exact: 2^30 - 1 grid
// units, 10.7 km on a grid of ten micrometres.
const MaxSpan = 1<<30 - 1

// Orient returns +1 when a, b, c turn counter-clockwise, -1 when clockwise and 0 when they lie on one
// line. Differences of coordinates must not exceed MaxSpan.
func Orient(ax, ay, bx, by, cx, cy int32) int {
	l := int64(bx-ax) * int64(cy-ay)
	r := int64(by-ay) * int64(cx-ax)
	switch {
	case l > r:
		return 1
	case l < r:
		return -1
	}
	return 0
}

// TwiceArea returns twice the signed plan area of the triangle of vertices a, b and c, exactly.
func TwiceArea(x, y []int32, a, b, c int32) int64 {
	return int64(x[b]-x[a])*int64(y[c]-y[a]) - int64(y[b]-y[a])*int64(x[c]-x[a])
}

// InCircle returns +1 when d lies inside the circle through a, b, c (which turn counter-clockwise), -1 outside
// and 0 on it. Differences of coordinates must not exceed MaxSpan.
func InCircle(ax, ay, bx, by, cx, cy, dx, dy int32) int {
	adx, ady := int64(ax-dx), int64(ay-dy)
	bdx, bdy := int64(bx-dx), int64(by-dy)
	cdx, cdy := int64(cx-dx), int64(cy-dy)
	h1, l1 := mul(adx*adx+ady*ady, bdx*cdy-bdy*cdx)
	h2, l2 := mul(bdx*bdx+bdy*bdy, cdx*ady-cdy*adx)
	h3, l3 := mul(cdx*cdx+cdy*cdy, adx*bdy-ady*bdx)
	lo, carry := bits.Add64(l1, l2, 0)
	hi, _ := bits.Add64(uint64(h1), uint64(h2), carry)
	lo, carry = bits.Add64(lo, l3, 0)
	hi, _ = bits.Add64(hi, uint64(h3), carry)
	return sign(int64(hi), lo)
}

// Normal returns the upward normal of the facet a, b, c (counter-clockwise in plan): nx and ny point
// downhill when seen from above, and nz is twice the plan area. Differences must not exceed MaxSpan.
func Normal(ax, ay, az, bx, by, bz, cx, cy, cz int32) (nx, ny, nz int64) {
	ux, uy, uz := int64(bx-ax), int64(by-ay), int64(bz-az)
	vx, vy, vz := int64(cx-ax), int64(cy-ay), int64(cz-az)
	return uy*vz - uz*vy, uz*vx - ux*vz, ux*vy - uy*vx
}

// Across returns +1 when water on a facet with upward normal (nx, ny, ·) leaves over an edge with
// plan direction (ex, ey), the facet on the edge's left; -1 when it comes in and 0 when it runs along the edge.
func Across(nx, ny int64, ex, ey int32) int {
	h1, l1 := mul(nx, int64(ey))
	h2, l2 := mul(ny, -int64(ex))
	lo, carry := bits.Add64(l1, l2, 0)
	hi, _ := bits.Add64(uint64(h1), uint64(h2), carry)
	return sign(int64(hi), lo)
}

// mul returns the signed 128-bit product of a and b.
func mul(a, b int64) (hi int64, lo uint64) {
	h, l := bits.Mul64(uint64(a), uint64(b))
	return int64(h) - ((a >> 63) & b) - ((b >> 63) & a), l
}

func sign(hi int64, lo uint64) int {
	switch {
	case hi < 0:
		return -1
	case hi > 0 || lo > 0:
		return 1
	}
	return 0
}
