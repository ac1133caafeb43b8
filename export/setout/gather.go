package setout

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/place"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
	"runnel/export/record"
)

// most is how many corners of a curb are listed one by one; one with more is round, and only its middle is listed.
const most = 8

// gatherer collects the points of one study.
type gatherer struct {
	b      *record.Book
	border []place.Border
	roof   *surface.Locator
	points []Point
}

// gathered returns the points in the order in which a crew wants them.
func gathered(b *record.Book, border []place.Border) []Point {
	g := &gatherer{b: b, border: border, roof: surface.NewLocator(b.Study.Surface.Cut)}
	g.outlets()
	for i := range b.Study.Listed {
		g.pond(i)
	}
	g.cores()
	g.nextSpots()
	for i := range b.Study.Slopes.Valleys {
		g.ends(&b.Study.Slopes.Valleys[i], ValleyEnd, b.Names.Valley(i))
	}
	for i := range b.Study.Slopes.Ridges {
		g.ends(&b.Study.Slopes.Ridges[i], RidgeEnd, b.Names.Ridge(i))
	}
	g.curbs()
	return g.points
}

func (g *gatherer) add(p Point) { g.points = append(g.points, p) }

// short returns an id without the roof's own.
func (g *gatherer) short(id string) string { return id[len(g.b.Names.Roof)+1:] }

func (g *gatherer) outlets() {
	s := g.b.Study
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		z, ok := g.roof.HeightAt(o.Plan[0], o.Plan[1])
		if !ok {
			z = o.Low
		}
		what := record.OutletType(o)
		switch {
		case o.Type == roof.EdgeOutlet:
			what += " edge, its lowest place"
		case o.InvertAssumed:
			what += ", inlet assumed"
		}
		if o.Duty == roof.Overflow {
			what = "overflow " + what
		}
		g.add(Point{
			Kind: OutletPoint, ID: g.b.Names.Outlets[i], What: o.Label + ", " + what, Plan: o.Plan,
			Surface: z, HasSurface: true, Inlet: o.Invert, HasInlet: true,
		})
	}
}

// cores adds the places where a core would tell most.
func (g *gatherer) cores() {
	for i := range g.b.NextCores {
		n := &g.b.NextCores[i]
		g.wanted(NextCore, g.b.Names.NextCore(i), "core to cut next, for "+n.For, n.Plan)
	}
}

// nextSpots adds the places where another spot would tell most, in walking order.
func (g *gatherer) nextSpots() {
	for i := range g.b.NextSpots {
		n := &g.b.NextSpots[i]
		g.wanted(NextSpot, g.b.Names.NextSpot(i), "spot to shoot next, for "+n.For, n.Plan)
	}
}

// wanted adds a place where something is to be looked at, with the elevation of the surface there.
func (g *gatherer) wanted(kind Kind, id, what string, at orb.Point) {
	z, ok := g.roof.HeightAt(at[0], at[1])
	g.add(Point{Kind: kind, ID: id, What: what, Plan: at, Surface: z, HasSurface: ok})
}

// pond adds a listed pond's deepest place, its lip and the water's edge in eight directions.
func (g *gatherer) pond(i int) {
	s := g.b.Study
	l := &s.Listed[i]
	p := &s.Ponds.Ponds[l.Pond]
	id := g.b.Names.Ponds[l.Pond]
	at := func(v int32) orb.Point { return orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]} }
	deepest := at(p.Pits[0])
	g.add(Point{
		Kind: Deepest, ID: id, What: l.ID + ", deepest place", Plan: deepest,
		Surface: s.Surface.Cut.Z[p.Pits[0]], HasSurface: true,
	})
	if p.Lip >= 0 {
		g.add(Point{Kind: Lip, ID: id + ".lip", What: l.ID + ", lip: where it would spill", Plan: at(p.Lip), Surface: p.Level, HasSurface: true})
	}
	g.rim(s.Ponds.Outline(l.Pond), deepest, Point{Kind: Rim, ID: id, What: l.ID + ", water's edge ", Surface: p.Level, HasSurface: true})
}

// rim adds places on a pond's edge for a chalk line: those seen from the deepest place in eight directions, and those that lie farthest in
// four directions where none of the others stands near, as in a pond with arms or one that lies at a wall.
func (g *gatherer) rim(outline orb.MultiPolygon, deepest orb.Point, p Point) {
	var seen []Point
	add := func(plan orb.Point, where string) {
		p := p
		p.Plan, p.What = plan, p.What+where
		seen = append(seen, p)
	}
	for _, d := range directions {
		if q, ok := edgeTowards(outline, deepest, d); ok {
			add(q, "to the "+vector.Compass(d[0], d[1]))
		}
	}
	for k := 0; k < len(directions); k += 2 {
		d := directions[k]
		if q, ok := farthest(outline, d); ok && !isNear(seen, q, max(0.5, vector.Distance(deepest, q)/3)) {
			add(q, "farthest "+vector.Compass(d[0], d[1]))
		}
	}
	g.points = append(g.points, seen...)
}

// isNear reports whether one of the points stands within reach of q.
func isNear(points []Point, q orb.Point, reach float64) bool {
	return slices.ContainsFunc(points, func(p Point) bool { return vector.Distance(p.Plan, q) < reach })
}

// farthest returns the place of the outline that lies farthest in direction d.
func farthest(outline orb.MultiPolygon, d orb.Point) (orb.Point, bool) {
	var at orb.Point
	best := math.Inf(-1)
	for _, polygon := range outline {
		for _, q := range polygon[0] {
			if v := float64(q[0]*d[0]) + float64(q[1]*d[1]); v > best+1e-6 {
				at, best = q, v
			}
		}
	}
	return at, !math.IsInf(best, -1)
}

// half is the sine of 45 degrees.
const half = math.Sqrt2 / 2

// directions are the eight points of the compass.
var directions = [8]orb.Point{{0, 1}, {half, half}, {1, 0}, {half, -half}, {0, -1}, {-half, -half}, {-1, 0}, {-half, half}}

// edgeTowards returns where the ray from p in direction d first meets the water's edge, more than the width of near away.
func edgeTowards(outline orb.MultiPolygon, p, d orb.Point) (orb.Point, bool) {
	first := math.Inf(1)
	for _, polygon := range outline {
		for _, ring := range polygon {
			for k := 1; k < len(ring); k++ {
				if t, ok := meet(p, d, ring[k-1], ring[k]); ok && t > near && t < first {
					first = t
				}
			}
		}
	}
	return orb.Point{p[0] + float64(first*d[0]), p[1] + float64(first*d[1])}, !math.IsInf(first, 1)
}

// meet returns how far along the ray from p in direction d it meets the stretch from a to b.
func meet(p, d, a, b orb.Point) (float64, bool) {
	ex, ey := b[0]-a[0], b[1]-a[1]
	det := float64(d[0]*ey) - float64(d[1]*ex)
	if math.Abs(det) < 1e-12 {
		return 0, false
	}
	ax, ay := a[0]-p[0], a[1]-p[1]
	t := (float64(ax*ey) - float64(ay*ex)) / det
	u := (float64(ax*d[1]) - float64(ay*d[0])) / det
	return t, u >= 0 && u <= 1
}

// ends adds both ends of a valley or ridge; ends of several lines at one place are one point.
func (g *gatherer) ends(l *slope.Line, kind Kind, id string) {
	n := len(l.Plan)
	if n < 2 || len(l.Levels) != n {
		return
	}
	word := choose.If(kind == RidgeEnd, "ridge ", "valley ")
	for k, end := range []string{"upper end", "lower end"} {
		at := k * (n - 1)
		what := word + g.short(id) + ", " + end
		if old := g.endAt(l.Plan[at]); old != nil {
			old.What += "; " + what
			continue
		}
		g.add(Point{Kind: kind, ID: id, What: what, Plan: l.Plan[at], Surface: l.Levels[at], HasSurface: true})
	}
}

// endAt returns the end of a valley or ridge that stands at a place already.
func (g *gatherer) endAt(plan orb.Point) *Point {
	for i := range g.points {
		if p := &g.points[i]; (p.Kind == ValleyEnd || p.Kind == RidgeEnd) && vector.Distance(p.Plan, plan) < near {
			return p
		}
	}
	return nil
}

// curbs adds the corners of curbs and of holes in the outline.
func (g *gatherer) curbs() {
	r := g.b.Study.Roof
	for i := range r.Curbs {
		name := r.Curbs[i].Label
		if name == "" {
			name = r.Curbs[i].ID
		}
		g.curb(r.Curbs[i].Ring, g.b.Names.Input("curb", r.Curbs[i].ID), "curb "+name)
	}
	for i := 1; i < len(r.Outline.Rings); i++ {
		g.curb(r.Outline.Rings[i], g.b.Names.Input("outline", r.Outline.ID), fmt.Sprintf("opening %d of the outline", i))
	}
}

func (g *gatherer) curb(ring []roof.Position, id, name string) {
	if len(ring) < 4 {
		return
	}
	corners := ring[:len(ring)-1]
	var middle orb.Point
	for _, c := range corners {
		middle[0] += c.Plan[0] / float64(len(corners))
		middle[1] += c.Plan[1] / float64(len(corners))
	}
	if len(corners) > most {
		g.add(Point{Kind: CurbCorner, ID: id, What: name + ", middle", Plan: middle})
		return
	}
	for _, c := range corners {
		p := Point{Kind: CurbCorner, ID: id, What: name + ", corner to the " + vector.Compass(c.Plan[0]-middle[0], c.Plan[1]-middle[1]), Plan: c.Plan}
		p.Surface, p.HasSurface = g.borderHeight(c.Plan)
		g.add(p)
	}
}

// borderHeight returns the elevation of the surface at the corner of a border.
func (g *gatherer) borderHeight(plan orb.Point) (z float64, ok bool) {
	best := near
	for i := range g.border {
		for k, q := range g.border[i].Plan {
			if d := vector.Distance(plan, q); d < best {
				best, z, ok = d, g.border[i].Z[k], true
			}
		}
	}
	return z, ok
}
