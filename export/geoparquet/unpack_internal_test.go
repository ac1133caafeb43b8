package geoparquet

import (
	"encoding/binary"
	"math"
	"testing"
)

// Whatever stands in the column of shapes, what is taken from it is little-endian well-known binary of a kind that is known.
func FuzzUnpack(f *testing.F) {
	point := append([]byte{'G', 'P', 0, 1, 0xe6, 0x10, 0, 0}, 1, 1, 0, 0, 0)
	point = binary.LittleEndian.AppendUint64(point, math.Float64bits(7))
	point = binary.LittleEndian.AppendUint64(point, math.Float64bits(9))
	f.Add(point)
	f.Add(append(append([]byte{'G', 'P', 0, 3, 0, 0, 0, 0}, make([]byte, 32)...), 1, 6, 0, 0, 0, 0, 0, 0, 0))
	if wkb, b, err := unpack(point); err != nil || b != (box{7, 9, 7, 9}) || len(wkb) != 21 {
		f.Errorf("%v %v %v", wkb, b, err)
	}
	f.Fuzz(func(t *testing.T, blob []byte) {
		wkb, _, err := unpack(blob)
		if err == nil && (len(wkb) < 5 || wkb[0] != 1 || kindOfShape(wkb) == "") {
			t.Errorf("%x", wkb)
		}
	})
}
