package command

import (
	"encoding/json"
	"strconv"
	"strings"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/export/record"
	"runnel/export/text"
)

// outletCaution ends every answer.
const outletCaution = "A figure of hydraulics, for level water and nothing in its way. Local code and a licensed engineer decide what an outlet must take, and whether the roof can carry the water over it."

// inletAnswer is a head and a flow of an inlet.
type inletAnswer struct {
	kind       capacity.Kind
	rating     *capacity.Rating
	head, flow float64
	asked      bool // the flow was given, and the head is the answer
	given      string
	units      record.Units
}

// linkAnswer is what a pipe or a gutter carries.
type linkAnswer struct {
	link  capacity.Link
	given string
	units record.Units
}

// figureUnit is the unit of a head or a flow: as it is said and as the JSON names it, and the decimals of both.
type figureUnit struct {
	size               float64
	name, suffix       string
	said, jsonDecimals int
}

// headUnits and flowUnits are those of heads and flows.
var (
	headUnits = map[record.Units]figureUnit{record.US: {float64(quantity.Inch), " in", "_in", 2, 4}, record.SI: {float64(quantity.Millimetre), " mm", "_mm", 0, 3}}
	flowUnits = map[record.Units]figureUnit{record.US: {float64(quantity.GallonPerMinute), " gpm", "_gpm", 1, 3}, record.SI: {float64(quantity.LitrePerSecond), " L/s", "_lps", 2, 4}}
)

// sayHead and sayFlow write a head and a flow: "1.19 in", "30 mm"; "97.5 gpm", "6.15 L/s".
func sayHead(u record.Units, head float64) string { return headUnits[u].say(head) }

func sayFlow(u record.Units, flow float64) string { return flowUnits[u].say(flow) }

func (f figureUnit) say(v float64) string {
	return strconv.FormatFloat(quantity.Round(v/f.size, f.said), 'f', -1, 64) + f.name
}

func (f figureUnit) add(o *record.Object, name string, v float64) {
	o.Number(name+f.suffix, v/f.size, f.jsonDecimals)
}

// saySource writes a source and whether it was read.
func saySource(s standard.Source) string {
	if mark := s.Mark(); mark != "" {
		return sentence(s.Text) + " " + record.Capital(mark) + "."
	}
	return sentence(s.Text)
}

// answerText gathers paragraphs with a word in the left column.
type answerText struct{ strings.Builder }

// sheetWidth and sheetLabel are the width of the page and of its left column.
const (
	sheetWidth = 92
	sheetLabel = 12
)

func (s *answerText) entry(word, what string) {
	if what == "" {
		return
	}
	column := sheetLabel
	s.WriteString(word + strings.Repeat(" ", sheetLabel-len(word)))
	for i, w := range text.Words(what) {
		switch {
		case i == 0:
		case column+1+len(w) > sheetWidth:
			s.WriteString("\n" + strings.Repeat(" ", sheetLabel))
			column = sheetLabel
		default:
			s.WriteByte(' ')
			column++
		}
		s.WriteString(w)
		column += len(w)
	}
	s.WriteByte('\n')
}

func (a *inletAnswer) result(r *capacity.Rating) string {
	if !a.asked {
		return sayFlow(a.units, r.Flow(a.head)) + " at a head of " + sayHead(a.units, a.head)
	}
	head, err := r.Head(a.flow)
	if err != nil {
		return err.Error()
	}
	return sayHead(a.units, head) + " of head for " + sayFlow(a.units, a.flow)
}

// outside says what of a rating's figure was not tested; nothing where it gives none.
func (a *inletAnswer) outside(r *capacity.Rating) string {
	head := a.head
	if a.asked {
		var err error
		if head, err = r.Head(a.flow); err != nil {
			return ""
		}
	}
	if err := r.Check(head); err != nil {
		return err.Error()
	}
	return ""
}

func (a *inletAnswer) text() string {
	var s answerText
	r := a.rating
	s.entry("OUTLET", record.Capital(a.given))
	word, lower := "FLOW", "LOWER"
	if a.asked {
		word, lower = "HEAD", "HIGHER" // what takes less needs a higher head
	}
	s.entry(word, a.result(r)+", by "+r.Method+".")
	s.entry("SOURCE", saySource(r.Source))
	s.entry("TESTED", a.tested())
	if outside := a.outside(r); outside != "" {
		s.entry("OUTSIDE", record.Capital(outside)+": take the figure as a guess.")
	}
	s.entry("NOTE", sentence(r.Note))
	a.beside(&s, lower, r.Lower)
	a.beside(&s, "CLOGGED", r.Clogged)
	for i := range r.Links {
		linkEntry(&s, a.units, &r.Links[i])
	}
	if r.Links != nil {
		s.entry("LEAST", "The "+r.Controls(a.head)+" sets the flow.")
	}
	if r.Unknown != nil {
		s.entry("NOT STATED", strings.Join(r.Unknown, ", ")+". The least of the chain is what the outlet takes.")
	}
	s.entry("CAUTION", outletCaution)
	return s.String()
}

// tested says which heads were tested.
func (a *inletAnswer) tested() string {
	r := a.rating
	if r.High == 0 {
		return ""
	}
	return "heads of " + sayHead(a.units, r.Low) + " to " + sayHead(a.units, r.High) + "."
}

// beside writes the figure of a rating that stands beside.
func (a *inletAnswer) beside(s *answerText, word string, r *capacity.Rating) {
	if r == nil {
		return
	}
	s.entry(word, a.result(r)+", by "+r.Method+". "+sentence(a.outside(r))+" "+sentence(r.Note)+" "+saySource(r.Source))
}

// linkEntry writes one link of the chain.
func linkEntry(s *answerText, u record.Units, l *capacity.Link) {
	said := record.Capital(l.Name) + ": " + sayFlow(u, l.Capacity) + ", by " + l.Method + ". " + saySource(l.Source)
	if l.Note != "" {
		said += " " + sentence(l.Note)
	}
	if l.Outside != nil {
		said += " " + sentence(l.Outside.Error())
	}
	s.entry("CHAIN", said)
	if l.Lower != nil && l.Lower.Capacity < l.Capacity {
		s.entry("", "By "+l.Lower.Method+" "+sayFlow(u, l.Lower.Capacity)+". "+saySource(l.Lower.Source))
	}
}

func (a *linkAnswer) text() string {
	var s answerText
	l := &a.link
	s.entry("OUTLET", record.Capital(a.given))
	s.entry("FLOW", sayFlow(a.units, l.Capacity)+", by "+l.Method+".")
	s.entry("SOURCE", saySource(l.Source))
	if l.Outside != nil {
		s.entry("OUTSIDE", record.Capital(l.Outside.Error())+": take the figure as a guess.")
	}
	s.entry("NOTE", sentence(l.Note))
	if l.Lower != nil && l.Lower.Capacity < l.Capacity {
		s.entry("LOWER", sayFlow(a.units, l.Lower.Capacity)+", by "+l.Lower.Method+". "+sentence(l.Lower.Note)+" "+saySource(l.Lower.Source))
	}
	s.entry("CAUTION", outletCaution)
	return s.String()
}

// sentence begins a text with a capital and ends it with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return record.Capital(s) + "."
}

// methodOf adds how a figure was made.
func methodOf(o *record.Object, method string, source standard.Source, note string, outside error) {
	o.Text("method", method)
	o.Text("source", source.Text)
	o.Bool("source_read", source.Read)
	o.Text("note", note)
	if outside != nil {
		o.Text("outside", outside.Error())
	}
}

// ratingRecord writes what a rating gives for what was asked.
func (a *inletAnswer) ratingRecord(o *record.Object, r *capacity.Rating) {
	head, flow := a.head, a.flow
	var err error
	if a.asked {
		head, err = r.Head(flow)
	} else {
		flow = r.Flow(head)
	}
	if err != nil {
		methodOf(o, r.Method, r.Source, r.Note, err)
		return
	}
	flowUnits[a.units].add(o, "flow", flow)
	headUnits[a.units].add(o, "head", head)
	methodOf(o, r.Method, r.Source, r.Note, r.Check(head))
	if r.High > 0 {
		headUnits[a.units].add(o, "tested_low", r.Low)
		headUnits[a.units].add(o, "tested_high", r.High)
	}
}

func (a *inletAnswer) record() *record.Object {
	o := &record.Object{}
	o.Text("outlet", a.kind.String())
	o.Text("units", a.units.String())
	a.ratingRecord(o, a.rating)
	for _, beside := range []struct {
		name string
		r    *capacity.Rating
	}{{"lower", a.rating.Lower}, {"half_clogged", a.rating.Clogged}} {
		if beside.r != nil {
			var inner record.Object
			a.ratingRecord(&inner, beside.r)
			o.Raw(beside.name, inner.Append(nil))
		}
	}
	if a.rating.Links != nil {
		links := make([]record.Object, len(a.rating.Links))
		for i := range links {
			links[i] = *linkRecord(a.units, &a.rating.Links[i])
		}
		o.Objects("links", links)
		o.Text("least", a.rating.Controls(a.head))
	}
	o.Texts("not_stated", a.rating.Unknown)
	o.Texts("cautions", []string{outletCaution})
	return o
}

// linkRecord writes one link, and the lower figure beside it.
func linkRecord(u record.Units, l *capacity.Link) *record.Object {
	o := &record.Object{}
	o.Text("outlet", l.Name)
	flowUnits[u].add(o, "flow", l.Capacity)
	methodOf(o, l.Method, l.Source, l.Note, l.Outside)
	if l.Lower != nil && l.Lower.Capacity < l.Capacity {
		o.Raw("lower", json.RawMessage(linkRecord(u, l.Lower).Append(nil)))
	}
	return o
}

func (a *linkAnswer) record() *record.Object {
	o := linkRecord(a.units, &a.link)
	o.Text("units", a.units.String())
	o.Texts("cautions", []string{outletCaution})
	return o
}
