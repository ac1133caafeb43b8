package demo

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Roofs returns the invented roofs that Write writes, in order of their stems.
func Roofs() []*Roof {
	return []*Roof{archive(), depot(), hall(), library(), market(), pavilion(), schoolWing(), terrace(), workshop()}
}

// library is a walled roof of four bays, each with a drain and an overflow drain; three were made wrong.
func library() *Roof {
	b := fourWay(2, 2, 12, 10, 0.0208)
	b.stem, b.name, b.building, b.base = "library", "library", "town library", 31.4
	b.overflows()
	b.outletHigh(0, 0.028)
	b.collar(1, 0.030, b.slope)
	c := b.centre(3)
	b.line(orb.Point{c[0] - 3.6, c[1] + 2.2}, orb.Point{c[0] + 3.6, c[1] + 2.2}, orb.Point{c[0], c[1] + 2.32}, 0.024, b.slope)
	return surveyed(b.site, method{pitch: 2.7, sigma: 0.002, seed: 1}, format{origin: nowhere, turn: 0.35, sigma: true})
}

// depot falls to a wall with three scuppers, each with its overflow; one cricket is too flat and one
// scupper's floor is high.
func depot() *Roof {
	const slope = 0.025
	good, flat := math.Atan(0.75), math.Asin(0.0052/slope)
	w := scupperWall(36, 14, slope, []float64{6, 16, 30}, []float64{good, good, flat, good})
	w.stem, w.name, w.building, w.base = "depot", "depot", "vehicle depot", 27.1
	w.overflows()
	w.flatCricket(1)
	w.outletHigh(0, 0.025)
	return surveyed(w.site, method{pitch: 2.8, sigma: 0.002, seed: 2, inset: 0.06},
		format{units: "ft", origin: orb.Point{5200, 1800}, turn: -0.22, points: "header", sigma: true})
}

// market falls to a wall with three scuppers, each with its overflow. The surface is sound; the storm shows that one
// leader is too small and one opening too low, and one overflow stands too high.
func market() *Roof {
	good := math.Atan(0.75)
	w := scupperWall(36, 14, 0.025, []float64{6, 16, 30}, []float64{good, good, good, good})
	w.stem, w.name, w.building, w.base = "market", "market", "market hall", 14.2
	w.rain, w.storm = "4 in/h", "8 in/h"
	w.overflows()
	for i := range w.outlets {
		w.outlets[i].height, w.outlets[i].leader = 0.2032, 0.1524
	}
	w.leaderSmall(0, 0.0508)
	w.openingLow(2, 0.0508)
	w.overflowHigh(4, 0.1524)
	return surveyed(w.site, method{pitch: 2.8, sigma: 0.002, seed: 9, inset: 0.06},
		format{units: "ft", origin: orb.Point{2600, 900}, turn: 0.3, points: "header", sigma: true})
}

// workshop falls to a gutter whose edge was left high, round three units of which one has no cricket. Its deck slopes; behind that unit the
// insulation is wet and pressed together, and one core went into a flute of the deck.
func workshop() *Roof {
	s := oneWay(24, 15, 0.024, "gutter")
	s.stem, s.name, s.building, s.base = "workshop", "workshop", "joinery", 12.6
	s.unit("AH-1", orb.Point{4, 6}, 2.4, 1.6)
	s.unit("AH-2", orb.Point{16.5, 8.5}, 2, 1.4)
	sunk := s.sunkUnit("AH-3", orb.Point{10, 7}, 2.8, 1.8, 0.030)
	s.edgeHigh(0.024)
	s.onSlopedDeck(0.090,
		core{at: orb.Point{3, 12.8}, cutter: "hand", reached: "rib"}, core{at: orb.Point{21, 12.5}, cutter: "hand", reached: "rib"},
		core{at: orb.Point{21.5, 3}, cutter: "hand", reached: "rib"}, core{at: orb.Point{2.2, 3.4}, cutter: "tube", reached: "rib"},
		core{at: orb.Point{13.5, 3.2}, cutter: "hand", reached: "rib"}, core{at: orb.Point{8.2, 12}, cutter: "tube", flute: true})
	s.soaked(orb.Point{11.4, 9.1}, sunk, box(9, 6.8, 13.8, 10.8))
	return surveyed(s.site, method{pitch: 2.6, sigma: 0.0015, seed: 3},
		format{units: "m", origin: orb.Point{1000, 500}, turn: 0.1, points: "bare", sigma: true})
}

// schoolWing is L-shaped: two troughs that meet, each with its scupper, and units all over.
func schoolWing() *Roof {
	t := valleyRoof(26, 12, 0.025, 0.016)
	t.stem, t.name, t.building, t.base = "school-wing", "school wing", "school", 8.2
	t.unitInValley("RTU-2", 17, 2.2, 0.026)
	t.sag(7, 11, 0.022)
	t.valley()
	t.overflows()
	t.wing()
	t.units(func(i int) string { return fmt.Sprintf("EF-%d", i+1) }, 1.1,
		orb.Point{3, 2.6}, orb.Point{13, -4.3}, orb.Point{22, 2.8}, orb.Point{9.4, 13.5}, orb.Point{16.4, 12}, orb.Point{16.2, 18}, orb.Point{3.5, -4})
	return surveyed(t.site, method{pitch: 2.5, sigma: 0.002, seed: 4},
		format{units: "ft", origin: orb.Point{0, 0}, corner: true, sigma: true})
}

// hall falls to free edges over joists between which the deck sags in three places.
func hall() *Roof {
	s := oneWay(27, 16, 0.018, "free")
	s.stem, s.name, s.building, s.base = "hall", "hall", "sports centre", 9.5
	down := orb.Point{0, -1}
	s.dish(orb.Point{5, 5}, down, 2.6, 0.022, s.slope)
	s.dish(orb.Point{13, 5}, down, 2.6, 0.030, s.slope)
	s.dish(orb.Point{21, 11}, down, 2.6, 0.019, s.slope)
	return surveyed(s.site, method{pitch: 2.5, sigma: 0.002, seed: 5},
		format{units: "m", origin: orb.Point{400, 900}, turn: 0.6, points: "header", sigma: true})
}

// terrace was built level, with one drain and no overflow.
func terrace() *Roof {
	s := level(14, 11, 0.015)
	s.stem, s.name, s.building, s.base = "terrace", "terrace", "offices", 16.3
	return surveyed(s, method{pitch: 1.6, sigma: 0.001, seed: 6}, format{origin: orb.Point{-30.01, 12.01}, turn: -0.5, points: "header", sigma: true})
}

// archive falls to a gutter; it steps on a line and one span kept its camber.
func archive() *Roof {
	s := oneWay(18, 22, 0.016, "gutter")
	s.stem, s.name, s.building, s.base = "archive", "archive", "records office", 21.7
	s.step(5, 0.022)
	s.camber(10, 7, 1, 0.022)
	return surveyed(s.site, method{pitch: 2.6, sigma: 0.002, seed: 7},
		format{units: "m", origin: orb.Point{2000, 3000}, turn: -0.15, sigma: true})
}

// pavilion has nothing wrong. Its deck is level and the insulation tapers, which six cores show in one bay and four, of which one went into a
// flute, do not in the other.
func pavilion() *Roof {
	b := fourWay(2, 1, 9, 9, 0.0208)
	b.stem, b.name, b.building, b.base = "pavilion", "pavilion", "park", 4.5
	b.overflows()
	b.onLevelDeck(0.0508,
		core{at: orb.Point{4.5, 6.3}, cutter: "hand", reached: "rib"}, core{at: orb.Point{1.6, 8.4}, cutter: "hand", reached: "rib"},
		core{at: orb.Point{7.4, 8.4}, cutter: "hand", reached: "rib"}, core{at: orb.Point{4.3, 8.3}, cutter: "hand", reached: "rib"},
		core{at: orb.Point{3.4, 6.2}, cutter: "hand", reached: "rib"}, core{at: orb.Point{5.6, 6.2}, cutter: "hand", reached: "rib"},
		core{at: orb.Point{13.5, 6.3}, cutter: "hand", reached: "rib"}, core{at: orb.Point{17.4, 4.2}, cutter: "tube", reached: "flute", flute: true},
		core{at: orb.Point{13.2, 0.7}, cutter: "hand", reached: "rib"}, core{at: orb.Point{11.7, 4.7}, cutter: "hand", reached: "rib"})
	return surveyed(b.site, method{pitch: 2.1, sigma: 0.002, seed: 8, inset: 0.05},
		format{units: "ft", origin: orb.Point{300, 700}, turn: 0.8, points: "bare", sigma: true})
}
