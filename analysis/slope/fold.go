package slope

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

const (
	leastFold = 0.001 // change of slope that makes a fold of a breakline
	crease    = 0.005 // change of slope that makes a line where no breakline was shot: 1/16 in per ft
	leastRun  = 1.0   // [m] a shorter stretch of a line does not change what the line is
	smoothing = 2     // edges before and behind that give a zigzag its direction
)

// foldLinks returns the edges between two planes that fold, breaklines apart, keyed by the two planes.
func (l *liner) foldLinks() []link {
	t := l.t
	var links []link
	for e, w := range t.Twin {
		if w < int32(e) || t.Flag[e]&surface.BreaklineEdge != 0 {
			continue
		}
		if a, b := l.slopes.Plane[e/3], l.slopes.Plane[w/3]; a != b && l.folds(a, b, crease) {
			links = append(links, link{int64(min(a, b))<<32 | int64(max(a, b)), int32(e)})
		}
	}
	return links
}

// folds reports whether two planes differ in gradient by more than least and three standard errors.
func (l *liner) folds(a, b int32, least float64) bool {
	p, q := &l.slopes.Planes[a], &l.slopes.Planes[b]
	d := vector.Norm(p.Gradient[0]-q.Gradient[0], p.Gradient[1]-q.Gradient[1])
	return d > math.Max(least, 3*vector.Norm(p.Error(), q.Error()))
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
	if pa == pb || !l.folds(pa, pb, leastFold) {
		return crossed
	}
	if l.weak[e/3] && l.weak[l.t.Twin[e]/3] && l.t.Flag[e]&surface.BreaklineEdge == 0 {
		return crossed // neither facet lies on its plane: their edge says nothing of where the planes meet
	}
	nx, ny := l.leftward(chain, i)
	return l.meeting(pa, pb, nx, ny)
}

// meeting says what water does where plane pa on the left meets pb on the right; (nx, ny) is the unit
// vector to the left.
func (l *liner) meeting(pa, pb int32, nx, ny float64) class {
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

// leftward returns the unit vector to the left of a chain around its edge i. A breakline is taken as
// drawn; other chains zigzag from spot to spot, so the direction is that over a few edges.
func (l *liner) leftward(chain []int32, i int) (nx, ny float64) {
	reach := choose.If(l.t.Flag[chain[i]]&surface.BreaklineEdge != 0, 0, smoothing)
	ex, ey := l.span(chain, i, 0)
	for ; reach > 0; reach-- {
		dx, dy := l.span(chain, i, reach)
		if d := vector.Norm(dx, dy); float64(dx*ex)+float64(dy*ey) > d*vector.Norm(ex, ey)/2 {
			return -dy / d, dx / d
		}
	}
	d := vector.Norm(ex, ey)
	return -ey / d, ex / d
}

// span returns the plan vector over edge i of a chain and reach edges before and behind it.
func (l *liner) span(chain []int32, i, reach int) (dx, dy float64) {
	a := l.vertexAt(chain, max(0, i-reach))
	b := l.vertexAt(chain, min(len(chain), i+reach+1))
	return l.t.X[b] - l.t.X[a], l.t.Y[b] - l.t.Y[a]
}
