package tape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/dish"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/hold"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Pond is water that was seen, or a low place whose height was read.
type Pond struct {
	ID        string
	Water     *roof.Water // nil: nobody saw water
	Bowl      *dish.Bowl  // nil as Water
	Reordered bool        // the marks of its edge were taken as they turn about their middle
	At        orb.Point   // its deepest sounding, else its lowest reading, else its middle
	Depth     float64     // of the deepest sounding [m]; 0 for none

	Weight, WeightLeast, WeightMost float64 // [kg]; 0 without a sounding
	Load                            float64 // at the deepest sounding [Pa]

	Exit     int     // index of the nearest primary exit, -1 for none
	Distance float64 // from the water's edge to it [m]
	Where    finding.Text

	Level      hold.Reading // of the water
	Holding    hold.Holding
	HoldExit   int           // index of the outlet that Holding is about, -1 where no height tells
	Before     []*roof.Probe // the readings before that outlet, in the order of hold.Way.Before
	Spread     float64       // of the heights of its edge, highest less lowest [m]
	SpreadOver bool          // that is more than their error
}

// around returns the smooth edge of a water, and whether the order of its marks was changed.
func around(w *roof.Water) (orb.Ring, bool) {
	marks := gather.Each(w.Edge, func(x roof.Position) orb.Point { return x.Plan })
	return dish.Around(marks)
}

// ponds returns the ponds, worst first: deep ones, then the heaviest by the upper figure, then the widest.
func (s *Survey) ponds() []Pond {
	var out []Pond
	for i := range s.Roof.Tape.Waters {
		out = append(out, s.pond(&s.Roof.Tape.Waters[i]))
	}
	for i := range s.Roof.Tape.Probes {
		p := &s.Roof.Tape.Probes[i]
		id := "P" + p.Of
		if p.Kind != roof.LowProbe || slices.ContainsFunc(out, func(q Pond) bool { return q.ID == id }) {
			continue
		}
		q := Pond{ID: id, At: p.Plan, Where: s.Where(p.Plan)}
		q.Exit, q.Distance = s.nearest(orb.Ring{p.Plan, p.Plan, p.Plan, p.Plan}, roof.Primary)
		out = append(out, q)
	}
	for i := range out {
		s.hold(&out[i])
	}
	slices.SortStableFunc(out, func(a, b Pond) int {
		return cmp.Or(cmp.Compare(rank(b), rank(a)), cmp.Compare(b.WeightMost, a.WeightMost), cmp.Compare(b.area(), a.area()))
	})
	return out
}

func rank(p Pond) int { return choose.If(p.Deep(), 1, 0) }

func (p *Pond) area() float64 {
	if p.Bowl == nil {
		return 0
	}
	return p.Bowl.Area
}

func (s *Survey) pond(w *roof.Water) Pond {
	ring, reordered := around(w)
	p := Pond{ID: w.ID, Water: w, Bowl: bowlOfWater(w, ring), Reordered: reordered, At: w.Deepest()}
	if b := p.Bowl; b.Deepest >= 0 {
		p.At, p.Depth = b.Soundings[b.Deepest].Plan, b.Soundings[b.Deepest].Depth
		p.Weight = b.Volume * standard.WaterDensity
		p.WeightLeast, p.WeightMost = b.Least*standard.WaterDensity, b.Most*standard.WaterDensity
		p.Load = p.Depth * standard.WaterDensity * standard.Gravity
	}
	p.Where = s.Where(p.At)
	p.Exit, p.Distance = s.nearest(ring, roof.Primary)
	p.Level, p.Spread = LevelOf(w, s.Sigma)
	p.SpreadOver = p.Spread > spreadSure*math.Sqrt2*s.Sigma
	return p
}

// spreadSure is how many standard errors of a difference heights along one water's edge may be apart.
const spreadSure = 3
