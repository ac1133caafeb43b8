package main_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// The rain that is picked is put on the roof with every primary outlet blocked, and the plan shows that water.
func TestRainIsPicked(t *testing.T) {
	p := trying(t)
	eval[int](p, `(e => { e.value = '100 mm/h'; e.dispatchEvent(new Event('change')); return 0; })(document.getElementById('what-if-rain'))`)
	said := eval[string](p, `new Promise(done => { const t = runnelPage.trial; const wait = () => t.picture.blocked.length > 0 && t.runs && !t.untold ? done(document.getElementById('what-if-said').textContent) : setTimeout(wait, 20); wait(); })`)
	if said != "Shown: the water with every primary outlet blocked." {
		t.Errorf("it says %q", said)
	}
	if !eval[bool](p, `runnelPage.plan.picture.water === runnelPage.trial.picture.blocked`) {
		t.Error("the plan shows other water")
	}
	if got := eval[string](p, `document.getElementById('what-if-rain').value`); got != "100 mm/h" {
		t.Errorf("the rain reads %q", got)
	}
	p.quiet()
}

// A drain follows the finger on the plan: ten pixels upwards are one step of 5 mm.
func TestDrainIsDragged(t *testing.T) {
	p := trying(t)
	p.touch(`runnelPage.plan.canvas`, `(at => [b.x + at[0], b.y + at[1]])(runnelPage.plan.at(runnelPage.trial.picture.outlets.find(o => o.label === 'RD-1').at))`, 0, -40)
	p.tried()
	if got := eval[string](p, `document.getElementById('what-if-level').textContent`); got != "20 mm higher" {
		t.Errorf("dragged by 40 px it is %q", got)
	}
	p.quiet()
}

// Files that are dropped anywhere on the page are opened as those that are picked.
func TestFilesAreDropped(t *testing.T) {
	p := shared(t)
	p.give(t, falls(200))
	eval[bool](p, `(() => { const d = new DataTransfer(); for (const f of given) d.items.add(new File([f.data], f.name)); return document.body.dispatchEvent(new DragEvent('drop', {dataTransfer: d, bubbles: true, cancelable: true})); })()`)
	p.seen("#answer")
	p.seen("#file-buttons button:enabled")
	if got := eval[int](p, `runnelPage.plan.picture.outlets.length`); got != 16 {
		t.Errorf("%d outlets", got)
	}
	p.quiet()
}

// A roof is shared as its file, where the browser can share files.
func TestRoofIsShared(t *testing.T) {
	p := shared(t)
	t.Cleanup(func() { eval[int](p, `(delete navigator.canShare, delete navigator.share, 0)`) })
	eval[int](p, `(() => { navigator.canShare = () => true; navigator.share = async d => { window.sharedFiles = d.files.map(f => f.name); }; return 0; })()`)
	eval[int](p, everything)
	p.answered()
	p.tap(button(t, "Share it"))
	got := eval[[]string](p, `new Promise(done => { const wait = () => window.sharedFiles ? done(window.sharedFiles) : setTimeout(wait, 20); wait(); })`)
	if len(got) != 1 || got[0] != "tool-shed-north.csv" {
		t.Errorf("shared %q", got)
	}
	p.quiet()
}

// While a roof is worked out, taps are heard: the plan grows before the answer is there.
func TestTapsAreHeardMeanwhile(t *testing.T) {
	p := shared(t)
	p.tryExample()
	p.give(t, falls(300))
	got := eval[[]bool](p, `(async () => {
		let answered = false;
		const before = runnelPage.plan.view.scale, all = runnelPage.check(given, []).then(() => { answered = true; });
		await new Promise(done => setTimeout(done));
		document.getElementById('closer').click();
		const heard = [answered, runnelPage.plan.view.scale > before];
		await all;
		return [...heard, answered];
	})()`)
	if got[0] || !got[1] || !got[2] {
		t.Errorf("answered before the tap %v, tap heard %v, answered at the end %v", got[0], got[1], got[2])
	}
	p.quiet()
}

// On a phone upright the plan stands over the words; on a phone on its side and on a desk beside them, no higher than the screen.
func TestPlanStandsBesideTheWords(t *testing.T) {
	p := shared(t)
	look := func(screen, plan, words string) {
		t.Helper()
		for _, c := range []struct {
			width, height int64
			beside        bool
		}{{390, 844, false}, {360, 640, false}, {844, 390, true}, {1280, 800, true}} {
			p.run(chromedp.EmulateViewport(c.width, c.height))
			got := eval[string](p, `(async () => {
				await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
				const [a, b] = [`+quoted(t, plan)+`, `+quoted(t, words)+`].map(s => document.querySelector(s).getBoundingClientRect());
				return [a.right <= b.left ? 'beside' : a.bottom <= b.top ? 'over' : 'mixed', a.height > innerHeight ? 'too high' : ''].join(' ').trim(); })()`)
			if want := map[bool]string{true: "beside", false: "over"}[c.beside]; got != want {
				t.Errorf("%s at %d by %d: %s, want %s", screen, c.width, c.height, got, want)
			}
		}
		p.run(chromedp.EmulateViewport(390, 844))
	}
	p.tryExample()
	look("answer", "#plan", "#first")
	p.tap(`document.getElementById('what-if-on')`)
	p.tried()
	eval[int](p, `(document.getElementById('what-if-title').scrollIntoView(), 0)`)
	look("what if", "#plan", "#what-if-tools")
	p.tap(`document.getElementById('again')`)
	eval[int](p, everything)
	p.answered()
	look("measuring", "#survey-plan", "#survey-next")
	if overflow := strings.Join(eval[[]string](p, unfit), "; "); overflow != "" {
		t.Error(overflow)
	}
	p.quiet()
}
