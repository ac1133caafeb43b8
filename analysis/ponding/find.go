package ponding

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/fault"
	"runnel/analysis/surface"
)

// Find returns every depression of the surface and what it holds when full.
//
// t is the TIN with the outlets' footprints cut in. outlets are those that work: leave some out to see
// them blocked; every outlet in the result is an index into this slice. z holds an elevation per vertex,
// usually t.Z; a changed copy shows what a mend would do (t.Z, t.Run, t.DX and t.DY are not read).
//
// A drain or scupper is a sink at its invert, or at its footprint's lowest surface where that is higher,
// that takes from every vertex of its footprint. An edge takes water at each of its vertices, at the
// vertex's own elevation. An outlet whose footprint others took whole takes nothing. Where a region has no
// sink, one undrained pond fills it to its highest vertex.
//
// The error is a *fault.Error: an input that surface.Build cannot make, or a check that failed.
func Find(t *surface.TIN, outlets []surface.Outlet, z []float64) (*Ponds, error) {
	return findWith(newStar, t, outlets, z)
}

// Again is Find on the TIN of ps, with other outlets or elevations. It lists no neighbours anew.
func (ps *Ponds) Again(outlets []surface.Outlet, z []float64) (*Ponds, error) {
	return findWith(func(*surface.TIN) *star { return ps.star }, ps.t, outlets, z)
}

func findWith(neighbours func(*surface.TIN) *star, t *surface.TIN, outlets []surface.Outlet, z []float64) (*Ponds, error) {
	if len(z) != len(t.X) {
		return nil, fault.New("ponds", "%d elevations for %d vertices", len(z), len(t.X))
	}
	for v, h := range z {
		if math.IsNaN(h) || math.IsInf(h, 0) {
			return nil, fault.New("ponds", "vertex %d has elevation %g", v, h)
		}
	}
	s, err := newSinks(t, outlets)
	if err != nil {
		return nil, err
	}
	st := neighbours(t)
	j := join(t, z, st, s)
	t.Halt.Ask()
	ps := &Ponds{Tree: j.tree, t: t, z: z, star: st, sinks: s, nodeOf: j.of}
	if err := ps.gather(); err != nil {
		return nil, err
	}
	t.Halt.Ask()
	d := newDescent(ps)
	for i := range ps.Ponds {
		t.Halt.Look()
		ps.Ponds[i].ToPond, ps.Ponds[i].ToOutlet = d.spillOf(int32(i))
	}
	t.Halt.Ask()
	if err := ps.check(); err != nil {
		return nil, err
	}
	return ps, nil
}

// Standing reports whether water stands that has a way out: a full pond that is not Undrained.
func (ps *Ponds) Standing() bool {
	return slices.ContainsFunc(ps.Ponds, func(p Pond) bool { return !p.Undrained && len(p.Facets) > 0 })
}

// gather makes the ponds of the tree: one for each node without parent.
func (ps *Ponds) gather() error {
	for k := len(ps.Tree) - 1; k >= 0; k-- {
		p := &ps.Tree[k]
		if p.Parent >= 0 {
			p.Pond = ps.Tree[p.Parent].Pond
			continue
		}
		p.Pond = int32(len(ps.Ponds))
		ps.Ponds = append(ps.Ponds, Pond{
			Level: p.Level, Depth: p.Level - ps.z[p.Pit], Lip: p.Lip, HeldBy: p.HeldBy, ToPond: -1, ToOutlet: -1,
			Undrained: p.Lip < 0 && p.HeldBy < 0, node: int32(k),
		})
	}
	ps.flood()
	facets, err := ps.measure()
	if err != nil {
		return err
	}
	ps.share(facets, ps.sort())
	return nil
}

// flood sets Of and Level.
func (ps *Ponds) flood() {
	ps.Of, ps.Level = make([]int32, len(ps.z)), make([]float64, len(ps.z))
	for v, k := range ps.nodeOf {
		ps.Of[v], ps.Level[v] = -1, ps.z[v]
		if k == none {
			continue
		}
		p := ps.Tree[k].Pond
		if level := ps.Ponds[p].Level; ps.z[v] < level {
			ps.Of[v], ps.Level[v] = p, level
		}
	}
}

// measure sums area and volume, and returns per facet the pond on it, -1 where dry.
func (ps *Ponds) measure() ([]int32, error) {
	on := make([]int32, ps.t.Facets())
	for f := range on {
		on[f] = -1
		for _, v := range ps.t.V[3*f : 3*f+3] {
			p := ps.Of[v]
			if p >= 0 && on[f] >= 0 && p != on[f] {
				return nil, fault.New("ponds", "facet %d is under two ponds", f)
			}
			on[f] = max(on[f], p)
		}
		if on[f] < 0 {
			continue
		}
		p := &ps.Ponds[on[f]]
		area, volume := newTent(ps.t, ps.z, int32(f)).water(p.Level)
		p.Area += area
		p.Volume += volume
	}
	return on, nil
}

// sort brings the ponds into their order, fills Pits and OfPit, and returns the new number of each pond.
func (ps *Ponds) sort() []int32 {
	for k := range ps.Tree {
		if p := &ps.Tree[k]; p.Left < 0 {
			ps.Ponds[p.Pond].Pits = append(ps.Ponds[p.Pond].Pits, p.Pit)
		}
	}
	old := make([]int32, len(ps.Ponds))
	for i := range ps.Ponds {
		old[i] = int32(i)
		slices.SortFunc(ps.Ponds[i].Pits, func(a, b int32) int {
			return cmp.Or(cmp.Compare(ps.z[a], ps.z[b]), cmp.Compare(a, b))
		})
	}
	slices.SortFunc(old, func(a, b int32) int {
		return cmp.Or(cmp.Compare(ps.Ponds[b].Volume, ps.Ponds[a].Volume), cmp.Compare(ps.Ponds[a].Pits[0], ps.Ponds[b].Pits[0]))
	})
	sorted, renumbered := make([]Pond, len(old)), make([]int32, len(old))
	for i, o := range old {
		sorted[i], renumbered[o] = ps.Ponds[o], int32(i)
	}
	ps.Ponds = sorted
	for v, p := range ps.Of {
		if p >= 0 {
			ps.Of[v] = renumbered[p]
		}
	}
	ps.OfPit = slices.Repeat([]int32{-1}, len(ps.z))
	for k := range ps.Tree {
		p := &ps.Tree[k]
		p.Pond = renumbered[p.Pond]
		if p.Left < 0 {
			ps.OfPit[p.Pit] = p.Pond
		}
	}
	return renumbered
}

// share gives every pond its facets; on holds the ponds' numbers before they were sorted.
func (ps *Ponds) share(on, renumbered []int32) {
	first := make([]int32, len(ps.Ponds)+1)
	for _, p := range on {
		if p >= 0 {
			first[renumbered[p]+1]++
		}
	}
	for i := range ps.Ponds {
		first[i+1] += first[i]
	}
	all := make([]int32, first[len(ps.Ponds)])
	at := slices.Clone(first)
	for f, p := range on {
		if p >= 0 {
			all[at[renumbered[p]]] = int32(f)
			at[renumbered[p]]++
		}
	}
	for i := range ps.Ponds {
		ps.Ponds[i].Facets = all[first[i]:first[i+1]:first[i+1]]
	}
}
