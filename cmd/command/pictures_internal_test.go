package command

import (
	"bytes"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"runnel/analysis/geometry/reference/chromium"
)

// TestPictures takes the pictures of the README anew: the plan of a demo roof, and the 3-D view of its report with heights drawn 25
// times. "make pictures" keeps them in the folder PICTURES.
func TestPictures(t *testing.T) {
	t.Parallel()
	folder := os.Getenv("PICTURES")
	if folder == "" {
		folder = t.TempDir()
	}
	dir := t.TempDir()
	called(t, "demo", dir)
	called(t, "check", filepath.Join(dir, "library.geojson"), "-o", filepath.Join(dir, "out"), "--write", "plan,report")
	ctx := chromium.Tab(t, chromium.Software...)
	err := chromedp.Do(ctx, chromedp.EmulateViewport(960, 720), chromedp.Navigate("file://"+filepath.Join(dir, "out", "library.report.html")), chromedp.WaitReady("#cautions"),
		chromedp.Click("#tab-space"))
	if err != nil {
		t.Fatal(err)
	}
	until(t, "the view is drawn", func() bool { return eval[bool](ctx, `document.querySelector("#space canvas") !== null`) })
	eval[bool](ctx, `(() => { const h = document.getElementById("heights"); h.value = 25; h.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	time.Sleep(time.Second)
	space, err := chromedp.Run(ctx, chromedp.Screenshot("#panel-space"))
	if err != nil {
		t.Fatal(err)
	}
	if n := colours(t, space); n < 50 {
		t.Errorf("the 3-D view has %d colours: there is no roof in it", n)
	}
	plan, err := os.ReadFile(filepath.Join(dir, "out", "library.plan.svg"))
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"plan.svg": plan, "space.png": space} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// colours counts the colours of a PNG.
func colours(t *testing.T, data []byte) int {
	t.Helper()
	picture, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[color.Color]bool{}
	for y := picture.Bounds().Min.Y; y < picture.Bounds().Max.Y; y++ {
		for x := picture.Bounds().Min.X; x < picture.Bounds().Max.X; x++ {
			seen[picture.At(x, y)] = true
		}
	}
	return len(seen)
}
