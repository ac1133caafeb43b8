package papers

import (
	"cmp"
	"strconv"
	"strings"

	"runnel/analysis/roof"
	"runnel/export/record"
)

// cuts lists what is cut into the roof, by what and where, and says why; nil where nothing is.
func (w *writer) cuts() (cuts [][]string, why string) {
	if w.Book.Study.KeepOff.Is() {
		return nil, ""
	}
	cut := func(what, where string) {
		for _, c := range cuts {
			if c[1] == what && c[2] == where {
				return
			}
		}
		cuts = append(cuts, []string{strconv.Itoa(len(cuts) + 1), what, where})
	}
	for i := range w.Book.NextCores {
		cut("core "+w.Book.Names.Local(w.Book.Names.NextCore(i)), w.place(w.Book.NextCores[i].Plan))
	}
	a, o := w.answer()
	for i := range a.Questions {
		if q := &a.Questions[i]; strings.Contains(strings.ToLower(w.Book.Units.SayText(q.Ask)), "core") {
			cut("core", w.place(q.At))
		}
	}
	why = "to find out what it is made of"
	for i := range o.Changes {
		if c := &o.Changes[i]; c.Opened > 0 {
			cut(c.Phrase()+"; opens "+w.Book.Units.SayArea(c.Opened), w.place(c.At))
			why = "to find out what it is made of and to mend what holds water"
		}
	}
	return cuts, why
}

// refused reports whether the owner said that nothing is cut.
func (w *writer) refused() bool {
	a := w.answeredCuts(roof.AskCuts)
	return a != nil && !a.Yes
}

// warrantor is the notice that goes out before anybody cuts into the roof.
func (w *writer) warrantor() *Paper {
	cuts, why := w.cuts()
	if cuts == nil || w.refused() {
		return nil
	}
	to := "the warrantor, ____________________"
	if v := &w.Book.Study.Roof.Visit; v.Warrantor != "" {
		to = v.Warrantor
	}
	return &Paper{Name: string(roof.ToWarrantor), Title: "Notice to the warrantor", To: to, Parts: []Part{
		{Heading: "What was found", Texts: append(seen(w.Book.Study.Roof), w.found()...)},
		{Heading: "What we mean to do", Texts: []string{
			"We mean to cut into this roof at the places below, " + why + ". Nothing is cut before your answer.",
			"Each cut is checked first for asbestos, conduit and post-tensioned cable, and made watertight the same day. " + w.authorised(),
		}},
		{Heading: "Cuts", Table: table([]string{"", "what", "where"}, cuts)},
		{Heading: "Please tell us", Texts: []string{goesIntoFile}, Questions: w.warrantors()},
		{Picture: true},
	}}
}

// items are what is bid on: the quantities, then unit prices for what nobody can see yet.
func (w *writer) items() [][2]string {
	u := w.Book.Units
	var out [][2]string
	if t := w.TakeOff; t != nil {
		for i := range t.Items {
			if t.Items[i].Told {
				continue
			}
			out = append(out, [2]string{u.SayText(t.Items[i].What), w.Measured(&t.Items[i])})
		}
	}
	area, length := "a square metre", "a metre"
	if u == record.US {
		area, length = "a square foot", "a foot"
	}
	for _, hidden := range []string{
		"Unit price: wet or crushed insulation taken out and laid anew, " + area,
		"Unit price: deck repaired or replaced, where an engineer says so, " + area,
		"Unit price: nailer or wood blocking replaced, " + length,
		"Unit price: base flashing renewed, " + length,
		"Unit price: drain body or scupper replaced, each",
		"Unit price: core cut and patched, each",
	} {
		out = append(out, [2]string{hidden, ""})
	}
	return out
}

// scope is what bidders get: what is done, quantities, unit prices for what is hidden, how much may be open a day.
func (w *writer) scope() *Paper {
	_, o := w.answer()
	if o.Opened == 0 || w.refused() || w.Book.Study.KeepOff.Is() || len(w.Result.EngineerFirst) > 0 || o.Urgent() {
		return nil // nothing is bid on before who has to be asked first has answered
	}
	var rows [][]string
	for i, item := range w.items() {
		amount := cmp.Or(item[1], "allow ______")
		rows = append(rows, []string{record.Count(float64(i + 1)), item[0], amount, "______"})
	}
	rules := []string{
		"Open no more in a day than is closed watertight the same day: at most ______, to be agreed. Every evening the edge of the open part is sealed, and water is kept from running under the new roof.",
		"No work while rain or frost is forecast before the seal is closed. No open flame without a hot-work permit and a fire watch.",
		"Hidden work (wet insulation, rot, a deck that gives) is shown to the owner before it is covered, measured together, and paid by the unit prices. A deck that sags or is rotten stops the work: an engineer first.",
		w.authorised() + " " + w.warranty(),
		"Outlets stay open and guarded; nothing is stored before them. Overflows are never raised or closed.",
		"The finished roof is levelled at the points of the set-out sheet, and looked at 48 hours after rain before the last payment.",
		"Coverings are tested for asbestos before they are cut.",
	}
	return &Paper{Name: "scope", Title: "Scope and allowances", To: "bidders", Parts: []Part{
		{Heading: "What is done", Steps: w.planned()},
		{Heading: "Amounts, and unit prices for what nobody can see yet", Table: table([]string{"", "what", "amount", "price"}, rows)},
		{Heading: "How it is done", Steps: rules},
		{Texts: []string{"The set-out sheet, the layout of boards and the details go with this page. " + notCertified}},
	}}
}

func (w *writer) warranty() string {
	a := w.answeredCuts(roof.AskWarranty)
	switch {
	case a == nil:
		return "Nothing is cut before the warrantor has answered."
	case a.Yes:
		return "The warranty stays in force with these cuts, says " + a.By + ", " + a.On + "."
	}
	return "The warranty does not stay in force with these cuts, says " + a.By + ", " + a.On + "."
}
