package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
)

// A sheet of one of everything, by hand: what Scalable Vector Graphics 1.1 asks for each thing.
func TestOneOfEverything(t *testing.T) {
	first := &scene.Scene{Width: 210, Height: 297.5, Title: `Roof "A" & <B>`}
	l := first.Layer("ponds")
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 1, Y: 2}, {X: 3.456, Y: 4}, {X: 5, Y: -0.001}}, {{X: 9, Y: 9}, {X: 8, Y: 8}}}, Closed: true, Fill: "#112233"})
	l.Line("#445566", 0.25, []float64{2, 0.5}, scene.Point{X: 0, Y: 1}, scene.Point{X: 10, Y: 1})
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 0, Y: 0}, {X: 1, Y: 0}}}, Stroke: "#000000", Width: 1, Butt: true})
	l.Texts = append(l.Texts, scene.Text{At: scene.Point{X: 20, Y: 30}, String: "P01 <28 mm>", Size: 2.5, Width: 12.3, Bold: true, Anchor: scene.Middle, Colour: "#000000", Turned: true})
	l.Texts = append(l.Texts, scene.Text{At: scene.Point{X: 20, Y: 30}, String: "end", Size: 2, Anchor: scene.End, Colour: "#0000FF"})
	first.Layer("empty")
	second := &scene.Scene{Width: 100, Height: 50}
	second.Layer("points").Line("#FF0000", 0.1, nil, scene.Point{X: 1, Y: 1}, scene.Point{X: 2, Y: 1})
	var b bytes.Buffer
	if err := svg.Write(&b, first, second); err != nil {
		t.Fatal(err)
	}
	got := b.String()
	for _, want := range []string{
		`width="210mm" height="347.5mm" viewBox="0 0 210 347.5"`,
		"<title>Roof &quot;A&quot; &amp; &lt;B&gt;</title>",
		`<g id="plan-ponds">`,
		`<path fill="#112233" d="M1 2L3.46 4L5 0ZM9 9L8 8Z"/>`,
		`<path stroke="#445566" stroke-width="0.25" stroke-linecap="round" stroke-dasharray="2 0.5" d="M0 1L10 1"/>`,
		`<path stroke="#000000" stroke-width="1" d="M0 0L1 0"/>`,
		`<text x="20" y="30" font-size="2.5" font-weight="bold" text-anchor="middle" transform="rotate(-90 20 30)" fill="#000000" textLength="12.3" lengthAdjust="spacingAndGlyphs">P01 &lt;28 mm&gt;</text>`,
		`<text x="20" y="30" font-size="2" text-anchor="end" fill="#0000FF">end</text>`,
		`<g transform="translate(0 297.5)">` + "\n" + `<g id="sheet-2-points">`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("it lacks %s", want)
		}
	}
	if strings.Contains(got, "empty") {
		t.Error("an empty layer is written")
	}
	for d := xml.NewDecoder(&b); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("no XML: %v", err)
		}
	}
}
