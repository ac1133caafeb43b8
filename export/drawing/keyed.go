package drawing

import (
	"fmt"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/record"
)

// Sizes of the key below a picture [mm].
const (
	keyColumns = 4
	keyRowHigh = 4.2
	keySymbol  = 6.0
	keyEm      = 2.3
)

// Keyed is Picture with what its symbols mean and the labels that found no room below it, for a page that stands alone. It is at most h high.
func Keyed(b *record.Book, w, h float64) *scene.Scene {
	p := newPicture(b, w, h, roomSide, roomTop)
	p.labelled()
	p = newPicture(b, w, h-p.keyHeight(w), roomSide, roomTop)
	p.labelled()
	p.keyBelow(w)
	return p.scene
}

// labelled draws the symbols and labels.
func (p *plan) labelled() {
	p.symbols()
	for i := range p.s.Findings[:min(mostTags, len(p.s.Findings))] {
		if f := &p.s.Findings[i]; f.Geometry != nil {
			p.usesSeverity(f.Severity)
		}
	}
	for i := range p.s.Listed {
		p.pondLabel(i, p.pondWords(i)...)
	}
	for i := range p.s.Surface.Outlets {
		p.outletLabel(i)
	}
}

// unnamed returns the symbols of which a page must say what they mean: outlets and edges have their names beside them.
func (p *plan) unnamed() []keyRow {
	var out []keyRow
	for _, row := range p.keyRows() {
		switch row.name {
		case "drain", "overflow drain", "scupper", "overflow scupper", "gutter", "free":
			continue
		case "urgent", "repair", "note":
			row.meaning += ", as in the report"
		case "core":
			row.meaning = "core that was cut"
		}
		if p.keyed[row.name] {
			out = append(out, row)
		}
	}
	return out
}

// keyHeight is how high the key of a picture is.
func (p *plan) keyHeight(w float64) float64 {
	rows := (len(p.unnamed()) + keyColumns - 1) / keyColumns
	return keyRowHigh * float64(rows+len(p.listLines(w)))
}

// listLines are the labels that found no room, by their numbers, in lines of a width.
func (p *plan) listLines(w float64) []string {
	var out []string
	for i, words := range p.left {
		entry := fmt.Sprintf("L%d  %s", i+1, words)
		if n := len(out); n > 0 && typeface.Width(out[n-1]+";  "+entry, keyEm, false) <= w {
			out[n-1] += ";  " + entry
			continue
		}
		out = append(out, typeface.Cut(entry, keyEm, w, false))
	}
	return out
}

// keyBelow adds the key below a picture.
func (p *plan) keyBelow(w float64) {
	l := p.scene.Layer("key")
	y := p.scene.Height
	rows := p.unnamed()
	for i, row := range rows {
		x, top := float64(i%keyColumns)*w/keyColumns, y+float64(i/keyColumns)*keyRowHigh
		row.draw(l, scene.Rect{X: scene.Hundredth(x), Y: scene.Hundredth(top + 0.4), W: keySymbol, H: 3.2})
		words := typeface.Cut(row.meaning, keyEm, w/keyColumns-keySymbol-1.5, false)
		l.Texts = append(l.Texts, text(scene.Point{X: scene.Hundredth(x + keySymbol + 1), Y: scene.Hundredth(top + 2.8)}, words, keyEm, false, scene.Start))
	}
	y += keyRowHigh * float64((len(rows)+keyColumns-1)/keyColumns)
	for _, line := range p.listLines(w) {
		l.Texts = append(l.Texts, text(scene.Point{X: 0, Y: scene.Hundredth(y + 2.8)}, line, keyEm, false, scene.Start))
		y += keyRowHigh
	}
	p.scene.Height = scene.Hundredth(y)
}
