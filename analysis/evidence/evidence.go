// Package evidence says how wrong a survey would have to be for a pond not to exist.
//
// A triangulation through measured points takes each error for a shape. For a low place P of the surface z with
// standard errors s the evidence is
//
//	E(P) = least sum of ((h_i - z_i)/s_i)^2 over the surfaces h on the same points in which P lets its water go,
//
// a sum of squared standard errors and so twice the logarithm of a ratio of likelihoods. The water goes when, at some
// level, what lies lower in P is raised to it and a way out is lowered to it (price.go): along the cheapest vertices to
// ground whose own water goes elsewhere, over an open edge, or into an outlet whose inlet then has to be lower too. A
// spot d deep against a lone spot of its lip costs d^2/(2 s^2); many spots that agree cost as many times as much.
//
// The cheapest low place is cancelled first, its change is kept, its neighbours are priced anew with what they changed
// already counted from the measured elevations, until none is cheaper than the threshold (cancel.go): what is left is
// shown by the spots, and the surface that is left is the plainest that the survey allows. A low place whose price on the
// measured surface alone reaches the threshold is never cancelled.
//
// The threshold is the one that one drained roof in a hundred passes by error alone (threshold.go). Where errors are
// large against the fall from spot to spot, cells of several spots are judged beside the spots or instead (cell.go).
package evidence

import (
	"math"

	"runnel/analysis/atonce"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// Most is the greatest evidence that is told: twenty standard errors of a single spot. More is not searched for.
const Most = 400

// Input is one surface, its ponds, and how good its elevations are.
type Input struct {
	Surface *surface.Surface
	Ponds   *ponding.Ponds // of Surface.Cut
	Errors  *Errors        // of Surface; the typical one is also that of an outlet's invert
}

// Verdict is what the spots say of one pond.
type Verdict struct {
	Evidence float64 // squared standard errors, Most at most; 0 for water that no low place of the spots holds
	Shown    bool    // error alone makes such a pond on one drained roof in a hundred at most
}

// Result is the judgement of one surface.
type Result struct {
	Ponds     []Verdict // one for each pond of Input.Ponds
	Threshold float64   // of the finest scale judged, in squared standard errors
	Plain     []float64 // per vertex of Surface.TIN: elevation of the plainest surface that the survey allows [m]
	Change    float64   // root mean square of what Plain changed [m]
	Slope     float64   // typical fall of the surface, rise over run
	Cell      int       // side of the finest cells judged, in spots; 1: the spots themselves
}

// Judge prices every pond of a surface and returns which of them the spots show. A region without any way out keeps its
// water whatever the errors: its ponds are shown.
func Judge(in *Input) *Result {
	r := &Result{Ponds: make([]Verdict, len(in.Ponds.Ponds)), Slope: in.Errors.Slope}
	g := groundOf(in, r.Slope)
	for p := range in.Ponds.Ponds {
		if in.Ponds.Ponds[p].Undrained {
			r.Ponds[p] = Verdict{Most, true}
		}
	}
	scales := scalesOf(g, in, r.Slope)
	tried := make([]trial, len(scales))
	atonce.Each(len(scales), 1, func() func(from, to int) {
		return func(from, _ int) { tried[from] = tryScale(g, in, scales[from], scales[len(scales)-1]) }
	})
	for i, k := range scales {
		t := &tried[i]
		in.assign(r, t.canceller, t.part)
		if i == 0 {
			r.Threshold, r.Cell = t.most, k
		}
		if k == 1 || i == 0 {
			r.plain(in, t.canceller, g, t.part)
		}
	}
	return r
}

// trial is a ground in cells of one side, made as plain as the survey allows.
type trial struct {
	*canceller
	part []int32 // per element of the finest ground: its cell
}

// tryScale judges ground g in cells of k by k spots; the widest that are tried are of widest by widest.
func tryScale(g *ground, in *Input, k, widest int) trial {
	level, part := g, identity(len(g.z))
	if k > 1 {
		level, part = g.cells(in, k)
	}
	more := float64(sidesGrowth * math.Log(float64(widest)))
	least := Threshold(level.measured)
	c := newCanceller(level, least+more, atCurbs(level.curbs, least)+more)
	c.run()
	return trial{c, part}
}

// plain keeps the changes of the finest scale: of cells, each vertex moves as its cell does.
func (r *Result) plain(in *Input, c *canceller, g *ground, part []int32) {
	r.Plain = make([]float64, len(g.z))
	sum := 0.0
	for i, v := range g.vertex {
		p := part[i]
		d := c.at[p].h - c.z[p]
		r.Plain[v] = in.Surface.TIN.Z[v] + d
		sum += float64(d * d)
	}
	r.Change = math.Sqrt(sum / float64(max(1, len(g.z))))
}

// assign gives the ponds the verdicts of the low places that were left: each shows the greatest pond whose deepest point
// it covers, and those beside it in the same water that are a quarter as great.
func (in *Input) assign(r *Result, c *canceller, part []int32) {
	pits := map[int32][]int32{} // per element of the scale: ponds whose deepest point lies in it
	for p := range in.Ponds.Ponds {
		if v := in.Ponds.Ponds[p].Pits[0]; int(v) < len(c.number) {
			e := part[c.number[v]]
			pits[e] = append(pits[e], int32(p))
		}
	}
	for _, l := range c.left {
		most := 0.0
		for _, e := range l.region {
			for _, p := range pits[e] {
				most = math.Max(most, in.Ponds.Ponds[p].Volume)
			}
		}
		for _, e := range l.region {
			for _, p := range pits[e] {
				if v := &r.Ponds[p]; in.Ponds.Ponds[p].Volume >= most/4 && in.Ponds.Ponds[p].Depth > 0 {
					v.Shown, v.Evidence = true, math.Max(v.Evidence, l.price)
				}
			}
		}
	}
	for e, list := range pits {
		for _, p := range list {
			if v := &r.Ponds[p]; !v.Shown {
				v.Evidence = math.Max(v.Evidence, c.spentOn(e))
			}
		}
	}
}

func identity(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = int32(i)
	}
	return out
}
