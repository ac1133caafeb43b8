package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// rectangle is a plane l by w m, w being the shorter, that is well measured and flat.
func rectangle(l, w float64) slope.Plane {
	return slope.Plane{
		Area: l * w, Slope: 0.004, BelowMin: true, Resolved: true, Spots: 20, Own: 20, Inner: 9,
		Outline: orb.MultiPolygon{{{{0, 0}, {l, 0}, {l, w}, {0, w}, {0, 0}}}},
	}
}

// By hand: a flat plane of 6 by 2 m is to be repaired. What makes it a note instead: more than half of it assumed, fewer than six spots of its own, none within it, a width under one and a half spacings of the spots or under four tolerances over the fall of new work, 1 in 48: 2 m are 4 x 10.42 mm x 48. Or that it
// scatters, and may be two planes: by the residual r of a width w each of them may fall r root 12 / w more, half as much again counts: 3 r root 3 / w to the least slope of 1/96 less its own.
func TestPlanesThatSpotsDoNotSettle(t *testing.T) {
	loose := func(residual float64) func(p *slope.Plane, in *inspector) {
		return func(p *slope.Plane, _ *inspector) { p.Loose, p.Residual = true, residual }
	}
	edge := (1.0/96 - 0.004) * 2 / (1.5 * math.Sqrt(12))
	for name, c := range map[string]struct {
		change func(p *slope.Plane, in *inspector)
		want   bool
	}{
		"good":                       {func(*slope.Plane, *inspector) {}, false},
		"half assumed":               {func(p *slope.Plane, _ *inspector) { p.Assumed = 0.5 }, false},
		"more than half assumed":     {func(p *slope.Plane, _ *inspector) { p.Assumed = 0.51 }, true},
		"six spots":                  {func(p *slope.Plane, _ *inspector) { p.Own = 6 }, false},
		"five spots":                 {func(p *slope.Plane, _ *inspector) { p.Own = 5 }, true},
		"none within":                {func(p *slope.Plane, _ *inspector) { p.Inner = 0 }, true},
		"spots 1.32 m apart":         {func(_ *slope.Plane, in *inspector) { in.Surface.Spacing = 1.32 }, false},
		"spots 1.35 m apart":         {func(_ *slope.Plane, in *inspector) { in.Surface.Spacing = 1.35 }, true},
		"a tolerance of 10.4 mm":     {func(_ *slope.Plane, in *inspector) { in.Slopes.Tolerance = 0.0104 }, false},
		"a tolerance of 10.5 mm":     {func(_ *slope.Plane, in *inspector) { in.Slopes.Tolerance = 0.0105 }, true},
		"scattered a little":         {loose(edge * 0.99), false},
		"scattered":                  {loose(edge * 1.01), true},
		"scattered by errors alone":  {func(p *slope.Plane, _ *inspector) { p.Residual = edge * 2 }, false},
		"scattered, and quite level": {func(p *slope.Plane, in *inspector) { loose(edge)(p, in); p.Slope = 0.001 }, false},
	} {
		in := box(t)
		in.Surface.Spacing = 1
		p := rectangle(6, 2)
		c.change(&p, in)
		if got := in.unsettled(&p); got != c.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}

// A flat plane counts from 10 ft2 (0.929 m2) that fit it and a width of 0.9 m on; where over a fifth of it stands under listed water, or its pond's finding speaks of it already, it is the pond's. In all flat and half flat ones are told by their number.
func TestPlanesThatCount(t *testing.T) {
	in := box(t)
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	in.Surface.Spacing = 0.1
	in.wet = make([]int32, in.Surface.TIN.Facets())
	for f := range in.wet {
		in.wet[f] = -1
	}
	facets := []int32{0, 1, 2, 3}
	in.Slopes.Plane = make([]int32, in.Surface.TIN.Facets())
	for f := range in.Slopes.Plane {
		in.Slopes.Plane[f] = 0
	}
	area := 0.0
	for _, f := range facets {
		area += in.Surface.TIN.FacetArea(f)
	}
	for name, c := range map[string]struct {
		change func(p *slope.Plane)
		want   int
	}{
		"good":              {func(*slope.Plane) {}, 1},
		"0.89 m wide":       {func(p *slope.Plane) { *p = rectangle(6, 0.89) }, 0},
		"0.91 m wide":       {func(p *slope.Plane) { *p = rectangle(6, 0.91) }, 1},
		"0.92 m2 of it fit": {func(p *slope.Plane) { p.Weak = 12 - 0.92 }, 0},
		"0.94 m2 of it fit": {func(p *slope.Plane) { p.Weak = 12 - 0.94 }, 1},
		"not under it":      {func(p *slope.Plane) { p.BelowMin = false }, 0},
		"in doubt":          {func(p *slope.Plane) { p.Resolved = false }, 0},
	} {
		p := rectangle(6, 2)
		c.change(&p)
		p.Facets = facets
		in.Slopes.Planes = []slope.Plane{p}
		if got := in.planes(); len(got) != c.want || c.want == 1 && (got[0].Severity != finding.Repair || got[0].Size != p.Area) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	// Under water.
	in.Causes = []cause.Diagnosis{{Causes: []cause.Candidate{{Kind: finding.Dish}}}}
	p := rectangle(6, 2)
	p.Area, p.Facets = area, facets
	for n := range 5 {
		for i, f := range facets {
			in.wet[f] = -1
			if i < n {
				in.wet[f] = 0
			}
		}
		under := 0.0
		for _, f := range facets[:n] {
			under += in.Surface.TIN.FacetArea(f) / area
		}
		if got := in.underWater(&p); !(math.Abs(got-under) <= 1e-9) {
			t.Errorf("%d facets under water: %g, want %g", n, got, under)
		}
		for share, want := range map[float64]int{0.199: 1, 0.201: 0} { // of a plane as large as makes them that share of it
			if n == 0 {
				break
			}
			q := p
			q.Area *= under / share
			in.Slopes.Planes = []slope.Plane{q}
			if got := in.planes(); len(got) != want {
				t.Errorf("%d facets of %g under water: %d findings, want %d", n, share, len(got), want)
			}
		}
	}
	// What spots do not settle is told in one note, by the largest.
	few := []slope.Plane{rectangle(6, 2), rectangle(8, 2)}
	few[0].Facets, few[1].Facets = facets, facets
	open := in.openPlanes([]*slope.Plane{&few[0], &few[1]})
	if what, where := spoken(open.What), spoken(open.Where); open.Size != 28 || !strings.HasPrefix(what, "2 planes, 28 in all,") || !strings.HasPrefix(where, "the largest:") || open.Measured[1].Name != "slope of the largest" {
		t.Errorf("%q, %q, %+v", what, where, open)
	}
	open = in.openPlanes([]*slope.Plane{&few[0]})
	if what, where := spoken(open.What), spoken(open.Where); open.Size != 12 || !strings.HasPrefix(what, "A plane of 12 ") || strings.HasPrefix(where, "the largest:") || open.Measured[1].Name != "slope" {
		t.Errorf("%q, %q, %+v", what, where, open)
	}
	// In one note: flatter than new work (1/48) by more than two errors, but not as flat as what is to be repaired.
	between := func(slope0, area, sigma float64) slope.Plane {
		p := rectangle(area/2, 2)
		p.Slope, p.Sigma, p.BelowMin, p.Facets = slope0, sigma, false, facets
		return p
	}
	in.Slopes.Planes = []slope.Plane{between(0.015, 12, 0), between(0.018, 20, 0.001), between(0.0195, 40, 0.001), between(0.03, 60, 0), between(0.015, 0.9, 0)}
	if f := in.flatPlanes(); len(f) != 1 || !(math.Abs(f[0].Size-32) <= 1e-9) || f[0].What.Args[0].Value != 2 || f[0].Measured[1].Value != 0.018 || f[0].Decides != finding.Owner {
		t.Errorf("%+v", f)
	}
	in.Slopes.Planes = in.Slopes.Planes[:1]
	if f := in.flatPlanes(); len(f) != 1 || f[0].Size != 12 || !strings.HasPrefix(spoken(f[0].What), "One plane, 12,") {
		t.Errorf("%+v", f)
	}
	in.Slopes.Planes[0].Spots = 5
	if f := in.flatPlanes(); len(f) != 0 {
		t.Errorf("of five spots: %+v", f)
	}
}

// A plane that carries a listed pond which nothing but the want of slope holds is the pond's to tell, and so are flat planes joined to it; a pond of another cause, or one that is a note only, leaves it.
func TestPlanesOfAPondWithoutSlope(t *testing.T) {
	in := box(t)
	tin := in.Surface.TIN
	n := tin.Facets()
	in.Slopes.Plane, in.wet = make([]int32, n), make([]int32, n)
	in.Slopes.Planes = make([]slope.Plane, 4)
	for f := range int32(n) { // four strips of 5 m from west to east
		x := 0.0
		for _, v := range tin.V[3*f : 3*f+3] {
			x += tin.X[v] / 3
		}
		k := min(3, int32(x/5))
		in.Slopes.Plane[f], in.wet[f] = k, -1
		in.Slopes.Planes[k].Facets = append(in.Slopes.Planes[k].Facets, f)
	}
	in.Ponds.Ponds = []ponding.Pond{{Depth: 0.01, Area: 20, Pits: []int32{0}, HeldBy: -1, ToOutlet: -1, Lip: -1}}
	in.Listed = []Listed{{Pond: 0}}
	in.position = []int32{0}
	in.wet[in.Slopes.Planes[0].Facets[0]] = 0
	for i, c := range []struct {
		flat  [4]bool
		cause finding.Kind
		want  [4]bool
	}{
		{[4]bool{true, true, true, true}, finding.LevelArea, [4]bool{true, true, true, true}},
		{[4]bool{true, true, false, true}, finding.LevelArea, [4]bool{true, true, false, false}},
		{[4]bool{false, true, true, true}, finding.LevelArea, [4]bool{}},
		{[4]bool{true, true, true, true}, finding.OutletHigh, [4]bool{}},
	} {
		for k := range c.flat {
			in.Slopes.Planes[k].BelowMin = c.flat[k]
		}
		in.Causes = []cause.Diagnosis{{Causes: []cause.Candidate{{Kind: c.cause}}}}
		in.grades = []finding.Severity{finding.Repair}
		got := in.levelPlanes()
		for k := range c.want {
			if got[k] != c.want[k] {
				t.Errorf("%d: %v, want %v", i, got, c.want)
				break
			}
		}
	}
	in.Causes[0].Causes[0].Kind, in.grades = finding.LevelArea, []finding.Severity{finding.Note}
	for k, marked := range in.levelPlanes() {
		if marked {
			t.Errorf("plane %d is that of a note", k)
		}
	}
}

// The middle of a plane is a place on it: the middle of the facet nearest to its centroid; of an outline its largest polygon is drawn, the place where it has none.
func TestMiddleOfAPlane(t *testing.T) {
	in := box(t)
	tin := in.Surface.TIN
	var p slope.Plane
	for f := range int32(tin.Facets()) {
		x := 0.0
		for _, v := range tin.V[3*f : 3*f+3] {
			x += tin.X[v] / 3
		}
		if x < 8 {
			p.Facets = append(p.Facets, f)
		}
	}
	at := in.middle(&p) // of 8 by 10 m: (4, 5)
	if !(math.Hypot(at[0]-4, at[1]-5) <= 0.8) {
		t.Errorf("the middle is %v, want near (4, 5)", at)
	}
	small, big := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, orb.Polygon{{{2, 2}, {5, 2}, {5, 5}, {2, 2}}}
	for _, outline := range []orb.MultiPolygon{{small, big}, {big, small}} {
		if got := largest(outline, at); got.Bound() != big.Bound() {
			t.Errorf("the largest of %v is %v", outline, got)
		}
	}
	if got := largest(nil, at); got != orb.Geometry(at) {
		t.Errorf("without an outline %v", got)
	}
}

// A valley leads water where it was coded as one, or where it is a fold between planes of the roof, at least 10 ft2 and 0.9 m wide, with a spot within, that both fall towards it by the least of valleys (1/96). It is judged from 10 ft (3.048 m) on, one that nobody coded from two and a half spacings.
func TestLinesThatLeadWater(t *testing.T) {
	in := box(t)
	plane := func(gx, gy float64, change func(p *slope.Plane)) slope.Plane {
		p := rectangle(6, 2)
		p.Gradient = [2]float64{gx, gy}
		if change != nil {
			change(&p)
		}
		return p
	}
	for i, c := range []struct {
		l           slope.Line
		left, right slope.Plane
		want        bool
	}{
		{slope.Line{}, plane(0, 0.02, nil), plane(0, -0.02, nil), true},
		{slope.Line{}, plane(0, 0.02, nil), plane(0, 0.02, nil), false},
		{slope.Line{}, plane(0, -0.02, nil), plane(0, 0.02, nil), false},
		{slope.Line{}, plane(0.03, 0.0105, nil), plane(0.03, -0.0105, nil), true},
		{slope.Line{}, plane(0, 0.0103, nil), plane(0, -0.02, nil), false},
		{slope.Line{}, plane(0, 0.02, nil), plane(0, -0.0103, nil), false},
		{slope.Line{}, plane(0, 0.02, func(p *slope.Plane) { p.Inner = 0 }), plane(0, -0.02, nil), false},
		{slope.Line{Named: true, Type: roof.GradeBreak}, plane(0, 0.02, func(p *slope.Plane) { p.Inner = 0 }), plane(0, -0.02, nil), true},
		{slope.Line{Named: true, Type: roof.GradeBreak}, plane(0, 0.02, nil), plane(0, 0.01, nil), false},
		{slope.Line{Named: true, Type: roof.Valley}, plane(0, 0.02, nil), plane(0, 0.01, nil), true},
		{slope.Line{Named: true, Type: roof.Cricket}, plane(0, 0.02, nil), plane(0, 0.01, nil), true},
		{slope.Line{Named: true, Type: roof.Ridge}, plane(0, 0.02, nil), plane(0, -0.02, nil), false},
		{slope.Line{}, plane(0, 0.02, func(p *slope.Plane) { *p = rectangle(6, 0.89); p.Gradient = [2]float64{0, 0.02} }), plane(0, -0.02, nil), false},
		{slope.Line{}, plane(0, 0.02, func(p *slope.Plane) { p.Area = 0.92 }), plane(0, -0.02, nil), false},
	} {
		for k, u := range [][2]float64{{1, 0}, {0.8, 0.6}, {-0.6, 0.8}} { // along the line; its left is turned with it
			planes := []slope.Plane{c.left, c.right}
			for j := range planes {
				g := planes[j].Gradient
				planes[j].Gradient = [2]float64{g[0]*u[0] - g[1]*u[1], g[0]*u[1] + g[1]*u[0]}
			}
			in.Slopes.Planes = planes
			l := c.l
			l.Left, l.Right, l.Plan = 0, 1, orb.LineString{{3, 4}, {3 + 2*u[0], 4 + 2*u[1]}, {3 + 5*u[0], 4 + 5*u[1]}}
			for points := 3; points >= 2; points-- {
				l.Plan = l.Plan[3-points:]
				if got := in.leadsWater(&l); got != c.want {
					t.Errorf("%d, laid %d, of %d points: %t", i, k, points, got)
				}
			}
		}
	}
	in.Slopes.Planes = []slope.Plane{plane(0, 0.02, nil), plane(0, -0.02, nil)}
	for _, l := range []slope.Line{{Left: -1, Right: 1, Plan: orb.LineString{{0, 0}, {5, 0}}}, {Left: 0, Right: -1, Plan: orb.LineString{{0, 0}, {5, 0}}}, {Left: 0, Right: 1, Plan: orb.LineString{{0, 0}}}} {
		if in.leadsWater(&l) {
			t.Errorf("%+v leads water", l)
		}
	}
	in.Surface.Spacing = 2
	if got := in.shortest(&slope.Line{}); got != 5 {
		t.Errorf("uncoded from %g m, want 5", got)
	}
	if got := in.shortest(&slope.Line{Named: true}); !(math.Abs(got-3.048) <= 1e-9) {
		t.Errorf("coded from %g m, want 3.048", got)
	}
}

// A valley under water is its pond's to tell where the pond's causes say that the valley or cricket is flat, where nobody coded it, or where most of its length is under that water; a pond that is a note takes nothing's place.
func TestValleysOfAPond(t *testing.T) {
	in := box(t)
	tin := in.Surface.TIN
	at := func(x, y float64) int32 {
		for v := range tin.X {
			if tin.X[v] == x && tin.Y[v] == y {
				return int32(v)
			}
		}
		return -1
	}
	var line []int32
	for x := 2.0; x <= 18; x += 2 { // 16 m along y = 4
		line = append(line, at(x, 4))
	}
	in.Ponds = &ponding.Ponds{Ponds: []ponding.Pond{{}}, Of: make([]int32, len(in.Surface.Cut.X))}
	in.Listed, in.position = []Listed{{}}, []int32{0}
	for i, c := range []struct {
		wet   int // vertices of the line, from its first, under water: of eight pieces each with an end under water counts
		named bool
		grade finding.Severity
		cause finding.Kind
		want  bool
	}{
		{0, true, finding.Repair, finding.ValleyFlat, false},
		{1, true, finding.Repair, finding.ValleyFlat, true},
		{1, true, finding.Repair, finding.CricketFlat, true},
		{1, true, finding.Repair, finding.OutletHigh, false},
		{1, false, finding.Repair, finding.OutletHigh, true},
		{4, true, finding.Repair, finding.OutletHigh, false}, // 8 of 16 m
		{5, true, finding.Repair, finding.OutletHigh, true},  // 10 m
		{5, true, finding.Note, finding.ValleyFlat, false},
	} {
		for v := range in.Ponds.Of {
			in.Ponds.Of[v] = -1
		}
		for _, v := range line[:c.wet] {
			in.Ponds.Of[v] = 0
		}
		in.Causes, in.grades = []cause.Diagnosis{{Causes: []cause.Candidate{{Kind: finding.LevelArea}, {Kind: c.cause}}}}, []finding.Severity{c.grade}
		l := slope.Line{Vertices: line, Named: c.named, Length: 16}
		if got := in.namedByPond(&l); got != c.want {
			t.Errorf("%d: %t", i, got)
		}
	}
}

// A spot within 50 mm of an outlet stands at its rim; the nearest within two spacings counts, of equals the first. By hand: an inlet 26 mm below it is a finding, 25 mm is a clamping ring; where the nearest spot stands off, and the roof is drawn over the inlet and over that spot, it is told that nobody shot it.
func TestRimsOfOutlets(t *testing.T) {
	in := box(t)
	in.Surface.Spacing = 1
	in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{5, 5}, Label: "A"}, {Plan: orb.Point{15, 5}, Label: "B"}}
	in.Roof.Outlets = make([]roof.Outlet, 2)
	in.Surface.Outlets[1].Source = 1
	spot := func(x, y, z float64) roof.Spot {
		s := roof.Spot{}
		s.Plan, s.Z, s.HasZ = orb.Point{x, y}, z, true
		return s
	}
	in.Roof.Spots = []roof.Spot{spot(5.5, 5, 0.1), spot(5, 4.98, 0.2), spot(4.98, 5, 0.3), spot(15, 7.01, 0.4)}
	rims := in.rims()
	if !(math.Abs(rims[0].far-0.02) <= 1e-9) || rims[0].z != 0.2 || !math.IsInf(rims[1].far, 1) {
		t.Errorf("%+v", rims)
	}
	in.Roof.Spots[3].Plan[1] = 6.99
	if rims = in.rims(); !(math.Abs(rims[1].far-1.99) <= 1e-9) || rims[1].z != 0.4 {
		t.Errorf("%+v", rims)
	}
	for _, c := range []struct {
		invert, far float64
		assumed     bool
		want        bool
	}{{0.1743, 0.02, false, true}, {0.1747, 0.02, false, false}, {0.1743, 0.06, false, false}, {0.1743, 0.02, true, false}} {
		in.Surface.Outlets[0].Invert, in.Surface.Outlets[0].InvertAssumed = c.invert, c.assumed
		f, low := in.rimBelow(0, rim{c.far, 0.2})
		if low != c.want || low && (!(math.Abs(f.Size-(0.2-c.invert)) <= 1e-12) || f.Outlet != 0 || f.Measured[1].Value != 0.2) {
			t.Errorf("%+v: %t, %+v", c, low, f)
		}
	}
	for i, c := range []struct {
		low, z, far float64
		change      func(o *surface.Outlet)
		want        bool
	}{
		{0.05, 0.02, 1, nil, true},
		{0.05, 0.049, 1, nil, false},
		{0.025, -0.02, 1, nil, false},
		{0.05, 0.02, 0.04, nil, false},
		{0.05, 0.02, math.Inf(1), nil, false},
		{0.05, 0.02, 1, func(o *surface.Outlet) { o.Duty = roof.Overflow }, false},
		{0.05, 0.02, 1, func(o *surface.Outlet) { o.InvertAssumed = true }, false},
		{0.05, 0.02, 1, func(o *surface.Outlet) { o.Source = -1 }, false},
	} {
		in.Surface.Outlets[1] = surface.Outlet{Source: 1, Low: c.low, Invert: 0}
		if c.change != nil {
			c.change(&in.Surface.Outlets[1])
		}
		if got := in.drawnOver(1, rim{c.far, c.z}); got != c.want {
			t.Errorf("%d: %t", i, got)
		}
	}
}

// What lies off the roof: more than the reach outside the outline, or within a curb or a hole by more than that; 50 mm are play.
func TestOffTheRoof(t *testing.T) {
	in := box(t)
	in.Roof.Curbs = []roof.Curb{{Ring: []roof.Position{{Plan: orb.Point{5, 5}}, {Plan: orb.Point{7, 5}}, {Plan: orb.Point{7, 7}}, {Plan: orb.Point{5, 7}}, {Plan: orb.Point{5, 5}}}}}
	for _, c := range []struct {
		at    orb.Point
		reach float64
		want  bool
	}{
		{orb.Point{3, 3}, 0, false},
		{orb.Point{-0.04, 3}, 0, false},
		{orb.Point{-0.06, 3}, 0, true},
		{orb.Point{-0.5, 3}, 0.61, false},
		{orb.Point{-0.62, 3}, 0.61, true},
		{orb.Point{6, 6}, 0, true},
		{orb.Point{6, 6}, 0.9, true},
		{orb.Point{6, 6}, 1.1, false},
		{orb.Point{5.04, 6}, 0, false},
		{orb.Point{5.06, 6}, 0, true},
	} {
		if got := in.offRoof(c.at, c.reach); got != c.want {
			t.Errorf("%v with a reach of %g m: %t", c.at, c.reach, got)
		}
	}
}

// A walled roof is 20 by 10 m: four walls, told from the corner on; an outlet within 6 ft (1.829 m) of one cuts its foot where it stands; crickets coded before a stretch leave that to their own valleys.
func TestWallsAndTheirOutlets(t *testing.T) {
	in := box(t)
	walls := in.walls()
	lengths := map[float64]int{}
	for _, w := range walls {
		sum := 0.0
		for _, e := range w {
			d := in.along(e)
			sum += math.Hypot(d[0], d[1])
		}
		lengths[math.Round(sum)]++
	}
	if len(walls) != 4 || lengths[20] != 2 || lengths[10] != 2 {
		t.Fatalf("%d walls, %v", len(walls), lengths)
	}
	in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{12, 1.82}}, {Plan: orb.Point{6, 1.84}}, {Plan: orb.Point{4, 0}}, {Plan: orb.Point{9, 0}, Duty: roof.Overflow}, {Plan: orb.Point{20, 0}}}
	got := in.outletsAlong(orb.Point{0, 0}, [2]float64{1, 0}, 20)
	want := []float64{0, 4, 12, 20}
	if len(got) != len(want) {
		t.Fatalf("cut at %v, want %v", got, want)
	}
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= 1e-9) {
			t.Errorf("cut at %v, want %v", got, want)
		}
	}
	slant := in.outletsAlong(orb.Point{12 - 4*0.8, 1.82 - 4*0.6}, [2]float64{0.8, 0.6}, 9)
	if len(slant) < 3 || !(math.Abs(slant[1]-4) <= 1e-9) {
		t.Errorf("along a slanted wall cut at %v, want 4", slant)
	}
	for x, want := range map[float64]bool{3: false, 6: true, 11.9: true, 12.1: false} {
		in.Slopes.Valleys = []slope.Line{{Named: true, Type: roof.Cricket, Plan: orb.LineString{{x, 2}, {x, 40}}}}
		if got := in.crickets(orb.Point{0, 0}, [2]float64{1, 0}, 4, 12); got != want {
			t.Errorf("a cricket that begins at %g m: %t", x, got)
		}
	}
	in.Slopes.Valleys[0].Plan = orb.LineString{{6, 8.1}, {6, 40}}
	if in.crickets(orb.Point{0, 0}, [2]float64{1, 0}, 4, 12) {
		t.Error("it begins farther off than the stretch is long")
	}
	in.Slopes.Valleys[0] = slope.Line{Named: true, Type: roof.Valley, Plan: orb.LineString{{6, 2}, {6, 40}}}
	if in.crickets(orb.Point{0, 0}, [2]float64{1, 0}, 4, 12) {
		t.Error("a valley is no cricket")
	}
}

// A gap counts from three and a half spacings and from 4 m on. By hand: a circle 5 m wide on a roof with spots 1.4 m apart (4.9 m) is told, with spots 1.5 m apart (5.25 m) not; one that takes less than a quarter of a plane says nothing of that.
func TestGapsThatCount(t *testing.T) {
	for spacing, want := range map[float64]bool{1.4: true, 1.5: false} {
		in := box(t)
		in.Surface.Spacing = spacing
		in.gapFound = nil
		wide := 5.0
		if wide < math.Max(gapLeast, gapWide*spacing) {
			wide = 0
		}
		in.gapFound = &hole{wide, orb.Point{10, 5}}
		in.Places = place.New(in.Roof, in.Surface.TIN, nil)
		if f := in.gap(); (len(f) == 1) != want || want && (f[0].Size != 5 || f[0].Geometry != orb.Geometry(orb.Point{10, 5})) {
			t.Errorf("spots %g m apart: %+v", spacing, f)
		}
		in.Slopes.Plane = make([]int32, in.Surface.TIN.Facets())
		circle := math.Pi / 4 * 25
		for _, c := range []struct {
			area float64
			want bool
		}{{circle * 3.9, want}, {circle * 4.1, false}} {
			in.Slopes.Planes = []slope.Plane{{Area: c.area}, {Area: c.area}}
			if in.hollow(0) != c.want || in.hollow(1) {
				t.Errorf("spots %g m apart, a plane of %g m2: %t, %t", spacing, c.area, in.hollow(0), in.hollow(1))
			}
		}
	}
}

// Of spots more than a tenth over 10 ft apart, and of a roof that rests on assumed edges by more than a tenth, a note is made.
func TestSparseSurveysAreNoted(t *testing.T) {
	for _, c := range []struct {
		spacing, assumed float64
		want             int
	}{{3, 0, 0}, {3.34, 0, 0}, {3.36, 0, 1}, {3, 0.1, 0}, {3, 0.11, 1}, {3.4, 0.2, 2}} {
		in := box(t)
		in.Surface.Spacing, in.Surface.AssumedShare = c.spacing, c.assumed
		f := in.thin()
		if len(f) != c.want {
			t.Errorf("%g m apart, %g assumed: %d notes", c.spacing, c.assumed, len(f))
		}
		for _, n := range f {
			if at := n.Geometry.Bound().Min; n.Severity != finding.Note || !(math.Hypot(at[0]-10, at[1]-5) <= 1.5) { // a spot near the middle
				t.Errorf("%+v", n)
			}
		}
	}
	if standard.SurveySpacing != 3.048 {
		t.Errorf("10 ft are %g m", standard.SurveySpacing)
	}
}

// By hand: along a wall whose roof lies on its left a plane falls onto it by its gradient across, to the left, and along it by that along: onto it by the least of valleys (1/96) at least, along it by less than that, two errors counted.
func TestPlanesThatFallOntoAWall(t *testing.T) {
	for i, c := range []struct {
		along, onto, sigma float64
		want               bool
	}{{0, 0.02, 0, true}, {0, -0.02, 0, false}, {0, 0.0103, 0, false}, {0, 0.0105, 0, true}, {0.0103, 0.02, 0, true}, {-0.0103, 0.02, 0, true}, {0.0105, 0.02, 0, false}, {-0.0105, 0.02, 0, false}, {0.008, 0.02, 0.0011, true}, {0.008, 0.02, 0.0013, false}} {
		for _, u := range [][2]float64{{1, 0}, {0, 1}, {-0.8, 0.6}, {0.6, -0.8}} {
			in := box(t)
			in.Surface.Spacing = 1
			p := rectangle(6, 2)
			p.Slope, p.Sigma = math.Hypot(c.along, c.onto), c.sigma
			p.Gradient = [2]float64{c.along*u[0] - c.onto*u[1], c.along*u[1] + c.onto*u[0]}
			if got := in.levelAlong(&p, u); got != c.want {
				t.Errorf("%d along %v: %t", i, u, got)
			}
		}
	}
}

// By hand, on a roof that rises 1 % to the east and 2 % to the north from (100, -50): before a sill on it the roof is as high as its plane there; 0.5 m off its edge as high as the nearest corner of a facet within 2 ft, here a spot on the edge; 0.7 m off there is none.
func TestRoofBeforeASill(t *testing.T) {
	const ox, oy = 100.0, -50.0
	r := shape.New("sills", shape.At(ox, oy, 0), shape.At(ox+20, oy, 0.2), shape.At(ox+20, oy+10, 0.4), shape.At(ox, oy+10, 0.2))
	shape.Grid(r, ox, oy, ox+20, oy+10, 10, 5, func(x, y float64) float64 { return 0.01*(x-ox) + 0.02*(y-oy) })
	s := shape.Build(t, r)
	in := &inspector{Results: &Results{Surface: s}, locate: surface.NewLocator(s.TIN)}
	for _, c := range []struct {
		x, y, want float64
		ok         bool
	}{{7.3, 4.1, 0.155, true}, {-0.5, 4, 0.08, true}, {6, 10.5, 0.26, true}, {-0.7, 4, 0, false}, {6, 10.7, 0, false}} {
		if z, ok := in.roofBefore(in.locate, orb.Point{ox + c.x, oy + c.y}); ok != c.ok || !(math.Abs(z-c.want) <= 1e-6) {
			t.Errorf("at (%g, %g): %g, %t; want %g, %t", c.x, c.y, z, ok, c.want, c.ok)
		}
	}
}

// One listed pond is enough for the cautions about water; a load over a limit is told without heads where no water stands at an outlet; the mend of a cause is the one that was told for it, else the usual one; and the longest way begins at its first place, at the outlet where none was drawn.
func TestWhatIsTakenWhereLittleIsKnown(t *testing.T) {
	in := box(t)
	in.Listed = []Listed{{Pond: 0}}
	in.Ponds.Ponds = []ponding.Pond{{Depth: 0.01}}
	in.Causes = []cause.Diagnosis{{Causes: []cause.Candidate{{Kind: finding.OutletHigh, Mend: finding.Say("Set it down.")}}}}
	if got := Cautions(in.Results); len(got) != 9 || got[0] != DeepPond || got[5] != Water {
		t.Errorf("cautions %v", got)
	}
	if got := Mend(finding.OutletHigh, &in.Causes[0]); got != "Set it down." {
		t.Errorf("mend %q", got)
	}
	if got := Mend(finding.Dish, &in.Causes[0]); got != cause.Say(finding.Dish).Mend || got == "" {
		t.Errorf("mend of a dish %q", got)
	}
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	in.Roof.Structure = roof.Structure{LoadLimit: 500, LoadLimitBy: "A. Engineer"}
	in.Load = &rainload.Load{Deepest: 3, Load: 501, Depth: 0.05, Complete: true}
	if f := in.overLimit(); len(f) != 1 || f[0].Size != 501 || len(f[0].Measured) != 3 {
		t.Errorf("%+v", f)
	}
	in.Load.Waters = []rainload.Water{{StaticHead: 0.04, Head: 0.01}}
	if f := in.overLimit(); len(f) != 1 || len(f[0].Measured) != 3 {
		t.Errorf("with a head that is not known: %+v", f)
	}
	in.Load.Waters[0].HeadKnown = true
	if f := in.overLimit(); len(f) != 1 || len(f[0].Measured) != 5 || f[0].Measured[3].Value != 0.04 || f[0].Measured[4].Value != 0.01 {
		t.Errorf("with its head: %+v", f)
	}
	for _, load := range []rainload.Load{{Deepest: 3, Load: 500}, {Deepest: -1, Load: 501}} {
		in.Load = &load
		if f := in.overLimit(); len(f) != 0 {
			t.Errorf("%+v: %+v", load, f)
		}
	}
	in.Surface.Outlets = []surface.Outlet{{Plan: orb.Point{1, 1}}, {Plan: orb.Point{2, 2}}, {Plan: orb.Point{3, 3}}}
	in.Catchments = &catchment.Catchments{Longest: []catchment.Path{{Outlet: 0, Line: orb.LineString{{7, 7}, {1, 1}}}, {Outlet: 0, Full: true, Line: orb.LineString{{9, 9}, {1, 1}}}, {Outlet: 1}}}
	for o, want := range []orb.Point{{9, 9}, {2, 2}, {3, 3}} {
		if got := in.farthest(int32(o)); got != want {
			t.Errorf("outlet %d: from %v, want %v", o, got, want)
		}
	}
}
