package report_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"runnel/export/record"
	"runnel/export/sample"
)

// The map shows in every moment the levels that the storm has there: over every corner, to the grid.
func TestWaterOfEveryMoment(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	w := open(t, b, "")
	cases, z := b.StormCases(), b.Study.Surface.TIN.Z
	if n := eval[int](w, `document.querySelectorAll("#standing-case option").length`); n != len(cases) || n < 3 {
		t.Fatalf("%d cases to choose from, want %d", n, len(cases))
	}
	type moment struct {
		Level   []float64
		Deepest float64
	}
	all := eval[[][]moment](w, `(() => { const choice = document.getElementById("standing-case"), slider = document.getElementById("standing-time");
		return [...choice.options].map((_, i) => standingWater.moments.map((_, k) => {
			choice.selectedIndex = i;
			slider.value = k;
			slider.dispatchEvent(new Event("input"));
			return {Level: [...standingWater.level()], Deepest: standingWater.deepest()};
		})); })()`)
	wet := 0
	for i, c := range cases {
		for k := range b.Study.Storm.Moments {
			deepest := 0.0
			for v, got := range all[i][k].Level {
				if !(math.Abs(got-c.Levels[k][v]) <= 1.1e-5) {
					t.Fatalf("%s, moment %d: level %v over corner %d, want %v", c.Name, k, got, v, c.Levels[k][v])
				}
				if d := c.Levels[k][v] - z[v]; d > 0 {
					wet++
					deepest = math.Max(deepest, d)
				}
			}
			if len(all[i][k].Level) != len(z) || !(math.Abs(all[i][k].Deepest-deepest) <= 1.1e-5) {
				t.Errorf("%s, moment %d: deepest %v, want %v", c.Name, k, all[i][k].Deepest, deepest)
			}
		}
	}
	if wet < 100 {
		t.Errorf("only %d corners were ever wet", wet)
	}
	w.quiet()
}

// Keys reach the slider and move it; its time is said; the canvas shows more water later in the storm; the address keeps the moment; ponds and
// greatest depths are off meanwhile.
func TestSliderByKeys(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	w := open(t, b, "")
	if !eval[bool](w, `roofMap.map.hasLayer(standingWater.layer) && standingWater.deepest() > 0`) {
		t.Error("the storm's water is not shown at first")
	}
	w.run(chromedp.Focus("#standing-case"), chromedp.KeyEvent(kb.Home), chromedp.Focus("#standing-time"), chromedp.KeyEvent(kb.Home), chromedp.KeyEvent(kb.ArrowRight))
	if got := w.text(".roof figcaption"); got != "Shaded: the greatest water with "+b.DesignWater().Case+"." || !b.DesignWater().Primary {
		t.Errorf("the picture is called %q", got)
	}
	if got := w.text("#standing-said"); !strings.HasPrefix(got, "8 min after the rain begins, rain 75 mm/h: deepest ") { // 2/24 of 90 min is 7.5 min
		t.Errorf("said %q", got)
	}
	if got := eval[string](w, `document.getElementById("standing-time").getAttribute("aria-valuetext")`); got != "8 min after the rain begins" {
		t.Errorf("time %q", got)
	}
	blue := `(() => { const from = standingWater.layer.canvas, c = new OffscreenCanvas(from.width, from.height), x = c.getContext("2d", {willReadFrequently: true});
		x.drawImage(from, 0, 0);
		const d = x.getImageData(0, 0, c.width, c.height).data; let n = 0; for (let i = 3; i < d.length; i += 4) if (d[i]) n++; return n; })()`
	early := eval[int](w, blue)
	for range 13 {
		w.run(chromedp.KeyEvent(kb.ArrowRight))
	}
	if late := eval[int](w, blue); late <= early || early == 0 {
		t.Errorf("%d pixels of water early, %d late", early, late)
	}
	if got := eval[string](w, `location.hash`); !strings.Contains(got, "storm=0,14") {
		t.Errorf("address %q", got)
	}
	if n := eval[int](w, `roofMap.boxes.filter(b => b.checked && (b.value === "pond" || b.value.startsWith("water-"))).length`); n != 0 {
		t.Errorf("%d other layers of water are on", n)
	}
	w.run(chromedp.Click("#standing-on"))
	if eval[bool](w, `roofMap.map.hasLayer(standingWater.layer)`) {
		t.Error("the water stays when it is switched off")
	}
	w.quiet()
}

// Played, the storm's water goes on by itself, and stops when asked.
func TestStormPlays(t *testing.T) {
	w := open(t, record.NewBook(sample.Storm(sample.Local()), "", record.SI), "#storm=0,3")
	w.run(chromedp.Click("#standing-play"))
	later := eval[int](w, `new Promise(done => { const s = document.getElementById("standing-time"), wait = () => Number(s.value) > 5 ? done(Number(s.value)) : setTimeout(wait, 50); wait(); })`, chromedp.EvalAwaitPromise)
	w.run(chromedp.Click("#standing-play"))
	if later < 6 || eval[string](w, `document.getElementById("standing-play").getAttribute("aria-pressed")`) != "false" {
		t.Errorf("moment %d", later)
	}
	w.quiet()
}

// A link opens the moment. What the storm's sections and controls hold is reached by keys and has no serious fault of access.
func TestStormAccessible(t *testing.T) {
	w := open(t, record.NewBook(sample.Storm(sample.Local()), "", record.SI), "#storm=1,10")
	if !eval[bool](w, `roofMap.map.hasLayer(standingWater.layer) && document.getElementById("standing-time").value === "10"`) {
		t.Error("the link does not open the moment")
	}
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

// Names from the input stay text in charts, tables and controls, and do not widen the page of a phone.
func TestStormKeepsNamesText(t *testing.T) {
	w := open(t, record.NewBook(sample.Storm(hostile()), "", record.SI), "#storm=1,10")
	if n := eval[int](w, `document.querySelectorAll("img, iframe, [onerror], [onload]").length`); n != 0 || eval[bool](w, `"pwned" in window`) {
		t.Errorf("%d elements from the input", n)
	}
	for _, width := range []int64{360, 768} {
		w.run(chromedp.EmulateViewport(width, 800))
		if got := eval[int64](w, `document.documentElement.scrollWidth`); got > width {
			t.Errorf("at %d the page is %d wide", width, got)
		}
	}
	w.quiet()
}

// The tables of rain and storm, as the browser shows them, sort by their numbers and hold a row each for what the study has.
func TestTablesOfTheStorm(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	w := open(t, b, "")
	s := b.Study
	for id, want := range map[string]int{
		"demand": len(s.Surface.Outlets), "cases": len(s.Storm.Cases), "flows": len(b.StormCases()) * len(s.Surface.Outlets), "sills": len(s.Sills), "waters": len(s.RainLoad.Waters),
	} {
		if n := eval[int](w, `document.querySelectorAll("#`+id+`-table tbody tr").length`); n != want || n == 0 {
			t.Errorf("%s: %d rows, want %d", id, n, want)
		}
	}
	w.run(chromedp.Focus(`#cases-table th:nth-child(2) button`), chromedp.KeyEvent("\r"), chromedp.KeyEvent("\r"))
	if got := w.text("#cases-table tbody tr td"); got != s.Storm.Cases[s.Storm.Worst].Name {
		t.Errorf("the deepest case is %q in the table, %q in the study", got, s.Storm.Cases[s.Storm.Worst].Name)
	}
	if n := eval[int](w, `document.querySelectorAll("#storm .chart svg title").length`); n == 0 {
		t.Error("no chart says what it shows")
	}
	w.quiet()
}

// Without a storm the page has no slider. A roof with too many corners says why it has none, and its page stays under 15 MB at 100,000
// facets, 3 MB for what every page has counted apart.
func TestNoSlider(t *testing.T) {
	if page := write(t, book(sample.Local(), record.SI)); strings.Contains(page, "standing-tools\"") || strings.Contains(page, `id="standing"`) {
		t.Error("a slider without a storm")
	}
	side := 95 // 9,025 spots
	if os.Getenv("RUNNEL_LONG") == "1" {
		side = 225
	}
	b := record.NewBook(sample.Storm(large(side)), "", record.SI)
	page := write(t, b)
	if strings.Contains(page, `id="standing"`) || !strings.Contains(page, "too many to keep the water of every moment") {
		t.Error("the page of a large roof keeps its water, or does not say that it does not")
	}
	if most := 3e6 + 1.2e7*float64(b.Study.Surface.TIN.Facets())/1e5; float64(len(page)) > most {
		t.Errorf("%d facets make a page of %d bytes, more than %.0f", b.Study.Surface.TIN.Facets(), len(page), most)
	}
}
