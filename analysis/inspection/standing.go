package inspection

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/evidence"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Standing says whether a computed pond is taken for water.
type Standing uint8

// AsComputed: the spots show it, nothing drains it, or its water comes near an opening, where doubt is no excuse.
// Seen: the error of the survey alone can make it, but somebody saw water there. InDoubt: nobody did.
// Unsurveyed: it stands only because nobody surveyed an outlet.
const (
	AsComputed Standing = iota
	Seen
	InDoubt
	Unsurveyed
)

// StandingOf returns how every pond stands, given what the spots say of each.
func StandingOf(r *roof.Roof, s *surface.Surface, ps *ponding.Ponds, e *evidence.Result) []Standing {
	in := &inspector{Results: &Results{Roof: r, Surface: s, Ponds: ps}}
	seen, sill := in.seenPonds(), in.reachesSill()
	out := make([]Standing, len(ps.Ponds))
	for p := range out {
		pond := &ps.Ponds[p]
		switch {
		case pond.Undrained && in.unsurveyed():
			out[p] = Unsurveyed
		case e.Ponds[p].Shown || sill[p] || in.nearSill(pond):
		case seen[p]:
			out[p] = Seen
		default:
			out[p] = InDoubt
		}
	}
	return out
}

// unsurveyed reports whether the survey has no outlet at all and nothing says that there is none.
func (in *inspector) unsurveyed() bool {
	return len(in.Surface.Outlets) == 0 && !in.Roof.Outline.NoOutlets
}

// seenPonds returns for every pond whether somebody saw water standing on its lowest place. Water seen while outlets were
// blocked shows no pond.
func (in *inspector) seenPonds() []bool {
	out := make([]bool, len(in.Ponds.Ponds))
	for i := range in.Roof.Stains {
		s := &in.Roof.Stains[i]
		if s.Outlets == roof.OutletsBlocked {
			continue
		}
		ring := make(orb.Ring, len(s.Ring))
		for k := range s.Ring {
			ring[k] = s.Ring[k].Plan
		}
		box := ring.Bound()
		for p := range out {
			for _, v := range in.Ponds.Ponds[p].Pits {
				at := orb.Point{in.Surface.Cut.X[v], in.Surface.Cut.Y[v]}
				if box.Contains(at) && planar.RingContains(ring, at) {
					out[p] = true
				}
			}
		}
	}
	return out
}

// reachesSill returns for every pond whether its water comes within sillRoom of a sill beside it.
func (in *inspector) reachesSill() []bool {
	out := make([]bool, len(in.Ponds.Ponds))
	if len(in.Roof.Sills) == 0 {
		return out
	}
	locate := surface.NewLocator(in.Surface.Cut)
	for i := range in.Roof.Sills {
		s := &in.Roof.Sills[i]
		for _, v := range verticesNear(in.Surface.Cut, locate, s.Plan[0], s.Plan[1]) {
			if p := in.Ponds.Of[v]; p >= 0 && s.Z-in.Ponds.Ponds[p].Level < sillRoom {
				out[p] = true
			}
		}
	}
	return out
}
