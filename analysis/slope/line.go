package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
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
	taking   []taking // outlets that water runs to
	places   *nearby.Places
	reach    float64 // the greatest of taking
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
	l.findOutlets()
	t := l.t
	known := 0
	if l.roof != nil {
		known = len(l.roof.Breaklines)
	}
	links := breaklineLinks(t, l.roof)
	for _, c := range chains(t, links) {
		source, kind := int(c.key), roof.GradeBreak
		if source < known {
			kind = l.roof.Breaklines[source].Type
		} else {
			source = -1
		}
		l.named(c.edges, source, kind)
	}
	between := chains(t, l.foldLinks())
	for from := 0; from < len(between); {
		to := from
		for to < len(between) && between[to].key == between[from].key {
			to++
		}
		if !l.valleyIn(between[from:to]) {
			for _, c := range between[from:to] {
				l.unnamed(c.edges)
			}
		}
		from = to
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
	case roof.Cricket:
		for _, r := range oneClass(l.runs(chain), chain) {
			l.add(r, line)
		}
	case roof.GradeBreak:
		for _, r := range l.runs(chain) {
			l.add(r, line)
		}
	}
}

// oneClass makes one run of a cricket's edge on which water only gathers, or only parts, wherever it does
// anything: towards its tip a cricket is thinner than the spots can tell, but the edge was measured to there.
func oneClass(runs []run, chain []int32) []run {
	class := crossed
	for _, r := range runs {
		switch {
		case r.class == crossed || r.class == class:
		case class == crossed:
			class = r.class
		default:
			return runs
		}
	}
	return []run{{chain, class}}
}

// add measures a stretch, parted at outlets and summits.
func (l *liner) add(r run, line Line) {
	if r.class == crossed {
		return
	}
	for _, leg := range l.legs(r.chain) {
		one := line
		l.along(&one, leg)
		l.finish(one, r.class)
	}
}

// along lays the line over the edges of a chain, from the higher end to the lower.
func (l *liner) along(line *Line, chain []int32) {
	t := l.t
	first, last := t.V[chain[0]], t.V[t.Twin[chain[len(chain)-1]]]
	if t.Z[first] < t.Z[last] || t.Z[first] == t.Z[last] && first > last {
		reverse(t, chain)
	}
	line.Vertices = l.vertices(chain)
	l.through(line)
	line.Left, line.Right = l.side(chain, false), l.side(chain, true)
}

// vertices returns the vertices of a chain, both ends included.
func (l *liner) vertices(chain []int32) []int32 {
	out := make([]int32, 0, len(chain)+1)
	for i := range len(chain) + 1 {
		out = append(out, l.vertexAt(chain, i))
	}
	return out
}

func (l *liner) vertexAt(chain []int32, i int) int32 {
	if i < len(chain) {
		return l.t.V[chain[i]]
	}
	return l.t.V[l.t.Twin[chain[len(chain)-1]]]
}

// through lays the line through its vertices.
func (l *liner) through(line *Line) {
	line.Plan = make(orb.LineString, len(line.Vertices))
	line.Levels = make([]float64, len(line.Vertices))
	for i, v := range line.Vertices {
		line.Plan[i] = orb.Point{l.t.X[v], l.t.Y[v]}
		line.Levels[i] = l.t.Z[v]
	}
}

// finish measures a line that is laid out and puts it where it belongs.
func (l *liner) finish(line Line, c class) {
	line.Kind = ValleyLine
	if c == parts {
		line.Kind = RidgeLine
	}
	low := line.Levels[0]
	for i, z := range line.Levels {
		if i > 0 {
			line.Length += vector.Norm(line.Plan[i][0]-line.Plan[i-1][0], line.Plan[i][1]-line.Plan[i-1][1])
		}
		low = math.Min(low, z)
		line.BackFall = math.Max(line.BackFall, z-low)
	}
	line.Drop = line.Levels[0] - line.Levels[len(line.Levels)-1]
	line.Slope = line.Drop / line.Length
	l.judge(&line)
	if line.Kind == RidgeLine {
		l.slopes.Ridges = append(l.slopes.Ridges, line)
		return
	}
	l.slopes.Valleys = append(l.slopes.Valleys, line)
}

// judge compares a valley with the least slope. Where no deviation is stated elevations are taken as
// good to half a millimetre for the verdict, and as levelled for whether it is resolved.
func (l *liner) judge(line *Line) {
	const rounding = 0.0005 // [m]
	allow := rounding / line.Length
	switch {
	case line.Inferred:
		line.Sigma = vector.Norm(l.slopes.Planes[line.Left].Error(), l.slopes.Planes[line.Right].Error())
		allow = line.Sigma
	case l.sigma != nil:
		line.Sigma = vector.Norm(l.sigma[line.Vertices[0]], l.sigma[line.Vertices[len(line.Vertices)-1]]) / line.Length
		allow = line.Sigma
	default:
		line.Sigma = vector.Norm(levelling, levelling) / line.Length
	}
	least := l.criteria.MinValleySlope
	met, doubt := l.meet(line)
	switch {
	case line.Hidden:
		line.Sigma, allow = doubt, doubt
	case l.found(line):
		// it stands where its planes meet, so it is known as well as they are, and of many such lines on a roof the worst is looked at
		line.Sigma = foundDoubt * vector.Norm(l.slopes.Planes[line.Left].Error(), l.slopes.Planes[line.Right].Error())
		allow = line.Sigma
	}
	line.Met = line.Kind == ValleyLine && met+2*doubt < least
	line.BelowMin = line.Kind == ValleyLine && line.Slope+allow < least
	line.Resolved = line.BelowMin && line.Slope+2*line.Sigma < least
}

// foundDoubt is how many times the error of its planes' slopes that of a found line's is taken to be: the line also turns with their aspects.
const foundDoubt = 2

// found reports whether a line runs along a fold that was found and not coded: through points that nobody shot.
func (l *liner) found(line *Line) bool {
	for _, v := range line.Vertices {
		if int(v) < len(l.t.Found) && l.t.Found[v] {
			return true
		}
	}
	return false
}

// length returns the plan length of a half-edge.
func (l *liner) length(e int32) float64 {
	a, b := l.t.V[e], l.t.V[surface.Next(e)]
	return vector.Norm(l.t.X[b]-l.t.X[a], l.t.Y[b]-l.t.Y[a])
}

// side returns the plane that adjoins most of a chain's left side, or with twin its right side.
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
