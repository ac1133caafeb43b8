package flow

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/fault"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Path is the way of water from one place to its end.
type Path struct {
	Line       orb.LineString
	Elevations []float64 // one per point of Line, never rising [m]
	Travel     float64   // plan length [m]
	Label      Label
	Landing    Landing // where it came to what takes it; neither side nor vertex where it began there
}

// walker follows one drop of water. It uses the classes of the sides and the ways of the vertices but
// none of the interval lists, so that each checks the other.
type walker struct {
	*Network
	record  bool
	path    Path
	x, y, z float64
	begun   bool
	slope   float64 // of the facet crossed last
	steps   int
	landing Landing
	broken  error // the path rises, or has more steps than any can have
}

// stop is what a step of the walker comes to: a facet to run across, a side reached, a vertex reached,
// or the end.
type stop struct {
	at       place
	i        int32   // facet, half-edge or vertex; entered half-edge when at is onFacet
	w        float64 // position on the side
	entered  int32   // half-edge over which the facet was entered, -1 none
	endLabel Label
}

type place uint8

const (
	onFacet place = iota
	onSide
	onVertex
	atEnd
)

// walkFrom returns where water from vertex v ends and how long its way is.
func (n *Network) walkFrom(v int32) (Label, float64) {
	w := walker{Network: n, landing: Landing{Side: -1, Vertex: -1}}
	w.walk(stop{at: onVertex, i: v})
	return w.path.Label, w.path.Travel
}

// walk goes on from s until the end.
func (w *walker) walk(s stop) {
	limit := 1000 + 4*len(w.t.V)
	for w.steps = 0; s.at != atEnd; w.steps++ {
		if w.steps > limit {
			w.broken = fault.New("flow", "path near %.3f, %.3f does not end", w.x, w.y)
			w.path.Label = Unlabelled
			return
		}
		switch s.at {
		case onFacet:
			s = w.acrossFacet(s)
		case onSide:
			s = w.overSide(s)
		case onVertex:
			s = w.fromVertex(s.i)
		case atEnd:
		}
	}
	w.path.Label, w.path.Landing = s.endLabel, w.landing
	w.path.Landing.Point = orb.Point{w.x, w.y}
}

// to moves the drop.
func (w *walker) to(x, y, z float64) {
	if w.begun {
		w.path.Travel += vector.Norm(x-w.x, y-w.y)
		if x == w.x && y == w.y {
			return
		}
	}
	w.begun = true
	w.x, w.y, w.z = x, y, z
	if w.record {
		w.path.Line = append(w.path.Line, orb.Point{x, y})
		w.path.Elevations = append(w.path.Elevations, z)
	}
}

func (w *walker) toVertex(v int32) { w.to(w.t.X[v], w.t.Y[v], w.t.Z[v]) }

func (w *walker) fromVertex(v int32) stop {
	w.toVertex(v)
	switch way := w.way[v]; {
	case way >= 0:
		return stop{at: onVertex, i: way}
	case way <= firstFacet:
		return w.hit(wayCorner(way)/3, -1, []int32{opposite(wayCorner(way))})
	}
	w.landing.Vertex = v
	return stop{at: atEnd, endLabel: w.vertex[v]}
}

// acrossFacet runs straight down facet s.i from where the drop is.
func (w *walker) acrossFacet(s stop) stop {
	f := s.i
	if w.sinks.facet[f] >= 0 {
		return stop{at: atEnd, endLabel: Label(w.sinks.facet[f])}
	}
	if pooled(w.t, f) {
		if c := w.poolCorner(f); w.way[c] == wayPit {
			return stop{at: atEnd, endLabel: w.vertex[c]}
		}
		return stop{at: onVertex, i: w.poolTarget(f, w.x, w.y)}
	}
	var sides []int32
	for e := 3 * f; e < 3*f+3; e++ {
		if e != s.entered && w.t.Run[e] > 0 {
			sides = append(sides, e)
		}
	}
	return w.hit(f, s.entered, sides)
}

// hit moves the drop down facet f, entered over the given half-edge (-1 none), to the one of the sides that
// its line meets.
func (w *walker) hit(f, entered int32, sides []int32) stop {
	dx, dy, slope := w.fall(f)
	before, room := w.z, riseRoom(max(slope, w.slope))
	best := stop{at: onSide, i: sides[0]}
	miss := math.Inf(1)
	for _, e := range sides {
		a, b := w.t.V[e], w.t.V[surface.Next(e)]
		qa := cross(w.t.X[a]-w.x, w.t.Y[a]-w.y, dx, dy)
		qb := cross(w.t.X[b]-w.x, w.t.Y[b]-w.y, dx, dy)
		u := qa / (qa - qb)
		over := max(-u, u-1)
		if entered >= 0 && over < lean {
			over = 0
		}
		if over < miss || over == miss && entered >= 0 && e == surface.Prev(entered) {
			best.i, best.w, miss = e, max(0, min(1, u)), over
		}
	}
	a, b := w.t.V[best.i], w.t.V[surface.Next(best.i)]
	w.to(between(w.t.X[a], w.t.X[b], best.w), between(w.t.Y[a], w.t.Y[b], best.w),
		between(w.t.Z[a], w.t.Z[b], best.w))
	if w.slope = slope; w.z > before+room && w.broken == nil {
		w.broken = fault.New("flow", "path rises from %.9f to %.9f at %.3f, %.3f", before, w.z, w.x, w.y)
	}
	return best
}

// overSide does with the drop on side s.i what water does there.
func (w *walker) overSide(s stop) stop {
	e := s.i
	if w.kind[e] == taken {
		w.landing.Side = e
		return stop{at: atEnd, endLabel: w.taker(e)}
	}
	if w.kind[e] == crosses {
		twin := w.t.Twin[e]
		return stop{at: onFacet, i: twin / 3, entered: twin}
	}
	a, b := w.t.V[e], w.t.V[surface.Next(e)]
	low, falls := w.lower(e)
	switch {
	case falls:
		return stop{at: onVertex, i: low}
	case w.way[a] == wayPit:
		return stop{at: atEnd, endLabel: w.vertex[a]}
	case w.common(a, b) >= 0:
		return stop{at: onVertex, i: w.common(a, b)}
	case s.w < w.divide(e):
		return stop{at: onVertex, i: a}
	}
	return stop{at: onVertex, i: b}
}

// PathFrom follows water from a place. It returns a *fault.Error when the path rises or never ends.
func (n *Network) PathFrom(p Place) (Path, error) {
	w := walker{Network: n, record: true, landing: Landing{Side: -1, Vertex: -1}}
	w.to(p.Point[0], p.Point[1], n.elevation(p))
	w.walk(stop{at: onFacet, i: p.Facet, entered: -1})
	return w.result()
}

// riseRoom returns how far a path may rise on a facet of some slope [m]: where footprints were cut in,
// corners stand on the surface's grid and not exactly on the planes that they divide.
func riseRoom(slope float64) float64 { return surface.Grid * max(1, 2*slope) }

// result returns the path, its elevations held down to what it had before where rounding lifts them.
func (w *walker) result() (Path, error) {
	if w.broken != nil {
		return Path{}, w.broken
	}
	z := w.path.Elevations
	for i := 1; i < len(z); i++ {
		z[i] = min(z[i], z[i-1])
	}
	return w.path, nil
}

// elevation returns the elevation of a place, interpolated between its facet's corners.
func (n *Network) elevation(p Place) float64 {
	t := n.t
	f := p.Facet
	whole, z := 2*n.t.FacetArea(f), 0.0
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := t.V[e], t.V[surface.Next(e)]
		share := cross(t.X[b]-t.X[a], t.Y[b]-t.Y[a], p.Point[0]-t.X[a], p.Point[1]-t.Y[a]) / whole
		z += float64(share * t.Z[t.V[surface.Prev(e)]])
	}
	return z
}

// At returns the label of x, y and its travel; Unlabelled outside the surface.
func (n *Network) At(x, y float64) (Label, float64) {
	f := n.index.find(x, y)
	if f < 0 {
		return Unlabelled, 0
	}
	label := n.LabelOf(Place{f, orb.Point{x, y}})
	w := walker{Network: n, landing: Landing{Side: -1, Vertex: -1}}
	w.to(x, y, 0)
	w.walk(stop{at: onFacet, i: f, entered: -1})
	return label, w.path.Travel
}
