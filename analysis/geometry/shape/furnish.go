package shape

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
)

// inner returns a random place at least margin inside the outline.
func (g *generator) inner(margin float64) (x, y float64, ok bool) {
	box := g.ring.Bound()
	for range 20 {
		x, y = mm(box.Max[0]*g.Float64()), mm(box.Max[1]*g.Float64())
		p := orb.Point{x, y}
		if planar.RingContains(g.ring, p) && planar.DistanceFrom(orb.LineString(g.ring), p) >= margin {
			return x, y, true
		}
	}
	return 0, 0, false
}

// curbs adds up to four rectangles; one may stand against the south wall, one may share a side or a
// corner with the one before.
func (g *generator) curbs() {
	var placed []orb.Bound
	add := func(x0, y0, x1, y1 float64) {
		b := orb.Bound{Min: orb.Point{x0, y0}, Max: orb.Point{x1, y1}}
		for _, p := range placed {
			if b.Min[0] < p.Max[0] && p.Min[0] < b.Max[0] && b.Min[1] < p.Max[1] && p.Min[1] < b.Max[1] {
				return
			}
		}
		for _, c := range b.ToRing() {
			if !planar.RingContains(g.ring, c) {
				return
			}
		}
		placed = append(placed, b)
		Curb(g.r, Bare(x0, y0), Bare(x1, y0), Bare(x1, y1), Bare(x0, y1))
	}
	for range g.IntN(4) {
		w, h := mm(g.pitch*(0.3+1.2*g.Float64())), mm(g.pitch*(0.3+1.2*g.Float64()))
		x, y, ok := g.inner(g.pitch * 0.7)
		if !ok {
			continue
		}
		switch g.IntN(5) {
		case 0:
			y = 0
		case 1:
			x, y = math.Round(x/g.pitch)*g.pitch, math.Round(y/g.pitch)*g.pitch
		}
		add(x, y, mm(x+w), mm(y+h))
		if g.IntN(3) == 0 && len(placed) > 0 {
			at := placed[len(placed)-1].Max
			add(at[0], at[1], mm(at[0]+w), mm(at[1]+h))
		}
	}
}

// folds adds up to four breaklines from spot to spot that keep clear of each other and of the outline.
func (g *generator) folds() {
	var placed []orb.LineString
	for range g.IntN(5) {
		line := g.chain(2 + g.IntN(4))
		if len(line) < 2 || !g.clear(line, placed) {
			continue
		}
		placed = append(placed, line)
		at := make([]roof.Position, len(line))
		for i, p := range line {
			at[i] = Bare(p[0], p[1])
		}
		Breakline(g.r, roof.BreaklineType(g.IntN(5)), at...)
	}
}

// chain returns a line over up to n spots, each the nearest to a stride from the last.
func (g *generator) chain(n int) orb.LineString {
	if len(g.r.Spots) == 0 {
		return nil
	}
	at := g.r.Spots[g.IntN(len(g.r.Spots))].Plan
	sin, cos := math.Sincos(g.Float64() * 2 * math.Pi)
	line := orb.LineString{at}
	for len(line) < n {
		want := orb.Point{at[0] + 2*g.pitch*cos, at[1] + 2*g.pitch*sin}
		next, best := at, math.Inf(1)
		for _, s := range g.r.Spots {
			if d := planar.Distance(s.Plan, want); d < best {
				next, best = s.Plan, d
			}
		}
		if next == at {
			break
		}
		line, at = append(line, next), next
	}
	return line
}

// clear reports whether line keeps 0.1 m from every placed line, the outline and itself, and turns by less than
// a right angle.
func (g *generator) clear(line orb.LineString, placed []orb.LineString) bool {
	for i := 2; i < len(line); i++ {
		if a, b, c := line[i-2], line[i-1], line[i]; (b[0]-a[0])*(c[0]-b[0])+(b[1]-a[1])*(c[1]-b[1]) <= 0 {
			return false
		}
	}
	others := append([]orb.LineString{orb.LineString(g.ring)}, placed...)
	for i := 1; i < len(line); i++ {
		steps := int(planar.Distance(line[i-1], line[i])/0.05) + 1
		for k := 0; k <= steps; k++ {
			t := float64(k) / float64(steps)
			p := orb.Point{line[i-1][0] + t*(line[i][0]-line[i-1][0]), line[i-1][1] + t*(line[i][1]-line[i-1][1])}
			if !planar.RingContains(g.ring, p) {
				return false
			}
			for _, o := range others {
				if planar.DistanceFrom(o, p) < 0.1 {
					return false
				}
			}
		}
	}
	return true
}

// outlets adds drains (some side by side, some with inverts) and scuppers.
func (g *generator) outlets() {
	for range g.IntN(4) {
		x, y, ok := g.inner(0.05)
		if !ok || g.covered(x, y) {
			continue
		}
		g.drain(x, y)
		if x2 := mm(x + 0.2); g.IntN(4) == 0 && planar.RingContains(g.ring, orb.Point{x2, y}) && !g.covered(x2, y) {
			g.drain(x2, y)
		}
	}
	for range g.IntN(3) {
		i := g.IntN(len(g.ring) - 1)
		a, b := g.ring[i], g.ring[i+1]
		t := g.Float64()
		o := Scupper(g.r, mm(a[0]+t*(b[0]-a[0])), mm(a[1]+t*(b[1]-a[1])), 0.2)
		o.Duty = roof.Duty(g.IntN(2))
		if g.IntN(2) == 0 {
			o.Invert, o.HasInvert = mm(0.05*(g.Float64()-0.5)), true
		}
	}
}

func (g *generator) drain(x, y float64) {
	o := Drain(g.r, x, y, []float64{0.1, 0.3, 0.3048, 3 * g.pitch}[g.IntN(4)])
	switch g.IntN(4) {
	case 0:
		o.Invert, o.HasInvert = -1, true
	case 1:
		o.Invert, o.HasInvert = mm(0.1*(g.Float64()-0.3)), true
	case 2:
		o.DamHeight, o.Duty = 0.05, roof.Overflow
	}
}

// covered reports whether a curb covers or touches (x, y), with 30 mm to spare.
func (g *generator) covered(x, y float64) bool {
	for _, c := range g.r.Curbs {
		b := orb.Bound{Min: c.Ring[0].Plan, Max: c.Ring[2].Plan}
		if b.Pad(0.03).Contains(orb.Point{x, y}) {
			return true
		}
	}
	return false
}

// edges adds a gutter or a free edge along a whole side or a part of one.
func (g *generator) edges() {
	for _, i := range g.Perm(len(g.ring) - 1)[:g.IntN(3)] {
		a, b := g.ring[i], g.ring[i+1]
		t0, t1 := 0.0, 1.0
		if g.IntN(2) == 0 {
			t0, t1 = 0.25, 0.75
		}
		at := func(t float64) roof.Position {
			return Bare(mm(a[0]+t*(b[0]-a[0])), mm(a[1]+t*(b[1]-a[1])))
		}
		Edge(g.r, roof.EdgeType(1+g.IntN(2)), at(t0), at(t1))
	}
}
