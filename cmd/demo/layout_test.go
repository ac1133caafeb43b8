package demo_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
	"runnel/cmd/demo"
	"runnel/importer"
)

// The roofs are as they are described. The library has four bays of 12 by 10 m, 480 m2, each with a drain and an overflow drain; the depot, 36 by 14 m, 504 m2, has three scuppers, each with its overflow.
func TestRoofsAsDescribed(t *testing.T) {
	for _, r := range demo.Roofs() {
		want, ok := map[string][3]float64{"library": {480, 4, 4}, "depot": {504, 3, 3}}[r.Stem()]
		if !ok {
			continue
		}
		dir := t.TempDir()
		var paths []string
		for _, f := range r.Inputs() {
			path := filepath.Join(dir, f.Name)
			if err := os.WriteFile(path, f.Bytes, 0o600); err != nil {
				t.Fatal(err)
			}
			paths = append(paths, path)
		}
		read, err := importer.Read(paths, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := [3]float64{math.Round(planar.Area(orb.Polygon{roof.PlanOf(read.Outline.Rings[0])}))}
		for i := range read.Outlets {
			if read.Outlets[i].Duty == roof.Overflow {
				got[2]++
			} else {
				got[1]++
			}
		}
		if got != want {
			t.Errorf("%s: area, outlets and overflows %v, want %v", r.Stem(), got, want)
		}
	}
}
