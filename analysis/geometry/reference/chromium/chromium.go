// Package chromium opens pages in Debian's Chromium for tests.
package chromium

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// unseen are features that nobody sees here: pages of the browser's own that it draws again and again behind its address bar. They took more than half of the
// processor time of a tab.
const unseen = "Translate,BlinkGenPropertyTrees,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup,PreloadTopChromeWebUI"

var (
	mutex    sync.Mutex
	browsers = map[string]context.Context{} // by their switches
)

// Browser returns the running browser with these switches, each "name" or "name=value": a start costs seconds, so it goes on until End. Without Debian's
// package chromium the test is skipped, or fails where RUNNEL_REFERENCES=1.
func Browser(tb testing.TB, switches ...string) context.Context {
	tb.Helper()
	mutex.Lock()
	defer mutex.Unlock()
	key := strings.Join(switches, " ")
	if ctx, ok := browsers[key]; ok {
		return ctx
	}
	program, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("RUNNEL_REFERENCES") == "1" {
			tb.Fatalf("Debian package chromium: %v", err)
		}
		tb.Skipf("needs Debian package chromium: %v", err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox,
		chromedp.Flag("disable-features", unseen), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	for _, s := range switches {
		if name, value, ok := strings.Cut(s, "="); ok {
			options = append(options, chromedp.Flag(name, value))
		} else {
			options = append(options, chromedp.Flag(name, true))
		}
	}
	alloc, _ := chromedp.NewExecAllocator(context.Background(), options...) // End ends it
	ctx, _ := chromedp.NewContext(alloc)
	if err := chromedp.Do(ctx); err != nil { // starts it
		tb.Fatal(err)
	}
	browsers[key] = ctx
	return ctx
}

// Tab opens a tab with a profile of its own until the test ends, so that no test sees what another left.
func Tab(tb testing.TB, switches ...string) context.Context {
	tb.Helper()
	ctx, cancel := chromedp.NewContext(Browser(tb, switches...), chromedp.WithNewBrowserContext())
	tb.Cleanup(cancel)
	return ctx
}

// Software are the switches for pages that draw in space: graphics without a graphics card.
var Software = []string{"use-angle=swiftshader", "enable-unsafe-swiftshader"}

// End ends the browsers, after the last test.
func End() {
	mutex.Lock()
	defer mutex.Unlock()
	for _, ctx := range browsers {
		_ = chromedp.Cancel(ctx) // a browser that cannot be ended does not change the tests' result
	}
	clear(browsers)
}
