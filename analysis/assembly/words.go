package assembly

import (
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
)

// String returns the verdict in plain trade words.
func (v Verdict) String() string {
	return choose.At([]string{"not resolved", "structure slopes", "insulation tapers", "both slope", "taper fights the deck", "nothing slopes"}, v)
}

// String returns the cause in plain trade words.
func (c PondCause) String() string {
	return choose.At([]string{"not resolved", "deck low", "insulation thin", "deck low and insulation thin"}, c)
}

// String returns what the cores of a region were taken together over.
func (k RegionKind) String() string { return choose.At([]string{"plane", "catchment", "roof"}, k) }

// verdicts says what each verdict means.
var verdicts = map[Verdict]string{
	StructureSlopes:  "The structure slopes: the assembly is as thick high as low, within its error.",
	InsulationTapers: "The insulation tapers: the deck under it is level within its error.",
	BothSlope:        "Structure and insulation both slope, and their falls add up.",
	TaperFights:      "The taper fights the deck: the insulation takes away part of the fall that the deck has, or the other way round.",
	NothingSlopes:    "Nothing slopes: surface, deck and insulation are level within error.",
	NotResolved:      "Not resolved: the cores do not tell whether structure or insulation slopes.",
}

// say writes what a region's cores tell, and what they cannot.
func say(g *Region, cores []Core) {
	g.Sentence, g.Source = finding.Say(verdicts[g.Verdict]), standard.CoreSource
	if g.Verdict == StructureSlopes {
		g.Source = standard.ConstantThicknessSource
	}
	if g.fitted {
		g.Sentence = g.Sentence.And(g.numbers())
	} else {
		g.Sentence = g.Sentence.And(alone(g, cores))
	}
	for _, t := range g.doubts(cores) {
		g.Cannot = g.Cannot.And(t)
	}
	if len(g.Next) == 0 {
		return
	}
	switch {
	case g.More == 1:
		g.Cannot = g.Cannot.And(finding.Say("One more core, hand-cut where shown, should settle it."))
	case g.More > 0:
		g.Cannot = g.Cannot.And(finding.Say("About {0} more cores, hand-cut where shown, should settle it.", finding.Number("cores", g.More)))
	default:
		g.Cannot = g.Cannot.And(finding.Say("More than {0} would be needed; the places shown come first.", finding.Number("cores", len(g.Next))))
	}
	g.Cannot = g.Cannot.And(finding.Say(Caution))
}

// Caution goes with every place where a core is to be cut.
const Caution = "Before cutting: check for asbestos, conduit and post-tensioning; have it patched watertight the same day by somebody the warrantor accepts."

// numbers writes the fitted numbers of a region with their errors.
func (g *Region) numbers() finding.Text {
	if g.Kind == OnPlane {
		return finding.Say("The surface falls {0}. By {5} cores the deck falls {1}, give or take {2}, and the thickness changes by {3}, give or take {4}; on average it is {6}.",
			finding.Fall("surface slope", g.Surface.Slope()), finding.Fall("deck slope", g.Deck.Slope()), finding.Fall("error of deck", g.Deck.Sigma()),
			finding.Fall("taper", g.Thickness.Slope()), finding.Fall("error of taper", g.Thickness.Sigma()),
			finding.Number("cores", len(g.Used)), finding.MM("thickness", g.Mean))
	}
	return finding.Say("Of the surface's fall the insulation makes {0}, give or take {1}, by {2} cores; on average it is {3} thick.",
		finding.Part("share of insulation", g.Share), finding.Part("error of share", g.ShareSigma),
		finding.Number("cores", len(g.Used)), finding.MM("thickness", g.Mean))
}

// alone writes what one or two cores tell.
func alone(g *Region, cores []Core) finding.Text {
	a := &cores[g.Cores[0]]
	if len(g.Cores) == 1 {
		return finding.Say("One core: the assembly is {0} thick there and the deck at {1}.", finding.MM("thickness", a.Thickness), finding.Level("deck", a.Deck))
	}
	low, high := a, a
	for _, i := range g.Cores {
		if c := &cores[i]; c.Surface < low.Surface {
			low = c
		} else if c.Surface > high.Surface {
			high = c
		}
	}
	return finding.Say("Along the line between the lowest and the highest core the surface rises {0}, the deck {1} and the thickness {2}, give or take {3}.",
		finding.MM("rise of surface", high.Surface-low.Surface), finding.MM("rise of deck", high.Deck-low.Deck),
		finding.MM("rise of thickness", high.Thickness-low.Thickness), finding.MM("error", vector.Norm(low.Sigma, high.Sigma)))
}

// doubts lists what the cores of a region cannot say.
func (g *Region) doubts(cores []Core) []finding.Text {
	var out []finding.Text
	add := func(format string, args ...finding.Quantity) { out = append(out, finding.Say(format, args...)) }
	for _, i := range g.odd {
		if c := &cores[i]; c.has(FluteUnsaid) {
			add("Core {1} reads {0} too thick and was left out: say whether it reached a rib or a flute.", finding.MM("too thick", c.Thickness-g.expected(c)), finding.Called(c.ID))
		} else {
			add("Core {1} does not agree with the others by {0} and was left out: look at it again.", finding.MM("off", abs(c.Thickness-g.expected(c))), finding.Called(c.ID))
		}
	}
	switch {
	case g.disagree && g.Verdict != NotResolved:
		add("One core does not agree with the others. Which one cannot be said; whichever it is, the verdict stands.")
	case g.disagree:
		add("The cores lie farther off one fall than their errors let expect, and too few are there to say which one is odd.")
	}
	switch {
	case g.flute:
		add("Say of each core whether it reached a rib or a flute: one flute of {0} would change the verdict.", finding.MM("depth of flute", standard.FluteDepth))
	case g.asks(cores):
		add("Nobody said whether each core reached a rib or a flute: that alone makes up to {0}.", finding.MM("depth of flute", standard.FluteDepth))
	}
	switch {
	case !g.fitted && len(g.Cores) < 3:
		add("Three cores that are not on one line are the least that shows a fall.")
	case !g.fitted:
		add("The cores lie on one line, or where the surface hardly rises: nothing is known across it.")
	case g.Kind == OnPlane && len(g.Used) == 3:
		add("Three cores leave nothing to check them with.")
	}
	return out
}

// asks reports whether what a core reached was left unsaid where too few cores are there to show it.
func (g *Region) asks(cores []Core) bool {
	if len(g.odd) > 0 || (len(g.Used) > 4 && !g.disagree) {
		return false
	}
	return slices.ContainsFunc(g.Cores, func(i int) bool { return cores[i].mayBeFlute })
}

func abs(x float64) float64 { return choose.If(x < 0, -x, x) }

// sayPond writes what the cores tell about a pond.
func sayPond(p *Pond) {
	switch p.Cause {
	case DeckLow:
		p.Sentence = finding.Say("The deck is low under the pond: sag, structure, rot or rust. An engineer looks at it from below.")
	case InsulationThin:
		p.Sentence = finding.Say("The insulation is thin under the pond: " + string(p.Why) + ". The roofer takes it out and replaces it.")
	case DeckLowAndThin:
		p.Sentence = finding.Say("The deck is low and the insulation is thin under the pond: " + string(p.Why) + ". An engineer looks at the deck before anything is filled.")
	case PondNotResolved:
		p.Sentence = finding.Say(notResolved(p))
	}
	if p.Soft {
		p.Sentence = finding.Say("The deck is soft, rotten or rusted here: keep off, and call a structural engineer today.").And(p.Sentence)
	}
	p.Sentence = p.Sentence.And(p.numbers())
	if p.HasNext {
		p.NextWhy = p.NextWhy.And(finding.Say(Caution))
	}
}

// numbers writes what was compared; empty where nothing could be.
func (p *Pond) numbers() finding.Text {
	if !p.Compared {
		return finding.Text{}
	}
	return finding.Say("Against {0} cores outside, the surface is {1} "+sided(p.Drop, "lower", "higher")+", the deck {2} "+sided(p.DeckDrop, "lower", "higher")+
		" and the assembly {3} "+sided(p.Thinner, "thinner", "thicker")+", give or take {4}.",
		finding.Number("cores outside", len(p.Outside)), finding.MM("surface", abs(p.Drop)), finding.MM("deck", abs(p.DeckDrop)),
		finding.MM("assembly", abs(p.Thinner)), finding.MM("error", p.Sigma))
}

// sided returns the word for a difference by its sign.
func sided(v float64, positive, negative string) string { return choose.If(v < 0, negative, positive) }

// notResolved says why a pond is not.
func notResolved(p *Pond) string {
	switch {
	case len(p.Inside) == 0:
		return "Not resolved: no core was cut in the pond, so deck and insulation cannot be told apart."
	case !p.Compared:
		return "Not resolved: too few cores outside the pond to compare with."
	default:
		return "Not resolved: the difference is within the error of the cores."
	}
}
