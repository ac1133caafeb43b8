package inspection

import (
	"fmt"
	"sort"

	"runnel/analysis/ponding"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Place says where a pond lies with regard to the outlets.
type Place string

// The three places. Enclosed: no way out at any level.
const (
	AtOutlet      Place = "at outlet"
	ShortOfOutlet Place = "short of outlet"
	Enclosed      Place = "enclosed"
)

// Listed is a pond deep enough to be listed.
type Listed struct {
	Pond    int32   // index into ponding.Ponds.Ponds
	ID      string  // "P01", worst first
	Place   Place   //
	Touches []int32 // outlets whose footprint the water touches, ascending
	Weight  float64 // of the water [kg]
	Load    float64 // of the water at the deepest [Pa]
	Seen    bool    // somebody saw water standing there
}

// Shallow sums up the ponds that are not listed.
type Shallow struct {
	Count  int
	Area   float64 // [m2]
	Volume float64 // [m3]
	Depth  float64 // of the deepest [m]
}

// Unresolved sums up the ponds that the criteria would list and that the error of the survey alone can make.
type Unresolved struct {
	Count   int
	Area    float64 // [m2]
	Depth   float64 // of the deepest [m]
	AtLevel int     // how many of them would be shown by heights good to standard.LevelError; where nothing states how good they are
}

// List returns the ponds that the criteria list, worst first, and the sums of those in doubt and of the rest. Worst is the
// greatest volume, and so the greatest weight; equal volumes in the order of ps. A pond with no way out
// is listed whatever its depth, but for a film of water thinner than the grid of elevations. standing says how each pond
// stands; nil: all as computed.
func List(s *surface.Surface, ps *ponding.Ponds, c standard.Criteria, standing []Standing) ([]Listed, Unresolved, Shallow) {
	var rest Shallow
	var unresolved Unresolved
	listed := make([]Listed, 0, len(ps.Ponds))
	for i := range ps.Ponds {
		p := &ps.Ponds[i]
		how := AsComputed
		if standing != nil {
			how = standing[i]
		}
		switch {
		case how == Unsurveyed:
			continue
		case IsListed(p, c) && how == InDoubt:
			unresolved.Count++
			unresolved.Area += p.Area
			unresolved.Depth = max(unresolved.Depth, p.Depth)
			continue
		case IsListed(p, c):
			listed = append(listed, Listed{Pond: int32(i), Seen: how == Seen})
			continue
		}
		rest.Count++
		rest.Area += p.Area
		rest.Volume += p.Volume
		rest.Depth = max(rest.Depth, p.Depth)
	}
	sort.SliceStable(listed, func(a, b int) bool {
		return ps.Ponds[listed[a].Pond].Volume > ps.Ponds[listed[b].Pond].Volume
	})
	touches := touched(s, ps)
	for i := range listed {
		l := &listed[i]
		p := &ps.Ponds[l.Pond]
		l.ID = fmt.Sprintf("P%02d", i+1)
		l.Touches = touches[l.Pond]
		l.Place = placeOf(p, l.Touches)
		l.Weight = p.Volume * standard.WaterDensity
		l.Load = p.Depth * standard.WaterDensity * standard.Gravity
	}
	return listed, unresolved, rest
}

// IsListed applies the depth criteria of standard.Criteria. Depths are compared on the grid of
// elevations, so that a pond of exactly the criterion counts whatever the rounding.
func IsListed(p *ponding.Pond, c standard.Criteria) bool {
	depth := p.Depth + surface.Grid/2
	switch {
	case p.Undrained:
		return depth > 2*surface.Grid
	case p.Area >= c.WideArea:
		return depth >= min(c.PondDepth, c.PondDepthWide)
	default:
		return depth >= c.PondDepth
	}
}

// touched returns for every pond the outlets whose footprint its water touches.
func touched(s *surface.Surface, ps *ponding.Ponds) [][]int32 {
	t := make([][]int32, len(ps.Ponds))
	for o := range s.Outlets {
		for _, v := range s.Outlets[o].Vertices {
			p := ps.Of[v]
			if p < 0 {
				continue
			}
			if n := len(t[p]); n == 0 || t[p][n-1] != int32(o) {
				t[p] = append(t[p], int32(o))
			}
		}
	}
	return t
}

// placeOf tells the three places apart.
func placeOf(p *ponding.Pond, touches []int32) Place {
	switch {
	case p.Undrained:
		return Enclosed
	case p.HeldBy >= 0 || len(touches) > 0:
		return AtOutlet
	default:
		return ShortOfOutlet
	}
}
