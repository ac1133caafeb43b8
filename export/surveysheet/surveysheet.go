// Package surveysheet sets the sheet that a crew takes to the roof and fills in: who, when and with what; a grid to draw on, or the plan of a known roof;
// outlets with the readings that each needs, ponds, cores and readings; and what to mind before going up.
package surveysheet

import (
	"fmt"
	"io"
	"strconv"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/export/caution"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/taped"
)

// Sizes on the sheet [mm].
const (
	em      = 3.0
	tall    = 8.0 // a row that somebody writes in
	low     = 5.5 // a row of readings
	square  = 5.0 // of the grid to draw on
	lineEnd = 2.0
)

// Sheet is a survey sheet.
type Sheet struct {
	Units record.Units
	Book  *record.Book // the known roof; nil for a blank sheet, and for one that was taped
	Taped *taped.Book  // the roof that was measured with tape, chalk and ruler, with a few heights at most
}

// roof is the known roof, nil for a blank sheet.
func (s *Sheet) roof() *roof.Roof {
	switch {
	case s.Book != nil:
		return s.Book.Study.Roof
	case s.Taped != nil:
		return s.Taped.Survey.Roof
	}
	return nil
}

// first is what keeps people off the roof, empty where nothing is known to.
func (s *Sheet) first() string {
	if s.Book != nil {
		if first, ok := s.Book.KeepOff(); ok {
			return first.Say()
		}
	}
	if s.Taped != nil && s.Taped.Survey.KeepOff.Is() {
		return s.Units.SayText(s.Taped.Survey.KeepOff.First()) + " " + record.Decides(finding.Engineer)
	}
	return ""
}

// cautions are those of the known roof, else those of every roof.
func (s *Sheet) cautions() []inspection.Caution {
	switch {
	case s.Book != nil:
		return s.Book.Study.Cautions
	case s.Taped != nil:
		return s.Taped.Survey.Cautions
	}
	return inspection.Everywhere()
}

// WritePDF writes the sheet.
func (s *Sheet) WritePDF(w io.Writer) error {
	pages, err := s.pages()
	if err != nil {
		return err
	}
	return pdf.Write(w, pages...)
}

func (s *Sheet) title() string {
	if r := s.roof(); r != nil {
		return "Survey sheet: " + r.Name
	}
	return "Survey sheet"
}

func (s *Sheet) pages() ([]*scene.Scene, error) {
	width, height := page.Paper(s.Units)
	f := page.New(s.title(), width, height)
	f.Line(s.title(), page.Style{Size: 5.3, Bold: true})
	if first := s.first(); first != "" {
		f.Paragraph(first, page.Style{Size: 3.4, Bold: true})
	}
	f.Skip(1)
	s.visit(f)
	f.Heading("Before you go up", 40)
	f.Bullets(caution.Texts(s.cautions()), page.Style{Size: 2.7})
	if err := s.where(f); err != nil {
		return nil, err
	}
	f.Add()
	s.outlets(f)
	s.sills(f)
	s.ponds(f)
	s.cores(f)
	f.Add()
	s.wanted(f)
	s.readings(f)
	f.Number(s.title(), caution.Foot)
	return f.Pages, nil
}

func (s *Sheet) visit(f *page.Flow) {
	name, building := "", ""
	var known roof.Visit
	if r := s.roof(); r != nil {
		name, building, known = r.Name, r.Building, r.Visit.Lasting()
	}
	said := func(name string) string { text, _, _ := known.Get(name); return text }
	coverings := ""
	if known.Coverings > 0 {
		coverings = said("coverings")
	}
	lines(f, []field{{"Roof", name, 2}, {"Building", building, 2}, {"Date", "", 1}})
	lines(f, []field{{"Who", "", 2}, {"Instrument", "", 2}, {"Set up at", "", 2}, {"Line of sight", "", 1}})
	lines(f, []field{{"Bench mark", "", 3}, {"Reading on it, first", "", 1}, {"and last", "", 1}})
	lines(f, []field{{"Weather", "", 2}, {"Hours since rain", "", 1}, {"Leaks inside, where and when", said("leaks"), 3}})
	lines(f, []field{{"Age of the roof, years", "", 1}, {"Coverings on each other", coverings, 1}, {"Warrantor", said("warrantor"), 2}, {"Warranty until", said("warranty_until"), 1}})
	lines(f, []field{{"Access: how, and who lets people up", said("access"), 2}, {"Who may authorise a cut", said("cuts_authorised_by"), 2}})
}

// where is the plan of a known roof, else a grid to draw on.
func (s *Sheet) where(f *page.Flow) error {
	if s.Book != nil {
		sheets, err := drawing.Plan(s.Book, drawing.Options{})
		if err != nil {
			return err
		}
		f.Insert(sheets[0], "Plan")
		return nil
	}
	if s.Taped != nil {
		f.Heading("The roof as it was taped", 60)
		place(f, taped.Picture(s.Taped, f.Width(), f.Left()-2))
		return nil
	}
	f.Heading("Sketch: walls, outlets, curbs, ponds. North up; one square is ______", 60)
	d := &scene.Scene{Width: f.Width(), Height: f.Left()}
	l := d.Layer("page")
	nx, ny := int(d.Width/square), int(d.Height/square)
	w, h := float64(nx)*square, float64(ny)*square
	for i := range nx + 1 {
		x := float64(i) * square
		l.Line(palette.Overflow, 0.12, nil, scene.Point{X: x}, scene.Point{X: x, Y: h})
	}
	for i := range ny + 1 {
		y := float64(i) * square
		l.Line(palette.Overflow, 0.12, nil, scene.Point{Y: y}, scene.Point{X: w, Y: y})
	}
	place(f, d)
	return nil
}

// steps are how far before an outlet readings are taken.
func (s *Sheet) steps() [3]string {
	if s.Units == record.US {
		return [3]string{"1 ft", "2 ft", "4 ft"}
	}
	return [3]string{"0.3 m", "0.6 m", "1.2 m"}
}

func (s *Sheet) outlets(f *page.Flow) {
	at := s.steps()
	f.Heading("Outlets", 40)
	f.Paragraph("Read the rod on the rim or the floor from which the outlet takes water, then on the membrane before it, toward the water that stands. Never reach into a drain under water. Clean what can be reached, and write what was in it.", page.Style{Size: 2.7})
	known := s.knownOutlets()
	ruled(f, []column{
		{"name", 1.2},
		{"drain, scupper|overflow?", 1.6},
		{"size", 0.9},
		{"rod on rim|or floor", 1.1},
		{"rod at|" + at[0], 0.9},
		{"rod at|" + at[1], 0.9},
		{"rod at|" + at[2], 0.9},
		{"pipe or|leader", 1},
		{"from which|two walls", 2.2},
		{"clear?", 0.8},
	}, known, max(6, len(known)+2), tall)
	f.Skip(2)
}

// knownOutlets are the outlets of a known roof, by name and kind, where they lie where they were taped.
func (s *Sheet) knownOutlets() [][]string {
	var known [][]string
	if s.Book != nil {
		for i := range s.Book.Study.Surface.Outlets {
			if o := &s.Book.Study.Surface.Outlets[i]; o.Type != roof.EdgeOutlet {
				known = append(known, []string{o.Label, kind(o.Type, o.Duty)})
			}
		}
	}
	if s.Taped != nil {
		for i := range s.Taped.Survey.Exits {
			e := &s.Taped.Survey.Exits[i]
			if e.Outlet < 0 {
				continue
			}
			o := &s.Taped.Survey.Roof.Outlets[e.Outlet]
			known = append(known, []string{e.Name, kind(o.Type, o.Duty), "", "", "", "", "", "", s.Units.SayText(s.Taped.Survey.Where(o.Plan))})
		}
	}
	return known
}

func kind(t roof.OutletType, d roof.Duty) string {
	name := choose.If(t == roof.Scupper, "scupper", "drain")
	if d == roof.Overflow {
		name += ", overflow"
	}
	return name
}

// sills are places where water would get in.
func (s *Sheet) sills(f *page.Flow) {
	f.Heading("Sills: where water would get in first", 30)
	ruled(f, []column{{"name", 0.8}, {"door sill, curb top,|wall joint, low parapet", 1.6}, {"where, from|which two walls", 2.4}, {"rod on it", 0.9}, {"over the|roof there", 0.9}, {"photo", 0.7}}, nil, 2, tall)
	f.Skip(2)
}

func (s *Sheet) ponds(f *page.Flow) {
	f.Heading("Ponds", 40)
	f.Paragraph("Chalk the water's edge and tape it, a dozen points or more. Sound it with a ruler where it looks deepest; one sounding is seldom the deepest. Over 2 in (50 mm), or on a roof that sags: keep off.", page.Style{Size: 2.7})
	ruled(f, []column{
		{"pond", 0.7}, {"where, from|which two walls", 2.4}, {"chalk|points", 0.8}, {"rod at the|water's edge", 1.1}, {"deepest|sounding", 1}, {"the way out: what|stands before it", 2.4}, {"hours|since rain", 0.9}, {"photo", 0.7},
	}, s.knownPonds(), 5, tall)
	f.Skip(2)
}

// knownPonds are the ponds that were taped, to be chalked again.
func (s *Sheet) knownPonds() [][]string {
	var known [][]string
	if s.Taped != nil {
		for i := range s.Taped.Survey.Ponds {
			p := &s.Taped.Survey.Ponds[i]
			known = append(known, []string{p.ID, s.Units.SayText(p.Where)})
		}
	}
	return known
}

func (s *Sheet) cores(f *page.Flow) {
	f.Heading("Cores", 40)
	f.Paragraph("Before a cut: asbestos, conduit, post-tensioned cable, and the warrantor. Patched watertight the same day.", page.Style{Size: 2.7})
	var known [][]string
	if s.Book != nil {
		for i := range s.Book.NextCores {
			known = append(known, []string{s.Book.Names.Local(s.Book.Names.NextCore(i)), s.Book.Units.SayText(s.Book.Study.Places.Of(s.Book.NextCores[i].Plan))})
		}
	}
	ruled(f, []column{
		{"core", 0.7}, {"where, from which two walls", 2.4}, {"layers from the top, each with its thickness; wet, pressed?", 4}, {"deck", 1}, {"tube|or hand", 0.8}, {"rib|or flute", 0.8}, {"patched|by", 1},
	}, known, max(5, len(known)+1), tall)
}

// wanted are the places where the known survey asks for spots, in walking order.
func (s *Sheet) wanted(f *page.Flow) {
	if s.Taped != nil {
		s.wantedTaped(f)
		return
	}
	if s.Book == nil || len(s.Book.NextSpots) == 0 {
		return
	}
	f.Heading("Spots to take, in walking order", 30)
	b := s.Book
	var known [][]string
	for i := range b.NextSpots {
		n := &b.NextSpots[i]
		known = append(known, []string{b.Names.Local(b.Names.NextSpot(i)), b.Units.SayText(b.Study.Places.Of(n.Plan)), n.For})
	}
	ruled(f, []column{{"spot", 0.7}, {"where", 5.2}, {"for", 1.2}, {"rod", 1}, {"note", 1.6}}, known, len(known), tall)
	f.Skip(2)
}

// wantedTaped are the places where a taped roof asks for heights, in walking order; a grid as it lies on the roof.
func (s *Sheet) wantedTaped(f *page.Flow) {
	b := s.Taped
	if len(b.Survey.Next) == 0 {
		return
	}
	f.Heading("Heights to read, in walking order", 30)
	f.Paragraph(b.NextTier(), page.Style{Size: 2.7})
	if heads, rows, ok := b.GridTable(); ok {
		t := &page.Table{Size: 2.6, Rows: rows, Groups: []page.Group{{Over: 1}, {Head: "from W wall", Over: len(heads) - 1}}}
		for _, h := range heads {
			t.Columns = append(t.Columns, page.Column{Head: h})
		}
		f.Table(t)
		f.Skip(2)
		return
	}
	var known [][]string
	for i := range b.Survey.Next {
		n := &b.Survey.Next[i]
		known = append(known, []string{"X" + strconv.Itoa(i+1), b.Place(n), b.Units.SayText(n.For)})
	}
	ruled(f, []column{{"spot", 0.7}, {"where", 3.6}, {"for", 2.6}, {"rod", 1}, {"note", 1.6}}, known, len(known), low)
	f.Skip(2)
}

// readings are rows for a level book with places: as many as the page takes.
func (s *Sheet) readings(f *page.Flow) {
	f.Heading("Readings", 40)
	f.Paragraph(fmt.Sprintf("Rows of %s, to type in afterwards. A place is two distances square to walls, or a distance before an outlet. Shoot the foot of the walls, every low place, and each fold: ridges, valleys, the edges of crickets.", csvName), page.Style{Size: 2.7})
	cols := []column{{"point", 0.8}, {"from wall", 1.4}, {"from wall", 1.4}, {"rod", 1}, {"what it is", 1.8}}
	const gap = 0.15
	both := append(append(append([]column{}, cols...), column{"", gap}), cols...)
	ruled(f, both, nil, 60, low)
}

// csvName is the file that goes with the sheet.
const csvName = "the CSV file"
