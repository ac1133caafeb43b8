package correction

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
)

// radii are half the widths of rises that are looked for, narrowest first [m]: a lap, a ring of laps, a lump. Own choice.
var radii = [...]float64{0.35, 0.65, 1.0}

// proud is the least height by which a place stands out of the field round it to be on a rise [m].
const proud = 0.004

// riseOff takes off the rise over which a pond spills: what stands on it comes down to the roof beside it.
func (d *designer) riseOff(p *pond) (mend, bool) {
	for _, radius := range radii {
		rise := d.rise(p, radius)
		if len(rise) == 0 {
			continue
		}
		set := d.bridged(rise)
		high, length := 0.0, d.extent(rise)
		for v, z := range set {
			high = math.Max(high, d.base.Z[v]-z)
		}
		if high < proud {
			continue
		}
		m := mend{kind: LowerRise, set: set, decides: []string{finding.Roofer}, area: length}
		at, what := d.riseWords(p, rise, length, high)
		m.change = Change{What: what, At: at}
		m.questions = []Question{d.whatIsIt(p, at)}
		if d.buckled(rise, high) {
			d.resecured(&m, p)
		}
		atOneSpot(&m.change.What)
		return m, true
	}
	return mend{}, false
}

// riseWords says what comes off and where.
func (d *designer) riseWords(p *pond, rise []int32, length, high float64) (orb.Point, finding.Text) {
	args := []finding.Quantity{finding.MM("height", high), finding.Metres("length", length)}
	if p.outlet >= 0 && d.s.Outlets[p.outlet].Line == nil && d.rings(rise, d.s.Outlets[p.outlet].Plan) {
		o := &d.s.Outlets[p.outlet]
		return o.Plan, finding.Say("Take off the ring that stands {0} proud round {2}, down to the roof beside it, and patch", append(args, finding.Called(o.Label))...)
	}
	return p.lip, finding.Say("Take off the rise that holds "+p.id+", {0} high and {1} long, down to the roof beside it, and patch", args...)
}

// resecured turns the mend of a rise into that of boards that came up.
func (d *designer) resecured(m *mend, p *pond) {
	m.kind = Resecure
	m.change.What.Format = "Open the membrane over the boards that came up and hold " + p.id + ", {0} high and {1} long, fasten or replace them, and cover them anew"
	m.questions = []Question{{
		Ask: finding.Say("Why did the boards at " + p.id + " come up: fasteners, moisture, or boards laid too tight? Pull-test the fasteners beside them"), Where: "at the rise beside " + p.id, At: m.change.At, Decides: finding.Roofer,
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
func (d *designer) obstacle(p *pond) (mend, bool) {
	m, ok := d.riseOff(p)
	if !ok || m.kind != LowerRise || len(m.change.What.Args) > 2 {
		return m, false
	}
	m.kind, m.decides = MoveObstacle, []string{finding.Owner, finding.Roofer}
	m.change.What.Format = "Find what makes the straight rise that holds " + p.id + ", {0} high and {1} long; have its owner move it, or cut a way through it, and patch"
	atOneSpot(&m.change.What)
	m.questions = []Question{{
		Ask:   finding.Say("What makes the rise that holds " + p.id + ": a sleeper, a support, a walk pad, a conduit or a cable, laps, or a joint or divider of the roof? Is it live, and whose is it?"),
		Where: "at the rise beside " + p.id, At: m.change.At, Decides: finding.Owner,
		If:   finding.Say("It lies on the roof and may be moved"),
		Then: finding.Say("Move it and look at the membrane under it. Laps or an old patch without asbestos: take them off. An expansion joint or area divider stays: find another way for the water"),
	}}
	return m, true
}

// whatIsIt asks what a rise is before it comes off.
func (d *designer) whatIsIt(p *pond, at orb.Point) Question {
	return Question{
		Ask:   finding.Say("What is the rise that holds " + p.id + ": laps, an old patch, or a joint, a divider, a conduit or a cable under the membrane?"),
		Where: "at the rise beside " + p.id, At: at, Decides: finding.Roofer,
		If:   finding.Say("Laps or an old patch, and no asbestos in them"),
		Then: finding.Say("Take it off. A conduit or cable: have its owner move it. An expansion joint or area divider stays: find another way for the water"),
	}
}

// rise returns the vertices of the rise over which a pond spills: those that stand out of the surface as a disc of a radius reads it from below.
func (d *designer) rise(p *pond, radius float64) []int32 {
	start := d.vertexAt(p.lip)
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
		for _, w := range d.star[out[i]] {
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
func (d *designer) proudest(near []int32, p *pond, radius float64) (first int32, best float64) {
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
func (d *designer) flanked(out []int32, taken map[int32]bool, radius float64) []int32 {
	for range 2 {
		for _, v := range append([]int32(nil), out...) {
			for _, w := range d.star[v] {
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
func (d *designer) reaches(v int32, p *pond, radius float64) bool {
	t := d.s.TIN
	return near2(orb.Point{t.X[v], t.Y[v]}, p.lip) < (radius+0.6)*(radius+0.6)
}

// proud returns by how much vertex v stands above the surface opened from below by a disc: the highest of the lowest places of discs that hold it [m].
func (d *designer) proud(v int32, radius float64) float64 {
	t := d.s.TIN
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
func (d *designer) lowest(c orb.Point, radius float64) (float64, bool) {
	low, ok := d.locate.HeightAt(c[0], c[1])
	if !ok {
		return 0, false
	}
	for k := range turns {
		q := around(c, k, radius)
		if z, on := d.locate.HeightAt(q[0], q[1]); on {
			low = math.Min(low, z)
		}
	}
	return low, true
}

// bridged returns elevations for the vertices of a rise that run evenly between those beside it: each the mean of its
// neighbours, nearer ones counting more. None is higher than it was.
func (d *designer) bridged(rise []int32) map[int32]float64 {
	z := map[int32]float64{}
	for _, v := range rise {
		z[v] = math.Inf(1)
	}
	for range 200 {
		moved := 0.0
		for _, v := range rise {
			sum, weight := 0.0, 0.0
			for _, w := range d.star[v] {
				h, on := z[w]
				if !on {
					h = d.base.Z[w]
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
			n := math.Min(d.base.Z[v], sum/weight)
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
func (d *designer) rings(rise []int32, c orb.Point) bool {
	var quarter [4]bool
	for _, v := range rise {
		x, y := d.s.TIN.X[v]-c[0], d.s.TIN.Y[v]-c[1]
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
func (d *designer) extent(list []int32) float64 {
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, v := range list {
		x, y := d.s.TIN.X[v], d.s.TIN.Y[v]
		lo, hi = orb.Point{math.Min(lo[0], x), math.Min(lo[1], y)}, orb.Point{math.Max(hi[0], x), math.Max(hi[1], y)}
	}
	return math.Sqrt(near2(lo, hi))
}

// extentOn returns the greatest plan distance between the places on a line that are nearest to some vertices, along the axes of their box [m].
func (d *designer) extentOn(line orb.LineString, list []int32) float64 {
	b := vector.Nearest(line, orb.Point{d.s.TIN.X[list[0]], d.s.TIN.Y[list[0]]}).Bound()
	for _, v := range list[1:] {
		b = b.Extend(vector.Nearest(line, orb.Point{d.s.TIN.X[v], d.s.TIN.Y[v]}))
	}
	return math.Sqrt(near2(b.Min, b.Max))
}

// far returns the plan distance between two vertices [m].
func (d *designer) far(a, b int32) float64 {
	t := d.s.TIN
	return math.Sqrt(near2(orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]}))
}

// vertexAt returns the vertex of the facet under p that is nearest to it, -1 off the roof.
func (d *designer) vertexAt(p orb.Point) int32 {
	f, ok := d.locate.Locate(p[0], p[1])
	if !ok {
		return -1
	}
	t := d.s.TIN
	best, far := int32(-1), math.Inf(1)
	for _, v := range t.V[3*f : 3*f+3] {
		if l := near2(orb.Point{t.X[v], t.Y[v]}, p); l < far {
			best, far = v, l
		}
	}
	return best
}

// within returns the vertices within reach of p that an unbroken chain of such joins with it.
func (d *designer) within(p orb.Point, reach float64) []int32 {
	start := d.vertexAt(p)
	if start < 0 {
		return nil
	}
	t := d.s.TIN
	return d.spread([]int32{start}, func(v int32) bool { return v == start || near2(orb.Point{t.X[v], t.Y[v]}, p) <= reach*reach })
}
