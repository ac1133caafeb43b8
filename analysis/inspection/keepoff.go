package inspection

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// Hazard is why nobody may go onto a roof.
type Hazard string

// The hazards, in the order in which they are told.
const (
	DoubtfulDeck  Hazard = "doubtful deck"     // soft, rotten or rusted
	Sag           Hazard = "sag"               // the deck is low, or the roof is bent down like a dish
	Overload      Hazard = "signs of overload" // somebody noted them on site
	DeepWaterSeen Hazard = "deep water seen"   // standing water over deepWater was recorded
	DeepWater     Hazard = "deep water"        // a pond over deepWater when full
)

// Reason is one hazard of a roof, said once however often it is met.
type Reason struct {
	Hazard Hazard
	What   finding.Text // one sentence without its full stop
}

// KeepOff says whether and why nobody may go onto a roof until a structural engineer has said so. It is decided in KeepOffOf alone;
// every output asks it.
type KeepOff struct {
	Reasons []Reason       // in the order of the hazards; empty: nothing known speaks against going onto the roof
	ponds   map[int]Hazard // by index into ponding.Ponds.Ponds
}

// keepOffFirst begins what is done about whatever is a reason to keep off.
const keepOffFirst = "Keep off, and call a structural engineer today."

// What begins with a look into the field book begins at the desk, of a height that does not fit and of a pond that rests on one.
const (
	inBook     = "Look it up in the field book."
	inBookRest = "Look up in the field book the height that does not fit: {0}."
)

// wait begins what has to be done on a roof that is kept off.
const wait = "Once the engineer lets people on:"

// overloadWords begin words of a note that tell of signs of overload.
var overloadWords = []string{"sag", "creak", "groan", "deflect", "collaps"}

// Is reports whether people are to keep off.
func (k *KeepOff) Is() bool { return len(k.Reasons) > 0 }

// First returns the first thing to do: keep off, why, and how measuring goes on. There must be a reason.
func (k *KeepOff) First() finding.Text {
	text := finding.Say("Keep off, and call a structural engineer today:")
	for i := range k.Reasons {
		why := k.Reasons[i].What
		end := choose.If(i == len(k.Reasons)-1, ".", ";")
		text = text.And(finding.Text{Format: why.Format + end, Args: why.Args})
	}
	return text.And(finding.Say("Clear the space below. Until the engineer lets people on, measure from dry ground, or wait for another day."))
}

// Guard returns what is to be done on the roof, to be done only when the engineer lets people on; the text itself where nobody need
// keep off, and where it says to keep off or what the engineer does.
func (k *KeepOff) Guard(do finding.Text) finding.Text {
	if !k.Is() || do.Format == "" {
		return do
	}
	for _, desk := range []string{inBook, inBookRest} { // nobody goes up for it
		if rest, ok := strings.CutPrefix(do.Format, desk+" "); ok {
			do.Format = desk + " " + wait + " " + rest
			return do
		}
	}
	for _, done := range []string{"Keep off", wait, "Do nothing ", "The engineer ", "Have an engineer "} {
		if strings.HasPrefix(do.Format, done) {
			return do
		}
	}
	return finding.Say(wait).And(do)
}

// After returns what is to be done without the sentence that says to keep off, for a list that begins with First.
func (k *KeepOff) After(do finding.Text) finding.Text {
	if rest, ok := strings.CutPrefix(do.Format, keepOffFirst); ok && k.Is() {
		do.Format = strings.TrimSpace(rest)
	}
	return do
}

// KeepOffOf decides whether people are to keep off a roof: where its deck is soft, rotten or rusted or low, where it is bent down like a
// dish, where signs of overload were noted, and where water is or can be deep.
func KeepOffOf(r *Results) KeepOff {
	k := KeepOff{ponds: map[int]Hazard{}}
	add := func(h Hazard, what finding.Text) { k.Reasons = append(k.Reasons, Reason{h, what}) }
	if n := count(r.Cores, finding.DeckSoft); n > 0 {
		add(DoubtfulDeck, several(n, "the deck is soft, rotten or rusted at one core", "the deck is soft, rotten or rusted at {0} cores"))
	}
	if n := count(r.Cores, finding.DeckLow); n > 0 {
		add(Sag, several(n, "cores show that the deck is low under a pond", "cores show that the deck is low under {0} ponds"))
	}
	k.dishes(r, add)
	noted, deepest := r.seen()
	if noted {
		add(Overload, finding.Say("signs of overload were noted on site"))
	}
	if deepest > deepWater {
		add(DeepWaterSeen, finding.Say("water {0} deep was seen", finding.MM("depth seen", deepest)))
	}
	k.deep(r, add)
	for i := range r.Full {
		if f := &r.Full[i]; isDeep(f.Depth95) {
			depth, is := finding.MM("depth", f.Depth), "is"
			if !isDeep(f.Depth) {
				depth, is = finding.MM("depth", f.Depth95), "may be"
			}
			add(DeepWater, finding.Say("when full {0} "+is+" {1} deep", finding.Called(f.ID), depth))
		}
	}
	return k
}

// FullDepth is how deep a pond stands when full, as a few heights tell it.
type FullDepth struct {
	ID             string
	Depth, Depth95 float64 // as read, and its upper bound [m]
}

// dishes adds the ponds whose shape is best told by a roof that is bent down, where their depth is more than measuring error.
func (k *KeepOff) dishes(r *Results, add func(Hazard, finding.Text)) {
	first, n := "", 0
	for i := range r.Listed {
		d := &r.Causes[i]
		if d.Causes[0].Kind != finding.Dish || !r.shown(r.Listed[i].Pond) || r.soundUnder(r.Listed[i].Pond) != nil {
			continue
		}
		if n++; n == 1 {
			first = r.Listed[i].ID
		}
		k.ponds[int(r.Listed[i].Pond)] = Sag
	}
	switch name := finding.Called(first); n {
	case 0:
	case 1:
		add(Sag, finding.Say("the roof is bent down like a dish under {0}", name))
	case 2:
		add(Sag, finding.Say("the roof is bent down like a dish under {0} and another pond", name))
	default:
		add(Sag, finding.Say("the roof is bent down like a dish under {0} and {1} more ponds", name, finding.Number("more", n-1)))
	}
}

// soundUnder returns the answer by which the deck under a pond is sound, nil where there is none.
func (r *Results) soundUnder(pond int32) *roof.Answer {
	if len(r.Roof.Answers) == 0 {
		return nil
	}
	v := r.Ponds.Ponds[pond].Pits[0]
	a := r.Roof.AnsweredAt(roof.AskDeck, orb.Point{r.Surface.Cut.X[v], r.Surface.Cut.Y[v]}, r.Ponds.Outline(pond))
	if a == nil || !a.Yes {
		return nil
	}
	return a
}

// deep adds the ponds that are deep when full, the deepest by name.
func (k *KeepOff) deep(r *Results, add func(Hazard, finding.Text)) {
	worst, n := -1, 0
	for i := range r.Listed {
		p := &r.Ponds.Ponds[r.Listed[i].Pond]
		if !isDeep(r.deepest95(p)) {
			continue
		}
		k.ponds[int(r.Listed[i].Pond)] = DeepWater
		if n++; worst < 0 || p.Depth > r.Ponds.Ponds[r.Listed[worst].Pond].Depth {
			worst = i
		}
	}
	if n == 0 {
		return
	}
	pond := &r.Ponds.Ponds[r.Listed[worst].Pond]
	depth, is := finding.MM("depth", pond.Depth), "is"
	if !isDeep(pond.Depth) {
		depth, is = finding.MM("depth", r.deepest95(pond)), "may be"
	}
	what := finding.Say("when full {0} "+is+" {1} deep", finding.Called(r.Listed[worst].ID), depth)
	if doubts := r.doubts(worst); len(doubts) > 0 {
		what = what.Comma(finding.Say("by a height that does not fit: {0}", doubts[0]))
	}
	switch limit := finding.MM("deep", deepWater); n {
	case 1:
	case 2:
		what = what.Comma(finding.Say("and another pond over {0}", limit))
	default:
		what = what.Comma(finding.Say("and {1} more ponds over {0}", limit, finding.Number("more", n-1)))
	}
	add(DeepWater, what)
}

// isDeep reports whether water of that depth [m] is deep.
func isDeep(depth float64) bool { return depth > deepWater }

// seen returns what was recorded on site: whether a note tells of signs of overload, and the greatest depth of standing water [m].
func (r *Results) seen() (noted bool, deepest float64) {
	for i := range r.Roof.Stains {
		s := &r.Roof.Stains[i]
		deepest = max(deepest, float64(s.Depth))
		noted = noted || tellsOfOverload(s)
	}
	return noted, deepest
}

// tellsOfOverload reports whether the note of a stain has a word that begins as one of overloadWords.
func tellsOfOverload(s *roof.Stain) bool {
	for _, word := range strings.Fields(standard.Plain(s.Note)) {
		for _, w := range overloadWords {
			if strings.HasPrefix(word, w) {
				return true
			}
		}
	}
	return false
}

// guard puts keep-off before what the findings ask for: first where they are the reason, and before all that is done on the roof.
func (k *KeepOff) guard(all []finding.Finding) {
	if !k.Is() {
		return
	}
	for i := range all {
		f := &all[i]
		_, reason := k.ponds[f.Pond]
		switch {
		case f.Kind == finding.DeckSoft:
		case f.Kind == finding.DeckLow:
			f.Do = finding.Say(keepOffFirst).And(f.Do)
		case f.Pond >= 0 && reason:
			f.Do, f.Decides = finding.Say(keepOffFirst).And(k.Guard(f.Do)), finding.Engineer
		case !fromTheDesk(f):
			f.Do = k.Guard(f.Do)
		}
	}
}

// fromTheDesk reports whether what a finding asks for sends nobody onto the roof.
func fromTheDesk(f *finding.Finding) bool {
	desk := []finding.Kind{finding.OverflowHigh, finding.BaySusceptible, finding.HeadUntested, finding.LoadOverLimit}
	return f.Decides == finding.Owner || slices.Contains(desk, f.Kind)
}

func count(all []finding.Finding, k finding.Kind) int {
	return gather.Count(all, func(x finding.Finding) bool { return x.Kind == k })
}

// several says one thing in the singular, or with its number.
func several(n int, one, many string) finding.Text {
	if n == 1 {
		return finding.Say(one)
	}
	return finding.Say(many, finding.Number("number", n))
}
