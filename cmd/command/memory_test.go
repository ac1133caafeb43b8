//go:build unix

package command_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// The greatest memory of the whole program, as the README states it. Small surveys have half as much room again as they take on an idle machine: how far the collector falls behind hangs on what else runs. The long form has a million spots, and 40,001 on a circle and in its middle.
func TestMemory(t *testing.T) {
	uniform := func(dir string, n int) (string, string) { return bigSurvey(t, dir, n, false) }
	waves := func(dir string, n int) (string, string) { return bigSurvey(t, dir, n, true) }
	circle := func(dir string, n int) (string, string) { return roundSurvey(t, dir, n) }
	type limit struct {
		name  string
		spots int
		make  func(dir string, n int) (outline, spots string)
		most  int64 // MiB
	}
	limits := []limit{{"uniform", 10_000, uniform, 96}, {"waves", 10_000, waves, 96}, {"circle", 2_001, circle, 80}}
	if os.Getenv("RUNNEL_LONG") != "" {
		limits = []limit{{"uniform", 1_000_000, uniform, 2304}, {"waves", 1_000_000, waves, 7168}, {"circle", 40_001, circle, 512}}
	}
	for _, l := range limits {
		dir := t.TempDir()
		outline, spots := l.make(dir, l.spots)
		peak, seconds := memoryOf(t, "check", outline, spots, "-o", filepath.Join(dir, "out"), "--write", "geojson")
		t.Logf("%s, %d spots: %d MiB, %.0f s of CPU", l.name, l.spots, peak, seconds)
		if peak > l.most {
			t.Errorf("%s, %d spots: %d MiB, more than %d", l.name, l.spots, peak, l.most)
		}
	}
}

// memoryOf runs the program and returns its greatest memory [MiB] and its time [s]. A process begins with the memory of the one that started
// it, so the program is started by a fresh process, not by that of all tests.
func memoryOf(t *testing.T, args ...string) (peak int64, seconds float64) {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(os.Args[0], "-test.run=^TestMeasuredCall$") //nolint:gosec // our own
	c.Env = append(os.Environ(), "RUNNEL_MEASURED="+strings.Join(append([]string{path}, args...), "\n"))
	text, err := c.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if _, err := fmt.Sscanf(string(text), "measured %d %f", &peak, &seconds); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	return peak, seconds
}

// TestMeasuredCall is the fresh process of memoryOf.
func TestMeasuredCall(t *testing.T) {
	call := os.Getenv("RUNNEL_MEASURED")
	if call == "" {
		return
	}
	args := strings.Split(call, "\n")
	if text, err := exec.Command(args[0], args[1:]...).CombinedOutput(); err != nil { //nolint:gosec // our own
		t.Fatalf("%v\n%s", err, text)
	}
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_CHILDREN, &used); err != nil {
		t.Fatal(err)
	}
	peak := used.Maxrss / 1024
	if runtime.GOOS == "darwin" {
		peak /= 1024 // which counts bytes
	}
	seconds := float64(used.Utime.Nano()+used.Stime.Nano()) / 1e9
	fmt.Printf("measured %d %f\n", peak, seconds)
}

// roundSurvey writes a square of 50 m with a drain in its middle, a spot beside it and n - 1 spots on a circle of 20 m, so that every pair of neighbours
// could make a triangle with any other spot.
func roundSurvey(tb testing.TB, dir string, n int) (outline, spots string) {
	tb.Helper()
	outline, spots = filepath.Join(dir, "outline.geojson"), filepath.Join(dir, "spots.csv")
	writeFile(tb, outline, func(w *bufio.Writer) {
		_, _ = fmt.Fprint(w, `{"type":"FeatureCollection","units":"m","frame":"local","features":[{"type":"Feature","properties":{"role":"outline","name":"round","edge":"wall"},`+
			`"geometry":{"type":"Polygon","coordinates":[[[0,0],[50,0],[50,50],[0,50],[0,0]]]}},`+
			`{"type":"Feature","properties":{"role":"outlet","type":"drain","diameter":"4 in","invert":9.98},"geometry":{"type":"Point","coordinates":[25,25]}}]}`)
	})
	writeFile(tb, spots, func(w *bufio.Writer) {
		_, _ = fmt.Fprint(w, "point,x,y,z\n1,25,25,10\n")
		for i := range n - 1 {
			a := 2 * math.Pi * float64(i) / float64(n-1)
			_, _ = fmt.Fprintf(w, "%d,%.5f,%.5f,%.3f\n", i+2, 25+20*math.Cos(a), 25+20*math.Sin(a), 10.2+0.002*math.Sin(37*a))
		}
	})
	return outline, spots
}
