package storm

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/atonce"
	"runnel/analysis/choose"
	"runnel/analysis/fault"
	"runnel/analysis/queue"
)

// quantum is the unit in which flows between low places are counted [m3/s], so that their sums are exact and
// do not depend on the order in which they change.
const quantum = 1e-17

// mostFlow is the largest flow that fits [m3/s]; no roof has it.
const mostFlow = 80

func quanta(flow float64) int64 { return int64(math.Round(min(flow, mostFlow) / quantum)) }

// status of a node of the tree: the waters of a moment are the nodes that stand.
type status uint8

const (
	dormant  status = iota // its parts are apart
	standing               // a water of its own
	absorbed               // part of a larger water
)

// mode is how a water changes between events.
type mode uint8

const (
	held    mode = iota // its level stays
	filling             // it gains its whole inflow
	moving              // it follows its path
)

// run is one case of one storm under way. Slices are per node unless they say otherwise.
type run struct {
	*Model
	storm   Storm
	c       Case
	blocked []bool // per outlet
	catch   *catch
	inflows []entry

	now     float64
	horizon float64 // the next time at which rain or inflow changes
	air     float64 // evaporation now [m/s]

	status  []status
	mode    []mode
	volume  []float64 // at time at [m3]
	level   []float64 // at time at; not kept while filling
	goal    []float64 // level that a filling water fills to
	at      []float64
	in      []int64   // of standing waters: inflow in quanta
	out     []int64   // of standing waters: what goes over the lip
	ext     []int64   // rain and inflow on the node and its parts
	spilled []int64   // per pit's node: what others spill there
	jump    []int32   // towards the water that a node is part of
	takers  [][]int32 // outlets that work in the node and its parts
	path    []*path   // of moving waters
	due     []float64 // time of a water's next event [s], NaN none
	most    []float64 // greatest volume so far, and when
	when    []float64

	dirty    queue.Queue // by rank
	isDirty  []bool
	sweeping int32       // rank that a sweep over all waters is at, -1 none
	events   queue.Queue // waters by the time at which one was due

	caught  []int64   // per outlet: flow that it catches
	passing []int64   // per outlet: flow that passes over it
	rate    []float64 // per outlet: flow that it takes from standing water, while that is held
	edge    []int64   // per outlet: flow over an edge
	direct  []int64   // per outlet: what of it has not stood
	booked  []float64 // per outlet: time up to which its catch or edge is booked
	records []record
	watched []bool  // a watched vertex lies in it
	slack   float64 // what the rounding of flows to Quantum may have lost or added so far [m3]
	res     *Result
	err     error
}

// entry is an inflow and where it comes in.
type entry struct {
	flow         Steps
	leaf, outlet int32
}

// curves are the stage-volume curves of the nodes, as ponding.Table has them.
type curves interface {
	Area(node int32, level float64) float64
	Volume(node int32, level float64) float64
	Level(node int32, volume float64) float64
}

func (m *Model) newRun(s Storm, c Case, blocked []bool, ca *catch) *run {
	n, o := len(m.tree), len(m.mouths)
	r := &run{
		Model: m, storm: s, c: c, blocked: blocked, catch: ca, sweeping: -1,
		status: make([]status, n), mode: make([]mode, n), volume: make([]float64, n), level: make([]float64, n), goal: make([]float64, n),
		at: make([]float64, n), in: make([]int64, n), out: make([]int64, n), ext: make([]int64, n),
		spilled: make([]int64, n), jump: make([]int32, n), takers: make([][]int32, n), path: make([]*path, n),
		due: slices.Repeat([]float64{math.NaN()}, n), most: make([]float64, n), when: make([]float64, n),
		isDirty: make([]bool, n), caught: make([]int64, o), passing: make([]int64, o), rate: make([]float64, o), edge: make([]int64, o), direct: make([]int64, o),
		booked: make([]float64, o), records: make([]record, o), watched: make([]bool, n),
		res: &Result{Name: c.Name, Outlets: make([]Outlet, o), Watched: make([][]Moment, len(c.Watch))},
	}
	r.listTakers()
	for _, v := range c.Watch {
		for k := m.bare.NodeOf(v); k >= 0; k = m.tree[k].Parent {
			r.watched[k] = true
		}
	}
	for k := range m.tree {
		r.jump[k] = int32(k)
		if m.tree[k].Left < 0 {
			r.stand(int32(k), 0)
		}
	}
	if c.Wet {
		r.wet()
	}
	return r
}

// listTakers gives every node the outlets that work in it and in its parts.
func (r *run) listTakers() {
	for i := range r.mouths {
		o := &r.res.Outlets[i]
		*o = Outlet{Start: -1, Stop: -1, Blocked: r.blocked[i]}
		if k := r.mouths[i].node; k >= 0 && !r.blocked[i] {
			r.takers[k] = append(r.takers[k], int32(i))
		}
	}
	for k := range r.tree {
		n := &r.tree[k]
		if n.Left < 0 {
			continue
		}
		for _, part := range [2]int32{n.Left, n.Right} {
			switch {
			case len(r.takers[part]) == 0:
			case len(r.takers[k]) == 0:
				r.takers[k] = r.takers[part]
			default:
				r.takers[k] = append(append([]int32{}, r.takers[k]...), r.takers[part]...)
			}
		}
	}
}

// stand makes a node a water of a volume.
func (r *run) stand(k int32, volume float64) {
	r.status[k], r.mode[k], r.volume[k], r.at[k] = standing, held, volume, r.now
	r.level[k] = r.table.Level(k, volume)
	r.in[k], r.out[k] = 0, 0
	r.note(k)
}

// note keeps the greatest volume.
func (r *run) note(k int32) {
	if r.volume[k] > r.most[k] {
		r.most[k], r.when[k] = r.volume[k], r.at[k]
	}
}

// water returns the water that node k is part of; k's own part must have been reached.
func (r *run) water(k int32) int32 {
	x := r.jump[k]
	switch r.status[x] {
	case standing:
		return x
	case dormant:
		x = k
	case absorbed:
	}
	for r.status[x] != standing {
		x = r.tree[x].Parent
	}
	r.jump[k] = x
	return x
}

// touch brings a water to the present before something about it changes, and has it looked at.
func (r *run) touch(k int32) {
	r.commit(k, r.now)
	if r.isDirty[k] || r.sweeping >= 0 && r.rank[k] > r.sweeping {
		return
	}
	r.isDirty[k] = true
	r.dirty.Push(float64(r.rank[k]), k)
}

// setSpill changes what goes over the lip of water k.
func (r *run) setSpill(k int32, spill int64) {
	change := spill - r.out[k]
	if change == 0 {
		return
	}
	r.out[k] = spill
	pit, outlet := r.spills.Of(k)
	if outlet >= 0 {
		r.setEdge(r.edges[outlet], change)
		return
	}
	to := r.water(pit)
	r.touch(to)
	r.spilled[pit] += change
	r.in[to] += change
}

// setEdge changes the flow over an edge.
func (r *run) setEdge(o int32, change int64) {
	r.book(o)
	r.sample(o, r.now, float64(r.edge[o])*quantum, 0)
	r.edge[o] += change
	q := float64(r.edge[o]) * quantum
	r.sample(o, r.now, q, 0)
	r.turn(o, r.now, q > trickle)
}

// book books what an outlet caught, or what went over an edge, up to now.
func (r *run) book(o int32) {
	if dt := r.now - r.booked[o]; dt > 0 {
		r.res.Outlets[o].Volume += float64(r.edge[o]+r.caught[o]) * quantum * dt
		r.res.Outlets[o].Passed += float64(r.passing[o]) * quantum * dt
	}
	r.booked[o] = r.now
}

// merge makes one water of two that stand at their common lip.
func (r *run) merge(a, b int32) {
	r.commit(a, r.now)
	r.commit(b, r.now)
	r.setSpill(a, 0)
	r.setSpill(b, 0)
	p := r.tree[a].Parent
	in := r.in[a] + r.in[b]
	r.status[a], r.status[b] = absorbed, absorbed
	r.drop(a)
	r.drop(b)
	r.stand(p, r.base[p])
	r.level[p] = r.tree[p].Base
	r.in[p] = in
	r.touch(p)
}

// drop forgets the next event of a water.
func (r *run) drop(k int32) {
	r.due[k] = math.NaN()
	if r.path[k] != nil {
		r.path[k].panels = r.path[k].panels[:0]
	}
}

// part makes two waters of one that has fallen to the saddle between them.
func (r *run) part(p int32) {
	a, b := r.tree[p].Left, r.tree[p].Right
	r.setSpill(p, 0)
	r.status[p] = dormant
	r.drop(p)
	small := choose.If(r.spills.Size(b) < r.spills.Size(a), b, a)
	in := r.inflow(small)
	for _, k := range [2]int32{a, b} {
		r.stand(k, r.full[k])
		r.level[k] = r.tree[k].Level
		r.in[k] = in
		if k != small {
			r.in[k] = r.in[p] - in
		}
		r.touch(k)
	}
}

// inflow adds up what comes into a node and its parts.
func (r *run) inflow(k int32) int64 {
	sum := r.ext[k]
	stack := []int32{k}
	for len(stack) > 0 {
		x := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		sum += r.spilled[x]
		if n := &r.tree[x]; n.Left >= 0 {
			stack = append(stack, n.Left, n.Right)
		}
	}
	return sum
}

// settle looks at all waters that something has changed for, those with the highest lips first.
func (r *run) settle() {
	for steps := 0; len(r.dirty) > 0 && r.err == nil; steps++ {
		r.look()
		if steps > 1000*(len(r.tree)+10) {
			r.err = fault.New("storm", "waters do not settle at %g s", r.now)
			return
		}
		_, k := r.dirty.Pop()
		r.isDirty[k] = false
		if r.status[k] == standing {
			r.resolve(k)
		}
	}
}

// sweep looks at all waters.
func (r *run) sweep() {
	for i, k := range r.order {
		r.sweeping = int32(i)
		if r.status[k] == standing {
			r.commit(k, r.now)
			r.isDirty[k] = false
			r.resolve(k)
		}
	}
	r.sweeping = -1
	r.settle()
}

// Blockages routes a storm in several cases, side by side, and returns the results in the order of the cases.
func (m *Model) Blockages(s Storm, cases []Case) ([]*Result, error) {
	results, errs := make([]*Result, len(cases)), make([]error, len(cases))
	atonce.Each(len(cases), 1, func() func(from, to int) {
		return func(i, _ int) { results[i], errs[i] = m.route(s, cases[i]) }
	})
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("case %d, %s: %w", i+1, cases[i].Name, err)
		}
	}
	return results, nil
}
