package text

import (
	"fmt"
	"strings"

	"runnel/analysis/nextspot"
)

// spots says how many spots there are and how far apart.
func (p *page) spots() string {
	s := &p.book.Study.Survey
	return fmt.Sprintf("%s %s, about %s apart,", these(s.Spots), p.count(), p.u.SayLength(s.Spacing))
}

func these(n int) string {
	if n == 1 {
		return "this"
	}
	return "these"
}

// count writes how many spots there are: "1 spot", "1,204 spots".
func (p *page) count() string {
	return p.book.Spots()
}

// survey says how good the measurements are and what was not measured.
func (p *page) survey() {
	s := &p.book.Study.Survey
	text := fmt.Sprintf("%s, about %s apart. ", p.count(), p.u.SayLength(s.Spacing))
	if means := p.book.Means(); means != "" {
		text += means + " "
	}
	text += p.book.SurveyError()
	if s.Odd > 0 {
		text += " " + p.oddSpots()
	}
	if not := p.notMeasured(); len(not) > 0 {
		text += " Not measured: " + strings.Join(not, "; ") + "."
	}
	if n := len(p.book.NextSpots); n > 0 {
		text += " " + plural(n, "more spot") + " would tell most, " + p.u.SayLength(nextspot.Length(p.book.Study.NextSpots)) +
			" to walk from the first to the last: M01 to " + p.local(p.book.Names.NextSpot(n-1)) + " on the plan and the set-out sheet."
	}
	p.entry("SURVEY", text)
}

// oddSpots counts the heights that do not fit and names the worst.
func (p *page) oddSpots() string {
	s := p.book.Study
	var names []string
	for i := range s.Odd {
		if s.Odd[i].Spot >= 0 {
			names = append(names, s.Roof.Spots[s.Odd[i].Spot].ID)
		}
	}
	text := "1 height does not fit those round it"
	if n := s.Survey.Odd; n > 1 {
		text = fmt.Sprintf("%d heights do not fit those round them", n)
	}
	if len(names) > 0 {
		text += ", the worst at spot " + names[0]
	}
	return text + ": see spot-odd."
}

func (p *page) notMeasured() []string {
	s := &p.book.Study.Survey
	var not []string
	switch {
	case s.InvertsAssumed == 1:
		not = append(not, "the invert of 1 outlet")
	case s.InvertsAssumed > 1:
		not = append(not, fmt.Sprintf("the inverts of %d outlets", s.InvertsAssumed))
	}
	if s.AssumedShare > 0 {
		not = append(not, "edge heights ("+shareOfRoof(s.AssumedShare)+")")
	}
	if s.EdgesAssumed {
		not = append(not, "whether the edges are walls (taken as walls)")
	}
	if s.NoCores {
		not = append(not, "what lies under the membrane")
	}
	if s.NoStains {
		not = append(not, "water as seen after rain")
	}
	if s.NoRain {
		not = append(not, "how much rain the outlets can take")
	}
	return not
}
