package importer_test

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/importer"
)

// scanOf lays out a scan of version 1.2 with points of format 0, in feet by its keys, as package las's tests have it in full. Each
// place is x, y, z in hundredths.
func scanOf(places ...[3]int32) []byte {
	u := binary.LittleEndian
	b := make([]byte, 227)
	copy(b, "LASF")
	b[24], b[25] = 1, 2
	keys := make([]byte, 54+8+2*8)
	copy(keys[2:], "LASF_Projection")
	u.PutUint16(keys[18:], 34735)
	u.PutUint16(keys[20:], 8+2*8)
	for i, v := range []uint16{1, 1, 0, 2, 1024, 0, 1, 1, 3076, 0, 1, 9002} {
		u.PutUint16(keys[54+2*i:], v)
	}
	u.PutUint16(b[94:], 227)
	u.PutUint32(b[96:], uint32(227+len(keys)))
	u.PutUint32(b[100:], 1)
	u.PutUint16(b[105:], 20)
	u.PutUint32(b[107:], uint32(len(places)))
	for i := range 3 {
		u.PutUint64(b[131+8*i:], math.Float64bits(0.01))
	}
	b = append(b, keys...)
	for _, p := range places {
		point := make([]byte, 20)
		for i := range 3 {
			u.PutUint32(point[4*i:], uint32(p[i]))
		}
		point[14] = 1 | 1<<3
		b = append(b, point...)
	}
	return b
}

// A scan in feet is cropped to an outline in metres: 3 m is 9.8425 ft, and half a metre inside its edges 1.6404 ft.
func TestScanInOtherUnits(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	outline := func(frame, ring string) []byte {
		return []byte(`{"type":"FeatureCollection",` + frame + `"features":[{"type":"Feature","properties":{"role":"outline"},` +
			`"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}]}`)
	}
	metres := write("metres.geojson", outline(`"units":"m","frame":"local",`, "[[0,0],[3,0],[3,3],[0,3],[0,0]]"))
	scan := write("scan.las", scanOf(
		[3]int32{165, 500, 1000}, [3]int32{163, 500, 1000}, [3]int32{819, 500, 1000}, [3]int32{821, 500, 1000}, [3]int32{500, 500, 328}, [3]int32{1200, 500, 0},
	))
	r, err := importer.Read([]string{metres, scan}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Spots) != 3 {
		t.Fatalf("%d spots: %v", len(r.Spots), r.Spots)
	}
	if p := r.Spots[2].Position; !(math.Abs(p.Z-3.28*0.3048) <= 1e-12) || !(math.Abs(p.Plan[0]-(5*0.3048-1)) <= 1e-9) { // the frame of a roof of 3 m has its origin at (1, 1)
		t.Errorf("5 ft, 5 ft, 3.28 ft came to be %v", p)
	}
	degrees := write("degrees.geojson", outline("", "[[5,50],[5.0001,50],[5.0001,50.0001],[5,50.0001],[5,50]]"))
	if _, err := importer.Read([]string{degrees, scan}, importer.Options{}); err == nil || !strings.Contains(err.Error(), "in the frame of this scan") {
		t.Errorf("an outline in degrees over a scan on a grid: %v", err)
	}
	packed := scanOf([3]int32{165, 500, 1000})
	packed[104] |= 0x80
	if _, err := importer.Read([]string{metres, write("scan.laz", packed)}, importer.Options{}); err == nil || !strings.Contains(err.Error(), "compressed") {
		t.Errorf("a compressed scan: %v", err)
	}
}
