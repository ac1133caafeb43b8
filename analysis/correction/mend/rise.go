package mend

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// radii are half the widths of rises that are looked for, narrowest first [m]: a lap, a ring of laps, a lump. Own choice.
var radii = [...]float64{0.35, 0.65, 1.0}

// proud is the least height by which a place stands out of the field round it to be on a rise [m].
const proud = 0.004

// riseOff takes off the rise over which a pond spills: what stands on it comes down to the roof beside it.
func (d *Designer) riseOff(p *Pond) (Mend, bool) {
	for _, radius := range radii {
		rise := d.rise(p, radius)
		if len(rise) == 0 {
			continue
		}
		set := d.bridged(rise)
		high, length := 0.0, d.extent(rise)
		for v, z := range set {
			high = math.Max(high, d.Base.Z[v]-z)
		}
		if high < proud {
			continue
		}
		m := Mend{Kind: LowerRise, Set: set, Decides: []string{finding.Roofer}, Area: length}
		at, what := d.riseWords(p, rise, length, high)
		m.Change = Change{What: what, At: at}
		m.Questions = []Question{d.whatIsIt(p, at)}
		if d.buckled(rise, high) {
			d.resecured(&m, p)
		}
		atOneSpot(&m.Change.What)
		return m, true
	}
	return Mend{}, false
}

// riseWords says what comes off and where.
func (d *Designer) riseWords(p *Pond, rise []int32, length, high float64) (orb.Point, finding.Text) {
	args := []finding.Quantity{finding.MM("height", high), finding.Metres("length", length)}
	if p.Outlet >= 0 && d.Surface.Outlets[p.Outlet].Line == nil && d.rings(rise, d.Surface.Outlets[p.Outlet].Plan) {
		o := &d.Surface.Outlets[p.Outlet]
		return o.Plan, finding.Say("Take off the ring that stands {0} proud round {2}, down to the roof beside it, and patch", append(args, finding.Called(o.Label))...)
	}
	return p.lip, finding.Say("Take off the rise that holds "+p.ID+", {0} high and {1} long, down to the roof beside it, and patch", args...)
}

// resecured turns the mend of a rise into that of boards that came up.
func (d *Designer) resecured(m *Mend, p *Pond) {
	m.Kind = Resecure
	m.Change.What.Format = "Open the membrane over the boards that came up and hold " + p.ID + ", {0} high and {1} long, fasten or replace them, and cover them anew"
	m.Questions = []Question{{
		Ask: finding.Say("Why did the boards at " + p.ID + " come up: fasteners, moisture, or boards laid too tight? Pull-test the fasteners beside them"), Where: "at the rise beside " + p.ID, At: m.Change.At, Decides: finding.Roofer,
		If: finding.Say("Dry boards on a sound deck, and the fasteners hold"), Then: finding.Say("Fasten them again. Wet boards: replace them. Fasteners that pull out: the deck is the engineer's"),
	}}
}

// atOneSpot says of a rise that a single spot shows that its length is not known.
func atOneSpot(t *finding.Text) {
	const short = 0.05 // [m]
	if len(t.Args) > 1 && t.Args[1].Value < short {
		t.Format = strings.Replace(t.Format, "{0} high and {1} long", "{0} high where one spot shows it", 1)
	}
}

// obstacle is the mend of a rise that runs straight across the flow: what lies there is moved.
func (d *Designer) obstacle(p *Pond) (Mend, bool) {
	m, ok := d.riseOff(p)
	if !ok || m.Kind != LowerRise || len(m.Change.What.Args) > 2 {
		return m, false
	}
	m.Kind, m.Decides = MoveObstacle, []string{finding.Owner, finding.Roofer}
	m.Change.What.Format = "Find what makes the straight rise that holds " + p.ID + ", {0} high and {1} long; have its owner move it, or cut a way through it, and patch"
	atOneSpot(&m.Change.What)
	m.Questions = []Question{{
		Ask:   finding.Say("What makes the rise that holds " + p.ID + ": a sleeper, a support, a walk pad, a conduit or a cable, laps, or a joint or divider of the roof? Is it live, and whose is it?"),
		Where: "at the rise beside " + p.ID, At: m.Change.At, Decides: finding.Owner,
		If:   finding.Say("It lies on the roof and may be moved"),
		Then: finding.Say("Move it and look at the membrane under it. Laps or an old patch without asbestos: take them off. An expansion joint or area divider stays: find another way for the water"),
	}}
	return m, true
}

// whatIsIt asks what a rise is before it comes off.
func (d *Designer) whatIsIt(p *Pond, at orb.Point) Question {
	return Question{
		Ask:   finding.Say("What is the rise that holds " + p.ID + ": laps, an old patch, or a joint, a divider, a conduit or a cable under the membrane?"),
		Where: "at the rise beside " + p.ID, At: at, Decides: finding.Roofer,
		If:   finding.Say("Laps or an old patch, and no asbestos in them"),
		Then: finding.Say("Take it off. A conduit or cable: have its owner move it. An expansion joint or area divider stays: find another way for the water"),
	}
}

// rise returns the vertices of the rise over which a pond spills: those that stand out of the surface as a disc of a radius reads it from below.
func (d *Designer) rise(p *Pond, radius float64) []int32 {
	start := d.VertexAt(p.lip)
	near := d.within(p.lip, 3*radius+1)
	if !slices.Contains(near, start) {
		near = append(near, start)
	}
	first, best := d.proudest(near, p, radius)
	if first < 0 {
		return nil
	}
	least := math.Max(proud, 0.45*best)
	out, seen, taken := []int32{first}, map[int32]bool{first: true}, map[int32]bool{first: true}
	for i := 0; i < len(out) && len(out) < mostRise; i++ {
		for _, w := range d.Star[out[i]] {
			if seen[w] || d.far(out[i], w) > 3 {
				continue
			}
			seen[w] = true
			if d.proud(w, radius) > least {
				taken[w] = true
				out = append(out, w)
			}
		}
	}
	if len(out) == mostRise {
		return nil
	}
	return d.flanked(out, taken, radius)
}

// proudest returns which vertex near the lip of a pond stands out most, and by how much; -1 where none does.
func (d *Designer) proudest(near []int32, p *Pond, radius float64) (first int32, best float64) {
	first, best = -1, proud
	for _, v := range near {
		if !d.reaches(v, p, radius) {
			continue
		}
		if h := d.proud(v, radius); h > best {
			first, best = v, h
		}
	}
	return first, best
}

// flanked adds the flanks to a rise: what stands out a little beside it.
func (d *Designer) flanked(out []int32, taken map[int32]bool, radius float64) []int32 {
	for range 2 {
		for _, v := range append([]int32(nil), out...) {
			for _, w := range d.Star[v] {
				if !taken[w] && d.far(v, w) < 1.2 && d.proud(w, radius) > proud {
					taken[w] = true
					out = append(out, w)
				}
			}
		}
	}
	return out
}

// mostRise bounds how many spots a rise may have: more are a roof that is bent all over.
const mostRise = 2000

// reaches reports whether v stands near the lip of a pond.
func (d *Designer) reaches(v int32, p *Pond, radius float64) bool {
	t := d.Surface.TIN
	return vector.DistanceSquared(orb.Point{t.X[v], t.Y[v]}, p.lip) < (radius+0.6)*(radius+0.6)
}

// proud returns by how much vertex v stands above the surface opened from below by a disc: the highest of the lowest places of discs that hold it [m].
func (d *Designer) proud(v int32, radius float64) float64 {
	t := d.Surface.TIN
	p := orb.Point{t.X[v], t.Y[v]}
	open := math.Inf(-1)
	for k := -1; k < turns; k++ {
		c := p
		if k >= 0 {
			c = around(p, k, radius)
		}
		if low, ok := d.lowest(c, radius); ok {
			open = math.Max(open, low)
		}
	}
	if math.IsInf(open, -1) {
		return 0
	}
	return t.Z[v] - open
}

// turns is how many directions a disc is read in, compass the unit vectors of them.
const turns = 12

var compass = func() (out [turns]orb.Point) {
	half, root := 0.5, math.Sqrt(0.75)
	for k, u := range [3]orb.Point{{1, 0}, {root, half}, {half, root}} {
		for q := range 4 {
			out[k+3*q] = u
			u = orb.Point{-u[1], u[0]}
		}
	}
	return out
}()

func around(p orb.Point, k int, radius float64) orb.Point {
	return orb.Point{p[0] + float64(radius*compass[k][0]), p[1] + float64(radius*compass[k][1])}
}

// lowest returns the lowest place of the surface on a disc's rim and middle.
func (d *Designer) lowest(c orb.Point, radius float64) (float64, bool) {
	low, ok := d.Locate.HeightAt(c[0], c[1])
	if !ok {
		return 0, false
	}
	for k := range turns {
		q := around(c, k, radius)
		if z, on := d.Locate.HeightAt(q[0], q[1]); on {
			low = math.Min(low, z)
		}
	}
	return low, true
}

// bridged returns elevations for the vertices of a rise that run evenly between those beside it: each the mean of its
// neighbours, nearer ones counting more. None is higher than it was.
func (d *Designer) bridged(rise []int32) map[int32]float64 {
	z := map[int32]float64{}
	for _, v := range rise {
		z[v] = math.Inf(1)
	}
	for range 200 {
		moved := 0.0
		for _, v := range rise {
			sum, weight := 0.0, 0.0
			for _, w := range d.Star[v] {
				h, on := z[w]
				if !on {
					h = d.Base.Z[w]
				}
				if math.IsInf(h, 1) {
					continue
				}
				k := 1 / math.Max(1e-4, d.far(v, w)*d.far(v, w))
				sum += float64(k * h)
				weight += k
			}
			if weight == 0 {
				continue
			}
			n := math.Min(d.Base.Z[v], sum/weight)
			if math.IsInf(z[v], 1) {
				moved = 1
			} else {
				moved = math.Max(moved, math.Abs(n-z[v]))
			}
			z[v] = n
		}
		if moved < 1e-5 {
			break
		}
	}
	for v, h := range z {
		if math.IsInf(h, 1) {
			delete(z, v)
		} else {
			z[v] = math.Round(h*1e5) / 1e5
		}
	}
	return z
}

// rings reports whether a rise goes round a place.
func (d *Designer) rings(rise []int32, c orb.Point) bool {
	var quarter [4]bool
	for _, v := range rise {
		x, y := d.Surface.TIN.X[v]-c[0], d.Surface.TIN.Y[v]-c[1]
		if float64(x*x)+float64(y*y) > 4 {
			return false
		}
		k := choose.If(x < 0, 1, 0)
		if y < 0 {
			k += 2
		}
		quarter[k] = true
	}
	return quarter == [4]bool{true, true, true, true}
}

// extent returns the greatest plan distance between two of some vertices, along the axes of their box [m].
func (d *Designer) extent(list []int32) float64 {
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, v := range list {
		x, y := d.Surface.TIN.X[v], d.Surface.TIN.Y[v]
		lo, hi = orb.Point{math.Min(lo[0], x), math.Min(lo[1], y)}, orb.Point{math.Max(hi[0], x), math.Max(hi[1], y)}
	}
	return vector.Distance(lo, hi)
}

// extentOn returns the greatest plan distance between the places on a line that are nearest to some vertices, along the axes of their box [m].
func (d *Designer) extentOn(line orb.LineString, list []int32) float64 {
	b := vector.Nearest(line, orb.Point{d.Surface.TIN.X[list[0]], d.Surface.TIN.Y[list[0]]}).Bound()
	for _, v := range list[1:] {
		b = b.Extend(vector.Nearest(line, orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]}))
	}
	return vector.Distance(b.Min, b.Max)
}

// far returns the plan distance between two vertices [m].
func (d *Designer) far(a, b int32) float64 {
	t := d.Surface.TIN
	return vector.Distance(orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]})
}

// VertexAt returns the vertex of the facet under p that is nearest to it, -1 off the roof.
func (d *Designer) VertexAt(p orb.Point) int32 {
	f, ok := d.Locate.Locate(p[0], p[1])
	if !ok {
		return -1
	}
	t := d.Surface.TIN
	best, far := int32(-1), math.Inf(1)
	for _, v := range t.V[3*f : 3*f+3] {
		if l := vector.DistanceSquared(orb.Point{t.X[v], t.Y[v]}, p); l < far {
			best, far = v, l
		}
	}
	return best
}

// within returns the vertices within reach of p that an unbroken chain of such joins with it.
func (d *Designer) within(p orb.Point, reach float64) []int32 {
	start := d.VertexAt(p)
	if start < 0 {
		return nil
	}
	t := d.Surface.TIN
	return d.spread([]int32{start}, func(v int32) bool {
		return v == start || vector.DistanceSquared(orb.Point{t.X[v], t.Y[v]}, p) <= reach*reach
	})
}

// buckled reports whether cores show that the boards of a rise came up: one on it is dry and no thicker than the others by a part of the rise. Layers
// laid on the roof would make it thicker.
func (d *Designer) buckled(rise []int32, high float64) bool {
	var on *roof.Core
	var others []float64
	for i := range d.Roof.Cores {
		c := &d.Roof.Cores[i]
		if len(c.Layers) == 0 {
			continue
		}
		if !d.standsOn(c.Plan, rise) {
			others = append(others, thicknessOf(c))
		} else if on == nil || thicknessOf(c) < thicknessOf(on) {
			on = c
		}
	}
	if on == nil || len(others) < 2 || LayerIs(on, "wet") {
		return false
	}
	slices.Sort(others)
	return thicknessOf(on) < others[len(others)/2]+0.3*high
}

// standsOn reports whether a place is on or beside one of some vertices.
func (d *Designer) standsOn(q orb.Point, list []int32) bool {
	const reach = 0.3 // [m]
	return slices.ContainsFunc(list, func(v int32) bool {
		return vector.DistanceSquared(orb.Point{d.Surface.TIN.X[v], d.Surface.TIN.Y[v]}, q) < reach*reach
	})
}

func thicknessOf(c *roof.Core) float64 {
	return gather.Sum(c.Layers, func(x roof.Layer) float64 { return float64(x.Thickness) })
}
