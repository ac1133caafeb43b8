package catchment

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/analysis/geodesic"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// pool is the water of one full pond, which ways cross straight.
type pool struct {
	region  *geodesic.Region
	fields  []*geodesic.Field // per taker of the pond
	views   []*geodesic.View  // of the fields, for the ways that come to the water
	vertex  map[int32]int32   // vertex of the shore's TIN to vertex of the region; looked up only
	at      []int32           // per half-edge of the shore's TIN, of a facet under water and at the shore: 1 + its triangle of the region of its pool; all pools share it
	targets [][]int32         // per taker: vertices of the region
}

// smallPool is the number of facets up to which a pond is measured on the facets themselves; larger ones are triangulated
// anew over the shore alone, so that no light is split at vertices within.
const smallPool = 64

// rimStep is how far apart places stand that stand for the edge of a footprint [m].
const rimStep = 0.01

// newPool returns the water of pond i on the given facets.
func (v *travels) newPool(i int32, facets []int32) *pool {
	holders := v.g.held[i]
	if len(facets) > smallPool || len(holders) > 0 {
		if p := v.overShore(facets, holders); p != nil {
			return v.aim(p, i, holders)
		}
	}
	return v.aim(v.overFacets(facets, holders), i, holders)
}

// aim gives the pool its fields: from its lip, or from each of its holders.
func (v *travels) aim(p *pool, i int32, holders []int32) *pool {
	if len(holders) == 0 {
		p.targets = [][]int32{{p.nearest(v.at(v.g.ponds.Ponds[i].Lip))}}
	}
	for k := range p.targets {
		if len(p.targets[k]) == 0 { // its footprint lies under no facet of the pond
			p.targets[k] = []int32{p.nearest(v.g.s.Outlets[holders[k]].Plan)}
		}
		f := p.region.From(p.targets[k])
		p.fields, p.views = append(p.fields, f), append(p.views, f.View())
	}
	return p
}

// nearest returns the vertex of the region that is nearest to a place; of equals the first.
func (p *pool) nearest(at orb.Point) int32 {
	best, least := int32(0), math.Inf(1)
	for v := range p.region.X {
		x, y := p.region.X[v]-at[0], p.region.Y[v]-at[1]
		if d := float64(x*x) + float64(y*y); d < least {
			best, least = int32(v), d
		}
	}
	return best
}

// overFacets makes a pool of the facets themselves.
func (v *travels) overFacets(facets, holders []int32) *pool {
	t := v.shore.TIN
	p := &pool{region: &geodesic.Region{}, vertex: map[int32]int32{}, at: v.within, targets: make([][]int32, len(holders))}
	place := map[int32]int32{} // of a facet in the list
	for k, f := range facets {
		place[f] = int32(k)
		for _, x := range t.V[3*f : 3*f+3] {
			n, known := p.vertex[x]
			if !known {
				n = p.add(x, v.at(x))
				for h, o := range holders {
					if _, found := slices.BinarySearch(v.g.s.Outlets[o].Vertices, x); found {
						p.targets[h] = append(p.targets[h], n)
					}
				}
			}
			p.region.V = append(p.region.V, n)
		}
	}
	p.region.Twin = make([]int32, len(p.region.V))
	for k, f := range facets {
		for c := range int32(3) {
			e, twin := 3*f+c, int32(-1)
			if o := t.Twin[e]; o >= 0 {
				if beyond, in := place[o/3]; in {
					twin = 3*beyond + o%3
				} else {
					p.at[e] = int32(k) + 1
				}
			}
			p.region.Twin[3*int32(k)+c] = twin
		}
	}
	return p
}

func (p *pool) add(x int32, at orb.Point) int32 {
	n := int32(len(p.region.X))
	p.region.X, p.region.Y = append(p.region.X, at[0]), append(p.region.Y, at[1])
	if x >= 0 {
		p.vertex[x] = n
	}
	return n
}

// outline is the shore of a pond being triangulated.
type outline struct {
	*pool
	t        *surface.TIN
	number   map[[2]int32]int32 // of a place; looked up only
	x, y     []int32
	segments []mesh.Segment
	shore    []int32 // per segment: half-edge that it is all of, -1 where it is a piece of one
}

// overShore makes a pool over the shore alone; nil where that cannot be triangulated as it is.
func (v *travels) overShore(facets, holders []int32) *pool {
	t := v.shore.TIN
	o := &outline{
		pool: &pool{region: &geodesic.Region{}, vertex: map[int32]int32{}, at: v.within, targets: make([][]int32, len(holders))},
		t:    t, number: map[[2]int32]int32{},
	}
	for _, f := range facets {
		for e := 3 * f; e < 3*f+3; e++ {
			holder := v.rimOf(e, holders)
			if border := t.Twin[e] < 0 || v.shore.Water[t.Twin[e]/3] != v.shore.Water[f]; border || holder >= 0 {
				o.line(e, border, holder)
			}
		}
	}
	m, crossings, err := mesh.Triangulate(o.x, o.y, make([]int32, len(o.x)), o.segments)
	if err != nil || len(crossings) > 0 || !o.inside(m) {
		return nil
	}
	for k := range o.targets {
		slices.Sort(o.targets[k])
		o.targets[k] = slices.Compact(o.targets[k])
	}
	return o.pool
}

// rimOf returns which of the holders half-edge e is part of the footprint's edge of, -1 for none.
func (v *travels) rimOf(e int32, holders []int32) int {
	t := v.shore.TIN
	for k, o := range holders {
		list := v.g.s.Outlets[o].Vertices
		_, a := slices.BinarySearch(list, t.V[e])
		_, b := slices.BinarySearch(list, t.V[surface.Next(e)])
		if a && b && (t.Twin[e] < 0 || t.Flag[e]&surface.FootprintEdge != 0) {
			return k
		}
	}
	return -1
}

// line adds half-edge e: as a segment where it is the shore's, as places of a target where it is a rim's.
func (o *outline) line(e int32, border bool, holder int) {
	a, b := o.t.V[e], o.t.V[surface.Next(e)]
	ends := [2]int32{o.put(a, o.t.GX[a], o.t.GY[a]), o.put(b, o.t.GX[b], o.t.GY[b])}
	if holder < 0 {
		o.segment(ends[0], ends[1], e)
		return
	}
	x, y := o.t.X[b]-o.t.X[a], o.t.Y[b]-o.t.Y[a]
	steps := math.Ceil(vector.Norm(x, y) / rimStep)
	last := ends[0]
	o.targets[holder] = append(o.targets[holder], ends[:]...)
	for i := 1.0; i < steps; i++ {
		n := o.put(-1, onGrid(o.t.GX[a], o.t.GX[b], i/steps), onGrid(o.t.GY[a], o.t.GY[b], i/steps))
		o.targets[holder] = append(o.targets[holder], n)
		if border {
			o.segment(last, n, -1)
		}
		last = n
	}
	if border && steps > 1 {
		o.segment(last, ends[1], -1)
	} else if border {
		o.segment(last, ends[1], e)
	}
}

// onGrid returns the grid line nearest to position s between two.
func onGrid(a, b int32, s float64) int32 { return a + int32(math.Round(float64(b-a)*s)) }

// put returns the number of a place, of vertex v of the TIN or -1 for none, made if it is new.
func (o *outline) put(v, x, y int32) int32 {
	n, known := o.number[[2]int32{x, y}]
	if !known {
		at := orb.Point{float64(x) * surface.Grid, float64(y) * surface.Grid}
		if v >= 0 {
			at = orb.Point{o.t.X[v], o.t.Y[v]}
		}
		n = o.add(v, at)
		o.number[[2]int32{x, y}] = n
		o.x, o.y = append(o.x, x), append(o.y, y)
	}
	if v >= 0 {
		o.vertex[v] = n
	}
	return n
}

func (o *outline) segment(a, b, e int32) {
	if a != b {
		o.segments, o.shore = append(o.segments, mesh.Segment{A: a, B: b, Flag: 1}), append(o.shore, e)
	}
}

// bound lists the half-edges of m that lie on segments by their ends.
func bound(m *mesh.Mesh) map[[2]int32]int32 {
	edge := map[[2]int32]int32{}
	for e, flag := range m.Flag {
		if flag&1 != 0 {
			edge[[2]int32{m.V[e], m.V[surface.Next(int32(e))]}] = int32(e)
		}
	}
	return edge
}

// inside keeps the triangles of m that lie on the left of the segments and what is joined to them; false where a segment
// is not an edge as a whole.
func (o *outline) inside(m *mesh.Mesh) bool {
	edge := bound(m)
	number := slices.Repeat([]int32{-1}, len(m.V)/3)
	var kept []int32
	keep := func(f int32) {
		if number[f] < 0 {
			number[f] = int32(len(kept))
			kept = append(kept, f)
		}
	}
	for i, s := range o.segments {
		e, found := edge[[2]int32{s.A, s.B}]
		if !found {
			return false
		}
		keep(e / 3)
		if o.shore[i] >= 0 {
			o.at[o.shore[i]] = number[e/3] + 1
		}
	}
	for i := 0; i < len(kept); i++ {
		for e := 3 * kept[i]; e < 3*kept[i]+3; e++ {
			if m.Flag[e]&1 == 0 && m.Twin[e] >= 0 {
				keep(m.Twin[e] / 3)
			}
		}
	}
	for _, f := range kept {
		for e := 3 * f; e < 3*f+3; e++ {
			twin := int32(-1)
			if x := m.Twin[e]; x >= 0 && m.Flag[e]&1 == 0 {
				twin = 3*number[x/3] + x%3
			}
			o.region.V, o.region.Twin = append(o.region.V, m.V[e]), append(o.region.Twin, twin)
		}
	}
	return true
}

// far returns how far it is over the water from where a way comes to it to the target of taker k [m].
func (p *pool) far(t *surface.TIN, k int, at flow.Landing) float64 {
	d := math.Inf(1)
	if tri, ok := p.triangle(t, at); ok {
		d = p.views[k].At(tri, at.Point)
	} else if v, known := p.vertex[at.Vertex]; known {
		d = p.fields[k].Vertex(v)
	}
	if math.IsInf(d, 1) { // no place of the water: straight on
		for _, v := range p.targets[k] {
			x, y := p.region.X[v]-at.Point[0], p.region.Y[v]-at.Point[1]
			d = math.Min(d, vector.Norm(x, y))
		}
	}
	return d
}

// triangle returns the triangle of the region at the side over which a way comes to the water.
func (p *pool) triangle(t *surface.TIN, at flow.Landing) (int32, bool) {
	if at.Side < 0 || t.Twin[at.Side] < 0 {
		return -1, false
	}
	tri := p.at[t.Twin[at.Side]] - 1
	return tri, tri >= 0
}

// over returns the way over the water from where another comes to it to the target of taker k.
func (p *pool) over(t *surface.TIN, k int, at flow.Landing) orb.LineString {
	if tri, ok := p.triangle(t, at); ok {
		return p.fields[k].Way(tri, at.Point)
	}
	if v, known := p.vertex[at.Vertex]; known {
		for e, x := range p.region.V {
			if x == v {
				return p.fields[k].Way(int32(e)/3, at.Point)
			}
		}
	}
	v := p.targets[k][0]
	return orb.LineString{at.Point, {p.region.X[v], p.region.Y[v]}}
}
