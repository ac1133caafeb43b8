package mend

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// ground is the roof as it is beyond a place, read in rows along one direction: sections of stock are tried on it before any is drawn.
type ground struct {
	up, across orb.Point
	near, far  float64     // along up: where what has to be built up begins, and the farthest wall [m]
	step, wide float64     // between places of a row and between rows [m]
	first      float64     // along up: of the first place of each row [m]
	rows       [][]float64 // elevations [m]; NaN off the roof
	side       float64     // along across: of the first row [m]
}

// Sections begin so many half boards before what has to be built up at most, and are looked at in so many rows and places at most. Own choice.
const mostFronts, mostRows = 9, 60

// mostSections is how many layouts of a section are laid.
const mostSections = 4

// bedded is what low places on a section may lack and be left to the bedding of the boards [m]: less than over a whole roof, since water runs square to its courses. Own choice.
const bedded = 0.001

// thinLevel is what levelling a place counts beside its depth [m]: work goes with the area too. Own choice.
const thinLevel = 0.005

// laidSection is one section of stock boards that was thought of.
type laidSection struct {
	ground *ground
	front  float64 // of the cut line, along up [m]
	taper  float64 // of the boards [rise/run]
	run    float64 // as far as they reach; flat boards lie beyond [m]
	most   float64 // thickness of these [m]
	taken  float64 // boards and leveller, weighed [m3]
	area   float64 // [m2]
}

// Sectioned re-tapers the section round a place in stock boards, from a cut line to the walls beyond it, so that it falls over the cut line. It is empty where no
// such section holds all that must be built up, keeps clear of outlets and is less than most of the roof.
func (d *Designer) Sectioned(name string, at orb.Point, must []orb.Point, fall float64) []Mend {
	if !d.Steering.Allows(Retaper) || len(must) == 0 {
		return nil
	}
	var all []laidSection
	for k := range 4 {
		if g := d.groundTo(must, k); !g.stands(d.Surface, g.near) {
			all = append(all, d.screened(g, fall)...)
		}
	}
	slices.SortStableFunc(all, func(a, b laidSection) int { return cmp.Compare(Tieless(a.taken), Tieless(b.taken)) })
	var out []Mend
	for i := range all[:min(mostSections, len(all))] {
		if m, ok := d.laidOn(&all[i], name, at, fall); ok && len(out) < 2 {
			out = append(out, m)
		}
	}
	return out
}

// groundTo reads the roof in one of four directions along the main edge.
func (d *Designer) groundTo(must []orb.Point, quarter int) *ground {
	u := d.Domain.Axis
	for range quarter {
		u = orb.Point{-u[1], u[0]}
	}
	g := &ground{up: u, across: orb.Point{-u[1], u[0]}, near: math.Inf(1), far: math.Inf(-1)}
	left, right := math.Inf(1), math.Inf(-1)
	for _, q := range must {
		g.near = math.Min(g.near, vector.Dot(q, u))
	}
	t := d.Surface.TIN
	for v := range t.X {
		q := orb.Point{t.X[v], t.Y[v]}
		g.far = math.Max(g.far, vector.Dot(q, u))
		if vector.Dot(q, u) > g.near {
			left, right = math.Min(left, vector.Dot(q, g.across)), math.Max(right, vector.Dot(q, g.across))
		}
	}
	g.first = g.near - float64(mostFronts*HalfBoard)
	g.step = math.Max(HalfBoard/2, (g.far-g.first)/mostRows)
	g.wide = math.Max(HalfBoard, (right-left)/mostRows)
	g.side = left + g.wide/2
	for y := g.side; y < right; y += g.wide {
		var row []float64
		for s := g.first + g.step/2; s < g.far; s += g.step {
			q := g.at(s, y)
			z, on := d.Locate.HeightAt(q[0], q[1])
			if !on {
				z = math.NaN()
			}
			row = append(row, z)
		}
		g.rows = append(g.rows, row)
	}
	return g
}

func (g *ground) at(s, t float64) orb.Point {
	return orb.Point{float64(s*g.up[0]) + float64(t*g.across[0]), float64(s*g.up[1]) + float64(t*g.across[1])}
}

// stands reports whether an outlet stands beyond a cut line, where boards would bury it.
func (g *ground) stands(s *surface.Surface, front float64) bool {
	const beyond = 0.05
	for i := range s.Outlets {
		for _, q := range append(orb.LineString{s.Outlets[i].Plan}, s.Outlets[i].Line...) {
			if vector.Dot(q, g.up) > front+beyond {
				return true
			}
		}
	}
	return false
}

// screened tries every cut line, taper and thickness in stock on the rows of g; of each cut line it returns what takes least.
func (d *Designer) screened(g *ground, fall float64) []laidSection {
	var out []laidSection
	for k := range mostFronts {
		front := g.near - float64(float64(k)*HalfBoard)
		if g.stands(d.Surface, front) {
			break
		}
		best := laidSection{taken: math.Inf(1)}
		for _, r := range d.Tapers() {
			for steps := 1; ; steps++ {
				s := laidSection{ground: g, front: front, taper: r, most: float64(steps) * d.Boards.Step}
				if s.run = s.most / r; s.run > g.far-front {
					s.run, s.most = g.far-front, r*(g.far-front)
				}
				if whole := s.run / HalfBoard; s.run < g.far-front && math.Abs(whole-math.Round(whole)) > 0.01 {
					continue // courses are whole or half boards
				}
				s.try(fall)
				if s.area > MostSection*d.Surface.Area {
					return out
				}
				if Tieless(s.taken) < Tieless(best.taken) {
					best = s
				}
				if s.run >= g.far-front {
					break
				}
			}
		}
		if !math.IsInf(best.taken, 1) {
			out = append(out, best)
		}
	}
	return out
}

// try works out what a section takes: boards, and leveller where the surface would else fall less than asked on the straight way to the cut line.
func (s *laidSection) try(fall float64) {
	g := s.ground
	cell := g.step * g.wide
	for _, row := range g.rows {
		last := math.NaN()
		for i, z := range row {
			far := g.first + (float64(i)+0.5)*g.step - s.front
			if far < 0 || math.IsNaN(z) {
				last = z
				continue
			}
			thick := s.taper * math.Min(far, s.run)
			z += thick
			lack := 0.0
			if need := last + float64(fall*g.step); !math.IsNaN(last) && need > z {
				lack, z = need-z, need
			}
			if lack <= bedded {
				lack = 0
			}
			s.area += cell
			s.taken += cell * (thick + LevellerCounts*lack)
			if lack > 0 {
				s.taken += cell * LevellerCounts * thinLevel
			}
			last = z
		}
	}
}

// laidOn draws a section; ok is false where it cannot be drawn or needs more leveller than a section is worth.
func (d *Designer) laidOn(s *laidSection, name string, at orb.Point, fall float64) (Mend, bool) {
	g := s.ground
	section := taper.Section{
		Domain: d.Domain, Base: d.Base, Gauge: d.FourWay(), Front: g.at(s.front, g.side-g.wide/2), Up: g.up, At: at, Run: s.run,
	}
	l, err := section.Lay()
	if err != nil || l.Area() > MostSection*d.Surface.Area {
		return Mend{}, false
	}
	c, err := l.Try(taper.Courses{Taper: s.taper, Fall: fall, Within: bedded, Step: d.Boards.Step, Board: d.Boards.Area})
	if err != nil {
		return Mend{}, false
	}
	m := Mend{
		Kind: Retaper, Decides: []string{finding.Roofer}, Stock: true, Area: l.Area(), Volume: c.Volume(), Apply: func(a *taper.Alteration) { a.Lay(c) },
	}
	for _, far := range [2]float64{s.front, g.far} {
		for _, row := range [2]float64{-0.5, float64(len(g.rows)) - 0.5} {
			m.box = d.holding(m.box, g.at(far, g.side+float64(row*g.wide)))
		}
	}
	m.Change = Change{At: at, What: s.words(name, c)}
	return m, true
}

// words says what is laid on a section.
func (s *laidSection) words(name string, c *taper.Courses) finding.Text {
	if name != "" {
		name = " at " + name
	}
	what := "Re-taper the section" + name + ", from the wall to a cut line {0} off it: "
	n := c.Leveller()
	if n.Volume > 0 {
		what += "level {4} of low places first, {5} deep at most; then "
	}
	what += "tapered boards of {1}, from nothing at the cut line to {2}"
	what += choose.If(s.run < s.ground.far-s.front, " over {3}, and flat boards of {2} behind them", " at the wall")
	return finding.Say(what, finding.Metres("depth", s.ground.far-s.front), finding.Fall("taper", s.taper), finding.MM("thickest", s.most), finding.Metres("run", s.run), finding.Plan("levelled", n.Area), finding.MM("deepest", n.Deepest))
}

// MostSection is the share of a roof from which sections that are too flat are re-tapered as one, in stock boards. Own choice: beyond it a crew lays all of it in few sections.
const MostSection = 0.5

// Tieless rounds what sums come to, so that the last bits of a sum, which hang on where a roof stands, settle no tie between layouts.
func Tieless(v float64) float64 { return math.Round(v*1e7) / 1e7 }

// LevellerCounts is how many times as much as boards leveller counts where layouts are compared: it is dear, heavy, has to cure and keeps no heat in. Own choice.
const LevellerCounts = 5

// Tapers are those of the boards in stock, flattest first; without a list, the slope that is asked for.
func (d *Designer) Tapers() []float64 {
	out := gather.Where(d.Rates, func(r float64) bool { return r <= standard.SumpRate+1e-9 })
	if len(out) == 0 {
		return []float64{d.Slope}
	}
	return out
}
