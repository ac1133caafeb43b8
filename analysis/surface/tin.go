// Package surface makes the roof's surface: a constrained Delaunay triangulation of everything
// measured, elevations linear on each facet.
//
// First package settle turns the measurement into a mesh without contradictions; here it becomes the TIN, whose signs of flow are computed
// exactly (assemble.go).
//
// Last the outlets' footprints are cut into a copy of the TIN (cutter.go, trace.go) that moves no elevation and turns
// no diagonal: facets are only subdivided, and each piece keeps its parent's gradient and signs. Water runs on that copy.
//
// Every result is proved before it is returned: mutual twins, facets of positive area, Euler's count, areas in whole grid units,
// and the Delaunay property edge by edge.
package surface

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/pose"
	"runnel/analysis/halt"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
	"runnel/analysis/surface/settle"
)

// Grid is the size of the integer grid on which all coordinates stand [m]. Ten micrometres is a
// hundredth of what levelling resolves, so snapping changes nothing physical and makes "equal
// elevation" and every geometric test exact.
const Grid = 1e-5

// EdgeFlag marks a half-edge.
type EdgeFlag = settle.EdgeFlag

// What an edge is. Outline and CurbEdge are borders of the TIN (no twin) once the outside is gone.
const (
	BreaklineEdge = settle.BreaklineEdge // a breakline runs here
	OutlineEdge   = settle.OutlineEdge   // the outline runs here
	CurbEdge      = settle.CurbEdge      // a curb's side: water cannot cross
	WallEdge      = settle.WallEdge      // outline, water turns along it
	OpenEdge      = settle.OpenEdge      // outline, gutter or free: every point a sink at its own elevation
	FootprintEdge = settle.FootprintEdge // made by cutting an outlet's footprint
	FoldEdge      = settle.FoldEdge      // a fold that nobody coded, found where two planes meet
	TieEdge       = settle.TieEdge       // the diagonal was chosen by the cocircular rule
)

// TIN is a triangulated surface in flat arrays.
//
// Half-edge e = 3*f + c starts at corner c of facet f, which is vertex V[e], and ends at the next
// corner; facets are counter-clockwise. Twin[e] is the same edge seen from the neighbour, -1 on a border.
//
// Every vertex has one fan of facets round it: where curbs touch each other or the outline in a point, the place has a vertex for
// each side, because water cannot pass there.
type TIN struct {
	X, Y, Z    []float64 // per vertex, metres in the roof's local frame; multiples of Grid unless cut in
	GX, GY, GZ []int32   // per vertex, the same on the integer grid
	Out        []int32   // per vertex, one half-edge that starts there; the border one if it lies on a border

	V    []int32    // per half-edge: origin vertex
	Twin []int32    // per half-edge: twin or -1
	Flag []EdgeFlag // per half-edge
	Run  []int8     // per half-edge, exact sign: +1 water on this facet leaves over it, -1 it comes in, 0 runs along it or the facet is level

	DX, DY []float64 // per facet: uphill gradient (rise per run), exactly 0,0 on a level facet
	Parent []int32   // per facet: facet of the TIN before footprints were cut; nil in that TIN itself

	Spot    []int32   // per vertex: index into roof.Spots, -1 when it is no spot (nil in a cut TIN past its own vertices)
	Sigma   []float64 // per vertex: standard deviation of its elevation [m], 0 unknown
	Assumed []bool    // per vertex: elevation was not measured but inferred from near spots
	Found   []bool    // per vertex: no spot, but a point of a fold that was found; its elevation is that of the planes that meet there

	// Interpolation is, per vertex, the standard deviation of its elevation that comes from what lies between the spots [m], beside that of
	// measurement (Sigma): at a point of a found fold how far it stands off the mesh of the spots alone; beside spots of two planes that meet
	// in no fold that could be shown, how far the mesh may stand off the roof; else 0.
	Interpolation []float64
	Below         []float64 // the same downwards [m]: less at a point of a found valley, which is no lower than its planes meet

	Pose pose.Pose // how the roof lies on its grid: what nothing else settles is settled in it; vertices that no footprint made are numbered by it

	// Halt is looked at in long loops over the TIN, which it may leave by a panic: see package halt. Nil: nothing stops them.
	Halt *halt.Line

	room *room // behind the lists that copies only add to: those of vertices but Out, and the gradients
}

// Facets returns the number of facets.
func (t *TIN) Facets() int { return len(t.V) / 3 }

// Next returns the half-edge that follows e round its facet.
func Next(e int32) int32 { return mesh.Next(e) }

// Prev returns the half-edge before e round its facet.
func Prev(e int32) int32 { return mesh.Prev(e) }

// Level reports whether facet f is exactly level.
func (t *TIN) Level(f int32) bool { return t.DX[f] == 0 && t.DY[f] == 0 }

// Outlet is where water leaves, laid onto the TIN. Indices refer to Surface.Cut and are ascending.
type Outlet struct {
	Source        int             // index into roof.Outlets; -1 for a run of gutter or free edge
	ID            string          // "<n>" part of the exported id, e.g. "D01", "S02", "E01"
	Label         string          // as on site, never empty
	Type          roof.OutletType //
	Edge          roof.EdgeType   // for EdgeOutlet: Gutter or Free
	Duty          roof.Duty
	Invert        float64 // metres; for an edge its lowest point
	InvertAssumed bool
	Low           float64        // lowest surface elevation of the footprint [m]
	Plan          orb.Point      // its place; for an edge its lowest point
	Line          orb.LineString // for an edge its line, else nil
	Vertices      []int32        // vertices of the footprint, border included
	Edges         []int32        // border half-edges of a scupper or an edge run
	Facets        []int32        // facets of a drain's bowl
}

// Dry reports whether dry paths end in the outlet: its invert is at or below the footprint's lowest surface. Where a
// footprint was cut in, that surface is known to half a unit of the grid.
func (o *Outlet) Dry() bool { return o.Invert <= o.Low+Grid/2 }

// Inlet returns the elevation at which the outlet takes water: its invert, or the lowest roof at it where that is higher [m].
func (o *Outlet) Inlet() float64 { return math.Max(o.Invert, o.Low) }

// Surface is the measured roof as a surface.
type Surface struct {
	TIN     *TIN     // finished facets, as exported
	Cut     *TIN     // the same surface with the outlets' footprints cut in: what water runs on
	Outlets []Outlet // in the order of roof.Outlets, then edge runs by lowest x,y

	Area         float64 // plan area of Cut [m2]: the net roof area, outline less curbs
	AssumedShare float64 // share of that area on facets with an inferred corner
	Ties         int     // edges whose diagonal the cocircular rule chose
	Folds        int     // pairs of planes whose fold nobody coded, and which was found
	Scatter      float64 // standard deviation of the spots about the planes that were found, where none states any [m]; 0 not told
	Spacing      float64 // side of the square that each measured point has to itself on average [m]
	Warnings     []string
}
