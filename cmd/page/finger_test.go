package main_test

import (
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// finger is the script that guides a tap. aim waits until a thing stands still and can be touched, and returns where to touch it [px]; wait, ms, is how
// often it looks. What is touched while the screen moves under the finger is stopped before anything hears of it, and window.touched says so: the finger
// tries again, as a person does. dragged says that the finger moves before it is lifted.
const finger = `((find, spot, wait, dragged) => {
	window.removeFinger?.();
	const same = (a, b) => a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;
	const pause = () => new Promise(done => setTimeout(done, wait));
	return (async () => {
		for (let tries = 400; ; tries--) {
			const e = find();
			e?.scrollIntoView({block: 'center'});
			const before = e?.getBoundingClientRect();
			await pause();
			try {
				if (!e) throw new Error('there is no such element');
				const box = e.getBoundingClientRect(), [x, y] = spot(e, box), top = document.elementFromPoint(x, y);
				if (!top || !e.contains(top)) throw new Error('covered by ' + top?.outerHTML.slice(0, 200));
				if (!same(before, box) || find() !== e) throw new Error('it moves: ' + e.outerHTML.slice(0, 200));
				window.touched = 'not';
				const heard = ['pointerdown', 'mousedown', 'pointerup', 'mouseup', 'click'];
				const guard = event => {
					if (event.type.startsWith('pointer') && (event.type === 'pointerdown' || !dragged)) {
						const hit = window.touched !== 'missed' && e.contains(event.target) && same(box, e.getBoundingClientRect());
						const held = event.type === 'pointerup' && window.touched === 'pointerdown' && e.matches('input, select, textarea'); // a field opens as it is touched, and moves
						window.touched = hit || held ? event.type : 'missed';
					}
					if (window.touched !== 'missed') return;
					event.stopImmediatePropagation();
					event.preventDefault();
				};
				for (const h of heard) window.addEventListener(h, guard, true);
				window.removeFinger = () => heard.forEach(h => window.removeEventListener(h, guard, true));
				return [x, y];
			} catch (fault) {
				if (tries === 0) throw fault;
			}
		}
	})();
})`

// touch puts a finger on the element that a script's expression gives, at the place that another gives of the element e and its box b [px], and moves it by
// dx and dy [px] before it is lifted.
func (p *page) touch(element, at string, dx, dy float64) {
	p.tb.Helper()
	dragged := dx != 0 || dy != 0
	for range 20 {
		to := eval[[]float64](p, finger+`(() => (`+element+`), (e, b) => `+at+`, 20, `+quoted(p.tb, dragged)+`)`)
		if !dragged {
			p.run(chromedp.MouseClickXY(to[0], to[1]))
		} else {
			p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, to[0], to[1], chromedp.ButtonLeft),
				chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, to[0]+dx, to[1]+dy, chromedp.ButtonLeft),
				chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, to[0]+dx, to[1]+dy, chromedp.ButtonLeft))
		}
		if end := eval[string](p, `(() => { window.removeFinger?.(); return window.touched ?? 'another page'; })()`); end == "another page" || end == "pointerup" || dragged && end == "pointerdown" {
			return
		}
	}
	p.tb.Fatalf("it moves under the finger each time: %s", element)
}

// seen waits until the first element of a selector is seen.
func (p *page) seen(selector string) {
	p.tb.Helper()
	eval[bool](p, `new Promise(done => { const wait = () => document.querySelector(`+quoted(p.tb, selector)+`)?.checkVisibility() ? done(true) : setTimeout(wait, 20); wait(); })`)
}

const middle = `[b.x + b.width / 2, b.y + b.height / 2]`

// tap taps the middle of an element, which a script's expression gives: it must be seen, uncovered, and as large as a gloved finger asks [48 px].
func (p *page) tap(element string) {
	p.tb.Helper()
	p.touch(`(e => {
		if (!e) return e;
		const b = e.getBoundingClientRect();
		if (b.width < 48 || b.height < 48) throw new Error('only ' + b.width + ' by ' + b.height + ' px: ' + e.outerHTML.slice(0, 200));
		return e;
	})(`+element+`)`, middle, 0, 0)
}

// tapRoof taps the plan at a place on the roof [ft].
func (p *page) tapRoof(x, y float64) {
	p.tb.Helper()
	p.touch(`runnelPage.editor.plan.canvas`, `(([x, y], at) => [b.x + at([x * 0.3048, y * 0.3048])[0], b.y + at([x * 0.3048, y * 0.3048])[1]])(`+
		quoted(p.tb, []float64{x, y})+`, place => runnelPage.editor.plan.at(place))`, 0, 0)
}

// A finger hits what moves before it, once, and nothing that lies where it was.
func TestFingerHitsWhatMoves(t *testing.T) {
	p := shared(t)
	eval[int](p, `(() => {
		const [aim, decoy] = ['aim', 'decoy'].map(name => {
			const b = document.createElement('button');
			b.className = 'moving';
			b.style.cssText = 'position:fixed;left:10px;width:100px;height:60px;z-index:9999';
			b.onclick = () => window[name] = window[name] + 1;
			return document.body.appendChild(b);
		});
		window.aim = window.decoy = 0;
		let n = 0;
		const step = () => { aim.style.top = (n % 2 ? 100 : 200) + 'px'; decoy.style.top = (n % 2 ? 200 : 100) + 'px'; if (n++ < 120) setTimeout(step, 9); };
		step();
		return 0; })()`)
	p.tap(`document.querySelector('.moving')`)
	got := eval[[]int](p, `(() => { document.querySelectorAll('.moving').forEach(e => e.remove()); return [window.aim, window.decoy]; })()`)
	if got[0] != 1 || got[1] != 0 {
		t.Errorf("hit %d times, its neighbour %d times; want 1 and 0", got[0], got[1])
	}
}
