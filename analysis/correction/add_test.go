package correction_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// sunkAt is a walled four-way fall with a square place of half a side pressed down by a depth, level at its bottom over 0.6 m; its walls rise at 1 in 10.
func sunkAt(scale, datum float64, x0, y0, depth float64) *roof.Roof {
	flat := 0.02 * math.Max(math.Abs(x0-6*scale), math.Abs(y0-6*scale))
	return falls(1, 1, 12*scale, datum, func(x, y float64) float64 {
		u := math.Max(math.Abs(x-x0), math.Abs(y-y0))
		z := 0.02 * math.Max(math.Abs(x-6*scale), math.Abs(y-6*scale))
		return math.Min(0, flat-depth+0.1*math.Max(0, u-0.6)-z)
	})
}

// dammed is a walled four-way fall of 12 m with a rise of 50 mm across it at 4 m, as a conduit under the membrane: water stands before it.
func dammed(scale, datum float64) *roof.Roof {
	return falls(1, 1, 12*scale, datum, func(x, _ float64) float64 { return 0.05 * math.Max(0, 1-math.Abs(x-4*scale)/scale) })
}

// TestAddedDrain: where nothing else is allowed a drain is made in the low place: clear of what stands there, in a sump, with an overflow 2 in over it and an
// engineer to be asked first. The run of the whole roof finds no pond.
func TestAddedDrain(t *testing.T) {
	for _, s := range sizes {
		r := dammed(s.scale, s.sum)
		out := corrected(t, r, correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.AddOutlet}}})
		a, o := first(t, out)
		if o.Kind != mend.AddOutlet || o.PondsLeft > 0 || o.NewOutlets != 2 || len(o.Worse)+len(o.Limits) > 0 {
			t.Fatalf("%s: %s, %d ponds left, %d new outlets, worse %+v, limits %+v", s.name, o.Kind, o.PondsLeft, o.NewOutlets, o.Worse, o.Limits)
		}
		drain, over := &o.Roof.Outlets[2], &o.Roof.Outlets[3]
		clearOf(t, s.name, r, drain, over)
		near(t, s.name+": overflow over drain", over.Invert-drain.Invert, 0.0508, 1e-9)
		// The foot of the rise, at 3 m, is the lowest place: 0.02 * 3 m over the old drain at 6 m. A sump of 1.2 m falls 0.3 m less than its half side.
		if low := s.sum + 0.06*s.scale; drain.Invert > low+1e-4 || drain.Invert < low-0.6096/24 {
			t.Errorf("%s: inlet %g, lowest place %g", s.name, drain.Invert, low)
		}
		if len(out.EngineerFirst) == 0 || a.Meets || a.Questions[0].Decides != finding.Engineer {
			t.Errorf("%s: engineer %+v, meets %t, questions %+v", s.name, out.EngineerFirst, a.Meets, a.Questions)
		}
		after, err := study.Run(o.Roof, study.Options{})
		if err != nil || len(after.Listed) > 0 {
			t.Errorf("%s: checked afresh: %v, %d ponds", s.name, err, len(after.Listed))
		}
	}
}

// clearOf checks that new outlets stand 2 ft from walls and from each other and from those that were there.
func clearOf(t *testing.T, name string, r *roof.Roof, list ...*roof.Outlet) {
	t.Helper()
	const clear = 0.6096 - 1e-6
	l := r.Outline.Rings[0][2].Plan
	for i, o := range list {
		walls := []float64{o.Plan[0], o.Plan[1], l[0] - o.Plan[0], l[1] - o.Plan[1]}
		slices.Sort(walls)
		if o.Type == roof.Scupper {
			walls = walls[1:] // it stands in one
		}
		if walls[0] < clear {
			t.Errorf("%s: %s stands %.3f m from a wall", name, o.Label, walls[0])
		}
		for k := range r.Outlets {
			if d := math.Hypot(r.Outlets[k].Plan[0]-o.Plan[0], r.Outlets[k].Plan[1]-o.Plan[1]); d < clear {
				t.Errorf("%s: %s stands %.3f m from outlet %d", name, o.Label, d, k)
			}
		}
		for _, n := range list[:i] {
			if d := math.Hypot(n.Plan[0]-o.Plan[0], n.Plan[1]-o.Plan[1]); d < clear {
				t.Errorf("%s: %s stands %.3f m from %s", name, o.Label, d, n.Label)
			}
		}
	}
}

// TestAddedScupper: a pond at the parapet gets a scupper through it with an overflow scupper beside it, both on the wall and clear of its corners; where a higher
// wall adjoins there is none.
func TestAddedScupper(t *testing.T) {
	only := mend.Steering{Only: []mend.Kind{mend.AddScupper}}
	for _, s := range sizes {
		r := sunkAt(s.scale, s.sum, 5*s.scale, 0.5, 0.06)
		out := corrected(t, r, correction.Input{Steering: only})
		a, o := first(t, out)
		if o.Kind != mend.AddScupper || o.PondsLeft > 0 || o.NewOutlets != 2 || len(o.Worse)+len(o.Limits) > 0 {
			t.Fatalf("%s: %s, %d ponds left, %d new outlets, worse %+v, limits %+v", s.name, o.Kind, o.PondsLeft, o.NewOutlets, o.Worse, o.Limits)
		}
		scupper, over := &o.Roof.Outlets[2], &o.Roof.Outlets[3]
		clearOf(t, s.name, r, scupper, over)
		near(t, s.name+": on the wall", scupper.Plan[1], 0, 1e-9)
		near(t, s.name+": overflow on the wall", over.Plan[1], 0, 1e-9)
		near(t, s.name+": overflow over scupper", over.Invert-scupper.Invert, 0.0508, 1e-9)
		if a.Meets || len(out.EngineerFirst) == 0 {
			t.Errorf("%s: meets before the engineer has answered", s.name)
		}
		e := roof.Edge{Type: roof.Wall, AdjoiningHeight: 3, Line: r.Outline.Rings[0][:2]}
		r.Edges = append(r.Edges, e)
		if _, o := first(t, corrected(t, r, correction.Input{Steering: only})); o.NewOutlets > 0 {
			t.Errorf("%s: a scupper into the wall of a higher part", s.name)
		}
	}
}

// TestWhatElseWhereNoOpeningIsAllowed: the engineer's question of a new drain says what is done where the deck may not be opened: the next way for that pond, here one that the user allows.
func TestWhatElseWhereNoOpeningIsAllowed(t *testing.T) {
	for _, c := range []struct {
		only []mend.Kind
		want string
	}{
		{[]mend.Kind{mend.AddOutlet}, "; not allowed: an engineer or a re-tapered section"},
		{[]mend.Kind{mend.AddOutlet, mend.Retaper}, "; not allowed: re-taper the section"},
	} {
		a, o := first(t, corrected(t, dammed(1, 0), correction.Input{Steering: mend.Steering{Only: c.only, Prefer: []mend.Kind{mend.AddOutlet}}}))
		if o.Kind != mend.AddOutlet || !strings.HasSuffix(a.Questions[0].Then.Format, c.want) {
			t.Errorf("%v: %s, %q", c.only, o.Kind, a.Questions[0].Then.Format)
		}
	}
}
