package report_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// large is a roof of side x side spots, 1 m apart, that falls at 2 % to drains every 25 m, has a dish 6 m wide in each such square and
// is uneven by 2 mm (one standard deviation): about 2 x side x side facets.
func large(side int) *roof.Roof {
	random := rand.New(rand.NewPCG(7, uint64(side)))
	r := &roof.Roof{Name: "large", Frame: roof.NewLocal(orb.Point{}, quantity.Metres), Units: quantity.Metres}
	corner := func(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }
	w := float64(side)
	r.Outline.Rings = [][]roof.Position{{corner(0, 0), corner(w, 0), corner(w, w), corner(0, w), corner(0, 0)}}
	fall := func(x, y float64) float64 {
		dx, dy := math.Mod(x, 25)-12.5, math.Mod(y, 25)-12.5
		dish := math.Max(0, 1-((dx-6)*(dx-6)+(dy-1)*(dy-1))/9)
		return 10 + 0.02*math.Max(math.Abs(dx), math.Abs(dy)) - 0.09*dish
	}
	for i := range side {
		for k := range side {
			x, y := float64(i)+0.1+0.8*random.Float64(), float64(k)+0.1+0.8*random.Float64()
			r.Spots = append(r.Spots, roof.Spot{Position: roof.Position{Plan: orb.Point{x, y}, Z: fall(x, y) + 0.002*random.NormFloat64(), HasZ: true}})
		}
	}
	for x := 12.5; x < w; x += 25 {
		for y := 12.5; y < w; y += 25 {
			o := roof.Outlet{Type: roof.Drain, Plan: orb.Point{x, y}, Bowl: 0.3, Label: fmt.Sprintf("D-%d", len(r.Outlets)+1)}
			o.ID = o.Label
			r.Outlets = append(r.Outlets, o)
		}
	}
	return r
}

// The page stays under 15 MB at 100,000 facets (150 bytes a facet; a small roof's under 1.8 MB, for what every page embeds), and all facets are drawn: the middle of the map has no hole.
func TestLargeRoof(t *testing.T) {
	side := 60
	if os.Getenv("RUNNEL_LONG") == "1" {
		side = 225
	}
	b := book(large(side), record.SI)
	facets := b.Study.Surface.TIN.Facets()
	page := write(t, b)
	if most := 15e6 * math.Max(float64(facets), 1.2e4) / 1e5; float64(len(page)) > most {
		t.Errorf("%d facets make a page of %d bytes, more than %.0f", facets, len(page), most)
	}
	w := open(t, b, "")
	w.run(chromedp.Click("#layers summary"), chromedp.Click(`#layers input[value="facet"]`))
	if n := eval[int](w, `(() => { const c = document.querySelector(".leaflet-facets-pane canvas"), k = c.width / 10, d = c.getContext("2d").getImageData(4.5 * k, c.height * .45, k, c.height / 10).data;
		let n = 0;
		for (let i = 3; i < d.length; i += 4) if (d[i] < 255) n++;
		return n; })()`); n > 0 {
		t.Errorf("%d places of the roof's middle are not covered by facets", n)
	}
	w.quiet()
}

// BenchmarkOpen reports what the page of a roof of 100,000 facets weighs, how long it takes to open, and how many frames a second a
// browser draws while the map is dragged with all facets on.
func BenchmarkOpen(b *testing.B) {
	r := book(large(225), record.SI)
	for b.Loop() {
		w := open(b, r, "", "disable-gpu")
		opened := eval[float64](w, `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now()))))`, chromedp.EvalAwaitPromise)
		w.run(chromedp.Click("#layers summary"), chromedp.Click(`#layers input[value="facet"]`), chromedp.Evaluate[chromedp.Void](`document.getElementById("map").scrollIntoView()`))
		frames := eval[float64](w, `new Promise(done => {
			const box = document.getElementById("map"), r = box.getBoundingClientRect(), start = performance.now();
			const fire = (on, type, x, y, buttons) => on.dispatchEvent(new MouseEvent(type, {clientX: r.left + x, clientY: r.top + y, button: 0, buttons, bubbles: true}));
			let n = 0;
			fire(box, "mousedown", 300, 250, 1);
			const step = () => {
				n++;
				const t = performance.now() - start;
				if (t > 3000) { fire(box, "mouseup", 300, 250, 0); done(n / t * 1000); return; }
				if (n % 60 === 0) { fire(box, "mouseup", 300, 250, 0); fire(box, "mousedown", 300, 250, 1); }
				fire(box, "mousemove", 300 + 200 * Math.sin(n / 20), 250 + 100 * Math.cos(n / 15), 1);
				requestAnimationFrame(step);
			};
			requestAnimationFrame(step);
		})`, chromedp.EvalAwaitPromise)
		b.ReportMetric(opened, "open-ms")
		b.ReportMetric(frames, "frames/s")
		b.ReportMetric(float64(r.Study.Surface.TIN.Facets()), "facets")
		w.quiet()
	}
	b.ReportMetric(float64(len(write(b, r)))/1e6, "MB")
}
