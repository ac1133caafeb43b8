package inspection

import (
	"cmp"
	"math"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Case is one state of the water on the roof.
type Case struct {
	Name  string    // to stand after "With": "every pond full"
	Level []float64 // per vertex of the cut TIN: level of the water, the vertex's own elevation where dry [m]
}

// SillWater is what comes to one sill in one case.
type SillWater struct {
	Sill, Case int     // indices into roof.Sills and the cases
	Level      float64 // of the water that is nearest to it [m]
	Margin     float64 // elevation of the sill less Level [m]; negative: water gets in
}

// sillReach is how far from a sill water may stand to count as being at it [m]: 2 ft.
const sillReach = 2 * float64(quantity.Foot)

// SillsOf returns for each sill and case the water that comes to it; a sill that stays dry in a case has no entry.
func SillsOf(r *Results) []SillWater {
	if len(r.Roof.Sills) == 0 {
		return nil
	}
	locate := surface.NewLocator(r.Surface.Cut)
	var out []SillWater
	for i := range r.Roof.Sills {
		s := &r.Roof.Sills[i]
		near := verticesNear(r.Surface.Cut, locate, s.Plan[0], s.Plan[1])
		for k := range r.Cases {
			level := math.Inf(-1)
			for _, v := range near {
				if l := r.Cases[k].Level[v]; l > r.Surface.Cut.Z[v] {
					level = math.Max(level, l)
				}
			}
			if !math.IsInf(level, -1) {
				out = append(out, SillWater{Sill: i, Case: k, Level: level, Margin: s.Z - level})
			}
		}
	}
	return out
}

// verticesNear returns the vertices within sillReach of a place, and those of the facet that holds it.
func verticesNear(t *surface.TIN, locate *surface.Locator, x, y float64) []int32 {
	var out []int32
	if f, ok := locate.Locate(x, y); ok {
		out = append(out, t.V[3*f:3*f+3]...)
	}
	for v := range t.X {
		if vector.Norm(t.X[v]-x, t.Y[v]-y) <= sillReach {
			out = append(out, int32(v))
		}
	}
	return out
}

// sills returns a finding for each sill that water reaches, or comes near to, in the first case in which it does.
func (in *inspector) sills() []finding.Finding {
	var out []finding.Finding
	for i := range in.Roof.Sills {
		for k := range in.Sills {
			if w := &in.Sills[k]; w.Sill == i && w.Margin < sillRoom {
				out = append(out, in.sill(w))
				break
			}
		}
	}
	return out
}

func (in *inspector) sill(w *SillWater) finding.Finding {
	s := &in.Roof.Sills[w.Sill]
	name := cmp.Or(s.Label, s.ID)
	f := blank(finding.SillLow, finding.Urgent)
	f.Size, f.Geometry, f.Decides = -w.Margin, s.Plan, finding.Engineer
	with := "With " + in.Cases[w.Case].Name
	f.What = finding.Say(with+", water stands {0} below sill {1}.", finding.MM("margin", w.Margin), finding.Called(name))
	if w.Margin <= 0 {
		f.What = finding.Say(with+", water stands {0} over sill {1} and gets in.", finding.MM("over", -w.Margin), finding.Called(name))
	}
	f.Where = in.Places.Of(s.Plan)
	f.Measured = []finding.Quantity{finding.Level("sill", s.Z), finding.Level("water", w.Level)}
	f.Required = []finding.Quantity{finding.MM("room below the sill", sillRoom)}
	f.Source = standard.SillSource
	f.Why = finding.Say(standard.AtLeast)
	f.Do = finding.Say("Keep the outlets clear. Have the sill's level and the water's way out checked before the next heavy rain.")
	return f
}
