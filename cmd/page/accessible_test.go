package main_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// scheme has the browser ask for light or dark pages.
func (p *page) scheme(light string) {
	p.tb.Helper()
	p.run(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: light}}})
		return err
	}))
}

// unfit is a script that lists what a gloved finger or an eye in the sun misses: what is pressed and smaller than 44 px, text under 16 px, words that are cut off, and a
// page wider than the screen.
const unfit = `(() => {
	const out = [], shown = e => e.getClientRects().length > 0;
	if (document.documentElement.scrollWidth > innerWidth) out.push('the page is ' + document.documentElement.scrollWidth + ' px wide on a screen of ' + innerWidth);
	for (const e of document.querySelectorAll('button, select, input, summary, a, textarea')) {
		if (!shown(e)) continue;
		const b = (e.type === 'checkbox' ? e.closest('label') : e).getBoundingClientRect();
		if (b.width < 44 || b.height < 44) out.push(Math.round(b.width) + ' by ' + Math.round(b.height) + ' px: ' + e.outerHTML.slice(0, 120));
		if (e.tagName === 'BUTTON' && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)) out.push('cut off: ' + e.textContent);
	}
	for (const e of document.body.querySelectorAll('*')) {
		const text = [...e.childNodes].filter(c => c.nodeType === 3).map(c => c.textContent.trim()).join('');
		if (text && shown(e) && !e.closest('script, style') && parseFloat(getComputedStyle(e).fontSize) < 16) out.push(getComputedStyle(e).fontSize + ': ' + text.slice(0, 60));
	}
	return out;
})()`

// fits fails the test where a screen of 360 by 640 shows what is too small, cut off or too wide, or axe-core finds what is serious, light or dark.
func (p *page) fits(t *testing.T, screen string) {
	t.Helper()
	for _, s := range eval[[]string](p, unfit) {
		t.Errorf("%s: %s", screen, s)
	}
	p.scheme("dark")
	p.accessible(t, screen+", dark")
	p.scheme("light")
	p.accessible(t, screen+", light", "color-contrast", "link-in-text-block") // the rules that look at colours: they are all that changes
}

// everything is a script that puts a roof with one of each thing on the screen.
const everything = `(async () => {
	const m = await import('./roof.js');
	let r = m.set(m.newRoof('us', 'Tool shed, north'), {outline: {kind: 'rect', east: 12, north: 8}, edge: 'wall', heights: 'rod'});
	r = m.put(r, 'outlets', {type: 'drain', overflow: false, at: [3, 4], size: 0.1016, height: 1.2954});
	r = m.put(r, 'outlets', {type: 'scupper', overflow: true, at: [12, 4], size: 0, height: null});
	r = m.put(r, 'curbs', {label: 'unit', at: [9, 1], east: 1, north: 2});
	r = m.put(r, 'ponds', {chalk: [[1, 1], [2, 1], [2, 2]], oval: null, soundings: [{at: [1.7, 1.3], depth: 0.0254}], hours: '48', outlets: 'clear', note: 'soft here'});
	r = m.put(r, 'ponds', {chalk: [], oval: {at: [6, 5], east: 2, north: 1}, soundings: [], hours: '', outlets: '', note: ''});
	r = m.put(r, 'spots', {at: [5, 5], height: 1.3081, what: '', of: ''});
	r = m.put(r, 'slopes', {at: [6, 6], level: 1.2192, gap: 0.0127, toward: 'NE'});
	await runnelPage.editor.resume(r);
	return 0; })()`

// Every form, every task and every list of the page, on the smallest phone, in light and in dark.
func TestEveryScreenFits(t *testing.T) {
	p := open(t)
	p.run(chromedp.EmulateViewport(360, 640))
	eval[int](p, `(document.querySelectorAll('#start details').forEach(d => d.open = true), 0)`)
	p.fits(t, "start")
	p.tap(button(t, "Measure a roof now"))
	eval[int](p, `(document.querySelectorAll('#card details').forEach(d => d.open = true), 0)`)
	p.fits(t, "a new roof")
	p.tap(button(t, "Walls one after another"))
	p.fits(t, "walls one after another")
	p.tap(`document.querySelector('#card button[type=submit]')`)
	p.fits(t, "walls without lengths")
	p.tap(button(t, "Metres"))
	p.tap(field(t, "Length of wall 1"))
	p.fits(t, "the pad in metres")
	eval[int](p, everything)
	p.answered()
	eval[int](p, `(document.querySelectorAll('#survey details').forEach(d => d.open = true), 0)`)
	p.fits(t, "a roof with one of each thing")
	edit := func(screen, it string) {
		t.Helper()
		eval[int](p, `(runnelPage.editor.edit((e => (`+it+`))(runnelPage.editor)), 0)`)
		p.fits(t, screen)
		eval[int](p, `(runnelPage.editor.pad.close(), runnelPage.editor.shut(), 0)`)
	}
	for list, things := range map[string]string{"outlets": "drain", "curbs": "curb", "spots": "height", "slopes": "slope"} {
		edit(things, `{list: '`+list+`', thing: e.roof.`+list+`[0]}`)
		edit("new "+things, `{list: '`+list+`', thing: {at: [4, 4], type: 'scupper', height: null, what: '', of: ''}}`)
	}
	edit("water by chalk", `{list: 'ponds', thing: e.roof.ponds[0]}`)
	edit("water as an oval", `{list: 'ponds', thing: e.roof.ponds[1]}`)
	edit("chalk mark", `{list: 'ponds', part: 'chalk', index: 1, thing: e.roof.ponds[0]}`)
	edit("depth", `{list: 'ponds', part: 'soundings', index: 0, thing: e.roof.ponds[0]}`)
	for _, call := range []string{"outline()", "visited()", "take(e.next[0])"} {
		eval[int](p, `((e => e.`+call+`)(runnelPage.editor), 0)`)
		p.fits(t, call)
		eval[int](p, `(runnelPage.editor.pad.close(), runnelPage.editor.shut(), 0)`)
	}
	p.tap(`document.getElementById('level-moved')`)
	p.fits(t, "a level that was moved")
	p.tap(button(t, "Cancel"))
	p.tap(`document.getElementById('tool-chalk')`)
	p.fits(t, "chalk marks")
	p.tap(button(t, "Cancel"))
	p.tap(`document.getElementById('tool-photo')`)
	p.fits(t, "a photo to take")
	name := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(name, photo(t), 0o600); err != nil {
		t.Fatal(err)
	}
	p.run(chromedp.SetUploadFiles("#photo-file", []string{name}))
	eval[bool](p, `new Promise(done => { const wait = () => runnelPage.editor.task ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.fits(t, "where a photo was taken")
	p.tapRoof(20, 12)
	p.fits(t, "form of a photo")
	p.keep()
	p.tap(`document.getElementById('photo-page')`)
	eval[bool](p, `new Promise(done => { const wait = () => document.querySelector('#photo-files li') ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.fits(t, "photos to take along")
	p.tap(button(t, "Other roofs"))
	eval[bool](p, `new Promise(done => { const wait = () => document.querySelector('#kept li button[aria-label^=Remove]') ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.tap(`document.querySelector('#kept li button[aria-label^=Remove]')`)
	p.fits(t, "roofs on this device, one to be removed")
	p.quiet()
}

// The answer with all that can be opened, tried, made and refused, likewise.
func TestEveryAnswerFits(t *testing.T) {
	p := shared(t)
	t.Cleanup(func() {
		p.scheme("")
		p.run(chromedp.EmulateViewport(390, 844))
	})
	p.run(chromedp.EmulateViewport(360, 640))
	p.tryExample()
	eval[int](p, `(document.querySelectorAll('#answer details').forEach(d => d.open = true), 0)`)
	p.fits(t, "answer")
	p.tap(`[...document.querySelectorAll('#file-buttons button')].find(b => b.textContent === 'Plan')`)
	eval[bool](p, `new Promise(done => { const wait = () => document.querySelector('#made li') ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.fits(t, "a plan that was made")
	p.tap(`document.getElementById('what-if-on')`)
	p.tried()
	for _, thing := range []string{"o0", "P01"} {
		eval[int](p, `(runnelPage.trial.pick('`+thing+`'), 0)`)
		p.fits(t, "what if, "+thing)
	}
	p.tap(`document.getElementById('what-if-here')`)
	p.tried()
	p.fits(t, "what if, a cricket")
	p.tap(`document.getElementById('what-if-cricket')`)
	p.fits(t, "what if, a cricket to be placed")
	eval[string](p, `runnelPage.check([{name: 'a.csv', data: new TextEncoder().encode('x,y,z\n1,2,3\n')}], []).then(() => '')`)
	p.fits(t, "trouble")
	p.quiet()
}
