package record

import (
	"fmt"
	"strings"

	"runnel/analysis/finding"
)

// Lead is what a page begins with: the worst thing known of a roof, be it a pond or not.
type Lead struct {
	Word string // "PONDS", or "WORST" where something is worse than any pond
	Text string
}

// Lead returns the worst thing known of the roof: the worst finding, where it is no note, and else what is known of ponds. Findings stand
// worst first, so that the first of them is the worst.
func (b *Book) Lead() Lead {
	s := b.Study
	if len(s.Findings) == 0 || s.Findings[0].Severity < finding.Repair {
		return Lead{"PONDS", b.Ponds()}
	}
	f := &s.Findings[0]
	if _, ok := b.listedPonds()[f.Pond]; ok {
		return Lead{"PONDS", b.Ponds()}
	}
	text := b.Units.SayText(f.What)
	if blocked := b.Blocked(); blocked != "" && (f.Kind == finding.OverflowHigh || f.Kind == finding.LoadOverLimit) {
		text = blocked + " " + text
	}
	where := strings.TrimSuffix(b.Units.SayText(f.Where), ".")
	name, isAt := strings.CutPrefix(where, "at ")
	if (isAt || strings.Contains(where, " from ")) && !strings.Contains(text, name) {
		text += " Where: " + where + "."
	}
	return Lead{"WORST", text}
}

// Ponds says how many ponds there are and describes the worst; where there is none it says what may have been missed.
func (b *Book) Ponds() string {
	s := b.Study
	if s.LowPlaces != nil {
		return "No pond can be told before the outlets are surveyed. " + b.Units.SayText(s.LowPlaces.Say())
	}
	if len(s.Listed) == 0 {
		text := "No ponds found. "
		if s.Unresolved.Count > 0 {
			text = "No ponds shown. " // there may be some: what follows says how many low places are in doubt
		}
		text += "Ponds smaller than the " + b.Units.SayLength(s.Survey.Spacing) + " between spots may be missed."
		if s.Shallow.Count > 0 {
			text += " " + b.Shallow()
		}
		return text
	}
	worst := &s.Listed[0]
	pond := &s.Ponds.Ponds[worst.Pond]
	text := "1 pond: "
	if n := len(s.Listed); n > 1 {
		text = fmt.Sprintf("%d ponds. The worst is ", n)
	}
	text += worst.ID
	if f := b.PondFinding(0); f != nil {
		if where := strings.TrimSuffix(b.Units.SayText(f.Where), "."); where != "" {
			text += ", " + where
		}
	}
	u := b.Units
	text += ". When full it is " + b.SayPondDepth(0) + " deep over " + b.SayPondArea(0) + ofRoof(pond.Area/s.Surface.Area)
	switch between := b.SayPondRange(0); {
	case b.Barely(0):
		text += ": the spots barely show it."
	case between != "":
		text += ": " + u.SayMass(worst.Weight) + " of water, " + u.SayPressure(worst.Load) + " where it is deepest. The error of the survey leaves its depth between " +
			strings.Replace(between, " to ", " and ", 1) + "."
	default:
		text += ": " + u.SayMass(worst.Weight) + " of water, " + u.SayPressure(worst.Load) + " where it is deepest."
	}
	if pond.Undrained {
		text += " It has no way out at any level."
	}
	return text
}

// ofRoof says how much of the roof a pond takes where that is half of it and more, since a place says little then.
func ofRoof(share float64) string {
	switch {
	case share > 0.995:
		return ", all of the roof"
	case share > 0.9:
		return ", nearly all of the roof"
	case share > 0.5:
		return ", more than half of the roof"
	}
	return ""
}

// Shallow sums up the ponds that are too shallow to list. There must be one.
func (b *Book) Shallow() string {
	s := &b.Study.Shallow
	depth := b.Units.SayDepth(s.Depth)
	if !strings.HasPrefix(depth, "less than") {
		depth = "at most " + depth
	}
	text := fmt.Sprintf("Water too shallow to list stands in %d places, %s deep", s.Count, depth)
	if s.Count == 1 {
		text = "Water too shallow to list stands in 1 place, " + depth + " deep"
	}
	if s.Area >= 0.05 {
		text += ", over " + b.Units.SayArea(s.Area)
		if s.Count > 1 {
			text += " in all"
		}
	}
	return text + "."
}

// PondFinding returns the first finding about listed pond i (index into Study.Listed), nil where there is none.
func (b *Book) PondFinding(i int) *finding.Finding {
	s := b.Study
	for k := range s.Findings {
		if f := &s.Findings[k]; f.Pond == int(s.Listed[i].Pond) {
			return f
		}
	}
	return nil
}

// Blocked says how deep the water stands with every primary outlet blocked under the rain stated; empty where none was, where no outlet can be
// blocked, and where a storm says that itself.
func (b *Book) Blocked() string {
	s := b.Study
	l := s.RainLoad
	if l == nil || s.Storm != nil || s.Drainage == nil || s.Drainage.Overflow <= 0 {
		return ""
	}
	u := b.Units
	text := "With every primary outlet blocked and " + u.SayRain(s.Drainage.Overflow) + " of rain, "
	switch {
	case l.Deepest < 0 && l.Enclosed:
		return text + "water has no way out at any level: it rises as long as it rains."
	case l.Deepest < 0:
		return text + "no water stands."
	}
	return text + "water stands at least " + u.SayDepth(l.Depth) + " deep, " + u.SayPressure(l.Load) + ", " + b.AtVertex(int(l.Deepest)) + "."
}

// AtVertex says where a vertex of the cut surface lies.
func (b *Book) AtVertex(v int) string {
	t := b.Study.Surface.Cut
	return b.Place([2]float64{t.X[v], t.Y[v]})
}
