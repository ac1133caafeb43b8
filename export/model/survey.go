package model

import (
	"fmt"
	"slices"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/nextspot"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// survey says how good the measurements are and what was not measured.
func (t *teller) survey() string {
	s := &t.b.Study.Survey
	if t.b.Study.Roof.Outline.Elevations == roof.Drawn {
		return t.drawn()
	}
	text := fmt.Sprintf("%s, about %s apart. ", t.b.Spots(), t.u.SayLength(s.Spacing))
	if means := t.b.Means(); means != "" {
		text += means + " "
	}
	text += t.b.SurveyError()
	text += record.Behind(record.SeenOn(t.b.Study.Roof))
	if len(t.b.Study.Roof.Stains) > 0 {
		text += record.Behind(record.Since(&t.b.Study.Roof.Visit))
	}
	if s.Odd > 0 {
		text += " " + t.oddSpots()
	}
	if slices.ContainsFunc(t.b.Study.Findings, func(f finding.Finding) bool { return f.Kind == finding.CornersHigh }) {
		text += " Corners of the outline stand as the tops of walls do: see corners-high."
	}
	if not := t.notMeasured(); len(not) > 0 {
		text += " Not measured: " + strings.Join(not, "; ") + "."
	}
	if n := len(t.b.NextSpots); n > 0 {
		text += " " + record.Plural(n, "more spot") + " would tell most, " + t.u.SayLength(nextspot.Length(t.b.Study.NextSpots)) +
			" to walk from the first to the last: M01 to " + t.b.Names.Local(t.b.Names.NextSpot(n-1)) + " on the plan and the set-out sheet."
	}
	return text
}

// drawn says of a design that nobody measured it, and how good the survey is that it stands on.
func (t *teller) drawn() string {
	text := "Drawn, not measured: new work on a surface that was surveyed to " + t.u.SayDepth(t.b.Study.Survey.Sigma) + " (one standard deviation). Survey it again once it is built."
	if not := t.notMeasured(); len(not) > 0 {
		text += " Not measured: " + strings.Join(not, "; ") + "."
	}
	return text
}

// oddSpots counts the heights that do not fit and names the worst.
func (t *teller) oddSpots() string {
	s := t.b.Study
	text := "1 height does not fit those round it"
	if n := s.Survey.Odd; n > 1 {
		text = fmt.Sprintf("%d heights do not fit those round them", n)
	}
	return text + ", the worst at " + s.Odd[0].Called(s.Roof, s.Surface) + ": see spot-odd."
}

// notMeasured returns what no file told, each a few words.
func (t *teller) notMeasured() []string {
	s := &t.b.Study.Survey
	var not []string
	switch {
	case s.InvertsAssumed == 1:
		not = append(not, "the inlet level of 1 outlet")
	case s.InvertsAssumed > 1:
		not = append(not, fmt.Sprintf("the inlet levels of %d outlets", s.InvertsAssumed))
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
