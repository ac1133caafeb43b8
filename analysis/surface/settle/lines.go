package settle

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
)

// lines finds the chain pieces near a place.
type lines struct {
	d     *draft
	segs  []span
	grid  *nearby.Index
	reach float64
}

// newLines indexes segs for questions within reach grid units.
func (d *draft) newLines(segs []span, reach float64) *lines {
	l := &lines{d: d, segs: segs, reach: reach}
	var all orb.Bound
	for i := range segs {
		if i == 0 {
			all = l.box(i)
		}
		all = all.Union(l.box(i))
	}
	rows := func(i int) (float64, float64) { b := l.box(i); return b.Min[1], b.Max[1] }
	cells := min(max(2*len(segs), min(len(d.x), 4096)), 1<<20)
	l.grid = nearby.NewIndex(all, len(segs), cells, rows, l.strip)
	return l
}

// box returns the box of piece i, reach wider on every side.
func (l *lines) box(i int) orb.Bound {
	ax, ay, bx, by := l.ends(i)
	return orb.Bound{
		Min: orb.Point{math.Min(ax, bx) - l.reach, math.Min(ay, by) - l.reach},
		Max: orb.Point{math.Max(ax, bx) + l.reach, math.Max(ay, by) + l.reach},
	}
}

func (l *lines) ends(i int) (ax, ay, bx, by float64) {
	s := l.segs[i]
	return float64(l.d.x[s.a]), float64(l.d.y[s.a]), float64(l.d.x[s.b]), float64(l.d.y[s.b])
}

// strip returns the x range of piece i, reach wider, between y0 and y1.
func (l *lines) strip(i int, y0, y1 float64) (float64, float64, bool) {
	ax, ay, bx, by := l.ends(i)
	if ay > by {
		ax, ay, bx, by = bx, by, ax, ay
	}
	y0, y1 = math.Max(y0-l.reach, ay), math.Min(y1+l.reach, by)
	if y0 > y1 {
		return 0, 0, false
	}
	u, v := ax, bx
	if by > ay {
		u, v = ax+(bx-ax)*((y0-ay)/(by-ay)), ax+(bx-ax)*((y1-ay)/(by-ay))
	}
	return math.Min(u, v) - l.reach - 2, math.Max(u, v) + l.reach + 2, true
}

// foot is the nearest place on a piece.
type foot struct {
	seg  int     // index into segs; -1 for none
	t    float64 // 0 at its first node, 1 at its last
	far  float64 // distance, grid units
	x, y float64
}

// nearest returns the nearest place within reach of (x, y) on the pieces that accept does not refuse. Equal
// distances go to the lower piece.
func (l *lines) nearest(x, y int32, accept func(s *span) bool) foot {
	best := foot{seg: -1, far: l.reach}
	if len(l.segs) == 0 {
		return best
	}
	for _, i := range l.grid.Near(float64(x), float64(y)) {
		if accept != nil && !accept(&l.segs[i]) {
			continue
		}
		if f := l.foot(int(i), float64(x), float64(y)); f.far < best.far || f.far == best.far && best.seg < 0 {
			best = f
		}
	}
	return best
}

// foot returns the nearest place to (x, y) on piece i.
func (l *lines) foot(i int, x, y float64) foot {
	ax, ay, bx, by := l.ends(i)
	dx, dy := bx-ax, by-ay
	t := 0.0
	if dd := float64(dx*dx) + float64(dy*dy); dd > 0 {
		t = (float64((x-ax)*dx) + float64((y-ay)*dy)) / dd
	}
	t = math.Max(0, math.Min(1, t))
	f := foot{seg: i, t: t, x: ax + float64(t*dx), y: ay + float64(t*dy)}
	f.far = vector.Norm(x-f.x, y-f.y)
	return f
}

// crossing is a place where two pieces cross at inner points of both.
type crossing struct {
	i, j   int32
	tI, tJ float64
	x, y   int32
}

// crossings returns where pieces cross, in the order of their cells.
func (l *lines) crossings() []crossing {
	var found []crossing
	for cell := range l.grid.Cells() {
		list := l.grid.List(cell)
		for p, i := range list {
			for _, j := range list[p+1:] {
				if c, ok := l.cross(i, j); ok && l.grid.Cell(float64(c.x), float64(c.y)) == cell {
					found = append(found, c)
				}
			}
		}
	}
	return found
}

// cross returns where pieces i and j cross at inner points of both.
func (l *lines) cross(i, j int32) (crossing, bool) {
	d, s, u := l.d, l.segs[i], l.segs[j]
	if d.orient(s.a, s.b, u.a)*d.orient(s.a, s.b, u.b) >= 0 || d.orient(u.a, u.b, s.a)*d.orient(u.a, u.b, s.b) >= 0 {
		return crossing{}, false
	}
	t := d.part(u.a, u.b, s.a, s.b)
	c := crossing{i: i, j: j, tI: t, tJ: d.part(s.a, s.b, u.a, u.b)}
	c.x = int32(math.Round(float64(d.x[s.a]) + float64(t*float64(d.x[s.b]-d.x[s.a]))))
	c.y = int32(math.Round(float64(d.y[s.a]) + float64(t*float64(d.y[s.b]-d.y[s.a]))))
	return c, true
}

func (d *draft) orient(a, b, c int32) int {
	return geometry.Orient(d.x[a], d.y[a], d.x[b], d.y[b], d.x[c], d.y[c])
}

// part returns where along a-b the line p-q crosses it: 0 at a, 1 at b.
func (d *draft) part(p, q, a, b int32) float64 {
	da, db := geometry.TwiceArea(d.x, d.y, p, q, a), geometry.TwiceArea(d.x, d.y, p, q, b)
	return float64(da) / (float64(da) - float64(db))
}
