package campus_test

import (
	"fmt"
	"net/url"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"runnel/analysis/geometry/reference/chromium"
	"runnel/export/campus"
)

// The page shows the first 200 rows, more on demand, and those that a filter lets through; a mark of the map leads to its row wherever it
// stands; sorting by a figure leaves roofs that were not checked at the end, either way.
func TestPageInABrowser(t *testing.T) {
	var all []campus.Row
	for i := range 450 {
		all = append(all, campus.Row{Name: fmt.Sprintf("roof %03d", i), Stem: fmt.Sprint(i), Counts: [3]int{1, 0, 0}, Area: float64(100 + i)})
	}
	all = append(all, campus.Row{Name: "broken", Stem: "broken", Reason: "no outline"})
	dir, _ := written(t, all, campus.Options{})
	t.Cleanup(chromium.End)
	ctx := chromium.Tab(t)
	page := url.URL{Scheme: "file", Path: filepath.Join(dir, "campus.html")}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(390, 844), chromedp.Navigate(page.String())); err != nil {
		t.Fatal(err)
	}
	const state = `(() => { const r = [...document.querySelectorAll("#roofs tbody tr:not([hidden])")];
		return [r.length, r[0].id, r[r.length - 1].id, document.getElementById("shown").textContent, document.getElementById("more").hidden].join(" | ") })()`
	area := `[...document.querySelectorAll("#roofs thead button")].find(b => b.textContent === "roof area").click();`
	for _, c := range []struct{ do, want string }{
		{"", "200 | r1 | r200 | The first 200 of 451 roofs are shown. | false"},
		{`document.getElementById("more").click();`, "400 | r1 | r400 | The first 400 of 451 roofs are shown. | false"},
		{`document.getElementById("more").click();`, "451 | r1 | r451 | All 451 roofs are shown. | true"},
		{area, "451 | r1 | r451 | All 451 roofs are shown. | true"},
		{area, "451 | r450 | r451 | All 451 roofs are shown. | true"},
		{`document.getElementById("name").value = "roof 1"; document.getElementById("name").dispatchEvent(new Event("input"));`, "100 | r200 | r101 | 100 of 451 roofs are shown. | true"},
		{`document.getElementById("name").value = ""; document.getElementById("name").dispatchEvent(new Event("input"));`, "200 | r450 | r251 | The first 200 of 451 roofs are shown. | false"},
		{`location.hash = "#r100"; await new Promise(done => setTimeout(done, 200));`, "351 | r450 | r100 | The first 351 of 451 roofs are shown. | false"},
	} {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string]("(async () => {"+c.do+" return "+state+"})()", chromedp.EvalAwaitPromise))
		if err != nil || got != c.want {
			t.Errorf("%s\n%s, want\n%s: %v", c.do, got, c.want, err)
		}
	}
	wide, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("document.documentElement.scrollWidth <= 390"))
	if err != nil || !wide {
		t.Errorf("the page is wider than a phone: %v", err)
	}
}
