package assembly

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/surface"
)

// finder says what is at a place: facet, elevation, and the regions that hold it.
type finder struct {
	in      *Input
	locator *surface.Locator // of the surface with the outlets cut in: what water stands on; nil until it is asked for
	water   []int32          // per facet of that surface: 0 dry, the position in Listed plus 1 of the pond on it, -1 where several are
	rings   []orb.Point      // steps to places round one, nearest first
	byPlane map[int32]int    // plane: index into regions
	full    []int            // indices of the regions of catchments
	all     int              // index of the region of the whole roof, -1 none
	kinds   []Region
}

func newFinder(in *Input) *finder { return &finder{in: in, byPlane: map[int32]int{}, all: -1} }

// locate returns the facet of the cut surface at a place; ok is false off the roof. The locator is made when first asked for.
func (f *finder) locate(p orb.Point) (facet int32, ok bool) {
	if f.locator == nil {
		f.locator = surface.NewLocator(f.in.Surface.Cut)
	}
	return f.locator.Locate(p[0], p[1])
}

// at returns the facet of the uncut TIN at a place and the surface's elevation; ok is false off the roof.
func (f *finder) at(p orb.Point) (facet int32, z float64, ok bool) {
	facet, ok = f.locate(p)
	if !ok {
		return -1, 0, false
	}
	z = f.in.Surface.Cut.Height(facet, p[0], p[1])
	if parent := f.in.Surface.Cut.Parent; parent != nil {
		facet = parent[facet]
	}
	return facet, z, true
}

// index notes where each region is.
func (f *finder) index(regions []Region) {
	f.kinds = regions
	for i := range regions {
		switch regions[i].Kind {
		case OnPlane:
			f.byPlane[regions[i].Index] = i
		case OnCatchment:
			f.full = append(f.full, i)
		case OnRoof:
			f.all = i
		}
	}
}

// regions returns the regions that hold a place on a facet, the narrowest first.
func (f *finder) regions(facet int32, p orb.Point) []int {
	var out []int
	if i, ok := f.byPlane[f.in.Slopes.Plane[facet]]; ok {
		out = append(out, i)
	}
	for _, i := range f.full {
		if planar.MultiPolygonContains(f.in.Catchments.Full[f.kinds[i].Index].Outline, p) {
			out = append(out, i)
			break
		}
	}
	if f.all >= 0 {
		out = append(out, f.all)
	}
	return out
}
