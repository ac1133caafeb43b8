package roof

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/textfile"
)

// MostQuestions bounds the number of a question.
const MostQuestions = 1000

// Answer is what somebody who may decide it answered, with name and date.
type Answer struct {
	Feature
	Plan     orb.Point // meaningful when Placed
	Placed   bool
	Question string // an Asked, or the text of a question that decides nothing here
	Text     string // the answer as written
	By, On   string // who, and the day: 2026-12-02
	Number   int    // that the question had on paper; 0 when not given
	To       Recipient
	Covers   string // what was to be cut when it was given, of an answer about cuts; it holds for that alone

	Amount float64 // of an answer that is an amount [Pa, m]
	Yes    bool
}

// Settle reads the answer's text as its question asks, and checks name and date. The error is the rule that is broken and what to write.
func (a *Answer) Settle() (rule, mend string) {
	a.Question, a.Text, a.By, a.On = strings.TrimSpace(a.Question), strings.TrimSpace(a.Text), strings.TrimSpace(a.By), strings.TrimSpace(a.On)
	if a.Question == "" {
		return "the answer has no question", "write question=" + strings.Join(AskedNames(), ", ") + ", or the question's text"
	}
	if a.By == "" {
		return "the answer to " + textfile.Clip(a.Question, quoted) + " does not say who gave it", `write by="A. Person, PE"`
	}
	if day, err := time.Parse(time.DateOnly, a.On); err != nil || day.Year() < 1900 {
		return fmt.Sprintf("the answer to %s has no day: %.20q", textfile.Clip(a.Question, quoted), a.On), "write on=2026-12-02"
	}
	asked := choose.If(slices.Contains(AskedNames(), a.Question), Asked(a.Question), "")
	if a.To == "" || asked != "" {
		a.To = asked.To()
	}
	if !slices.Contains(Recipients(), a.To) {
		return fmt.Sprintf("the answer to %s was asked of %.20q", textfile.Clip(a.Question, quoted), a.To), "write to=engineer, plumber, energy, official, warrantor or owner, or leave it out"
	}
	if asked.Placed() && !a.Placed {
		return "the answer to " + a.Question + " has no place", "give it the place that it holds for"
	}
	if !a.read(asked) {
		return fmt.Sprintf("%.40q is no answer to %s", a.Text, textfile.Clip(a.Question, quoted)), "write " + asked.Form()
	}
	return "", ""
}

// read takes the amount, or the yes or no, from the text as the question asks for it; it reports whether the text gives one.
func (a *Answer) read(asked Asked) bool {
	switch asked {
	case AskLoad, AskGravity:
		p, err := quantity.ParsePressure(a.Text)
		a.Amount = float64(p)
		return err == nil && p > 0
	case AskOverflow:
		l, err := quantity.ParseLength(a.Text, quantity.Unstated)
		a.Amount = float64(l)
		return err == nil && l > 0 && l <= quantity.Metre
	case AskResistance:
		r, err := quantity.ParseResistance(a.Text)
		a.Amount = float64(r)
		return err == nil
	case AskBays, AskDeck, AskOpening, AskLower, AskCover, AskWarranty, AskCuts:
		word := strings.ToLower(a.Text)
		a.Yes = word == "yes"
		return a.Yes || word == "no"
	}
	return a.Text != ""
}

// quoted is how much of an answer that is none is said again [characters].
const quoted = 60

// Answered returns the newest answer to a question about the whole roof, nil where there is none; of one day the last in the files.
func (r *Roof) Answered(question string) *Answer {
	return r.newest(func(a *Answer) bool { return alike(a.Question, question) })
}

// AnsweredFor returns the newest answer about cuts that was given for what is to be cut now, nil where there is none.
func (r *Roof) AnsweredFor(asked Asked, cuts string) *Answer {
	return r.newest(func(a *Answer) bool { return a.Question == string(asked) && alike(a.Covers, cuts) })
}

// AnsweredAt returns the newest answer to a question at a place, or at water that covers the place where area is given.
func (r *Roof) AnsweredAt(asked Asked, at orb.Point, area orb.MultiPolygon) *Answer {
	return r.newest(func(a *Answer) bool {
		if a.Question != string(asked) || !a.Placed {
			return false
		}
		return planar.Distance(a.Plan, at) <= nearestAsked || planar.MultiPolygonContains(area, a.Plan)
	})
}

// Sound reports whether somebody answered last that the deck at a place, or under water there, is sound.
func (r *Roof) Sound(at orb.Point, area orb.MultiPolygon) bool {
	a := r.AnsweredAt(AskDeck, at, area)
	return a != nil && a.Yes
}

func (r *Roof) newest(is func(*Answer) bool) *Answer {
	var best *Answer
	for i := range r.Answers {
		if a := &r.Answers[i]; is(a) && (best == nil || a.On >= best.On) {
			best = a
		}
	}
	return best
}

// alike compares questions as written: quotes and semicolons do not stand in point files.
func alike(a, b string) bool {
	plain := func(s string) string {
		return strings.Join(strings.Fields(strings.NewReplacer(`"`, "", "'", "", ";", ",").Replace(s)), " ")
	}
	return plain(a) == plain(b)
}
