package correction

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// first says who has to be asked before anything is built: off the roof where water is deep now, a bay sags or the deck is in doubt, and an
// engineer where there is no overflow, where blocked water is over a figure or a way out has to be cut.
func (d *designer) first(r *Result) {
	for i := range d.Study.KeepOff.Reasons {
		what := d.Study.KeepOff.Reasons[i].What
		what.Format = strings.ToUpper(what.Format[:1]) + what.Format[1:] + "."
		r.KeepOff = append(r.KeepOff, Reason{Why: what, Decides: finding.Engineer})
	}
	d.engineer(r)
}

// engineer lists what an engineer has to say first.
func (d *designer) engineer(r *Result) {
	why := map[finding.Kind][]Reason{
		finding.NoOverflow: {
			{Why: finding.Say("The roof has walls all round and no overflow: how much water may it hold, as a load?"), Asked: roof.AskLoad},
			{Why: finding.Say("The roof has walls all round and no overflow: may the deck or a parapet be opened for one at the place drawn?"), Asked: roof.AskOpening},
		},
		finding.NoWayOut:       {{Why: finding.Say("Water has no way out of a part of the roof: may the deck or a parapet be opened for one there?"), Asked: roof.AskOpening}},
		finding.LoadOverLimit:  {{Why: finding.Say("Water with every primary outlet blocked weighs more than the figure given for this roof.")}},
		finding.OverflowHigh:   {{Why: finding.Say("An overflow stands more than {0} over its primary outlet: how high may it stand at most?", finding.MM("height", d.Study.Criteria.OverflowMost())), Asked: roof.AskOverflow}},
		finding.BaySusceptible: {{Why: finding.Say("Bays may sag farther under water than the survey shows: do they hold with every primary outlet blocked?"), Asked: roof.AskBays}},
	}
	done := map[finding.Kind]bool{}
	st := d.Study
	for i := range st.Findings {
		f := &st.Findings[i]
		if done[f.Kind] || f.Severity < finding.Repair {
			continue
		}
		done[f.Kind] = true
		for _, e := range why[f.Kind] {
			e.Decides = finding.Engineer
			if f.Geometry != nil {
				e.At = f.Geometry.Bound().Center()
			}
			if f.Outlet >= 0 {
				e.Where = st.Surface.Outlets[f.Outlet].Label
			}
			if c, ok := d.OverflowPlace(); ok && f.Kind == finding.NoOverflow && e.Asked == roof.AskOpening {
				e.At = c.At
			}
			if !d.settled(e.Asked, e.At, nil) {
				r.EngineerFirst = append(r.EngineerFirst, e)
			}
		}
	}
}

// settled reports whether an answer to a question takes away what waited for it: a load that was named, a yes. A height is compared with instead.
func (d *designer) settled(asked roof.Asked, at orb.Point, area orb.MultiPolygon) bool {
	var a *roof.Answer
	switch r := d.Study.Roof; asked {
	case roof.AskLoad:
		a = r.Answered(string(asked))
		return a != nil
	case roof.AskBays:
		a = r.Answered(string(asked))
	case roof.AskDeck, roof.AskOpening, roof.AskLower:
		a = r.AnsweredAt(asked, at, area)
	case roof.AskGravity, roof.AskOverflow, roof.AskCover, roof.AskResistance, roof.AskWarranty, roof.AskCuts:
	}
	return a != nil && a.Yes
}

// unanswered leaves out questions that were answered.
func (d *designer) unanswered(list []mend.Question) []mend.Question {
	var out []mend.Question
	for i := range list {
		if q := &list[i]; q.Asked == "" || !d.settled(q.Asked, q.At, d.waterAt(q.At)) {
			out = append(out, *q)
		}
	}
	return out
}

// waterAt returns the water of the pond whose lowest place is at a place, nil where it is none.
func (d *designer) waterAt(at orb.Point) orb.MultiPolygon {
	for i := range d.Ponds {
		if d.Ponds[i].Pit == at {
			return d.Ponds[i].Place
		}
	}
	return nil
}

// forEngineer are the findings without a pond that only an engineer can mend.
var forEngineer = []finding.Kind{finding.DeckSoft, finding.LoadOverLimit, finding.BaySusceptible, finding.OverflowHigh}

// others are the changes for findings that no surface mends: wet insulation comes out, a soft deck and a missing overflow are an engineer's.
func (d *designer) others() (changes []mend.Change, questions []mend.Question) {
	for i := range d.Study.Findings {
		f := &d.Study.Findings[i]
		if f.Severity < finding.Repair || f.Pond >= 0 {
			continue
		}
		c := mend.Change{Finding: f.Kind, Decides: f.Decides}
		if f.Geometry != nil {
			c.At = f.Geometry.Bound().Center()
		}
		wet, structural := f.Kind == finding.InsulationWet, slices.Contains(forEngineer, f.Kind)
		switch {
		case wet:
			c.Kind, c.Decides = mend.ReplacePatch, finding.Roofer
			c.What = finding.Say("Find how far the wet insulation reaches and where the water comes in, take out all of it and lay new, before anything is built over it")
			questions = append(questions, mend.Question{
				Ask: finding.Say("How far does the wet insulation reach, and is the deck under it sound?"), Where: "cores outward from the wet one until they are dry", At: c.At, Decides: finding.Roofer,
				If: finding.Say("The deck is sound"), Then: finding.Say("Replace what is wet. A soft deck: an engineer first"),
			})
		case structural:
			c.Kind, c.Decides = mend.Structure, finding.Engineer
			c.What = f.Do
			if f.Outlet >= 0 {
				c.What = finding.Say(d.Surface.Outlets[f.Outlet].Label + ":").And(f.Do)
			}
		case f.Kind == finding.NoOverflow:
			ok := false
			if c, ok = d.OverflowPlace(); !ok {
				continue
			}
		default:
			continue
		}
		if d.Steering.Allows(c.Kind) && !same(changes, &c) {
			changes = append(changes, c)
		}
	}
	for i := range d.Ponds {
		if p := &d.Ponds[i]; p.Sags && d.Damaged(p) == nil {
			changes = append(changes, mend.Change{
				Kind: mend.Structure, Finding: p.Finding, Pond: p.ID, Decides: finding.Engineer, At: p.Pit,
				What: finding.Say("Have an engineer look at the deck under " + p.ID + " from below before anything is laid on it"),
			})
			questions = append(questions, mend.Question{
				Ask: finding.Say("Is the deck sound at " + p.ID + ", and only the insulation crushed? Level the deck from below and cut a core"), Where: "at and below " + p.ID, At: p.Pit, Decides: finding.Engineer, Asked: roof.AskDeck,
				If: finding.Say("The deck is level and sound, the insulation crushed"), Then: finding.Say("Replace the patch. A deck that sags is the engineer's"),
			})
		}
	}
	return changes, questions
}

// doubts asks of each height that does not fit, and that a pond rests on, whether it was misread.
func (d *designer) doubts() (questions []mend.Question) {
	st := d.Study
	for i := range st.Odd {
		var ponds []string
		for k := range st.Listed {
			if slices.Contains(st.Rests[k], int32(i)) {
				ponds = append(ponds, st.Listed[k].ID)
			}
		}
		if o := &st.Odd[i]; len(ponds) > 0 {
			name := o.Called(st.Roof, st.Surface)
			questions = append(questions, mend.Question{
				Ask:   finding.Say("Was {0} read right, on which {1} rests? Look it up in the field book, and shoot it again", finding.Called(name), finding.Called(strings.Join(ponds, ", "))),
				Where: name, At: o.Plan, Decides: finding.Roofer,
				If: finding.Say("It was misread"), Then: finding.Say("Correct the survey, and have all answers worked out anew"),
			})
		}
	}
	return questions
}

func same(list []mend.Change, c *mend.Change) bool {
	return slices.ContainsFunc(list, func(x mend.Change) bool { return x.Kind == c.Kind && x.Finding == c.Finding && x.At == c.At })
}
