package surface

import (
	"math"
	"sync"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
)

// Locator finds the facet under a place. It may be asked by several goroutines.
type Locator struct {
	t     *TIN
	few   []int32  // the facets that are looked through, ascending; nil: all
	whole *Locator // asked where none of few holds the place
	once  sync.Once
	made  *nearby.Index
}

// NewLocator returns a Locator for t, which costs little until it is asked.
func NewLocator(t *TIN) *Locator { return &Locator{t: t} }

// newLocatorIn returns a Locator for t that costs little for places inside some boxes.
func newLocatorIn(t *TIN, boxes []orb.Bound) *Locator {
	if len(boxes) == 0 {
		return NewLocator(t)
	}
	grid := nearby.NewBoxes(len(boxes), max(1024, 64*len(boxes)), func(i int) orb.Bound { return boxes[i] })
	few := []int32{}
	for f := range t.Facets() {
		if grid.Meets(t.box(f)) {
			few = append(few, int32(f))
		}
	}
	return &Locator{t: t, few: few, whole: NewLocator(t)}
}

func (l *Locator) grid() *nearby.Index {
	l.once.Do(func() {
		n := l.t.Facets()
		if l.few != nil {
			n = len(l.few)
		}
		l.made = nearby.NewBoxes(n, max(64, n/2), func(i int) orb.Bound { return l.t.box(int(l.facet(int32(i)))) })
	})
	return l.made
}

// facet returns the facet of an item of the index.
func (l *Locator) facet(i int32) int32 {
	if l.few != nil {
		return l.few[i]
	}
	return i
}

// box returns the box of facet f in metres.
func (t *TIN) box(f int) orb.Bound {
	a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	return orb.Bound{
		Min: orb.Point{min(t.X[a], t.X[b], t.X[c]), min(t.Y[a], t.Y[b], t.Y[c])},
		Max: orb.Point{max(t.X[a], t.X[b], t.X[c]), max(t.Y[a], t.Y[b], t.Y[c])},
	}
}

// Locate returns the facet that holds (x, y), the lowest where several touch it. Places outside by less than a grid
// unit count as on the border; ok is false farther out and inside curbs.
func (l *Locator) Locate(x, y float64) (facet int32, ok bool) {
	grid := l.grid()
	if l.whole == nil && !grid.Reaches(x, y, Grid) || l.t.Facets() == 0 {
		return -1, false
	}
	best, off := int32(-1), -Grid
	for _, i := range grid.Near(x, y) {
		f := l.facet(i)
		if in := l.t.depth(f, x, y); in >= 0 {
			return f, true
		} else if in > off {
			best, off = f, in
		}
	}
	if l.whole != nil {
		return l.whole.Locate(x, y)
	}
	return best, best >= 0
}

// depth returns how far inside facet f a place lies: the distance to the nearest side line, negative outside.
func (t *TIN) depth(f int32, x, y float64) float64 {
	in := math.Inf(1)
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := t.V[e], t.End(e)
		dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		in = math.Min(in, (float64(dx*(y-t.Y[a]))-float64(dy*(x-t.X[a])))/vector.Norm(dx, dy))
	}
	return in
}

// HeightAt returns the elevation of the surface at (x, y); ok is false off the roof.
func (l *Locator) HeightAt(x, y float64) (z float64, ok bool) {
	f, ok := l.Locate(x, y)
	if !ok {
		return 0, false
	}
	return l.t.Height(f, x, y), true
}

// Height returns the elevation of facet f's plane at (x, y), exactly its own where it is level.
func (t *TIN) Height(f int32, x, y float64) float64 {
	v := t.V[3*f]
	return t.Z[v] + float64(t.DX[f]*(x-t.X[v])) + float64(t.DY[f]*(y-t.Y[v]))
}
