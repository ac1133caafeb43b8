package main_test

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"time"

	"github.com/chromedp/chromedp"
)

// picture keeps what the screen shows, for the reference of the page, where PICTURES names a folder: "make pictures" does. at is the element at the top, as
// a script's expression; empty: the top of the page.
func (p *page) picture(name, at string) {
	p.tb.Helper()
	folder := os.Getenv("PICTURES")
	if folder == "" {
		return
	}
	if at == "" {
		at = "document.body"
	}
	eval[int](p, at+`.scrollIntoView(), 0`)
	time.Sleep(300 * time.Millisecond) // what was tapped is drawn
	data, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.tb.Fatal(err)
	}
	shot, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		p.tb.Fatal(err)
	}
	var small bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&small, shot); err != nil {
		p.tb.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), small.Bytes(), 0o600); err != nil {
		p.tb.Fatal(err)
	}
}
