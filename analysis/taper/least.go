package taper

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// rounds bounds how often Least raises sources before it gives up.
const rounds = 40

// Least returns the lowest surface in planes that meets p: sources stand at their lowest elevation, or as much higher as the base asks.
//
// It fails where p has no source, a slope or gauge that is none, a base of another length than its TIN, or where a part of the roof
// is cut off from every source.
func Least(p *Problem) (*Design, error) {
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("taper: %w", err)
	}
	q := *p
	q.snap()
	top := q.tops()
	over := newOverlay(&q.Base)
	for range rounds {
		env := lowest(q.Domain.parts, q.pieces(top))
		for i := range env.cells {
			if env.cells[i].plane < 0 {
				return nil, errors.New("taper: a part of the roof is cut off from every outlet")
			}
		}
		raised := over.shortfall(env, len(top), q.Thickness)
		more := false
		for i, r := range raised {
			if r > 1e-6 {
				top[i] += r
				more = true
			}
		}
		if !more {
			return q.design(env, over, top), nil
		}
	}
	return nil, errors.New("taper: sources that are raised for the base do not come to rest")
}

func (p *Problem) check() error {
	switch {
	case len(p.Sources) == 0:
		return errors.New("no outlet to drain to")
	case !(p.Slope > 0) || math.IsInf(p.Slope, 0):
		return fmt.Errorf("slope %g", p.Slope)
	case len(p.Gauge.Normals) == 0:
		return errors.New("a gauge without directions")
	case len(p.Base.Z) != len(p.Base.TIN.X):
		return fmt.Errorf("%d elevations of %d vertices", len(p.Base.Z), len(p.Base.TIN.X))
	case !(p.Thickness >= 0):
		return fmt.Errorf("thickness %g", p.Thickness)
	}
	return nil
}

// snap moves sources that stand within a millimetre of the border onto it.
func (p *Problem) snap() {
	moved := make([]Source, len(p.Sources))
	for i, s := range p.Sources {
		if s.Line == nil {
			s.Plan = p.Domain.snap(s.Plan)
		}
		moved[i] = s
	}
	p.Sources = moved
}

func (d *Domain) snap(q orb.Point) orb.Point {
	best, far := q, 1e-3
	for _, e := range d.edges {
		v := sub(e.b, e.a)
		t := math.Max(0, math.Min(1, dot(v, sub(q, e.a))/dot(v, v)))
		if at := along(e.a, e.b, t); length(sub(at, q)) < far {
			best, far = at, length(sub(at, q))
		}
	}
	return best
}

// tops returns the elevations at which the sources start: the lowest allowed, or what the base asks at their own place.
func (p *Problem) tops() []float64 {
	top := make([]float64, len(p.Sources))
	for i, s := range p.Sources {
		top[i] = s.Z
		for _, q := range append(orb.LineString{s.Plan}, s.Line...) {
			if z, ok := p.Domain.base(&p.Base, q); ok {
				top[i] = math.Max(top[i], z+p.Thickness)
			}
		}
	}
	return top
}

// base returns the base's elevation at q.
func (d *Domain) base(b *Base, q orb.Point) (z float64, ok bool) {
	f, ok := d.locate.Locate(q[0], q[1])
	if !ok {
		return 0, false
	}
	return b.height(f, q), true
}

// height returns the elevation of facet f's plane at q.
func (b *Base) height(f int32, q orb.Point) float64 {
	i, j, k := b.TIN.V[3*f], b.TIN.V[3*f+1], b.TIN.V[3*f+2]
	at := func(v int32) orb.Point { return orb.Point{b.TIN.X[v], b.TIN.Y[v]} }
	o := at(i)
	u, v, w := sub(at(j), o), sub(at(k), o), sub(q, o)
	d := cross(u, v)
	return b.Z[i] + float64(cross(w, v)/d*(b.Z[j]-b.Z[i])) + float64(cross(u, w)/d*(b.Z[k]-b.Z[i]))
}

// design draws the envelope and measures it.
func (p *Problem) design(env *envelope, over *overlay, top []float64) *Design {
	d := &Design{Gauge: p.Gauge, Slope: p.Slope, Thickness: p.Thickness}
	for i, s := range p.Sources {
		d.Outlets = append(d.Outlets, Level{s, top[i]})
	}
	d.finish(env, over, p.Domain)
	return d
}

// finish draws and measures the envelope.
func (d *Design) finish(env *envelope, over *overlay, domain *Domain) {
	draw(d, env)
	d.cells, d.planes = env.cells, env.planes
	d.find = newFinder(env.cells)
	over.measure(d)
	for i := range d.Vertices {
		v := &d.Vertices[i]
		v.Z, _ = d.Height(v.Plan)
		v.Base, _ = domain.base(over.base, v.Plan)
	}
}
