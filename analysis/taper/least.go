package taper

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// rounds bounds how often Solve raises sources before it gives up.
const rounds = 40

// Solution is the lowest surface in planes that meets a problem: sources stand at their lowest elevation, or as much higher as the base asks.
type Solution struct {
	Problem
	top    []float64
	over   *overlay
	env    *envelope
	lacks  []float64 // per source; nil: not asked yet
	rounds int
}

// Solve raises sources until the envelope clears the base.
//
// It fails where p has no source, a slope or gauge that is none, a base of another length than its TIN, or where a part of the roof
// is cut off from every source.
func Solve(p *Problem) (*Solution, error) {
	s, err := start(p)
	for err == nil && !s.clears() {
		err = s.raise()
	}
	return s, err
}

// start returns p with its sources at the lowest elevations that may do: its Volume is a bound from below of that of the answer. It fails as Solve does.
func start(p *Problem) (*Solution, error) {
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("taper: %w", err)
	}
	s := &Solution{Problem: *p}
	s.snap()
	s.top, s.over = s.tops(), s.Base.overlay()
	if err := s.fold(); err != nil {
		return nil, err
	}
	return s, nil
}

// fold makes the envelope of the sources as they stand.
func (s *Solution) fold() error {
	s.env, s.lacks = lowest(s.Domain.Parts, s.pieces(s.top)), nil
	if !s.env.trim() {
		return errCutOff
	}
	return nil
}

// clears reports whether the envelope clears the base everywhere: s is the answer.
func (s *Solution) clears() bool {
	if s.lacks == nil {
		s.lacks = s.over.shortfall(s.env, len(s.top), s.Thickness)
	}
	return !slices.ContainsFunc(s.lacks, func(r float64) bool { return r > enough })
}

// enough is a height above the base that need not be raised [m].
const enough = 1e-6

// raise raises each source by what its part of the envelope lacks above the base. It fails where sources do not come to rest.
func (s *Solution) raise() error {
	if s.rounds++; s.rounds == rounds {
		return errors.New("taper: sources that are raised for the base do not come to rest")
	}
	for i := range s.top {
		if r := s.lacks[i]; r > enough {
			s.top[i] += r
		}
	}
	return s.fold()
}

var errCutOff = errors.New("taper: a part of the roof is cut off from every outlet")

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

// snap moves sources that stand within a millimetre of the border onto it, and leaves out points of lines that are no corners.
func (p *Problem) snap() {
	moved := make([]Source, len(p.Sources))
	for i, s := range p.Sources {
		if s.Line == nil {
			s.Plan = p.Domain.Snap(s.Plan)
		} else {
			line := make(orb.LineString, len(s.Line))
			for k, q := range s.Line {
				line[k] = p.Domain.Snap(q)
			}
			s.Line = bare(line, domain.Bent)
		}
		moved[i] = s
	}
	p.Sources = moved
}

// bare returns a line without points that stand no more than bent [m] off the line from the one kept before to the one after.
func bare(line orb.LineString, bent float64) orb.LineString {
	out := line[:1:1]
	for i := 1; i+1 < len(line); i++ {
		if domain.OffLine(line[i], out[len(out)-1], line[i+1]) > bent {
			out = append(out, line[i])
		}
	}
	return append(out, line[len(line)-1])
}

// tops returns the elevations at which the sources start: the lowest allowed, or what the base asks at their own place.
func (p *Problem) tops() []float64 {
	top := make([]float64, len(p.Sources))
	for i, s := range p.Sources {
		top[i] = s.Z
		for _, q := range append(orb.LineString{s.Plan}, s.Line...) {
			if z, ok := p.Base.at(p.Domain, q); ok {
				top[i] = math.Max(top[i], z+p.Thickness)
			}
		}
	}
	return top
}

// at returns the base's elevation at q.
func (b *Base) at(d *domain.Domain, q orb.Point) (z float64, ok bool) {
	f, ok := d.FacetAt(q)
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
	u, v, w := vector.Minus(at(j), o), vector.Minus(at(k), o), vector.Minus(q, o)
	d := vector.Cross(u, v)
	return b.Z[i] + float64(vector.Cross(w, v)/d*(b.Z[j]-b.Z[i])) + float64(vector.Cross(u, w)/d*(b.Z[k]-b.Z[i]))
}

// Design draws the envelope and measures it.
func (s *Solution) Design() *Design {
	d := &Design{Gauge: s.Gauge, Slope: s.Slope, Thickness: s.Thickness}
	for i, o := range s.Sources {
		d.Outlets = append(d.Outlets, Level{o, s.top[i]})
	}
	d.finish(s.env, s.over, s.Domain)
	return d
}

// Volume returns the fill [m3]. Envelope and base are both whole, so it is the difference of two integrals.
func (s *Solution) Volume() float64 {
	return integral(s.env.planes, s.env.cells) - integral(s.over.planes, s.over.facets)
}

// integral returns the volume under cells above level 0.
func integral(planes []plane, cells []cell) float64 {
	sum, none := 0.0, plane{}
	for i := range cells {
		sum += between(&planes[cells[i].plane], &none, cells[i].on)
	}
	return sum
}

func (d *Design) finish(env *envelope, over *overlay, on *domain.Domain) {
	draw(d, env)
	d.cells, d.planes = env.cells, env.planes
	d.find = newFinder(env.cells)
	d.over = over
	over.measure(d)
	for i := range d.Vertices {
		v := &d.Vertices[i]
		v.Z, _ = d.Height(v.Plan)
		v.Base, _ = over.base.at(on, v.Plan)
	}
}
