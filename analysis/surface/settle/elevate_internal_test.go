package settle

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/roof"
)

// m is a length in metres on the grid.
func m(v float64) int32 { return geometry.OnGrid(v) }

// strung adds a chain of a role through places in metres to d; an elevation that is no number is none. It returns its nodes.
func (d *draft) strung(role role, index int32, closed bool, places ...[3]float64) []int32 {
	s := source{role, index}
	c := chain{source: s, closed: closed}
	for _, p := range places {
		n := d.at(m(p[0]), m(p[1]))
		if n < 0 {
			n = d.add(m(p[0]), m(p[1]), s)
		}
		if !math.IsNaN(p[2]) {
			d.z[n], d.how[n] = m(p[2]), given
		}
		c.push(n, true)
	}
	if closed {
		c.push(c.node[0], true)
	}
	d.chains = append(d.chains, c)
	return c.node
}

var none = math.NaN()

// ground is a draft of a square outline of 10 m whose corners stand at 0 in the west and at 1 in the east, or have no elevation.
func ground(bare bool) *draft {
	r := &roof.Roof{Breaklines: make([]roof.Breakline, 4), Curbs: make([]roof.Curb, 1)}
	r.Frame.Metres = 1
	d := newDraft(r, 1, nil)
	ring := []roof.Position{at3(0, 0, 0), at3(10, 0, 1), at3(10, 10, 1), at3(0, 10, 0)}
	east, west := 1.0, 0.0
	if bare {
		for i := range ring {
			ring[i].HasZ = false
		}
		east, west = none, none
	}
	d.r.Outline.Rings = [][]roof.Position{ring}
	d.strung(isOutline, 0, true, [3]float64{0, 0, west}, [3]float64{10, 0, east}, [3]float64{10, 10, east}, [3]float64{0, 10, west})
	d.outline, d.curbs = 1, 1
	return d
}

// rules returns what a draft refuses.
func (d *draft) rules() (out []string) {
	for _, p := range d.refusal.Problems {
		out = append(out, p.Rule)
	}
	return out
}

// TestNamesOfThings: what a refusal calls each thing, by its own id, else by that of the file, else by where it was read; outlets by their label first.
func TestNamesOfThings(t *testing.T) {
	at := func(n int, id string) roof.Origin { return roof.Origin{File: "roof.csv", Line: n, ID: id} }
	thing := func(n int, own, read string) roof.Feature { return roof.Feature{ID: own, Origin: at(n, read)} }
	r := &roof.Roof{
		Curbs: []roof.Curb{{Feature: thing(1, "C7", "x")}}, Breaklines: []roof.Breakline{{Feature: thing(2, "", "B-2")}}, Edges: []roof.Edge{{Feature: thing(3, "", "")}},
		Spots: []roof.Spot{{Feature: thing(4, "P9", "y")}}, Outlets: []roof.Outlet{{Feature: thing(5, "D1", "z"), Label: "RD-1"}, {Feature: thing(6, "D2", "z")}},
	}
	r.Outline.Origin = at(7, "O")
	d := newDraft(r, 1, nil)
	for _, c := range []struct {
		s    source
		name string
		line int
	}{
		{source{isOutline, 0}, "the outline", 7},
		{source{isHole, 1}, "a hole of the outline", 7},
		{source{isFold, 0}, "a fold that was found", 7},
		{source{isCurb, 0}, "curb C7", 1},
		{source{isBreakline, 0}, "breakline B-2", 2},
		{source{isEdge, 0}, "edge " + at(3, "").String(), 3},
		{source{isSpot, 0}, "spot P9", 4},
		{source{isOutlet, 0}, "outlet RD-1", 5},
		{source{isOutlet, 1}, "outlet D2", 6},
	} {
		if got := d.name(c.s); got != c.name {
			t.Errorf("%q, want %q", got, c.name)
		}
		if got := d.feature(c.s).Origin; got.Line != c.line {
			t.Errorf("%s was read in line %d, want %d", c.name, got.Line, c.line)
		}
	}
	for _, s := range []source{{isOutline, 0}, {isHole, 1}, {isFold, 0}} {
		if got := d.id(s); got != "O" {
			t.Errorf("role %d has the id %q", s.role, got)
		}
	}
	if a, b, c := d.dropping(source{isSpot, 0}, source{isCurb, 0}), d.dropping(source{isCurb, 0}, source{isSpot, 0}), d.dropping(source{isCurb, 0}, source{isEdge, 0}); a != " or leave one out with --drop P9" || b != a || c != "" {
		t.Errorf("%q, %q, %q", a, b, c)
	}
}

// TestDifferenceInWords: 1.2345 and 1.2 m differ by 34.5 mm, whichever is higher.
func TestDifferenceInWords(t *testing.T) {
	if a, b := differ(m(1.2345), m(1.2)), differ(m(1.2), m(1.2345)); a != "elevations 1.2345 and 1.2000 m differ by 34.5 mm" || b != "elevations 1.2000 and 1.2345 m differ by 34.5 mm" {
		t.Errorf("%q, %q", a, b)
	}
}

// TestToleranceOfOnePlace: 3 mm, or three standard deviations where that is more: from 1 mm on; half a unit of the grid is rounding. Two readings of 3 and 4 mm differ by 5 mm; where nobody states one, that of a usual roof survey counts.
func TestToleranceOfOnePlace(t *testing.T) {
	for sigma, want := range map[float64]float64{0: 300.5, 0.001: 300.5, 0.0009: 300.5, 0.002: 600.5, 0.01: 3000.5} {
		if got := elevationTolerance(sigma); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("%g m: %g units, want %g", sigma, got, want)
		}
	}
	if got := errorOfTwo(0.003, 0.004); !(math.Abs(got-0.005) <= 1e-12) {
		t.Errorf("3 and 4 mm: %g", got)
	}
	usual := errorOfTwo(0, 0) / math.Sqrt2
	if a, b := errorOfTwo(0, 0.004), errorOfTwo(0.004, 0); !(math.Abs(a-math.Hypot(usual, 0.004)) <= 1e-12) || a != b {
		t.Errorf("none stated and 4 mm: %g, %g", a, b)
	}
}

// TestEndsOfTheGrid: what cannot stand on the grid, which ends at 2^30 units of ten micrometres.
func TestEndsOfTheGrid(t *testing.T) {
	end := float64(geometry.MaxSpan) / geometry.PerMetre
	for v, want := range map[float64]bool{0: false, end: false, -end: false, end + 1e-5: true, -end - 1e-5: true, math.Inf(1): true, math.Inf(-1): true} {
		if tooFar(v) != want {
			t.Errorf("%g m: %v", v, !want)
		}
	}
	if !tooFar(math.NaN()) {
		t.Error("no number stands on the grid")
	}
}

// TestElevationAlongALine: a point of a line without an elevation lies on the straight line between the nearest ones before and after it that have one, by length in plan: by hand, 3 of 4 m from 1 to 1.4 is 1.3. Before the first and after the last there is nothing to go by. Of a closed line the way goes on over
// its end.
func TestElevationAlongALine(t *testing.T) {
	d := ground(false)
	n := d.strung(isBreakline, 0, false, [3]float64{1, 5, none}, [3]float64{2, 5, 1}, [3]float64{4, 5, none}, [3]float64{5, 5, none}, [3]float64{6, 5, 1.4}, [3]float64{8, 5, none})
	for i, want := range map[int]float64{2: 1.2, 3: 1.3} {
		if z, ok := d.along(1, n[i]); !ok || z != m(want) {
			t.Errorf("point %d stands at %g, %v, want %g", i, geometry.Metres(z), ok, want)
		}
	}
	for _, i := range []int{0, 5} {
		if z, ok := d.along(1, n[i]); ok {
			t.Errorf("point %d, beyond all that have one, stands at %g", i, geometry.Metres(z))
		}
	}
	if _, ok := d.along(0, n[2]); ok {
		t.Error("a point that is not on the outline has an elevation along it")
	}
	ring := d.strung(isCurb, 0, true, [3]float64{1, 1, none}, [3]float64{3, 1, 2}, [3]float64{3, 2, none}, [3]float64{1, 2, 2.6})
	// From (3, 1) over (3, 2) to (1, 2) are 3 m, from there over (1, 1) back 3 m.
	for i, want := range map[int]float64{0: 2.4, 2: 2.2} {
		if z, ok := d.along(2, ring[i]); !ok || z != m(want) {
			t.Errorf("corner %d of the ring stands at %g, %v, want %g", i, geometry.Metres(z), ok, want)
		}
	}
	d.how[ring[3]] = unknown
	if _, ok := d.along(2, ring[0]); ok {
		t.Error("one elevation on a ring tells another")
	}
}

// TestOutlineSpeaksForItsEdges: on the outline a point lies between the ends of its own edge only: where a corner of it has no elevation, none is told from beyond the corner.
func TestOutlineSpeaksForItsEdges(t *testing.T) {
	d := ground(false)
	c := &d.chains[0]
	n := d.add(m(4), 0, source{isOutline, 0})
	c.node, c.own = slices.Insert(c.node, 1, n), slices.Insert(c.own, 1, false)
	if z, ok := d.along(0, n); !ok || z != m(0.4) {
		t.Errorf("4 m along an edge from 0 to 1: %g, %v", geometry.Metres(z), ok)
	}
	d.how[c.node[2]] = unknown // the corner at (10, 0); beyond it (10, 10) has one
	if z, ok := d.along(0, n); ok {
		t.Errorf("with one end of the edge: %g", geometry.Metres(z))
	}
	if d.draw(c, nil) || d.how[c.node[2]] != unknown || d.how[n] != unknown {
		t.Error("an edge says how the next one runs")
	}
	d.how[c.node[2]] = given
	if !d.draw(c, nil) || d.z[n] != m(0.4) || d.how[n] != drawn {
		t.Errorf("drawn at %g", geometry.Metres(d.z[n]))
	}
}

// TestCrossingsTakeBothLines: where two breaklines cross without a point of their own, each has its elevation there. By hand, 1 and 1.002 are one place at 1.001; 1 and 1.004 are not, and both lines are named. A line across the outline takes that of the outline. Of a curb only the line tells. Where one of two
// lines has none, the other's counts; a crossing that stands already stays.
func TestCrossingsTakeBothLines(t *testing.T) {
	for _, c := range []struct {
		name    string
		other   role
		za, zb  float64 // of the breakline and of what it crosses, at the crossing
		want    float64 // no number: stays unknown
		refused bool
	}{
		{"alike", isBreakline, 1, 1.002, 1.001, false},
		{"apart", isBreakline, 1, 1.004, 1.002, true},
		{"the outline", isOutline, 1.002, 1, 1, false},
		{"the outline, apart", isOutline, 1.004, 1, 1, true},
		{"a curb, apart", isCurb, 1, 1.5, 1, false},
		{"a hole", isHole, 1, 1.5, 1, false},
		{"the other has none", isBreakline, 1, none, 1, false},
		{"the first has none", isBreakline, none, 1, 1, false},
		{"neither", isBreakline, none, none, none, false},
	} {
		d := ground(false)
		d.strung(c.other, 0, false, [3]float64{5, 2, c.zb}, [3]float64{5, 8, c.zb})
		d.strung(isBreakline, 1, false, [3]float64{2, 5, c.za}, [3]float64{8, 5, c.za})
		n := d.add(m(5), m(5), source{isBreakline, 1})
		for i := 1; i <= 2; i++ {
			d.chains[i].node, d.chains[i].own = slices.Insert(d.chains[i].node, 1, n), slices.Insert(d.chains[i].own, 1, false)
		}
		d.meets = []meeting{{a: 1, b: 2, node: n}}
		d.curbs = 2
		for d.drawBreaklines() {
		}
		if math.IsNaN(c.want) {
			if d.how[n] != unknown {
				t.Errorf("%s: stands at %g", c.name, geometry.Metres(d.z[n]))
			}
			continue
		}
		if d.z[n] != m(c.want) || d.how[n] != drawn {
			t.Errorf("%s: stands at %g, want %g", c.name, geometry.Metres(d.z[n]), c.want)
		}
		if rules := d.rules(); (len(rules) > 0) != c.refused || c.refused && (!strings.Contains(rules[0], " cross, but their elevations ") || len(rules) != 1) {
			t.Errorf("%s: refused %q", c.name, rules)
		}
	}
	d := ground(false)
	n := d.add(m(5), m(5), source{isSpot, 0})
	d.z[n], d.how[n] = 77, given
	meet := meeting{node: n}
	if !d.join(&meet) || !meet.done || d.z[n] != 77 {
		t.Error("a crossing that stands already is not left as it is")
	}
}

// TestLinesNeedTwoElevations: a breakline with one is refused with its count; a closed one counts its first point once.
func TestLinesNeedTwoElevations(t *testing.T) {
	for _, c := range []struct {
		name   string
		closed bool
		z      []float64
		want   int // -1: taken
	}{
		{"two", false, []float64{1, none, 1.2}, -1},
		{"one", false, []float64{none, 1, none}, 1},
		{"none", false, []float64{none, none, none}, 0},
		{"a ring of two", true, []float64{1, none, 1.2}, -1},
		{"a ring whose first point alone has one", true, []float64{1, none, none}, 1},
	} {
		d := ground(false)
		d.r.Breaklines[0].ID = "B7"
		d.strung(isBreakline, 0, c.closed, [3]float64{2, 2, c.z[0]}, [3]float64{5, 2, c.z[1]}, [3]float64{5, 6, c.z[2]})
		d.countKnown(&d.chains[1])
		if c.want < 0 {
			if len(d.rules()) > 0 {
				t.Errorf("%s: %q", c.name, d.rules())
			}
			continue
		}
		want := "breakline B7 has " + string(rune('0'+c.want)) + " of the two points with an elevation that it needs"
		if p := d.refusal.Problems; len(p) != 1 || p[0].Rule != want || p[0].Mend != "give its points elevations, or let them lie on spots" || p[0].At != (orb.Point{2, 2}) {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

// TestEndsThatMeetOtherLines: a breakline's own end on another line, which has no point there: within 3 mm it takes the outline's elevation, which is said where it changes, or the mean with another breakline's; beyond that both are refused. Nothing is compared with a curb, at a spot, or on an outline that has no elevations of
// its own.
func TestEndsThatMeetOtherLines(t *testing.T) {
	for _, c := range []struct {
		name    string
		other   role
		bare    bool
		atSpot  bool
		end     float64 // the line it meets stands at 0.5 there
		want    float64
		said    bool
		refused string
	}{
		{"outline, 2 mm off", isOutline, false, false, 0.502, 0.5, true, ""},
		{"outline, as it is", isOutline, false, false, 0.5, 0.5, false, ""},
		{"outline, 4 mm off", isOutline, false, false, 0.504, 0.504, false, "breakline B2 meets the outline, but their elevations 0.5040 and 0.5000 m differ by 4.0 mm there"},
		{"outline without elevations", isOutline, true, false, 0.7, 0.7, false, ""},
		{"another breakline, 2 mm off", isBreakline, false, false, 0.502, 0.501, false, ""},
		{"another breakline, 4 mm off", isBreakline, false, false, 0.504, 0.504, false, "breakline B2 meets breakline B1, but their elevations 0.5040 and 0.5000 m differ by 4.0 mm there"},
		{"a spot settles it", isBreakline, false, true, 0.6, 0.6, false, ""},
		{"a curb", isCurb, false, false, 0.6, 0.6, false, ""},
	} {
		d := ground(c.bare)
		d.r.Breaklines[0].ID, d.r.Breaklines[1].ID = "B1", "B2"
		met := 0
		end := [2]float64{5, 0}
		if c.other != isOutline {
			d.strung(c.other, 0, false, [3]float64{2, 5, 0.2}, [3]float64{8, 5, 0.8})
			met, end = 1, [2]float64{5, 5}
		}
		n := d.add(m(end[0]), m(end[1]), source{isBreakline, 1})
		d.z[n], d.how[n] = m(c.end), given
		if c.atSpot {
			d.spot[n] = 0
		}
		d.chains[met].node, d.chains[met].own = slices.Insert(d.chains[met].node, 1, n), slices.Insert(d.chains[met].own, 1, false)
		d.checkEnds()
		if d.z[n] != m(c.want) {
			t.Errorf("%s: stands at %g, want %g", c.name, geometry.Metres(d.z[n]), c.want)
		}
		if got := strings.Join(d.rules(), "; "); got != c.refused {
			t.Errorf("%s: %q, want %q", c.name, got, c.refused)
		}
		if said := len(d.sentences()) > 0; said != c.said {
			t.Errorf("%s: %q", c.name, d.sentences())
		}
	}
}

// TestEndsBeyondAllElevations: the last point of a breakline without an elevation lies on the plane of the nearest spots, and that is said; here all stand on 1 + 0.02 x.
func TestEndsBeyondAllElevations(t *testing.T) {
	d := ground(true)
	d.r.Breaklines[0].ID = "B7"
	for i, p := range [][2]float64{{1, 1}, {9, 1}, {1, 9}, {9, 9}, {5, 2}, {5, 8}} {
		n := d.add(m(p[0]), m(p[1]), source{isSpot, int32(i)})
		d.z[n], d.how[n], d.spot[n] = m(1+0.02*p[0]), given, int32(i)
	}
	n := d.strung(isBreakline, 0, false, [3]float64{3, 5, 1.06}, [3]float64{5, 5, 1.10}, [3]float64{6, 5, none})
	d.elevateBreaklines()
	if got := d.z[n[2]]; d.how[n[2]] != assumed || !(math.Abs(float64(got-m(1.12))) <= 1) {
		t.Errorf("stands at %g, want 1.12", geometry.Metres(got))
	}
	if !slices.ContainsFunc(d.sentences(), func(s string) bool { return strings.Contains(s, "B7") }) {
		t.Errorf("said: %q", d.sentences())
	}
}

// TestFootBetweenEqualSpots: two spots as near as each other count together: by hand, of 1.00 m at (-1, 0), 1.02 at (1, 0) and 1.03 at (0, 2) the plane rises by 0.01 to the east and to the north, and stands at 1.01 in the middle of the two, so at (0.5, 0.5) at 1.02. Told by the first alone it is
// kept within the range of all.
func TestFootBetweenEqualSpots(t *testing.T) {
	d := spots([3]float64{-1, 0, 1}, [3]float64{1, 0, 1.02}, [3]float64{0, 2, 1.03})
	p := d.newPlanes()
	near := []nearby.Neighbour{{N: 0, Distance: 1}, {N: 1, Distance: 1}, {N: 2, Distance: 4}}
	for _, c := range []struct{ x, y, want float64 }{{0.5, 0.5, 1.02}, {-0.5, 0.25, 1.0075}, {0, 0, 1.01}, {2, 2, 1.03}, {-3, -3, 1}} {
		if got := p.pinned(m(c.x), m(c.y), near); !(math.Abs(float64(got-m(c.want))) <= 1) {
			t.Errorf("at (%g, %g): %g, want %g", c.x, c.y, geometry.Metres(got), c.want)
		}
	}
	// With heights that lie on no plane the foot starts from the mean of the nearest: 1.00, 1.02 and 1.03, 1.05 at the corners of a square of 2 m, the two in the south as near: the plane rises by 0.01 to the east and 0.015 to the north, from 1.01.
	d = spots([3]float64{-1, 0, 1}, [3]float64{1, 0, 1.02}, [3]float64{-1, 2, 1.03}, [3]float64{1, 2, 1.05})
	near = []nearby.Neighbour{{N: 0, Distance: 1}, {N: 1, Distance: 1}, {N: 2, Distance: 5}, {N: 3, Distance: 5}}
	if got := d.newPlanes().pinned(m(0.4), m(0.6), near); got != m(1.01+0.004+0.009) {
		t.Errorf("%g, want 1.023", geometry.Metres(got))
	}
	if got := d.newPlanes().through(m(0), m(0), nil); got != 0 {
		t.Errorf("through nothing: %d", got)
	}
}

// TestPlanesRestOnSpots: with three spots nothing else counts; with two everything that was measured does; what was assumed never does.
func TestPlanesRestOnSpots(t *testing.T) {
	for n, want := range map[int]float64{3: 1, 2: 2} {
		d := empty()
		for i := range 3 {
			v := d.add(m(float64(i)), m(float64(i*i)), source{isSpot, int32(i)})
			d.z[v], d.how[v] = m(1), given
			if i < n {
				d.spot[v] = int32(i)
			} else {
				d.z[v] = m(2)
			}
		}
		v := d.add(m(9), m(9), source{isBreakline, 0})
		d.z[v], d.how[v] = m(2), given
		v = d.add(m(9.1), m(9), source{isBreakline, 0})
		d.z[v], d.how[v] = m(50), assumed
		near := d.newPlanes().cloud.Nearest(m(9), m(9), 1)
		if got := d.z[near[0].N]; got != m(want) {
			t.Errorf("%d spots: the nearest stands at %g, want %g", n, geometry.Metres(got), want)
		}
	}
}

// TestTwiceTheAreaOfARing, by hand: a square of 4 by 4 without one of 2 by 2 in its corner has 12 units of area, positive counter-clockwise, wherever the ring begins and whether its first node stands again at its end.
func TestTwiceTheAreaOfARing(t *testing.T) {
	d := empty()
	var ring []int32
	for _, p := range [][2]int32{{100, 50}, {104, 50}, {104, 52}, {102, 52}, {102, 54}, {100, 54}} {
		ring = append(ring, d.add(p[0], p[1], source{}))
	}
	for first := range ring {
		turned := append(slices.Clone(ring[first:]), ring[:first]...)
		if got := d.twiceRing(turned); got != 24 {
			t.Errorf("from node %d: %d", first, got)
		}
		if got := d.twiceRing(append(slices.Clone(turned), turned[0])); got != 24 {
			t.Errorf("closed, from node %d: %d", first, got)
		}
		reverse(turned)
		if got := d.twiceRing(turned); got != -24 {
			t.Errorf("the other way, from node %d: %d", first, got)
		}
	}
	if got := d.twiceRing(ring[:2]); got != 0 {
		t.Errorf("of two nodes: %d", got)
	}
}
