package flow

import (
	"math"

	"runnel/analysis/surface"
)

// How finely travel is followed along a side where water comes to a taker: a stretch is halved while its middle is more
// than landingError off the straight line between its ends, or it is longer than landingStride [m].
const (
	landingError  = 0.001
	landingStride = 2.0
	landingLeast  = 0.01
)

// land gives the sides and vertices where water comes to a facet that is taken the travel from there on.
func (v *solver) land(onward Onward) {
	if onward == nil || !v.travel || v.options.Taken == nil {
		return
	}
	for e, k := range v.kind {
		if k == taken && v.sideTaken(int32(e)) {
			v.landSide(int32(e), onward)
		}
	}
	for i, way := range v.way {
		if i := int32(i); way == waySink && v.options.Shore[i] < 0 && v.besideTaken(i) {
			v.dist[i] = onward(v.vertex[i], Landing{Side: -1, Vertex: i, Point: v.point(i)})
		}
	}
}

// sideTaken reports whether the facet beyond side e is taken as a whole, not as part of an outlet's footprint.
func (v *solver) sideTaken(e int32) bool {
	twin := v.t.Twin[e]
	return twin >= 0 && v.options.Taken[twin/3] >= 0
}

// besideTaken reports whether a facet at vertex i is taken as a whole by what takes the vertex.
func (v *solver) besideTaken(i int32) bool {
	for x := v.around(i); x.next(); {
		if f := x.edge / 3; !x.incoming && v.options.Taken[f] >= 0 && v.options.Taken[f] == v.sinks.vertex[i] {
			return true
		}
	}
	return false
}

// landSide makes the list of side e: the travel from each place of it on.
func (v *solver) landSide(e int32, onward Onward) {
	label := v.taker(e)
	at := func(w float64) float64 { return onward(label, Landing{Side: e, Vertex: -1, Point: v.on(e, w)}) }
	v.buf = v.buf[:0]
	v.landStretch(label, 0, 1, at(0), at(1), v.length(v.t.V[e], v.t.V[surface.Next(e)]), at)
	v.lists.store(e, v.buf)
}

func (v *solver) landStretch(label Label, w0, w1, d0, d1, l float64, at func(float64) float64) {
	w := (w0 + w1) / 2
	d := at(w)
	if run := float64(l * (w1 - w0)); run > landingLeast && (run > landingStride || math.Abs(d-(d0+d1)/2) > landingError) {
		v.landStretch(label, w0, w, d0, d, l, at)
		v.landStretch(label, w, w1, d, d1, l, at)
		return
	}
	v.buf = append(v.buf, interval{end: w1, d0: d0, d1: d1, err: landingError, label: label})
}
