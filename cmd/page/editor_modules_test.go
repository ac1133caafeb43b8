package main_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer"
)

// photo returns a picture with a camera's notes: taken 2025-03-14 09:26:53 at 41° 30' 36" N, 72° 15' 0" W (Exif 2.32, little endian).
func photo(t *testing.T) []byte {
	t.Helper()
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	notes := make([]byte, 180)
	order := binary.LittleEndian
	copy(notes, "II*\x00")
	order.PutUint32(notes[4:], 8)
	tag := func(at int, id, kind uint16, count, value uint32) {
		order.PutUint16(notes[at:], id)
		order.PutUint16(notes[at+2:], kind)
		order.PutUint32(notes[at+4:], count)
		order.PutUint32(notes[at+8:], value)
	}
	order.PutUint16(notes[8:], 2)
	tag(10, 0x8769, 4, 1, 38)
	tag(22, 0x8825, 4, 1, 76)
	order.PutUint16(notes[38:], 1)
	tag(40, 0x9003, 2, 20, 56)
	copy(notes[56:], "2025:03:14 09:26:53\x00")
	order.PutUint16(notes[76:], 4)
	tag(78, 1, 2, 2, 'N')
	tag(90, 2, 5, 3, 132)
	tag(102, 3, 2, 2, 'W')
	tag(114, 4, 5, 3, 156)
	for i, v := range []uint32{41, 1, 30, 1, 36, 1, 72, 1, 15, 1, 0, 1} {
		order.PutUint32(notes[132+4*i:], v)
	}
	segment := append([]byte("Exif\x00\x00"), notes...)
	head := []byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(len(segment) + 2)}
	return append(append(head, segment...), picture.Bytes()[2:]...)
}

// What the modules of the editor make of what is written and tapped. Expected values are reckoned by hand.
func TestEditorModules(t *testing.T) {
	p := shared(t)
	for _, c := range []struct{ what, script, want string }{
		{"keys make feet, inches and eighths", `(async () => { const {pressed} = await import('./pad.js');
			return ['5', '\'', '6', '¼'].reduce(pressed, ''); })()`, `5' 6-1/4"`},
		{"an eighth takes the place of another", `(async () => { const {pressed} = await import('./pad.js');
			return [pressed('5\' 6-1/4"', '⅞'), pressed('5\'', '½'), pressed('', '¾'), pressed('3/4"', '⌫'), pressed('12', '⌫'), pressed('6-1/4"', '⌫'), pressed('1.5', 'm'), pressed('1.5 m', 'mm')].join('|'); })()`, `5' 6-7/8"|5' 1/2"|3/4"||1|6|1.5 m|1.5 mm`},
		{"minus turns the sign, and what is read of an elevation below the bench mark is below it", `(async () => { const {pressed} = await import('./pad.js'), {parseLength} = await import('./length.js');
			const text = ['0', '.', '0', '5', '−'].reduce(pressed, '');
			return [text, parseLength(text, 'si'), pressed(text, '−')].join(' '); })()`, "-0.05 -0.05 0.05"},
		{"a tap is put to half a foot, a scupper onto its wall, and nothing beside the roof", `(async () => { const {placedBy} = await import('./tools.js'), {wallsOf} = await import('./walls.js');
			const f = 0.3048, roof = {units: 'us', outline: {kind: 'rect', east: 40 * f, north: 20 * f}}, walls = wallsOf([[0, 0], [40 * f, 0], [40 * f, 20 * f], [0, 20 * f]]);
			const feet = (tool, x, y) => placedBy(tool, roof, walls, [x * f, y * f], 2 * f)?.map(v => (v / f).toFixed(2)).join(' ') ?? 'none';
			return [feet({}, 10.2, 7.8), feet({edge: true}, 38.9, 7.8), feet({edge: true}, 41, 8), feet({}, 60, 8)].join(', '); })()`, "10.00 8.00, 40.00 8.00, 40.00 8.00, none"},
		{"walls are named by where they lie, those of an L by number where two lie alike", `(async () => { const {wallsOf} = await import('./walls.js');
			return wallsOf([[0, 0], [4, 0], [4, 3], [2, 3], [2, 5], [0, 5]]).map(w => w.name).join(','); })()`, "S wall,wall 2,wall 3,wall 4,wall 5,W wall"},
		{"walls taped with the clock face the same ways", `(async () => { const {wallsOf} = await import('./walls.js');
			return wallsOf([[0, 0], [0, 3], [4, 3], [4, 0]]).map(w => w.name).join(','); })()`, "W wall,N wall,E wall,S wall"},
		{"two distances give a place", `(async () => { const {wallsOf, meet} = await import('./walls.js'); const [s, e, n, w] = wallsOf([[0, 0], [40, 0], [40, 20], [0, 20]]);
			return JSON.stringify([meet(w, 12, s, 3), meet(e, 12, n, 3), meet(e, 1, w, 1)]); })()`, "[[12,3],[28,17],null]"},
		{"1 from a slanting wall x + y = 10 and 2 from the south wall lies at x = 8 - sqrt 2", `(async () => { const {wallsOf, meet} = await import('./walls.js'); const [s, slant] = wallsOf([[0, 0], [10, 0], [0, 10]]);
			return [meet(slant, 1, s, 2), meet(s, 2, slant, 1)].flat().map(v => v.toFixed(4)).join(' '); })()`, "6.5858 2.0000 6.5858 2.0000"},
		{"a wall at 45 degrees measures square to itself", `(async () => { const {wallsOf, distanceFrom} = await import('./walls.js'); const slant = wallsOf([[0, 0], [10, 0], [0, 10]])[1];
			return slant.name + ' ' + distanceFrom(slant, [0, 0]).toFixed(6); })()`, "NE wall 7.071068"},
		{
			"no notes, notes of a photo cut short, and no photo at all give no time", `(async () => { const {readExif} = await import('./photos.js');
			return [new Uint8Array([0xff, 0xd8, 0xff, 0xda, 0, 2, 0, 0, 0, 0, 0, 0]), new Uint8Array([0xff, 0xd8, 0xff, 0xe1, 0, 40, 0x45, 0x78, 0x69, 0x66, 0, 0, 0x49, 0x49]), new Uint8Array(3)].map(d => JSON.stringify(readExif(d))).join(' '); })()`,
			`{"taken":"","place":null} {"taken":"","place":null} {"taken":"","place":null}`,
		},
		{
			"a spot that is read is asked for no more", `(async () => { const {unread} = await import('./readings.js'); const roof = {outlets: [{label: 'RD-1', height: 1.2}, {label: 'OS-1', height: null}], spots: [{at: [3, 3], height: 1.3, what: '', of: ''}]};
			const n = (code, at, why) => ({for: code, at, where: 'x', why});
			return unread(roof, [n('INLET RD-1', [0, 0], 'a'), n('INLET OS-1', [1, 1], 'the inlet of OS-1'), n('BEFORE RD-1', [3, 3.1], 'b'), n('LIP 1', [5, 5], 'the lip of P1'), n('P01', [6, 6], 'y')]).map(w => w.name + '/' + w.what + '/' + w.of).join(', '); })()`,
			"The inlet of OS-1//, The lip of P1/lip/1, P01: x//",
		},
		{"what is wrong is said without the place in a file that nobody has seen", `(async () => { const {plainly} = await import('./measure.js');
			return plainly('yard-store.csv line 2 (L2): the walls do not close'); })()`, "The walls do not close"},
	} {
		if got := eval[string](p, c.script); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
	p.quiet()
}

// A roof with everything on it, written as a file, read again and written again is the same text and the same roof; a file of another program is none.
func TestRereadRoof(t *testing.T) {
	p := shared(t)
	for _, units := range []string{"us", "si"} {
		for _, shape := range []string{`{kind: 'rect', east: 20, north: 12.345}`, `{kind: 'walls', walls: [{toward: 'E', length: 20}, {toward: 'N', length: 12}, {toward: 'W', length: 20}, {toward: 'S', length: 12}]}`} {
			got := eval[string](p, `(async () => { const m = await import('./roof.js'), {reread} = await import('./reread.js');
				let r = m.set(m.newRoof('`+units+`', 'Tool shed, north'), {outline: `+shape+`, edge: 'wall', heights: '`+map[string]string{"us": "rod", "si": "elevation"}[units]+`'});
				r = m.set(r, {visit: {surveyed: '2026-03-14', surveyed_by: 'A. Person', weather: 'dry, 7 C', hours_since_rain: '50', coverings: '2', cuts_authorised_by: 'the owner'}});
				r = m.put(r, 'edges', {wall: 2, type: 'gutter'});
				r = m.put(r, 'outlets', {type: 'drain', overflow: false, at: [3, 4], size: 0.1016, height: 1.2954});
				r = m.put(r, 'outlets', {type: 'scupper', overflow: true, at: [20, -0.01], size: 0, height: null, label: 'OS 1'});
				r = m.put(r, 'curbs', {label: '', at: [7, 7], east: 1, north: 2});
				r = m.put(r, 'ponds', {chalk: [[1, 1], [2, 1], [2, 2]], oval: null, soundings: [{at: [1.5, 1.2], depth: 0.0254}], hours: '48', outlets: 'clear', note: 'soft here'});
				r = m.put(r, 'ponds', {chalk: [], oval: {at: [9, 9], east: 3, north: 2}, soundings: [], hours: '', outlets: '', note: ''});
				r = m.put(r, 'spots', {at: [5, 5], height: 1.3081, what: '', of: ''});
				r = m.put(r, 'spots', {at: [5, 6], height: 1.3, what: 'low', of: '1'});
				r = m.put(r, 'spots', {at: [5, 7], height: 1.3, what: 'lip', of: '2'});
				r = m.put(r, 'spots', {at: [5, 8], height: 1.3, what: 'before', of: 'RD-1'});
				r = m.put(r, 'slopes', {at: [6, 6], level: 1.2192, gap: 0.0127, toward: 'NE'});
				const text = m.file(r), again = reread(text);
				if (!again) return 'not read: ' + text;
				const told = (v, at = '') => v !== null && typeof v === 'object' ? Object.keys(v).filter(k => !['id', 'changed', 'exported'].includes(k)).sort().flatMap(k => told(v[k], at + '.' + k)) : [at + '=' + (typeof v === 'number' ? Math.round(v * 1e4) : v)];
				const [a, b] = [told(again), told(r)];
				const differ = [...a.filter(x => !b.includes(x)), '|', ...b.filter(x => !a.includes(x))].join(' ');
				if (differ !== '|') return differ;
				if (reread(text.replace(' of corner 1', ' of  corner 1')) || reread('point;place;depth;rod;code\n;;;;TREE\n') || reread('place;code\n')) return 'another file is taken for ours';
				return ''; })()`)
			if got != "" {
				t.Error(got)
			}
		}
	}
}

// The reference of the page names every button of the editor.
func TestReferenceNamesTheButtons(t *testing.T) {
	text, err := os.ReadFile("../command/reference/page.md")
	if err != nil {
		t.Fatal(err)
	}
	p := shared(t)
	names := eval[[]string](p, `import('./tools.js').then(m => m.tools.map(t => t.text))`)
	names = append(names, eval[[]string](p, `['measure-now', 'papers', 'to-full', 'visit'].map(id => document.getElementById(id).textContent)`)...)
	if len(names) < 12 {
		t.Errorf("there are %d buttons", len(names))
	}
	for _, n := range names {
		if !strings.Contains(string(text), "**"+n+"**") {
			t.Errorf("page.md does not name the button %s", n)
		}
	}
}

// The page notes a visit under the names that the program reads, and the program reads what the page writes of it.
func TestVisitOfThePage(t *testing.T) {
	p := shared(t)
	names := eval[[]string](p, `import('./roof.js').then(m => m.visitNames)`)
	if want := append([]string{"surveyed"}, roof.VisitNames()...); !slices.Equal(names, want) {
		t.Errorf("%v, want %v", names, want)
	}
	text := eval[string](p, `(async () => { const m = await import('./roof.js');
		const r = m.set(m.newRoof('us', 'Shed'), {outline: {kind: 'rect', east: 20, north: 12}, edge: 'wall', visit: {surveyed: '2026-03-14', weather: 'dry; "cold", 7 C', hours_since_rain: '50', age_years: '15.5', coverings: '2', leaks: 'over the store'}});
		return m.file(r); })()`)
	path := filepath.Join(t.TempDir(), "shed.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := r.Visit; r.Surveyed != "2026-03-14" || v.Weather != "dry   cold , 7 C" || v.Hours != 50 || v.Age != 15.5 || v.Coverings != 2 || v.Leaks != "over the store" {
		t.Errorf("%s: %+v", text, v)
	}
	// The form: what is no number is refused with its mend, and what is kept stands in the roof.
	said := eval[string](p, `(async () => { const {visitCard} = await import('./visit.js'), {Pad} = await import('./pad.js'), m = await import('./roof.js');
		const e = {pad: new Pad(), roof: m.newRoof('us', 'Shed'), keep: r => { e.kept = r; }, shut: () => {}};
		const form = visitCard(e), fields = [...form.box.querySelectorAll('input')];
		fields[0].value = '2026-03-14'; fields[3].value = 'soon'; form.done();
		const wrong = form.fault.textContent;
		fields[3].value = '48,5'; form.done();
		return wrong + ' | ' + JSON.stringify(e.kept.visit); })()`)
	if want := `Hours since the rain: a number, such as 48. | {"surveyed":"2026-03-14","hours_since_rain":"48.5"}`; said != want {
		t.Errorf("%s, want %s", said, want)
	}
	p.quiet()
}
