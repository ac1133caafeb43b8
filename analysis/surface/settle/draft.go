package settle

import (
	"cmp"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/pose"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Tolerances in metres. The plan ones are scaled by what Of is told.
const (
	samePlace     = 0.010 // two things nearer than this stand at one place
	onLine        = 0.020 // what is nearer than this to a line lies on it
	sameElevation = 0.003 // elevations at one place may differ by this, or by three standard deviations of their difference
	scupperReach  = 0.5   // a scupper this near the outline is moved onto it
	footReach     = 2.0   // a spot this near an edge without elevations gives it one
	feetSpacings  = 1.25  // spacings of the spots from which one gives the outline one besides: the last row of a grid stands up to a spacing before a wall
)

// standing says how a node came by its elevation.
type standing uint8

const (
	unknown standing = iota
	given            // measured there, or the mean of what was
	drawn            // linear along a line, or on the surface of everything else
	assumed          // from the plane through near spots
	found            // where planes meet in a fold that nobody coded
)

// draft is the roof on the integer grid while contradictions are being settled: nodes, and chains of
// nodes that the triangulation must keep.
type draft struct {
	r     *roof.Roof
	scale float64
	line  *halt.Line
	pose  pose.Pose

	x, y, z []int32
	how     []standing
	spot    []int32
	sigma   []float64
	what    []source // the first thing that stands there

	chains  []chain
	outline int // chains[0:outline] is the outline
	curbs   int // chains[outline:curbs] are holes and curbs; the rest breaklines
	splits  []split
	meets   []meeting
	mixed   map[int32]*mixture
	doubt   map[int32]float64 // per node: standard deviation of its elevation from what lies between the spots [m]
	below   map[int32]float64 // per node that is a point of a fold: the same downwards [m]

	inferred bool // some spots were assumed before they came
	places   *nearby.Nodes
	notes    notes
	onThings []string // codes whose spots stand on things, how many, and how high
	refusal  roof.Refusal
	broken   error // an invariant that did not hold
}

// role is a kind of measured thing.
type role uint8

const (
	isOutline role = iota
	isHole
	isCurb
	isBreakline
	isEdge
	isSpot
	isOutlet
	isFold
)

// source names a measured thing by its role and index.
type source struct {
	role  role
	index int32
}

// chain is a line as nodes; own tells the line's own vertices from those that it was given later.
type chain struct {
	source
	closed bool // the last node repeats the first
	node   []int32
	own    []bool
}

// span is one straight piece of a chain.
type span struct {
	chain, at int32 // chain and position of its first node
	a, b      int32
}

// split gives the piece of a chain that starts at position at a node, t of the way along.
type split struct {
	chain, at int32
	t         float64
	node      int32
}

// mixture is the range of elevations met at one node.
type mixture struct {
	min, max, sum int64
	n             int64
}

func newDraft(r *roof.Roof, tolerance float64, line *halt.Line) *draft {
	d := &draft{r: r, scale: tolerance, line: line, mixed: map[int32]*mixture{}, doubt: map[int32]float64{}, below: map[int32]float64{}}
	if d.scale <= 0 {
		d.scale = 1
	}
	n := len(r.Spots) + 64
	d.x, d.y, d.z = make([]int32, 0, n), make([]int32, 0, n), make([]int32, 0, n)
	d.how, d.spot = make([]standing, 0, n), make([]int32, 0, n)
	d.sigma, d.what = make([]float64, 0, n), make([]source, 0, n)
	d.places = nearby.NewNodes(n, d.units(samePlace))
	return d
}

// units returns a plan tolerance in grid units, scaled.
func (d *draft) units(metres float64) float64 {
	return math.Round(metres * d.scale * geometry.PerMetre)
}

// add makes a node without an elevation.
func (d *draft) add(x, y int32, s source) int32 {
	n := int32(len(d.x))
	d.x, d.y, d.z = append(d.x, x), append(d.y, y), append(d.z, 0)
	d.how, d.spot = append(d.how, unknown), append(d.spot, -1)
	d.sigma, d.what = append(d.sigma, 0), append(d.what, s)
	d.places.Put(n, x, y)
	return n
}

// at returns the node at the same place as (x, y), or -1.
func (d *draft) at(x, y int32) int32 { return d.places.Find(x, y, d.x, d.y) }

// feature returns what a thing was read as; holes and folds belong to the outline.
func (d *draft) feature(s source) *roof.Feature {
	switch s.role {
	case isCurb:
		return &d.r.Curbs[s.index].Feature
	case isBreakline:
		return &d.r.Breaklines[s.index].Feature
	case isEdge:
		return &d.r.Edges[s.index].Feature
	case isSpot:
		return &d.r.Spots[s.index].Feature
	case isOutlet:
		return &d.r.Outlets[s.index].Feature
	case isOutline, isHole, isFold:
	}
	return &d.r.Outline.Feature
}

// name returns what a user calls a thing: its role and id.
func (d *draft) name(s source) string {
	switch s.role {
	case isOutline:
		return "the outline"
	case isHole:
		return "a hole of the outline"
	case isFold:
		return "a fold that was found"
	case isCurb, isBreakline, isEdge, isSpot, isOutlet:
	}
	return map[role]string{isCurb: "curb ", isBreakline: "breakline ", isEdge: "edge ", isSpot: "spot ", isOutlet: "outlet "}[s.role] + d.id(s)
}

// id returns a thing's own id, or where it was read when it has none.
func (d *draft) id(s source) string {
	label := ""
	if s.role == isOutlet {
		label = d.r.Outlets[s.index].Label // as people call it
	}
	f := d.feature(s)
	return cmp.Or(label, f.ID, f.Origin.ID, f.Origin.String())
}

// refuse records a problem of s at a place in the local frame.
func (d *draft) refuse(s source, p orb.Point, rule, mend string) {
	d.refusal.Add(roof.Problem{Origin: d.feature(s).Origin, At: d.r.Frame.ToFile(p), HasAt: true, Rule: rule, Mend: mend})
}

func (d *draft) point(n int32) orb.Point {
	return orb.Point{geometry.Metres(d.x[n]), geometry.Metres(d.y[n])}
}

// meet gives node n an elevation z measured by s with standard deviation sigma. It reports false, and changes
// nothing, when one measured before differs beyond the rule.
func (d *draft) meet(n int32, z int32, sigma float64) bool {
	if d.how[n] != given {
		d.z[n], d.how[n], d.sigma[n] = z, given, sigma
		return true
	}
	m := d.mixed[n]
	if m == nil {
		v := int64(d.z[n])
		m = &mixture{v, v, v, 1}
	}
	lo, hi := min(m.min, int64(z)), max(m.max, int64(z))
	both := math.Sqrt(float64(sigma*sigma) + float64(d.sigma[n]*d.sigma[n]))
	if float64(hi-lo) > elevationTolerance(errorOfTwo(sigma, d.sigma[n])) {
		return false
	}
	*m = mixture{lo, hi, m.sum + int64(z), m.n + 1}
	d.mixed[n] = m
	d.z[n] = int32(math.Round(float64(m.sum) / float64(m.n)))
	if sigma > 0 && d.sigma[n] > 0 {
		d.sigma[n] = both / 2
	} else {
		d.sigma[n] = max(sigma, d.sigma[n])
	}
	return true
}

// errorOfTwo returns the standard error of the difference of two readings; where nobody stated that of one, it is the usual one of a roof survey.
func errorOfTwo(a, b float64) float64 {
	if a == 0 {
		a = standard.UsualError
	}
	if b == 0 {
		b = standard.UsualError
	}
	return math.Sqrt(float64(a*a) + float64(b*b))
}

// elevationTolerance returns by how many grid units two elevations of one place may differ.
func elevationTolerance(sigma float64) float64 {
	return math.Max(sameElevation*geometry.PerMetre, 3*sigma*geometry.PerMetre) + 0.5
}

// differ words two elevations of one place.
func differ(a, b int32) string {
	return fmt.Sprintf("elevations %.4f and %.4f m differ by %.1f mm", geometry.Metres(a), geometry.Metres(b), math.Abs(float64(a)-float64(b))/100)
}

// tooFar reports whether v metres cannot stand on the grid.
func tooFar(v float64) bool {
	return math.IsNaN(v) || math.Abs(v) > float64(geometry.MaxSpan)/geometry.PerMetre
}
