package papers

import (
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/export/record"
)

// seen says when, by whom and in which weather the roof was seen, and what the hours since rain make of water; empty where nobody noted it.
func seen(r *roof.Roof) []string {
	text := strings.TrimSpace(record.SeenOn(r) + " " + record.Since(&r.Visit))
	if text == "" {
		return nil
	}
	return []string{text}
}

// noted says what was noted of the roof's age, coverings and leaks.
func noted(v *roof.Visit) []string {
	text := record.Covering(v)
	if v.Leaks != "" {
		text += " Leaks: " + v.Leaks + "."
	}
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	return []string{text}
}

// owners are what the owner is asked that nobody noted, and what was noted for him to correct.
func owners(v *roof.Visit) (questions []string, known string) {
	for _, c := range []struct {
		said bool
		ask  string
	}{
		{v.HasAge && v.Coverings > 0, "How old is the roof, and how many coverings lie on each other?"},
		{v.Warrantor != "" && v.WarrantyUntil != "", "Who warrants it, and until when? Please send the papers before anybody cuts into it."},
		{v.CutsAuthorised != "" && v.Access != "", "Who may authorise a cut for a core, and who lets people onto the roof?"},
		{v.Leaks != "", "Where has it leaked, and when?"},
	} {
		if !c.said {
			questions = append(questions, c.ask)
		}
	}
	var facts []string
	add := func(before, text string) {
		if text != "" {
			facts = append(facts, before+text+".")
		}
	}
	facts = append(facts, noted(v)...)
	add("Warranted by ", v.Warrantor)
	add("Warranty until ", v.WarrantyUntil)
	add("Who may authorise a cut: ", v.CutsAuthorised)
	add("Access: ", v.Access)
	if len(facts) > 0 {
		known = "We have noted, and ask you to correct what is wrong: " + strings.Join(facts, " ")
	}
	return questions, known
}

// authorised says who authorised the cuts, or who may, or leaves a line for the name.
func (w *writer) authorised() string {
	if a := w.answeredCuts(roof.AskCuts); a != nil && a.Yes {
		return "The cuts are authorised by " + a.By + ", " + a.On + "."
	}
	if who := w.Book.Study.Roof.Visit.CutsAuthorised; who != "" {
		return "Each cut is authorised by " + who + ", in writing, before it is made."
	}
	return "Each cut is authorised by ______________________________, in writing, before it is made: without that name nobody cuts."
}

const notOffered = "Waiting is not offered: something here is urgent. See the first lines of this letter and the engineer's questions."

// waitingCosts says what it costs to leave ponds as they are.
func waitingCosts(v *roof.Visit) string {
	yours := choose.If(v.Warrantor != "", "read that of "+v.Warrantor, "read yours")
	return "Standing water carries dirt, plants and ice, and finds every weak seam. Until it is mended, have the outlets cleaned " + clean + ", and after every storm. " +
		"A warranty may exclude roofs that hold water after 48 hours: " + yours + ". The weight stays on the structure as long as the water does. (Common practice, no source.)"
}
