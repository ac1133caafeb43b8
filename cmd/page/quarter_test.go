package main_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// limit gives all processes below this one, together, a share of one processor until the test ends: by a control group of the system, version 1 or 2, in slices of
// 20 ms. Its weight is high, so that on a busy machine it gets what it may have. It skips where the machine lets nobody do so.
func limit(tb testing.TB, share float64) {
	tb.Helper()
	const period = 20_000 // us
	quota := int(share * float64(period))
	name := "runnel-page-" + strconv.Itoa(os.Getpid())
	for _, c := range []struct{ parent, files, values string }{
		{"/sys/fs/cgroup/cpu", "cpu.cfs_period_us cpu.cfs_quota_us cpu.shares", fmt.Sprintf("%d|%d|20000", period, quota)},
		{"/sys/fs/cgroup", "cpu.max cpu.weight", fmt.Sprintf("%d %d|2000", quota, period)},
	} {
		group := filepath.Join(c.parent, name)
		if os.Mkdir(group, 0o750) != nil {
			continue
		}
		if !set(group, strings.Fields(c.files), strings.Split(c.values, "|")) {
			_ = os.Remove(group) // of another kind: the next may do
			continue
		}
		tb.Cleanup(func() {
			for range 100 {
				inside, err := os.ReadFile(filepath.Join(group, "cgroup.procs")) //nolint:gosec // of the system
				if err != nil {
					tb.Fatal(err)
				}
				move(strings.Fields(string(inside)), c.parent)
				if os.Remove(group) == nil {
					return
				}
				time.Sleep(50 * time.Millisecond)
			}
			tb.Errorf("%s cannot be removed", group)
		})
		var ids []string
		for _, id := range below(tb) {
			ids = append(ids, strconv.Itoa(id))
		}
		move(ids, group)
		return
	}
	tb.Skip("needs a control group for processor time: run as root where /sys/fs/cgroup can be written")
}

// set writes values into the files of a control group, which must be there.
func set(group string, files, values []string) bool {
	for i, file := range files {
		path := filepath.Join(group, file)
		if _, err := os.Stat(path); err != nil || os.WriteFile(path, []byte(values[i]), 0o600) != nil {
			return false
		}
	}
	return true
}

// move puts processes into a control group; one that has ended cannot be.
func move(ids []string, group string) {
	for _, id := range ids {
		_ = os.WriteFile(filepath.Join(group, "cgroup.procs"), []byte(id), 0o600)
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

// BenchmarkQuarter measures what a user waits, from the tap to the paint, while the whole browser has a quarter of one processor, limited from outside. What it
// reports is wall time, so the machine must be idle but for it. -benchtime 8x measures eight roofs, the first on a page that was only warmed.
func BenchmarkQuarter(b *testing.B) {
	build(b)
	blank, err := browser()
	if err != nil || blank == nil {
		b.Skip("needs Debian package chromium")
	}
	limit(b, 0.25)
	p := open(b)
	cold := eval[float64](p, `performance.now()`)
	var t testing.T
	p.give(&t, falls(300))
	file := func(i int) string {
		return fmt.Sprintf(`[{name: given[0].name, data: new TextEncoder().encode(new TextDecoder().decode(given[0].data).replace('o0,0.000', 'o0,0.00%d'))}]`, i)
	}
	report := func(name string, script func(i int) string) {
		b.Run(name, func(b *testing.B) {
			sum, worst := 0.0, 0.0
			began, before := time.Now(), used(b)
			for i := range b.N {
				ms := eval[float64](p, `(async () => { `+drawn+script(i)+` })()`)
				sum, worst = sum+ms, max(worst, ms)
			}
			b.ReportMetric(sum/float64(b.N), "ms/op")
			b.ReportMetric(worst, "worst-ms")
			b.ReportMetric((used(b)-before)/time.Since(began).Seconds(), "processors")
			b.ReportMetric(0, "ns/op")
		})
	}
	b.Run("cold", func(b *testing.B) { b.ReportMetric(cold, "ms/op") })
	plan := func(i int) string {
		return `return timed(async () => { const show = runnelPage.plan.show; let a; const shown = new Promise(done => { runnelPage.plan.show = function(p) { show.call(this, p); done(); }; });
			window.whole = runnelPage.check(` + file(i) + `, []); await shown; runnelPage.plan.show = show; });`
	}
	rest := func(int) string { return `const a = await whole; if (a.error) throw new Error(a.error); return 0;` }
	eval[bool](p, `new Promise(done => { const wait = () => window.runnelExercised ? done(true) : setTimeout(wait, 100); wait(); })`)
	b.Run("first plan", func(b *testing.B) {
		b.ReportMetric(eval[float64](p, `(async () => { `+drawn+plan(9)+` })()`), "ms/op")
		eval[float64](p, `(async () => { `+rest(0)+` })()`)
	})
	report("next plan", func(i int) string { return `if ((await whole).error) throw new Error('no roof'); ` + plan(i%8) })
	eval[float64](p, `(async () => { `+rest(0)+` })()`)
	report("all shown", func(i int) string {
		return `return timed(async () => (await runnelPage.check(` + file(i%8) + `, [])).error);`
	})
	tried := func(until string) func(i int) string {
		return func(i int) string {
			return fmt.Sprintf(`const t = runnelPage.trial, p = runnelPage.plan; if (!t.on) { t.turn(true); t.choose('o3'); } while (t.busy || !t.runs) await new Promise(r => setTimeout(r, 50));
				return timed(async () => { const show = p.show; const shown = new Promise(done => { p.show = function(x) { show.call(this, x); if (%s) done(); }; }); t.move(%d * t.step); await shown; p.show = show; });`, until, 1-2*(i%2))
		}
	}
	report("what if", tried(`t.good === t.changes`))
	report("what if, and what runs where", tried(`t.good === t.changes && t.runs`))
	eval[int](p, editing)
	report("reading", func(i int) string {
		return fmt.Sprintf(`const e = runnelPage.editor, m = await import('./roof.js');
			while (e.working) await new Promise(r => setTimeout(r, 50));
			return timed(async () => { const draw = e.draw; const shown = new Promise(done => { e.draw = function() { draw.call(this); if (this.seen || this.answer?.of === this.roof) done(this.answer?.error); }; });
			e.keep(m.put(e.roof, 'spots', {at: [20 + %d, 20.5], height: 10.1, what: '', of: ''})); const fault = await shown; e.draw = draw; return fault; });`, i%20)
	})
}
