package main_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// addPhoto takes a photo at a place on the roof [ft].
func (p *page) addPhoto(t *testing.T, name string, x, y float64) {
	t.Helper()
	p.tap(button(t, "Photo"))
	p.run(chromedp.SetUploadFiles("#photo-file", []string{name}))
	eval[bool](p, `new Promise(done => { const wait = () => runnelPage.editor.task ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.tapRoof(x, y)
	p.keep()
}

// A photo that is taken, changed or deleted is undone and done again like any other step, on the device too: what a reload brings back is what was on the screen,
// to the byte of the picture.
func TestUndoPhotos(t *testing.T) {
	p := open(t)
	p.rectangle(t)
	name := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(name, photo(t), 0o600); err != nil {
		t.Fatal(err)
	}
	p.addPhoto(t, name, 10, 10)
	p.addPhoto(t, name, 20, 10)
	const told = `(async () => (await Promise.all(runnelPage.editor.photos.map(async q => [q.at.map(v => v.toFixed(2)), q.note, [...new Uint8Array(await crypto.subtle.digest('SHA-256', await q.data.arrayBuffer()))].slice(0, 6)].join('|')))).join(' / '))()`
	both := eval[string](p, told)
	reload := func() {
		eval[int](p, `runnelPage.editor.kept.with(() => 0)`)
		p.run(chromedp.Reload())
		p.ready()
		p.tap(`document.querySelector('.kept-roof')`)
		p.answered()
	}
	step := func(text, want, what string) {
		t.Helper()
		p.tap(button(t, text))
		p.answered()
		if got := eval[string](p, told); got != want {
			t.Errorf("%s: %s, want %s", what, got, want)
		}
	}
	reload()
	if got := eval[string](p, told); got != both {
		t.Errorf("after a reload: %s, want %s", got, both)
	}
	eval[int](p, `(runnelPage.editor.dropPhoto(runnelPage.editor.photos[1]), 0)`)
	p.answered()
	one := eval[string](p, told)
	if one == both || len(one) > len(both)/2 {
		t.Errorf("with one photo away: %s", one)
	}
	step("Undo", both, "a photo that was deleted, undone")
	step("Redo", one, "deleted again")
	step("Undo", both, "undone again")
	reload()
	if got := eval[string](p, told); got != both {
		t.Errorf("undone and loaded again: %s, want %s", got, both)
	}
	p.addPhoto(t, name, 15, 5)
	step("Undo", both, "a photo that was taken, undone")
	eval[int](p, `(runnelPage.editor.keepPhoto({...runnelPage.editor.photos[0], note: 'rust'}), 0)`)
	p.answered()
	if got := eval[string](p, told); got == both {
		t.Error("a note was not taken")
	}
	step("Undo", both, "a note, undone")
	reload()
	if got := eval[string](p, told); got != both {
		t.Errorf("at last: %s, want %s", got, both)
	}
	p.quiet()
}

// The reminder stays until the photos are in a file too, and comes back with the next photo.
func TestReminderOfPhotos(t *testing.T) {
	p := open(t)
	p.rectangle(t)
	name := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(name, photo(t), 0o600); err != nil {
		t.Fatal(err)
	}
	open := `document.getElementById('remind').classList.contains('open')`
	p.addPhoto(t, name, 10, 10)
	p.tap(`document.getElementById('export')`)
	eval[int](p, `runnelPage.editor.kept.with(() => 0)`)
	if !eval[bool](p, open) {
		t.Error("the roof file alone is taken for the photos too")
	}
	p.tap(`document.getElementById('export-all')`)
	eval[bool](p, `new Promise(done => { const wait = () => `+open+` ? setTimeout(wait, 20) : done(true); wait(); })`)
	p.addPhoto(t, name, 20, 10)
	if !eval[bool](p, open) {
		t.Error("it does not warn of a photo that is in no file")
	}
	p.quiet()
}
