package setout

import (
	"io"
	"strings"

	"runnel/export/caution"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

// Sizes on the sheet [mm].
const (
	right  = 88.0 // width of the column of text on the first page
	textEm = 3.2  // typeface
	upper  = 30.0 // where sketch and column begin
)

// room is how many points the sheet lists; the CSV file has all.
const room = 400

// WritePDF writes the sheet: a sketch with the walls, the bench mark and the numbered points, how to find a point, the table of
// points, and the cautions.
func (s *Sheet) WritePDF(w io.Writer) error { return pdf.Write(w, s.pages()...) }

func (s *Sheet) pages() []*scene.Scene {
	height, width := page.Paper(s.book.Units)
	points := s.Points[:min(room, len(s.Points))]
	name := s.book.Study.Roof.Name
	f := page.New("Set-out sheet: "+name, width, height)
	s.first(f, points, width, height)
	f.Add()
	f.Table(s.table(points))
	if more := len(s.Points) - len(points); more > 0 {
		f.Skip(1)
		f.Line("and "+record.Plural(more, "more point")+" in the CSV file.", page.Style{Size: textEm, Bold: true})
	}
	f.Heading("Cautions", 60)
	f.Bullets(append([]string{verify}, caution.Texts(s.book.Study.Cautions)...), page.Style{Size: textEm})
	f.Number("Set-out sheet: "+name, caution.Foot+" "+verify+" The cautions stand on the last page.")
	return f.Pages
}

func (s *Sheet) first(f *page.Flow, points []Point, width, height float64) {
	roof := s.book.Study.Roof
	f.Line("Set-out sheet: "+roof.Name, page.Style{Size: 5.3, Bold: true})
	var about []string
	if roof.Building != "" && roof.Building != roof.Name {
		about = append(about, roof.Building)
	}
	if roof.Surveyed != "" {
		about = append(about, "surveyed "+roof.Surveyed)
	}
	about = append(about, record.Plural(len(s.Points), "point"))
	if s.book.Proposed {
		about = append(about, "as proposed. "+caution.Design)
	}
	f.Line(strings.Join(about, "; "), page.Style{Size: textEm})
	top := upper
	if first, ok := s.book.KeepOff(); ok {
		f.Paragraph(first.Say(), page.Style{Size: textEm, Bold: true})
		top = max(top, f.Y()+2)
	}
	sketch := s.sketch(points, width-2*page.Margin-right-6, height-top-page.Margin)
	f.Place(sketch, scene.Point{X: page.Margin, Y: top})
	f.Column(width-page.Margin-right, top, right)
	for _, part := range []struct {
		heading string
		texts   []string
	}{
		{"Walls and bench mark", []string{s.wallText(0), s.wallText(1), s.markText()}},
		{"How to find a point", s.method()},
		{"On the sketch", []string{key}},
	} {
		f.Line(part.heading, page.Style{Size: 3.5, Bold: true})
		f.Skip(0.8)
		for _, t := range part.texts {
			f.Paragraph(t, page.Style{Size: textEm})
			f.Skip(1.2)
		}
		f.Skip(1.5)
	}
	f.Whole()
}
