// Package drawing draws the plan of a roof on one named sheet, to scale, as a scene that the packages svg and pdf write.
//
// The sheet is made to be printed on office paper, marked up and used on the roof: the plan, and beside or below it what
// is wrong and what to do, a key of every symbol used, a title block from the data, and the cautions. The scale is the
// largest usual one at which the roof fits; the roof stands with north up where its longest side lies along the grid,
// and is turned until that side is level where it does not.
//
// Labels are placed one by one, the most important first: candidates round the place are tried near to far, those free
// of other labels, symbols and leaders compete by how many lines they hide, and a leader joins what stands apart. What
// finds no room gets a row in a list. Colours mean what they mean on the map; line types, hatching and darkness say
// the same again for eyes and printers that see no colours.
package drawing

import (
	"runnel/analysis/study"
	"runnel/export/drawing/label"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// Options choose the sheet and the scale; the zero value takes letter or A4 by the units of the results, and
// the largest usual scale that fits.
type Options struct {
	Sheet sheet.Size
	Scale sheet.Scale
	Spots bool // the spots are marked, with their elevations as far as there is room
}

// Sizes on the sheet [mm].
const (
	margin   = 8.0
	gap      = 4.0
	panelW   = 80.0 // of the panel beside the plan
	panelH   = 97.0 // of the panel below the plan
	leading  = 1.28 // distance of lines in sizes of the typeface
	northH   = 13.0 // strip with scale bar and north arrow
	roomSide = 13.0 // beside the roof, for dimensions and labels
	roomTop  = 8.0
)

// plan is one sheet being drawn.
type plan struct {
	label.Placer
	b     *record.Book
	s     *study.Study
	u     record.Units
	o     Options
	scene *scene.Scene
	v     *view
	scale sheet.Scale
	field scene.Rect // of the plan
	panel scene.Rect // of the texts
	below bool       // the panel lies below the plan

	em     float64 // typeface of labels [mm]
	textEm float64 // typeface of the panel [mm]

	left    []string // labels that found no room and are listed
	picture bool     // without a list: what finds no room is left out
	missing int      // labels that found no room and are not
	marked  spotCount
	keyed   map[string]bool
	extra   []KeyRow // of a canvas
}

// labelSizes are the sizes of labels [mm]: the largest is taken at which hardly more are left out than at the smallest and
// none goes far from its place.
var labelSizes = []float64{2.4, 2.7, 3}

const (
	fewMissing  = 3    // more labels may be left out for the sake of a larger type, but none of those that are listed
	moreLeading = 15.0 // and leaders may be so much longer in all [mm]
)

// Plan draws the plan of b's roof. Where the list of what to do is too long for the sheet it goes on, on more sheets. The
// error is a *sheet.FitError where the scale asked for is too large for the sheet.
func Plan(b *record.Book, o Options) ([]*scene.Scene, error) {
	small, err := drawn(b, o, labelSizes[0])
	if err != nil {
		return nil, err
	}
	best := small
	for _, em := range labelSizes[1:] {
		p, err := drawn(b, o, em)
		if err != nil {
			return nil, err
		}
		if len(p.left) > len(small.left) || p.missing > small.missing+fewMissing || p.Leading() > small.Leading()+moreLeading {
			break
		}
		best = p
	}
	return append([]*scene.Scene{best.scene}, best.texts()...), nil
}

// drawn draws a plan with labels of a size, but for the panel.
func drawn(b *record.Book, o Options, em float64) (*plan, error) {
	p := &plan{b: b, s: b.Study, u: b.Units, o: o, em: em, v: newView(b.Study.Roof), keyed: map[string]bool{}}
	return p, p.draw()
}

// draw draws all but the panel.
func (p *plan) draw() error {
	if p.o.Sheet.W == 0 {
		p.o.Sheet = sheet.UsualFor(p.u)
	}
	if err := p.layOut(); err != nil {
		return err
	}
	p.scene.Title = p.title()
	for _, name := range []string{
		"catchments", "flood", "ponds", "contours", "curbs", "lines", "edges", "spots", "ways", "leaders", "symbols", "labels", "frame", "key",
		"texts",
	} {
		p.scene.Layer(name)
	}
	p.catchments()
	p.flood()
	p.ponds()
	p.contours()
	p.curbs()
	p.folds()
	p.edges()
	p.ways()
	p.furniture()
	p.symbols()
	p.deepest()
	p.sills()
	p.labels()
	p.markSpots()
	return nil
}

// title returns the name of the drawing.
func (p *plan) title() string { return p.name() + ", roof plan" }

func (p *plan) layer(name string) *scene.Layer { return p.scene.Layer(name) }

// text returns one measured line of text.
func text(at scene.Point, s string, size float64, bold bool, anchor scene.Anchor) scene.Text {
	return scene.Text{
		At: at, String: s, Size: size, Bold: bold, Anchor: anchor, Colour: palette.Ink,
		Width: scene.Hundredth(typeface.Width(s, size, bold)),
	}
}

// uses notes that a symbol stands on the sheet, so that the key explains it.
func (p *plan) uses(symbol string) { p.keyed[symbol] = true }
