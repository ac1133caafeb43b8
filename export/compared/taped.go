package compared

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/bounds"
	"runnel/analysis/change"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/record"
	"runnel/export/taped"
	"runnel/export/text"
)

// Taped is two surveys of which the later one, at least, was made with tape, chalk and ruler, with what changed.
type Taped struct {
	Before, After *taped.Book // Before is nil where the first is a planned roof
	Result        *change.Taped
	*Acceptance   // nil where nothing was planned
	planned       *roof.Roof
}

// NewTaped compares two surveys by tape.
func NewTaped(before, after *taped.Book, o change.Options) *Taped {
	return &Taped{Before: before, After: after, Result: change.OfTape(before.Survey, after.Survey, o)}
}

// AcceptTaped compares the rods that were read on a finished roof with the set-out points of the planned one.
func AcceptTaped(planned *record.Book, after *taped.Book, limit quantity.Length) (*Taped, error) {
	list, err := accept(planned, after.Units, limit, func(wanted []change.Wanted) []change.Place {
		return change.AcceptReadings(planned.Study, after.Survey, wanted, limit)
	}, func(w change.Wanted) change.Place {
		return change.AcceptReadInlet(planned.Study, after.Survey, w, limit)
	})
	return &Taped{After: after, Result: &change.Taped{}, Acceptance: list, planned: planned.Study.Roof}, err
}

// Worst is the severity of what changed, ok false where nothing did: new or more water and a place outside the limit are to be repaired; what is not
// resolved, and a height that changed, are noted.
func (c *Taped) Worst() (worst finding.Severity, ok bool) {
	worst, ok = c.worst()
	note := func(s finding.Severity) {
		if !ok || s > worst {
			worst, ok = s, true
		}
	}
	for i := range c.Result.Waters {
		switch c.Result.Waters[i].State {
		case change.New, change.More, change.Mixed, change.Parted:
			note(finding.Repair)
		case change.Unresolved:
			note(finding.Note)
		case change.Gone, change.Smaller, change.Joined, change.Deeper, change.Less, change.Same:
		}
	}
	for i := range c.Result.Readings {
		if c.Result.Readings[i].Significant {
			note(finding.Note)
		}
	}
	return worst, ok
}

func (c *Taped) u() record.Units { return c.After.Units }

func (c *Taped) where(p orb.Point) string { return c.u().SayText(c.After.Survey.Where(p)) }

// WriteText writes the page.
func (c *Taped) WriteText(w io.Writer) error {
	l := text.NewLines()
	l.Title(c.title())
	s := c.After.Survey
	if s.KeepOff.Is() {
		l.Entry("FIRST", c.u().SayText(s.KeepOff.First())+" "+record.Decides(finding.Engineer))
	}
	if c.Acceptance != nil {
		l.Entry("SET OUT", c.accepted())
	}
	if c.Before != nil {
		l.Entry("PONDS", c.sayPonds())
		if t := c.held(); t != "" {
			l.Entry("HELD BY", t)
		}
		l.Entry("LEVELS", c.levels())
	}
	l.Entry("SURVEYS", c.surveys())
	l.Entry("LIMIT", "This compares what was chalked, sounded and read. It does not say why it changed, nor that the roof can carry the water. That is for a structural engineer.")
	listed(l, "Ponds", c.pondRows())
	if len(c.Result.Waters) > 0 {
		l.Paragraph("An area and a depth lie in their ranges in nine cases of ten, by the errors of chalk, tape and ruler. A weight lies between that over a bottom that runs straight from the edge to each depth and that of a flat pan.")
	}
	listed(l, "Heights read in both surveys", c.readingRows())
	if c.Acceptance != nil {
		listed(l, "Places that were set out", c.placeRows())
	}
	return writeEnd(w, l, s.Cautions)
}

func (c *Taped) title() string {
	r := c.After.Survey.Roof
	if c.Acceptance != nil {
		return r.Name + ": the finished roof and what was planned"
	}
	if before := c.Before.Survey.Roof.Surveyed; before != "" && r.Surveyed != "" {
		return fmt.Sprintf("%s: %s and %s", r.Name, before, r.Surveyed)
	}
	return r.Name + ": two surveys"
}

// name is what a pond is called: as it is now, and as it was where that differs.
func (c *Taped) name(w *change.Water) string {
	before, after := "", ""
	if w.Before >= 0 {
		before = c.Before.Survey.Ponds[w.Before].ID
	}
	if w.After >= 0 {
		after = c.After.Survey.Ponds[w.After].ID
	}
	switch {
	case after == "":
		return before
	case before == "" || before == after:
		return after
	}
	return after + " (" + before + " before)"
}

// sayPonds says of each pond in one sentence what became of it.
func (c *Taped) sayPonds() string {
	if len(c.Result.Waters) == 0 {
		return "No water was chalked in either survey."
	}
	var out []string
	for i := range c.Result.Waters {
		out = append(out, c.sayPond(&c.Result.Waters[i]))
	}
	return strings.Join(out, " ")
}

func (c *Taped) sayPond(w *change.Water) string {
	name := c.name(w)
	switch w.State {
	case change.Gone:
		if w.Unsure {
			return name + " is gone, or it had dried: " + c.notLooked(c.After.Survey, "later") + "."
		}
		return name + " is gone: so soon after rain it would still stand."
	case change.New:
		if w.Unsure {
			return name + " is new, or it had dried before: " + c.notLooked(c.Before.Survey, "earlier") + "."
		}
		return name + " is new."
	case change.Joined:
		return c.Before.Survey.Ponds[w.Before].ID + " has run together with " + c.After.Survey.Ponds[w.After].ID + "."
	case change.Parted:
		return c.After.Survey.Ponds[w.After].ID + " was part of " + c.Before.Survey.Ponds[w.Before].ID + "."
	case change.More, change.Smaller, change.Mixed:
		var said []string
		for _, m := range c.measures(w) {
			if t := m.Trend(); t != 0 {
				said = append(said, m.what+" "+m.say(m.Before)+" before, "+m.say(m.After)+" now")
			}
		}
		lead := map[change.State]string{change.More: "holds more water", change.Smaller: "holds less water", change.Mixed: "has changed"}[w.State]
		return name + " " + lead + ": " + strings.Join(said, "; ") + "." + c.dried(w)
	case change.Unresolved, change.Deeper, change.Less, change.Same:
	}
	return name + ": a change is not resolved; the ranges overlap." + c.dried(w)
}

// notLooked says why no water seen shows nothing.
func (c *Taped) notLooked(s *tape.Survey, which string) string {
	if h := s.Roof.Visit; h.HasHours {
		return "the " + which + " survey was " + record.SayHours(h.Hours) + " after rain"
	}
	return "the " + which + " survey does not say how long after rain it was"
}

// dried says what the hours since rain do to a comparison.
func (c *Taped) dried(w *change.Water) string {
	if w.Before < 0 || w.After < 0 || c.Before.Survey.Ponds[w.Before].Water == nil || c.After.Survey.Ponds[w.After].Water == nil {
		return ""
	}
	const least = 0.0005 // m; less dries than a ruler tells
	switch d := w.Drying; {
	case !d.Known:
		return " The hours since rain are not noted in both surveys: part of the difference may have dried."
	case d.Most >= least:
		return " The ranges allow for " + c.u().SayDepth(d.Most) + " that may have dried more now."
	case d.Most <= -least:
		return " The ranges allow for " + c.u().SayDepth(-d.Most) + " that may have dried more then."
	}
	return ""
}

// measured is a measure with what it is of and how it is written.
type measured struct {
	change.Measure
	what string
	one  func(float64) string
}

// say writes a range.
func (m *measured) say(r bounds.Range) string {
	if math.IsInf(r.High, 1) {
		return m.one(r.Low) + " or more"
	}
	low, high := m.one(r.Low), m.one(r.High)
	return choose.If(low == high, low, low+" to "+high)
}

// measures are what was chalked and sounded of a pond.
func (c *Taped) measures(w *change.Water) []measured {
	u := c.u()
	return []measured{{w.Area, "area", u.SayArea}, {w.Depth, "deepest", u.SayDepth}, {w.Weight, "weight", u.SayMass}, {w.Full, "depth when full", u.SayDepth}}
}

// held says what the heights tell of each pond in both surveys: how high the inlet and the roof before it stand over the lowest place. That needs no bench mark.
func (c *Taped) held() string {
	var out []string
	for i := range c.Result.Waters {
		w := &c.Result.Waters[i]
		var said []string
		for _, m := range []measured{{w.Inlet, "the inlet over the lowest place", c.u().SayDepth}, {w.Rise, "what a rise before it adds", c.u().SayDepth}} {
			if !m.Known || max(m.Before.High, m.After.High) <= 0 { // no rise before, none now
				continue
			}
			end := ", not resolved"
			switch m.Trend() {
			case 1:
				end = ", higher now"
			case -1:
				end = ", lower now"
			}
			said = append(said, m.what+": "+m.over(m.Before)+" before, "+m.over(m.After)+" now"+end)
		}
		if len(said) > 0 {
			out = append(out, c.name(w)+": "+strings.Join(said, "; ")+".")
		}
	}
	return strings.Join(out, " ")
}

// over writes a range of a difference of heights, of which what lies under nought says nothing more.
func (m *measured) over(r bounds.Range) string {
	return m.say(bounds.Range{Low: max(0, r.Low), High: max(0, r.High)})
}

// levels says what the heights that were read at the same places show.
func (c *Taped) levels() string {
	r := c.Result
	switch {
	case r.Shared == 0:
		return "No place has a height in both surveys."
	case r.Datum == change.NoDatum:
		return fmt.Sprintf("%s a height in both surveys, but nobody stated the level's line of sight, so they hang on nothing that both share. Read one bench mark in both and work out elevations with runnel reduce, or compare with --level, which takes off the shift as a whole.", plural(r.Shared, "place has", "places have"))
	case r.Datum == change.TooFewSame:
		return fmt.Sprintf("Only %s a height in both surveys; --level takes five or more to find the shift as a whole.", plural(r.Shared, "place has", "places have"))
	}
	changed, worst := 0, -1
	for i := range r.Readings {
		if !r.Readings[i].Significant {
			continue
		}
		if changed++; worst < 0 || math.Abs(r.Readings[i].Rise) > math.Abs(r.Readings[worst].Rise) {
			worst = i
		}
	}
	said := fmt.Sprintf("No place changed by more than the errors of both surveys, of %d that were read twice.", len(r.Readings))
	if worst >= 0 {
		p := &r.Readings[worst]
		said = fmt.Sprintf("Of %d places that were read twice, %d changed by more than the errors of both surveys. The largest, %s, %s, give or take %s.",
			len(r.Readings), changed, p.What, moved(c.u(), p.Rise), c.u().SayDepth(p.Error))
	}
	if s := sayShift(c.u(), &r.Shift); s != "" {
		said += " " + s
	}
	return said
}

// surveys says what kind of surveys were compared, and what they cannot tell.
func (c *Taped) surveys() string {
	if c.Before == nil {
		return c.After.Measured() + " A rod within 0.5 m of a place that was set out is compared with the planned roof where the rod stood."
	}
	said := "Before: " + c.Before.Measured() + " Now: " + c.After.Measured()
	return said + " Without heights all over the roof in both, nothing is said of where the roof rose or sank between these places, nor of ponds that nobody saw."
}

// notKnown is how a cell says what one survey does not have.
const notKnown = "-"

func (c *Taped) pondRows() [][]string {
	rows := [][]string{{"pond", "", "area before", "now", "deepest before", "now", "weight before", "now", "where"}}
	for i := range c.Result.Waters[:min(mostRows, len(c.Result.Waters))] {
		w := &c.Result.Waters[i]
		row := []string{c.name(w), string(w.State)}
		if w.Unsure {
			row[1] += "?"
		}
		for _, m := range c.measures(w)[:3] {
			before, after := c.single(w, m, false), c.single(w, m, true)
			row = append(row, before, after)
		}
		rows = append(rows, append(row, c.place(w)))
	}
	return rows
}

// single writes one survey's figure of a measure: its range where both have it, else what that survey gives.
func (c *Taped) single(w *change.Water, m measured, after bool) string {
	if m.Known {
		if after {
			return m.say(m.After)
		}
		return m.say(m.Before)
	}
	b, i := c.Before, w.Before
	if after {
		b, i = c.After, w.After
	}
	if i < 0 || b.Survey.Ponds[i].Water == nil {
		return notKnown
	}
	p := &b.Survey.Ponds[i]
	switch {
	case m.what == "area":
		return m.one(p.Bowl.Area)
	case p.Depth == 0:
		return "not read"
	case m.what == "deepest":
		return m.one(p.Depth)
	}
	return m.say(bounds.Range{Low: p.WeightLeast, High: p.WeightMost})
}

// place says where a pond lies.
func (c *Taped) place(w *change.Water) string {
	if w.After >= 0 {
		return c.u().SayText(c.After.Survey.Ponds[w.After].Where)
	}
	return c.u().SayText(c.Before.Survey.Ponds[w.Before].Where)
}

func (c *Taped) readingRows() [][]string {
	rows := [][]string{{"place", "change", "give or take", "", "where"}}
	for i := range c.Result.Readings[:min(mostRows, len(c.Result.Readings))] {
		p := &c.Result.Readings[i]
		verdict := choose.If(p.Significant, "changed", "not resolved")
		by := c.u().SayDepth(0)
		if c.u().SayDepth(math.Abs(p.Rise)) != by {
			by = moved(c.u(), p.Rise)
		}
		rows = append(rows, []string{p.What, by, c.u().SayDepth(p.Error), verdict, c.where(p.Plan)})
	}
	return rows
}
