package correction_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// movedBy returns a roof that stands elsewhere on its site grid.
func movedBy(r *roof.Roof, dx, dy float64) *roof.Roof {
	n := *r
	line := func(from []roof.Position) []roof.Position {
		out := slices.Clone(from)
		for i := range out {
			out[i].Plan = orb.Point{out[i].Plan[0] + dx, out[i].Plan[1] + dy}
		}
		return out
	}
	n.Outline.Rings = nil
	for _, ring := range r.Outline.Rings {
		n.Outline.Rings = append(n.Outline.Rings, line(ring))
	}
	n.Spots, n.Outlets = slices.Clone(r.Spots), slices.Clone(r.Outlets)
	for i := range n.Spots {
		n.Spots[i].Plan = orb.Point{n.Spots[i].Plan[0] + dx, n.Spots[i].Plan[1] + dy}
	}
	for i := range n.Outlets {
		n.Outlets[i].Plan = orb.Point{n.Outlets[i].Plan[0] + dx, n.Outlets[i].Plan[1] + dy}
	}
	return &n
}

// TestOpenedDoesNotDependOnTheSite: a drain that stands 20 mm high on a roof of 2 % is set down in a sump; wherever the roof stands on its site grid the same boards are
// opened for it: those of the sump, 4 by 4 ft, round the drain, and no more than its edge strip of 1 ft and 6 in of strip-in beyond.
func TestOpenedDoesNotDependOnTheSite(t *testing.T) {
	const ft = 0.3048
	r := falls(1, 1, 12, 0, even)
	r.Outlets[0].Invert = 0.020
	want := 0.0
	for i, by := range [][2]float64{{0, 0}, {0.11, 0.47}, {-0.29, 0.05}, {1000.52, -3.33}} {
		_, o := first(t, corrected(t, movedBy(r, by[0], by[1]), correction.Input{}))
		if change(o, mend.LowerOutlet) == nil {
			t.Fatalf("%v: %v", by, kinds(o))
		}
		if i == 0 {
			want = o.Opened
		}
		near(t, "opened [m2]", o.Opened, want, 1e-6)
		if most := (4 + 2 + 1) * ft * (4 + 2 + 1) * ft; o.Opened < 16*ft*ft || o.Opened > most {
			t.Errorf("%v: opens %g m2", by, o.Opened)
		}
		centre := orb.Point{6 + by[0], 6 + by[1]}
		box := orb.MultiLineString{}
		for _, line := range o.Boards {
			box = append(box, line)
		}
		b := box.Bound()
		for k := range 2 { // the boards lie evenly round the drain
			near(t, "boards to both sides of the drain [m]", b.Max[k]-centre[k], centre[k]-b.Min[k], 0.001)
		}
	}
}

// TestAllowedOverflowIsBuilt: where an engineer has allowed the opening at the place that was drawn, every answer builds the overflow there, 2 in over its drain, and nobody has to be asked
// for it any more; a no builds nothing.
func TestAllowedOverflowIsBuilt(t *testing.T) {
	r := falls(2, 1, 12, 0, even)
	r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow })
	_, before := first(t, corrected(t, r, correction.Input{}))
	i := slices.IndexFunc(before.Changes, func(c mend.Change) bool { return c.Finding == finding.NoOverflow })
	if i < 0 {
		t.Fatal("no place drawn")
	}
	place := before.Changes[i].At
	for _, yes := range []bool{true, false} {
		said := *r
		said.Answers = []roof.Answer{{Question: string(roof.AskOpening), Yes: yes, By: "A. Person, PE", On: "2026-12-02", Plan: place, Placed: true}}
		res := corrected(t, &said, correction.Input{})
		for _, a := range res.Answers {
			o := &res.Options[a.Option]
			k := slices.IndexFunc(o.Roof.Outlets, func(x roof.Outlet) bool { return x.Duty == roof.Overflow })
			if (k >= 0) != yes {
				t.Fatalf("answered %t: overflow %d", yes, k)
			}
			none := slices.ContainsFunc(o.Study.Findings, func(f finding.Finding) bool { return f.Kind == finding.NoOverflow })
			if none == yes || (change(o, mend.AddOutlet) != nil) != yes || (o.NewOutlets == 1) != yes {
				t.Errorf("%s, answered %t: none %t, %d new, %v", a.Name, yes, none, o.NewOutlets, kinds(o))
			}
			if !yes {
				continue
			}
			x, p := &o.Roof.Outlets[k], 0.0
			for n := range o.Roof.Outlets {
				if d := &o.Roof.Outlets[n]; d.Duty == roof.Primary && math.Hypot(d.Plan[0]-x.Plan[0], d.Plan[1]-x.Plan[1]) < 2 {
					p = d.Invert
				}
			}
			near(t, "overflow over its drain [m]", x.Invert-p, 0.0508, 0.0011)
			near(t, "from the place drawn [m]", math.Hypot(x.Plan[0]-place[0], x.Plan[1]-place[1]), 0, 1e-9)
		}
		if yes && len(res.EngineerFirst) > 0 {
			t.Errorf("asked again: %+v", res.EngineerFirst)
		}
	}
}
