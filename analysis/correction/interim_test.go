package correction_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

func change(o *correction.Option, k mend.Kind) *mend.Change {
	i := slices.IndexFunc(o.Changes, func(c mend.Change) bool { return c.Kind == k })
	if i < 0 {
		return nil
	}
	return &o.Changes[i]
}

// core is a core of one layer of polyiso at a place.
func core(id string, at orb.Point, thickness float64, condition string) roof.Core {
	k := roof.Core{Position: shape.At(at[0], at[1], 0), Deck: "concrete", Layers: []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(thickness), Condition: condition}}}
	k.HasZ, k.ID = false, id
	return k
}

// TestWaterIsTakenOffWetInsulation: a pond over a wet core is pumped off until the patch is replaced; over a dry one it is not, and on a roof that people are to
// keep off nobody is sent to pump.
func TestWaterIsTakenOffWetInsulation(t *testing.T) {
	for _, s := range sizes {
		for _, c := range []struct {
			condition, deck string
			want            bool
		}{{"wet", "concrete", true}, {"compressed", "concrete", false}, {"wet", "wood, rotten", false}} {
			r := dammed(s.scale, s.sum)
			k := core("K1", orb.Point{3 * s.scale, 6 * s.scale}, 0.05, c.condition)
			k.Deck = c.deck
			r.Cores = append(r.Cores, k)
			_, o := first(t, corrected(t, r, correction.Input{}))
			if got := change(o, mend.Dewater); (got != nil) != c.want || got != nil && (got.Pond != "P01" || got.Decides != finding.Roofer) {
				t.Errorf("%s, %s on %s: %+v", s.name, c.condition, c.deck, got)
			}
		}
	}
}

// TestSourceThatRainDoesNotFeed: at 5 mm a day 30 mm of water are gone after 144 hours. Seen after twice that, it is fed by something else; seen before, it is not said.
func TestSourceThatRainDoesNotFeed(t *testing.T) {
	for _, c := range []struct {
		hours float64
		want  bool
	}{{96, false}, {280, false}, {296, true}} {
		r, at := hollow(1, 0, 0.045, 1.6)
		r.Cores = append(r.Cores, core("K1", at, 0.05, "compressed"))
		var ring []roof.Position
		for k := range 9 {
			a := math.Pi * float64(k%8) / 4
			ring = append(ring, roof.Position{Plan: orb.Point{at[0] + 0.5*math.Cos(a), at[1] + 0.5*math.Sin(a)}})
		}
		r.Stains = append(r.Stains, roof.Stain{Ring: ring, Depth: 0.03, HoursSinceRain: c.hours})
		s, o := first(t, corrected(t, r, correction.Input{}))
		got := change(o, mend.RemoveSource)
		if (got != nil) != c.want {
			t.Errorf("%g hours: %+v", c.hours, got)
		}
		if c.want && (got.Decides != finding.Mechanical || limit(o.Flags, "water seen longer than it lasts", "P01") == nil || !slices.ContainsFunc(s.Questions, func(q mend.Question) bool { return q.At == got.At })) {
			t.Errorf("%+v, flags %+v", got, o.Flags)
		}
	}
}

// TestStraightRiseIsMoved: what lies straight across the flow is moved before anything is taken off the roof; forbidden, it is taken off.
func TestStraightRiseIsMoved(t *testing.T) {
	for _, s := range sizes {
		l, w := 16*s.scale, 10*s.scale
		h := func(_, y float64) float64 {
			z := s.sum + 0.02*y
			if math.Abs(y-4) < 0.2 {
				z += 0.03
			}
			return z
		}
		r := shape.New("sleeper", shape.At(0, 0, s.sum), shape.At(l, 0, s.sum), shape.At(l, w, h(0, w)), shape.At(0, w, h(0, w)))
		shape.Grid(r, 0, 0, l, w, int(l), int(w), h)
		for x := 0.25; x < l; x += 0.5 {
			for _, y := range []float64{3.7, 3.9, 4.1, 4.3} {
				shape.Spot(r, x, y, h(x, y))
			}
		}
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
		_, o := first(t, corrected(t, r, correction.Input{}))
		if o.Kind != mend.MoveObstacle || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || change(o, mend.MoveObstacle).Decides != finding.Owner {
			t.Errorf("%s: %s, %v, %d ponds left, worse %+v", s.name, o.Kind, kinds(o), o.PondsLeft, o.Worse)
		}
		_, o = first(t, corrected(t, r, correction.Input{Steering: mend.Steering{Forbid: []mend.Kind{mend.MoveObstacle}}}))
		if o.Kind != mend.LowerRise || o.PondsLeft > 0 {
			t.Errorf("%s, not to be moved: %s, %d ponds left", s.name, o.Kind, o.PondsLeft)
		}
	}
}

// TestBuckledBoards: a ring of laps is told from boards that came up by a core on it: no thicker than two others and dry, the boards are fastened again; 25 mm thicker, the
// laps come off.
func TestBuckledBoards(t *testing.T) {
	for _, c := range []struct {
		thickness float64
		condition string
		want      mend.Kind
	}{{0.050, "sound", mend.Resecure}, {0.075, "sound", mend.LowerRise}, {0.050, "wet", mend.LowerRise}} {
		r := falls(2, 1, 10, 0, even)
		for _, ring := range []struct{ radius, up float64 }{{0.5, 0}, {0.8, 0.025}, {1.1, 0}} {
			for k := range 16 {
				a := 2 * math.Pi * float64(k) / 16
				x, y := ring.radius*math.Cos(a), ring.radius*math.Sin(a)
				shape.Spot(r, 5+x, 5+y, 0.02*math.Max(math.Abs(x), math.Abs(y))+ring.up)
			}
		}
		r.Spots = slices.DeleteFunc(r.Spots, func(p roof.Spot) bool {
			d := math.Hypot(p.Plan[0]-5, p.Plan[1]-5)
			return d > 0.55 && d < 1.05 && math.Abs(d-0.8) > 1e-6
		})
		r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow && o.Plan[0] < 10 })
		r.Cores = append(r.Cores, core("K1", orb.Point{5.8, 5}, c.thickness, c.condition), core("K2", orb.Point{2, 9}, 0.050, "sound"), core("K3", orb.Point{15, 2}, 0.052, "sound"))
		_, o := first(t, corrected(t, r, correction.Input{}))
		if change(o, c.want) == nil {
			t.Errorf("%g m, %s: %v", c.thickness, c.condition, kinds(o))
		}
	}
}
