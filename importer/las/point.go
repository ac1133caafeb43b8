package las

import (
	"encoding/binary"

	"github.com/paulmach/orb"
)

// Classes of points. LAS Specification 1.4 - R15, tables 9 and 17. From memory.
const (
	lowPlants  = 3
	midPlants  = 4
	highPlants = 5
	building   = 6
	lowNoise   = 7
	highNoise  = 18
)

// point is one return of the laser.
type point struct {
	plan     orb.Point
	z        float64
	class    uint8
	last     bool // of its pulse
	withheld bool // whoever made the file says that it is not to be used
}

// read reads a point from its bytes.
func (h *header) read(b []byte) point {
	u := binary.LittleEndian
	at := func(i int) float64 { return float64(float64(int32(u.Uint32(b[4*i:])))*h.scale[i]) + h.offset[i] }
	p := point{plan: orb.Point{at(0), at(1)}, z: at(2)}
	if h.format < 6 {
		p.last = b[14]&7 >= b[14]>>3&7
		p.class, p.withheld = b[15]&31, b[15]&0x80 != 0
		return p
	}
	p.last = b[14]&15 >= b[14]>>4
	p.class, p.withheld = b[16], b[15]&4 != 0
	return p
}

// surface reports whether a point may lie on a roof: the last return of its pulse, withheld by nobody, neither noise nor a plant.
func (p *point) surface() bool {
	switch p.class {
	case lowPlants, midPlants, highPlants, lowNoise, highNoise:
		return false
	}
	return p.last && !p.withheld
}
