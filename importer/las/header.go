package las

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"runnel/analysis/quantity"
)

// Offsets in the public header block [bytes]. ASPRS, LAS Specification 1.4 - R15, section 2.4, table 3; 1.2 and 1.3 are its beginning.
// From memory.
const (
	atMajor, atMinor      = 24, 25
	atHeaderSize          = 94
	atPoints              = 96
	atRecords             = 100
	atFormat              = 104
	atLength              = 105
	atLegacyCount         = 107
	atScale               = 131
	atOffset              = 155
	atCount               = 247
	shortHeader           = 227 // of 1.2
	longHeader            = 375 // of 1.4
	recordHeader          = 54  // of a variable length record, section 2.5, table 6
	compressed       byte = 0xC0
)

// leastLength is the least length of a point of each format [bytes]. The same document, section 2.6, tables 7 to 17. From memory.
var leastLength = [...]int{20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67}

// Bounds of what the header says of coordinates, in their unit: beyond them no place is meant.
const (
	mostScale  = 1e3
	mostOffset = 1e9
)

// mostRecords bounds the records before the points that are looked through.
const mostRecords = 10_000

// header is what a file says of its points.
type header struct {
	format  int // of the points, 0 to 10
	length  int // of a point [bytes]
	first   int // where the points begin
	count   int
	scale   [3]float64
	offset  [3]float64
	unit    quantity.Unit // of plan coordinates
	upright quantity.Unit // of elevations, Unstated for that of the plan
	degrees bool          // plan coordinates are longitude and latitude
}

// errCompressed is the error of a compressed file.
var errCompressed = errors.New("the points are compressed")

// readHeader reads the public header block and the records that state units.
func readHeader(data []byte) (h header, err error) {
	if len(data) < shortHeader {
		return h, errors.New("the file ends within its header")
	}
	if major, minor := data[atMajor], data[atMinor]; major != 1 || minor > 4 {
		return h, fmt.Errorf("this is version %d.%d; versions 1.0 to 1.4 are read", major, minor)
	}
	u := binary.LittleEndian
	size := int(u.Uint16(data[atHeaderSize:]))
	h.first = int(u.Uint32(data[atPoints:]))
	h.length = int(u.Uint16(data[atLength:]))
	if data[atFormat]&compressed != 0 {
		return h, errCompressed
	}
	h.format = int(data[atFormat])
	if h.format >= len(leastLength) {
		return h, fmt.Errorf("the points are of format %d; formats 0 to 10 are read", h.format)
	}
	if h.length < leastLength[h.format] {
		return h, fmt.Errorf("a point of format %d takes at least %d bytes, and the header says %d", h.format, leastLength[h.format], h.length)
	}
	if size < shortHeader || size > len(data) || h.first < size || h.first > len(data) {
		return h, errors.New("the header does not say where the points begin")
	}
	if err = h.readScale(data); err != nil {
		return h, err
	}
	count := uint64(u.Uint32(data[atLegacyCount:]))
	if data[atMinor] >= 4 && size >= longHeader {
		count = u.Uint64(data[atCount:])
	}
	if held := uint64((len(data) - h.first) / h.length); count > held {
		return h, fmt.Errorf("the header says %d points, and the file holds %d", count, held)
	}
	h.count = int(count)
	h.readUnits(data[size:h.first], int(u.Uint32(data[atRecords:])))
	return h, nil
}

func (h *header) readScale(data []byte) error {
	u := binary.LittleEndian
	for i := range 3 {
		h.scale[i] = math.Float64frombits(u.Uint64(data[atScale+8*i:]))
		h.offset[i] = math.Float64frombits(u.Uint64(data[atOffset+8*i:]))
		if !(h.scale[i] > 0 && h.scale[i] <= mostScale && math.Abs(h.offset[i]) <= mostOffset) {
			return errors.New("the header gives a scale or an offset that is no number for coordinates")
		}
	}
	return nil
}
