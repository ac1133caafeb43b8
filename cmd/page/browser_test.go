package main_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"runnel/analysis/geometry/reference/chromium"
)

// made is the folder of the page once it was built.
var made string

// dist builds the page, once, as make page does.
var dist = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return "", err
	}
	made = dir
	sources, err := filepath.Glob("../../.ci/page/*.go")
	if err != nil {
		return "", err
	}
	args := []string{"run"}
	for _, s := range sources {
		args = append(args, strings.TrimPrefix(filepath.ToSlash(s), "../../"))
	}
	c := exec.Command("go", append(args, "-o", dir)...) //nolint:gosec // our own
	c.Dir = "../.."
	if said, err := c.CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w\n%s", err, said)
	}
	return dir, nil
})

// TestMain ends the browser and takes the built page away.
func TestMain(m *testing.M) {
	code := m.Run()
	if common != nil {
		common.server.Close()
	}
	chromium.End()
	if made != "" {
		_ = os.RemoveAll(made)
	}
	os.Exit(code)
}

// page is the page in a tab of its own.
type page struct {
	tb     testing.TB
	ctx    context.Context
	server *httptest.Server // nil for the single file
	mutex  sync.Mutex
	faults []string // console errors, exceptions, and requests that leave the page
}

// build returns the folder of the built page.
func build(tb testing.TB) string {
	tb.Helper()
	dir, err := dist()
	if err != nil {
		tb.Fatal(err)
	}
	return dir
}

// open opens the page at the size of a phone, served from this machine, and waits until the program stands.
func open(tb testing.TB) *page {
	tb.Helper()
	server := httptest.NewServer(http.FileServer(http.Dir(filepath.Join(build(tb), "page"))))
	tb.Cleanup(server.Close)
	p := openAt(tb, server.URL+"/", server.URL)
	p.server = server
	return p
}

// common is the page that tests share which go by nothing that is kept on the device and ask nothing of the network; nil before the first of them.
var common *page

// shared returns that page on its first screen: to start the program costs more than most tests.
func shared(tb testing.TB) *page {
	tb.Helper()
	if common == nil {
		server := httptest.NewServer(http.FileServer(http.Dir(filepath.Join(build(tb), "page")))) // TestMain ends it
		common = tab(tb, server.URL+"/", server.URL, true)
		common.server = server
		return common
	}
	common.tb, common.faults = tb, nil
	eval[int](common, `(runnelPage.trial.on && runnelPage.trial.turn(false), runnelPage.editor.leave(), document.getElementById('again').click(), 0)`)
	return common
}

// openAt opens an address until the test ends; requests must stay below home.
func openAt(tb testing.TB, address, home string) *page {
	tb.Helper()
	return tab(tb, address, home, false)
}

// tab opens an address in a tab of its own, which closes when the test ends, or with the browser where forever is set.
func tab(tb testing.TB, address, home string, forever bool) *page {
	tb.Helper()
	ctx, cancel := chromedp.NewContext(chromium.Browser(tb), chromedp.WithNewBrowserContext())
	if !forever {
		tb.Cleanup(cancel)
	}
	p := &page{tb: tb, ctx: ctx}
	if err := chromedp.Listen(ctx, func(event any) { p.listen(event, home) }); err != nil {
		tb.Fatal(err)
	}
	p.run(chromedp.EmulateViewport(390, 844), chromedp.Navigate(address))
	p.ready()
	return p
}

// ready waits until the program has answered its first roof.
func (p *page) ready() {
	p.tb.Helper()
	if fault := eval[string](p, `new Promise(done => { const wait = () => window.runnelWarm ? done(runnelWarm.error) : setTimeout(wait, 50); wait(); })`); fault != "" {
		p.quiet()
		p.tb.Fatalf("the program does not stand: %s", fault)
	}
}

func (p *page) listen(event any, home string) {
	fault := ""
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		fault = fmt.Sprintf("console %s: %v", e.Type, e.Args)
	case *runtime.EventExceptionThrown:
		fault = "exception: " + e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			fault += " " + e.ExceptionDetails.Exception.Description
		}
	case *log.EventEntryAdded:
		fault = "log: " + e.Entry.Text
	case *network.EventRequestWillBeSent:
		if u := e.Request.URL; !strings.HasPrefix(u, home) && !strings.HasPrefix(u, "data:") && !strings.HasPrefix(u, "blob:") {
			fault = "request of " + u
		}
	}
	if fault != "" {
		p.mutex.Lock()
		p.faults = append(p.faults, fault)
		p.mutex.Unlock()
	}
}

// quiet fails the test where the console said anything or a request left the page.
func (p *page) quiet() {
	p.tb.Helper()
	p.mutex.Lock()
	defer p.mutex.Unlock()
	for _, f := range p.faults {
		p.tb.Error(f)
	}
}

func (p *page) run(actions ...chromedp.Action[chromedp.Void]) {
	p.tb.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.tb.Fatal(err)
	}
}

// eval runs a script and returns what it, or its promise, gives.
func eval[T any](p *page, script string) T {
	p.tb.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.tb.Fatalf("%.200s: %v", script, err)
	}
	return out
}

// quoted returns a value as a script writes it.
func quoted(tb testing.TB, v any) string {
	tb.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		tb.Fatal(err)
	}
	return string(text)
}

// fileURL returns the address of a file on the disk.
func fileURL(path string) string { return (&url.URL{Scheme: "file", Path: path}).String() }
