package command

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// TestPictures takes the pictures of the README anew into the folder PICTURES: the plan of a demo roof, and the 3-D view of
// its report with heights drawn 25 times.
func TestPictures(t *testing.T) {
	folder := os.Getenv("PICTURES")
	if folder == "" {
		t.Skip("PICTURES names no folder: make pictures")
	}
	program, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatalf("needs Debian package chromium: %v", err)
	}
	dir := t.TempDir()
	called(t, "demo", dir)
	called(t, "check", filepath.Join(dir, "library.geojson"), "-o", filepath.Join(dir, "out"), "--write", "plan,report")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox,
		chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
	alloc, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	defer cancel()
	ctx, cancel := chromedp.NewContext(alloc)
	defer cancel()
	ctx, cancel = context.WithTimeout(ctx, time.Minute)
	defer cancel()
	err = chromedp.Do(ctx, chromedp.EmulateViewport(960, 720), chromedp.Navigate("file://"+filepath.Join(dir, "out", "library.report.html")), chromedp.WaitReady("#cautions"),
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
