package report

import (
	"html/template"
	"strings"

	"runnel/export/drawing"
	"runnel/export/model"
	"runnel/export/record"
)

// Front is what a phone shows before anybody scrolls: the worst thing known, the roof with its water, and the first thing to do.
type Front struct {
	KeepOff string      // the step that comes before all others, empty where people may go onto the roof
	Lead    model.Entry // the worst thing known
	Picture template.HTML
	Shaded  string // says which water the picture shades; empty where that is each pond, full to its lip
	Step    string // the first thing to do, where nobody is told to keep off
	Rest    []model.Entry
}

// pictureWidth and pictureHeight bound the picture [mm]: on a phone a label is then as large as the text.
const pictureWidth, pictureHeight = 86.0, 98.0

// newFront takes the lead and the first step out of the first screen.
func newFront(b *record.Book, first []model.Entry) (Front, error) {
	var f Front
	if first[0].Word == model.FirstOfAll {
		f.KeepOff, first = first[0].Steps[0], first[1:]
	}
	f.Lead = first[0]
	for _, e := range first[1:] {
		if len(e.Steps) > 0 && f.KeepOff == "" {
			f.Step, e.Steps, e.Start = e.Steps[0], e.Steps[1:], 2
			if len(e.Steps) == 0 && len(e.Texts) == 0 {
				continue
			}
		}
		f.Rest = append(f.Rest, e)
	}
	if w := b.DesignWater(); b.Study.Storm != nil && w != nil && len(w.Bands) > 0 {
		f.Shaded = "Shaded: the greatest water with " + w.Case + "."
	}
	picture, err := inline(drawing.Brief(b, pictureWidth, pictureHeight))
	f.Picture = template.HTML(strings.ReplaceAll(string(picture), `<g id="plan-`, `<g id="front-`))
	return f, err
}
