package report_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"runnel/analysis/geometry/reference/chromium"
	"runnel/analysis/roof"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/report"
	"runnel/export/sample"
	"runnel/export/summary"
)

// browser is one tab of Debian's Chromium.
type browser struct {
	tb     testing.TB
	ctx    context.Context
	mutex  sync.Mutex
	faults []string // console errors, exceptions, and requests for anything but the page
}

// TestMain ends the browsers.
func TestMain(m *testing.M) {
	code := m.Run()
	chromium.End()
	os.Exit(code)
}

// open opens the report of a roof. Flags are switches of Chromium, by name.
func open(tb testing.TB, b *record.Book, hash string, flags ...string) *browser {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "roof.report.html")
	var page bytes.Buffer
	if err := report.Write(&page, model.Of(b)); err != nil {
		tb.Fatal(err)
	}
	if err := os.WriteFile(path, page.Bytes(), 0o600); err != nil {
		tb.Fatal(err)
	}
	ctx := chromium.Tab(tb, slices.Concat(chromium.Software, flags)...)
	w := &browser{tb: tb, ctx: ctx}
	address := (&url.URL{Scheme: "file", Path: path}).String()
	if err := chromedp.Listen(ctx, func(event any) { w.listen(event, address) }); err != nil {
		tb.Fatal(err)
	}
	w.run(chromedp.EmulateViewport(1200, 900), chromedp.Navigate(address+hash), chromedp.WaitReady("#cautions"))
	return w
}

func (w *browser) listen(event any, address string) {
	fault := ""
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		fault = fmt.Sprintf("console %s: %v", e.Type, e.Args)
	case *runtime.EventExceptionThrown:
		fault = "exception: " + e.ExceptionDetails.Text
	case *log.EventEntryAdded:
		fault = "log: " + e.Entry.Text
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, address) && !strings.HasPrefix(e.Request.URL, "data:") {
			fault = "request of " + e.Request.URL
		}
	}
	if fault != "" {
		w.mutex.Lock()
		w.faults = append(w.faults, fault)
		w.mutex.Unlock()
	}
}

func (w *browser) run(actions ...chromedp.Action[chromedp.Void]) {
	w.tb.Helper()
	if err := chromedp.Do(w.ctx, actions...); err != nil {
		w.tb.Fatal(err)
	}
}

// eval runs a script and returns what it gives.
func eval[T any](w *browser, script string, options ...chromedp.EvaluateOption) T {
	w.tb.Helper()
	out, err := chromedp.Run(w.ctx, chromedp.Evaluate[T](script, options...))
	if err != nil {
		w.tb.Fatal(err)
	}
	return out
}

// quiet fails the test where the console said anything or a request left the page.
func (w *browser) quiet() {
	w.tb.Helper()
	w.mutex.Lock()
	defer w.mutex.Unlock()
	for _, f := range w.faults {
		w.tb.Error(f)
	}
}

func book(r *roof.Roof, u record.Units) *record.Book { return record.NewBook(sample.Study(r), "", u) }

func TestLayersToggle(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	w.run(chromedp.Click("#layers summary"))
	for _, name := range eval[[]string](w, `roofMap.boxes.map(b => b.value)`) {
		on := fmt.Sprintf(`roofMap.map.hasLayer(roofMap.groups[%q])`, name)
		before := eval[bool](w, on)
		w.run(chromedp.Click(`#layers input[value="` + name + `"]`))
		if eval[bool](w, on) == before {
			t.Errorf("layer %s does not toggle", name)
		}
	}
	if n := eval[int](w, `roofMap.boxes.length`); n < 10 {
		t.Errorf("%d layers", n)
	}
	w.quiet()
}

// The pop-ups must show the numbers of the summary, to what they are good to: whole millimetres and kilograms, eighths of an inch, levels to the
// millimetre or the hundredth of a foot; and the texts of the findings, with who decides.
func TestPopUpsShowTheSummary(t *testing.T) {
	for name, b := range map[string]*record.Book{
		"local": book(sample.Local(), record.SI), "feet": book(sample.Feet(), record.US), "lon/lat": book(sample.Geographic(), record.SI),
	} {
		w := open(t, b, "")
		var text bytes.Buffer
		if err := summary.Write(&text, model.Of(b)); err != nil {
			t.Fatal(err)
		}
		script := `(() => { const s = ` + text.String() + `, bad = [];
			const number = t => { const m = t.match(/^(?:(\d+)-)?(\d+)\/(\d+)"/); return m ? Number(m[1] || 0) + m[2] / m[3] : parseFloat(t); };
			const seen = id => {
				const out = {};
				if (!roofMap.show(id)) { bad.push(id + " is not on the map"); return out; }
				document.querySelectorAll(".leaflet-popup-content dt").forEach(d => { out[d.textContent] = d.nextSibling.textContent; });
				return out;
			};
			const check = (o, got, word, si, us, si_step, us_step) => {
				const [key, step] = si in o ? [si, si_step] : [us, us_step];
				if (!(Math.abs(number(got[word] || "") - o[key]) <= step / 2 + 1e-9)) bad.push(o.id + " " + word + ": " + got[word] + ", want " + o[key]);
			};
			for (const o of s.ponds) {
				const got = seen(o.id);
				check(o, got, "Deep", "depth_mm", "depth_in", 1, .125);
				check(o, got, "Area", "area_m2", "area_ft2", o.area_m2 < 100 ? .1 : 1, 1);
				check(o, got, "Weighs", "weight_kg", "weight_lb", 1, 1);
			}
			for (const o of s.outlets) {
				const got = seen(o.id);
				check(o, got, "Runs to it", "catchment_m2", "catchment_ft2", o.catchment_m2 < 100 ? .1 : 1, 1);
				check(o, got, "Takes water from", "invert_m", "invert_ft", .001, .01);
			}
			for (const o of s.findings) {
				const got = seen(o.id);
				for (const [word, want] of [["Where", o.where], ["Why", o.why], ["Do", o.do], ["Decides", o.decides && "the " + o.decides.replaceAll(", ", ", the ")]])
					if (want && (got[word] || "").toLowerCase() !== want.toLowerCase()) bad.push(o.id + " " + word + ": " + got[word] + ", want " + want);
			}
			if (s.ponds.length + s.outlets.length < 3) bad.push("too few");
			return bad; })()`
		for _, bad := range eval[[]string](w, script) {
			t.Errorf("%s: %s", name, bad)
		}
		w.quiet()
	}
}

// On a phone the worst thing known, the roof with its ponds named by depth, and the first step with who decides stand on the first screen.
func TestFirstScreenOfAPhone(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	w.run(chromedp.EmulateViewport(390, 844))
	for _, part := range []string{".lead", ".roof", ".step, .keep-off"} {
		if bottom := eval[float64](w, `document.querySelector(".front").querySelector("`+part+`").getBoundingClientRect().bottom`); bottom > 844 || bottom < 100 {
			t.Errorf("%s ends %v down the page", part, bottom)
		}
	}
	if h := eval[float64](w, `document.querySelector(".front .roof svg").getBoundingClientRect().height`); h < 170 {
		t.Errorf("the picture is %v high", h)
	}
	if got := eval[string](w, `document.querySelector(".front .roof svg").textContent`); !strings.Contains(got, "P01") || !strings.Contains(got, " mm") {
		t.Errorf("the picture says %q", got)
	}
	if got := w.text(".front .step, .front .keep-off"); !strings.Contains(got, "Decides: the ") {
		t.Errorf("the first step is %q", got)
	}
	w.quiet()
}

// One finger scrolls the page over map and 3-D; names on the map never lie over each other.
func TestMapOnAPhone(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	w.run(chromedp.EmulateViewport(390, 844))
	if eval[bool](w, `(roofMap.map.getContainer().dispatchEvent(new PointerEvent("pointerdown", {pointerType: "touch"})), roofMap.map.dragging.enabled())`) {
		t.Error("one finger moves the map")
	}
	if !eval[bool](w, `(roofMap.map.getContainer().dispatchEvent(new PointerEvent("pointerdown", {pointerType: "mouse"})), roofMap.map.dragging.enabled())`) {
		t.Error("a mouse does not move the map")
	}
	if eval[bool](w, `[...document.querySelectorAll(".map-name")].some(e => parseFloat(getComputedStyle(e).borderLeftWidth) > 0)`) {
		t.Error("a name on the map has the bar of a finding in the list")
	}
	names := `[...document.querySelectorAll(".map-name")].map(e => e.getBoundingClientRect())`
	if n := eval[int](w, names+`.length`); n < 3 {
		t.Errorf("%d names", n)
	}
	if eval[bool](w, names+`.some((a, i, all) => all.slice(i + 1).some(b => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom))`) {
		t.Error("names lie over each other")
	}
	w.quiet()
}

// The water painted over a pond is deepest where the surface is lowest under its level: by the elevations of the surface, at places in turn.
func TestPondsArePaintedByDepth(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "#layers=pond")
	bad := eval[[]string](w, `(() => { const bad = []; let layer; roofMap.groups.pond.eachLayer(l => { if (l.canvas) layer = l; });
		const from = layer.canvas, c = new OffscreenCanvas(from.width, from.height), x = c.getContext("2d", {willReadFrequently: true});
		x.drawImage(from, 0, 0);
		const image = x.getImageData(0, 0, c.width, c.height), scale = roofMap.map.options.crs.scale(layer.drawn.zoom), ratio = c.width / layer.drawn.bounds.getSize().x;
		const strength = (px, py) => image.data[4 * (Math.floor((-py * scale - layer.drawn.bounds.min.y) * ratio) * c.width + Math.floor((px * scale - layer.drawn.bounds.min.x) * ratio)) + 3] / 255;
		let wet = 0;
		for (const f of roofMap.features.filter(f => f.properties.layer === "pond")) {
			const p = f.properties, ring = f.geometry.type === "Polygon" ? f.geometry.coordinates[0] : f.geometry.coordinates[0][0];
			const [w, e] = [Math.min, Math.max].map(m => m(...ring.map(q => q[0]))), [s, n] = [Math.min, Math.max].map(m => m(...ring.map(q => q[1])));
			for (let i = 1; i < 20; i++) for (let k = 1; k < 20; k++) {
				const px = w + (e - w) * i / 20, py = s + (n - s) * k / 20, z = surface.elevation(px, py);
				if (z === null || along([px, -1e3], [px, py], [[ring]]).length % 2 === 0 && !along([px, py - 1e-6], [px, py + 1e-6], [[ring]]).length) continue;
				const depth = p.level_m - z, near = surface.depths.some(d => Math.abs(depth - d[0]) < 2e-3);
				if (near || depth < 0) continue;
				const want = surface.depths.filter(d => d[0] < depth).pop()[1];
				wet++;
				if (Math.abs(strength(px, py) - want) > .01) bad.push(p.id + " at " + px + ", " + py + ": " + strength(px, py) + ", want " + want + " for " + depth);
			}
		}
		if (wet < 20) bad.push("only " + wet + " places");
		return bad.slice(0, 5); })()`)
	for _, b := range bad {
		t.Error(b)
	}
	w.quiet()
}

// Sections and elevations against the facets, interpolated here from the corners: 50 random lines, an inner
// place of each; on a site grid and in longitude and latitude.
func TestSectionsAreTheSurface(t *testing.T) {
	for name, r := range map[string]*roof.Roof{"site grid": sample.Local(), "lon/lat": sample.Geographic()} {
		t.Run(name, func(t *testing.T) { sectionsAreTheSurface(t, book(r, record.SI)) })
	}
}

func sectionsAreTheSurface(t *testing.T, b *record.Book) {
	t.Helper()
	w := open(t, b, "")
	random := rand.New(rand.NewPCG(5, 6))
	checked := 0
	for checked < 50 {
		x0, y0, x1, y1, k := random.Float64()*20, random.Float64()*12, random.Float64()*20, random.Float64()*12, random.Float64()
		x, y := x0+k*(x1-x0), y0+k*(y1-y0)
		want, ok := elevation(b, x, y)
		if !ok {
			continue // in the curb
		}
		checked++
		got := eval[[]float64](w, fmt.Sprintf(`(() => { const c = roofMap.showSection([%v,%v],[%v,%v]), s = %v * c.length;
			const p = c.pieces.find(p => p.s0 <= s && s <= p.s1);
			return [p.z0 + (p.z1 - p.z0) * (s - p.s0) / (p.s1 - p.s0), surface.elevation(%v,%v)]; })()`, x0, y0, x1, y1, k, x, y))
		for _, z := range got {
			if !(math.Abs(z-want) <= 1e-4) {
				t.Errorf("elevation at (%v, %v) is %v, want %v", x, y, z, want)
			}
		}
	}
	w.quiet()
}

// elevation interpolates the finished facets at a place.
func elevation(b *record.Book, x, y float64) (float64, bool) {
	s := b.Study.Surface.TIN
	for f := range s.Facets() {
		var w [3]float64
		sum, z := 0.0, 0.0
		for c := range 3 {
			p, q := s.V[3*f+(c+1)%3], s.V[3*f+(c+2)%3]
			w[c] = (s.X[q]-s.X[p])*(y-s.Y[p]) - (s.Y[q]-s.Y[p])*(x-s.X[p])
			sum += w[c]
			z += w[c] * s.Z[s.V[3*f+c]]
		}
		if w[0] >= 0 && w[1] >= 0 && w[2] >= 0 {
			return z / sum, true
		}
	}
	return 0, false
}

func TestPhoneWidthWithoutSidewaysScroll(t *testing.T) {
	b := book(hostile(), record.SI)
	w := open(t, b, "")
	for _, width := range []int64{320, 360, 390, 768} {
		w.run(chromedp.EmulateViewport(width, 800))
		if got := eval[int64](w, `document.documentElement.scrollWidth`); got > width {
			t.Errorf("at %d the page is %d wide: %s", width, got, eval[string](w, `[...document.querySelectorAll("body *")].filter(e => !e.closest(".wide, #map, .skip, svg") && e.getBoundingClientRect().right > innerWidth).map(e => e.outerHTML.slice(0, 60)).join(" | ")`))
		}
	}
	if _, err := chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	if eval[bool](w, `document.getElementById("map-section").getBoundingClientRect().height > 0`) {
		t.Error("the map is printed")
	}
	if !eval[bool](w, `document.getElementById("findings").getBoundingClientRect().height > 0`) {
		t.Error("the findings are not printed")
	}
	w.quiet()
}

func TestLinksKeepTheView(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "#view=5.00,4.00,6.00&layers=pond.plane&section=1,1,19,11")
	if got := eval[string](w, `roofMap.boxes.filter(b => b.checked).map(b => b.value).join()`); got != "plane,pond" {
		t.Errorf("layers %q", got)
	}
	if got := eval[float64](w, `roofMap.map.getZoom() + roofMap.map.getCenter().lng`); !(math.Abs(got-11) <= 0.01) {
		t.Errorf("zoom and centre %v", got)
	}
	if !eval[bool](w, `!document.getElementById("profile").hidden`) {
		t.Error("no section")
	}
	w.run(chromedp.Click(`#layers input[value="outlet"]`))
	if got := eval[string](w, `location.hash`); !strings.Contains(got, "outlet") || !strings.Contains(got, "section=1.000,1.000,19.000,11.000") {
		t.Errorf("address %q", got)
	}
	w.quiet()
}

// Every control is reached and works by keys alone; of the tabs one is reached, and arrow keys reach the others.
func TestKeyboardReach(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	left := eval[[]string](w, `[...document.querySelectorAll("button, input, a[href], #map, .wide")].filter(e => e.offsetParent && e.tabIndex < 0 && !e.matches("[role=tab]")).map(e => e.outerHTML.slice(0, 80))`)
	for _, l := range left {
		t.Errorf("no key reaches %s", l)
	}
	w.run(chromedp.Focus(`#outlets-table th:nth-child(7) button`), chromedp.KeyEvent("\r"))
	first := eval[string](w, `document.querySelector("#outlets-table tbody tr").textContent`)
	w.run(chromedp.KeyEvent("\r"))
	if first == eval[string](w, `document.querySelector("#outlets-table tbody tr").textContent`) {
		t.Error("the second sort is not the reverse of the first")
	}
	w.run(chromedp.SendKeys(`[name=x0]`, "1"), chromedp.SendKeys(`[name=y0]`, "1"), chromedp.SendKeys(`[name=x1]`, "19"), chromedp.SendKeys(`[name=y1]`, "6\r"))
	if !eval[bool](w, `!document.getElementById("profile").hidden`) {
		t.Error("no section by numbers")
	}
	w.quiet()
}

// Measured in the map by two clicks: 4 m east and 3 m north are 5 m.
func TestMeasure(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	w.run(chromedp.Click("#tool-measure"))
	eval[bool](w, `roofMap.map.fire("click", {latlng: L.latLng(2, 1)}) && roofMap.map.fire("click", {latlng: L.latLng(5, 5)}) && true`)
	if got := eval[string](w, `document.getElementById("readout").textContent`); !strings.HasPrefix(got, "Distance 5.00 m") {
		t.Errorf("readout %q", got)
	}
	w.quiet()
}

// In light and in dark; drawings keep their white paper.
func TestAccessible(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "#section=1,1,19,11")
	axe, err := os.ReadFile("testdata/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	eval[int](w, string(axe)+";0")
	for _, scheme := range []string{"light", "dark"} {
		media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}
		if _, err := chromedp.Call(w.ctx, emulation.SetEmulatedMedia, media); err != nil {
			t.Fatal(err)
		}
		serious := eval[[]string](w, `axe.run({resultTypes: ["violations"]}).then(r => r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => v.id + ": " + v.nodes.map(n => n.html.slice(0, 150)).join(" | ")))`, chromedp.EvalAwaitPromise)
		for _, s := range serious {
			t.Errorf("%s: %s", scheme, s)
		}
		dark := eval[bool](w, `getComputedStyle(document.documentElement).backgroundColor !== "rgb(255, 255, 255)"`)
		if paper := eval[string](w, `getComputedStyle(document.querySelector(".front .roof svg")).backgroundColor`); dark != (scheme == "dark") || paper != "rgb(255, 255, 255)" {
			t.Errorf("%s: the page is dark: %v, the picture stands on %s", scheme, dark, paper)
		}
	}
	w.quiet()
}

func TestInputStaysText(t *testing.T) {
	w := open(t, book(hostile(), record.SI), "")
	if eval[bool](w, `"pwned" in window`) {
		t.Error("a script of the input ran")
	}
	if n := eval[int](w, `document.querySelectorAll("img, iframe, [onerror], [onload]").length`); n != 0 {
		t.Errorf("%d elements from the input", n)
	}
	if got := eval[string](w, `document.querySelector("h1").textContent`); !strings.Contains(got, attack) {
		t.Error("the heading lost the name")
	}
	eval[[]bool](w, `Object.keys(roofMap.groups).map(n => { roofMap.set(n, true); let ok = true; roofMap.groups[n].eachLayer(g => { try { g.openPopup(); } catch (e) { ok = false; } }); return ok; })`)
	if n := eval[int](w, `document.querySelectorAll("img, iframe, [onerror]").length`); n != 0 || eval[bool](w, `"pwned" in window`) {
		t.Error("markup of the input in a pop-up")
	}
	if n := eval[int](w, `[...document.querySelectorAll("body *")].filter(e => !e.closest("bdi") && !e.matches("script") && [...e.childNodes].some(c => c.nodeType === 3 && c.data.includes("\u202e"))).length`); n != 0 {
		t.Errorf("%d texts with direction marks are not isolated", n)
	}
	w.quiet()
}
