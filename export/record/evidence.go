package record

import (
	"fmt"
	"strings"

	"runnel/analysis/evidence"
	"runnel/analysis/standard"
)

// Unresolved says in one line which low places the error of the survey alone can make; empty where there are none.
func (b *Book) Unresolved() string {
	q := &b.Study.Unresolved
	if q.Count == 0 {
		return ""
	}
	places, them := "low place", "it is a pond"
	if len(b.Study.Listed) > 0 {
		places = "more low place"
	}
	places = Count(float64(q.Count)) + " " + places
	if q.Count > 1 {
		places += "s"
		them = Count(float64(q.AtLevel)) + " of them are ponds"
		if q.AtLevel == 1 {
			them = "1 of them is a pond"
		}
	}
	text := fmt.Sprintf("%s, at most %s deep, may be no more than the error of the survey.", places, b.Units.SayDepth(q.Depth))
	if q.AtLevel > 0 {
		text += fmt.Sprintf(" If heights are good to %s, %s.", b.Units.SayDepth(standard.LevelError), them)
	}
	return text
}

// SurveyError says how good a height is, and how that is known.
func (b *Book) SurveyError() string {
	e, u := b.Study.Errors, b.Units
	text, height, first := "", "a height", "A height"
	if b.Study.Means != nil {
		height, first = "a mean", "A mean"
	}
	switch e.Source {
	case evidence.Stated:
		text = first + " is good to " + u.SayDepth(e.Typical) + " (one standard deviation, as stated)."
		if e.Doubtful() {
			text += " But spots lie " + u.SayDepth(e.Scatter) + " off the planes of their neighbours: the roof is that uneven, or its heights are worse than stated; then a pond that the spots barely show may be none."
		}
	case evidence.Scatter:
		text = "No accuracy is stated. Scatter and relief cannot be told apart at this spacing: " + height + " is good to " + u.SayDepth(e.Typical) +
			" or better. State the instrument."
	case evidence.Planes:
		text = "No accuracy is stated. Spots scatter by " + u.SayDepth(e.Typical) + " about the planes of the roof, and " + height +
			" is taken to be as good. State the instrument."
	case evidence.Usual:
		text = "No accuracy is stated; " + height + " is taken to be good to " + u.SayDepth(e.Typical) + ". State the instrument."
	}
	if e.Offset > 0 {
		text += " Files whose spots stand among each other differ by " + u.SayDepth(e.Offset) + " in level."
	}
	return text
}

// Spots counts what the surface was drawn through: "1 spot", "1,204 spots", or "1,512 means of 6,118 points".
func (b *Book) Spots() string {
	n := b.Study.Survey.Spots
	switch m := b.Study.Means; {
	case m != nil:
		return fmt.Sprintf("%s means of %s points", Count(float64(n)), Count(float64(m.Points)))
	case n == 1:
		return "1 spot"
	}
	return Count(float64(n)) + " spots"
}

// Means says what became of points that are denser than their errors support; empty where none are.
func (b *Book) Means() string {
	m := b.Study.Means
	if m == nil {
		return ""
	}
	text := fmt.Sprintf("%s points are denser than their error supports: the surface is drawn through their means over cells of %s.",
		Count(float64(m.Points)), b.Units.SayLength(m.Size))
	const named = 3
	switch n := len(m.Below); {
	case n == 1:
		text += fmt.Sprintf(" Point %s stands far below those beside it and is left out; --keep %s says that it is meant.", m.Below[0], m.Below[0])
	case n > named:
		text += fmt.Sprintf(" %s points stand far below those beside them and are left out (%s and more); --keep ID says that one is meant.",
			Count(float64(n)), strings.Join(m.Below[:named], ", "))
	case n > 1:
		text += fmt.Sprintf(" %d points stand far below those beside them and are left out (%s); --keep ID says that one is meant.", n, strings.Join(m.Below, ", "))
	}
	return text
}
