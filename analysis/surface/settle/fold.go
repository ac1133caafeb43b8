package settle

import (
	"math"
	"slices"

	"runnel/analysis/fold"
	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
)

// mostFolding is how many points a survey may have for folds to be looked for: beyond, the search would be a good part of a check, and points stand so
// close that what triangles hide of a fold of a low-slope roof is a few millimetres.
const mostFolding = 50_000

// findFolds looks for folds that nobody coded in the mesh of all that was measured and makes them lines of the draft. It returns how many
// it found; the draft must then be triangulated anew. It also returns how far spots scatter about the planes, as Ground.Scatter. nodes is the draft's node of every vertex.
func (d *draft) findFolds(m *mesh.Mesh, nodes []int32) (folds int, scatter float64) {
	if len(nodes) > mostFolding {
		return 0, 0
	}
	o := middleOf(m)
	lines := fold.Find(d.field(m, nodes, o))
	for v, n := range nodes {
		if lines.Open[v] > 0 {
			d.doubt[n] = lines.Open[v]
		}
	}
	if lines.Lines == 0 || d.r.Outline.Elevations == roof.Drawn { // a design has its lines
		return 0, lines.Scatter
	}
	for v, n := range nodes {
		if l := lines.Label[v]; d.how[n] == assumed && l >= 0 && !lines.Elsewhere[v] {
			d.z[n] = o.z.to(lines.Planes[l].At(o.x.from(m.X[v]), o.y.from(m.Y[v])))
		}
	}
	at := d.placeFold(lines, m, nodes, o)
	for i, l := range lines.Links {
		if a, b := at[l[0]], at[l[1]]; a != b {
			c := chain{source: source{isFold, int32(i)}}
			c.push(a, true)
			c.push(b, true)
			d.chains = append(d.chains, c)
		}
	}
	for range lines.Lines {
		d.notes.count(noteFold)
	}
	return lines.Lines, lines.Scatter
}

// middle is a coordinate midway between two, as twice its grid units: so that neither where a roof stands nor how it is turned tells on
// what is reckoned from there.
type middle int64

func middleOfAll(v []int32) middle { return middle(int64(slices.Min(v)) + int64(slices.Max(v))) }

// from returns how far a coordinate lies from the middle [m], exactly.
func (m middle) from(v int32) float64 { return float64(2*int64(v)-int64(m)) / (2 * geometry.PerMetre) }

// to returns the coordinate that lies so far from the middle [m]; halfway between two, to a thousandth of a unit, the one nearer the middle.
func (m middle) to(v float64) int32 {
	units := math.Round(1000*geometry.PerMetre*math.Abs(v)) / 1000
	twice := 2 * int64(math.Ceil(units-0.5))
	if m%2 != 0 {
		twice = max(1, 2*int64(math.Ceil(units))-1)
	}
	if v < 0 {
		twice = -twice
	}
	return int32((int64(m) + twice) / 2)
}

// middles is the middle of a mesh.
type middles struct{ x, y, z middle }

func middleOf(m *mesh.Mesh) middles {
	return middles{middleOfAll(m.X), middleOfAll(m.Y), middleOfAll(m.Z)}
}

// field returns the mesh as package fold reads it.
func (d *draft) field(m *mesh.Mesh, nodes []int32, o middles) *fold.Field {
	n := len(nodes)
	f := &fold.Field{
		Halt: d.line,
		X:    make([]float64, n), Y: make([]float64, n), Z: make([]float64, n), Sigma: make([]float64, n),
		Measured: make([]bool, n), Coded: make([]bool, n), V: m.V, Twin: m.Twin,
	}
	for v, k := range nodes {
		f.X[v], f.Y[v], f.Z[v], f.Sigma[v] = o.x.from(m.X[v]), o.y.from(m.Y[v]), o.z.from(d.z[k]), d.sigma[k]
		f.Measured[v] = d.how[k] == given && (d.spot[k] < 0 || !d.r.Spots[d.spot[k]].Assumed)
	}
	f.Outlet = d.atOutlets(nodes)
	for e, flag := range m.Flag {
		if EdgeFlag(flag)&BreaklineEdge != 0 {
			f.Coded[m.V[e]], f.Coded[m.V[mesh.Next(int32(e))]] = true, true
		}
	}
	return f
}

// atOutlets marks the vertices that stand at the place of an outlet that drains first.
func (d *draft) atOutlets(nodes []int32) []bool {
	at := map[int32]bool{}
	for i := range d.r.Outlets {
		if o := &d.r.Outlets[i]; o.Duty != roof.Overflow {
			if n := d.at(geometry.OnGrid(o.Plan[0]), geometry.OnGrid(o.Plan[1])); n >= 0 {
				at[n] = true
			}
		}
	}
	out := make([]bool, len(nodes))
	for v, n := range nodes {
		out[v] = at[n]
	}
	return out
}

// placeFold makes nodes of the points of folds; those on the border split the line that runs there.
func (d *draft) placeFold(lines *fold.Folds, m *mesh.Mesh, nodes []int32, o middles) []int32 {
	border := map[[2]int32]span{}
	for _, s := range d.spans(0, d.curbs) {
		border[[2]int32{s.a, s.b}], border[[2]int32{s.b, s.a}] = s, s
	}
	at := make([]int32, len(lines.Points))
	for i := range lines.Points {
		p := &lines.Points[i]
		if p.Vertex >= 0 {
			at[i] = nodes[p.Vertex]
			continue
		}
		at[i] = d.foldNode(p, o)
		if p.Edge >= 0 && m.Twin[p.Edge] < 0 {
			a, b := nodes[m.V[p.Edge]], nodes[m.V[mesh.Next(p.Edge)]]
			if s, ok := border[[2]int32{a, b}]; ok && at[i] != a && at[i] != b {
				d.splitAt(s, d.along1(s, at[i]), at[i])
			}
		}
	}
	d.applySplits()
	return at
}

// foldNode returns the node at a point of a fold, made if nothing stands at that place.
func (d *draft) foldNode(p *fold.Point, o middles) int32 {
	x, y := d.pose.Back(o.x.to(p.X), o.y.to(p.Y))
	if n := d.at(x, y); n >= 0 && d.how[n] != unknown {
		return n
	}
	n := d.add(x, y, source{isFold, 0})
	d.z[n], d.how[n], d.doubt[n], d.below[n] = o.z.to(p.Z), found, p.Sigma, p.Below
	return n
}
