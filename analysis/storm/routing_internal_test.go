package storm

import (
	"math"
	"sort"
	"testing"

	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// tabulated is one basin whose storage is linear in the stage between the rows of a table, and goes on so above.
type tabulated struct{ stage, storage []float64 }

func linear(x, y []float64, at float64) float64 {
	i := max(1, min(len(x)-1, sort.SearchFloat64s(x, at)))
	return y[i-1] + (y[i]-y[i-1])*((at-x[i-1])/(x[i]-x[i-1]))
}

func (c tabulated) Volume(_ int32, level float64) float64 { return linear(c.stage, c.storage, level) }

func (c tabulated) Level(_ int32, volume float64) float64 { return linear(c.storage, c.stage, volume) }

func (c tabulated) Area(_ int32, level float64) float64 {
	i := max(1, min(len(c.stage)-1, sort.Search(len(c.stage), func(i int) bool { return c.stage[i] > level })))
	return (c.storage[i] - c.storage[i-1]) / (c.stage[i] - c.stage[i-1])
}

// basin is the engine on one tabulated basin with one outlet and an inflow, before the first step.
func basin(c tabulated, law Law, start float64, inflow Steps, step float64) *run {
	low, high := c.stage[0], c.stage[len(c.stage)-1]
	m := &Model{
		s:      &surface.Surface{Outlets: make([]surface.Outlet, 1)},
		tree:   []ponding.Node{{Parent: -1, Left: -1, Right: -1, Lip: -1, HeldBy: -1, Base: low, Level: high}},
		table:  c,
		mouths: []mouth{{law: law, node: 0, invert: low, crest: low, toNode: -1, toEdge: -1}},
		base:   []float64{0}, full: []float64{c.storage[len(c.storage)-1]},
		order: []int32{0}, rank: []int32{0}, z: []float64{low},
	}
	r := m.newRun(Storm{Step: step}, Case{}, []bool{false}, &catch{leaf: []float64{0}, outlet: []float64{0}})
	r.inflows = []entry{{flow: inflow, leaf: 0, outlet: -1}}
	r.stand(0, start)
	r.res.Before, r.res.Ended = start, inflow.end()
	return r
}

// follow returns the outlet's flow at the moments of the inflow, and the greatest level.
func (r *run) follow() (flow []float64, most float64) {
	times := r.inflows[0].flow.Time
	for i, t := range times {
		r.arriveAt(t)
		level := r.levelOf(0)
		flow, most = append(flow, r.flowAt(0, level, false)), math.Max(most, level)
		if i < len(times)-1 {
			r.begin(times[i+1])
			r.interval()
		}
	}
	return flow, most
}

// means are the mean inflows of the steps.
func means(dt float64, at []float64) Steps {
	s := Steps{Time: []float64{0}}
	for i := 1; i < len(at); i++ {
		s.Time, s.Rate = append(s.Time, float64(i)*dt), append(s.Rate, (at[i-1]+at[i])/2)
	}
	return s
}

// unit is that of storage and flow: hundredths of the sources' units, in which the recursion is the same.
const unit = 0.01

func scaled(list []float64) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = x * unit
	}
	return out
}

// TestPublishedRoutings: the engine with a step gives the tables of outflow that the sources print.
func TestPublishedRoutings(t *testing.T) {
	for _, p := range publishedRoutings {
		c := tabulated{p.stage, scaled(p.storage)}
		law := func(head float64) float64 { return linear(p.stage, scaled(p.outflow), p.stage[0]+head) }
		r := basin(c, law, p.start*unit, means(p.dt, scaled(p.inflow)), p.dt)
		flow, most := r.follow()
		if r.err != nil {
			t.Fatalf("%s: %v", p.name, r.err)
		}
		for i := 1; i < len(flow); i++ {
			got, off := flow[i]/unit, p.within
			if off <= 1e-6 {
				off *= p.want[i]
			}
			if !(math.Abs(got-p.want[i]) <= off) {
				t.Errorf("%s: step %d: %.12g, printed %.12g", p.name, i, got, p.want[i])
			}
		}
		if p.highest != 0 && !(math.Abs(most-p.highest) <= 0.005) {
			t.Errorf("%s: highest stage %.4f, want %g", p.name, most, p.highest)
		}
	}
}

// TestExactWayIsTheLimitOfSmallSteps: on the basin of routing A with its inflow as steps, the way without a step
// agrees with ever smaller steps, whose error falls with the square of the step.
func TestExactWayIsTheLimitOfSmallSteps(t *testing.T) {
	p := publishedRoutings[2]
	c := tabulated{p.stage, scaled(p.storage)}
	law := func(head float64) float64 { return linear(p.stage, scaled(p.outflow), p.stage[0]+head) }
	inflow := means(p.dt, scaled(p.inflow))
	exact, _ := basin(c, law, 0, inflow, 0).follow()
	last := math.Inf(1)
	for _, parts := range []float64{1, 4, 16, 64, 256} {
		flow, _ := basin(c, law, 0, inflow, p.dt/parts).follow()
		worst := 0.0
		for i := range flow {
			worst = math.Max(worst, math.Abs(flow[i]-exact[i]))
		}
		if worst > last/3 {
			t.Errorf("steps of %g s are %g off, those before %g", p.dt/parts, worst, last)
		}
		last = worst
	}
	if last > 1e-6*0.4 {
		t.Errorf("the smallest steps are still %g m3/s off", last)
	}
}
