package projection_test

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/projection"
)

// tolerance is what PROJ and this package may differ by [m]: both claim some nanometres, and northings of
// ten million metres are rounded to two.
const tolerance = 2e-8

// testdata/tmerc.csv was made with cs2cs of PROJ, an independent implementation; its first line says how.
func TestAgreesWithFrozenValuesOfPROJ(t *testing.T) {
	file, err := os.Open("testdata/tmerc.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	lines := bufio.NewScanner(file)
	rows := 0
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") || strings.HasPrefix(lines.Text(), "lon0") {
			continue
		}
		v := numbers(t, strings.Split(lines.Text(), ","))
		m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{
			Lon0: v[0], Lat0: v[1], Scale: v[2], FalseEasting: v[3], FalseNorthing: v[4],
		})
		compare(t, m, v[5], v[6], v[7], v[8])
		rows++
	}
	if rows != 800 {
		t.Errorf("read %d rows, want 800", rows)
	}
}

func TestAgreesWithPROJ(t *testing.T) {
	path, err := exec.LookPath("cs2cs")
	if err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			t.Fatal("cs2cs is missing: install Debian package proj-bin")
		}
		t.Skip("needs cs2cs of Debian package proj-bin")
	}
	random := rand.New(rand.NewPCG(7, 7))
	for range 4 {
		lon0, lat0 := random.Float64()*360-180, random.Float64()*150-75
		var in strings.Builder
		points := make([][2]float64, 500)
		for i := range points {
			points[i] = [2]float64{lon0 + random.Float64()*8 - 4, lat0 + random.Float64()*8 - 4}
			fmt.Fprintf(&in, "%.17g %.17g\n", points[i][0], points[i][1])
		}
		cmd := exec.Command(path, "-f", "%.10f", "+proj=longlat", "+datum=WGS84", "+to", "+proj=tmerc", "+datum=WGS84", "+k=1",
			fmt.Sprintf("+lon_0=%.17g", lon0), fmt.Sprintf("+lat_0=%.17g", lat0))
		cmd.Stdin = strings.NewReader(in.String())
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: lon0, Lat0: lat0, Scale: 1})
		for i, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
			v := numbers(t, strings.Fields(line)[:2])
			compare(t, m, points[i][0], points[i][1], v[0], v[1])
		}
	}
}

// compare checks both directions against one pair.
func compare(t *testing.T, m projection.TransverseMercator, lon, lat, east, north float64) {
	t.Helper()
	x, y := m.Forward(lon, lat)
	if !(math.Hypot(x-east, y-north) <= tolerance) {
		t.Errorf("(%v, %v) is at (%.10f, %.10f), want (%.10f, %.10f)", lon, lat, x, y, east, north)
	}
	gotLon, gotLat := m.Inverse(east, north)
	const metresPerDegree = 111320
	dx := math.Remainder(gotLon-lon, 360) * metresPerDegree * math.Cos(lat*math.Pi/180)
	if !(math.Hypot(dx, (gotLat-lat)*metresPerDegree) <= tolerance) {
		t.Errorf("(%v, %v) comes back as (%.14f, %.14f), want (%v, %v)", east, north, gotLon, gotLat, lon, lat)
	}
}

func numbers(t *testing.T, fields []string) []float64 {
	t.Helper()
	out := make([]float64, len(fields))
	for i, f := range fields {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = v
	}
	return out
}

// 180 degrees east is as far west of 177 degrees west as 174 is east of it: the same northing, and an easting mirrored about the false one.
func TestAcrossTheDateLine(t *testing.T) {
	m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: -177, Scale: 0.9996, FalseEasting: 500000})
	west, north := m.Forward(180, -17)
	east, same := m.Forward(-174, -17)
	if !(math.Abs(west+east-1e6) <= tolerance) || !(math.Abs(north-same) <= tolerance) {
		t.Errorf("%.8f and %.8f east, %.8f and %.8f north", west, east, north, same)
	}
}

func TestDoesNotAllocate(t *testing.T) {
	m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: -93, Lat0: 45, Scale: 1})
	if n := testing.AllocsPerRun(100, func() {
		x, y := m.Forward(-93.001, 45.002)
		m.Inverse(x, y)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkForward(b *testing.B) {
	m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: -93, Lat0: 45, Scale: 1})
	for b.Loop() {
		m.Forward(-93.001, 45.002)
	}
}

func BenchmarkInverse(b *testing.B) {
	m := projection.NewTransverseMercator(projection.WGS84, projection.Parameters{Lon0: -93, Lat0: 45, Scale: 1})
	for b.Loop() {
		m.Inverse(120, 80)
	}
}
