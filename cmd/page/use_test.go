package main_test

import (
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"runnel/cmd/call"
	"runnel/cmd/command"
	"runnel/cmd/demo"
)

// tryExample opens the invented roof as somebody does who taps the button.
func (p *page) tryExample() {
	p.tb.Helper()
	p.tap(`document.getElementById('try')`)
	p.seen("#answer")
	p.seen("#file-buttons button:enabled") // all is shown
}

// Once it was open, the page works without a network: the server is gone, the page is loaded twice more, and answers.
func TestFlightMode(t *testing.T) {
	p := open(t)
	eval[bool](p, `navigator.serviceWorker.ready.then(r => new Promise(done => { const wait = () => navigator.serviceWorker.controller ? done(true) : setTimeout(wait, 50); wait(); }))`)
	p.server.CloseClientConnections()
	p.server.Close()
	for range 2 {
		p.run(chromedp.Reload())
		p.ready()
		p.tryExample()
		if text := eval[string](p, `document.getElementById('first').textContent`); !strings.Contains(text, "3 ponds.") {
			t.Errorf("the answer without a server: %.200s", text)
		}
	}
	p.quiet()
}

// The single file answers from the disk, and says what it cannot do.
func TestSingleFile(t *testing.T) {
	address := fileURL(filepath.Join(build(t), "runnel.html"))
	p := openAt(t, address, address)
	if !eval[bool](p, `document.getElementById('file-limits').offsetHeight > 0`) {
		t.Error("the file does not say what it cannot do")
	}
	p.tryExample()
	if text := eval[string](p, `document.getElementById('first').textContent`); !strings.Contains(text, "3 ponds.") {
		t.Errorf("the answer: %.200s", text)
	}
	p.quiet()
}

// No serious fault of accessibility on any screen, by axe-core.
func TestAccessible(t *testing.T) {
	p := shared(t)
	p.accessible(t, "start")
	p.tryExample()
	p.accessible(t, "answer")
	p.tap(`document.getElementById('what-if-on')`)
	p.run(chromedp.SetValue("#what-if-thing", "o0"))
	eval[int](p, `(document.getElementById('what-if-thing').onchange({target: {value: 'o0'}}), 0)`)
	p.accessible(t, "what if")
	eval[string](p, `runnelPage.check([{name: 'a.csv', data: new TextEncoder().encode('x,y,z\n1,2,3\n')}], []).then(() => '')`)
	p.accessible(t, "trouble")
	p.quiet()
}

// An outlet that is lowered takes its pond away at once, undo brings it back, and the roof as found can be seen meanwhile.
func TestWhatIf(t *testing.T) {
	p := shared(t)
	p.tryExample()
	said := func() string {
		return eval[string](p, `new Promise(done => { const t = runnelPage.trial; const wait = () => !t.busy && !t.untold && t.asked === t.changes ? done(document.getElementById('what-if-said').textContent) : setTimeout(wait, 20); wait(); })`)
	}
	p.tap(`document.getElementById('what-if-on')`)
	if got := said(); !strings.HasPrefix(got, "As found: 3 ponds") {
		t.Errorf("as found: %s", got)
	}
	outlet := eval[string](p, `'o' + runnelPage.trial.picture.outlets.findIndex(o => o.label === 'RD-1')`)
	eval[int](p, `(runnelPage.trial.choose(`+quoted(t, outlet)+`), 0)`)
	for range 8 { // 5 mm each
		p.tap(`document.getElementById('what-if-down')`)
	}
	if got := said(); !strings.Contains(got, "Now: 2 ponds") || !strings.Contains(got, "Cut up to") {
		t.Errorf("with RD-1 lowered by 40 mm: %s", got)
	}
	if got := eval[string](p, `document.getElementById('what-if-level').textContent`); got != "40 mm lower" {
		t.Errorf("the level reads %q", got)
	}
	p.tap(`document.getElementById('what-if-found')`)
	if n := eval[int](p, `runnelPage.plan.picture.ponds.length`); n != 3 {
		t.Errorf("%d ponds as found", n)
	}
	p.tap(`document.getElementById('what-if-undo')`)
	if got := said(); !strings.HasPrefix(got, "As found: 3 ponds") || strings.Contains(got, "Now") {
		t.Errorf("after undo: %s", got)
	}
	p.quiet()
}

// A report that was made is read beside the page, with its own scripts, and nothing is asked of the server for it.
func TestReportIsReadHere(t *testing.T) {
	p := open(t)
	eval[bool](p, `navigator.serviceWorker.ready.then(r => new Promise(done => { const wait = () => navigator.serviceWorker.controller ? done(true) : setTimeout(wait, 50); wait(); }))`)
	p.tryExample()
	p.tap(`document.querySelector('#file-buttons button')`)
	p.seen("#made a")
	p.server.CloseClientConnections()
	p.server.Close()
	p.run(chromedp.Navigate(eval[string](p, `document.querySelector('#made a').href`)), chromedp.WaitReady("#cautions"))
	if n := eval[int](p, `roofMap.boxes.length`); n < 10 {
		t.Errorf("the report's map has %d layers", n)
	}
	p.quiet()
}

// The second program is the whole command line: its papers and workbook have the bytes that the command line writes.
func TestWholeProgram(t *testing.T) {
	p := open(t)
	t.Chdir(t.TempDir())
	for _, r := range demo.Roofs() {
		if r.Stem() != "library" {
			continue
		}
		var names []string
		for _, f := range r.Inputs() {
			if err := os.WriteFile(f.Name, f.Bytes, 0o600); err != nil {
				t.Fatal(err)
			}
			names = append(names, f.Name)
		}
		p.give(t, r.Inputs())
		for _, args := range [][]string{append([]string{"papers", "-o", "out"}, names...), append([]string{"check", "-o", "out", "--write", "report,schedule,setout"}, names...)} {
			if err := os.RemoveAll("out"); err != nil {
				t.Fatal(err)
			}
			var said strings.Builder
			if code := command.Main(args, call.Streams{Out: &strings.Builder{}, Err: &said}); code != 0 {
				t.Fatal(said.String())
			}
			want, err := os.ReadDir("out")
			if err != nil || len(want) < 4 {
				t.Fatalf("%d files, %v", len(want), err)
			}
			got := eval[map[string]string](p, `(async () => { `+hashes+`
				const {Program} = await import('./program.js');
				const {whole, newWholeWorker} = await import('./place.js');
				window.wholeProgram ??= new Program(newWholeWorker, whole);
				const a = await wholeProgram.call('run', `+quoted(t, args)+`, given);
				return a.error ? {error: a.error} : hashes(a.files);
			})()`)
			if len(got) != len(want) {
				t.Errorf("%v: %d files, want %d: %v", args, len(got), len(want), got["error"])
			}
			for _, f := range want {
				data, err := os.ReadFile(filepath.Join("out", f.Name()))
				if err != nil {
					t.Fatal(err)
				}
				if got[f.Name()] != hash(data) {
					t.Errorf("%s differs", f.Name())
				}
			}
		}
	}
	p.quiet()
}

// A thousand hostile inputs: cuts, splices and noise of good and refused files. The page answers each with a roof or a refusal, without a fault of
// the program, and still works at the end.
func TestHostileInputs(t *testing.T) {
	p := shared(t)
	random := rand.New(rand.NewPCG(13, 2)) //nolint:gosec // inputs that repeat
	var seeds [][]byte
	broken, err := filepath.Glob("../../testdata/broken/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range broken {
		if data, err := os.ReadFile(path); err == nil && len(data) > 0 && len(data) < 20_000 {
			seeds = append(seeds, data)
		}
	}
	tape := []byte("place;depth;rod;code\n;;;OUTLINE rect=12x6m edge=wall\n1 m from W wall, 2 m from S wall;;;DRAIN D-1\n2 m from W wall, 2 m from S wall;20mm;;POND 1 size=2x1m\nD-1;;1.5;INLET D-1\n")
	good := [][]byte{tape, []byte("point,x,y,z,code\n1,0,0,1,OUTLINE\n2,9,0,1,OUTLINE\n3,9,9,1,OUTLINE\n4,0,9,1,OUTLINE\n5,4,4,0.9,DRAIN\n6,5,5,0.95,\n")}
	var files []demo.File
	for range 1000 {
		from, name := seeds, []string{"a.csv", "a.geojson", "a.json", "a.txt"}[random.IntN(4)]
		if random.IntN(2) == 0 {
			from, name = good, "a.csv"
		}
		data := append([]byte{}, from[random.IntN(len(from))]...)
		for range random.IntN(3) {
			i := random.IntN(len(data) + 1)
			switch random.IntN(5) {
			case 0:
				data = data[:i]
			case 1:
				other := seeds[random.IntN(len(seeds))]
				data = append(data[:i:i], other[random.IntN(len(other)):]...)
			case 2:
				data = append(data[:i:i], append([]byte([]string{"1e308", "NaN", "-", "\x00", "\xff\xfe", "{", "]]", "9999999999", `"`, "'"}[random.IntN(10)]), data[i:]...)...)
			case 3:
				if len(data) > 0 {
					data[random.IntN(len(data))] = byte(random.IntN(256))
				}
			default:
				data = append(data, data[i:]...)
			}
		}
		files = append(files, demo.File{Name: name, Bytes: data})
	}
	roofs, refused := 0, 0
	for i := 0; i < len(files); i += 100 {
		p.give(t, files[i:min(i+100, len(files))])
		for k, text := range eval[[]string](p, `(async () => { const out = []; for (const f of given) { const a = await runnelPage.runnel.call('check', [f], ['--units=m']); out.push(a.fault ? 'FAULT ' + a.error : a.error); } return out; })()`) {
			switch {
			case strings.HasPrefix(text, "FAULT"):
				t.Errorf("%s %.300q: %s", files[i+k].Name, files[i+k].Bytes, text)
			case text == "":
				roofs++
			default:
				refused++
			}
		}
	}
	if roofs < 20 || refused < 200 {
		t.Errorf("%d roofs and %d refusals: the inputs are not mixed", roofs, refused)
	}
	if n := eval[int](p, `runnelPage.runnel.deaths`); n != 0 {
		t.Errorf("the program died %d times", n)
	}
	p.tryExample()
	p.quiet()
}

// A program that dies is started again, and the page says so.
func TestProgramDies(t *testing.T) {
	p := open(t)
	p.tb = t
	got := eval[[]string](p, `(async () => {
		const states = [], old = runnelPage.runnel.onstate;
		runnelPage.runnel.onstate = s => { states.push(s); old(s); };
		const a = await runnelPage.runnel.call('nothing of this name');
		const r = await runnelPage.check(`+`[{name: 'a.csv', data: new TextEncoder().encode('place;code\n;OUTLINE rect=12x6m\n1 m from W wall, 2 m from S wall;DRAIN D-1\n')}], []);
		return [String(a.died), a.error, r.error, ...states];
	})()`)
	if len(got) < 6 || got[0] != "true" || !strings.Contains(got[1], "The program stopped") || got[2] != "" || got[3] != "died" {
		t.Errorf("%q", got)
	}
}

// Nothing but the page's own server is asked, whatever is done, and nothing is sent: requests only fetch.
func TestNothingLeaves(t *testing.T) {
	var sent []string
	files := http.FileServer(http.Dir(filepath.Join(build(t), "page")))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet || r.ContentLength > 0 || r.URL.RawQuery != "" {
			sent = append(sent, r.Method+" "+r.URL.String())
		}
		files.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	p := openAt(t, server.URL+"/", server.URL)
	p.tryExample()
	p.tap(`document.querySelector('#file-buttons button')`)
	p.seen("#made button")
	if refused := eval[bool](p, `fetch('https://example.invalid/').then(() => false, () => true)`); !refused {
		t.Error("the page's policy lets requests out")
	}
	for _, s := range sent {
		t.Errorf("sent: %s", s)
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	for _, f := range p.faults {
		if !strings.Contains(f, "example.invalid") && !strings.Contains(f, "Content Security Policy") {
			t.Error(f)
		}
	}
}
