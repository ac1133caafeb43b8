package main_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// trying opens the invented roof, turns trying on, and waits until the roof as found is drawn with what runs where.
func trying(t *testing.T) *page {
	t.Helper()
	p := shared(t)
	p.tryExample()
	p.run(chromedp.Click("#what-if-on"))
	p.tried()
	return p
}

// tried waits until the water of the present changes is drawn and what runs to which outlet is known.
func (p *page) tried() {
	p.tb.Helper()
	eval[bool](p, `new Promise(done => { const t = runnelPage.trial; const wait = () => !t.busy && t.asked === t.changes && t.runs ? done(true) : setTimeout(wait, 20); wait(); })`)
}

// compared is what a table says, a line a row with its cells parted by "|".
func (p *page) compared() string {
	p.tb.Helper()
	return eval[string](p, `[...document.querySelectorAll('#what-if-compared tr')].map(r => [...r.cells].map(c => c.textContent).join('|')).join('\n')`)
}

func (p *page) outlet(t *testing.T, label string) {
	t.Helper()
	eval[int](p, `(runnelPage.trial.pick('o' + runnelPage.trial.picture.outlets.findIndex(o => o.label === `+quoted(t, label)+`)), 0)`)
}

// The roof as found and as tried stand side by side: depth, area, volume and weight of every pond, and what runs to each outlet. The library's roof has
// four equal quarters of 120 m2, one to a drain; blocked, RD-1's runs to the overflow beside it.
func TestWhatIfCompares(t *testing.T) {
	p := trying(t)
	for _, want := range []string{"P02: unchanged, 27 mm deep", "RD-1|120 m²|120 m²"} {
		if !strings.Contains(p.compared(), want) {
			t.Errorf("as found it lacks %q:\n%s", want, p.compared())
		}
	}
	p.outlet(t, "RD-1")
	for range 8 { // 5 mm each
		p.tap(`document.getElementById('what-if-down')`)
	}
	p.tried()
	for _, want := range []string{"P02: gone", "Depth|27 mm|–", "Area|7.2 m²|–", "Volume|67 litres|–", "Weight|67 kg|–", "All ponds: 3 as found, 2 now", "P01: unchanged"} {
		if !strings.Contains(p.compared(), want) {
			t.Errorf("with RD-1 lowered it lacks %q:\n%s", want, p.compared())
		}
	}
	p.tap(`document.getElementById('what-if-block')`)
	p.tried()
	for _, want := range []string{"RD-1|120 m²|0 m²", "OD-1|0 m²|120 m²", "RD-3|120 m²|120 m²"} {
		if !strings.Contains(p.compared(), want) {
			t.Errorf("with RD-1 blocked it lacks %q:\n%s", want, p.compared())
		}
	}
	if n := eval[int](p, `runnelPage.plan.picture.runs.find(r => runnelPage.trial.picture.outlets[r.outlet].label === 'OD-1').rings.length`); n == 0 {
		t.Error("what runs to the overflow is not drawn")
	}
	p.tap(`document.getElementById('what-if-found')`)
	if got := eval[string](p, `runnelPage.plan.picture.runs.map(r => r.now).join()`); got != "120 m²,120 m²,120 m²,120 m²" {
		t.Errorf("as found runs %s", got)
	}
	p.accessible(t, "what if, compared")
	p.quiet()
}

// A cricket by two taps between two drains: it stands in the surface with its size, can be made wider and steeper, and goes away again; undo takes one step at a time.
func TestWhatIfCricket(t *testing.T) {
	p := trying(t)
	tap := func(label string) {
		t.Helper()
		p.touch(`runnelPage.plan.canvas`, `(at => [b.x + at[0], b.y + at[1]])(runnelPage.plan.at(runnelPage.trial.picture.outlets.find(o => o.label === `+quoted(t, label)+`).at))`, 0, 0)
	}
	p.tap(`document.getElementById('what-if-cricket')`)
	tap("RD-1")
	tap("RD-2")
	p.tried()
	said := `document.getElementById('what-if-built-said').textContent`
	first := eval[string](p, said)
	if !strings.Contains(first, "thick at its middle") || !strings.Contains(first, "m long") {
		t.Errorf("of the cricket it says %q", first)
	}
	sizes := func() []float64 {
		return eval[[]float64](p, `(c => [c.tip, c.rate])(runnelPage.trial.result.crickets[0])`)
	}
	before := sizes()
	p.tap(`document.getElementById('what-if-wider')`)
	p.tried()
	p.tap(`document.getElementById('what-if-thicker')`)
	p.tried()
	after := sizes()
	if d := after[0] - before[0]; d < 0.3047 || d > 0.3049 {
		t.Errorf("a step wider is %g m", d)
	}
	if after[1] <= before[1] {
		t.Errorf("boards of %g after %g", after[1], before[1])
	}
	p.accessible(t, "a cricket")
	p.tap(`document.getElementById('what-if-undo')`)
	p.tried()
	if got := sizes(); got[0] != after[0] || got[1] != before[1] {
		t.Errorf("undone to %v, want %g and %g", got, after[0], before[1])
	}
	p.tap(`document.getElementById('what-if-away')`)
	p.tried()
	if n := eval[int](p, `runnelPage.trial.result.crickets.length`); n != 0 {
		t.Errorf("%d crickets once it is away", n)
	}
	p.tap(`document.getElementById('what-if-undo')`)
	p.tried()
	if n := eval[int](p, `runnelPage.trial.result.crickets.length`); n != 1 {
		t.Errorf("%d crickets once that is undone", n)
	}
	// where nothing would run against it, it is refused, and the cricket before stays
	eval[int](p, `(runnelPage.trial.add({do: 'cricket', base: [[0, 0], [0.1, 0]]}), 0)`)
	if got := eval[string](p, `new Promise(done => { const t = runnelPage.trial; const wait = () => !t.busy ? done(document.getElementById('what-if-said').textContent + t.changes.length) : setTimeout(wait, 20); wait(); })`); !strings.Contains(got, "shed nothing") || !strings.HasSuffix(got, "1") {
		t.Errorf("of a cricket that sheds nothing: %s", got)
	}
	p.quiet()
}
