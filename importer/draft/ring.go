package draft

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"runnel/analysis/roof"
)

// Fault is what is wrong with the rings of an area, and where.
type Fault struct {
	At    orb.Point
	HasAt bool
	Rule  string
	Mend  string
}

// faults says in a reader's words what the geometry library finds wrong with rings.
var faults = []struct{ found, rule, mend string }{
	{"not simple", "the %s crosses or touches itself", "move the corner that makes it cross; it is not repaired, because only the drawing says which side is roof"},
	{"outside of exterior", "a hole of the %s lies outside it", "move the hole or take it out"},
	{"nested", "a hole of the %s lies inside another hole", "take one of them out"},
	{"disconnected", "the holes cut the %s in two", "draw two outlines, or move the holes apart"},
	{"multiple points", "two rings of the %s touch or cross", "draw a hole that reaches the edge as part of the edge"},
	{"one distinct", "the %s has fewer than three corners", "draw all its corners"},
}

// SettleRings checks that closed rings bound an area together, and turns the first counter-clockwise and
// the others clockwise. It changes the rings in place. The first fault is returned, nil for none; what
// names the area in its words.
func SettleRings(rings [][]roof.Position, what string) *Fault {
	for _, ring := range rings {
		if len(ring) < 4 {
			return &Fault{At: ring[0].Plan, HasAt: true, Rule: "the " + what + " has fewer than three corners", Mend: "draw all its corners"}
		}
	}
	if fault := valid(rings, what); fault != nil {
		return fault
	}
	for i, ring := range rings {
		if !settle(ring, i > 0) {
			return &Fault{
				At: ring[0].Plan, HasAt: true,
				Rule: "the first corner and its repetition at the end have different elevations", Mend: "give both the same elevation",
			}
		}
	}
	return nil
}

// valid asks the geometry library. Where a ring crosses itself the library names a corner of the ring only; the
// crossing is found here.
func valid(rings [][]roof.Position, what string) *Fault {
	lines := make([]geom.LineString, len(rings))
	for i, ring := range rings {
		flat := make([]float64, 0, 2*len(ring))
		for _, p := range ring {
			flat = append(flat, p.Plan[0], p.Plan[1])
		}
		lines[i] = geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
	}
	err := geom.NewPolygon(lines).Validate()
	if err == nil {
		return nil
	}
	fault := &Fault{Rule: fmt.Sprintf("the %s is not a valid area: %v", what, err), Mend: "draw it again"}
	for _, f := range faults {
		if strings.Contains(err.Error(), f.found) {
			fault.Rule, fault.Mend = fmt.Sprintf(f.rule, what), f.mend
			break
		}
	}
	fault.At, fault.HasAt = placeIn(err.Error())
	if strings.Contains(err.Error(), "not simple") {
		for _, ring := range rings {
			if at, ok := crossing(ring); ok {
				fault.At, fault.HasAt = at, true
				break
			}
		}
	}
	return fault
}

// placeIn reads the place that a validity error names: "... (at or near {x y})".
func placeIn(text string) (at orb.Point, ok bool) {
	_, after, found := strings.Cut(text, "at or near {")
	if !found {
		return at, false
	}
	n, err := fmt.Sscanf(after, "%g %g}", &at[0], &at[1])
	return at, err == nil && n == 2
}

// ringTolerance is by how much the first and the last elevation of a ring may differ [m].
const ringTolerance = 0.003

// settle makes the last position of a ring equal to the first and gives the ring its sense. It reports
// false where their elevations differ.
func settle(ring []roof.Position, clockwise bool) bool {
	last := len(ring) - 1
	if ring[0].HasZ && ring[last].HasZ && math.Abs(ring[0].Z-ring[last].Z) > ringTolerance {
		return false
	}
	if !ring[0].HasZ {
		ring[0] = ring[last]
	}
	ring[last] = ring[0]
	if (signedArea(ring) < 0) != clockwise {
		for i, j := 0, last; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	return true
}

// signedArea returns the area of a closed ring in the square of its unit, positive counter-clockwise.
func signedArea(ring []roof.Position) float64 {
	sum := 0.0
	o := ring[0].Plan
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1].Plan, ring[i].Plan
		sum += float64((a[0]-o[0])*(b[1]-o[1])) - float64((b[0]-o[0])*(a[1]-o[1]))
	}
	return sum / 2
}
