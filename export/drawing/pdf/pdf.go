// Package pdf writes scenes as pages of PDF: lines and areas as vectors, text as text, the typeface embedded
// as far as it is used, no date of writing, so that the same scenes give the same bytes.
package pdf

import (
	"fmt"
	"io"
	"strconv"
	"time"

	"github.com/go-pdf/fpdf"

	"runnel/analysis/choose"
	"runnel/export/drawing/scene"
	"runnel/export/font"
)

// date stands where the format asks for one.
var date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// pointsPerMillimetre turns sizes of type into points.
const pointsPerMillimetre = 72 / 25.4

const family = "drawing"

// Write writes one scene a page. The document has the title of the first.
func Write(out io.Writer, pages ...*scene.Scene) error {
	d := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	d.SetCatalogSort(true)
	d.SetCreationDate(date)
	d.SetModificationDate(date)
	d.SetProducer("runnel", true)
	d.SetLang("en")
	d.SetTitle(pages[0].Title, true)
	d.SetAutoPageBreak(false, 0)
	d.SetMargins(0, 0, 0)
	d.AddUTF8FontFromBytes(family, "", font.Regular)
	d.AddUTF8FontFromBytes(family, "B", font.Bold)
	for _, s := range pages {
		d.AddPageFormat("P", fpdf.SizeType{Wd: s.Width, Ht: s.Height})
		d.SetLineJoinStyle("round")
		d.SetFont(family, "", 10) // in whose encoding marks are written
		for _, m := range s.Marks {
			d.Bookmark(m.Text, 0, m.Y)
		}
		for _, l := range s.Layers {
			for i := range l.Shapes {
				shape(d, &l.Shapes[i])
			}
			for i := range l.Texts {
				text(d, &l.Texts[i])
			}
		}
	}
	if err := d.Output(out); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

func shape(d *fpdf.Fpdf, s *scene.Shape) {
	style := ""
	if s.Stroke != "" {
		d.SetDrawColor(colour(s.Stroke))
		d.SetLineWidth(s.Width)
		d.SetDashPattern(s.Dash, 0)
		ends := choose.If(s.Butt, "butt", "round")
		d.SetLineCapStyle(ends)
		style = "D"
	}
	if s.Fill != "" {
		d.SetFillColor(colour(s.Fill))
		style = map[string]string{"": "F*", "D": "FD*"}[style]
	}
	if style == "" {
		return
	}
	for _, path := range s.Paths {
		for i, p := range path {
			if i == 0 {
				d.MoveTo(p.X, p.Y)
			} else {
				d.LineTo(p.X, p.Y)
			}
		}
		if s.Closed && len(path) > 0 {
			d.ClosePath()
		}
	}
	d.DrawPath(style)
}

func text(d *fpdf.Fpdf, t *scene.Text) {
	style := choose.If(t.Bold, "B", "")
	d.SetFont(family, style, t.Size*pointsPerMillimetre)
	d.SetTextColor(colour(t.Colour))
	along := map[scene.Anchor]float64{scene.Start: 0, scene.Middle: t.Width / 2, scene.End: t.Width}[t.Anchor]
	if !t.Turned {
		d.Text(t.At.X-along, t.At.Y, t.String)
		return
	}
	d.TransformBegin()
	d.TransformRotate(90, t.At.X, t.At.Y)
	d.Text(t.At.X-along, t.At.Y, t.String)
	d.TransformEnd()
}

// colour returns the parts of "#RRGGBB".
func colour(c string) (red, green, blue int) {
	n, err := strconv.ParseUint(c[1:], 16, 32)
	if err != nil {
		return 0, 0, 0
	}
	return int(n >> 16), int(n >> 8 & 255), int(n & 255)
}
