package slope

import (
	"math"

	"runnel/analysis/surface"
)

const (
	leastFold = 0.001 // change of slope that makes a fold
	leastRun  = 1.0   // [m] a shorter stretch of a line does not change what the line is
	smoothing = 2     // edges before and behind that give a line its direction
)

// foldLinks returns the edges between two planes that fold, breaklines apart, keyed by the two planes.
func (l *liner) foldLinks() []link {
	t := l.t
	var links []link
	for e, w := range t.Twin {
		if w < int32(e) || t.Flag[e]&surface.BreaklineEdge != 0 {
			continue
		}
		a, b := l.slopes.Plane[e/3], l.slopes.Plane[w/3]
		if a != b && l.folds(a, b) {
			links = append(links, link{int64(min(a, b))<<32 | int64(max(a, b)), int32(e)})
		}
	}
	return links
}

// folds reports whether two planes differ in gradient by more than their errors.
func (l *liner) folds(a, b int32) bool {
	p, q := &l.slopes.Planes[a], &l.slopes.Planes[b]
	d := hypot(p.Gradient[0]-q.Gradient[0], p.Gradient[1]-q.Gradient[1])
	return d > math.Max(leastFold, 2*hypot(p.Error(), q.Error()))
}

// run is a stretch of a chain on which water does one thing.
type run struct {
	chain []int32
	class class
}

// runs parts a chain where water does another thing for a length that counts.
func (l *liner) runs(chain []int32) []run {
	kinds := make([]class, len(chain))
	for i := range chain {
		kinds[i] = l.classify(chain, i)
	}
	var out []run
	for i := 0; i < len(chain); {
		j, length := i, 0.0
		for j < len(chain) && kinds[j] == kinds[i] {
			length += l.length(chain[j])
			j++
		}
		n := len(out)
		switch {
		case n > 0 && (out[n-1].class == kinds[i] || length < leastRun):
			out[n-1].chain = chain[i-len(out[n-1].chain) : j]
		case n == 0 && length < leastRun && j < len(chain):
			kinds[j-1] = kinds[j]
			for k := i; k < j; k++ {
				kinds[k] = kinds[j]
			}
			continue
		default:
			out = append(out, run{chain[i:j], kinds[i]})
		}
		i = j
	}
	return out
}

// classify says what water does at edge i of a chain. The planes on both sides speak, not the facets,
// and the direction is that of the chain around the edge: one bad shot does not turn a valley off.
func (l *liner) classify(chain []int32, i int) class {
	e := chain[i]
	pa, pb := l.slopes.Plane[e/3], l.slopes.Plane[l.t.Twin[e]/3]
	if pa == pb || !l.folds(pa, pb) {
		return crossed
	}
	nx, ny := l.leftward(chain, i)
	a, b := &l.slopes.Planes[pa], &l.slopes.Planes[pb]
	// uphill away from the line, on its left and on its right: water runs to the line from that side
	left := float64(a.Gradient[0]*nx) + float64(a.Gradient[1]*ny)
	right := -float64(b.Gradient[0]*nx) - float64(b.Gradient[1]*ny)
	ea, eb := math.Max(leastFold/2, 2*a.Error()), math.Max(leastFold/2, 2*b.Error())
	switch {
	case left > -ea && right > -eb && left+right > leastFold && (left > ea || right > eb):
		return gathers
	case left < ea && right < eb && left+right < -leastFold && (left < -ea || right < -eb):
		return parts
	}
	return crossed
}

// leftward returns the unit vector to the left of a chain around its edge i.
func (l *liner) leftward(chain []int32, i int) (nx, ny float64) {
	t := l.t
	reach := smoothing
	for ; reach >= 0; reach-- {
		a := t.V[chain[max(0, i-reach)]]
		b := t.V[t.Twin[chain[min(len(chain)-1, i+reach)]]]
		dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		if d := hypot(dx, dy); d > 0 {
			return -dy / d, dx / d
		}
	}
	return 0, 0
}
