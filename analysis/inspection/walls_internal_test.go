package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// laid is how a roof of 20 by 10 m lies: along the axes, turned by the angle of the triangle 3, 4, 5, and turned by that and a quarter, each somewhere else.
var laid = []func(p orb.Point) orb.Point{
	func(p orb.Point) orb.Point { return p },
	func(p orb.Point) orb.Point { return orb.Point{0.8*p[0] - 0.6*p[1] + 40, 0.6*p[0] + 0.8*p[1] - 70} },
	func(p orb.Point) orb.Point { return orb.Point{-0.6*p[0] - 0.8*p[1] - 9, 0.8*p[0] - 0.6*p[1] + 5} },
}

// walled is that roof, walled all round, on one plane of 2 % that falls onto its south wall, with primary outlets along that wall.
func walled(t *testing.T, to func(p orb.Point) orb.Point, outlets ...float64) *inspector {
	t.Helper()
	at := func(x, y float64) orb.Point { return to(orb.Point{x, y}) }
	corner := func(x, y float64) roof.Position { return roof.Position{Plan: at(x, y), HasZ: true, Z: 0.02 * y} }
	r := shape.New("walled", corner(0, 0), corner(20, 0), corner(20, 10), corner(0, 10))
	for x := 1.0; x < 20; x++ {
		for y := 1.0; y < 10; y++ {
			p := at(x, y)
			shape.Spot(r, p[0], p[1], 0.02*y)
		}
	}
	s := shape.Build(t, r)
	for _, x := range outlets {
		s.Outlets = append(s.Outlets, surface.Outlet{Plan: at(x, 0), Duty: roof.Primary, Type: roof.Scupper, Source: len(s.Outlets)})
	}
	p := rectangle(20, 10)
	up := [2]float64{at(0, 1)[0] - at(0, 0)[0], at(0, 1)[1] - at(0, 0)[1]}
	p.Slope, p.Gradient, p.BelowMin = 0.02, [2]float64{0.02 * up[0], 0.02 * up[1]}, false
	in := &inspector{
		Results: &Results{Roof: r, Surface: s, Criteria: standard.Defaults(), Ponds: &ponding.Ponds{}, Slopes: &slope.Slopes{Planes: []slope.Plane{p}, Plane: make([]int32, s.TIN.Facets())}},
		locate:  surface.NewLocator(s.TIN),
	}
	in.Places = place.New(r, s.TIN, nil)
	in.markWet()
	return in
}

// TestStretchesOfAWall: by hand, with outlets at 4 and 12 m along the wall onto which the roof falls: stretches of 4, 8 and 8 m, the middle one of which is 4 m from an outlet at most. All are level along their foot. An outlet at 9 m more leaves 3 m to the one at 12, under 10 ft both ways: 5 m between two are 2.5 m. However the roof lies.
func TestStretchesOfAWall(t *testing.T) {
	for k, to := range laid {
		for _, c := range []struct {
			outlets []float64
			want    [][3]float64 // from, to, and reach
		}{
			{[]float64{4, 12}, [][3]float64{{0, 4, 4}, {4, 12, 4}, {12, 20, 8}}},
			{[]float64{4, 9, 12}, [][3]float64{{0, 4, 4}, {12, 20, 8}}},
			{[]float64{3, 17}, [][3]float64{{3, 17, 7}}},
			{[]float64{3.1, 16.9}, [][3]float64{{0, 3.1, 3.1}, {3.1, 16.9, 6.9}, {16.9, 20, 3.1}}},
		} {
			in := walled(t, to, c.outlets...)
			var got []foot
			for _, w := range in.walls() {
				got = append(got, in.levelFeet(w)...)
			}
			if len(got) != len(c.want) {
				t.Errorf("laid %d, outlets at %v: %d stretches, want %d", k, c.outlets, len(got), len(c.want))
				continue
			}
			for i, want := range c.want {
				a, b := to(orb.Point{want[0], 0}), to(orb.Point{want[1], 0})
				f := got[i]
				if !(math.Hypot(f.line[0][0]-a[0], f.line[0][1]-a[1]) <= 1e-4) || !(math.Hypot(f.line[1][0]-b[0], f.line[1][1]-b[1]) <= 1e-4) || !(math.Abs(f.length-want[1]+want[0]) <= 1e-4) || !(math.Abs(f.reach-want[2]) <= 1e-4) {
					t.Errorf("laid %d, outlets at %v, stretch %d: %+v, want %v to %v, reach %g", k, c.outlets, i, f, a, b, want[2])
				}
			}
		}
	}
}

// TestCricketsBeforeAWall: of a stretch from 4 to 12 m a coded cricket that begins or ends before it, no farther off than 8 m, judges itself; one before another stretch, behind the wall's end or farther off does not. However the roof lies.
func TestCricketsBeforeAWall(t *testing.T) {
	for k, to := range laid {
		in := walled(t, to)
		from, along := to(orb.Point{0, 0}), to(orb.Point{1, 0})
		u := [2]float64{along[0] - from[0], along[1] - from[1]}
		for _, c := range []struct {
			x, y float64
			want bool
		}{{6, 2, true}, {4.1, 7.9, true}, {11.9, 0.5, true}, {3.9, 2, false}, {12.1, 2, false}, {8, 8.1, false}, {8, 7.9, true}} {
			for _, ends := range [2]orb.LineString{{to(orb.Point{c.x, c.y}), to(orb.Point{8, 300})}, {to(orb.Point{8, 300}), to(orb.Point{c.x, c.y})}} {
				in.Slopes.Valleys = []slope.Line{{Named: true, Type: roof.Cricket, Plan: ends}}
				if got := in.crickets(from, u, 4, 12); got != c.want {
					t.Errorf("laid %d, a cricket at (%g, %g): %v", k, c.x, c.y, got)
				}
			}
		}
	}
}

// TestShareOfAWallThatIsLevel: a listed pond before the first 5 of 20 m takes these out, unless it is a note only; planes that were not settled take all. A place off the roof counts as not level. However the roof lies.
func TestShareOfAWallThatIsLevel(t *testing.T) {
	for k, to := range laid {
		in := walled(t, to)
		tin := in.Surface.TIN
		from, along := to(orb.Point{0, 0}), to(orb.Point{1, 0})
		u := [2]float64{along[0] - from[0], along[1] - from[1]}
		in.Surface.Spacing = 2 // looks are taken 1.5 m before the wall, between two rows of spots
		in.Listed, in.grades = []Listed{{}}, []finding.Severity{finding.Repair}
		for f := range in.wet {
			mx := 0.0
			for _, v := range tin.V[3*f : 3*f+3] {
				mx += ((tin.X[v]-from[0])*u[0] + (tin.Y[v]-from[1])*u[1]) / 3
			}
			if mx < 5 {
				in.wet[f] = 0
			}
		}
		near := func(what string, got, want float64) {
			t.Helper()
			if !(math.Abs(got-want) <= 0.026) { // a look is a fortieth
				t.Errorf("laid %d, %s: %g, want %g", k, what, got, want)
			}
		}
		near("a pond before a quarter", in.levelShare(from, u, 0, 20), 0.75)
		near("beyond the pond", in.levelShare(from, u, 6, 20), 1)
		near("past the wall's end", in.levelShare(from, u, 10, 30), 0.5)
		in.grades[0] = finding.Note
		near("a pond that is a note", in.levelShare(from, u, 0, 20), 1)
		in.Slopes.Planes[0].Inner = 0
		near("a plane that the spots do not settle", in.levelShare(from, u, 0, 20), 0)
		// All of a stretch is called level from nine tenths of it on.
		in.Slopes.Planes[0].Inner, in.grades[0] = 1, finding.Repair
		feet := func() (n int) {
			for _, w := range in.walls() {
				n += len(in.levelFeet(w))
			}
			return n
		}
		if got := feet(); got != 0 {
			t.Errorf("laid %d, three quarters of a wall: %d stretches", k, got)
		}
		for f := range in.wet {
			if c := tin.V[3*f]; (tin.X[c]-from[0])*u[0]+(tin.Y[c]-from[1])*u[1] > 1.01 {
				in.wet[f] = -1
			}
		}
		if share := in.levelShare(from, u, 0, 20); !(share >= 0.9) || !(share < 0.99) {
			t.Fatalf("laid %d: a share of %g tells nothing", k, share)
		}
		if got := feet(); got != 1 {
			t.Errorf("laid %d, nine tenths of a wall: %d stretches", k, got)
		}
	}
}

// TestFeetOfWallsInOneNote: two outlets 3 m from the ends of a wall of 20 m leave 14 m in one note; three stretches are told with their number and total, the longest by its place. Without a primary outlet there is no way to judge, and a roof that falls to none of its walls has none.
func TestFeetOfWallsInOneNote(t *testing.T) {
	for _, c := range []struct {
		outlets []float64
		says    string
		total   float64
		resolve finding.Confidence
	}{
		{[]float64{3, 17}, "The roof falls onto 14 of wall, and no cricket shows that turns the water to an outlet.", 14, finding.Likely},
		{[]float64{4, 12}, "The roof falls onto 3 stretches of wall, 20 in all, and no cricket shows that turns the water to an outlet.", 20, finding.Likely},
	} {
		in := walled(t, laid[1], c.outlets...)
		f := in.feet()
		if len(f) != 1 || spoken(f[0].What) != c.says || !(math.Abs(f[0].Size-c.total) <= 1e-4) || f[0].Confidence != c.resolve || f[0].Kind != finding.WallFlat || f[0].Severity != finding.Note {
			t.Errorf("outlets at %v: %+v", c.outlets, f)
		}
		if len(f) == 1 && strings.HasPrefix(f[0].Where.Format, "the longest:") != (len(c.says) > 90) {
			t.Errorf("where: %s", f[0].Where.Format)
		}
		in.Surface.Spacing = 4.1 // of the longest, 7 m and 8 m from an outlet, half is less
		if f = in.feet(); len(c.outlets) == 2 && f[0].Confidence != finding.NotResolved {
			t.Errorf("outlets at %v, spots 4.1 m apart: %s", c.outlets, f[0].Confidence)
		}
	}
	if f := walled(t, laid[1]).feet(); f != nil {
		t.Errorf("without an outlet: %+v", f)
	}
	in := walled(t, laid[1], 3, 17)
	in.Slopes.Planes[0].Gradient = [2]float64{}
	if f := in.feet(); f != nil {
		t.Errorf("without a fall: %+v", f)
	}
}

// TestWallsEndAtBendsAndEdges: an outline that bends by 1 degree in the middle of a side is one wall there, by 3 degrees two; where a gutter runs there is none.
func TestWallsEndAtBendsAndEdges(t *testing.T) {
	for degrees, want := range map[float64]int{1: 4, 1.9: 4, 2.1: 5, 3: 5} {
		down := 10 * math.Tan(degrees*math.Pi/180)
		r := shape.New("bent", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(20, down, 0), shape.At(20, 20, 0), shape.At(0, 20, 0))
		shape.Spot(r, 5, 5, 0.1)
		s := shape.Build(t, r)
		in := &inspector{Results: &Results{Roof: r, Surface: s}}
		if got := len(in.walls()); got != want {
			t.Errorf("a bend of %g degrees: %d walls, want %d", degrees, got, want)
		}
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(0, 20))
		in.Surface = shape.Build(t, r)
		if got := len(in.walls()); got != want-1 {
			t.Errorf("a bend of %g degrees and a gutter: %d walls, want %d", degrees, got, want-1)
		}
	}
}

// TestOddPointsWorstFirst: odd points are told in their order, which sizes keep when findings are sorted; higher, lower and off the roof in words, with their difference where they are on it.
func TestOddPointsWorstFirst(t *testing.T) {
	in := box(t)
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	id := in.Roof.Spots[0].ID
	in.Odd = []blunder.Odd{
		{Spot: 0, Vertex: 3, Plan: orb.Point{4, 4}, Z: 1.5, Expected: 1.2}, {Spot: -1, Vertex: 5, Plan: orb.Point{6, 4}, Z: 1, Expected: 1.2}, {Spot: 0, Vertex: -1, Plan: orb.Point{40, 4}, Z: 1, Expected: 1.2},
	}
	f := in.odd()
	if len(f) != 3 {
		t.Fatalf("%+v", f)
	}
	for i, want := range []struct {
		says string
		args int
		do   string
	}{
		{"Spot " + id + " stands 0.3 higher than the spots round it say.", 3, "Look it up in the field book. Shoot it again. --drop " + id + " leaves it out; --keep " + id + " says that it is meant."},
		{"A point of the outline stands 0.2 lower than the spots round it say.", 3, "Look it up in the field book. Shoot it again."},
		{"Spot " + id + " lies off the roof and is not used.", 2, "Look it up in the field book. Shoot it again. --drop " + id + " leaves it out; --keep " + id + " says that it is meant."},
	} {
		if f[i].Size != float64(3-i) || spoken(f[i].What) != want.says || len(f[i].Measured) != want.args || spoken(f[i].Do) != want.do {
			t.Errorf("%d: size %g, %s; %s, measured %d", i, f[i].Size, spoken(f[i].What), spoken(f[i].Do), len(f[i].Measured))
		}
	}
	in.Odd = append(in.Odd, blunder.Odd{Inlet: true, Z: 1, Expected: 1.2, Spot: -1, Vertex: -1})
	in.Surface.Outlets, in.Roof.Outlets = []surface.Outlet{{Label: "RD-1"}}, []roof.Outlet{{Label: "RD-1"}}
	for i, g := range in.odd() {
		if g.Size != float64(4-i) || i == 3 && spoken(g.What) != "The inlet of RD-1 stands 0.2 below the roof beside it." {
			t.Errorf("%d of four: size %g, %s", i, g.Size, spoken(g.What))
		}
	}
	in.Odd = in.Odd[:3]
	in.Ponds.Ponds, in.Listed, in.position = make([]ponding.Pond, 3), []Listed{{Pond: 2}, {Pond: 0}}, []int32{1, -1, 0}
	in.Rests = [][]int32{{1}, {0, 2}}
	for p, want := range []int{2, 0, 1} {
		if got := in.doubts(int(in.position[p])); len(got) != want {
			t.Errorf("pond %d rests on %d odd points, want %d", p, len(got), want)
		}
	}
	in.Rests = nil
	if got := in.doubts(0); got != nil {
		t.Errorf("nobody asked: %v", got)
	}
}

// Water 24.9 mm under a sill beside it is near it, 25.1 mm under it is not, nor is that of another part of the roof; however the roof lies.
func TestWaterNearASill(t *testing.T) {
	for k, to := range laid {
		for _, c := range []struct {
			x, over float64 // of the sill, over the water
			want    bool
		}{{4.4, 0.0249, true}, {4.4, 0.0251, false}, {4.4, -0.1, true}, {16.4, -0.1, false}} {
			in := walled(t, to)
			cut := in.Surface.Cut
			in.Ponds = &ponding.Ponds{Ponds: []ponding.Pond{{Level: 0.3}, {Level: 9}}, Of: make([]int32, len(cut.X))}
			for v := range in.Ponds.Of {
				in.Ponds.Of[v] = -1
				if p := to(orb.Point{10, 5}); (cut.X[v]-p[0])*(to(orb.Point{1, 0})[0]-to(orb.Point{})[0])+(cut.Y[v]-p[1])*(to(orb.Point{1, 0})[1]-to(orb.Point{})[1]) < 0 { // the west half
					in.Ponds.Of[v] = 0
				}
			}
			in.Roof.Sills = []roof.Sill{{Position: roof.Position{Plan: to(orb.Point{c.x, 5.3}), Z: 0.3 + c.over, HasZ: true}}}
			if got := in.reachesSill(); got[0] != c.want || got[1] {
				t.Errorf("laid %d, %+v: %v", k, c, got)
			}
			in.Roof.Sills = nil
			if got := in.reachesSill(); len(got) != 2 || got[0] || got[1] {
				t.Errorf("laid %d, without sills: %v", k, got)
			}
		}
	}
}
