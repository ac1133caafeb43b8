package papers

import (
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
	"runnel/export/taped"
)

// tapeWriter gathers the papers of a roof that was measured with tape, chalk and ruler, and a few heights at most.
type tapeWriter struct{ *taped.Book }

// OfTape returns the papers of such a roof: what is known, with the range in which a weight lies, what the engineer is asked, and what to measure next.
func OfTape(b *taped.Book) []*Paper {
	w := &tapeWriter{b}
	all := []*Paper{w.letter(), w.engineer()}
	if len(b.Survey.Next) > 0 {
		all = append(all, w.readings())
	}
	for _, a := range all {
		a.roof, a.units = b.Survey.Roof, b.Units
		a.picture, a.least = func(width, height float64) *scene.Scene { return taped.Picture(b, width, height) }, plainPicture
	}
	return all
}

// TapeQuestions returns what the structural engineer is asked about such a roof, the answered ones among them, by their numbers.
func TapeQuestions(b *taped.Book) []Question { return (&tapeWriter{b}).questions() }

func (w *tapeWriter) begin(name, title, to string) *Paper {
	a := &Paper{Name: name, Title: title, To: to}
	if s := w.Survey; s.KeepOff.Is() {
		a.Parts = append(a.Parts, Part{Texts: []string{w.Units.SayText(s.KeepOff.First()) + " " + record.Decides(finding.Engineer)}})
	}
	return a
}

// found says the worst thing known, and the ponds that were seen.
func (w *tapeWriter) found() []string {
	lead := w.Lead()
	out := []string{lead.Text}
	if lead.Word != "PONDS" && len(w.Survey.Ponds) > 0 {
		out = append(out, w.Ponds())
	}
	return out
}

func (w *tapeWriter) letter() *Paper {
	a := w.begin("letter", "What was found on the roof, and what comes next", "the owner")
	r := w.Survey.Roof
	var texts []string
	if s := record.SeenOn(r); s != "" {
		texts = append(texts, s)
	}
	texts = append(texts, w.found()...)
	if held := w.Held(); held != "" {
		texts = append(texts, "What holds the water: "+held)
	}
	ponds := w.pondTable()
	if ponds != nil && len(ponds.Rows) == 1 { // which the text describes
		ponds = nil
	}
	a.Parts = append(a.Parts,
		Part{Heading: "What was found", Texts: texts, Table: ponds, Picture: true},
		Part{Heading: "What comes next", Texts: []string{w.cannot() + " " + w.NextTier()}, Steps: w.steps()},
	)
	done := "What can be done, how much of the roof it opens and what it costs is worked out once heights have been read all over the roof."
	if mend := w.Mend(); mend != "" {
		done = mend + " " + done
	}
	a.Parts = append(a.Parts, Part{Heading: "What can be done", Texts: []string{done}})
	if len(w.Survey.Ponds) > 0 {
		costs := waitingCosts(&r.Visit)
		if w.urgent() {
			costs = notOffered
		}
		a.Parts = append(a.Parts, Part{Heading: "What waiting costs", Texts: []string{costs}})
	}
	questions, known := owners(&r.Visit)
	if known != "" {
		a.Parts = append(a.Parts, Part{Heading: "What we have noted", Texts: []string{known}})
	}
	if len(questions) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "What we need from you", Steps: questions})
	}
	last := Part{Texts: []string{notCertified}}
	if !w.Survey.KeepOff.Is() {
		last.Signed = []string{"Please take the readings that are named above, signed"}
	}
	a.Parts = append(a.Parts, last)
	return a
}

// cannot says what the survey leaves open.
func (w *tapeWriter) cannot() string {
	text := w.CannotSay()
	return "This survey does not tell " + record.Small(text)
}

// steps are what to do next without what keeps people off, which stands first on the paper.
func (w *tapeWriter) steps() []string {
	steps := w.Steps()
	if w.Survey.KeepOff.Is() {
		steps = steps[1:]
	}
	for i := range steps {
		steps[i] = strings.ReplaceAll(steps[i], "NEXT SPOTS lists them in walking order", "the sheet of readings lists them in walking order")
	}
	return steps
}

func (w *tapeWriter) urgent() bool {
	if w.Survey.KeepOff.Is() {
		return true
	}
	return slices.ContainsFunc(w.Survey.Findings, func(x finding.Finding) bool { return x.Severity == finding.Urgent })
}

// pondTable lists the ponds with the range of what they weigh, the upper figure first; nil where none was seen.
func (w *tapeWriter) pondTable() *page.Table {
	var rows [][]string
	for i := range w.Survey.Ponds {
		p := &w.Survey.Ponds[i]
		if p.Water == nil {
			continue
		}
		row := []string{p.ID, w.Units.SayText(p.Where), w.Units.SayArea(p.Bowl.Area), "not read", "-", "-", "-", "-"}
		if p.Depth > 0 {
			row[3], row[4] = w.Units.SayDepth(p.Depth), w.Units.SayPressure(p.Load)
			row[5], row[6], row[7] = w.Units.SayMass(p.WeightMost), w.Units.SayMass(p.Weight), w.Units.SayMass(p.WeightLeast)
		}
		rows = append(rows, row)
	}
	if rows == nil {
		return nil
	}
	return table([]string{"pond", "where", "area", "deepest read", "load there", "weighs at most", "likely", "at least"}, rows)
}

func (w *tapeWriter) engineer() *Paper {
	a := w.begin("engineer", "To the structural engineer: water on the roof", "the structural engineer")
	r := w.Survey.Roof
	a.Parts = append(a.Parts, Part{Heading: "What was found", Texts: append(append(w.found(), w.Measured()), noted(&r.Visit)...)})
	waits := choose.If(w.urgent(), askFirst, goesIntoFile)
	a.Parts = append(a.Parts, Part{Heading: "Questions", Texts: []string{waits}, Questions: w.questions()})
	if t := w.pondTable(); t != nil {
		a.Parts = append(a.Parts, Part{Heading: "Water that was seen", Table: t, Texts: []string{
			"Use the upper figure. The least is a bottom that runs straight from the edge to each depth that was read, the most a flat pan of those depths; one sounding is seldom the deepest.",
		}})
	}
	var loads []string
	if limit, ok := r.Structure.Limit(); ok {
		loads = append(loads, "The roof may hold "+w.Units.SayPressure(limit)+" of water, says "+r.Structure.LoadLimitBy+".")
	}
	for i := range r.Cores {
		if d := r.Cores[i].Deck; d != "" {
			loads = append(loads, "Deck, as core "+r.Cores[i].ID+" says: "+d+".")
		}
	}
	if len(loads) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "Loads", Texts: loads})
	}
	a.Parts = append(a.Parts, Part{Heading: "What is not known", Texts: []string{
		w.cannot() + " How deep water stands with outlets blocked is not known either: that needs heights all over the roof. Sag under the water, and snow, are not in these figures. " + notCertified,
	}, Picture: true, Must: true})
	return a
}

// questions gathers what the engineer is asked.
func (w *tapeWriter) questions() []Question {
	var l list
	r := w.Survey.Roof
	if w.Survey.KeepOff.Is() {
		l.add("", orb.Point{}, mayGoUp)
	}
	for i := range w.Survey.Findings {
		if f := &w.Survey.Findings[i]; f.Severity >= finding.Repair && f.Kind == finding.NoOverflow {
			l.add("", orb.Point{}, sentence(w.Units.SayText(f.What))+" Where may the deck or a parapet be opened for one?")
		}
	}
	if _, known := r.Structure.Limit(); !known {
		l.add(roof.AskLoad, orb.Point{}, loadQuestion)
	}
	if n := len(w.Survey.Ponds); n > 0 && w.Survey.Ponds[0].WeightMost > 0 {
		l.add("", orb.Point{}, "Is the upper figure of what the ponds weigh a concern for this roof, and what has to be measured before you can say?")
	}
	return l.numbered(r, roof.ToEngineer, func(p orb.Point) string { return w.Units.SayText(w.Survey.Where(p)) })
}

// readings is the sheet of what to measure next, in walking order.
func (w *tapeWriter) readings() *Paper {
	a := w.begin("readings", "What to measure next", "who goes up")
	var rows [][]string
	for i := range w.Survey.Next {
		n := &w.Survey.Next[i]
		rows = append(rows, []string{"X" + strconv.Itoa(i+1), w.Place(n), w.Units.SayText(n.For), "__________"})
	}
	list := table([]string{"spot", "where", "what for", "rod"}, rows)
	if heads, grid, ok := w.GridTable(); ok {
		list = table(heads, grid)
		list.Groups = []page.Group{{Over: 1}, {Head: "from W wall", Over: len(heads) - 1}}
	}
	a.Parts = append(a.Parts,
		Part{Texts: []string{w.NextTier() + " Read all rods from one set-up, in this order; read the first once more at the end. Never reach into a drain under water. Type the readings into the file of next spots, beside their places, and check both files together."}},
		Part{Table: list, Picture: true},
	)
	return a
}
