// Package taped writes what can be said of a roof that was measured with tape, chalk and ruler, with or without a few heights: the page of
// text, the summary, the map, the plan and the spots to read next.
//
// What is said is decided once, here; the writers lay it out.
package taped

import (
	"fmt"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/record"
)

// Book is a survey with the units in which it is told.
type Book struct {
	Survey *tape.Survey
	Units  record.Units
}

// Limit ends every answer.
const Limit = "This does not say that the roof can carry the water. That is for a structural engineer."

// Lead returns what the page begins with.
func (b *Book) Lead() record.Lead {
	if s := b.Survey; len(s.Findings) > 0 && s.Findings[0].Severity == finding.Urgent && s.Findings[0].Pond < 0 {
		f := &s.Findings[0]
		return record.Lead{Word: "WORST", Text: b.Units.SayText(f.What) + " " + b.Units.SayText(f.Why)}
	}
	return record.Lead{Word: "PONDS", Text: b.Ponds()}
}

// Ponds says how many ponds were seen, and describes the worst.
func (b *Book) Ponds() string {
	s := b.Survey
	if len(s.Ponds) == 0 {
		return "No water was recorded. That is no finding: without heights all over the roof nobody can say that there is no pond."
	}
	text := "1 pond. "
	if n := len(s.Ponds); n > 1 {
		text = fmt.Sprintf("%d ponds. The worst: ", n)
	}
	return text + b.pond(&s.Ponds[0])
}

// pond describes one pond.
func (b *Book) pond(p *tape.Pond) string {
	u := b.Units
	text := p.ID
	if where := u.SayText(p.Where); where != "" {
		text += ", " + where
	}
	if to := b.toExit(p); to != "" {
		text += "; " + to
	}
	text += "."
	if p.Water == nil {
		return text + " Nobody saw water there; it is a low place that was read."
	}
	text += " It covers " + u.SayArea(p.Bowl.Area) + "."
	if p.Depth == 0 {
		return text + " No depth was read, so nothing is said of its weight."
	}
	depth := u.SayDepth(p.Depth)
	switch n := len(p.Bowl.Soundings); n {
	case 1:
		text += " One depth was read: " + depth + "."
	default:
		text += fmt.Sprintf(" %d depths were read, the deepest %s.", n, depth)
	}
	text += fmt.Sprintf(" It holds %s to %s of water, likely about %s, and weighs %s where it was deepest.",
		u.SayMass(p.WeightLeast), u.SayMass(p.WeightMost), u.SayMass(p.Weight), u.SayPressure(p.Load))
	if len(p.Bowl.Soundings) < fewSoundings {
		text += " A few depths seldom hit the deepest place."
	}
	text += " Give an engineer the upper figure, " + u.SayMass(p.WeightMost) + "."
	return text + b.seen(p)
}

// fewSoundings is how many depths make the range of a volume narrow; see package dish.
const fewSoundings = 5

// seen says when water was seen, and whether it counts as a pond.
func (b *Book) seen(p *tape.Pond) string {
	const dry = 48 // hours; the trade's measure of a pond
	w := p.Water
	switch {
	case w.Outlets == roof.OutletsBlocked:
		return " Outlets were blocked when it was seen, so it may be no pond."
	case w.HoursSinceRain < 0:
		return ""
	case w.HoursSinceRain < dry:
		return fmt.Sprintf(" It was seen %.4g hours after rain: it counts as a pond if it still stands after 48 hours.", w.HoursSinceRain)
	}
	return fmt.Sprintf(" It still stood %.4g hours after rain.", w.HoursSinceRain)
}

// toExit says how far a pond is from the nearest way off, empty where none was recorded.
func (b *Book) toExit(p *tape.Pond) string {
	if p.Exit < 0 {
		return ""
	}
	name := b.Survey.Exits[p.Exit].Name
	return choose.If(p.Distance == 0, "it reaches "+name, b.Units.SayTape(p.Distance)+" from "+name)
}

// Held says what holds the worst pond, empty where there is none.
func (b *Book) Held() string {
	if len(b.Survey.Ponds) == 0 {
		return ""
	}
	return b.HeldBy(&b.Survey.Ponds[0])
}

// HeldBy says what holds a pond.
func (b *Book) HeldBy(p *tape.Pond) string {
	text := b.Units.SayText(b.Survey.Holds(p))
	switch p.Holding.Verdict {
	case hold.OutletHigh:
		return "The outlet is set high, and no rise before it adds to that. " + text
	case hold.RiseBefore:
		return "A rise in the roof before the outlet, and not the outlet. " + text
	case hold.Both:
		return "Both: the outlet is set high, and the roof rises before it. " + text
	case hold.Neither:
		return "Neither the outlet nor a rise before it: the way falls. See whether the strainer is clogged. " + text
	case hold.NotResolved:
	}
	if b.Survey.Tier == tape.A || p.Holding.Outlet.Sigma == 0 {
		return "Not known. " + text
	}
	switch {
	case p.Holding.Rise.Answer == hold.Yes:
		return "A rise in the roof before the outlet, and perhaps the outlet too: how high that is lies within the error of the readings. " + text
	case p.Holding.Outlet.Answer == hold.Yes:
		return "The outlet is set high; whether a rise before it adds to that lies within the error of the readings. " + text
	}
	return "Not resolved: the differences are within the error of the readings. " + text
}

// Steps returns what to do next, in order, with who decides.
func (b *Book) Steps() []string {
	s, u := b.Survey, b.Units
	var out []string
	if s.KeepOff.Is() {
		out = append(out, u.SayText(s.KeepOff.First())+" "+record.Decides(finding.Engineer))
	}
	for i := range s.Findings {
		f := &s.Findings[i]
		if f.Kind == finding.LowPlace && f.Severity != finding.Note {
			continue // the spots to read come below
		}
		name := ""
		if f.Pond >= 0 {
			name = s.Ponds[f.Pond].ID + ": "
		} else {
			name = u.SayText(f.What) + " "
		}
		out = append(out, name+u.SayText(s.KeepOff.After(f.Do))+" "+record.Decides(f.Decides))
	}
	for _, text := range []string{b.wanted(), b.sound()} {
		if text != "" {
			out = append(out, u.SayText(s.KeepOff.Guard(finding.Say("{0}", finding.Called(text))))+" "+record.Decides(finding.Roofer))
		}
	}
	if len(out) == 0 {
		return []string{record.NoStep}
	}
	return out
}

// wanted says which heights answer the next question.
func (b *Book) wanted() string {
	s := b.Survey
	switch n := len(s.Next); {
	case n == 0:
		return ""
	case s.Grid():
		return fmt.Sprintf("Read heights on a grid, %d spots about %s apart, and along every ridge and valley. They tell where all water runs and stands, and how steep the roof is.",
			n, b.Units.SayLength(b.gridStep()))
	case s.Tier == tape.B && s.Read():
		return fmt.Sprintf("Read %s again: NEXT SPOTS lists them in walking order. Each place read twice or more counts as the mean, and its error falls.", record.Plural(n, "height"))
	default:
		return fmt.Sprintf("Read %s with a level, from one set-up: NEXT SPOTS lists them in walking order. They tell whether the outlet is set high or the roof rises before it. Read the lip too, where you think the water would run over.", record.Plural(n, "height"))
	}
}

func (b *Book) gridStep() float64 {
	if b.Survey.Roof.Imperial {
		return 10 * 0.3048
	}
	return 3
}

// sound asks for depths where they would narrow the range of a weight.
func (b *Book) sound() string {
	var names []string
	for i := range b.Survey.Ponds {
		if p := &b.Survey.Ponds[i]; p.Water != nil && len(p.Bowl.Soundings) < fewSoundings && !p.Deep() {
			names = append(names, p.ID)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return record.Some(names) + ": Read five depths: the deepest, and half-way to the edge on four sides. They narrow the weight to about 10 % either way."
}

// Mend says what would likely mend the worst pond, empty where there is none.
func (b *Book) Mend() string {
	s := b.Survey
	if len(s.Ponds) == 0 {
		return ""
	}
	p := &s.Ponds[0]
	if p.Cause() == finding.LowPlace {
		return "Nothing yet: what holds the water decides what mends it."
	}
	text, decides := inspection.MendOf(p.Cause(), s.ByScupper(p))
	decides = choose.If(p.Deep(), finding.Engineer, decides) // as the finding says
	out := "Likely: " + record.Small(b.Units.SayText(text))
	if p.Holding.Verdict == hold.Both {
		more, _ := inspection.MendOf(finding.RiseBefore, false)
		out += " " + b.Units.SayText(more)
	}
	return out + " " + record.Decides(decides)
}

// Measured says how the roof was measured and how good it is.
func (b *Book) Measured() string {
	s := b.Survey
	seen := record.Behind(record.SeenOn(s.Roof))
	if s.Tier == tape.A {
		return "Tier A: tape, chalk and ruler, no heights." + seen
	}
	stated := choose.If(s.Stated, "as stated", "taken for a level")
	return fmt.Sprintf("Tier B: tape, chalk and ruler, and %s. A height is good to %s (one standard deviation, %s).", record.Plural(s.Heights, "height"), b.Units.SayDepth(s.Sigma), stated) + seen
}

// canSay says what a survey of this tier answers.
func (b *Book) canSay() string {
	text := "areas, and of each pond that was seen its volume, weight, load and distance from an outlet"
	if b.Survey.Tier == tape.B {
		text += "; what holds a pond, where the readings show it"
	}
	if len(b.Survey.Cores.Cores) > 0 {
		text += "; what the roof is made of where it was cut open"
	}
	return record.Capital(text) + "."
}

// CannotSay says what it leaves open.
func (b *Book) CannotSay() string {
	text := "how steep the roof is, which part of it drains where, and whether there are ponds that nobody saw"
	if b.Survey.Tier == tape.A {
		text = "what holds a pond; " + text
	}
	return record.Capital(text) + "."
}

// NextTier says which question the next tier would answer.
func (b *Book) NextTier() string {
	if b.Survey.Tier == tape.A {
		return "Tier B, about a dozen heights between ponds and outlets, tells what holds the water."
	}
	return "Tier C, heights all over the roof, tells where all water runs and stands, and how steep the roof is."
}
