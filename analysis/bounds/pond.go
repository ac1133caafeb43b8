package bounds

import (
	"math"
	"slices"

	"runnel/analysis/evidence"
)

// margin is how far beyond a pond's water its patch reaches, in spacings of the spots, and at least [m].
const (
	margin      = 2.5
	marginLeast = 1.5
)

// barely is how many times the threshold the evidence of a pond must be for it to be more than barely shown: below that a pond is
// found as often as not, and those that are found read too deep.
const barely = 2

// Barely reports whether the spots show pond i of a verdict barely, so that its figures stand as ranges.
func Barely(r *evidence.Result, i int32) bool { return r.Ponds[i].Evidence < barely*r.Threshold }

// pond makes replicates about one pond with so many vertices times replicates to spend.
func (m *model) pond(i int32, work int) Pond {
	pond := &m.Ponds.Ponds[i]
	out := Pond{Barely: Barely(m.Evidence, i)}
	if pond.Undrained || len(pond.Facets) == 0 {
		return Pond{}
	}
	p := m.around(pond.Facets, math.Max(marginLeast, margin*m.Surface.Spacing))
	p.base = make([]float64, len(p.vertex))
	var wet []int32
	for k, v := range p.vertex {
		p.base[k] = m.t.Z[v]
		if m.Evidence.Ponds[i].Shown {
			p.base[k] += m.shift[v]
		}
		if m.Ponds.Of[v] == i {
			wet = append(wet, int32(k))
		}
	}
	trials := min(mostTrials, max(leastTrials, work/len(p.vertex)))
	f := newStander(newReplica(m, p), wet)
	f.replicate(0)
	self := f.standing()
	e := m.diceAt(pond.Pits[0])
	series := [3][]float64{}
	for range trials / 2 {
		f.draw(e)
		for _, sign := range [2]float64{1, -1} {
			f.replicate(sign)
			w := f.standing()
			for k, x := range [3]float64{w.depth, w.area, w.volume} {
				series[k] = append(series[k], x)
			}
		}
	}
	out.Trials = len(series[0])
	out.Deep = over(series[0], self.depth, m.Deep)
	out.Listed = over(series[0], self.depth, m.Criteria.ListedFrom(pond.Area))
	out.Depth = rangeOf(series[0], self.depth, pond.Depth, false, math.Inf(1))
	f.replicate(0)
	most := f.dammed(out.Depth.High)
	out.Area = rangeOf(series[1], self.area, pond.Area, true, most.area)
	out.Volume = rangeOf(series[2], self.volume, pond.Volume, true, most.volume)
	return out
}

// rangeOf returns the bounds that replicates of a figure give: the wider of their percentiles and of the mirror images of these
// about the figure of the surface itself, which are no more than most; never without the measured figure, never below 0. It sorts replicates.
func rangeOf(replicates []float64, self, measured float64, ratio bool, most float64) Range {
	slices.Sort(replicates)
	low, high := quantile(replicates, 0.05), quantile(replicates, 0.95)
	if len(replicates) < fewTrials {
		mean, deviation := moments(replicates)
		low, high = mean-1.645*deviation, mean+1.645*deviation
	}
	r := Range{math.Min(low, mirror(high, self, ratio)), math.Max(high, math.Min(mirror(low, self, ratio), most))}
	return Range{math.Max(0, math.Min(r.Low, measured)), math.Max(r.High, measured)}
}

// mirror returns the image of a figure about another: as far on the other side, or as many times greater or less where ratio says
// that sizes scatter so, as areas and volumes do.
func mirror(x, about float64, ratio bool) float64 {
	if ratio && x > 0 {
		return about * about / x
	}
	return 2*about - x
}

// quantile returns the value below which a share of sorted values lies, linear between them.
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + float64((at-float64(i))*(sorted[i+1]-sorted[i]))
}

// moments returns mean and standard deviation.
func moments(values []float64) (mean, deviation float64) {
	for _, v := range values {
		mean += v
	}
	mean /= float64(len(values))
	sum := 0.0
	for _, v := range values {
		sum += float64((v - mean) * (v - mean))
	}
	return mean, math.Sqrt(sum / math.Max(1, float64(len(values)-1)))
}

// over returns the chance that a figure is at or over a limit: the mean of the shares of the replicates and of their mirror images.
func over(replicates []float64, self, limit float64) float64 {
	n := 0
	for _, x := range replicates {
		if x >= limit {
			n++
		}
		if 2*self-x >= limit {
			n++
		}
	}
	return float64(n) / float64(2*len(replicates))
}
