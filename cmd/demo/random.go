package demo

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"runnel/analysis/standard"
)

// Random returns an invented roof with none to three faults, each at least twice as bad as the criterion
// that it misses: a pond of 1/2 in or more, a slope of half the criterion or less. Layout, sizes, faults,
// survey and format all follow from seed.
func Random(seed uint64) *Roof {
	s, m, f := invent(seed)
	return surveyed(s, m, f)
}

// invent draws a roof, how it is surveyed and how that is written.
func invent(seed uint64) (*site, method, format) {
	r := &draw{rand.New(rand.NewPCG(seed, 0x726f6f66))}
	s := layouts[r.IntN(len(layouts))](r, r.IntN(4))
	s.stem, s.name, s.building = fmt.Sprintf("roof-%d", seed), "roof", fmt.Sprintf("building %d", seed)
	s.base = math.Round(r.within(3, 80)*10) / 10
	f := []format{
		{origin: orb.Point{-30 + r.within(-1, 1), 12 + r.within(-1, 1)}},
		{units: "m", origin: orb.Point{math.Round(r.within(0, 9000)), math.Round(r.within(0, 9000))}},
		{units: "ft", origin: orb.Point{math.Round(r.within(0, 9000)), math.Round(r.within(0, 9000))}},
	}[r.IntN(3)]
	f.turn = r.within(-math.Pi, math.Pi)
	f.points = []string{"", "", "header", "bare"}[r.IntN(4)]
	if f.points == "bare" && f.geographic() {
		f.points = "header"
	}
	f.corner, f.sigma = f.points == "" && r.IntN(2) == 0, r.IntN(2) == 0
	m := method{pitch: r.within(2, 3.2), sigma: r.within(0.001, 0.003), seed: seed}
	if s.wavy {
		m.pitch = 2 // the eye sees that such a roof needs more shots
	}
	if !f.corner && r.IntN(2) == 0 {
		m.inset = r.within(0.03, 0.1)
	}
	return s, m, f
}

// layouts each lay out a roof with up to the given number of faults.
var layouts = []func(r *draw, faults int) *site{
	randomBays, randomBays, randomShed, randomShed, randomTrough, randomTrough, randomParapet, randomTerrace,
}

// draw picks at random.
type draw struct{ *rand.Rand }

func (r *draw) within(low, high float64) float64 { return low + (high-low)*r.Float64() }

// depth is that of a planted pond.
func (r *draw) depth() float64 { return r.within(2*standard.Defaults().PondDepth, 0.035) }

// shallow is a planted slope under half the given criterion.
func (r *draw) shallow(criterion float64) float64 { return criterion * r.within(0.3, 0.5) }

// plant builds one kind of fault into a roof. It returns false when there is no place left for it.
type plant func() bool

// some calls n of the plants at random, of which at most one of those that must lie lowest, which it calls
// first.
func (r *draw) some(n int, lowest []plant, others ...plant) {
	picked := r.Perm(len(lowest) + len(others))[:min(n, len(lowest)+len(others))]
	for _, i := range picked {
		if i < len(lowest) {
			lowest[i]()
			break
		}
	}
	for _, i := range picked {
		if i >= len(lowest) {
			others[i-len(lowest)]()
		}
	}
}

// randomBays is a roof of four-way bays with at most one fault a bay.
func randomBays(r *draw, faults int) *site {
	b := fourWay(1+r.IntN(3), 1+r.IntN(2), r.within(9, 13), r.within(9, 13), r.within(0.018, 0.026))
	b.overflows()
	free := r.Perm(b.nx * b.ny)
	in := func(f func(i int)) plant {
		return func() bool {
			if len(free) == 0 {
				return false
			}
			f(free[0])
			free = free[1:]
			return true
		}
	}
	r.some(faults, nil,
		in(func(i int) { b.outletHigh(i, r.depth()) }),
		in(func(i int) { b.collar(i, r.depth()+0.005, b.slope) }),
		in(func(i int) { b.mound(i, r.within(1.2, 2), r.depth(), b.slope) }),
		in(func(i int) {
			c, d := b.centre(i), r.within(0.015, 0.028)
			y, half := c[1]+2, 2+(d+b.slope*0.12)/b.slope+0.3
			b.line(orb.Point{c[0] - half, y}, orb.Point{c[0] + half, y}, orb.Point{c[0], y + 0.12}, d+b.slope*0.12, b.slope)
		}),
		in(func(i int) {
			c := b.centre(i)
			b.dish(orb.Point{c[0] - 2.9, c[1]}, orb.Point{1, 0}, r.within(1.6, 1.9), r.within(0.013, 0.02), b.slope)
		}),
		func() bool { return b.noOverflow() },
	)
	return b.site
}

// randomShed falls to a gutter or a free edge; its faults follow each other up the fall.
func randomShed(r *draw, faults int) *site {
	s := oneWay(r.within(14, 28), 0, r.within(0.018, 0.028), []string{"gutter", "free"}[r.IntN(2)])
	up := 0.0
	next := func(length float64) float64 {
		from := up
		up += length
		return from
	}
	r.some(faults, []plant{
		func() bool { d := r.depth(); next(0.9 + d/s.slope + 1.5); s.edgeHigh(d); return true },
		func() bool {
			at := r.within(4, 6)
			next(at + 1)
			s.flatPlane(at, r.shallow(standard.Defaults().MinSlope))
			return true
		},
	},
		func() bool { d := r.depth(); s.step(next(2+d/s.slope+1.5)+2, d); return true },
		func() bool { span := r.within(5, 8); s.camber(next(2+span+2)+2, span, 1, r.depth()); return true },
		func() bool {
			radius := r.within(1.8, 2.8)
			y := next(2*radius+2.5) + radius + 1.5
			s.dish(orb.Point{r.within(radius+1, s.width-radius-1), y}, orb.Point{0, -1}, radius, r.depth(), s.slope)
			return true
		},
		func() bool {
			w := r.within(1.6, 3)
			s.sunkUnit("RTU-1", orb.Point{r.within(2, s.width-w-2), next(6) + 1.5}, w, 1.6, r.depth())
			return true
		},
		func() bool {
			d := r.depth()
			y := next(2+d/s.slope+1.5) + 1.5
			s.line(orb.Point{0, y}, orb.Point{s.width, y}, orb.Point{s.width / 2, y + 0.12}, d+s.slope*0.12, s.slope)
			return true
		},
	)
	if r.IntN(2) == 0 {
		s.unit("AH-1", orb.Point{r.within(2, s.width-5), next(6) + 1.5}, r.within(1.8, 2.6), 1.5)
	}
	s.depth = math.Max(up+2, r.within(9, 18))
	s.outline = rectangle(0, 0, s.width, s.depth)
	return s.site
}

// randomTrough is two planes and a valley; its faults follow each other up the valley.
func randomTrough(r *draw, faults int) *site {
	t := valleyRoof(60, r.within(9, 14), r.within(0.02, 0.03), r.within(0.0135, 0.02))
	fall := t.floor[1].height / t.length
	up := 0.0
	next := func(length float64) float64 {
		from := up
		up += length
		return from
	}
	t.overflows()
	dishes := func() bool {
		radius := math.Min(r.within(1.5, 2.2), t.width/4-0.4)
		s := math.Hypot(t.cross, fall)
		c := orb.Point{next(2*radius+2) + radius + 1, t.width / 4}
		t.dish(c, orb.Point{-fall / s, -t.cross / s}, radius, r.within(0.013, 0.02), s)
		return true
	}
	if faults > 0 && r.IntN(4) == 0 {
		t.levelValley(r.shallow(standard.Defaults().MinValleySlope))
		up = 12
	} else {
		r.some(faults, []plant{
			func() bool { d := r.depth(); next(d/fall + 2); t.outletHigh(0, d); return true },
			func() bool { d := r.depth(); next(d/fall + 4.5); t.lump(r.within(1.6, 2.2), d); return true },
		},
			func() bool {
				d, l := r.depth(), r.within(2.5, 4.5)
				x := next(1.5+l+d/fall+1.5) + 1.5
				t.sag(x, x+l, d)
				return true
			},
			func() bool {
				d := r.depth()
				x := next(1.5+2+d/fall+2) + 1.5
				t.unitInValley("RTU-1", x, r.within(1.2, 2), d)
				return true
			},
			func() bool {
				d := r.depth()
				x, half := next(2+d/fall+2)+1.5, d/t.cross+0.5
				t.line(orb.Point{x, half}, orb.Point{x, -half}, orb.Point{x + 0.12, 0}, d+fall*0.12, fall)
				return true
			},
			dishes,
			func() bool { return t.noOverflow() },
		)
	}
	t.cut(math.Max(up+2, r.within(12, 24)))
	t.valley()
	return t.site
}

// randomParapet falls to a wall with two to four scuppers.
func randomParapet(r *draw, faults int) *site {
	slope := r.within(0.022, 0.03)
	at := []float64{r.within(4, 6)}
	angles := []float64{math.Atan(0.8)}
	n := 1 + r.IntN(3)
	flat := -1
	if faults > 0 && r.IntN(2) == 0 {
		flat = r.IntN(n)
		faults--
	}
	for i := range n {
		at = append(at, at[i]+r.within(8, 13))
		angle := math.Atan(0.8)
		if i == flat {
			angle = math.Asin(r.shallow(standard.Defaults().MinValleySlope) / slope)
		}
		angles = append(angles, angle)
	}
	w := scupperWall(at[n]+r.within(4, 6), r.within(11, 15), slope, at, append(angles, math.Atan(0.8)))
	w.overflows()
	if flat >= 0 {
		w.flatCricket(flat)
	}
	scuppers := r.Perm(n + 1)
	high := func() bool {
		i := scuppers[0]
		if i == flat || i == flat+1 {
			return false
		}
		w.outletHigh(i, r.depth())
		scuppers = scuppers[1:]
		return true
	}
	r.some(faults, nil, high, high,
		func() bool {
			radius := r.within(1.5, 2)
			w.dish(orb.Point{r.within(3, w.width-3), w.depth - radius - 1.2}, orb.Point{0, -1}, radius, r.within(0.013, 0.02), slope)
			return true
		},
		func() bool { return w.noOverflow() },
	)
	return w.site
}

// randomTerrace is dead level; the lack of an overflow is its second fault.
func randomTerrace(r *draw, faults int) *site {
	if faults == 0 {
		return randomBays(r, 0)
	}
	s := level(r.within(11, 18), r.within(9, 14), r.within(2*standard.Defaults().PondDepth, 0.018))
	if faults < 2 {
		s.faults = s.faults[:1]
		s.overflow("OD-1", orb.Point{s.outlets[0].at[0] + 1, s.outlets[0].at[1]}, 0)
	}
	return s
}
