package mend

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
)

// TestMostOverTheRoof: by hand, a plane of 1 % to the east and 3 % to the north over a level roof, 100 mm up at (2, 2): over a part with a corner at (4, 6) it stands 240 mm up there, whichever corner the part is told from. A part under the roof stands nowhere over it.
func TestMostOverTheRoof(t *testing.T) {
	d := designing(t, func(_, _ float64) float64 { return 0 }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	on := []orb.Point{{2, 2}, {5, 3}, {4, 6}, {1, 5}}
	for range on {
		mendtest.About(t, "highest", d.mostOver([]taper.Patch{{On: []orb.Point{{8, 8}, {9, 8}, {9, 9}}, Z: 0.2}, {On: on, Plan: orb.Point{2, 2}, Z: 0.1, DX: 0.01, DY: 0.03}}), 0.24)
		mendtest.About(t, "under it", d.mostOver([]taper.Patch{{On: on, Z: -0.1}}), 0)
		on = append(on[1:], on[0])
	}
}

// TestTentBehindACurb: by hand, behind a side of 4 m of a curb that stands across a fall of 2 %, and falls half a percent along it: a ridge that rises at f from both corners stands (2 - 0.02/2f) m from the higher one, f + 0.5 % to a metre of that thick, and runs out 50 times that up the valley, less what nobody sees (2 mm) and the steps of 10 cm in which it is looked at.
// The planes are wedges of (f +- 0.5 %)2 w3 / (6 x 2 %) m3. Where the water stands lower than a corner the plane begins there.
func TestTentBehindACurb(t *testing.T) {
	r := shape.New("tent", shape.At(0, 0, 0), shape.At(12, 0, 0.06), shape.At(12, 10, 0.26), shape.At(0, 10, 0.2))
	shape.Curb(r, shape.At(4, 4, 0.1), shape.At(8, 4, 0.12), shape.At(8, 5, 0.14), shape.At(4, 5, 0.12))
	o := shape.Drain(r, 6, 1.5, 0.3)
	o.Invert, o.HasInvert = 0.06, true
	r.Outline.Edge = roof.Wall
	d := designerOf(t, r)
	list := d.tents(&Pond{Pit: orb.Point{6, 5.1}, level: 1})
	if len(list) == 0 {
		t.Fatal("none")
	}
	for _, m := range list {
		args := m.Change.What.Args
		wide, far, thick, f := args[0].Value, args[1].Value, args[2].Value, args[3].Value
		at := 2 - 0.02/(2*f)
		mendtest.About(t, "wide", wide, 4)
		if !(math.Abs(thick-(f+0.005)*at) <= 1e-4) || !(far <= thick/0.02) || !(far >= thick/0.02-0.28) {
			t.Errorf("at %g: %g m thick and %g m up the valley, want %g and %g", f, thick, far, (f+0.005)*at, (f+0.005)*at/0.02)
		}
		volume := ((f+0.005)*(f+0.005)*at*at*at + (f-0.005)*(f-0.005)*(4-at)*(4-at)*(4-at)) / (6 * 0.02)
		if !(math.Abs(m.Volume-volume) <= 0.05*volume) {
			t.Errorf("at %g: %g m3, want %g", f, m.Volume, volume)
		}
		if valley := f * (4 - at) / math.Hypot(4-at, far); !(valley >= 1.1*d.Study.Criteria.MinValleySlope*0.99) {
			t.Errorf("at %g its valley falls %g", f, valley)
		}
	}
	// Water up to 0.125 m only: over the lower corner, at 0.1204 m, but under the higher one, at 0.1404.
	low := d.tents(&Pond{Pit: orb.Point{6, 5.1}, level: 0.1254})
	if len(low) == 0 {
		t.Fatal("none at a lower level")
	}
	f := low[0].Change.What.Args[3].Value
	if at := 2 - 0.005/(2*f); !(math.Abs(low[0].Change.What.Args[2].Value-((f+0.005)*at-0.015)) <= 1e-4) {
		t.Errorf("at a lower level %g m thick, want %g", low[0].Change.What.Args[2].Value, (f+0.005)*at-0.015)
	}
	if len(d.tents(&Pond{Pit: orb.Point{6, 5.7}, level: 1})) != 0 {
		t.Error("behind a curb that stands 0.7 m off")
	}
}

// TestWedgeInALowPlace: by hand, a low place s m behind its lip and t m to the left falls 4 % for a metre and rises 4 % from there, 5 % to the left and 10 % to the right: 2 m long and 0.8 and 0.4 m wide in the water's level. A wedge of 1.2 % from the lip meets the roof within a fifth
// more and half a metre, so that is its rectangle; at the lowest place it is 40 + 12 mm thick. Whichever way the place lies.
func TestWedgeInALowPlace(t *testing.T) {
	lip := orb.Point{5, 5}
	for _, u := range []orb.Point{{0, 1}, {1, 0}, {0, -1}, {-1, 0}} {
		at := func(s, left float64) orb.Point {
			return orb.Point{lip[0] + s*u[0] - left*u[1], lip[1] + s*u[1] + left*u[0]}
		}
		z := func(s, left float64) float64 {
			return 0.04*math.Abs(s-1) - 0.04 + math.Max(0.05*left, -0.1*left)
		}
		on := func(x, y float64) float64 {
			dx, dy := x-lip[0], y-lip[1]
			return z(dx*u[0]+dy*u[1], dy*u[0]-dx*u[1])
		}
		var spots []orb.Point
		for x := 1.0; x < 12; x++ {
			for y := 1.0; y < 10; y++ {
				spots = append(spots, orb.Point{x, y})
			}
		}
		d := designing(t, on, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}, spots...)
		p := &Pond{lip: lip, Place: orb.MultiPolygon{{{at(0, 0), at(1, -0.4), at(2, 0), at(1, 0.8), at(0, 0)}}}, Held: -1}
		w, ok := d.wedgeAlong(p, u, 0.012)
		if !ok {
			t.Fatalf("to %v: none", u)
		}
		for i, want := range []orb.Point{at(0, -0.98), at(2.9, -0.98), at(2.9, 1.46), at(0, 1.46)} {
			mendtest.SamePlace(t, "corner", w.patch.On[i], want)
		}
		volume, thick, area := 0.0, 0.0, 0.0
		const step = 0.01
		for s := step / 2; s < 2.9; s += step {
			for left := -0.98 + step/2; left < 1.46; left += step {
				up := 0.012*s - z(s, left)
				if up > 0 {
					volume += step * step * up
				}
				if up >= Seen {
					area += step * step
				}
				thick = math.Max(thick, up)
			}
		}
		if !(math.Abs(w.volume-volume) <= 0.04*volume) || !(math.Abs(w.area-area) <= 0.1*area) || !(w.thick <= thick) || !(w.thick >= thick-0.01) || !(math.Abs(thick-0.052) <= 0.001) {
			t.Errorf("to %v: %g m3 on %g m2, %g m thick, want %g, %g and %g", u, w.volume, w.area, w.thick, volume, area, thick)
		}
	}
}

// TestWeightOverAnArch: on a low place that an arched span makes, whatever builds up asks an engineer first how the members lie; on any other it does not, and what takes off never does.
func TestWeightOverAnArch(t *testing.T) {
	z := func(x, y float64) float64 {
		return 0.04*math.Abs(y-6) + 0.05*math.Abs(x-5) - 0.02*math.Max(0, 5-y)
	}
	var spots []orb.Point
	for x := 1.0; x < 12; x++ {
		for y := 1.0; y < 10; y++ {
			spots = append(spots, orb.Point{x, y})
		}
	}
	d := designing(t, z, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}, spots...)
	if len(d.Ponds) == 0 {
		t.Fatal("no pond")
	}
	for _, k := range []finding.Kind{finding.Camber, finding.LowPlace, finding.Dish} {
		p := d.Ponds[0]
		p.Finding, p.causes, p.Sags = k, nil, false
		built := 0
		for _, m := range d.Ways(&p) {
			up := m.Fill || m.Kind == Retaper
			if up {
				built++
			}
			asked := len(m.Questions) > 0 && m.Questions[0].Asked == roof.AskDeck && m.Decides[0] == finding.Engineer
			if asked != (up && k == finding.Camber) {
				t.Errorf("%s, by a %s: asks an engineer of the members first: %v", k, m.Kind, asked)
			}
		}
		if built == 0 {
			t.Errorf("%s: nothing builds up", k)
		}
	}
}
