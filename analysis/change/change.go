// Package change compares two surveys of one roof, and a finished roof with what was set out.
//
// A spot of the later survey is compared with the surface of the earlier one at its place. A difference counts only where the errors of both surveys
// cannot make it: the threshold is that of so many comparisons at once (Bonferroni: the chance of any false one on the whole roof is at most
// standard.ChangeRisk). Where the earlier survey has no spot at the place, what its mesh may stand off the roof between its spots is added to the
// error, found from the scatter of the differences themselves.
package change

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// Spot is a spot of the later survey, compared.
type Spot struct {
	Spot        int // index into the later roof's Spots
	Vertex      int32
	Plan        orb.Point // in the later roof's frame [m]
	Rise        float64   // later less earlier elevation, less the shift that was taken off [m]; above 0: the roof rose
	Error       float64   // standard error of Rise [m]
	Between     bool      // the earlier survey has no spot here
	Significant bool
}

// Region is a part of the roof that rose or dropped: spots that are neighbours in the later mesh.
type Region struct {
	Spots []int // indices into Result.Spots, the largest change first
	Rise  float64
	Error float64
	Area  float64 // of the facets round those spots, a third of each [m2]
}

// Shift is what the later survey as a whole stands above the earlier one.
type Shift struct {
	Median, Error float64 // [m]
	Shown         bool    // more than the errors make
	Taken         bool    // it was taken off before spots were compared
}

// Result is what changed.
type Result struct {
	Spots     []Spot // of the later survey that lie on the earlier roof and whose elevation was measured
	Off       int    // spots of the later survey that lie off the earlier roof
	Threshold float64
	Roughness float64 // what the earlier mesh stands off the roof between its spots, as one standard deviation [m]
	Shift     Shift
	Regions   []Region // the largest change first
	Ponds     []Pond
}

// samePlace is how near a spot of the earlier survey counts as one at the same place [m]: a chalk cross found again. Common practice, no source.
const samePlace = 0.15

// Options say how surveys are compared.
type Options struct {
	Level bool // the shift is taken off: the two surveys have different bench marks
}

// Of compares two studies of one roof. Frames must be of one kind.
func Of(before, after *study.Study, o Options) *Result {
	r := &Result{}
	c := comparison{before: before, after: after, result: r}
	c.spots()
	c.shift(o.Level)
	c.roughen()
	c.judge()
	r.Regions = c.regions()
	r.Ponds = c.ponds()
	return r
}

// comparison is a comparison in the making.
type comparison struct {
	before, after *study.Study
	result        *Result
}

// spots gathers the later survey's spots with their differences.
func (c *comparison) spots() {
	t, old := c.after.Surface.TIN, c.before.Surface.TIN
	find := surface.NewLocator(old)
	for v, s := range t.Spot {
		if s < 0 || t.Assumed[v] {
			continue
		}
		plan := orb.Point{t.X[v], t.Y[v]}
		p := c.before.Roof.Frame.From(c.after.Roof.Frame, plan)
		f, ok := find.Locate(p[0], p[1])
		if !ok {
			c.result.Off++
			continue
		}
		w, near, measured := weights(old, f, p)
		if !measured {
			continue // the earlier elevation was assumed: nothing was measured there
		}
		variance := float64(c.after.Errors.Sigma[v] * c.after.Errors.Sigma[v])
		for k, weight := range w {
			sigma := c.before.Errors.Sigma[old.V[3*f+int32(k)]]
			variance += float64(float64(weight*weight) * float64(sigma*sigma))
		}
		c.result.Spots = append(c.result.Spots, Spot{
			Spot: int(s), Vertex: int32(v), Plan: plan, Rise: t.Z[v] - old.Height(f, p[0], p[1]), Error: math.Sqrt(variance), Between: near > samePlace,
		})
	}
}

// weights returns what each corner of a facet adds to the elevation at a place, how far the nearest measured corner is, and whether all corners that
// count were measured.
func weights(t *surface.TIN, f int32, p orb.Point) (w [3]float64, near float64, measured bool) {
	near, measured = math.Inf(1), true
	sum := 0.0
	for k := range w {
		a, b := t.V[3*f+int32(k+1)%3], t.V[3*f+int32(k+2)%3]
		w[k] = math.Max(0, float64((t.X[a]-p[0])*(t.Y[b]-p[1]))-float64((t.X[b]-p[0])*(t.Y[a]-p[1])))
		sum += w[k]
	}
	for k := range w {
		w[k] /= sum
		v := t.V[3*f+int32(k)]
		if t.Assumed[v] && w[k] > 0.05 {
			measured = false
		}
		if t.Spot[v] >= 0 {
			dx, dy := t.X[v]-p[0], t.Y[v]-p[1]
			near = math.Min(near, math.Sqrt(float64(dx*dx)+float64(dy*dy)))
		}
	}
	return w, near, measured
}

// shift finds what the later survey stands above the earlier one, from spots at the same places where there are enough, and takes it off where asked.
func (c *comparison) shift(take bool) {
	const enough = 5
	r := c.result
	var same, all []float64
	sigma := 0.0
	for i := range r.Spots {
		all = append(all, r.Spots[i].Rise)
		sigma = math.Max(sigma, r.Spots[i].Error)
		if !r.Spots[i].Between {
			same = append(same, r.Spots[i].Rise)
		}
	}
	if len(same) >= enough {
		all = same
	}
	if len(all) < enough {
		return
	}
	m := median(all)
	spread := math.Max(sigma, deviation(all, m))
	r.Shift = Shift{Median: m, Error: spread * math.Sqrt(math.Pi/2/float64(len(all))), Taken: take} // of a median of normal errors
	r.Shift.Shown = math.Abs(m) > standard.SureChange*r.Shift.Error
	if take {
		for i := range r.Spots {
			r.Spots[i].Rise -= m
			r.Spots[i].Error = math.Sqrt(float64(r.Spots[i].Error*r.Spots[i].Error) + float64(r.Shift.Error*r.Shift.Error))
		}
	}
}

// roughen adds to the error of spots that the earlier survey has none at what its mesh stands off the roof there: what their differences scatter more
// than the errors make.
func (c *comparison) roughen() {
	var rises []float64
	mean := 0.0
	for i := range c.result.Spots {
		if s := &c.result.Spots[i]; s.Between {
			rises = append(rises, s.Rise)
			mean += float64(s.Error * s.Error)
		}
	}
	const enough = 8
	if len(rises) < enough {
		return
	}
	d := deviation(rises, median(rises))
	c.result.Roughness = math.Sqrt(math.Max(0, float64(d*d)-mean/float64(len(rises))))
	for i := range c.result.Spots {
		if s := &c.result.Spots[i]; s.Between {
			s.Error = math.Sqrt(float64(s.Error*s.Error) + float64(c.result.Roughness*c.result.Roughness))
		}
	}
}

// judge marks the spots that changed.
func (c *comparison) judge() {
	r := c.result
	r.Threshold = Threshold(len(r.Spots))
	for i := range r.Spots {
		r.Spots[i].Significant = math.Abs(r.Spots[i].Rise) > r.Threshold*r.Spots[i].Error
	}
}

// Threshold is how many standard errors a difference must have to count among n at once: the normal quantile of 1 - risk/2n.
func Threshold(n int) float64 {
	return math.Sqrt2 * math.Erfinv(1-standard.ChangeRisk/math.Max(1, float64(n)))
}

// regions joins neighbouring spots that changed the same way.
func (c *comparison) regions() []Region {
	t, r := c.after.Surface.TIN, c.result
	at := make([]int, len(t.X)) // 1 + index into Spots of a vertex whose spot changed
	for i := range r.Spots {
		if r.Spots[i].Significant {
			at[r.Spots[i].Vertex] = i + 1
		}
	}
	next := make([][]int32, len(t.X))
	area := make([]float64, len(t.X))
	for f := range int32(t.Facets()) {
		corners := t.V[3*f : 3*f+3]
		a, b, d := corners[0], corners[1], corners[2]
		third := math.Abs(float64((t.X[b]-t.X[a])*(t.Y[d]-t.Y[a]))-float64((t.X[d]-t.X[a])*(t.Y[b]-t.Y[a]))) / 6
		for _, v := range corners {
			next[v] = append(next[v], corners...)
			area[v] += third
		}
	}
	var out []Region
	for i := range r.Spots {
		if at[r.Spots[i].Vertex] == 0 {
			continue
		}
		region := Region{}
		down := math.Signbit(r.Spots[i].Rise)
		stack := []int32{r.Spots[i].Vertex}
		at[r.Spots[i].Vertex] = 0
		region.Spots = append(region.Spots, i)
		for len(stack) > 0 {
			v := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			region.Area += area[v]
			for _, w := range next[v] {
				if k := at[w]; k > 0 && math.Signbit(r.Spots[k-1].Rise) == down {
					at[w] = 0
					region.Spots = append(region.Spots, k-1)
					stack = append(stack, w)
				}
			}
		}
		slices.SortFunc(region.Spots, func(a, b int) int {
			return cmp.Or(cmp.Compare(math.Abs(r.Spots[b].Rise), math.Abs(r.Spots[a].Rise)), cmp.Compare(a, b))
		})
		worst := &r.Spots[region.Spots[0]]
		region.Rise, region.Error = worst.Rise, worst.Error
		out = append(out, region)
	}
	slices.SortStableFunc(out, func(a, b Region) int { return cmp.Compare(math.Abs(b.Rise), math.Abs(a.Rise)) })
	return out
}

func median(values []float64) float64 {
	s := slices.Sorted(slices.Values(values))
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}

// deviation is the standard deviation of normal values about a middle, from the median of their distances, which a few large ones do not move.
func deviation(values []float64, middle float64) float64 {
	off := gather.Each(values, func(v float64) float64 { return math.Abs(v - middle) })
	return median(off) / standard.MedianError
}
