package rainfall

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/standard"
)

// IDF is how deep the rain of one return period is by duration. It is the user's; none is built in.
type IDF struct {
	Duration []float64 // s, rising; the first is the length of a block
	Depth    []float64 // m, not falling; as many as Duration
}

// Blocks returns the pattern of a storm of a duration [s] by the alternating block method: what each further step of
// duration adds to the depth is a block; the largest stands in the middle, the others in turn after and before it. With
// an even number of blocks the largest is the last of the first half. Between durations of the table the depth goes in
// proportion; a storm longer than the table is refused.
// Source: FHWA HDS-2, 2nd edition, section 6.2.2, Example 6.6; Chow, Maidment and Mays, Applied Hydrology, section 14.4 (recalled).
func (f *IDF) Blocks(duration float64) (*Pattern, error) {
	step := 0.0
	if len(f.Duration) > 0 {
		step = f.Duration[0]
	}
	n := int(math.Round(duration / step))
	if !(step > 0) || n < 1 || math.Abs(float64(n)*step-duration) > 1e-6*duration {
		return nil, fmt.Errorf("a storm of %g min is no whole number of blocks of %g min", duration/60, step/60)
	}
	if n > 2000 {
		return nil, fmt.Errorf("a storm of %g min has too many blocks of %g min", duration/60, step/60)
	}
	blocks := make([]float64, n)
	before := 0.0
	for i := range blocks {
		depth, err := f.depth(float64(i+1) * step)
		if err != nil {
			return nil, err
		}
		blocks[i], before = depth-before, depth
		if blocks[i] < 0 {
			return nil, fmt.Errorf("the depth falls between %g and %g min: longer rain cannot be less deep", float64(i)*step/60, float64(i+1)*step/60)
		}
	}
	if !(before > 0) {
		return nil, fmt.Errorf("no rain falls in %g min", duration/60)
	}
	slices.SortStableFunc(blocks, func(a, b float64) int { return cmp.Compare(b, a) })
	p := &Pattern{
		Name: Alternating, Source: standard.Source{Text: "alternating blocks, FHWA HDS-2, 2nd edition, section 6.2.2", Read: true},
		Time: []float64{0}, Fraction: []float64{0}, Depth: before,
	}
	fallen := 0.0
	for i, b := range alternate(blocks) {
		fallen += b
		p.Time, p.Fraction = append(p.Time, float64(i+1)/float64(n)), append(p.Fraction, math.Round(fallen/before*1e12)/1e12)
	}
	p.Fraction[n] = 1
	return p, nil
}

// alternate puts blocks, largest first, round the middle: the first in the middle, the next after it, the next before it.
func alternate(blocks []float64) []float64 {
	n := len(blocks)
	placed := make([]float64, n)
	middle := (n - 1) / 2
	for i, b := range blocks {
		away := (i + 1) / 2
		if i%2 == 0 {
			away = -away
		}
		placed[middle+away] = b
	}
	return placed
}

// depth returns the depth of rain of a duration [s].
func (f *IDF) depth(duration float64) (float64, error) {
	const slack = 1e-6
	last := len(f.Duration) - 1
	if last < 0 || duration < f.Duration[0]-slack || duration > f.Duration[last]+slack {
		return 0, fmt.Errorf("the intensities by duration do not reach %g min", duration/60)
	}
	for i := 1; i <= last; i++ {
		if duration <= f.Duration[i] {
			part := (duration - f.Duration[i-1]) / (f.Duration[i] - f.Duration[i-1])
			return f.Depth[i-1] + float64((f.Depth[i]-f.Depth[i-1])*part), nil
		}
	}
	return f.Depth[last], nil
}
