package main_test

import "testing"

// An answer that comes while a finger is on a button waits until it is lifted: a button that is replaced would not hear it.
func TestLateAnswerWaitsForTheFinger(t *testing.T) {
	p := shared(t)
	p.rectangle(t)
	got := eval[[]int](p, `(async () => {
		const e = runnelPage.editor, show = e.measure.show;
		const heard = [];
		let shown = 0;
		e.measure.show = () => shown++;
		document.getElementById('export').dispatchEvent(new PointerEvent('pointerdown', {bubbles: true}));
		e.asking.ask();
		while (!e.asking.working || e.asking.stale) await new Promise(done => setTimeout(done));
		await runnelPage.runnel.last;
		await new Promise(done => setTimeout(done, 50));
		heard.push(shown);
		document.getElementById('export').dispatchEvent(new PointerEvent('pointerup', {bubbles: true}));
		while (e.asking.working) await new Promise(done => setTimeout(done));
		delete e.measure.show;
		return [...heard, shown];
	})()`)
	if got[0] != 0 || got[1] != 1 {
		t.Errorf("written anew %d times while the finger was down, %d times in all; want 0 and 1", got[0], got[1])
	}
	p.quiet()
}

// What looks the same stays where an answer changes nothing of it, and so does the focus of somebody who uses the keyboard.
func TestLateAnswerLeavesTheFocus(t *testing.T) {
	p := shared(t)
	p.rectangle(t)
	if got := eval[string](p, `(document.getElementById('export').focus(), runnelPage.editor.measure.show(), document.activeElement.id)`); got != "export" {
		t.Errorf("the focus is on %q, want export", got)
	}
	p.quiet()
}

// A change that was made while a file was being saved is in no file.
func TestChangeWhileSaving(t *testing.T) {
	p := shared(t)
	p.rectangle(t)
	open := eval[[]bool](p, `(() => {
		const e = runnelPage.editor, saved = e.roof, open = () => document.getElementById('remind').classList.contains('open');
		e.exportedAs(saved);
		const before = open();
		e.keep({...e.roof, name: 'Later', changed: saved.changed + 1});
		e.exportedAs(saved);
		return [before, open()];
	})()`)
	if open[0] || !open[1] {
		t.Errorf("warns after saving %v, after a change while saving %v; want false and true", open[0], open[1])
	}
	p.answered()
	p.quiet()
}
