// Package settle turns what was measured into a mesh without contradictions: on an integer grid of ten micrometres, every vertex with an
// elevation.
//
// Outline, curbs, edges, breaklines and spots become nodes and chains of nodes (draft.go, ring.go, breakline.go, spot.go); what stands at the
// same place is merged, what lies near a line is moved onto it, lines that cross share a node (cross.go). Missing elevations are drawn along
// lines (elevate.go, curb.go), taken from the surface of everything else, or assumed from the plane through the six nearest spots (assume.go).
// A contradiction is refused with the names of both things and what would mend it; up to twenty are collected.
//
// Then package mesh triangulates the nodes and chains, and the regions outside the outline and inside curbs are dropped (triangulate.go).
// Folds that nobody coded are found on that mesh (package fold), and their points and pieces go into the draft, which is triangulated once
// more (fold.go): so the mesh runs along ridges and valleys instead of across them. What lies on an outline without elevations takes that of
// the plane it belongs to.
package settle

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/pose"
	"runnel/analysis/halt"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
)

// EdgeFlag marks a half-edge of the mesh.
type EdgeFlag uint8

// What an edge is; package surface says more of each.
const (
	BreaklineEdge EdgeFlag = 1 << iota
	OutlineEdge
	CurbEdge
	WallEdge
	OpenEdge
	FootprintEdge
	FoldEdge
	TieEdge
)

// Ground is a settled measurement.
type Ground struct {
	Mesh *mesh.Mesh // inside the outline and in no curb; its flags are EdgeFlags

	Spot                 []int32   // per vertex: index into roof.Spots, -1 when it is no spot
	Sigma                []float64 // per vertex: standard deviation of its elevation [m], 0 unknown
	Assumed, Found       []bool    // per vertex: inferred from near spots; a point of a fold that was found
	Interpolation, Below []float64 // per vertex: as in surface.TIN [m]

	Net    int64          // twice the plan area that the mesh must have, in grid units squared
	Turned map[int32]bool // triangles that need not be Delaunay
	Folds  int            // pairs of planes whose fold nobody coded, and which was found

	Pose    pose.Pose // how the roof lies on its grid
	Scatter float64   // standard deviation of the spots about the planes that were found, where none states any [m]; 0 not told

	draft *draft
}

// Of settles a roof. Plan tolerances are multiplied by tolerance (0 means 1). The error is a *roof.Refusal when the input cannot be used,
// and a *fault.Error when an invariant broke.
func Of(r *roof.Roof, tolerance float64, line *halt.Line) (*Ground, error) {
	d := newDraft(r, tolerance, line)
	if err := d.settle(); err != nil {
		return nil, err
	}
	m, nodes, net, err := d.triangulate()
	if err != nil {
		return nil, err
	}
	line.Ask()
	folds, scatter := d.findFolds(m, nodes)
	if folds > 0 {
		if m, nodes, net, err = d.triangulate(); err != nil {
			return nil, err
		}
	}
	turned := d.turnArtefacts(m, nodes)
	d.unpose(m, nodes)
	line.Ask()
	g := d.ground(m, nodes)
	g.Net, g.Turned, g.Folds, g.Scatter = net, turned, folds, scatter
	return g, nil
}

// settle turns the roof into nodes and chains without contradictions, every node with an elevation.
func (d *draft) settle() error {
	groups := [][]func(){
		{d.checkNumbers},
		{d.placeOutline, d.placeCurbs},
		{d.placeEdges, d.placeBreaklines},
		{d.placeSpots},
		{d.checkEdges, d.findCrossings},
		{d.elevateBreaklines, d.elevateOutline},
		{d.elevateCurbs},
	}
	for _, g := range groups {
		for _, step := range g {
			step()
			d.line.Ask()
		}
		if err := d.refusal.Err(); err != nil {
			return err
		}
		if d.broken != nil {
			return d.broken
		}
	}
	return nil
}

// ground returns a mesh with what the draft knows of its vertices. nodes is the draft's node of every vertex.
func (d *draft) ground(m *mesh.Mesh, nodes []int32) *Ground {
	n := len(nodes)
	g := &Ground{
		Mesh: m, Pose: d.pose, draft: d,
		Spot: make([]int32, n), Sigma: make([]float64, n), Assumed: make([]bool, n),
		Found: make([]bool, n), Interpolation: make([]float64, n), Below: make([]float64, n),
	}
	for v, k := range nodes {
		g.Spot[v], g.Sigma[v], g.Assumed[v] = d.spot[k], d.sigma[k], d.how[k] == assumed || d.inferred && d.spot[k] >= 0 && d.r.Spots[d.spot[k]].Assumed
		g.Found[v], g.Interpolation[v] = d.how[k] == found, d.doubt[k]
		if g.Below[v] = g.Interpolation[v]; g.Found[v] {
			g.Below[v] = d.below[k]
		}
	}
	return g
}

// OnLine returns how near a line a thing is taken to lie on it [m].
func (g *Ground) OnLine() float64 { return onLine * g.draft.scale }

// Reach returns how near the outline a scupper is moved onto it [m].
func (g *Ground) Reach() float64 { return scupperReach * g.draft.scale }

// InOutline reports whether a place [m] lies inside the outer ring, curbs included.
func (g *Ground) InOutline(p orb.Point) bool {
	d := g.draft
	return !tooFar(p[0]*2) && !tooFar(p[1]*2) && d.newRingTest(d.chains[0].node).holds(geometry.OnGrid(p[0]), geometry.OnGrid(p[1]))
}

// EdgeAt returns the first edge of the roof that runs past a place of the outline, in grid units, or -1.
func (g *Ground) EdgeAt(x, y float64) int32 { return g.draft.edgeAt(x, y) }

// OutletName returns what a user calls outlet i.
func (g *Ground) OutletName(i int) string { return g.draft.name(source{isOutlet, int32(i)}) }

// RefuseOutlet refuses outlet i, which stands at p.
func (g *Ground) RefuseOutlet(i int, p orb.Point, rule, mend string) {
	g.draft.refuse(source{isOutlet, int32(i)}, p, rule, mend)
}

// Refusal returns what was refused since, or nil.
func (g *Ground) Refusal() error { return g.draft.refusal.Err() }

// NoteMoved says that scupper i was moved onto the outline.
func (g *Ground) NoteMoved(i int) { g.draft.notes.add(noteScupper, source{isOutlet, int32(i)}) }

// NoteShared says that the footprint of outlet i lies wholly in another.
func (g *Ground) NoteShared(i int) { g.draft.notes.add(noteShared, source{isOutlet, int32(i)}) }

// NoteSpike says that spot i stands far off everything round it.
func (g *Ground) NoteSpike(i int32) { g.draft.notes.add(noteSpike, source{isSpot, i}) }

// Sentences returns everything that was moved, merged, inferred or left out.
func (g *Ground) Sentences() []string { return g.draft.sentences() }
