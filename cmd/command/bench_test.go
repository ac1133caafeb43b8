package command_test

import (
	"bufio"
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// bigSurvey writes an outline with 16 drains and n spots in a point file: sixteen four-way falls of 2 %, or with
// waves one plane of 2 % with smooth waves; 3 mm noise on the falls.
func bigSurvey(tb testing.TB, dir string, n int, waves bool) (outline, spots string) {
	tb.Helper()
	side := math.Min(1000, 3*math.Sqrt(float64(n)))
	cell := side / 4
	height := func(x, y float64) float64 {
		if waves {
			return 10 + 0.02*x + 0.15*math.Sin(x/37)*math.Cos(y/53)
		}
		return 10 + 0.02*math.Max(math.Abs(math.Mod(x, cell)-cell/2), math.Abs(math.Mod(y, cell)-cell/2))
	}
	outline, spots = filepath.Join(dir, "outline.geojson"), filepath.Join(dir, "spots.csv")
	writeFile(tb, outline, func(w *bufio.Writer) {
		_, _ = fmt.Fprintf(w, `{"type":"FeatureCollection","units":"m","frame":"local","features":[{"type":"Feature","properties":{"role":"outline","name":"big","edge":"wall"},`+
			`"geometry":{"type":"Polygon","coordinates":[[[0,0],[%[1]g,0],[%[1]g,%[1]g],[0,%[1]g],[0,0]]]}}`, side)
		for i := range 16 {
			x, y := (float64(i%4)+0.5)*cell, (float64(i/4)+0.5)*cell
			_, _ = fmt.Fprintf(w, `,{"type":"Feature","properties":{"role":"outlet","type":"drain","diameter":"4 in","label":"D%d","invert":%.3f},"geometry":{"type":"Point","coordinates":[%g,%g]}}`,
				i+1, height(x, y)-0.02, x, y)
		}
		_, _ = fmt.Fprint(w, `]}`)
	})
	r := rand.New(rand.NewPCG(uint64(n), 7))
	columns := int(math.Ceil(math.Sqrt(float64(n))))
	step := side / float64(columns) // jittered, so that no two spots stand at the same place
	writeFile(tb, spots, func(w *bufio.Writer) {
		_, _ = fmt.Fprintln(w, "point,x,y,z")
		for i := range n {
			x := step * (float64(i%columns) + 0.2 + 0.6*r.Float64())
			y := step * (float64(i/columns) + 0.2 + 0.6*r.Float64())
			z := height(x, y)
			if !waves {
				z += 0.003 * r.NormFloat64()
			}
			_, _ = fmt.Fprintf(w, "%d,%.3f,%.3f,%.3f\n", i+1, x, y, z)
		}
	})
	return outline, spots
}

func writeFile(tb testing.TB, path string, fill func(w *bufio.Writer)) {
	tb.Helper()
	f, err := os.Create(path)
	if err != nil {
		tb.Fatal(err)
	}
	w := bufio.NewWriter(f)
	fill(w)
	if err := w.Flush(); err != nil {
		tb.Fatal(err)
	}
	if err := f.Close(); err != nil {
		tb.Fatal(err)
	}
}

// BenchmarkProcess times the whole program, as a user runs it: read, compute, write GeoJSON or all files, with the greatest
// memory of the process.
func BenchmarkProcess(b *testing.B) {
	bin := filepath.Join(b.TempDir(), "runnel")
	if out, err := exec.Command("go", "build", "-trimpath", "-o", bin, "runnel/cmd/runnel").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	geoJSON := []string{"--write", "geojson"}
	storm := append([]string{"--depth", "3in", "--duration", "1h"}, geoJSON...)
	for _, c := range []struct {
		name  string
		n     int
		waves bool
		write []string // arguments beside the usual, after those of check
		call  string   // empty: check
	}{
		{"falls/300", 300, false, geoJSON, ""},
		{"falls/300/all", 300, false, nil, ""},
		{"falls/10k", 10_000, false, geoJSON, ""},
		{"falls/50k/all", 50_000, false, nil, ""},
		{"falls/100k", 100_000, false, geoJSON, ""},
		{"falls/1M", 1_000_000, false, geoJSON, ""},
		{"waves/50k/all", 50_000, true, nil, ""},
		{"waves/100k", 100_000, true, geoJSON, ""},
		{"waves/1M", 1_000_000, true, geoJSON, ""},
		{"storm/300", 300, false, storm, "storm"},
		{"storm/100k", 100_000, false, storm, "storm"},
		{"correct/300", 300, false, geoJSON, "correct"},
		{"correct/5k", 5_000, false, geoJSON, "correct"},
	} {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			outline, spots := bigSurvey(b, dir, c.n, c.waves)
			peak := int64(0)
			b.ResetTimer()
			for b.Loop() {
				cmd := exec.Command(bin, append([]string{cmp.Or(c.call, "check"), outline, spots, "-o", filepath.Join(dir, "out"), "--overwrite"}, c.write...)...)
				if out, err := cmd.CombinedOutput(); err != nil {
					b.Fatalf("%v\n%s", err, out)
				}
				if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
					peak = max(peak, u.Maxrss)
				}
			}
			b.ReportMetric(float64(peak)/1024, "MiB")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(c.n), "us/spot")
		})
	}
}
