package main_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"runnel/cmd/demo"
)

// falls is a roof of n spots: sixteen four-way falls of 2 % to as many drains, 3 mm noise.
func falls(n int) []demo.File {
	side := 3 * math.Sqrt(float64(n))
	cell := side / 4
	height := func(x, y float64) float64 {
		return 10 + 0.02*math.Max(math.Abs(math.Mod(x, cell)-cell/2), math.Abs(math.Mod(y, cell)-cell/2))
	}
	r := rand.New(rand.NewPCG(uint64(n), 7)) //nolint:gosec // a roof that repeats
	var b strings.Builder
	b.WriteString("point,x,y,z_m,code\n")
	for i, p := range [][2]float64{{0, 0}, {side, 0}, {side, side}, {0, side}} {
		fmt.Fprintf(&b, "o%d,%.3f,%.3f,,OUTLINE\n", i, p[0], p[1])
	}
	for i := range 16 {
		x, y := (float64(i%4)+0.5)*cell, (float64(i/4)+0.5)*cell
		fmt.Fprintf(&b, "d%d,%.3f,%.3f,%.3f,DRAIN D-%d d=4in\n", i+1, x, y, height(x, y)-0.02, i+1)
	}
	columns := int(math.Ceil(math.Sqrt(float64(n))))
	step := side / float64(columns)
	for i := range n {
		x, y := step*(float64(i%columns)+0.2+0.6*r.Float64()), step*(float64(i/columns)+0.2+0.6*r.Float64())
		fmt.Fprintf(&b, "%d,%.3f,%.3f,%.3f,\n", i+1, x, y, height(x, y)+0.003*r.NormFloat64())
	}
	return []demo.File{{Name: "falls.csv", Bytes: []byte(b.String())}}
}

// process is one of the system: its parent, and the processor time that it has used [s].
type process struct {
	parent int
	used   float64
}

// processes returns those of the system by their ids.
func processes(tb testing.TB) map[int]process {
	tb.Helper()
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		tb.Fatal(err)
	}
	all := map[int]process{}
	for _, path := range stats {
		text, err := os.ReadFile(path) //nolint:gosec // of the system
		if err != nil {
			continue // it has ended
		}
		pid, rest, _ := strings.Cut(string(text), " (")
		f := strings.Fields(rest[strings.LastIndexByte(rest, ')')+1:])
		id, _ := strconv.Atoi(pid)
		parent, _ := strconv.Atoi(f[1])
		user, _ := strconv.ParseFloat(f[11], 64)
		system, _ := strconv.ParseFloat(f[12], 64)
		all[id] = process{parent, (user + system) / 100}
	}
	return all
}

// below returns the ids of all processes below this one: the browsers that this test started.
func below(tb testing.TB) (ids []int) {
	tb.Helper()
	all := processes(tb)
	for id := range all {
		for up := id; up > 1; up = all[up].parent {
			if all[up].parent == os.Getpid() {
				ids = append(ids, id)
				break
			}
		}
	}
	return ids
}

// used returns the processor time that the browsers which this test started have used so far [s].
func used(tb testing.TB) (sum float64) {
	tb.Helper()
	all := processes(tb)
	for _, id := range below(tb) {
		sum += all[id].used
	}
	return sum
}

// BenchmarkPage measures the page on a roof of 300 spots in processor time of the whole browser: a machine with a quarter of this processor
// takes four times as long. With -benchtime 1x the first plan is that of a page that was only warmed. Wall time tells nothing on a loaded machine. A browser's protocol slows no worker.
func BenchmarkPage(b *testing.B) {
	report := func(b *testing.B, before float64) {
		b.Helper()
		b.ReportMetric((used(b)-before)/float64(b.N)*1000, "cpu-ms/op")
	}
	b.Run("cold", func(b *testing.B) {
		build(b)
		open(b)
		before := used(b)
		for range b.N {
			open(b)
		}
		report(b, before)
	})
	p := open(b)
	var t testing.T
	p.give(&t, falls(300))
	check := `(async () => { const a = await runnelPage.check(given, []); return a.error; })()`
	glance := `(async () => { const a = await runnelPage.runnel.call('glance', given, []); if (!a.error) runnelPage.plan.show(JSON.parse(a.picture)); return a.error; })()`
	for _, c := range []struct{ name, script string }{
		{"first plan", glance},
		{"next plan", glance},
		{"all shown", check},
		{"what if", `(async () => (await runnelPage.runnel.call('try', JSON.stringify([{do: 'outlet', outlet: 3, by: -0.02}]))).error)()`},
		{"report", `(async () => (await runnelPage.runnel.call('write', ['report'])).error)()`},
		{"plan", `(async () => (await runnelPage.runnel.call('write', ['plan'])).error)()`},
	} {
		b.Run(c.name, func(b *testing.B) {
			before := used(b)
			for range b.N {
				if fault := eval[string](p, c.script); fault != "" {
					b.Fatal(fault)
				}
			}
			report(b, before)
		})
	}
}
