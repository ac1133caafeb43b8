package storm

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
)

// After is how long a run goes on after rain and inflow unless the storm says otherwise [s].
const After = 48 * 3600

// route routes a storm in one case. An error about the storm or the case says what is wrong with it; a
// *fault.Error is an invariant that broke.
func (m *Model) route(s Storm, c Case) (*Result, error) {
	blocked, err := m.check(&s, &c)
	if err != nil {
		return nil, err
	}
	ca, err := m.catchOf(blocked)
	if err != nil {
		return nil, err
	}
	r := m.newRun(s, c, blocked, ca)
	if err := r.place(); err != nil {
		return nil, err
	}
	r.res.Before, r.res.Ended = r.held(), s.ends()
	times := r.times()
	for i := range len(times) - 1 {
		r.arriveAt(times[i])
		r.begin(times[i+1])
		r.interval()
		if r.err != nil {
			return nil, r.err
		}
	}
	r.arriveAt(times[len(times)-1])
	r.finish()
	if !(r.res.MassError <= 1e-9) {
		return nil, fault.New("storm", "water does not add up: %g of it is missing", r.res.MassError)
	}
	return r.res, nil
}

// check refuses what cannot be routed.
func (m *Model) check(s *Storm, c *Case) ([]bool, error) {
	blocked := make([]bool, len(m.mouths))
	if c.Blocked != nil {
		if len(c.Blocked) != len(blocked) {
			return nil, fmt.Errorf("storm: %d outlets are said to be blocked or not, the roof has %d", len(c.Blocked), len(blocked))
		}
		copy(blocked, c.Blocked)
	}
	for i, b := range blocked {
		if b && m.s.Outlets[i].Type == roof.EdgeOutlet {
			return nil, fmt.Errorf("storm: %s is an edge: it cannot be blocked, water goes over it", m.s.Outlets[i].Label)
		}
	}
	most := float64(s.Rain.most() * m.s.Area)
	if err := s.Rain.check(); err != nil {
		return nil, err
	}
	for i := range s.Inflows {
		if err := s.Inflows[i].Flow.check(); err != nil {
			return nil, err
		}
		most += s.Inflows[i].Flow.most()
	}
	if !(most < mostFlow) {
		return nil, fmt.Errorf("storm: %g m3/s comes onto the roof at once", most)
	}
	if !(s.Evaporation >= 0) || math.IsInf(s.Evaporation, 1) || !(s.After >= 0) {
		return nil, fmt.Errorf("storm: evaporation %g m/s, time after the rain %g s", s.Evaporation, s.After)
	}
	if s.After == 0 {
		s.After = After
	}
	return blocked, nil
}

// check refuses steps that are not steps in time.
func (s Steps) check() error {
	if len(s.Time) != len(s.Rate)+1 && len(s.Time)+len(s.Rate) > 0 {
		return fmt.Errorf("storm: %d rates between %d moments", len(s.Rate), len(s.Time))
	}
	for i, t := range s.Time {
		if !(t >= 0) || math.IsInf(t, 1) || i > 0 && t <= s.Time[i-1] {
			return fmt.Errorf("storm: moment %d is %g s", i+1, t)
		}
	}
	for i, q := range s.Rate {
		if !(q >= 0) || math.IsInf(q, 1) {
			return fmt.Errorf("storm: rate %d is %g", i+1, q)
		}
	}
	return nil
}

// most returns the greatest rate.
func (s Steps) most() float64 {
	if len(s.Rate) == 0 {
		return 0
	}
	return slices.Max(s.Rate)
}

// at returns the rate from a time on.
func (s Steps) at(t float64) float64 {
	i, found := slices.BinarySearch(s.Time, t)
	if !found {
		i--
	}
	if i < 0 || i >= len(s.Rate) {
		return 0
	}
	return s.Rate[i]
}

// end returns when the last rate above zero ends.
func (s Steps) end() float64 {
	for i := len(s.Rate) - 1; i >= 0; i-- {
		if s.Rate[i] > 0 {
			return s.Time[i+1]
		}
	}
	return 0
}

func (s *Storm) ends() float64 {
	end := s.Rain.end()
	for i := range s.Inflows {
		end = max(end, s.Inflows[i].Flow.end())
	}
	return end
}

// times returns the moments at which something changes from outside, from 0 to the end.
func (r *run) times() []float64 {
	end := r.res.Ended + r.storm.After
	list := append([]float64{0, r.res.Ended, end}, r.storm.Rain.Time...)
	for i := range r.inflows {
		list = append(list, r.inflows[i].flow.Time...)
	}
	list = append(list, r.c.Moments...)
	slices.Sort(list)
	list = slices.Compact(list)
	return slices.DeleteFunc(list, func(t float64) bool { return t < 0 || t > end })
}

// place finds where the inflows run to.
func (r *run) place() error {
	for _, x := range r.storm.Inflows {
		label, _ := r.catch.net.At(x.X, x.Y)
		if label < 0 {
			return fmt.Errorf("storm: the inflow at %.2f, %.2f is off the roof", x.X, x.Y)
		}
		leaf, outlet, err := r.endOf(r.catch, r.catch.net.Ends[label])
		if err != nil {
			return err
		}
		r.inflows = append(r.inflows, entry{x.Flow, leaf, outlet})
	}
	return nil
}

// arriveAt brings all waters to a time from outside, and looks at them if that was asked for.
func (r *run) arriveAt(t float64) {
	r.now = t
	for k := range r.tree {
		if r.status[k] == standing {
			r.commit(int32(k), t)
		}
	}
	if t == r.res.Ended {
		r.res.HeldAtEnd = r.held()
	}
	if slices.Contains(r.c.Moments, t) {
		r.res.Levels = append(r.res.Levels, r.snapshot())
	}
}

// begin sets what comes and goes from now until a time.
func (r *run) begin(until float64) {
	r.horizon = until
	rain, dt := r.storm.Rain.at(r.now), until-r.now
	r.air = 0
	if rain == 0 {
		r.air = r.storm.Evaporation
	}
	r.res.Fallen += float64(rain*r.s.Area) * dt
	ext := make([]int64, len(r.tree))
	outlet := make([]int64, len(r.mouths))
	r.slack += quantum / 2 * float64(len(ext)+len(outlet)+len(r.inflows)) * dt
	for k, area := range r.catch.leaf {
		if area > 0 {
			ext[k] = quanta(rain * area)
		}
	}
	for o, area := range r.catch.outlet {
		outlet[o] = quanta(rain * area)
	}
	for _, x := range r.inflows {
		q := x.flow.at(r.now)
		r.res.Let += q * dt
		if x.outlet >= 0 {
			outlet[x.outlet] += quanta(q)
		} else {
			ext[x.leaf] += quanta(q)
		}
	}
	r.catchOnSlopes(ext, outlet)
	for o, q := range outlet {
		if r.s.Outlets[o].Type == roof.EdgeOutlet {
			r.edgeRain(int32(o), q)
		}
	}
	for k := range r.tree {
		if n := &r.tree[k]; n.Left >= 0 {
			ext[k] = ext[n.Left] + ext[n.Right]
		}
		r.in[k] += ext[k] - r.ext[k]
	}
	r.ext = ext
	r.sweep()
	for i := range r.mouths {
		if r.mouths[i].slope && !r.blocked[i] {
			r.sampleNow(int32(i))
		}
	}
}

// catchOnSlopes lets outlets on slopes catch what runs into them, and passes the rest on.
func (r *run) catchOnSlopes(ext, outlet []int64) {
	for i := range r.mouths {
		x, o := &r.mouths[i], int32(i)
		if !x.slope || r.blocked[i] {
			continue
		}
		r.book(o)
		r.sampleNow(o)
		r.caught[o] = min(outlet[o], quanta(x.most))
		r.passing[o] = outlet[o] - r.caught[o]
		if x.toEdge >= 0 {
			outlet[x.toEdge] += r.passing[o]
		} else {
			ext[x.toNode] += r.passing[o]
		}
		r.records[i].caught = max(r.records[i].caught, r.caught[o])
	}
}

// edgeRain sets what reaches an edge without having stood.
func (r *run) edgeRain(o int32, q int64) {
	r.setEdge(o, q-r.direct[o])
	r.direct[o] = q
}

// interval works through the events until the horizon.
func (r *run) interval() {
	limit := 10000 * (len(r.tree) + 100)
	for count := 0; len(r.events) > 0 && r.err == nil; count++ {
		r.look()
		if count > limit {
			r.err = fault.New("storm", "events do not end at %g s", r.now)
			return
		}
		t, k := r.events.Pop()
		if t != r.due[k] {
			continue // forgotten since
		}
		r.due[k] = math.NaN()
		r.now = max(r.now, t)
		r.arrive(k)
		r.touch(k)
		r.settle()
	}
}

// schedule sets the time of a water's next event; what lies at the horizon or beyond is looked at there.
func (r *run) schedule(k int32, t float64) {
	if t < r.horizon {
		r.due[k] = t
		r.events.Push(t, k)
	}
}
