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
	Step    string // the first thing to do, where nobody is told to keep off
	Rest    []FrontEntry
}

// FrontEntry is a word of the rest with its paragraphs; Start is the number of its first step.
type FrontEntry struct {
	model.Entry
	Start int
}

// pictureWidth and pictureHeight bound the picture [mm]: on a phone a label is then as large as the text.
const pictureWidth, pictureHeight = 86.0, 98.0

// newFront takes the lead and the first step out of the first screen.
func newFront(b *record.Book, first []model.Entry) (Front, error) {
	f := Front{Lead: first[0]}
	for _, e := range first[1:] {
		if len(e.Steps) > 0 {
			if _, off := b.KeepOff(); off {
				f.KeepOff = e.Steps[0]
			} else {
				f.Step = e.Steps[0]
			}
			e.Steps = e.Steps[1:]
			if len(e.Steps) == 0 && len(e.Texts) == 0 {
				continue
			}
			f.Rest = append(f.Rest, FrontEntry{Entry: e, Start: 2})
			continue
		}
		f.Rest = append(f.Rest, FrontEntry{Entry: e})
	}
	picture, err := inline(drawing.Brief(b, pictureWidth, pictureHeight))
	f.Picture = template.HTML(strings.ReplaceAll(string(picture), `<g id="plan-`, `<g id="front-`))
	return f, err
}
