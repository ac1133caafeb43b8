package drainage

import (
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// weir is a scupper open above, of a width in metres.
func weir(t *testing.T, width float64) *capacity.Rating {
	t.Helper()
	r, err := capacity.Of(capacity.Fitting{Kind: capacity.Scupper, Width: quantity.Length(width), Open: true})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// headOf finds the head at which an outlet takes a flow, by halves.
func headOf(r *capacity.Rating, flow float64) float64 {
	low, high := 0.0, 100.0
	for range 100 {
		if mid := (low + high) / 2; r.Flow(mid) < flow {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Outlets that hold one water share what comes so that the water stands at one level over all of them, however high each begins, and take it all: the head that the share of each asks for, over its own
// invert, is the same level. One that stands above that level takes nothing.
func TestOneLevelOverAll(t *testing.T) {
	for _, c := range []struct {
		name    string
		inverts []float64
		demands []float64
		dry     int // index of the one that stands dry, -1 none
	}{
		{"alike", []float64{5, 5}, []float64{0.01, 0.01}, -1},
		{"one higher", []float64{5, 5.03}, []float64{0.01, 0.02}, -1},
		{"the first higher", []float64{5.03, 5, 5.01}, []float64{0.03, 0.001, 0.005}, -1},
		{"one dry", []float64{5, 5.5}, []float64{0.004, 0.004}, 1},
		{"below the datum", []float64{-5, -5.02}, []float64{0.01, 0.02}, -1},
	} {
		d := &Drainage{}
		var outlets []surface.Outlet
		var in []int32
		sum := 0.0
		for i, z := range c.inverts {
			d.Outlets = append(d.Outlets, Outlet{Rating: weir(t, 0.3+0.2*float64(i)), Demand: c.demands[i]})
			outlets = append(outlets, surface.Outlet{Invert: z})
			in = append(in, int32(i))
			sum += c.demands[i]
		}
		d.level(outlets, in)
		taken, level := 0.0, math.Inf(-1)
		for i := range d.Outlets {
			taken += d.Outlets[i].Demand
			if i != c.dry {
				level = math.Max(level, c.inverts[i]+headOf(d.Outlets[i].Rating, d.Outlets[i].Demand))
			}
		}
		if !(math.Abs(taken-sum) <= 1e-12) {
			t.Errorf("%s: %g m3/s in all, want %g", c.name, taken, sum)
		}
		for i := range d.Outlets {
			o := &d.Outlets[i]
			if i == c.dry {
				if o.Demand != 0 || level >= c.inverts[i] {
					t.Errorf("%s: outlet %d takes %g at the level %g", c.name, i, o.Demand, level)
				}
				continue
			}
			if got := c.inverts[i] + headOf(o.Rating, o.Demand); !(math.Abs(got-level) <= 1e-9) {
				t.Errorf("%s: the water stands at %g over outlet %d, and at %g over another", c.name, got, i, level)
			}
		}
	}
}

// What outlets do not take at 3 m of head they share by what they take there, all of it; nothing stays nothing, and where the law of one is not known each keeps its own.
func TestTooMuchAndTooLittle(t *testing.T) {
	run := func(ratings []*capacity.Rating, demands ...float64) []float64 {
		d := &Drainage{}
		for i, r := range ratings {
			d.Outlets = append(d.Outlets, Outlet{Rating: r, Demand: demands[i]})
		}
		d.level([]surface.Outlet{{Invert: 2}, {Invert: 2.5}}, []int32{0, 1})
		return []float64{d.Outlets[0].Demand, d.Outlets[1].Demand}
	}
	a, b := weir(t, 0.3), weir(t, 0.6)
	most := []float64{a.Flow(3), b.Flow(2.5)}
	got := run([]*capacity.Rating{a, b}, 30, 70)
	for i := range got {
		if want := 100 * most[i] / (most[0] + most[1]); !(math.Abs(got[i]-want) <= 1e-9*want) {
			t.Errorf("outlet %d: %g of 100 m3/s, want %g", i, got[i], want)
		}
	}
	if got := run([]*capacity.Rating{a, b}, 0, 0); got[0] != 0 || got[1] != 0 {
		t.Errorf("nothing is shared as %v", got)
	}
	if got := run([]*capacity.Rating{a, nil}, 0.01, 0.02); !reflect.DeepEqual(got, []float64{0.01, 0.02}) {
		t.Errorf("with an unknown law: %v", got)
	}
	a.Links, b.Links = []capacity.Link{{}}, []capacity.Link{{}}
	if got := run([]*capacity.Rating{a, b}, 0.01, 0.02); !reflect.DeepEqual(got, []float64{0.01, 0.02}) {
		t.Errorf("with leaders that take nothing: %v", got)
	}
}

// A measured outlet as a fitting, by what was measured: a scupper discharges into the open where nothing stands behind it and it is an overflow.
func TestFittings(t *testing.T) {
	scupper := roof.Outlet{Type: roof.Scupper, Width: 0.3, OpeningHeight: 0.15, CrestBreadth: 0.2, Duty: roof.Overflow, Diameter: 9, DamHeight: 9}
	with := func(change func(o *roof.Outlet)) roof.Outlet {
		o := scupper
		change(&o)
		return o
	}
	plain := capacity.Fitting{Kind: capacity.Scupper, Width: 0.3, OpeningHeight: 0.15, CrestBreadth: 0.2}
	fits := func(change func(f *capacity.Fitting)) capacity.Fitting {
		f := plain
		change(&f)
		return f
	}
	for _, c := range []struct {
		name string
		o    roof.Outlet
		p    standard.Practice
		want capacity.Fitting
	}{
		{"an overflow scupper", scupper, standard.US, fits(func(f *capacity.Fitting) { f.Open = true })},
		{"a primary scupper", with(func(o *roof.Outlet) { o.Duty = roof.Primary }), standard.US, plain},
		{"a sharp crest", with(func(o *roof.Outlet) { o.Crest = roof.SharpCrest }), standard.US, fits(func(f *capacity.Fitting) { f.Open, f.SharpEdge = true, true })},
		{"with a leader", with(func(o *roof.Outlet) { o.Leader.Diameter = 0.1 }), standard.US, fits(func(f *capacity.Fitting) { f.Leader.Width = 0.1 })},
		{"with a leader of a box", with(func(o *roof.Outlet) { o.Leader.Width, o.Leader.Depth = 0.1, 0.08 }), standard.US, fits(func(f *capacity.Fitting) { f.Leader.Width, f.Leader.Depth = 0.1, 0.08 })},
		{"with a pipe", with(func(o *roof.Outlet) { o.Pipe, o.PipeSlope = 0.1, 0.02 }), standard.US, fits(func(f *capacity.Fitting) { f.Pipe, f.PipeSlope = 0.1, 0.02 })},
		{"with a conductor head", with(func(o *roof.Outlet) { o.ConductorHead = 0.2 }), standard.US, fits(func(f *capacity.Fitting) { f.HeadDepth = 0.2 })},
		{"without a width of its own", with(func(o *roof.Outlet) { o.WidthAssumed = true }), standard.US, fits(func(f *capacity.Fitting) { f.Open, f.Width = true, 0 })},
		{"European", scupper, standard.EU, fits(func(f *capacity.Fitting) {
			f.Open, f.LeaderMethod, f.PipeMethod = true, capacity.Rainwater, capacity.Rainwater
		})},
		{
			"a drain",
			roof.Outlet{Diameter: 0.1, DamDiameter: 0.3, DamHeight: 0.05, Width: 9, Pipe: 0.1, PipeSlope: 0.01},
			standard.US,
			capacity.Fitting{Kind: capacity.Drain, Diameter: 0.1, DamDiameter: 0.3, DamHeight: 0.05, Pipe: 0.1, PipeSlope: 0.01},
		},
		{
			"a European drain",
			roof.Outlet{Diameter: 0.1},
			standard.EU,
			capacity.Fitting{Kind: capacity.Drain, Diameter: 0.1, Method: capacity.WeirOrifice, LeaderMethod: capacity.Rainwater, PipeMethod: capacity.Rainwater},
		},
	} {
		if got := FittingOf(&c.o, c.p); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// An edge takes what comes and has no law; an outlet without a size has none either, and says which it needs.
func TestLaws(t *testing.T) {
	r := &roof.Roof{Outlets: []roof.Outlet{{Type: roof.Drain}, {Type: roof.Drain, Diameter: 0.1}}}
	for _, c := range []struct {
		o          surface.Outlet
		law, error bool
	}{
		{surface.Outlet{Type: roof.EdgeOutlet, Source: -1}, false, false},
		{surface.Outlet{Type: roof.EdgeOutlet, Source: 1}, false, false},
		{surface.Outlet{Type: roof.Drain, Source: -1}, false, false},
		{surface.Outlet{Type: roof.Drain, Source: 0}, false, true},
		{surface.Outlet{Type: roof.Drain, Source: 1}, true, false},
	} {
		law, err := rate(r, &c.o, standard.US)
		if (law != nil) != c.law || (err != nil) != c.error {
			t.Errorf("%+v: a law %v, %v", c.o, law != nil, err)
		}
	}
}

// A wall's foot in pieces of half a metre at most: their middles stand evenly along it, the normal points to its left, and their parts sum to one. Its left side faces 90 degrees before its direction.
func TestPiecesOfAWall(t *testing.T) {
	s := segment{a: orb.Point{10, 20}, b: orb.Point{11.14, 21.52}} // 1.9 m along (3, 4)/5, in four pieces of 0.475 m
	k, sum := 0, 0.0
	s.pieces(func(x, y, nx, ny, part float64) {
		along := 0.2375 + 0.475*float64(k)
		if !(math.Hypot(x-10-0.6*along, y-20-0.8*along) <= 1e-9) || !(math.Hypot(nx+0.8, ny-0.6) <= 1e-12) {
			t.Errorf("piece %d at (%g, %g), normal (%g, %g)", k, x, y, nx, ny)
		}
		k++
		sum += part
	})
	if k != 4 || !(math.Abs(sum-1) <= 1e-12) || !(math.Abs(s.length()-1.9) <= 1e-12) {
		t.Errorf("%d pieces that sum to %g of %g m", k, sum, s.length())
	}
	none := segment{a: orb.Point{1, 1}, b: orb.Point{1, 1}}
	none.pieces(func(float64, float64, float64, float64, float64) { t.Error("a piece of no wall") })
	one := segment{a: orb.Point{1, 1}, b: orb.Point{2, 1}}
	n := 0
	one.pieces(func(float64, float64, float64, float64, float64) { n++ })
	if n != 2 {
		t.Errorf("%d pieces of a wall of 1 m", n)
	}
	for _, c := range []struct {
		to         orb.Point
		left, back float64
	}{{orb.Point{1, 0}, 0, 180}, {orb.Point{0, 1}, -90, 90}, {orb.Point{-1, 0}, 180, 0}, {orb.Point{0, -1}, 90, -90}, {orb.Point{1, 1}, -45, 135}, {orb.Point{3, 4}, math.Atan2(-4, 3) * 180 / math.Pi, math.Atan2(4, -3) * 180 / math.Pi}} {
		g := segment{b: c.to}
		turn := func(a, b float64) float64 { return math.Abs(math.Mod(a-b+720+180, 360) - 180) }
		if l, r := g.bearing(1), g.bearing(-1); !(turn(l, c.left) <= 1e-9) || !(turn(r, c.back) <= 1e-9) {
			t.Errorf("towards %v: left %g, right %g degrees, want %g and %g", c.to, l, r, c.left, c.back)
		}
	}
}
