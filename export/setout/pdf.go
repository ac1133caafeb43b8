package setout

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"

	"runnel/export/caution"
	"runnel/export/font"
	"runnel/export/record"
)

// Sizes on the sheet [mm].
const (
	margin = 12.0
	right  = 88.0 // width of the column of text on the first page
	lead   = 4.4  // from line to line of text
	high   = 5.2  // height of a row of the table
	room   = 400  // points that the sheet lists; the CSV file has all
)

// longest is how much of one name is printed [characters]; the CSV file has names whole.
const longest = 120

// pdf is the sheet under construction.
type pdf struct {
	*fpdf.Fpdf
	s             *Sheet
	points        []Point
	width, height float64
}

// WritePDF writes the sheet: a sketch with the walls, the bench mark and the numbered points, how to find a point, the table of
// points, and the cautions.
func (s *Sheet) WritePDF(w io.Writer) error {
	size := "A4"
	if s.book.Units == record.US {
		size = "Letter"
	}
	p := &pdf{Fpdf: fpdf.New("L", "mm", size, ""), s: s, points: s.Points[:min(room, len(s.Points))]}
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	p.SetCreationDate(fixed)
	p.SetModificationDate(fixed)
	p.SetCatalogSort(true)
	p.SetTitle(clean("Set-out sheet: "+s.book.Study.Roof.Name), true)
	p.AddUTF8FontFromBytes("sans", "", font.Regular)
	p.AddUTF8FontFromBytes("sans", "B", font.Bold)
	p.SetMargins(margin, margin, margin)
	p.SetAutoPageBreak(false, margin)
	p.SetFooterFunc(p.foot)
	p.width, p.height = p.GetPageSize()
	p.AddPage()
	p.first()
	p.table()
	p.cautions()
	if err := p.Output(w); err != nil {
		return fmt.Errorf("set-out sheet: %w", err)
	}
	return nil
}

// clean returns a text that the typeface can show, cut where it is very long.
func clean(text string) string {
	r := []rune(font.Clean(text))
	if len(r) > longest {
		return string(r[:longest-1]) + "…"
	}
	return string(r)
}

func (p *pdf) set(style string, size float64) {
	p.SetFont("sans", style, size)
	p.SetTextColor(0, 0, 0)
}

// foot stands at the bottom of every page.
func (p *pdf) foot() {
	p.set("", 8)
	y := p.height - margin + 3
	p.Text(margin, y, verify+" The cautions stand on the last page.")
	number := fmt.Sprintf("page %d", p.PageNo())
	p.Text(p.width-margin-p.GetStringWidth(number), y, number)
}

func (p *pdf) first() {
	roof := p.s.book.Study.Roof
	p.set("B", 15)
	p.Text(margin, margin+4, p.fit("Set-out sheet: "+clean(roof.Name), p.width-2*margin))
	p.set("", 9)
	var about []string
	if roof.Building != "" && roof.Building != roof.Name {
		about = append(about, clean(roof.Building))
	}
	if roof.Surveyed != "" {
		about = append(about, "surveyed "+clean(roof.Surveyed))
	}
	about = append(about, fmt.Sprintf("%d points", len(p.s.Points)))
	p.Text(margin, margin+10, p.fit(strings.Join(about, "; "), p.width-2*margin))
	p.sketch(frame{margin, margin + 14, p.width - 2*margin - right - 6, p.height - 2*margin - 16})
	p.SetLeftMargin(p.width - margin - right)
	p.SetY(margin + 14)
	p.paragraphs("Walls and bench mark", []string{p.s.wallText(0), p.s.wallText(1), p.s.markText()})
	p.paragraphs("How to find a point", p.s.method())
	p.key()
	p.SetLeftMargin(margin)
}

// paragraphs writes sentences under a heading at the left margin.
func (p *pdf) paragraphs(heading string, texts []string) {
	width := p.width - margin - p.GetX()
	p.set("B", 10)
	p.CellFormat(width, lead+1.5, heading, "", 1, "L", false, 0, "")
	p.set("", 9)
	for _, t := range texts {
		p.MultiCell(width, lead, font.Clean(t), "", "L", false)
		p.Ln(1.2)
	}
	p.Ln(1.5)
}

// fit cuts a text to a width in the current font.
func (p *pdf) fit(text string, width float64) string {
	if p.GetStringWidth(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 0 && p.GetStringWidth(string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// cautions closes the sheet.
func (p *pdf) cautions() {
	texts := caution.Texts(p.s.book.Study.Cautions)
	p.set("", 9)
	need := 14.0
	for _, t := range texts {
		need += lead*float64(len(p.SplitText(font.Clean(t), p.width-2*margin))) + 1.2
	}
	if p.GetY()+need > p.height-margin-4 {
		p.AddPage()
		p.SetY(margin)
	}
	p.Ln(5)
	p.paragraphs("Cautions", append([]string{verify}, texts...))
}

// whole rounds to a whole number of millimetres.
func whole(metres float64) int { return int(math.Round(metres * 1000)) }
