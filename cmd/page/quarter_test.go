package main_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"runnel/analysis/geometry/reference/chromium"
)

// period is that in which a control group hands out processor time [us].
const period = 20_000

// group is a control group of the system, version 1 or 2: all processes below this one, which get a share of one processor together.
type group struct {
	tb       testing.TB
	dirs     []string // of the group; version 1 has one for the limit and one that counts
	limit    func(quota int) (file, value string)
	count    string  // the file that counts the processor time used
	key      string  // of the line in it, empty where the number stands alone
	perCount float64 // [s]
}

// groups are the two versions of control groups.
func groups(tb testing.TB, name string) []*group {
	tb.Helper()
	const root = "/sys/fs/cgroup/"
	return []*group{
		{tb, []string{root + "cpu/" + name, root + "cpuacct/" + name}, func(quota int) (string, string) { return "cpu.cfs_quota_us", strconv.Itoa(quota) }, "cpuacct.usage", "", 1e-9},
		{tb, []string{root + name}, func(quota int) (string, string) { return "cpu.max", fmt.Sprintf("%d %d", quota, period) }, "cpu.stat", "usage_usec", 1e-6},
	}
}

// limited puts all processes below this one into a control group until the test ends. Its weight is high, so that on a busy machine it gets what it may have. It skips where
// the machine lets nobody do so.
func limited(tb testing.TB) *group {
	tb.Helper()
	for _, g := range groups(tb, "runnel-page-"+strconv.Itoa(os.Getpid())) {
		if !g.made() {
			continue
		}
		tb.Cleanup(g.end)
		_ = os.WriteFile(filepath.Join(g.dirs[0], "cpu.cfs_period_us"), []byte(strconv.Itoa(period)), 0o600) // of version 1
		_ = os.WriteFile(filepath.Join(g.dirs[0], "cpu.shares"), []byte("20000"), 0o600)
		_ = os.WriteFile(filepath.Join(g.dirs[0], "cpu.weight"), []byte("2000"), 0o600) // of version 2
		for _, id := range below(tb) {
			g.move(strconv.Itoa(id), g.dirs)
		}
		return g
	}
	tb.Skip("needs a control group for processor time: run as root where /sys/fs/cgroup can be written")
	return nil
}

// made makes the group, and reports whether the system has this version.
func (g *group) made() bool {
	ok := true
	for _, dir := range g.dirs {
		ok = ok && os.Mkdir(dir, 0o750) == nil
	}
	file, _ := g.limit(0)
	for _, path := range []string{filepath.Join(g.dirs[0], file), filepath.Join(g.dirs[len(g.dirs)-1], g.count)} {
		_, err := os.Stat(path)
		ok = ok && err == nil
	}
	if !ok {
		for _, dir := range g.dirs {
			_ = os.Remove(dir)
		}
	}
	return ok
}

// move puts a process into folders of control groups; one that has ended cannot be.
func (g *group) move(id string, dirs []string) {
	for _, dir := range dirs {
		_ = os.WriteFile(filepath.Join(dir, "cgroup.procs"), []byte(id), 0o600)
	}
}

// end lets the processes go and takes the group away.
func (g *group) end() {
	for range 100 {
		left := 0
		for _, dir := range g.dirs {
			inside, _ := os.ReadFile(filepath.Join(dir, "cgroup.procs")) //nolint:gosec // of the system
			for _, id := range strings.Fields(string(inside)) {
				g.move(id, []string{filepath.Dir(dir)})
			}
			if _ = os.Remove(dir); g.exists(dir) {
				left++
			}
		}
		if left == 0 {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	g.tb.Errorf("%v cannot be removed", g.dirs)
}

func (g *group) exists(dir string) bool {
	_, err := os.Stat(dir)
	return err == nil
}

// share sets how much of one processor the group gets.
func (g *group) share(of float64) {
	g.tb.Helper()
	file, value := g.limit(int(of * period))
	if err := os.WriteFile(filepath.Join(g.dirs[0], file), []byte(value), 0o600); err != nil {
		g.tb.Fatal(err)
	}
}

// spent returns the processor time that the group has used so far [s].
func (g *group) spent() float64 {
	g.tb.Helper()
	text, err := os.ReadFile(filepath.Join(g.dirs[len(g.dirs)-1], g.count))
	if err != nil {
		g.tb.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if number, ok := strings.CutPrefix(strings.TrimSpace(line), g.key); ok {
			n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			if err != nil {
				g.tb.Fatal(err)
			}
			return n * g.perCount
		}
	}
	g.tb.Fatalf("%s has no line %q", g.count, g.key)
	return 0
}

// rests waits until the group does nothing: a browser that has just started fills windows of its own.
func (g *group) rests() {
	g.tb.Helper()
	for range 120 {
		before := g.spent()
		time.Sleep(500 * time.Millisecond)
		if g.spent()-before < 0.01 {
			return
		}
	}
}

// drawn is a script's functions: when what was drawn has been painted; how long something takes until then [ms].
const drawn = `const painted = () => new Promise(done => requestAnimationFrame(() => setTimeout(done)));
	const timed = async what => { const began = performance.now(); const fault = await what(); await painted(); if (fault) throw new Error(fault); return performance.now() - began; };`

// editing makes a script put the roof that was given on the screen where roofs are measured.
const editing = `(async () => {
		const m = await import('./roof.js'), rows = new TextDecoder().decode(given[0].data).trim().split('\n').slice(1).map(r => r.split(','));
		const side = Number(rows[2][1]);
		let r = m.set(m.newRoof('si', 'Sixteen falls'), {outline: {kind: 'rect', east: side, north: side}, edge: 'wall', heights: 'elevation'});
		r.outlets = rows.filter(c => c[4].startsWith('DRAIN')).map((c, i) => ({id: 'o' + (i + 1), label: 'RD-' + (i + 1), type: 'drain', overflow: false, at: [+c[1], +c[2]], size: 0.1016, height: +c[3]}));
		r.spots = rows.filter(c => c[4] === '').map((c, i) => ({id: 's' + (i + 1), at: [+c[1], +c[2]], height: +c[3], what: '', of: ''}));
		const e = runnelPage.editor;
		await e.resume(r);
		while (e.working || e.answer?.of !== e.roof) await new Promise(r => setTimeout(r, 50));
		if (e.answer.error) throw new Error(e.answer.error);
		return 0;
	})()`

// BenchmarkQuarter measures what a user waits, from the tap to the paint, while the whole browser has a quarter of one processor, and half of one, which is four times less
// than a machine of two has; limited from outside. ms/op and worst-ms are by the clock, so the machine must be idle but for it; cpu-ms/op is the processor time of the
// whole browser from the tap to the paint, which a busy machine changes less. -benchtime 8x measures eight of each.
func BenchmarkQuarter(b *testing.B) {
	build(b)
	chromium.Browser(b)
	g := limited(b)
	for _, c := range []struct {
		name  string
		share float64
	}{{"a quarter of one processor", 0.25}, {"half of one processor, four times less than two", 0.5}} {
		b.Run(c.name, func(b *testing.B) {
			g.share(1)
			g.rests()
			g.share(c.share)
			(&waits{g: g}).measure(b)
		})
	}
}

// waits measures what a user of one page waits.
type waits struct {
	g *group
	p *page
}

// measure opens a page and takes the steps of a user on it.
func (w *waits) measure(b *testing.B) {
	b.Helper()
	before := w.g.spent()
	w.p = open(b)
	cold := eval[float64](w.p, `performance.now()`)
	b.Run("cold", func(b *testing.B) { w.report(b, []float64{cold}, w.g.spent()-before) })
	var t testing.T
	w.p.give(&t, falls(300))
	file := func(i int) string {
		return fmt.Sprintf(`[{name: given[0].name, data: new TextEncoder().encode(new TextDecoder().decode(given[0].data).replace('o0,0.000', 'o0,0.00%d'))}]`, i)
	}
	plan := func(i int) string {
		return `return timed(async () => { const show = runnelPage.plan.show; const shown = new Promise(done => { runnelPage.plan.show = function(p) { show.call(this, p); done(); }; });
			window.whole = runnelPage.check(` + file(i) + `, []); await shown; runnelPage.plan.show = show; });`
	}
	whole := func(int) string {
		return `const a = await (window.whole ?? {}); if (a.error) throw new Error(a.error); return 0;`
	}
	eval[bool](w.p, `new Promise(done => { const wait = () => window.runnelExercised ? done(true) : setTimeout(wait, 100); wait(); })`)
	b.Run("first plan", func(b *testing.B) { w.steps(b, 1, whole, func(int) string { return plan(9) }) })
	b.Run("next plan", func(b *testing.B) { w.steps(b, b.N, whole, func(i int) string { return plan(i % 8) }) })
	b.Run("all shown", func(b *testing.B) {
		w.steps(b, b.N, whole, func(i int) string {
			return `return timed(async () => (await runnelPage.check(` + file(i%8) + `, [])).error);`
		})
	})
	b.Run("what if", func(b *testing.B) { w.steps(b, b.N, trialReady, tried(`t.good === t.changes`)) })
	b.Run("what if, and what runs where", func(b *testing.B) { w.steps(b, b.N, trialReady, tried(`t.good === t.changes && t.runs`)) })
	eval[int](w.p, editing)
	b.Run("reading", func(b *testing.B) {
		ready := func(int) string {
			return `while (runnelPage.editor.working) await new Promise(r => setTimeout(r, 50)); return 0;`
		}
		w.steps(b, b.N, ready, func(i int) string {
			return fmt.Sprintf(`const e = runnelPage.editor, m = await import('./roof.js');
				return timed(async () => { const draw = e.draw; const shown = new Promise(done => { e.draw = function() { draw.call(this); if (this.seen || this.answer?.of === this.roof) done(this.answer?.error); }; });
				e.keep(m.put(e.roof, 'spots', {at: [20 + %d, 20.5], height: 10.1, what: '', of: ''})); const fault = await shown; e.draw = draw; return fault; });`, i%20)
		})
	})
}

// trialReady waits until what was tried before is answered.
func trialReady(int) string {
	return `const t = runnelPage.trial; if (!t.on) { t.turn(true); t.choose('o3'); } while (t.busy || !t.runs) await new Promise(r => setTimeout(r, 50)); return 0;`
}

// tried sets an outlet lower and higher by turns, until a condition holds as the plan is drawn.
func tried(until string) func(i int) string {
	return func(i int) string {
		return fmt.Sprintf(`const t = runnelPage.trial, p = runnelPage.plan;
			return timed(async () => { const show = p.show; const shown = new Promise(done => { p.show = function(x) { show.call(this, x); if (%s) done(); }; }); t.move(%d * t.step); await shown; p.show = show; });`, until, 1-2*(i%2))
	}
}

// steps takes a step n times, each once all before is done, and reports the waits and the processor time until the paint.
func (w *waits) steps(b *testing.B, n int, ready, script func(i int) string) {
	b.Helper()
	var all []float64
	spent := 0.0
	for i := range n {
		eval[float64](w.p, `(async () => { `+ready(i)+` })()`)
		w.g.rests()
		before := w.g.spent()
		all = append(all, eval[float64](w.p, `(async () => { `+drawn+script(i)+` })()`))
		spent += w.g.spent() - before
	}
	w.report(b, all, spent)
}

func (w *waits) report(b *testing.B, all []float64, spent float64) {
	b.Helper()
	sum, worst := 0.0, 0.0
	for _, ms := range all {
		sum, worst = sum+ms, max(worst, ms)
	}
	n := float64(len(all))
	b.ReportMetric(sum/n, "ms/op")
	b.ReportMetric(worst, "worst-ms")
	b.ReportMetric(1000*spent/n, "cpu-ms/op")
	b.ReportMetric(0, "ns/op")
}
