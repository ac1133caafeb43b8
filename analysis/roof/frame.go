package roof

import (
	"github.com/paulmach/orb"

	"runnel/analysis/projection"
	"runnel/analysis/quantity"
)

// FrameKind says how the input's coordinates are to be understood.
type FrameKind uint8

// Kinds of frame. Local is a site grid in some unit; Geographic is WGS 84 longitude and latitude.
const (
	Local FrameKind = iota
	Geographic
)

// Frame is the local metric frame in which a Roof is held, and the way back to the file's coordinates.
// Make one with NewLocal or NewGeographic.
//
// Local: metres = (file - Origin) * Metres. Geographic: a transverse Mercator projection of the WGS 84
// ellipsoid with its central meridian and origin at Origin and scale 1 there; within 500 m of the origin
// lengths are true to a hundredth of a millimetre.
type Frame struct {
	Kind   FrameKind
	Origin orb.Point // in the file's own coordinates
	Metres float64   // metres per file unit of a local frame; 1 for Geographic

	projection *projection.TransverseMercator
}

// NewLocal returns the frame of a site grid in unit, with its origin at origin.
func NewLocal(origin orb.Point, unit quantity.Unit) Frame {
	return Frame{Kind: Local, Origin: origin, Metres: unit.Metres()}
}

// NewGeographic returns the frame of longitudes and latitudes about origin.
func NewGeographic(origin orb.Point) Frame {
	m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: origin[0], Lat0: origin[1], Scale: 1})
	return Frame{Kind: Geographic, Origin: origin, Metres: 1, projection: &m}
}

// ToLocal returns the place in metres of a place in the file's coordinates.
func (f Frame) ToLocal(file orb.Point) orb.Point {
	if f.Kind == Geographic {
		x, y := f.transverse().Forward(file[0], file[1])
		return orb.Point{x, y}
	}
	return orb.Point{float64((file[0] - f.Origin[0]) * f.Metres), float64((file[1] - f.Origin[1]) * f.Metres)}
}

// ToFile returns the place in the file's coordinates of a place in metres.
func (f Frame) ToFile(local orb.Point) orb.Point {
	if f.Kind == Geographic {
		lon, lat := f.transverse().Inverse(local[0], local[1])
		return orb.Point{lon, lat}
	}
	return orb.Point{f.Origin[0] + local[0]/f.Metres, f.Origin[1] + local[1]/f.Metres}
}

// From returns the place in metres, in this frame, of a place in another one of its kind: two site grids are one grid, whatever their units.
func (f Frame) From(other Frame, local orb.Point) orb.Point {
	p := other.ToFile(local)
	if f.Kind == Local && other.Metres != f.Metres {
		p[0], p[1] = p[0]*other.Metres/f.Metres, p[1]*other.Metres/f.Metres
	}
	return f.ToLocal(p)
}

// transverse returns the projection of a geographic frame, also where the Frame was not made by NewGeographic.
func (f Frame) transverse() *projection.TransverseMercator {
	if f.projection != nil {
		return f.projection
	}
	return NewGeographic(f.Origin).projection
}
