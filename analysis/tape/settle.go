package tape

import (
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/dish"
	"runnel/analysis/hold"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// SigmaOf returns the standard error of a height that states none [m], and whether somebody stated it.
func SigmaOf(r *roof.Roof) (sigma float64, stated bool) {
	sigma = standard.LevelError
	for _, said := range []quantity.Length{r.Sigma, r.Tape.Sigma} {
		if said > 0 {
			sigma, stated = float64(said), true
		}
	}
	return sigma, stated
}

// LevelOf returns the level of a water: as stated, else the mean of the heights on its edge; spread is how far those lie apart [m].
func LevelOf(w *roof.Water, sigma float64) (level hold.Reading, spread float64) {
	if w.HasLevel {
		return hold.Reading{Z: w.Level, Sigma: sigma, Known: true}, 0
	}
	sum, n := 0.0, 0
	low, high := math.Inf(1), math.Inf(-1)
	for i := range w.Edge {
		if e := &w.Edge[i]; e.HasZ {
			sum += e.Z
			n++
			low, high = min(low, e.Z), max(high, e.Z)
		}
	}
	if n == 0 {
		return hold.Reading{}, 0
	}
	return hold.Reading{Z: sum / float64(n), Sigma: sigma / math.Sqrt(float64(n)), Known: true}, high - low
}

// LevelFrom returns the level that the roof round a water gives it: the mean of the heights of the roof at its marks, which heightAt knows.
// Marks near each other stand on the same spots, so that the error goes by a third of their number.
func LevelFrom(w *roof.Water, heightAt func(p orb.Point) (float64, bool)) hold.Reading {
	var z []float64
	sum := 0.0
	for i := range w.Edge {
		if v, ok := heightAt(w.Edge[i].Plan); ok {
			z = append(z, v)
			sum += v
		}
	}
	if len(z) < 3 {
		return hold.Reading{}
	}
	mean, squares := sum/float64(len(z)), 0.0
	for _, v := range z {
		squares += float64((v - mean) * (v - mean))
	}
	sigma := math.Sqrt(squares / float64(len(z)-1) / (float64(len(z)) / 3))
	return hold.Reading{Z: mean, Sigma: max(sigma, standard.LeastError), Known: true}
}

// Directions and shares of the way from the deepest sounding to the edge at which the smooth bowl stands for the bottom, and the part of its
// depth that its error is: what trials on known dishes of package dish showed, with five soundings and with fewer.
var shares = [2]float64{0.5, 0.8}

const (
	directions = 12
	bowlError  = 0.1
	guessError = 0.25
	bowlOf     = 5   // soundings
	near       = 0.2 // of the way to the edge: a sounding so near needs no help
)

// WaterSpots returns the heights that a water of a known level gives: its edge stands at the level, its soundings a depth below it, and between
// them the smooth bowl does. bowl is how many of them are the bowl's.
func WaterSpots(w *roof.Water, level hold.Reading) (spots []roof.Spot, bowl int) {
	add := func(letter string, i int, f roof.Feature, p orb.Point, depth, sigma float64) {
		f.ID = w.ID + letter + strconv.Itoa(i+1)
		f.Origin.ID = f.ID
		f.Properties = nil
		sigma = math.Sqrt(float64(level.Sigma*level.Sigma) + float64(RulerError*RulerError) + float64(sigma*sigma))
		spots = append(spots, roof.Spot{Feature: f, Position: roof.Position{Plan: p, Z: level.Z - depth, HasZ: true}, Sigma: quantity.Length(sigma)})
	}
	for i := range w.Edge {
		add("-E", i, w.Feature, w.Edge[i].Plan, 0, 0)
	}
	for i := range w.Soundings {
		add("-D", i, w.Soundings[i].Feature, w.Soundings[i].Plan, float64(w.Soundings[i].Depth), 0)
	}
	ring, _ := around(w)
	b := bowlOfWater(w, ring)
	if b.Deepest < 0 {
		return spots, 0
	}
	part := choose.If(len(b.Soundings) >= bowlOf, bowlError, guessError)
	measured := len(spots)
	for _, p := range between(b) {
		if d := b.DepthAt(p); d > 0 {
			add("-B", len(spots)-measured, w.Feature, p, d, float64(part*d))
		}
	}
	return spots, len(spots) - measured
}

// between returns the places where the bowl stands for the bottom: on the ways from the deepest sounding to the edge, where no sounding is near.
func between(b *dish.Bowl) []orb.Point {
	var out []orb.Point
	c, n := b.Soundings[b.Deepest].Plan, len(b.Ring)-1
	for k := range directions {
		q := b.Ring[k*n/directions]
		reach := planar.Distance(c, q)
		for _, t := range shares {
			p := orb.Point{c[0] + float64(t*(q[0]-c[0])), c[1] + float64(t*(q[1]-c[1]))}
			helped := slices.ContainsFunc(b.Soundings, func(s dish.Sounding) bool { return planar.Distance(s.Plan, p) < near*reach })
			if !helped {
				out = append(out, p)
			}
		}
	}
	return out
}

// bowlOfWater returns the bowl of a water; soundings outside its edge are left out.
func bowlOfWater(w *roof.Water, ring orb.Ring) *dish.Bowl {
	var soundings []dish.Sounding
	for _, d := range w.Soundings {
		if planar.RingContains(ring, d.Plan) {
			soundings = append(soundings, dish.Sounding{Plan: d.Plan, Depth: float64(d.Depth)})
		}
	}
	return dish.Of(ring, soundings)
}

// ProbeSpots returns the heights that were read to find out what holds water, as spots. Inlets are no spots: they are their outlets' own.
func ProbeSpots(r *roof.Roof) []roof.Spot {
	var out []roof.Spot
	for i := range r.Tape.Probes {
		q := &r.Tape.Probes[i]
		if q.Kind == roof.InletProbe {
			continue
		}
		s := roof.Spot{Feature: q.Feature, Position: q.Position, Sigma: q.Sigma}
		s.ID = "R" + strconv.Itoa(i+1)
		s.Origin.ID = s.ID
		if s.Sigma == 0 {
			s.Sigma = r.Tape.Sigma
		}
		out = append(out, s)
	}
	return out
}
