package settle

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
)

// planeSpots is how many spots an assumed elevation rests on.
const planeSpots = 6

// planes estimates elevations where none were measured.
type planes struct {
	d     *draft
	cloud *nearby.Cloud
}

// newPlanes uses the spots, or everything measured where there are fewer than three.
func (d *draft) newPlanes() *planes {
	var spots, all []int32
	for n := range d.x {
		if d.how[n] != given {
			continue
		}
		all = append(all, int32(n))
		if d.spot[n] >= 0 {
			spots = append(spots, int32(n))
		}
	}
	if len(spots) < 3 {
		spots = all
	}
	return &planes{d, nearby.NewCloud(d.x, d.y, spots)}
}

// at returns the elevation at (x, y) of the plane through the six nearest spots, weighted by 1/d2, kept within the range of
// those spots. Where they lie on one line the plane is level across it.
func (p *planes) at(x, y int32) int32 { return p.through(x, y, p.cloud.Nearest(x, y, planeSpots)) }

// through is at for given spots, nearest first.
func (p *planes) through(x, y int32, near []nearby.Neighbour) int32 {
	if len(near) == 0 {
		return 0
	}
	var sw, sx, sy, sz float64
	lo, hi := p.d.z[near[0].N], p.d.z[near[0].N]
	for _, v := range near {
		w := 1 / math.Max(v.Distance, 1)
		sw += w
		sx += float64(w * float64(p.d.x[v.N]-x))
		sy += float64(w * float64(p.d.y[v.N]-y))
		sz += float64(w * float64(p.d.z[v.N]))
		lo, hi = min(lo, p.d.z[v.N]), max(hi, p.d.z[v.N])
	}
	mx, my, mz := sx/sw, sy/sw, sz/sw
	var xx, xy, yy, xz, yz float64
	for _, v := range near {
		w := 1 / math.Max(v.Distance, 1)
		dx, dy, dz := float64(p.d.x[v.N]-x)-mx, float64(p.d.y[v.N]-y)-my, float64(p.d.z[v.N])-mz
		xx += float64(float64(w*dx) * dx)
		xy += float64(float64(w*dx) * dy)
		yy += float64(float64(w*dy) * dy)
		xz += float64(float64(w*dx) * dz)
		yz += float64(float64(w*dy) * dz)
	}
	gx, gy := gradient(xx, xy, yy, xz, yz, collinear)
	z := mz - float64(gx*mx) - float64(gy*my)
	return max(lo, min(hi, int32(math.Round(z))))
}

// opposite returns the elevation at the foot (x, y) opposite a spot, by the six spots nearest to that.
func (p *planes) opposite(x, y, spot int32) int32 {
	return p.pinned(x, y, p.cloud.Nearest(p.d.x[spot], p.d.y[spot], planeSpots+1))
}

// pinned returns the elevation at a foot (x, y) beside spots, of which the first is the one that it is told by: that one's, and from there by the slope of the
// plane that fits them all best, kept within their range. Spots as near as the first are taken together with it. Where the roof bends along a wall or a curb, as over
// an arched span or behind a curb that has pressed it down, the plane itself would put the foot of a crest as low as the trough beside it, and that of a low place
// above it.
func (p *planes) pinned(x, y int32, near []nearby.Neighbour) int32 {
	d, o := p.d, near[0].N
	lo, hi := d.z[o], d.z[o]
	var n, sx, sy, sz, xx, xy, yy, xz, yz float64
	var pins, px, py, pz float64
	for _, v := range near {
		dx, dy, dz := float64(d.x[v.N]-d.x[o]), float64(d.y[v.N]-d.y[o]), float64(d.z[v.N])-float64(d.z[o])
		n, sx, sy, sz = n+1, sx+dx, sy+dy, sz+dz
		xx += float64(dx * dx)
		xy += float64(dx * dy)
		yy += float64(dy * dy)
		xz += float64(dx * dz)
		yz += float64(dy * dz)
		lo, hi = min(lo, d.z[v.N]), max(hi, d.z[v.N])
		if v.Distance == near[0].Distance {
			pins, px, py, pz = pins+1, px+dx, py+dy, pz+dz
		}
	}
	gx, gy := gradient(xx-float64(sx*sx/n), xy-float64(sx*sy/n), yy-float64(sy*sy/n), xz-float64(sx*sz/n), yz-float64(sy*sz/n), leastSpread)
	z := float64(d.z[o]) + pz/pins + (float64(gx*(float64(x-d.x[o])-px/pins)) + float64(gy*(float64(y-d.y[o])-py/pins)))
	return max(lo, min(hi, int32(math.Round(z))))
}

// Products of the two spreads of some points, in squares of their sum, up to which they lie on one line.
const (
	collinear   = 1e-8
	leastSpread = 0.01 // of spots round a single one: along a curb they stand in a row, and where it bends, what it does across that is not known
)

// gradient solves the normal equations of a plane about its centre; across points on one line, by the given least spread, it is 0.
func gradient(xx, xy, yy, xz, yz, least float64) (gx, gy float64) {
	trace := xx + yy
	det := float64(xx*yy) - float64(xy*xy)
	if trace <= 0 {
		return 0, 0
	}
	if det > least*float64(trace*trace) {
		return (float64(xz*yy) - float64(yz*xy)) / det, (float64(yz*xx) - float64(xz*xy)) / det
	}
	// The matrix is trace times the projection onto the line's direction.
	return (float64(xx*xz) + float64(xy*yz)) / float64(trace*trace), (float64(xy*xz) + float64(yy*yz)) / float64(trace*trace)
}

// assumeOutline gives the points of the outline that still lack an elevation that of the plane through near spots.
func (d *draft) assumeOutline() {
	p := d.newPlanes()
	for c := range d.outline {
		for _, n := range d.chains[c].node {
			if d.how[n] == unknown {
				d.z[n], d.how[n] = p.at(d.x[n], d.y[n]), assumed
				d.notes.count(noteAssumedCorner)
			}
		}
	}
}

// footing is a foot that may become a point of the outline.
type footing struct {
	foot
	spot int32
}

// placeFeet gives pieces of border without elevations a point opposite every spot within reach. Nearer spots come first; a foot
// so near another point of the piece that it would tell nothing new is left out, and so is one for which height, told the place, the spot and the
// piece, has nothing to go by.
func (d *draft) placeFeet(open []span, reach float64, kind note, height func(x, y, spot int32, s span) (z int32, how standing)) {
	if len(open) == 0 {
		return
	}
	feet := d.findFeet(open, reach)
	slices.SortStableFunc(feet, func(a, b footing) int { return cmp.Or(cmp.Compare(a.far, b.far), cmp.Compare(a.spot, b.spot)) })
	taken := make([][]float64, len(open))
	for _, f := range feet {
		s := open[f.seg]
		long := vector.Norm(float64(d.x[s.b]-d.x[s.a]), float64(d.y[s.b]-d.y[s.a]))
		at := f.t * long
		gap := math.Max(d.units(samePlace), f.far/8)
		list := taken[f.seg]
		k, _ := slices.BinarySearch(list, at)
		if at < gap || long-at < gap || k > 0 && at-list[k-1] < gap || k < len(list) && list[k]-at < gap {
			continue
		}
		x, y := int32(math.Round(f.x)), int32(math.Round(f.y))
		if d.at(x, y) >= 0 {
			continue
		}
		z, how := height(x, y, f.spot, s)
		if how == unknown {
			continue
		}
		taken[f.seg] = slices.Insert(list, k, at)
		n := d.add(x, y, d.chains[s.chain].source)
		d.z[n], d.how[n] = z, how
		d.splitAt(s, f.t, n)
		d.notes.count(kind)
	}
}

// findFeet returns the feet of spots within reach [m] on the open pieces that they face from the roof's side, with no wall or curb between.
func (d *draft) findFeet(open []span, reach float64) []footing {
	l := d.newLines(open, reach*geometry.PerMetre)
	walls := d.newLines(d.spans(0, d.curbs), 2)
	var feet []footing
	for n := range d.x {
		if d.spot[n] < 0 || d.what[n].role == isOutline || isCurbRole(d.what[n].role) {
			continue
		}
		for _, i := range l.grid.Near(float64(d.x[n]), float64(d.y[n])) {
			s := open[i]
			f := l.foot(int(i), float64(d.x[n]), float64(d.y[n]))
			if f.far <= l.reach && f.t > 0 && f.t < 1 && d.orient(s.a, s.b, int32(n)) > 0 && !walls.parts(int32(math.Round(f.x)), int32(math.Round(f.y)), int32(n), s) {
				feet = append(feet, footing{f, int32(n)})
			}
		}
	}
	return feet
}
