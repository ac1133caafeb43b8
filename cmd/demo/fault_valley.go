package demo

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// sag makes the valley fall back between x = from and x = to: it drops by depth there instead of rising.
func (t *trough) sag(from, to, depth float64) {
	a, b := t.floor.height(from), t.floor.height(to)
	lost := b - a + depth
	var floor profile
	for _, p := range t.floor {
		if p.at < from {
			floor = append(floor, p)
		}
	}
	floor = append(floor, profile{{from, a}, {to, a - depth}}...)
	for _, p := range t.floor {
		if p.at > to {
			floor = append(floor, struct{ at, height float64 }{p.at, p.height - lost})
		}
	}
	t.floor = floor
	for _, x := range []float64{from, to} {
		t.fold("grade-break", orb.Point{x, -t.width / 2}, orb.Point{x, -0.4})
		t.fold("grade-break", orb.Point{x, 0.4}, orb.Point{x, t.width / 2})
	}
	fall := (floor[len(floor)-1].height - (a - depth)) / (t.length - to)
	t.faults = append(t.faults, Fault{
		Kind: finding.ValleyFlat, What: "the valley falls back, away from its outlet",
		Place: orb.Point{to, 0}, Depth: depth,
		Area:   box(from-1, -depth/t.cross-1.5, to+depth/fall+1.5, depth/t.cross+1.5),
		Brings: []finding.Kind{finding.PlaneFlat},
	})
}

// levelValley gives the whole valley another fall.
func (t *trough) levelValley(fall float64) {
	t.floor = profile{{0, 0}, {t.length, t.length * fall}}
	t.faults = append(t.faults, Fault{
		Kind: finding.ValleyFlat, What: "the valley has less fall than the criterion",
		Place: orb.Point{t.length / 2, 0}, Slope: fall, Area: box(-0.5, -1, t.length+0.5, 1),
	})
}

// unitInValley sets a curb across the valley with no cricket behind it: water stands until it can pass
// the curb's upper corners, at cross*half its width.
func (t *trough) unitInValley(label string, x, length, depth float64) {
	half := depth / t.cross
	x1 := x + length
	t.curbs = append(t.curbs, curb{
		ring:   []orb.Point{{x, -half}, {x1, -half}, {x1, 0}, {x1, half}, {x, half}, {x, 0}},
		height: curbHeight, label: label,
	})
	t.keep = append(t.keep, box(x-0.5, -half-0.5, x1+0.5, half+0.5))
	fall := (t.floor.height(x1+1) - t.floor.height(x1)) / 1
	t.faults = append(t.faults, Fault{
		Kind: finding.CricketMissing, What: "no cricket behind " + label + ", which stands across the valley",
		Place: orb.Point{x1, 0}, Depth: depth, Area: box(x1-0.3, -half-1, x1+depth/fall+1, half+1),
	})
}

// lump leaves a hump in the valley near its outlet, just long enough across the valley that water runs over
// its back and not round its ends.
func (t *trough) lump(at, depth float64) {
	const along = 0.8
	fall := (t.floor.height(at+1) - t.floor.height(at)) / 1
	height := depth + fall*along
	end := 1.05 * height / t.cross
	top := 0.3 * end
	t.raise(func(p orb.Point) float64 {
		return height * math.Max(0, 1-math.Abs(p[0]-at)/along) * math.Min(1, math.Max(0, (end-math.Abs(p[1]))/(end-top)))
	})
	for _, x := range []float64{at - along, at, at + along} {
		for _, y := range []float64{0, top, (top + end) / 2, end} {
			t.shoot(orb.Point{x, y}, orb.Point{x, -y})
		}
	}
	t.keep = append(t.keep, box(at-along-0.3, -end-0.3, at+along+0.3, end+0.3))
	t.faults = append(t.faults, Fault{
		Kind: finding.RiseBefore, What: "a hump lies across the valley before its outlet",
		Place: orb.Point{at + along, 0}, Depth: depth,
		Area: box(at-along-0.5, -end-0.5, at+along+depth/fall+1, end+0.5),
	})
}

// flatCricket books the gap after scupper i as a cricket that is too flat: its angle was given at layout.
func (w *parapet) flatCricket(i int) {
	phi := w.phi[i+1]
	l := (w.at[i+1] - w.at[i]) / 2
	h := l * math.Tan(phi)
	w.faults = append(w.faults, Fault{
		Kind: finding.CricketFlat, What: "the cricket between two scuppers is too narrow for its length",
		Place: orb.Point{w.at[i] + l/2, h / 2}, Slope: valleySlope(w.slope, phi),
		Area: box(w.at[i]-0.5, -0.5, w.at[i+1]+0.5, h+1),
	})
}

// cut ends the trough at length.
func (t *trough) cut(length float64) {
	var floor profile
	for _, p := range t.floor {
		if p.at < length {
			floor = append(floor, p)
		}
	}
	floor = append(floor, struct{ at, height float64 }{length, t.floor.height(length)})
	t.floor = floor
	t.length = length
	t.outline = rectangle(0, -t.width/2, length, t.width/2)
	for i, f := range t.faults {
		if f.Slope > 0 { // it governs the whole length
			t.faults[i].Place = orb.Point{length / 2, 0}
		}
		for j, p := range f.Area {
			t.faults[i].Area[j][0] = math.Min(p[0], length+1)
		}
	}
}
