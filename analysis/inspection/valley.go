package inspection

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
)

// shortValley is the least length of a valley that is judged [m]: 10 ft. With the foot or so of roof that
// a valley's slope governs, that is the 10 ft2 from which a missed criterion calls for repair.
const shortValley = 10 * float64(quantity.Foot)

// Level is the slope under which a valley is said to be level: it would read 0.00 %.
const Level = 0.00005

// uncodedSpacings is how many spacings of the spots long a valley must be that nobody coded: along a shorter one too few spots stand on either
// side to say that its planes meet there and no third one comes between.
const uncodedSpacings = 2.5

// shortest returns the least length of line l that is judged.
func (in *inspector) shortest(l *slope.Line) float64 {
	if l.Named {
		return shortValley
	}
	return math.Max(shortValley, uncodedSpacings*in.Surface.Spacing)
}

// valleys returns a finding for each valley that is flatter than the criterion, beyond the measuring error,
// and that no pond's finding names already. The two edges of one cricket, which meet at its top, are one.
func (in *inspector) valleys() []finding.Finding {
	var out []finding.Finding
	type edge struct {
		finding int
		line    *slope.Line
	}
	tops := map[int32]edge{} // of crickets: the first edge that starts there
	for i := range in.Slopes.Valleys {
		l := &in.Slopes.Valleys[i]
		if !l.BelowMin || !l.Resolved || l.Length < in.shortest(l) || !in.leadsWater(l) || in.namedByPond(l) {
			continue
		}
		if first, known := tops[l.Vertices[0]]; isCricket(l) && known {
			out[first.finding] = both(out[first.finding], in.valley(l), through(first.line.Plan, l.Plan))
			continue
		}
		if isCricket(l) {
			tops[l.Vertices[0]] = edge{len(out), l}
		}
		out = append(out, in.valley(l))
	}
	return out
}

func isCricket(l *slope.Line) bool { return l.Named && l.Type == roof.Cricket }

// both joins the findings of a cricket's two edges: the flatter one speaks, and the strip holds both.
func both(a, b finding.Finding, line orb.LineString) finding.Finding {
	lead, other := a, b
	if other.Measured[0].Value < lead.Measured[0].Value {
		lead, other = other, lead
	}
	lead.Why = lead.Why.And(finding.Say("The other edge of the same cricket falls {0}.", other.Measured[0]))
	lead.Size = a.Size + b.Size
	lead.Geometry = orb.Polygon{strip(line)}
	return lead
}

// leadsWater reports whether a line is a valley for the roof: measured as one, or a fold between two real
// planes. Lines found in the surface alone are often the foot of an edge, or noise on a level area.
func (in *inspector) leadsWater(l *slope.Line) bool {
	if l.Named {
		return l.Type == roof.Valley || l.Type == roof.Cricket || l.Type == roof.GradeBreak && in.folds(l)
	}
	return in.folds(l)
}

// folds reports whether the planes on both sides of l are planes of the roof that fall towards it.
func (in *inspector) folds(l *slope.Line) bool {
	if len(l.Plan) < 2 {
		return false
	}
	a, b := l.Plan[0], l.Plan[len(l.Plan)-1]
	left := [2]float64{-(b[1] - a[1]), b[0] - a[0]}
	length := vector.Norm(left[0], left[1])
	for k, side := range [2]int32{l.Left, l.Right} {
		if side < 0 {
			return false
		}
		p := &in.Slopes.Planes[side]
		up := (float64(p.Gradient[0]*left[0]) + float64(p.Gradient[1]*left[1])) / math.Max(length, 1e-12)
		if k == 1 {
			up = -up
		}
		if p.Area < leastArea || p.Width() < thinnest || !l.Named && p.Inner == 0 || up < in.Criteria.MinValleySlope {
			return false
		}
	}
	return true
}

// namedByPond reports whether the water of a listed pond stands on the line and its causes say why.
func (in *inspector) namedByPond(l *slope.Line) bool {
	t := in.Surface.TIN
	under, of := map[int32]float64{}, -1
	most := 0.0
	for k := 1; k < len(l.Vertices); k++ {
		a, b := l.Vertices[k-1], l.Vertices[k]
		p := in.pondOn(a, b)
		if p < 0 {
			continue
		}
		under[p] += vector.Norm(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
		if under[p] > most {
			most, of = under[p], int(p)
		}
	}
	if of < 0 || in.noted(of) {
		return false
	}
	for _, c := range in.Causes[of].Causes {
		if c.Kind == finding.ValleyFlat || c.Kind == finding.CricketFlat {
			return true
		}
	}
	return !l.Named || most > l.Length/2
}

// noted reports whether the finding of listed pond i is a note only, which takes nothing else's place.
func (in *inspector) noted(i int) bool {
	if in.grades == nil { // each pond once: to grade one looks at all of its water
		in.grades = make([]finding.Severity, len(in.Listed))
		for k := range in.Listed {
			in.grades[k] = in.severity(&in.Ponds.Ponds[in.Listed[k].Pond], &in.Listed[k])
		}
	}
	return in.grades[i] == finding.Note
}

// pondOn returns the position in Listed of the pond that covers an end of the edge a-b, -1 none.
func (in *inspector) pondOn(a, b int32) int32 {
	for _, v := range [2]int32{a, b} {
		if p := in.Ponds.Of[v]; p >= 0 && in.position[p] >= 0 {
			return in.position[p]
		}
	}
	return -1
}

func (in *inspector) valley(l *slope.Line) finding.Finding {
	kind, name, do := finding.ValleyFlat, "valley", "Add slope to the valley with tapered insulation or crickets."
	if isCricket(l) {
		kind, name = finding.CricketFlat, "cricket's valley"
		do = "Make the cricket wider: a wider cricket has a steeper valley."
	}
	f := blank(kind, finding.Repair)
	f.Size = l.Length
	f.What = finding.Say("The "+name+" falls {0} over {1}, less than {2}.",
		finding.Fall("slope", l.Slope), finding.Metres("length", l.Length), finding.Fall("least slope", in.Criteria.MinValleySlope))
	if l.Slope < Level {
		f.What = finding.Say("The "+name+" is level over {0}; it must fall {1} at least.", finding.Metres("length", l.Length), finding.Fall("least slope", in.Criteria.MinValleySlope))
	}
	f.Where = in.Places.Of(half(l.Plan))
	f.Measured = []finding.Quantity{
		finding.Fall("slope", l.Slope), finding.Fall("standard error", l.Sigma), finding.Metres("length", l.Length), finding.MM("drop", l.Drop),
	}
	f.Required = []finding.Quantity{finding.Fall("least slope", in.Criteria.MinValleySlope)}
	f.Source = in.cite("min_valley_slope", in.Criteria.MinValleySlope != in.usual().MinValleySlope)
	f.Why = finding.Say("From its top to its foot it drops {0}.", finding.MM("drop", l.Drop))
	f.Do = finding.Say(do)
	f.Geometry = orb.Polygon{strip(l.Plan)}
	if in.assumedLine(l) {
		f.Severity, f.Confidence = finding.Note, finding.NotResolved
	}
	return f
}

// assumedLine reports whether an end of l has an elevation that nobody measured. A line along a fold that was found stands where its two planes meet, wherever
// it ends; so does one between two planes that nobody coded, if where they meet is too flat as well.
func (in *inspector) assumedLine(l *slope.Line) bool {
	if !l.Named && l.Met {
		return false
	}
	for _, v := range l.Vertices {
		if in.Surface.TIN.Found[v] {
			return false
		}
	}
	for _, v := range [2]int32{l.Vertices[0], l.Vertices[len(l.Vertices)-1]} {
		if in.Surface.TIN.Assumed[v] {
			return true
		}
	}
	return false
}

// half returns the place half way along a line.
func half(line orb.LineString) orb.Point {
	total := 0.0
	for i := 1; i < len(line); i++ {
		total += vector.Norm(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	left := total / 2
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := vector.Norm(b[0]-a[0], b[1]-a[1])
		if d > 0 && left <= d {
			k := left / d
			return orb.Point{a[0] + float64(k*(b[0]-a[0])), a[1] + float64(k*(b[1]-a[1]))}
		}
		left -= d
	}
	return line[len(line)-1]
}
