package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// liner finds the valleys and ridges.
type liner struct {
	*grower
	surface  *surface.Surface
	roof     *roof.Roof
	criteria standard.Criteria
	slopes   *Slopes
}

// class is what water does at a stretch of a line.
type class int8

// Water crosses it, gathers on it, parts on it.
const (
	crossed class = iota
	gathers
	parts
)

// lines fills in valleys and ridges: those on breaklines first, by breakline, then those between planes.
func (l *liner) lines() {
	t := l.t
	known := 0
	if l.roof != nil {
		known = len(l.roof.Breaklines)
	}
	links := breaklineLinks(t, l.roof)
	key := make([]int64, len(t.V))
	for _, k := range links {
		key[k.edge], key[t.Twin[k.edge]] = k.key, k.key
	}
	for _, chain := range chains(t, links) {
		source, kind := int(key[chain[0]]), roof.GradeBreak
		if source < known {
			kind = l.roof.Breaklines[source].Type
		} else {
			source = -1
		}
		l.named(chain, source, kind)
	}
	for _, chain := range chains(t, l.foldLinks()) {
		for _, run := range l.runs(chain) {
			l.add(run, Line{Breakline: -1})
		}
	}
}

// named adds what a breakline is: as its type says, or as water does at it where the type leaves that open.
func (l *liner) named(chain []int32, source int, kind roof.BreaklineType) {
	line := Line{Breakline: source, Type: kind, Named: true}
	switch kind {
	case roof.Valley:
		l.add(run{chain, gathers}, line)
	case roof.Ridge, roof.Hip:
		l.add(run{chain, parts}, line)
	default:
		for _, r := range l.runs(chain) {
			l.add(r, line)
		}
	}
}

// add measures a stretch, parted at outlets and summits, and puts it where it belongs.
func (l *liner) add(r run, line Line) {
	if r.class == crossed {
		return
	}
	for _, leg := range l.legs(r.chain) {
		one := line
		l.measure(&one, leg, r.class)
		if one.Kind == ValleyLine {
			l.slopes.Valleys = append(l.slopes.Valleys, one)
		} else {
			l.slopes.Ridges = append(l.slopes.Ridges, one)
		}
	}
}

// measure fills the line from its chain.
func (l *liner) measure(line *Line, chain []int32, c class) {
	t := l.t
	first, last := t.V[chain[0]], t.V[t.Twin[chain[len(chain)-1]]]
	if t.Z[first] < t.Z[last] || t.Z[first] == t.Z[last] && first > last {
		reverse(t, chain)
		first, last = last, first
	}
	line.Kind = ValleyLine
	if c == parts {
		line.Kind = RidgeLine
	}
	line.Vertices, line.Plan = make([]int32, 0, len(chain)+1), make(orb.LineString, 0, len(chain)+1)
	low := math.Inf(1)
	for i := 0; i <= len(chain); i++ {
		v := last
		if i < len(chain) {
			v = t.V[chain[i]]
			line.Length += l.length(chain[i])
		}
		line.Vertices = append(line.Vertices, v)
		line.Plan = append(line.Plan, orb.Point{t.X[v], t.Y[v]})
		low = math.Min(low, t.Z[v])
		line.BackFall = math.Max(line.BackFall, t.Z[v]-low)
	}
	line.Drop = t.Z[first] - t.Z[last]
	line.Slope = line.Drop / line.Length
	line.Left, line.Right = l.sides(chain)
	line.Fold = l.fold(line, chain)
	line.Bow = bow(line.Plan)
	l.judge(line, first, last)
	if line.Kind == RidgeLine {
		line.Rise = l.rise(line)
	}
}

// judge compares a valley with the least slope. Where no deviation is stated elevations are taken as
// good to half a millimetre for the verdict, and as levelled for whether it is resolved.
func (l *liner) judge(line *Line, first, last int32) {
	const rounding = 0.0005 // [m]
	a, b, allow := levelling, levelling, rounding/line.Length
	if l.sigma != nil {
		a, b = l.sigma[first], l.sigma[last]
	}
	line.Sigma = hypot(a, b) / line.Length
	if l.sigma != nil {
		allow = line.Sigma
	}
	line.BelowMin = line.Kind == ValleyLine && line.Slope+allow < l.criteria.MinValleySlope
	line.Resolved = line.BelowMin && line.Slope+2*line.Sigma < l.criteria.MinValleySlope
}

// length returns the plan length of a half-edge.
func (l *liner) length(e int32) float64 {
	a, b := l.t.V[e], l.t.V[surface.Next(e)]
	return hypot(l.t.X[b]-l.t.X[a], l.t.Y[b]-l.t.Y[a])
}

// sides returns the planes that adjoin most of the chain's left and right sides.
func (l *liner) sides(chain []int32) (left, right int32) {
	return l.side(chain, false), l.side(chain, true)
}

func (l *liner) side(chain []int32, twin bool) int32 {
	var planes []int32
	var sums []float64
	for _, e := range chain {
		f := e / 3
		if twin {
			f = l.t.Twin[e] / 3
		}
		p, i := l.slopes.Plane[f], 0
		for i < len(planes) && planes[i] != p {
			i++
		}
		if i == len(planes) {
			planes, sums = append(planes, p), append(sums, 0)
		}
		sums[i] += l.length(e)
	}
	best := 0
	for i := range planes {
		if sums[i] > sums[best] || sums[i] == sums[best] && planes[i] < planes[best] {
			best = i
		}
	}
	return planes[best]
}

// fold returns how much slope changes across the line: the planes' gradients away from it, summed.
func (l *liner) fold(line *Line, chain []int32) float64 {
	sum := 0.0
	for i, e := range chain {
		nx, ny := l.leftward(chain, i)
		a := l.slopes.Planes[l.slopes.Plane[e/3]].Gradient
		b := l.slopes.Planes[l.slopes.Plane[l.t.Twin[e]/3]].Gradient
		sum += float64(l.length(e) * (float64((a[0]-b[0])*nx) + float64((a[1]-b[1])*ny)))
	}
	return sum / line.Length
}

// bow returns how far a line strays from the straight one between its ends.
func bow(line orb.LineString) float64 {
	s := segment{a: line[0], b: line[len(line)-1]}
	most := 0.0
	for _, p := range line {
		most = math.Max(most, s.distance(p))
	}
	return most
}
