package slope_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/standard"
)

// A plane that rises 2 % east and falls 1 % north: slope sqrt(5) %, water runs to 296.565 degrees.
func slantedPlane() *survey {
	s := &survey{}
	for _, p := range lattice(9, 9, 1, nil) {
		s.spot(p[0], p[1], 50+0.02*p[0]-0.01*p[1])
	}
	return s
}

// The figures are gdaldem's (GDAL 3.6.2) for the same plane as a grid: 2.23607 % and 296.565 degrees.
func TestSlopeAndAspectOfAPlane(t *testing.T) {
	got := find(t, slantedPlane(), standard.Criteria{})
	for f := range got.Slope {
		near(t, "percent", 100*got.Slope[f], 2.23607, 5e-6)
		near(t, "aspect", got.Aspect[f], 296.565, 5e-4)
	}
	near(t, "plane, percent", 100*got.Planes[0].Slope, 2.23607, 5e-6)
	near(t, "plane, aspect", got.Planes[0].Aspect, 296.565, 5e-4)
}

// TestAgainstGDAL has gdaldem itself compute slope and aspect of the plane.
func TestAgainstGDAL(t *testing.T) {
	if _, err := exec.LookPath("gdaldem"); err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			t.Fatal("gdaldem is missing: install the Debian package gdal-bin")
		}
		t.Skip("gdaldem is missing: Debian package gdal-bin")
	}
	dir := t.TempDir()
	var b strings.Builder
	b.WriteString("ncols 10\nnrows 10\nxllcorner 0\nyllcorner 0\ncellsize 1\nNODATA_value -9999\n")
	for j := 9; j >= 0; j-- { // north row first
		for i := range 10 {
			// the datum is taken off: grids are read in single precision
			fmt.Fprintf(&b, "%.6f ", 0.02*float64(i)-0.01*float64(j))
		}
		b.WriteByte('\n')
	}
	grid := filepath.Join(dir, "plane.asc")
	if err := os.WriteFile(grid, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	got := find(t, slantedPlane(), standard.Criteria{})
	near(t, "percent", 100*got.Slope[0], gdaldem(t, grid, "slope", "-p"), 2e-5)
	near(t, "aspect", got.Aspect[0], gdaldem(t, grid, "aspect"), 2e-3)
}

// gdaldem runs a mode of gdaldem and returns the value in the middle of its result.
func gdaldem(t *testing.T, grid, mode string, options ...string) float64 {
	t.Helper()
	out := filepath.Join(filepath.Dir(grid), mode+".asc")
	args := append([]string{mode, grid, out, "-of", "AAIGrid", "-co", "DECIMAL_PRECISION=7", "-q"}, options...)
	if text, err := exec.Command("gdaldem", args...).CombinedOutput(); err != nil {
		t.Fatalf("gdaldem %s: %v: %s", mode, err, text)
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	var row []string
	rows := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		fields := strings.Fields(s.Text())
		if len(fields) != 10 {
			continue
		}
		if rows++; rows == 5 {
			row = fields
		}
	}
	if row == nil {
		t.Fatalf("gdaldem %s: no grid of ten columns", mode)
	}
	v, err := strconv.ParseFloat(row[5], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
