// Package svg writes a scene as Scalable Vector Graphics: self-contained, without script, style sheet or
// reference to anything outside; text stays text. One unit of its coordinates is a millimetre of the sheet.
//
// Every text states the length that it was measured to have, so that a device without the typeface keeps
// texts within their places.
package svg

import (
	"bytes"
	"io"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/export/drawing/scene"
	"runnel/export/font"
)

// Write writes the sheets one below the other. The document has the title of the first.
func Write(out io.Writer, sheets ...*scene.Scene) error {
	w := &writer{}
	width, height := 0.0, 0.0
	for _, s := range sheets {
		width, height = max(width, s.Width), height+s.Height
	}
	w.text(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="`)
	w.number(width)
	w.text(`mm" height="`)
	w.number(height)
	w.text(`mm" viewBox="0 0 `)
	w.number(width)
	w.text(" ")
	w.number(height)
	w.text(`" role="img" font-family="'` + font.Family + `', Arial, Helvetica, sans-serif" fill="none" fill-rule="evenodd" stroke-linejoin="round">` + "\n<title>")
	w.escape(sheets[0].Title)
	w.text("</title>\n" + `<rect width="100%" height="100%" fill="#FFFFFF"/>` + "\n")
	top := 0.0
	for i, s := range sheets {
		prefix := "plan-"
		if i > 0 {
			prefix = "sheet-" + strconv.Itoa(i+1) + "-"
			w.text(`<g transform="translate(0 ` + number(top) + `)">` + "\n")
		}
		for _, l := range s.Layers {
			w.layer(prefix, l)
		}
		if i > 0 {
			w.text("</g>\n")
		}
		top += s.Height
	}
	w.text("</svg>\n")
	_, err := out.Write(w.Bytes())
	return err
}

type writer struct{ bytes.Buffer }

func (w *writer) text(s string) { w.WriteString(s) }

func (w *writer) layer(prefix string, l *scene.Layer) {
	if len(l.Shapes) == 0 && len(l.Texts) == 0 {
		return
	}
	w.text(`<g id="`)
	w.escape(prefix + l.Name)
	w.text("\">\n")
	for i := range l.Shapes {
		w.shape(&l.Shapes[i])
	}
	for i := range l.Texts {
		w.line(&l.Texts[i])
	}
	w.text("</g>\n")
}

func (w *writer) shape(s *scene.Shape) {
	w.text("<path")
	if s.Fill != "" {
		w.attribute("fill", s.Fill)
	}
	if s.Stroke != "" {
		w.attribute("stroke", s.Stroke)
		w.attribute("stroke-width", number(s.Width))
		if !s.Butt {
			w.attribute("stroke-linecap", "round")
		}
		if len(s.Dash) > 0 {
			parts := gather.Each(s.Dash, number)
			w.attribute("stroke-dasharray", strings.Join(parts, " "))
		}
	}
	w.text(` d="`)
	for _, path := range s.Paths {
		for i, p := range path {
			w.text([]string{"M", "L"}[min(i, 1)])
			w.number(p.X)
			w.text(" ")
			w.number(p.Y)
		}
		if s.Closed && len(path) > 0 {
			w.text("Z")
		}
	}
	w.text("\"/>\n")
}

func (w *writer) line(t *scene.Text) {
	w.text("<text")
	w.attribute("x", number(t.At.X))
	w.attribute("y", number(t.At.Y))
	w.attribute("font-size", number(t.Size))
	if t.Bold {
		w.attribute("font-weight", "bold")
	}
	if t.Anchor != scene.Start {
		w.attribute("text-anchor", map[scene.Anchor]string{scene.Middle: "middle", scene.End: "end"}[t.Anchor])
	}
	if t.Turned {
		w.attribute("transform", "rotate(-90 "+number(t.At.X)+" "+number(t.At.Y)+")")
	}
	w.attribute("fill", t.Colour)
	if t.Width > 0 {
		w.attribute("textLength", number(t.Width))
		w.attribute("lengthAdjust", "spacingAndGlyphs")
	}
	w.text(">")
	w.escape(t.String)
	w.text("</text>\n")
}

func (w *writer) attribute(name, value string) {
	w.text(" " + name + `="`)
	w.escape(value)
	w.text(`"`)
}

var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func (w *writer) escape(s string) { _, _ = escapes.WriteString(w, s) }

func (w *writer) number(v float64) { w.text(number(v)) }

// number writes hundredths of a millimetre at most.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	return choose.If(s == "-0" || s == "", "0", s)
}
