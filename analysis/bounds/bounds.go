// Package bounds says between what figures depth, area and volume of ponds, slopes of planes and catchments lie, given the errors of the
// survey: from the figure that is passed with 95 % confidence to the one that is not.
//
// The survey is made again many times in numbers: around the plainest surface that the survey allows (package evidence) every measured
// elevation gets an error of its own, of its own standard error, and every inlet level as well; water is filled in anew, near the pond alone.
// The percentiles of what comes out say how far figures scatter. They also lean: errors on top of a surface that is fitted to errors make hollows
// deeper, so the figure of a replicate lies on one side of the figure that it stands for. Each bound is therefore the wider of two: the percentile
// of the replicates, and its mirror image about the figure of the surface itself (the percentile and the basic interval of the bootstrap: Efron and
// Tibshirani, "An Introduction to the Bootstrap", chapter 13, from memory). Errors are added to the plainest surface, not to the measured one, which
// would count them twice.
//
// What is meant is the roof at the spots, with the survey's own triangles between them; what lies between spots is not covered. Slopes of planes need no
// trial: their errors are close to normal.
//
// The numbers are drawn from a generator that each pond seeds by its place, and turned into errors by sums of integers: the same input
// gives the same bounds on every machine.
package bounds

import (
	"math"

	"runnel/analysis/atonce"
	"runnel/analysis/evidence"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Range is the bounds of one figure in SI: Low is passed with 95 % confidence, High is not.
type Range struct{ Low, High float64 }

// Pond is how sure the figures of one pond are.
type Pond struct {
	Depth, Area, Volume Range   // [m], [m2], [m3]
	Deep                float64 // chance that it is deeper than the depth that is urgent, from 0 to 1
	Listed              float64 // chance that it is as deep as the criteria list
	Barely              bool    // the spots show it barely: it reads too deep rather than too shallow, so its range stands without a single figure
	Trials              int     // replicates made; 0: none were, and nothing else here is known
}

// Plane is how sure the slope of a plane is.
type Plane struct {
	Slope    Range
	BelowMin float64 // chance that it is flatter than the criterion, from 0 to 1
	Known    bool    // there is a standard error to go by
}

// Bounds is the answer for one surface.
type Bounds struct {
	Ponds      []Pond  // one for each of Input.Listed
	Planes     []Plane // one for each plane
	Catchments []Range // per outlet: area with ponds full [m2], from About; nil where the surface is too large to try

	replicas []Range   // per outlet: bounds of its area on the replicates [m2]
	self     []float64 // per outlet: its area on the surface itself, as the replicates have it [m2]
}

// From which width the range of an outlet's catchment leaves it open, as shares of the roof: an own choice.
const (
	openCatchment = 0.2
	openOfItself  = 0.05 // where it is wider than the figure itself
)

// OpenCatchment reports whether the errors leave open how much of a roof of so much area runs to outlet i, which has this figure with ponds full [m2]. Of bounds that
// nobody asked for it reports that they do not.
func (b *Bounds) OpenCatchment(i int, figure, roof float64) bool {
	if b == nil || b.Catchments == nil {
		return false
	}
	wide := b.Catchments[i].High - b.Catchments[i].Low
	return wide > openCatchment*roof || wide > openOfItself*roof && wide > figure
}

// Input is one surface and what is known of it.
type Input struct {
	Surface   *surface.Surface
	Slopes    *slope.Slopes
	Ponds     *ponding.Ponds
	Listed    []int32 // indices into Ponds.Ponds
	Errors    *evidence.Errors
	Evidence  *evidence.Result
	Criteria  standard.Criteria
	Deep      float64 // depth from which water is urgent [m]
	PondsOnly bool    // planes and catchments are left out
}

// How many replicates are made. A vertex costs about a quarter of a microsecond a replicate, so that the whole stays under a quarter of a second on
// a usual roof and under a second on the largest.
const (
	mostTrials  = 200
	fewTrials   = 40        // fewer tell no percentile: their standard deviation does
	leastTrials = 20        // whatever they cost
	pondWork    = 3_000_000 // vertices times replicates, all ponds together
	wholeWork   = 500_000   // the same for catchments, which need the whole surface
	mostWhole   = 25_000    // vertices of a surface for whose catchments replicates are made
	mostPonds   = 50        // the worst
)

// Of returns the bounds of a surface's figures.
func Of(in *Input) *Bounds {
	b := &Bounds{Ponds: make([]Pond, len(in.Listed)), Planes: make([]Plane, len(in.Slopes.Planes))}
	if !in.PondsOnly {
		b.Planes = in.planes()
	}
	m := newModel(in)
	n := min(mostPonds, len(in.Listed))
	ponds := func() {
		for i := range n {
			b.Ponds[i] = m.pond(in.Listed[i], pondWork/n)
		}
	}
	if in.PondsOnly {
		ponds()
		return b
	}
	whole := m.apart()
	atonce.Do(ponds, func() { b.replicas, b.self = whole.catchments() })
	return b
}

// About lays the scatter of catchments on their exact areas: areas has that of each outlet with ponds full, whole is that of the roof [m2]. It
// stands by itself so that replicates need not wait for the flow.
func (b *Bounds) About(areas []float64, whole float64) {
	if b.replicas == nil {
		return
	}
	b.Catchments = make([]Range, len(b.replicas))
	for o, r := range b.replicas {
		b.Catchments[o] = Range{math.Max(0, areas[o]+r.Low-b.self[o]), math.Min(whole, areas[o]+r.High-b.self[o])}
	}
}

// planes returns the bounds of slopes, which are close to normal, and never below level.
func (in *Input) planes() []Plane {
	out := make([]Plane, len(in.Slopes.Planes))
	for i := range out {
		p := &in.Slopes.Planes[i]
		e := p.Error()
		if !(e > 0) {
			continue
		}
		half := float64(standard.SureError * e)
		out[i] = Plane{
			Slope: Range{math.Max(0, p.Slope-half), p.Slope + half}, BelowMin: share((in.Criteria.MinSlope - p.Slope) / e), Known: true,
		}
	}
	return out
}
