package evidence

import (
	"math"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Errors is how good the elevations of a surface are.
type Errors struct {
	Sigma   []float64 // per vertex of the TIN: standard error of its elevation [m], above 0
	Typical float64   // root mean square of those that were measured [m]
	Source  Source    // where they come from
	Offset  float64   // by which interleaved files differ in elevation [m]; 0 where they do not
	Slope   float64   // typical fall of the surface, rise over run
	Scatter float64   // what even the quarter of the spots that lie best lies off the planes of its neighbours, as a standard error [m]; 0 where too few tell
}

// Source says where the standard errors come from.
type Source uint8

// Stated by the input or a flag; found from the scatter of the spots, and then a bound, since relief that the spacing does
// not resolve scatters too; or the usual error of a roof survey, where too few spots tell; or found from the scatter about planes on which most spots lie.
const (
	Stated Source = iota
	Scatter
	Usual
	Planes
)

const (
	neighbours = 6   // spots that a plane is fitted to
	enough     = 20  // fewer residuals than this tell nothing
	relief     = 0.8 // of what neighbours leave: where spots scatter by less about planes, the rest is relief
)

// ErrorsOf returns the standard errors of a surface's elevations: as stated, else from the median of what the spots lie off
// the planes through the six nearest others, no plane reaching over a breakline, or about the planes that were found, if that is less. The median of normal errors is
// standard.MedianError of their standard deviation. Where two files' spots stand among each other and differ in level by
// b, b*b/4 is added to the variance of every spot of theirs.
func ErrorsOf(s *surface.Surface, r *roof.Roof) *Errors {
	t := s.TIN
	rest, fall := neighbourhoods(t)
	e := &Errors{Sigma: make([]float64, len(t.X)), Slope: fall}
	stated, n := 0.0, 0
	for v, sigma := range t.Sigma {
		if sigma > 0 && !t.Assumed[v] {
			stated += float64(sigma * sigma)
			n++
		}
	}
	middle := errorOf(rest, 0.5, standard.MedianError)
	e.Scatter = errorOf(rest, 0.25, quarterError)
	switch {
	case r.Sigma > 0:
		e.Typical, e.Source = float64(r.Sigma), Stated
	case n > 0:
		e.Typical, e.Source = math.Sqrt(stated/float64(n)), Stated
	case middle > 0:
		e.Typical, e.Source = middle, Scatter
		if s.Scatter > 0 && s.Scatter < relief*e.Typical {
			e.Typical, e.Source = math.Max(standard.LeastError, s.Scatter), Planes
		}
	default:
		e.Typical, e.Source = standard.UsualError, Usual
	}
	e.Typical = alike(e.Typical)
	for v := range e.Sigma {
		e.Sigma[v] = e.Typical
		if t.Sigma[v] > 0 {
			e.Sigma[v] = t.Sigma[v]
		}
	}
	if e.Source == Stated {
		e.addOffset(t, r, rest)
	}
	return e
}

// uneven is how far spots of a sound roof lie off the planes of their neighbours [m]: laps, welds and sags between joists. Own choice, over what demo roofs show.
const uneven = 0.008

// Doubtful reports whether spots scatter by more than twice what is stated, and more than roofs are uneven: its heights may be worse than said.
func (e *Errors) Doubtful() bool {
	return e.Source == Stated && e.Scatter > math.Max(uneven, 2*e.Typical)
}

// quarterError is the size that a quarter of normal errors stay below, in standard deviations: the quantile 0.625. Source (recalled):
// tables of the normal distribution.
const quarterError = 0.31863936396437514

// errorOf returns the standard error of which residuals tell by the size that a part of them stay below, never less than the least; 0 where they are too few.
func errorOf(rest []residual, part, quantile float64) float64 {
	if len(rest) < enough {
		return 0
	}
	off := make([]float64, len(rest))
	for i := range rest {
		off[i] = math.Abs(rest[i].off)
	}
	slices.Sort(off)
	return math.Max(standard.LeastError, off[int(float64(len(off))*part)]/quantile)
}

// Equal returns the errors of the same surface if each of its elevations had one standard error [m].
func (e *Errors) Equal(sigma float64) *Errors {
	out := &Errors{Sigma: make([]float64, len(e.Sigma)), Typical: sigma, Source: Usual, Slope: e.Slope}
	for v := range out.Sigma {
		out.Sigma[v] = sigma
	}
	return out
}

// residual is what one spot lies off the plane through the others near it.
type residual struct {
	v    int32
	off  float64           // [m], scaled so that its standard error is that of one spot
	unit float64           // standard error of the difference for errors of one
	from [neighbours]int32 // the others
}

// samples is how many vertices an estimate looks at.
const samples = 4000

// neighbourhoods looks at what lies within two edges round the vertices, samples of them where there are many. It returns the residuals of the spots,
// and the median slope of planes through the neighbourhoods, which errors of single spots hardly move; at least levelSlope.
func neighbourhoods(t *surface.TIN) (rest []residual, fall float64) {
	h := newHood(t)
	step := max(1, len(t.X)/samples)
	var slopes []float64
	for v := 0; v < len(t.X); v += step {
		near := h.within(int32(v), 2)
		if s, ok := slopeOf(t, int32(v), near); ok {
			slopes = append(slopes, s)
		}
		if t.Assumed[v] || t.Spot[v] < 0 || h.fold[v] {
			continue
		}
		if r, ok := residualOf(t, int32(v), near); ok {
			rest = append(rest, r)
		}
	}
	if len(slopes) == 0 {
		return rest, levelSlope
	}
	slices.Sort(slopes)
	return rest, math.Max(levelSlope, alike(slopes[len(slopes)/2]))
}

// slopeOf returns the slope of the plane through vertices near v; false where they fix none.
func slopeOf(t *surface.TIN, v int32, near []int32) (slope float64, ok bool) {
	var f fit
	for _, w := range near {
		f.add(t.X[w]-t.X[v], t.Y[w]-t.Y[v], t.Z[w]-t.Z[v])
	}
	_, gx, gy, _, ok := f.plane()
	return vector.Norm(gx, gy), ok
}

func residualOf(t *surface.TIN, v int32, near []int32) (residual, bool) {
	list, n := nearest(t, v, near)
	if n < neighbours {
		return residual{}, false
	}
	var f fit
	r := residual{v: v, from: list}
	for _, w := range list {
		f.add(t.X[w]-t.X[v], t.Y[w]-t.Y[v], t.Z[w]-t.Z[v])
	}
	height, _, _, variance, ok := f.plane()
	if !ok || variance > 1 {
		return residual{}, false // the spot lies beside the others
	}
	r.unit = math.Sqrt(1 + variance)
	r.off = -height / r.unit
	return r, true
}

// nearest returns the vertices of near that are nearest to v, the nearest first, those as far by number; n of them. It sorts no list:
// beside a vertex on which many edges meet, near holds them all.
func nearest(t *surface.TIN, v int32, near []int32) (list [neighbours]int32, n int) {
	var far [neighbours]float64
	for _, w := range near {
		if w == v {
			continue
		}
		dx, dy := float64(t.GX[w]-t.GX[v]), float64(t.GY[w]-t.GY[v]) // exact: equal ones are common
		d := float64(dx*dx) + float64(dy*dy)
		before := func(i int) bool { return d < far[i] || d == far[i] && w < list[i] }
		if n == neighbours && !before(n-1) {
			continue
		}
		n = min(n+1, neighbours)
		i := n - 1
		for ; i > 0 && before(i-1); i-- {
			list[i], far[i] = list[i-1], far[i-1]
		}
		list[i], far[i] = w, d
	}
	return list, n
}

// addOffset adds what files that stand among each other differ by. Spot i's residual is its own offset less the plane's
// of its neighbours' offsets, so the difference of two files follows by least squares from the same planes laid through
// one for a spot of the file and nought for another.
func (e *Errors) addOffset(t *surface.TIN, r *roof.Roof, rest []residual) {
	files := map[string]int{}
	for i := range r.Spots {
		files[r.Spots[i].Origin.File]++
	}
	if len(files) < 2 {
		return
	}
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	of := func(v int32) string {
		if i := t.Spot[v]; i >= 0 {
			return r.Spots[i].Origin.File
		}
		return ""
	}
	for _, name := range names {
		b, sure := offsetOf(t, rest, func(v int32) float64 {
			return choose.If(of(v) == name, 1.0, 0)
		}, e.Typical)
		if !sure || math.Abs(b) <= e.Offset {
			continue
		}
		e.Offset = math.Abs(b)
	}
	if e.Offset == 0 {
		return
	}
	for v := range e.Sigma {
		e.Sigma[v] = math.Sqrt(float64(e.Sigma[v]*e.Sigma[v]) + float64(e.Offset*e.Offset)/4)
	}
	e.Typical = math.Sqrt(float64(e.Typical*e.Typical) + float64(e.Offset*e.Offset)/4)
}

// offsetOf returns by how much the spots for which in is 1 stand above the others among which they stand, and whether
// that is beyond three standard errors.
func offsetOf(t *surface.TIN, rest []residual, in func(v int32) float64, sigma float64) (b float64, sure bool) {
	zz, za := 0.0, 0.0
	for i := range rest {
		q := &rest[i]
		var f fit
		own := in(q.v)
		for _, w := range q.from {
			f.add(t.X[w]-t.X[q.v], t.Y[w]-t.Y[q.v], in(w)-own)
		}
		height, _, _, _, ok := f.plane()
		if !ok {
			continue
		}
		a := -height / q.unit
		zz += float64(a * a)
		za += float64(a * q.off)
	}
	if zz < enough/4 {
		return 0, false // they do not stand among each other
	}
	b = za / zz
	return b, math.Abs(b) > 3*sigma/math.Sqrt(zz)
}
