package report_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"runnel/export/record"
	"runnel/export/sample"
)

// inSpace opens a report and its 3-D view, and waits until that is made.
func inSpace(t *testing.T, b *record.Book, flags ...string) *browser {
	t.Helper()
	w := open(t, b, "", flags...)
	w.run(chromedp.Click("#tab-space"))
	eval[bool](w, `space.ready().then(() => true)`, chromedp.EvalAwaitPromise)
	return w
}

// picture is what the canvas holds.
type picture struct {
	Colours, Water, Green int
	Sum                   float64 // of all values, each with a weight of its own
}

// see draws the view and reads its canvas.
func (w *browser) see() picture {
	w.tb.Helper()
	return eval[picture](w, `(() => { const v = space.view(), c = document.createElement("canvas");
		v.draw();
		[c.width, c.height] = [v.canvas.width, v.canvas.height];
		const x = c.getContext("2d");
		x.drawImage(v.canvas, 0, 0);
		const d = x.getImageData(0, 0, c.width, c.height).data, colours = new Set(), out = {Water: 0, Green: 0, Sum: 0};
		for (let i = 0; i < d.length; i += 4) {
			const [r, g, b] = [d[i], d[i + 1], d[i + 2]];
			colours.add(r << 16 | g << 8 | b);
			if (b > r + 30 && b > g + 20) out.Water++;
			if (g > r + 20 && g > b + 10) out.Green++;
			out.Sum += (r + 2 * g + 3 * b) * (1 + i % 9973);
		}
		return {...out, Colours: colours.size}; })()`)
}

func (w *browser) eye() []float64 { return eval[[]float64](w, `space.view().eye()`) }

func (w *browser) text(selector string) string {
	return eval[string](w, `document.querySelector(`+"`"+selector+"`"+`).textContent`)
}

func TestSpaceShowsRoofWaterAndOutlets(t *testing.T) {
	for name, b := range map[string]*record.Book{
		"local": book(sample.Local(), record.SI), "feet": book(sample.Feet(), record.US), "lon/lat": book(sample.Geographic(), record.SI),
	} {
		t.Run(name, func(t *testing.T) {
			w := open(t, b, "")
			if eval[bool](w, `"three" in window || document.querySelector("#space canvas") !== null`) {
				t.Error("the library is there before the view is opened")
			}
			w.run(chromedp.Click("#tab-space"))
			eval[bool](w, `space.ready().then(() => true)`, chromedp.EvalAwaitPromise)
			got := w.see()
			if got.Colours < 10 || got.Water < 100 || got.Green < 20 {
				t.Errorf("%+v: want facets of many shades, water and green outlets", got)
			}
			names := w.text(".space-labels")
			for _, want := range []string{"P01  " + b.SayPondDepth(0), b.Study.Surface.Outlets[0].Label} {
				if !strings.Contains(names, want) {
					t.Errorf("no %q in the labels %q", want, names)
				}
			}
			w.quiet()
		})
	}
}

// The sheets of water are the ponds' outlines at their levels: areas by their triangles.
func TestWaterStandsInThePondsAtTheirLevels(t *testing.T) {
	b := book(sample.Local(), record.SI)
	w := inSpace(t, b)
	type sheet struct{ Area, Low, High float64 }
	sheets := eval[[]sheet](w, `space.view().model.still.children.filter(m => m.material.transparent).map(m => {
		const p = m.geometry.attributes.position, middle = space.view().model.middle, s = {Area: 0, Low: Infinity, High: -Infinity};
		for (let i = 0; i < p.count; i += 3) s.Area += Math.abs((p.getX(i + 1) - p.getX(i)) * (p.getY(i + 2) - p.getY(i)) - (p.getX(i + 2) - p.getX(i)) * (p.getY(i + 1) - p.getY(i))) / 2;
		for (let i = 0; i < p.count; i++) s.Low = Math.min(s.Low, p.getZ(i) + middle), s.High = Math.max(s.High, p.getZ(i) + middle);
		return s; })`)
	if len(sheets) == 0 || len(sheets) != len(b.Study.Listed) {
		t.Fatalf("%d sheets of water, %d ponds", len(sheets), len(b.Study.Listed))
	}
	for i, s := range sheets {
		p := &b.Study.Ponds.Ponds[b.Study.Listed[i].Pond]
		if !(math.Abs(s.Area-p.Area) <= 1e-4*p.Area) || !(math.Abs(s.Low-p.Level) <= 1e-5) || !(math.Abs(s.High-p.Level) <= 1e-5) {
			t.Errorf("water %+v, want %v m2 at %v m", s, p.Area, p.Level)
		}
	}
	w.quiet()
}

// A storm's water stands in 3-D at the moment that the slider shows: a triangle for each facet with a wet corner, level, as high as the water
// over that corner; the deepest place is named, and full ponds are off. Switched off, the ponds are back.
func TestStormStandsInSpace(t *testing.T) {
	w := inSpace(t, record.NewBook(sample.Storm(sample.Local()), "", record.SI))
	bad := eval[[]string](w, `(() => { const bad = [], m = space.view().model, p = m.flooded.geometry.attributes.position, level = standingWater.level(), {V, Z} = surface;
		const wet = [...Array(V.length / 3).keys()].map(f => [V[3 * f], V[3 * f + 1], V[3 * f + 2]].filter(v => level[v] > Z[v])).filter(c => c.length);
		if (!wet.length || p.count !== 3 * wet.length) bad.push(p.count + " corners, want " + 3 * wet.length);
		wet.forEach((c, i) => { for (let k = 0; k < 3; k++) if (!c.some(v => Math.abs(p.getZ(3 * i + k) + m.middle - level[v]) < 1e-5)) bad.push("facet " + i + " at " + p.getZ(3 * i + k)); });
		if (m.still.visible) bad.push("full ponds are on");
		return bad.slice(0, 5); })()`)
	for _, b := range bad {
		t.Error(b)
	}
	want := eval[string](w, `say.depth(standingWater.deepest())`)
	named := `[...document.querySelectorAll(".space-label.pond")].filter(e => e.style.visibility !== "hidden").map(e => e.textContent).join()`
	eval[int](w, `(space.view().draw(), 0)`)
	if got := eval[string](w, named); got != want {
		t.Errorf("named %q, want %q", got, want)
	}
	eval[int](w, `(document.getElementById("standing-on").click(), space.view().draw(), 0)`)
	if !eval[bool](w, `space.view().model.still.visible && space.view().model.flooded.geometry.attributes.position.count === 0`) {
		t.Error("the ponds are not back")
	}
	if got := eval[string](w, named); !strings.Contains(got, "P01") {
		t.Errorf("named %q", got)
	}
	w.quiet()
}

func TestHeightsAreExaggeratedByKeys(t *testing.T) {
	w := inSpace(t, book(sample.Local(), record.SI))
	before, factor := w.see(), eval[int](w, `space.view().factor()`)
	w.run(chromedp.Focus("#heights"), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	if got := eval[int](w, `space.view().factor()`); got != factor+2 {
		t.Errorf("factor %d, want %d", got, factor+2)
	}
	if got, want := w.text("#heights-said"), fmt.Sprintf("%d times", factor+2); got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	if after := w.see(); after.Sum == before.Sum || after.Colours < 10 {
		t.Error("the picture is the same")
	}
	w.quiet()
}

func TestViewTurnsByKeysAndMouse(t *testing.T) {
	w := inSpace(t, book(sample.Local(), record.SI))
	start := w.eye()
	w.run(chromedp.Focus("#space"), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowUp), chromedp.KeyEvent("+"))
	turned := w.eye()
	for i, want := range []float64{5, 5, -0.1 * start[2], 0, 0} { // by hand: one press is 5 degrees, or a tenth nearer
		if d := math.Mod(turned[i]-start[i]+360, 360); !(math.Abs(d-math.Mod(want+360, 360)) <= 1e-6) {
			t.Errorf("value %d of the eye went from %v to %v, want %v more", i, start[i], turned[i], want)
		}
	}
	eval[bool](w, `(() => { const c = space.view().canvas, fire = (type, x) => c.dispatchEvent(new PointerEvent(type, {pointerId: 1, clientX: x, clientY: 300, button: 0, buttons: 1, bubbles: true, pointerType: "mouse"}));
		c.setPointerCapture = c.releasePointerCapture = () => {};
		fire("pointerdown", 300); fire("pointermove", 400); fire("pointerup", 400); return true; })()`)
	dragged := w.eye()
	if math.Abs(dragged[0]-turned[0]) < 1 || !(math.Abs(dragged[2]-turned[2]) <= 1e-6) {
		t.Errorf("a drag took the eye from %v to %v", turned, dragged)
	}
	w.run(chromedp.Click("#space-reset"))
	for i, v := range w.eye() {
		if !(math.Abs(v-start[i]) <= 1e-6) {
			t.Errorf("value %d of the eye is %v after the reset, was %v", i, v, start[i])
		}
	}
	w.quiet()
}

func TestLinksKeepTheSpace(t *testing.T) {
	link := "#tab=space&view=5.00,4.00,6.00&layers=pond&eye=150.00,30.00,25.00,1.00,2.00&heights=7&slopes=1"
	w := open(t, book(sample.Local(), record.SI), link)
	eval[bool](w, `space.ready().then(() => true)`, chromedp.EvalAwaitPromise)
	for i, v := range w.eye() {
		if want := []float64{150, 30, 25, 1, 2}[i]; !(math.Abs(v-want) <= 1e-6) {
			t.Errorf("value %d of the eye is %v, want %v", i, v, want)
		}
	}
	if !eval[bool](w, `space.view().factor() === 7 && document.getElementById("slopes").checked && tabs.current() === "space" && !document.getElementById("panel-space").hidden`) {
		t.Error("the address is not followed")
	}
	w.run(chromedp.Focus("#heights"), chromedp.KeyEvent(kb.ArrowRight))
	got := eval[string](w, `new Promise(done => setTimeout(() => done(location.hash), 500))`, chromedp.EvalAwaitPromise)
	if want := strings.Replace(link, "heights=7", "heights=8", 1); got != want {
		t.Errorf("address %q, want %q", got, want)
	}
	w.run(chromedp.Click("#tab-map"))
	if got := eval[float64](w, `roofMap.map.getZoom() + roofMap.map.getCenter().lng`); !(math.Abs(got-11) <= 0.01) {
		t.Errorf("zoom and centre of the map %v", got)
	}
	w.quiet()
}

func TestWithoutWebGLThePlanIsShown(t *testing.T) {
	w := inSpace(t, book(hostile(), record.SI), "disable-gpu", "disable-3d-apis")
	if got := w.text("#space-without"); !strings.Contains(got, "no 3-D") {
		t.Errorf("says %q", got)
	}
	if !eval[bool](w, `new Promise(done => { const i = document.querySelector("#space-without img"); i.decode().then(() => done(i.naturalWidth > 0 && i.alt !== "" && i.getBoundingClientRect().height > 100), () => done(false)); })`, chromedp.EvalAwaitPromise) {
		t.Error("no plan")
	}
	if eval[bool](w, `document.querySelector("#space canvas") !== null || document.getElementById("space-with").offsetParent !== null || "pwned" in window`) {
		t.Error("the view without its canvas is shown, or a name became a script")
	}
	w.quiet()
}

func TestSpaceKeepsNamesText(t *testing.T) {
	w := inSpace(t, book(hostile(), record.SI))
	w.see()
	if got := w.text(".space-labels"); !strings.Contains(got, attack[:20]) {
		t.Errorf("labels %q", got)
	}
	if eval[bool](w, `"pwned" in window || document.querySelectorAll("img, iframe, [onerror]").length > 0`) {
		t.Error("a name became markup")
	}
	w.quiet()
}

// The tabs are a list of tabs: one is reached by the tab key, arrow keys go to the others, and each shows its panel.
func TestTabsByKeys(t *testing.T) {
	w := open(t, book(sample.Local(), record.SI), "")
	state := `[...document.querySelectorAll("[role=tab]")].map(b => b.getAttribute("aria-selected") + b.tabIndex + document.getElementById(b.getAttribute("aria-controls")).hidden).join()`
	if got := eval[string](w, state); got != "true0false,false-1true" {
		t.Errorf("at first %s", got)
	}
	w.run(chromedp.Focus("#tab-map"), chromedp.KeyEvent(kb.ArrowRight))
	if got := eval[string](w, state+` + document.activeElement.id`); got != "false-1true,true0falsetab-space" {
		t.Errorf("after an arrow %s", got)
	}
	eval[bool](w, `space.ready().then(() => true)`, chromedp.EvalAwaitPromise)
	id := eval[string](w, `roofMap.features.find(f => f.properties.layer === "pond").properties.id`)
	if !eval[bool](w, fmt.Sprintf(`roofMap.show(%q) && tabs.current() === "map" && document.querySelector(".leaflet-popup") !== null`, id)) {
		t.Error("a feature is not shown on the map from the 3-D view")
	}
	w.quiet()
}

func TestSpaceOnAPhone(t *testing.T) {
	w := open(t, book(hostile(), record.SI), "")
	w.run(chromedp.EmulateViewport(360, 740), chromedp.Click("#tab-space"))
	eval[bool](w, `space.ready().then(() => true)`, chromedp.EvalAwaitPromise)
	if got := eval[int](w, `document.documentElement.scrollWidth`); got > 360 {
		t.Errorf("the page is %d wide", got)
	}
	if got := w.see(); got.Colours < 10 || got.Water < 50 {
		t.Errorf("%+v", got)
	}
	w.quiet()
}

func TestSpaceAccessible(t *testing.T) {
	w := inSpace(t, book(sample.Local(), record.SI))
	w.see()
	axe, err := os.ReadFile("testdata/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	eval[int](w, string(axe)+";0")
	for _, s := range eval[[]string](w, `axe.run({resultTypes: ["violations"]}).then(r => r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => v.id + ": " + v.nodes.map(n => n.html.slice(0, 150)).join(" | ")))`, chromedp.EvalAwaitPromise) {
		t.Error(s)
	}
	w.quiet()
}
