package main_test

import (
	"bytes"
	"encoding/base64"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"runnel/cmd/call"
	"runnel/cmd/command"
)

// button is the expression of a button that is seen, by its text.
func button(t *testing.T, text string) string {
	t.Helper()
	return `[...document.querySelectorAll('button')].find(b => b.offsetParent && !b.closest('#pad') && b.textContent === ` + quoted(t, text) + `)`
}

// field is the expression of a field of the form that is open, by its label.
func field(t *testing.T, label string) string {
	t.Helper()
	return `[...document.querySelectorAll('#card input, #card select')].find(i => i.offsetParent && (i.ariaLabel ?? document.querySelector('label[for="' + i.id + '"]')?.textContent) === ` + quoted(t, label) + `)`
}

// write writes a length into a field by the number pad, key by key; keys are parted by spaces.
func (p *page) write(t *testing.T, label, keys string) {
	t.Helper()
	p.tap(field(t, label))
	for k := range strings.FieldsSeq(keys) {
		p.tap(`[...document.querySelectorAll('#pad button')].find(b => b.textContent === ` + quoted(t, k) + `)`)
	}
}

// keep keeps the form that is open, and waits for the answer.
func (p *page) keep() {
	p.tb.Helper()
	p.tap(`document.querySelector('#pad:not([hidden]) button.main') ?? document.querySelector('#card button[type=submit]')`)
	p.answered()
}

// rectangle begins a roof of 30 by 20 by its two lengths, typed key by key.
func (p *page) rectangle(t *testing.T) {
	t.Helper()
	p.tap(button(t, "Measure a roof now"))
	p.write(t, "Long from west to east", "3 0")
	p.write(t, "Long from south to north", "2 0")
	p.keep()
}

// answered waits until the program has answered the roof as it is.
func (p *page) answered() {
	p.tb.Helper()
	eval[bool](p, `new Promise(done => { const e = runnelPage.editor; const wait = () => !e.asking.working && e.answer && e.answer.of === e.roof ? done(true) : setTimeout(wait, 20); wait(); })`)
}

// big is what stands in large letters.
func (p *page) big() string {
	p.tb.Helper()
	return eval[string](p, `document.querySelector('#survey-next .big').textContent`)
}

// accessible fails the test where axe-core finds what is serious on the screen, by all its rules, or by those named.
func (p *page) accessible(t *testing.T, screen string, rules ...string) {
	t.Helper()
	axe, err := os.ReadFile("../../export/report/testdata/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	if !eval[bool](p, `window.axe !== undefined`) {
		eval[int](p, string(axe)+";0")
	}
	for _, s := range eval[[]string](p, `axe.run({resultTypes: ["violations"], ...(rules => rules && {runOnly: rules})(`+quoted(t, rules)+`)}).then(r => r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => v.id + ": " + v.nodes.map(n => n.html.slice(0, 150)).join(" | ")))`) {
		t.Errorf("%s: %s", screen, s)
	}
	if wide := eval[float64](p, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("%s is %g px wide, on a screen of 390", screen, wide)
	}
}

// A roofer with a tape, a level and a phone, and no files: from an empty page to what holds the water, and to a file that the command line reads with the
// same result. The oval of 12 by 6 ft covers pi/4*72 = 56.5 sq ft; with one depth of 3/4" it holds 56.5*0.0625*62.4 = 220.6 lb as a pan, a third of that as
// a cone; 3/4" weighs 0.0625*62.4 = 3.9 psf. The lowest place reads an inch more than the inlet, so the inlet stands an inch over it.
func TestMeasureARoof(t *testing.T) {
	p := open(t)
	p.tap(button(t, "Measure a roof now"))
	p.accessible(t, "outline")
	eval[int](p, `(`+field(t, "Name of the roof")+`.value = "Tool shed", 0)`)
	p.write(t, "Long from west to east", "1 2 0")
	p.write(t, "Long from south to north", "6 0 '")
	p.picture("page-walls", field(t, "Long from west to east")+`.parentNode`)
	p.keep()
	p.accessible(t, "empty roof")
	if got := p.big(); !strings.Contains(got, "drains") {
		t.Errorf("of an empty roof it asks: %s", got)
	}

	p.tap(button(t, "Drain"))
	p.tapRoof(41, 29)
	p.write(t, "Distance from the first wall", "4 0 '")
	p.write(t, "Distance from the second wall", "3 0 ' 0 \"")
	p.accessible(t, "form of a drain")
	p.keep()
	p.tap(button(t, "Water: oval"))
	p.tapRoof(50, 30)
	p.write(t, "Long from west to east", "1 2")
	p.write(t, "Long from south to north", "6")
	p.write(t, "Distance from the first wall", "5 0")
	p.write(t, "Distance from the second wall", "3 0")
	p.picture("page-water", "")
	p.keep()
	p.tap(button(t, "Depth"))
	p.tapRoof(50, 30)
	p.write(t, "Depth", "¾")
	p.keep()
	text := eval[string](p, `runnelPage.editor.answer.text`)
	for _, want := range []string{"(tier A)", "57 sq ft", "74 lb to", "221 lb", "3.9 psf", "40' 0\" from the west wall, 30' 0\" from the south wall"} {
		if !strings.Contains(text, want) {
			t.Errorf("the answer by tape lacks %q", want)
		}
	}
	p.picture("page-next", "")
	if got := p.big(); got != "The inlet of RD-1" {
		t.Errorf("the next reading is %q", got)
	}

	readings := 0
	for eval[bool](p, `document.getElementById('take-next') !== null`) {
		if readings++; readings > 12 {
			t.Fatal("the readings have no end")
		}
		low := p.big() == "The lowest place of P1"
		p.tap(`document.getElementById('take-next')`)
		p.write(t, "The rod reads", map[bool]string{true: "4 ' 4 \"", false: "4 ' 3 \""}[low])
		if readings == 2 {
			p.picture("page-reading", "")
			p.accessible(t, "a reading with the pad")
		}
		p.keep()
	}
	if readings < 4 {
		t.Errorf("%d readings were asked for", readings)
	}
	p.accessible(t, "answered roof")
	p.picture("page-answer", `document.getElementById('said-title')`)
	text = eval[string](p, `runnelPage.editor.answer.text`)
	for _, want := range []string{"(tier B)", `The inlet of RD-1 stands 1" over the lowest place`} {
		if !strings.Contains(text, want) {
			t.Errorf("the answer with heights lacks %q:\n%s", want, text)
		}
	}

	eval[int](p, `(() => { const make = URL.createObjectURL; URL.createObjectURL = (b) => { window.saved = b; return make.call(URL, b); }; return 0; })()`)
	p.tap(`document.getElementById('export')`)
	if eval[bool](p, `document.getElementById('remind').classList.contains('open')`) {
		t.Error("it still warns of a roof that was saved as a file")
	}
	t.Chdir(t.TempDir())
	file, err := filepath.Abs("tool-shed.csv")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("tool-shed.csv", []byte(eval[string](p, `saved.text()`)), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, said bytes.Buffer
	if code := command.Main([]string{"check", "tool-shed.csv"}, call.Streams{Out: &out, Err: &said}); code != 0 {
		t.Fatalf("exit %d: %s", code, said.String())
	}
	if out.String() != text {
		t.Errorf("the command line says otherwise:\n%s", out.String())
	}

	p.tap(button(t, "Undo"))
	p.answered()
	if !eval[bool](p, `document.getElementById('remind').classList.contains('open')`) {
		t.Error("it does not warn of a change after the file was saved")
	}
	p.tap(button(t, "Redo"))
	p.answered()
	p.run(chromedp.Reload())
	p.ready()
	p.tap(`document.querySelector('.kept-roof')`)
	p.answered()
	if got := eval[string](p, `runnelPage.editor.answer.text`); got != text {
		t.Error("what was kept on the device is another roof")
	}
	const seen = `new Promise(done => { const wait = () => document.getElementById('to-survey').offsetParent ? done(true) : setTimeout(wait, 20); wait(); })`
	p.tap(`document.getElementById('to-full')`)
	eval[bool](p, seen)
	p.tap(`document.getElementById('to-survey')`)

	// another device, that has the file alone
	eval[int](p, `runnelPage.editor.kept.drop(runnelPage.editor.roof).then(() => 0)`)
	p.run(chromedp.Reload())
	p.ready()
	p.run(chromedp.SetUploadFiles("#files", []string{file}))
	eval[bool](p, seen)
	p.tap(button(t, "Go on measuring this roof"))
	p.answered()
	if got := eval[string](p, `runnelPage.editor.answer.text`); got != text {
		t.Error("the file that is opened again is another roof")
	}
	p.quiet()
}

// A wall that was taped 10 ft short is named before the roof is taken, as the command line names it; chalk marks are tapped round the water.
func TestMeasureByWallsAndChalk(t *testing.T) {
	p := open(t)
	p.tap(button(t, "Measure a roof now"))
	p.tap(button(t, "Walls one after another"))
	for i, keys := range []string{"1 2 0", "6 0", "1 1 0", "6 0"} {
		p.write(t, "Length of wall "+string(rune('1'+i)), keys)
	}
	p.tap(`document.querySelector('#pad button.main')`)
	slip := eval[string](p, `new Promise(done => { const wait = () => { const f = document.querySelector('#card .wrong'); f.hidden ? setTimeout(wait, 20) : done(f.textContent); }; wait(); })`)
	for _, want := range []string{"The walls do not close", `wall 3 (west 110' 0"), if it is 120' 0"`} {
		if !strings.Contains(slip, want) {
			t.Errorf("of a slip it says %q", slip)
		}
	}
	p.run(chromedp.EmulateViewport(844, 390)) // the phone lies on its side
	p.write(t, "Length of wall 3", "1 2 0")
	eval[bool](p, `new Promise(done => requestAnimationFrame(() => { const b = document.activeElement.getBoundingClientRect(), pad = document.getElementById('pad').getBoundingClientRect();
		if (b.top < 0 || b.bottom > pad.top) throw new Error('the field lies from ' + b.top + ' to ' + b.bottom + ', under the pad at ' + pad.top);
		done(true); }))`)
	p.run(chromedp.EmulateViewport(390, 844))
	p.keep()
	p.tap(button(t, "Scupper"))
	p.tapRoof(118, 20)
	p.keep()
	if at := eval[[]float64](p, `runnelPage.editor.roof.outlets[0].at.map(v => v / 0.3048)`); at[0] < 119.99 || at[0] > 120.01 || at[1] < 19.4 || at[1] > 20.6 {
		t.Errorf("a scupper that was tapped beside the east wall lies at %v ft", at)
	}
	p.tap(button(t, "Water: chalk"))
	for _, at := range [][2]float64{{100, 20}, {96, 28}, {88, 30}, {80, 28}, {76, 20}, {80, 12}, {88, 10}, {96, 12}} {
		p.tapRoof(at[0], at[1])
	}
	p.tap(button(t, "Done"))
	p.keep()
	if text := eval[string](p, `runnelPage.editor.answer.text`); !strings.Contains(text, "P1") || !strings.Contains(text, "(tier A)") {
		t.Errorf("the chalk shows no pond:\n%s", text)
	}
	p.tap(button(t, "Depth"))
	p.tapRoof(88, 20)
	p.write(t, "Depth", "3")
	p.keep()
	if got := p.big(); got != "Keep off the roof." {
		t.Errorf("of water 3 in deep it says first: %s", got)
	}
	p.quiet()
}

// What a camera wrote into a picture is left out but for the time; the place stays only where it is wanted.
func TestPhotoLeavesThePlaceOut(t *testing.T) {
	p := open(t)
	p.rectangle(t)
	name := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(name, photo(t), 0o600); err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{false, true} {
		p.tap(button(t, "Photo"))
		if want {
			eval[int](p, `(document.getElementById('place-wanted').click(), 0)`)
		}
		p.run(chromedp.SetUploadFiles("#photo-file", []string{name}))
		eval[bool](p, `new Promise(done => { const wait = () => runnelPage.editor.task ? done(true) : setTimeout(wait, 20); wait(); })`)
		p.tapRoof(10, 10)
		if want {
			p.touch(`runnelPage.editor.plan.canvas`, `(at => [b.x + at[0], b.y + at[1]])(runnelPage.editor.plan.at(runnelPage.editor.marked))`, 30, -25)
		} else {
			p.tap(button(t, "NE"))
		}
		p.accessible(t, "form of a photo")
		p.tap(`document.querySelector('#card button[type=submit]')`)
		kept := eval[string](p, `(async () => { const q = runnelPage.editor.photos[`+quoted(t, i)+`];
			const raw = String.fromCharCode(...new Uint8Array(await q.data.arrayBuffer()).subarray(0, 2000));
			return [q.taken, q.dated, q.toward, q.place ? q.place.map(d => d.toFixed(4)).join(' ') : 'no place', raw.includes('Exif') ? 'notes' : 'no notes', q.data.type].join(', '); })()`)
		place := map[bool]string{true: "41.5100 -72.2500", false: "no place"}[want] // 41° 30' 36" N, 72° 15' 0" W
		if wanted := "2025-03-14 09:26, true, NE, " + place + ", no notes, image/jpeg"; kept != wanted {
			t.Errorf("kept %s, want %s", kept, wanted)
		}
	}
	p.tap(`document.getElementById('photo-page')`)
	if n := eval[int](p, `new Promise(done => { const wait = () => { const all = document.querySelectorAll('#photo-files li').length; all ? done(all) : setTimeout(wait, 20); }; wait(); })`); n != 1 {
		t.Errorf("%d files of photos, want one page", n)
	}
	if n := eval[int](p, `(runnelPage.editor.measure.show(), document.querySelectorAll('#photo-files li').length)`); n != 1 {
		t.Errorf("an answer that comes late leaves %d files of photos, want the one that was made", n)
	}
	p.quiet()
}

// From an empty page to a letter to the client and the engineer's packet, which are those of the command line.
func TestFromAnEmptyPageToTheLetter(t *testing.T) {
	p := open(t)
	p.tap(button(t, "Measure a roof now"))
	eval[int](p, `(`+field(t, "Name of the roof")+`.value = "Porch", 0)`)
	p.write(t, "Long from west to east", "3 0")
	p.write(t, "Long from south to north", "2 0")
	p.keep()
	p.tap(button(t, "Drain"))
	p.tapRoof(10, 10)
	p.keep()
	p.tap(button(t, "No water today: take the first height"))
	for n := 1; ; n++ {
		p.write(t, "The rod reads", map[bool]string{true: "4 . 2", false: "4 . 1"}[n%3 == 0])
		p.keep()
		if eval[string](p, `runnelPage.editor.answer.picture.tier`) == "C" {
			break
		}
		if n > 20 {
			t.Fatal("heights on a grid over the roof do not make tier C")
		}
		p.tap(`document.getElementById('take-next')`)
	}
	p.tap(`document.getElementById('to-full')`)
	eval[bool](p, `new Promise(done => { const wait = () => document.getElementById('answer').hidden ? setTimeout(wait, 20) : done(true); wait(); })`)
	eval[int](p, `(() => { window.blobs = []; const make = URL.createObjectURL; URL.createObjectURL = (b) => { blobs.push(b); return make.call(URL, b); }; return 0; })()`)
	p.tap(`document.getElementById('papers')`)
	said := eval[string](p, `new Promise(done => { const wait = () => document.getElementById('papers').disabled ? setTimeout(wait, 50) : done(document.getElementById('papers-box').innerText); wait(); })`)
	got := eval[map[string]string](p, `(async () => { `+hashes+`
		const files = [];
		for (const b of document.querySelectorAll('#papers-box li button[aria-label^=Download]')) {
			b.click();
			files.push({name: b.ariaLabel.replace('Download ', ''), data: new Uint8Array(await blobs[blobs.length - 1].arrayBuffer())});
		}
		return hashes(files);
	})()`)
	p.picture("page-papers", `document.getElementById('files-title')`)
	roof := eval[string](p, `new TextDecoder().decode(runnelPage.editor.file().data)`)
	t.Chdir(t.TempDir())
	if err := os.WriteFile("porch.csv", []byte(roof), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errors bytes.Buffer
	if code := command.Main([]string{"papers", "porch.csv", "-o", "out"}, call.Streams{Out: &out, Err: &errors}); code != 0 {
		t.Fatalf("exit %d: %s", code, errors.String())
	}
	for _, name := range []string{"porch.letter.pdf", "porch.engineer.pdf"} {
		data, err := os.ReadFile(filepath.Join("out", name))
		if err != nil {
			t.Fatal(err)
		}
		if got[name] != hash(data) {
			t.Errorf("%s of the page is not that of the command line; the page says: %s", name, said)
		}
	}
	listed := eval[int](p, `(async () => {
		const papers = document.getElementById('papers');
		papers.click();
		runnelPage.now.files = [...runnelPage.now.files]; // as when another roof is opened
		while (papers.disabled) await new Promise(done => setTimeout(done, 20));
		return document.querySelectorAll('#papers-box li').length;
	})()`)
	if listed != 0 {
		t.Errorf("%d papers of a roof that was left are listed under the one that was opened", listed)
	}
	p.quiet()
}

// A photo survives a reload; roof and photos go into one file, and come out of it on a device that has neither.
func TestRoofAndPhotosInOneFile(t *testing.T) {
	p := open(t)
	p.tap(button(t, "Measure a roof now"))
	eval[int](p, `(`+field(t, "Name of the roof")+`.value = "Bicycle shed", 0)`)
	p.write(t, "Long from west to east", "3 0")
	p.write(t, "Long from south to north", "2 0")
	p.keep()
	p.tap(button(t, "Drain"))
	p.tapRoof(20, 10)
	p.keep()
	dir := t.TempDir()
	name := filepath.Join(dir, "photo.jpg")
	if err := os.WriteFile(name, photo(t), 0o600); err != nil {
		t.Fatal(err)
	}
	p.tap(button(t, "Photo"))
	p.run(chromedp.SetUploadFiles("#photo-file", []string{name}))
	eval[bool](p, `new Promise(done => { const wait = () => runnelPage.editor.task ? done(true) : setTimeout(wait, 20); wait(); })`)
	p.tapRoof(10, 10)
	eval[int](p, `(`+field(t, "Note")+`.value = "Rust; at the bowl", 0)`)
	p.tap(button(t, "NE"))
	p.tap(`document.querySelector('#card button[type=submit]')`)
	const told = `(async () => { const all = runnelPage.editor.photos; if (all.length !== 1) return all.length + ' photos';
		const q = all[0], sum = [...new Uint8Array(await crypto.subtle.digest('SHA-256', await q.data.arrayBuffer()))].join(' ');
		return [q.taken, q.dated, q.toward, q.note, q.at.map(v => v.toFixed(3)), q.place, q.data.type, sum].join('|'); })()`
	want := eval[string](p, told)
	if !strings.HasPrefix(want, "2025-03-14 09:26|true|NE|Rust; at the bowl|3.048,3.048||image/jpeg|") {
		t.Fatalf("kept %s", want)
	}
	eval[int](p, `runnelPage.editor.kept.with(() => 0)`)
	p.run(chromedp.Reload())
	p.ready()
	p.tap(`document.querySelector('.kept-roof')`)
	p.answered()
	if got := eval[string](p, told); got != want {
		t.Errorf("after a reload: %s, before: %s", got, want)
	}
	p.accessible(t, "a roof with a photo")
	eval[int](p, `(() => { const make = URL.createObjectURL; URL.createObjectURL = (b) => { window.saved = b; return make.call(URL, b); }; return 0; })()`)
	p.tap(`document.getElementById('export-all')`)
	text := eval[string](p, `new Promise(done => { const wait = async () => { if (!window.saved || saved.type !== 'application/zip') return setTimeout(wait, 20); let text = ''; for (const c of new Uint8Array(await saved.arrayBuffer())) text += String.fromCharCode(c); done(btoa(text)); }; wait(); })`)
	if eval[bool](p, `document.getElementById('remind').classList.contains('open')`) {
		t.Error("it still warns of a roof that was saved with its photos")
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	bundle := filepath.Join(dir, "bicycle-shed.zip")
	if err := os.WriteFile(bundle, data, 0o600); err != nil {
		t.Fatal(err)
	}
	eval[int](p, `runnelPage.editor.kept.drop(runnelPage.editor.roof).then(() => 0)`)
	p.run(chromedp.Reload())
	p.ready()
	p.run(chromedp.SetUploadFiles("#files", []string{bundle}))
	if wrong := eval[string](p, `new Promise(done => { const wait = () => document.getElementById('to-survey').offsetParent ? done('') : document.getElementById('trouble').hidden ? setTimeout(wait, 20) : done(document.getElementById('trouble-text').textContent); wait(); })`); wrong != "" {
		t.Fatal(wrong)
	}
	p.tap(button(t, "Go on measuring this roof"))
	p.answered()
	if got := eval[string](p, told); got != want {
		t.Errorf("out of one file: %s, before: %s", got, want)
	}
	p.quiet()
}

// A level that was moved: the drain read 4.30 ft, and reads 3.10 ft as the level stands now, so a rod of 3.35 ft is one of 4.55 ft of the first set-up. The file holds
// that, and the form of the reading still shows what was read.
func TestTheLevelWasMoved(t *testing.T) {
	p := open(t)
	p.rectangle(t)
	p.tap(button(t, "Drain"))
	p.tapRoof(20, 10)
	p.write(t, "The rod reads at its inlet (if read)", "4 . 3")
	p.keep()
	p.tap(`document.getElementById('level-moved')`)
	p.accessible(t, "a level that was moved")
	p.write(t, "The rod reads there now", "3 . 1")
	p.keep()
	p.tap(button(t, "Height"))
	p.tapRoof(10, 10)
	p.write(t, "The rod reads", "3 . 3 5")
	p.keep()
	if text := eval[string](p, `new TextDecoder().decode(runnelPage.editor.file().data)`); !strings.Contains(text, ";4.55ft;") || !strings.Contains(text, ";4.3ft;INLET") {
		t.Errorf("the file holds:\n%s", text)
	}
	p.tapRoof(10, 10)
	if got := eval[string](p, field(t, "The rod reads")+`.value`); got != `3' 4-1/4"` && got != `3.35'` && !strings.HasPrefix(got, "3' 4") {
		t.Errorf("the form shows %q", got)
	}
	p.tap(button(t, "Cancel"))
	p.tap(button(t, "Undo"))
	p.tap(button(t, "Undo"))
	p.answered()
	if eval[bool](p, `Boolean(runnelPage.editor.roof.shift)`) {
		t.Error("undo leaves the level moved")
	}
	p.quiet()
}
