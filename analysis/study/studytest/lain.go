package studytest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// Said is one thing that is said of a roof, with its numbers.
type Said struct {
	What    string
	Numbers []float64
}

// Lacking returns what of a is not in b, with numbers equal to a part of themselves and least.
func Lacking(a, b []Said, part, least float64) []Said {
	b = slices.Clone(b)
	var out []Said
	for _, x := range a {
		i := slices.IndexFunc(b, func(y Said) bool {
			return x.What == y.What && slices.EqualFunc(x.Numbers, y.Numbers, func(v, w float64) bool { return math.Abs(v-w) <= least+part*math.Abs(v) || v == w })
		})
		if i < 0 {
			out = append(out, x)
			continue
		}
		b = slices.Delete(b, i, i+1)
	}
	return out
}

// Lain is one way in which the same roof may lie and be written down.
type Lain struct {
	Name     string
	Turned   bool // by quarters
	Mirrored bool
	to       func(p orb.Point) orb.Point
	also     func(r *roof.Roof)
}

// AsIs is the way in which a roof is made.
var AsIs = Lain{Name: "as it is"}

// WaysToLie returns the others: elsewhere, turned by quarters, in another order, mirrored.
func WaysToLie() []Lain {
	return []Lain{
		{Name: "384 m east", to: func(p orb.Point) orb.Point { return orb.Point{p[0] + 384, p[1] - 640} }},
		{Name: "512.25 m east", to: func(p orb.Point) orb.Point { return orb.Point{p[0] + 512.25, p[1] - 640.33} }},
		{Name: "turned by 90 degrees", Turned: true, to: func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} }},
		{Name: "turned by 180 degrees", Turned: true, to: func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} }},
		{Name: "turned by 270 degrees", Turned: true, to: func(p orb.Point) orb.Point { return orb.Point{p[1], -p[0]} }},
		{Name: "in another order", also: func(r *roof.Roof) {
			rand.New(rand.NewPCG(1, 2)).Shuffle(len(r.Spots), func(i, j int) { r.Spots[i], r.Spots[j] = r.Spots[j], r.Spots[i] })
		}},
		{Name: "mirrored", Mirrored: true, to: func(p orb.Point) orb.Point { return orb.Point{-p[0], p[1]} }, also: func(r *roof.Roof) {
			for i := range r.Outline.Rings {
				slices.Reverse(r.Outline.Rings[i])
			}
		}},
	}
}

// Random returns the made-up roof of a seed as it lies this way. Its spots keep their names.
func (w Lain) Random(seed uint64, spots int) *roof.Roof {
	r := shape.Random(seed, spots)
	for i := range r.Spots {
		r.Spots[i].ID = fmt.Sprint("s", i)
	}
	if w.to != nil {
		shape.Places(r, func(p *orb.Point) { *p = w.to(*p) })
	}
	if w.also != nil {
		w.also(r)
	}
	return r
}
