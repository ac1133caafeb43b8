package papers

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/model"
	"runnel/export/page"
)

// engineer is what the structural engineer gets: what was found, numbered questions, depths, loads, cores and a plan.
func (w *writer) engineer() *Paper {
	a := w.keepOffFirst("engineer", "To the structural engineer: water on the roof", "the structural engineer")
	a.Parts = append(a.Parts, Part{Heading: "What was found", Texts: append(w.found(), w.noted()...)})
	a.Parts = append(a.Parts, Part{Heading: "Questions", Texts: []string{w.waits()}, Questions: w.engineers()})
	if t := w.pondTable(); t != nil {
		a.Parts = append(a.Parts, Part{Heading: "Water that stands, each pond full to its lip", Table: t})
	}
	if t := w.loads(); len(t) > 0 {
		a.Parts = append(a.Parts, Part{Heading: "Loads", Texts: t})
	}
	if t := w.coreTable(); t != nil {
		a.Parts = append(a.Parts, Part{Heading: "Cores, layers from the top", Table: t})
	}
	a.Parts = append(a.Parts, Part{Texts: []string{
		"Depths are on the surveyed shape, taken as rigid: sag under the water, and snow, are not in them. " + notCertified,
		"The plan to scale, the report and the elevations of all spots go with this page.",
	}, Picture: true, Must: true})
	return a
}

// waits says what waits for the answers.
func (w *writer) waits() string {
	if w.Book.Study.KeepOff.Is() || len(w.Result.EngineerFirst) > 0 {
		return askFirst
	}
	return "What you answer goes into the roof's file with your name and the date, and is compared with from then on."
}

// asks is the page of somebody who decides; nil where nothing is asked.
func (w *writer) asks(to roof.Recipient) *Paper {
	questions := w.questionsTo(to)
	if len(questions) == 0 {
		return nil
	}
	waits := choose.If(open(questions), askFirst+" "+goesIntoFile, goesIntoFile)
	a := w.keepOffFirst(string(to), "Questions to the "+to.Who(), "the "+to.Who())
	a.Parts = append(a.Parts,
		Part{Heading: "What was found", Texts: w.found()},
		Part{Heading: "Questions", Texts: []string{waits}, Questions: questions},
		Part{Heading: "What is planned", Steps: w.planned(), Picture: true},
		Part{Texts: []string{notCertified}},
	)
	return a
}

// open reports whether a question has no answer.
func open(questions []Question) bool {
	return slices.ContainsFunc(questions, func(q Question) bool { return q.Answer == nil })
}

// goesIntoFile says what becomes of an answer.
const goesIntoFile = "What you answer goes into the roof's file with your name and the date."

func (w *writer) planned() []string {
	_, o := w.answer()
	var out []string
	for i := range o.Changes {
		c := &o.Changes[i]
		if c.Kind == mend.Clear {
			continue
		}
		out = append(out, sentence(w.guard(c.What)))
	}
	return out
}

// pondTable lists the ponds with level, depth, area, weight and load.
func (w *writer) pondTable() *page.Table {
	b := w.Book
	var rows [][]string
	for i := range b.Study.Listed {
		l := &b.Study.Listed[i]
		p := &b.Study.Ponds.Ponds[l.Pond]
		rows = append(rows, []string{
			l.ID, b.Units.SayElevation(p.Level), b.SayPondDepth(i), b.SayPondArea(i), b.SayPondWeight(i), b.SayPondLoad(i),
			b.Units.SayText(b.Study.Places.Of(w.pit(i))),
		})
	}
	if rows == nil {
		return nil
	}
	return table([]string{"pond", "level", "deep", "area", "weighs", "load at the deepest", "deepest place"}, rows)
}

// coreTable lists the cores; nil where none was cut.
func (w *writer) coreTable() *page.Table {
	if w.Assembly == nil || len(w.Book.Study.Roof.Cores) == 0 {
		return nil
	}
	var rows [][]string
	for i := range w.Assembly.Cores {
		c := &w.Assembly.Cores[i]
		level := "-"
		if c.HasDeck {
			level = w.Book.Units.SayElevation(c.Deck)
		}
		rows = append(rows, []string{c.ID, w.place(w.Book.Study.Roof.Cores[i].Plan), model.Layers(w.Book.Units, c), level})
	}
	return table([]string{"core", "where", "layers", "deck level"}, rows)
}

func (w *writer) place(p orb.Point) string { return w.Book.Units.SayText(w.Book.Study.Places.Of(p)) }

// loads says the water with outlets blocked, the assembly's dead load and what the first answer adds.
func (w *writer) loads() []string {
	u := w.Book.Units
	var out []string
	if s := w.Book.Blocked(); s != "" {
		out = append(out, s)
	} else if l := w.Book.Study.RainLoad; l != nil && l.Depth > 0 {
		out = append(out, fmt.Sprintf("With every primary outlet blocked water stands at least %s deep, %s, %s in all; the head of the flow is not in it, since no rate of rain was stated.", u.SayDepth(l.Depth), u.SayPressure(l.Load), u.SayMass(l.Weight)))
	}
	if limit, ok := w.Book.Study.Roof.Structure.Limit(); ok {
		out = append(out, "The roof may hold "+u.SayPressure(limit)+" of water, says "+w.Book.Study.Roof.Structure.LoadLimitBy+".")
	}
	_, o := w.answer()
	if added := u.SayPressure(o.Most); o.Most > 0 && added != u.SayPressure(0) {
		out = append(out, "The first answer adds at most "+added+" of dead load.")
	}
	if l := w.Assembly; l != nil && l.Load.Cores > 0 && l.Load.Known {
		out = append(out, "Dead load from membrane to deck, as the cores tell: on average "+u.SayPressure(l.Load.Mean)+", at most "+u.SayPressure(l.Load.Greatest)+".")
	}
	return out
}

// noted says what the visit noted that bears on load: the coverings, and leaks.
func (w *writer) noted() []string { return noted(&w.Book.Study.Roof.Visit) }

// guard puts "once the engineer lets people on" before what nobody may do now.
func (w *writer) guard(t finding.Text) string {
	return w.Book.Units.SayText(w.Book.Study.KeepOff.Guard(t))
}

// pit is the deepest place of a listed pond.
func (w *writer) pit(i int) orb.Point {
	s := w.Book.Study
	v := s.Ponds.Ponds[s.Listed[i].Pond].Pits[0]
	return orb.Point{s.Surface.Cut.X[v], s.Surface.Cut.Y[v]}
}
