// Package blunder finds measured points whose elevation does not fit the points round them, and inlets that do not fit the roof at them; names the slip that
// would explain the number.
//
// Every point is predicted from its neighbours without itself: a plane is fitted to the dozen that are nearest on its own side
// of the coded breaklines, curbs and edges, one or two of which may be thrown out where they spoil the fit. A point on a
// breakline has two sides, and the line itself; it is odd only where every one of them says so, in one direction, and it is
// judged by the mildest. The measure is the residual over its standard error, in which the misfit of the neighbours to their own
// plane stands beside the survey's error: where the roof is bent, much is allowed.
//
// The worst is taken first, and its neighbours are judged anew without it, so that one wrong rod reading does not accuse
// those beside it. Nothing is removed: the surface stays as measured, and the user drops a point or says that it is meant.
// A point that falls outside the roof is looked at as well, for a northing and an easting that changed places.
package blunder

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Odd is one measured point that does not fit.
type Odd struct {
	Vertex   int32     // of the uncut TIN; -1 for a spot outside the roof and for an inlet
	Spot     int32     // index into roof.Spots; -1 for an inlet, and for a point of a line or a ring without a spot
	Inlet    bool      // it is the level of an inlet
	Outlet   int32     // of that inlet: index into surface.Outlets
	Plan     orb.Point // local frame
	Z        float64   // elevation as booked [m]
	Expected float64   // what the neighbours say, or the roof at an inlet [m]; where the spot should have been, for one outside the roof
	Error    float64   // standard error of Z less Expected [m]
	Score    float64   // size of that difference over its error; 0 for a spot outside the roof
	Slips    []Slip    // what would explain it, the likeliest first; may be empty
}

// Off returns by how much the point stands above what its neighbours say [m], negative below.
func (o *Odd) Off() float64 { return o.Z - o.Expected }

// Limits of judgement. Chosen on invented roofs with and without planted blunders, seeds 1 to 400; reported on others.
const (
	threshold  = 5.0   // standard errors
	gross      = 0.075 // [m]: from here on fewer standard errors will do, since no roof is built so
	thresholdG = 4.5
	least      = 0.0225 // [m]: what is less hides in the unevenness of a roof
	levelling  = 0.0015
	nearest    = 7  // neighbours a plane is fitted to, first
	wanted     = 12 // and then
	beside     = 4  // neighbours that may keep a point company
	fewest     = 5  // with fewer a side has no say
	farthest   = 12 // variance of the prediction over that of one point: no plane is followed farther out
	listedMost = 20
)

// Find returns the points that do not fit, worst first, at most twenty, and how many there are in all. noise is the scatter of the
// elevations where the input states none [m], 0 when unknown. Spots and outlets in r.Kept are taken to be meant.
func Find(r *roof.Roof, s *surface.Surface, noise float64) (worst []Odd, all int) {
	f := newFinder(r, s, noise)
	found := append(f.inlets(), f.worstFirst()...)
	found = append(found, f.outside()...)
	all = len(found)
	return found[:min(all, listedMost)], all
}

// finder holds what judging one surface needs.
type finder struct {
	r       *roof.Roof
	s       *surface.Surface
	t       *surface.TIN
	noise   float64
	kept    map[string]bool
	ring    map[[2]int32]bool // places of lines and rings with a measured elevation
	at      []orb.Point       // of the outlets' footprints: see sump
	reach   []float64
	edges   bool   // a survey round the edge: see roundEdges
	without []bool // per vertex: found odd, not to be used any more
	hood    neighbourhood
	x, y, z []float64 // of the neighbours at hand, from the vertex that is judged [m]
	off     []float64
	ends    []int32 // next vertices along the lines through the vertex that is judged
	locator *surface.Locator
}

func newFinder(r *roof.Roof, s *surface.Surface, noise float64) *finder {
	f := &finder{r: r, s: s, t: s.TIN, noise: math.Max(levelling, math.Min(noise, math.Max(0.0025, 0.7*noise))), kept: map[string]bool{}, ring: map[[2]int32]bool{}}
	for _, id := range r.Kept {
		f.kept[id] = true
	}
	f.without = make([]bool, len(f.t.X))
	f.hood = newNeighbourhood(f.t)
	lines := [][]roof.Position{}
	lines = append(lines, r.Outline.Rings...)
	for i := range r.Edges {
		lines = append(lines, r.Edges[i].Line)
	}
	for i := range r.Breaklines {
		lines = append(lines, r.Breaklines[i].Line)
	}
	for i := range r.Curbs {
		lines = append(lines, r.Curbs[i].Ring)
	}
	for _, line := range lines {
		for _, p := range line {
			if p.HasZ {
				f.ring[[2]int32{onGrid(p.Plan[0]), onGrid(p.Plan[1])}] = true
			}
		}
	}
	f.sumps()
	f.edges = f.roundEdges()
	return f
}

// onGrid returns v metres in units of the surface's grid.
func onGrid(v float64) int32 { return int32(math.Round(v / surface.Grid)) }

// measured reports whether vertex v has an elevation that somebody took there and did not call meant.
func (f *finder) measured(v int32) bool {
	t := f.t
	if t.Assumed[v] || t.Out[v] < 0 {
		return false
	}
	if i := t.Spot[v]; i >= 0 {
		return !f.kept[f.r.Spots[i].ID]
	}
	return f.ring[[2]int32{t.GX[v], t.GY[v]}]
}

// sumpRoom is how far round a footprint the roof is let down to an outlet, and sumpDeep by how much [m]. On a survey round the
// edge the planes may fall to it from the nearest point that is not of its sump as well.
const (
	sumpRoom = 0.6
	sumpDeep = 0.15
)

// sumps notes where the roof is let down to outlets.
func (f *finder) sumps() {
	t := f.s.Cut
	for i := range f.s.Outlets {
		o := &f.s.Outlets[i]
		if o.Line != nil {
			continue
		}
		far := 0.0
		for _, v := range o.Vertices {
			far = math.Max(far, vector.Norm(t.X[v]-o.Plan[0], t.Y[v]-o.Plan[1]))
		}
		f.at, f.reach = append(f.at, o.Plan), append(f.reach, far+sumpRoom)
	}
}

// sump reports whether a point so much off its neighbours [m] is the low place of an outlet.
func (f *finder) sump(v int32, off float64) bool {
	if off > 0 {
		return false
	}
	i := f.atOutlet(v)
	return i >= 0 && (-off <= sumpDeep || f.edges && -off <= sumpDeep+float64(SteepFall*f.nearestTo(f.at[i], f.reach[i])))
}

// atOutlet returns the first footprint within reach of which vertex v stands, or -1.
func (f *finder) atOutlet(v int32) int {
	for i, p := range f.at {
		if vector.Norm(f.t.X[v]-p[0], f.t.Y[v]-p[1]) <= f.reach[i] {
			return i
		}
	}
	return -1
}

// worstFirst returns the odd vertices, each judged without those found before it.
func (f *finder) worstFirst() []Odd {
	var candidates []Odd
	for v := range int32(len(f.t.X)) {
		f.t.Halt.Look()
		if !f.measured(v) || f.plain(v) {
			continue
		}
		if o, ok := f.judge(v); ok {
			candidates = append(candidates, o)
		}
	}
	slices.SortFunc(candidates, f.byScore)
	var out []Odd
	for i := range candidates {
		f.t.Halt.Look()
		if o, ok := f.judge(candidates[i].Vertex); ok {
			o.Slips = f.slips(&o)
			f.without[o.Vertex] = true
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, f.byScore)
	return out
}

// byScore orders odd points: the worst first, of equals the first in the pose of the roof.
func (f *finder) byScore(a, b Odd) int {
	return cmp.Or(cmp.Compare(b.Score, a.Score), f.t.Pose.Before(a.Plan, b.Plan))
}

// judge compares vertex v with every side's prediction; ok is false where one of them is content with it, or none has a say.
func (f *finder) judge(v int32) (o Odd, ok bool) {
	mildest := math.Inf(1)
	sign := 0.0
	for p := range f.predictions(v) {
		off := f.t.Z[v] - p.z
		score, enough := math.Abs(off)/p.sigma, threshold
		if math.Abs(off) >= gross {
			enough = thresholdG
		}
		if math.Abs(off) < least || score < enough || p.company || off*sign < 0 {
			return o, false
		}
		sign = off
		if math.Abs(off) < mildest {
			mildest = math.Abs(off)
			o = Odd{Vertex: v, Spot: f.t.Spot[v], Plan: orb.Point{f.t.X[v], f.t.Y[v]}, Z: f.t.Z[v], Expected: p.z, Error: p.sigma, Score: score}
		}
	}
	return o, !math.IsInf(mildest, 1) && !f.sump(v, o.Off()) && !f.corner(v, o.Off()) && !f.rim(v, o.Off()) && !f.crown(v, o.Off())
}

// plain reports whether v plainly fits the ring of its neighbours, so that no closer look is needed. A vertex on a line is never plain.
func (f *finder) plain(v int32) bool {
	t := f.t
	if t.Border(v) {
		return false
	}
	var m regression.Sums
	for e := range t.Star(v) {
		if t.Flag[e]&surface.BreaklineEdge != 0 {
			return false
		}
		w := t.End(e)
		m.Weigh(1, t.X[w]-t.X[v], t.Y[w]-t.Y[v], t.Z[w]-t.Z[v])
	}
	p, ok := m.Plane(thin)
	return ok && math.Abs(p.At(0, 0)) < math.Max(least/3, 2.5*f.noise)
}

// sigma returns the standard error of a vertex's elevation [m].
func (f *finder) sigma(v int32) float64 {
	if s := f.t.Sigma[v]; s > 0 {
		return math.Max(s, levelling)
	}
	return f.noise
}
