package tape

import (
	"math"
	"strconv"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// probe is a reading of a kind for a pond or an outlet at a place.
func probe(kind roof.ProbeKind, of string, x, z, sigma float64) roof.Probe {
	return roof.Probe{Kind: kind, Of: of, Position: roof.Position{Plan: orb.Point{x, 0}, Z: z, HasZ: true}, Sigma: quantity.Length(sigma)}
}

// By hand: readings of 10.00 and 10.04 m of one place with errors of 1 and 3 mm weigh 9 to 1: 10.004 m, with the error 1/sqrt(1 + 1/9) = 0.949 mm. A reading 50 mm
// off is of the same place, one 51 mm off is not; one of another pond or kind never is. A reading that states no error has the survey's.
func TestMean(t *testing.T) {
	s := &Survey{Sigma: 0.003, Roof: &roof.Roof{Tape: &roof.Tape{Probes: []roof.Probe{
		probe(roof.LowProbe, "1", 5, 10, 0.001), probe(roof.LowProbe, "1", 5.05, 10.04, 0), probe(roof.LowProbe, "1", 5.101, 9, 0), probe(roof.LowProbe, "2", 5, 8, 0),
		probe(roof.LipProbe, "1", 5, 11, 0),
	}}}}
	got := s.mean(&s.Roof.Tape.Probes[0])
	if !got.Known || !(math.Abs(got.Z-10.004) <= 1e-12) || !(math.Abs(got.Sigma-0.001/math.Sqrt(1+1./9)) <= 1e-12) {
		t.Errorf("%+v", got)
	}
	if first, second, third := s.first(0), s.first(1), s.first(3); !first || second || !third {
		t.Errorf("first of their places: %v, %v, %v", first, second, third)
	}
	for _, c := range []struct {
		kind roof.ProbeKind
		of   string
		z    float64
	}{{roof.LowProbe, "1", 9}, {roof.LowProbe, "2", 8}, {roof.LipProbe, "1", 11}} {
		if got := s.probe(c.kind, c.of); !got.Known || got.Z != c.z {
			t.Errorf("the lowest reading of pond %s: %+v, want %g", c.of, got, c.z)
		}
	}
	if got := s.probe(roof.LipProbe, "2"); got.Known {
		t.Errorf("nobody read the lip of pond 2: %+v", got)
	}
}

// The lowest place as read counts; else the water's level less its deepest sounding, with both errors; without a level or a sounding nobody knows it.
func TestLow(t *testing.T) {
	level := hold.Reading{Z: 7, Sigma: 0.002, Known: true}
	read := []roof.Probe{probe(roof.LowProbe, "4", 0, 6.9, 0.001)}
	for _, c := range []struct {
		name   string
		probes []roof.Probe
		pond   Pond
		want   hold.Reading
	}{
		{"as read", read, Pond{ID: "P4", Level: level, Depth: 0.05}, hold.Reading{Z: 6.9, Sigma: 0.001, Known: true}},
		{"of another pond", read, Pond{ID: "P5", Level: level, Depth: 0.05}, hold.Reading{Z: 6.95, Sigma: math.Hypot(0.002, 0.0254/16), Known: true}},
		{"without a sounding", nil, Pond{ID: "P4", Level: level}, hold.Reading{}},
		{"without a level", nil, Pond{ID: "P4", Depth: 0.05}, hold.Reading{}},
		{"one metre deep", nil, Pond{ID: "P4", Level: level, Depth: 1}, hold.Reading{Z: 6, Sigma: math.Hypot(0.002, 0.0254/16), Known: true}},
	} {
		s := &Survey{Sigma: 0.003, Roof: &roof.Roof{Tape: &roof.Tape{Probes: c.probes}}}
		got := s.low(&c.pond)
		if got.Known != c.want.Known || !(math.Abs(got.Z-c.want.Z) <= 1e-12) || !(math.Abs(got.Sigma-c.want.Sigma) <= 1e-12) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// Four outlets in a row, 2, 3, 5 and 9 m from the pond: an overflow, one without readings, and two before which the roof was read. The nearer of these holds; without
// readings the pond's own nearest way off does, unless that is an edge.
func TestHoldExit(t *testing.T) {
	exits := []Exit{
		{Name: "far", Outlet: 0, Line: orb.LineString{{9, 0}}},
		{Name: "overflow", Outlet: 1, Line: orb.LineString{{2, 0}}, Duty: roof.Overflow},
		{Name: "near", Outlet: 2, Line: orb.LineString{{5, 0}}},
		{Name: "unread", Outlet: 3, Line: orb.LineString{{3, 0}}},
		{Name: "gutter", Outlet: -1, Line: orb.LineString{{0, 1}, {9, 1}}},
	}
	before := func(names ...string) (out []roof.Probe) {
		for _, n := range names {
			out = append(out, probe(roof.BeforeProbe, n, 4, 1, 0))
		}
		return append(out, probe(roof.InletProbe, "unread", 3, 1, 0))
	}
	for _, c := range []struct {
		probes  []roof.Probe
		nearest int
		want    int
	}{
		{before("FAR", "near", "overflow", "gutter"), 3, 2},
		{before("near", "far"), 3, 2},
		{before("far"), 3, 0},
		{before("unread", "overflow", "near"), 2, 3},
		{before("overflow"), 3, 3},
		{before(), 0, 0},
		{before(), 4, -1},
		{before(), -1, -1},
	} {
		s := &Survey{Exits: exits, Roof: &roof.Roof{Tape: &roof.Tape{Probes: c.probes}}}
		if got := s.holdExit(&Pond{Exit: c.nearest}); got != c.want {
			t.Errorf("%d readings, the nearest way off is %d: %d, want %d", len(c.probes), c.nearest, got, c.want)
		}
	}
}

// The nearest of several counts wherever it stands in the list, the first as well.
func TestHoldExitInAnyOrder(t *testing.T) {
	s := &Survey{Roof: &roof.Roof{Tape: &roof.Tape{}}}
	for i, x := range []float64{2, 3, 5} {
		name := string(rune('a' + i))
		s.Exits = append(s.Exits, Exit{Name: name, Outlet: i, Line: orb.LineString{{x, 0}}})
		s.Roof.Tape.Probes = append(s.Roof.Tape.Probes, probe(roof.BeforeProbe, name, x, 1, 0))
	}
	for range 3 {
		for at, want := range map[float64]string{1.9: "a", 3.1: "b", 6: "c"} {
			if got := s.holdExit(&Pond{At: orb.Point{at, 0}, Exit: -1}); s.Exits[got].Name != want {
				t.Errorf("from %g, %s first: %s, want %s", at, s.Exits[0].Name, s.Exits[got].Name, want)
			}
		}
		s.Exits = append(s.Exits[1:], s.Exits[0])
	}
}

// On a roof that lies askew the wall that faces more to the west or east comes first, whichever is the nearer: 12 by 8 m turned by 3, 4, 5.
func TestWhereAPlaceLiesAskew(t *testing.T) {
	to := func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y, 0.6*x + 0.8*y} }
	s := &Survey{Walls: offset.Walls(orb.Ring{to(0, 0), to(12, 0), to(12, 8), to(0, 8), to(0, 0)}, false)}
	for _, c := range [][2]float64{{3, 2}, {2, 3}, {1, 3.5}, {5, 0.5}} {
		got := s.Where(to(c[0], c[1]))
		if len(got.Args) != 4 || !(math.Abs(got.Args[0].Value-c[0]) <= 1e-9) || !(math.Abs(got.Args[2].Value-c[1]) <= 1e-9) {
			t.Errorf("%v: %+v", c, got.Args)
		}
	}
}

// By hand: a drain's inlet of which one height is kept has the survey's error, whether it was read by itself once or not at all; read four times it has half of it.
func TestErrorOfAnInlet(t *testing.T) {
	for n, want := range map[int]float64{0: 0.004, 1: 0.004, 4: 0.002} {
		r := &roof.Roof{Tape: &roof.Tape{Placed: true}, Outlets: []roof.Outlet{{Label: "RD-1", Type: roof.Drain, Invert: 5, HasInvert: true}}}
		for range n {
			r.Tape.Probes = append(r.Tape.Probes, probe(roof.InletProbe, "rd-1", 0, 5, 0))
		}
		s := &Survey{Roof: r, Sigma: 0.004, Exits: []Exit{{Name: "RD-1", Outlet: 0, Line: orb.LineString{{0, 0}}}}}
		p := &Pond{ID: "P1", Exit: 0, Level: hold.Reading{Z: 4.9, Known: true}, Depth: 0.1}
		s.hold(p)
		if got := math.Sqrt(p.Holding.Outlet.Sigma*p.Holding.Outlet.Sigma - RulerError*RulerError); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("read %d times by itself: %g m, want %g", n, got, want)
		}
	}
}

// said fills a text with whole millimetres and names.
func said(text finding.Text) string {
	return text.Fill(func(q finding.Quantity) string {
		if q.Dim == finding.Name {
			return q.Word
		}
		return strconv.Itoa(int(math.Round(q.Value*1000))) + " mm"
	})
}

// What the heights tell in words: a drain at (0, 0) whose inlet stands 20 mm over or under the lowest place, or level with it, with the highest roof on the way 1.5 m before it.
func TestHolds(t *testing.T) {
	rise := func(outlet, rise float64, highest int) hold.Holding {
		return hold.Holding{Outlet: hold.Difference{Value: outlet, Sigma: 0.004}, Rise: hold.Difference{Value: rise, Sigma: 0.005}, Highest: highest}
	}
	full := rise(0.02, 0.01, 0)
	full.Depth, full.ByLip = hold.Difference{Value: 0.03, Sigma: 0.006, Answer: hold.Yes}, true
	wet := &roof.Water{}
	for _, c := range []struct {
		name string
		pond Pond
		want string
	}{
		{"over", Pond{Holding: rise(0.02, 0.01, 0)}, "The inlet of RD-1 stands 20 mm over the lowest place (error 4 mm). The highest roof that was read before it, 1500 mm from RD-1, is 10 mm over the inlet (error 5 mm)."},
		{"level", Pond{Holding: rise(0, 0, 0)}, "The inlet of RD-1 stands 0 mm over the lowest place (error 4 mm). The highest roof that was read before it, 1500 mm from RD-1, is 0 mm over the inlet (error 5 mm)."},
		{"under", Pond{Holding: rise(-0.02, -0.01, 0)}, "The inlet of RD-1 lies 20 mm under the lowest place (error 4 mm). The highest roof that was read before it, 1500 mm from RD-1, is 10 mm under the lowest place (error 5 mm)."},
		{"nothing before it", Pond{Holding: rise(0.02, 0, -1)}, "The inlet of RD-1 stands 20 mm over the lowest place (error 4 mm). The roof before it was not read."},
		{"full", Pond{Holding: full, Water: wet}, "The inlet of RD-1 stands 20 mm over the lowest place (error 4 mm). The highest roof that was read before it, 1500 mm from RD-1, is 10 mm over the inlet (error 5 mm). " +
			"Its lip is lower than that way: water leaves over the lip first. When full it stands 30 mm deep (error 6 mm)."},
		{"blocked", Pond{Holding: full, Water: &roof.Water{Outlets: roof.OutletsBlocked}}, "Outlets were blocked when the water was seen."},
		{"no inlet", Pond{Holding: hold.Holding{Highest: -1}, Depth: 0.04}, "No height tells what holds it. Its lip stands at least 40 mm over its lowest place."},
		{"one metre of water", Pond{Holding: hold.Holding{Highest: -1}, Depth: 1}, "No height tells what holds it. Its lip stands at least 1000 mm over its lowest place."},
		{"no outlet", Pond{Holding: full, HoldExit: -1, Depth: 0.04}, "No height tells what holds it. Its lip stands at least 40 mm over its lowest place."},
		{"nothing at all", Pond{HoldExit: -1}, "No height and no depth tells what holds it."},
	} {
		s := &Survey{Exits: []Exit{{Name: "RD-1", Line: orb.LineString{{0, 0}}}}}
		before := probe(roof.BeforeProbe, "RD-1", 1.5, 0, 0)
		c.pond.Before = []*roof.Probe{&before}
		if got := said(s.Holds(&c.pond)); got != c.want {
			t.Errorf("%s:\n%s\nwant:\n%s", c.name, got, c.want)
		}
	}
}
