package trial_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/trial"
)

func built(t *testing.T, r *roof.Roof) (*surface.Surface, *ponding.Ponds) {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	return s, p
}

// slab is a roof of 20 x 10 m on the plane z = 10 + 0.002 x + 0.02 y, with a scupper in its south wall at x = 2 and at x = 18.
func slab(curbs ...roof.Curb) *roof.Roof {
	at := func(x, y float64) roof.Position {
		return roof.Position{Plan: orb.Point{x, y}, Z: 10 + 0.002*x + 0.02*y, HasZ: true}
	}
	r := &roof.Roof{
		Frame:   roof.NewLocal(orb.Point{}, quantity.Metres),
		Outline: roof.Outline{Rings: [][]roof.Position{{at(0, 0), at(20, 0), at(20, 10), at(0, 10), at(0, 0)}}},
		Curbs:   curbs,
	}
	for _, x := range []float64{2, 18} {
		r.Outlets = append(r.Outlets, roof.Outlet{Plan: orb.Point{x, 0}, Type: roof.Scupper, Width: 0.2, Invert: 10, HasInvert: true})
	}
	for x := 1.0; x < 20; x += 3 {
		for y := 1.0; y < 10; y += 2 {
			r.Spots = append(r.Spots, roof.Spot{Position: at(x, y)})
		}
	}
	return r
}

// raised is what stands between two surfaces, of which one is cut from the other [m3].
func raised(s, now *surface.Surface) float64 {
	on := surface.NewLocator(s.Cut)
	sum := 0.0
	t := now.Cut
	for f := range int32(t.Facets()) {
		for _, v := range t.V[3*f : 3*f+3] {
			z, _ := on.HeightAt(t.X[v], t.Y[v])
			sum += (t.Z[v] - z) * t.FacetArea(f) / 3
		}
	}
	return sum
}

func areas(t *testing.T, r *trial.Result, outlets int) []float64 {
	t.Helper()
	c, err := r.Catchments()
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float64, outlets)
	for i := range c.Full {
		if o := c.Full[i].Outlet; o >= 0 {
			out[r.Working[o]] += c.Full[i].Area
		}
	}
	return out
}

// Half a cricket along the south wall, from scupper to scupper. The field falls to the wall by 2 %, and its valleys are to fall by 0.5 %, so they are laid to
// fall by 0.625 % on the 2 %: sin phi = 0.3125, and the boards of 4 % are 0.04 * 8 * 0.3125 = 0.1 m thick at the middle. It holds a third of that times its triangle.
// As found the east scupper takes what comes to the wall east of x = 17.9 on ways that run 1 west in 10 south: 10 * 2.1 - 0.1 * 10^2/2 = 16 m2. With the cricket it
// takes what lies east of the ridge at x = 10 and of the way that comes down to its tip, (10, t): 10 t + 10 (10 - t) - 0.1 (10 - t)^2/2.
func TestCricketAlongAWall(t *testing.T) {
	s, p := built(t, slab())
	before := areas(t, tried(t, s, p), 2)
	near(t, "east scupper as found", before[1], 16, 1e-6)
	r := tried(t, s, p, trial.Change{Kind: trial.Cricket, Base: [2]orb.Point{{2, 0}, {18, 0}}, Valley: 0.005})
	tip := 8 * math.Tan(math.Asin(0.3125))
	b := r.Built[0]
	if len(b.Tips) != 1 {
		t.Fatalf("%d tips", len(b.Tips))
	}
	near(t, "tip east", b.Tips[0][0], 10, 1e-9)
	near(t, "tip north", b.Tips[0][1], tip, 1e-6)
	near(t, "thickness", b.Thickness, 0.1, 1e-6)
	near(t, "valley", b.Valley, (0.02*tip-0.002*8)/math.Hypot(8, tip), 1e-6) // the plane falls to the west besides, and the least of both counts
	near(t, "volume", raised(s, r.Surface), 8*tip*0.1/3, 0.005)              // the boards leave out the scuppers' footprints
	near(t, "raised", r.Raised, 0.1, 1e-5)
	z, _ := surface.NewLocator(r.Surface.Cut).HeightAt(10, 1)
	near(t, "ridge 1 m from the wall", z, 10+0.02+0.02+0.1*(tip-1)/tip, 1e-5)
	after := areas(t, r, 2)
	near(t, "east scupper with the cricket", after[1], 100-0.05*(10-tip)*(10-tip), 0.02)
	near(t, "both", after[0]+after[1], 200, 1e-6)
	depth, _ := water(r)
	near(t, "water in the west corner, up to the scupper at x = 1.9", depth, 0.0038, 1e-6)
}

// A tip that is set and boards of a taper that is set: 8 m times the sine of the foot's angle, times the taper.
func TestCricketAsAsked(t *testing.T) {
	s, p := built(t, slab())
	r := tried(t, s, p, trial.Change{Kind: trial.Cricket, Base: [2]orb.Point{{2, 0}, {18, 0}}, Valley: 0.005, Tip: 6, Rate: 1. / 48})
	near(t, "thickness", r.Built[0].Thickness, 8*0.6/48, 1e-9)
	near(t, "rate", r.Built[0].Rate, 1./48, 1e-12)
	near(t, "volume", raised(s, r.Surface), 8*6*8*0.6/48/3, 0.005)
}

// Behind a curb the boards reach its side; the base may be taped some centimetres off it.
func TestCricketBehindACurb(t *testing.T) {
	at := func(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }
	s, p := built(t, slab(roof.Curb{Ring: []roof.Position{at(8, 3), at(12, 3), at(12, 5), at(8, 5), at(8, 3)}}))
	r := tried(t, s, p, trial.Change{Kind: trial.Cricket, Base: [2]orb.Point{{8, 5.03}, {12, 5.03}}, Valley: 0.01})
	b := r.Built[0]
	if len(b.Tips) != 1 || b.Tips[0][1] < 5.03 {
		t.Fatalf("tips at %v", b.Tips)
	}
	on, was := surface.NewLocator(r.Surface.Cut), surface.NewLocator(s.Cut)
	z, _ := on.HeightAt(10, 5.03)
	before, _ := was.HeightAt(10, 5.03)
	near(t, "thickness at the middle of the base", z-before, b.Thickness, 1e-4)
	z, _ = on.HeightAt(10, 5)
	before, _ = was.HeightAt(10, 5)
	if z-before < b.Thickness {
		t.Errorf("the boards are %g m thick at the curb and %g m before it", z-before, b.Thickness)
	}
}

// Between two drains on a valley the cricket has two halves, and water on it runs to either drain.
func TestCricketBetweenDrains(t *testing.T) {
	at := func(x, y float64) roof.Position {
		return roof.Position{Plan: orb.Point{x, y}, Z: 10 + 0.02*math.Abs(y-5), HasZ: true}
	}
	r := &roof.Roof{
		Frame:      roof.NewLocal(orb.Point{}, quantity.Metres),
		Outline:    roof.Outline{Rings: [][]roof.Position{{at(0, 0), at(20, 0), at(20, 5), at(20, 10), at(0, 10), at(0, 5), at(0, 0)}}},
		Breaklines: []roof.Breakline{{Line: []roof.Position{at(0, 5), at(20, 5)}}},
	}
	for _, x := range []float64{4, 16} {
		r.Outlets = append(r.Outlets, roof.Outlet{Plan: orb.Point{x, 5}, Type: roof.Drain, Bowl: 0.1, Invert: 10, HasInvert: true})
	}
	s, p := built(t, r)
	got := tried(t, s, p, trial.Change{Kind: trial.Cricket, Base: [2]orb.Point{{4, 5}, {16, 5}}, Valley: 0.005})
	b := got.Built[0]
	tip := 6 * math.Tan(math.Asin(0.3125))
	if len(b.Tips) != 2 {
		t.Fatalf("%d tips", len(b.Tips))
	}
	near(t, "valley", b.Valley, 0.00625, 1e-4)
	near(t, "volume", raised(s, got.Surface), 2*6*tip*b.Thickness/3, 0.002)
	sums := areas(t, got, 2)
	near(t, "west drain", sums[0], 100, 0.05)
	near(t, "east drain", sums[1], 100, 0.05)
}

// Where the roof falls away on both sides there is nothing to shed.
func TestCricketOnARidge(t *testing.T) {
	s, p := pan(t)
	_, err := trial.Of(s, p, []trial.Change{{Kind: trial.Cricket, Base: [2]orb.Point{{1, 10}, {9, 10}}}})
	if !errors.As(err, &trial.NoField{}) {
		t.Errorf("a cricket on the high side: %v", err)
	}
}

// Whatever is tried on whatever roof, water is found again and every square metre of the roof runs somewhere: flow, catchments and ponds check themselves.
func TestRandomTrials(t *testing.T) {
	crickets := 0
	for seed := range uint64(60) {
		random := rand.New(rand.NewPCG(seed, 13)) //nolint:gosec // a roof that repeats
		r := shape.Random(seed, 60)
		s, p := built(t, r)
		var changes []trial.Change
		for range 1 + random.IntN(4) {
			c := trial.Change{Kind: trial.Kind(random.IntN(5)), Valley: 0.01}
			if len(s.Outlets) > 0 {
				c.Outlet = random.IntN(len(s.Outlets))
				c.Invert = s.Outlets[c.Outlet].Invert + 0.06*(random.Float64()-0.5)
			}
			if len(p.Ponds) > 0 {
				c.Pond = int32(random.IntN(len(p.Ponds)))
			}
			a, b := random.IntN(len(s.Cut.X)), random.IntN(len(s.Cut.X))
			c.Base = [2]orb.Point{{s.Cut.X[a], s.Cut.Y[a]}, {s.Cut.X[b], s.Cut.Y[b]}}
			if c.Kind <= trial.Block && len(s.Outlets) == 0 || (c.Kind == trial.Shave || c.Kind == trial.Fill) && len(p.Ponds) == 0 {
				continue
			}
			changes = append(changes, c)
		}
		got, err := trial.Of(s, p, changes)
		if errors.As(err, &trial.NoField{}) {
			continue
		}
		if err != nil {
			t.Errorf("seed %d: %v: %+v", seed, err, changes)
			continue
		}
		crickets += len(got.Built)
		if _, err := got.Catchments(); err != nil {
			t.Errorf("seed %d: %v: %+v", seed, err, changes)
		}
	}
	if crickets < 10 {
		t.Errorf("only %d crickets were tried", crickets)
	}
}
