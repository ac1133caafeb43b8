package evidence

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// hummocks is the ground of a nearly level roof of hummocks about four drains.
func hummocks(t *testing.T, seed uint64) *ground {
	t.Helper()
	d := rand.New(rand.NewPCG(seed, 3))
	r := shape.New("hummocks", shape.Bare(0, 0), shape.Bare(36, 0), shape.Bare(36, 24), shape.Bare(0, 24))
	shape.Grid(r, 0, 0, 36, 24, 25, 17, func(x, y float64) float64 {
		u, v := math.Abs(math.Mod(x, 18)-9), math.Abs(math.Mod(y, 12)-6)
		return 0.002*math.Max(u, v) + 0.01*d.NormFloat64()
	})
	for _, x := range []float64{9, 27} {
		for _, y := range []float64{6, 18} {
			o := shape.Drain(r, x, y, 7)
			o.Invert, o.HasInvert = 0.05, true
		}
	}
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	e := ErrorsOf(s, r).Equal(0.03)
	return groundOf(&Input{Surface: s, Ponds: ps, Errors: e}, e.Slope)
}

// tally is how many offers were compared.
type tally struct{ held, stale, changed int }

// compare prices low places anew: an offer that is said to hold is the one that is made now.
func (n *tally) compare(t *testing.T, c *canceller, offers []offer) {
	t.Helper()
	for i := range offers {
		x := &offers[i]
		if !c.isPit(x.pit) {
			continue
		}
		fresh := *x
		fresh.read = nil
		c.renew(&fresh)
		same := fresh.price == x.price && fresh.level == x.level && fresh.door == x.door && slices.Equal(fresh.raise, x.raise) && slices.Equal(fresh.path, x.path)
		holds := x.holds(c.state)
		switch {
		case holds && !same:
			t.Fatalf("an offer of %g up to %g at %d is said to hold; now it is %g up to %g", x.price, x.level, x.pit, fresh.price, fresh.level)
		case holds:
			n.held++
		default:
			n.stale++
		}
		if !same {
			n.changed++
		}
	}
}

// begun is the ground with an offer for each of its low places.
func begun(t *testing.T, seed uint64) *canceller {
	t.Helper()
	g := hummocks(t, seed)
	c := newCanceller(g, 200, 200)
	c.begin()
	return c
}

// TestOffersThatHold cancels low places one after the other and prices all that are left anew after each: some offers hold, some do not any more.
func TestOffersThatHold(t *testing.T) {
	var n tally
	for seed := range uint64(8) {
		c := begun(t, seed)
		for i := range c.offers {
			o := &c.offers[i]
			if c.update(o); c.isPit(o.pit) && o.price < c.most {
				c.apply(c.ground, o)
				n.compare(t, c, c.offers[i+1:])
			}
		}
	}
	if n.held < 1000 || n.changed < 100 || n.changed > n.stale {
		t.Errorf("%+v", n)
	}
}

// TestOffersAtAnOutlet lowers the inlet of each outlet at one place of its rim: offers that look at another place of it do not hold.
func TestOffersAtAnOutlet(t *testing.T) {
	var n tally
	for seed := range uint64(8) {
		c := begun(t, seed)
		for o := range c.into {
			d := slices.IndexFunc(c.doors, func(d door) bool { return d.outlet == int32(o) })
			c.apply(c.ground, &offer{level: c.invert[o] - 0.04, door: int32(d)})
			n.compare(t, c, c.offers)
		}
	}
	if n.held < 1000 || n.changed < 10 || n.changed > n.stale {
		t.Errorf("%+v", n)
	}
}
