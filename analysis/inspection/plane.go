package inspection

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// covered is the share of a plane under listed ponds from which its flatness is the pond's finding.
const covered = 0.2

// thinnest is the least mean width of a plane that calls for repair [m]: 3 ft. Narrower strips are the
// faces of folds, steps and edges, whose slope is no fall of the roof.
const thinnest = 0.9

// coresFrom is from which area of a flat plane cores are worth their holes [m2]: one roofing square, 100 sq ft (common practice, no source).
const coresFrom = 9.29

// fewSpots is the least number of spots that judge a plane: three give a plane without any check, and as
// many again show whether it is one. With fewer a flat plane is a note.
const fewSpots = 6

// planes returns a finding for each plane that is flatter than the criterion as found, beyond the
// measuring error, over enough area, and one note for all that the spots do not settle.
func (in *inspector) planes() []finding.Finding {
	var out []finding.Finding
	var open []*slope.Plane
	level := in.levelPlanes()
	for i := range in.Slopes.Planes {
		p := &in.Slopes.Planes[i]
		if level[i] || !p.BelowMin || !p.Resolved || p.Area-p.Weak < leastArea || p.Width() < thinnest || in.underWater(p) > covered || in.crest(i) {
			continue
		}
		if in.unsettled(p) || in.hollow(i) {
			open = append(open, p)
			continue
		}
		out = append(out, in.plane(p))
	}
	if len(open) > 0 {
		out = append(out, in.openPlanes(open))
	}
	return out
}

// unsettled reports whether the spots leave open that a plane is one: most of it was not measured, or too few spots judge it, or it may be
// nothing but the sides of a fold.
func (in *inspector) unsettled(p *slope.Plane) bool {
	return p.Assumed > 0.5 || p.Own < fewSpots || p.Inner == 0 || in.bent(p) || in.overFold(p)
}

// openPlanes sums up planes that seem flat and that the spots do not settle in one note: on a roof with folds that nobody coded there is one wherever triangles
// reach from one side of a fold to the other, and none of them is a reason to cut a core.
func (in *inspector) openPlanes(open []*slope.Plane) finding.Finding {
	area, widest := 0.0, open[0]
	for _, p := range open {
		area += p.Area
		if p.Area > widest.Area {
			widest = p
		}
	}
	f := blank(finding.PlaneFlat, finding.Note)
	f.Confidence = finding.NotResolved
	f.Size = area
	size, least, name := finding.Plan("area", area), finding.Fall("least slope", in.Criteria.MinSlope), "slope"
	at := in.middle(widest)
	f.Where = in.Places.Of(at)
	f.What = finding.Say("A plane of {0} seems to have less slope than {1}; the spots do not settle it.", size, least)
	if n := len(open); n > 1 {
		f.What = finding.Say("{0} planes, {1} in all, seem to have less slope than {2}; the spots do not settle it.", finding.Number("planes", n), size, least)
		f.Where = finding.Say("the largest:").And(f.Where)
		name = "slope of the largest"
	}
	f.Measured = []finding.Quantity{size, finding.Fall(name, widest.Slope), finding.Number("spots", widest.Spots)}
	f.Required = []finding.Quantity{least}
	f.Source = in.cite("min_slope", in.Criteria.MinSlope != in.usual().MinSlope)
	f.Why = finding.Say("Few spots tell of it, or it is narrow. Triangles that reach over a ridge or a valley between spots look flat too.")
	f.Do = finding.Say("Look here 48 hours after rain. Take levels in between where water stands.")
	f.Geometry = largest(widest.Outline, at)
	return f
}

func (in *inspector) plane(p *slope.Plane) finding.Finding {
	f := blank(finding.PlaneFlat, finding.Repair)
	f.Size = p.Area
	f.What = finding.Say("A plane of {0} has a slope of {1}, less than {2}.",
		finding.Plan("area", p.Area), finding.Fall("slope", p.Slope), finding.Fall("least slope", in.Criteria.MinSlope))
	at := in.middle(p)
	f.Where = in.Places.Of(at)
	f.Measured = []finding.Quantity{
		finding.Fall("slope", p.Slope), finding.Fall("standard error", p.Error()), finding.Plan("area", p.Area), finding.Number("spots", p.Spots),
	}
	f.Required = []finding.Quantity{finding.Fall("least slope", in.Criteria.MinSlope)}
	f.Source = in.cite("min_slope", in.Criteria.MinSlope != in.usual().MinSlope)
	f.Why = finding.Say("A plane through {0} spots has this slope, give or take {1}.",
		finding.Number("spots", p.Spots), finding.Fall("two standard errors", 2*p.Error()))
	f.Do = finding.Say("Look here 48 hours after rain. If it is dry, leave it.")
	if p.Area >= coresFrom {
		f.Do = finding.Say("Look here 48 hours after rain. Cut cores to see whether the slope comes from the deck or from the insulation.")
	}
	f.Geometry = largest(p.Outline, at)
	return f
}

// bent reports whether plane p scatters by more than its errors, and by so much that it may be two planes which fall towards each other or away. Two that fall g
// each way over the width w lie off the plane between them by gw/(4 root 3) in the root mean square r, so that g/2 is r root 12 / w. One that is flat though half
// as much again is added to its slope is flat.
func (in *inspector) bent(p *slope.Plane) bool {
	const again = 1.5
	return p.Loose && p.Slope+again*math.Sqrt(12)*p.Residual/math.Max(p.WidthAt(in.Surface.Spacing), thinnest) >= in.Criteria.MinSlope
}

// oneRow is up to how many spacings of the spots wide a plane may be nothing but the facets between two rows of spots, one on either side of a ridge.
const oneRow = 1.5

// overFold reports whether plane p is so narrow that it may be nothing but the two sides of a fold: of one that runs between two rows of spots, or of one that
// errors hide. A plane across a fold between two that fall g away from it, or towards it, lies off the roof by g/4 of its width at most, and planes are grown
// of all spots within the tolerance, two standard errors: with errors of 20 mm and the fall of new work, 2 %, planes of up to 8 m mean nothing.
func (in *inspector) overFold(p *slope.Plane) bool {
	hidden := 4 * in.Slopes.Tolerance / math.Max(in.Criteria.MinSlope, in.Criteria.MinSlopeNew)
	return p.WidthAt(in.Surface.Spacing) < math.Max(hidden, oneRow*in.Surface.Spacing)
}

// flatPlanes sums up the planes between the criterion as found and that of new work in one note.
func (in *inspector) flatPlanes() []finding.Finding {
	area, n := 0.0, 0
	var worst *slope.Plane
	for i := range in.Slopes.Planes {
		p := &in.Slopes.Planes[i]
		if p.Area < leastArea || p.Slope+float64(2*p.Error()) >= in.Criteria.MinSlopeNew || p.Spots < fewSpots || p.Width() < thinnest || p.BelowMin && p.Resolved {
			continue
		}
		area += p.Area
		n++
		if worst == nil || p.Area > worst.Area {
			worst = p
		}
	}
	if worst == nil {
		return nil
	}
	f := blank(finding.PlaneFlat, finding.Note)
	f.Size = area
	f.What = finding.Say("{0} planes, {1} in all, have less slope than new work must have.", finding.Number("planes", n), finding.Plan("area", area))
	if n == 1 {
		f.What = finding.Say("One plane, {0}, has less slope than new work must have.", finding.Plan("area", area))
	}
	at := in.middle(worst)
	f.Where = in.Places.Of(at)
	if n > 1 {
		f.Where = finding.Say("the largest:").And(f.Where)
	}
	name := choose.If(n > 1, "slope of the largest", "slope")
	f.Measured = []finding.Quantity{finding.Plan("area", area), finding.Fall(name, worst.Slope)}
	f.Required = []finding.Quantity{finding.Fall("least slope of new work", in.Criteria.MinSlopeNew)}
	f.Source = in.cite(standard.MinSlopeNewName, in.Criteria.MinSlopeNew != in.usual().MinSlopeNew)
	f.Why = finding.Say("An existing roof that drains may stay so. New work and corrections must reach {0}.",
		finding.Fall("least slope of new work", in.Criteria.MinSlopeNew))
	f.Do = finding.Say("At the next re-roofing, plan for {0}.", finding.Fall("least slope of new work", in.Criteria.MinSlopeNew))
	f.Decides = finding.Owner
	f.Geometry = at
	return []finding.Finding{f}
}

// levelPlanes marks the planes below the criterion that the findings of ponds already speak of: those that
// carry water held by nothing but the want of slope, and the ones joined to them.
func (in *inspector) levelPlanes() []bool {
	marked := make([]bool, len(in.Slopes.Planes))
	var queue []int32
	add := func(p int32) {
		if p >= 0 && !marked[p] && in.Slopes.Planes[p].BelowMin {
			marked[p] = true
			queue = append(queue, p)
		}
	}
	for f, i := range in.wet {
		if i >= 0 && in.Causes[i].Causes[0].Kind == finding.LevelArea && !in.noted(int(i)) {
			add(in.Slopes.Plane[f])
		}
	}
	t := in.Surface.TIN
	for len(queue) > 0 {
		p := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, f := range in.Slopes.Planes[p].Facets {
			for c := range int32(3) {
				if e := t.Twin[3*f+c]; e >= 0 {
					add(in.Slopes.Plane[e/3])
				}
			}
		}
	}
	return marked
}

// crestWidth is the greatest width of a crest, in spacings of the spots: what facets that reach over a ridge
// can make level.
const crestWidth = 4

// crest reports whether plane i is the rounded top of a ridge, a hip or a high point: narrow, and the roof
// falls away from its border by half the criterion on the mean, and not to one side only. Where no breakline was
// shot along a ridge, the facets that reach over it lie level; no water is led over them, and what rains on them
// leaves at once. A level strip between a wall and a fall is a terrace, whose water must cross it.
func (in *inspector) crest(i int) bool {
	p := &in.Slopes.Planes[i]
	if p.Width() > crestWidth*in.Surface.Spacing {
		return false
	}
	t := in.Surface.TIN
	border, fall := 0.0, 0.0  // fall: of the roof outside, outwards, times length
	var lower, nx, ny float64 // length of the border where the roof falls away, and the sum of its normals
	for _, f := range p.Facets {
		for c := range int32(3) {
			e := 3*f + c
			g := t.Twin[e]
			if g >= 0 && in.Slopes.Plane[g/3] == int32(i) {
				continue
			}
			a, b := t.V[e], t.V[surface.Next(e)]
			ux, uy := t.X[b]-t.X[a], t.Y[b]-t.Y[a] // the outward normal is (uy, -ux)
			border += vector.Norm(ux, uy)
			if g < 0 {
				continue
			}
			out := float64(t.DY[g/3]*ux) - float64(t.DX[g/3]*uy)
			fall += out
			if out > 0 {
				lower, nx, ny = lower+vector.Norm(ux, uy), nx+uy, ny-ux
			}
		}
	}
	return fall >= in.Criteria.MinSlope/2*border && vector.Norm(nx, ny) <= 0.5*lower
}

// underWater returns the share of a plane's area whose facets carry listed ponds.
func (in *inspector) underWater(p *slope.Plane) float64 {
	wet := 0.0
	for _, f := range p.Facets {
		if in.wet[f] >= 0 {
			wet += in.Surface.TIN.FacetArea(f)
		}
	}
	return wet / math.Max(p.Area, 1e-12)
}

// middle returns the middle of the facet of p that lies nearest to its centroid: a place on the plane.
func (in *inspector) middle(p *slope.Plane) orb.Point {
	t := in.Surface.TIN
	var sx, sy, sa float64
	centre := func(f int32) orb.Point {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		return orb.Point{(t.X[a] + t.X[b] + t.X[c]) / 3, (t.Y[a] + t.Y[b] + t.Y[c]) / 3}
	}
	for _, f := range p.Facets {
		a, q := in.Surface.TIN.FacetArea(f), centre(f)
		sx, sy, sa = sx+float64(a*q[0]), sy+float64(a*q[1]), sa+a
	}
	best, at := math.Inf(1), orb.Point{}
	for _, f := range p.Facets {
		q := centre(f)
		if d := vector.Norm(q[0]-sx/sa, q[1]-sy/sa); d < best {
			best, at = d, q
		}
	}
	return at
}

// largest returns the largest polygon of an outline, or at where there is none.
func largest(outline orb.MultiPolygon, at orb.Geometry) orb.Geometry {
	var best orb.Polygon
	most := -1.0
	for _, poly := range outline {
		if a := planar.Area(poly); a > most && len(poly) > 0 {
			best, most = poly, a
		}
	}
	if best == nil {
		return at
	}
	return best
}
