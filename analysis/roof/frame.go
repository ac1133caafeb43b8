package roof

import "github.com/paulmach/orb"

// FrameKind says how the input's coordinates are to be understood.
type FrameKind uint8

// Kinds of frame. Local is a site grid in some unit; Geographic is WGS 84 longitude and latitude.
const (
	Local FrameKind = iota
	Geographic
)

// Frame is the local metric frame in which a Roof is held, and the way back to the file's coordinates.
//
// Local: metres = (file - Origin) * Metres. Geographic: a transverse Mercator projection of the WGS 84
// ellipsoid with its central meridian and origin at Origin and scale 1 there.
type Frame struct {
	Kind   FrameKind
	Origin orb.Point // in the file's own coordinates
	Metres float64   // metres per file unit of a local frame; 1 for Geographic
}
