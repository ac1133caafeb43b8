package demo

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// site is an invented roof as built, in its own frame: metres, x along one wall.
type site struct {
	stem, name, building string

	outline []orb.Point // counter-clockwise, not closed
	edge    string      // default type of the outline's edges
	edges   []edge
	curbs   []curb
	outlets []outlet
	folds   []fold
	laid    []laid
	relief  relief
	base    float64 // elevation of relief 0 above the site datum [m]

	under *assemblyBuilt // what lies under the membrane; nil where nobody cut the roof open

	rain, storm string // rates for primary outlets and overflows, as written; empty where none is stated

	shots  []orb.Point // where a surveyor would hold the rod beyond rows, folds and walls
	wavy   bool        // the surface wanders everywhere
	keep   []orb.Ring  // where rows leave off: everything of note there is shot on purpose
	faults []Fault
}

// edge is a stretch of the outline of another type than the default.
type edge struct {
	a, b orb.Point
	kind string // wall, gutter, free
}

// curb is a unit curb, hatch or skylight.
type curb struct {
	ring   []orb.Point // counter-clockwise, not closed; with the places along its sides that were shot
	height float64
	label  string
}

// outlet is a drain or a scupper.
type outlet struct {
	at       orb.Point
	kind     string // drain, scupper
	overflow bool
	over     orb.Point // where the surface is taken that its invert is measured from
	set      float64   // invert above the surface there [m], negative when recessed
	size     float64   // pipe diameter of a drain, width of a scupper [m]
	height   float64   // of a scupper's opening [m]; 0 for half its width
	leader   float64   // diameter of the leader [m]; 0 where nobody measured it
	label    string
}

// fold is a breakline as designed.
type fold struct {
	kind string // ridge, valley, hip, cricket, grade-break
	path []orb.Point
	step float64 // greatest distance between its shots [m]
}

// laid is something straight that lies on the roof from a to b, with feet at width on either side.
type laid struct {
	a, b  orb.Point
	width float64
}

// Fault is one thing that was made wrong on purpose.
type Fault struct {
	Kind  finding.Kind
	What  string    // in plain words
	Place orb.Point // where it shows: the deepest water, or the middle of what is too flat
	Depth float64   // of the pond that it holds [m]; 0 when it holds none
	Slope float64   // as built, when that is what is wrong
	// Area is what the fault governs: other findings that it brings with it lie in here.
	Area orb.Ring
	// Brings lists the kinds that such other findings may have.
	Brings []finding.Kind
}

// Sizes common to all invented roofs [m].
const (
	recess     = 0.012  // a drain's rim or a scupper's floor below the membrane
	sumpEdge   = 0.35   // folds start this far from an outlet: the surveyor shoots the bowl's edge
	bowlRadius = 0.1524 // 6 in: half of what a drain's bowl takes by default
	pipe       = 0.1    // 4 in
	opening    = 0.2    // 8 in
	freeboard  = 0.05   // 2 in: an overflow above the membrane
	curbHeight = 0.25   // 10 in
)

// raise adds more to the surface as built.
func (s *site) raise(more relief) { s.relief = s.relief.plus(more) }

// fold adds a breakline through points, shot at least every 2.8 m.
func (s *site) fold(kind string, points ...orb.Point) {
	s.folds = append(s.folds, fold{kind: kind, path: points, step: 2.8})
}

// shoot adds places where the rod is held.
func (s *site) shoot(points ...orb.Point) { s.shots = append(s.shots, points...) }

// drain adds a primary drain.
func (s *site) drain(label string, at orb.Point) {
	s.outlet(outlet{at: at, kind: "drain", over: at, set: -recess, size: pipe, label: label})
}

// scupper adds a scupper on the outline.
func (s *site) scupper(label string, at orb.Point) {
	s.outlet(outlet{at: at, kind: "scupper", over: at, set: -recess, size: opening, label: label})
}

// overflow adds an outlet of the same kind as outlet i that takes water once that one is blocked.
func (s *site) overflow(label string, at orb.Point, i int) {
	o := s.outlets[i]
	s.outlet(outlet{at: at, kind: o.kind, overflow: true, over: o.at, set: freeboard, size: o.size, label: label})
}

// outlet adds o and a shot of the membrane at it.
func (s *site) outlet(o outlet) {
	s.outlets = append(s.outlets, o)
	s.shoot(o.at)
}

// invert is the elevation of outlet i's rim or floor.
func (s *site) invert(i int) float64 {
	o := s.outlets[i]
	return s.base + s.relief(o.over) + o.set
}

// rectangle is the ring of an upright rectangle, counter-clockwise, not closed.
func rectangle(x0, y0, x1, y1 float64) []orb.Point {
	return []orb.Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// box is an area of an upright rectangle.
func box(x0, y0, x1, y1 float64) orb.Ring { return closed(rectangle(x0, y0, x1, y1)) }

// disc is a round area.
func disc(c orb.Point, radius float64) orb.Ring { return closed(circle(c, radius, 16)) }

func closed(points []orb.Point) orb.Ring { return append(append(orb.Ring{}, points...), points[0]) }

// valleySlope is the slope of a cricket's valley on a field of the given slope: the valley lies in the
// field and runs at the angle phi from its low line, so it falls by slope*sin(phi).
func valleySlope(slope, phi float64) float64 { return slope * math.Sin(phi) }
