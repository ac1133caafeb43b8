package assembly

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// Findings returns what the cores show to be wrong, and which of them to look at again; of ponds in their order, then of cores in theirs, then
// of regions. None carries a pond's or an outlet's index: a listed pond has its own finding from the shape of the roof.
func (r *Result) Findings() []finding.Finding {
	var out []finding.Finding
	for i := range r.Ponds {
		out = append(out, r.pondFindings(&r.Ponds[i])...)
	}
	for i := range r.Cores {
		out = append(out, r.coreFindings(i)...)
	}
	for i := range r.Regions {
		if g := &r.Regions[i]; g.Verdict == TaperFights {
			out = append(out, r.fights(g))
		}
	}
	return out
}

// blank returns a finding at a core.
func (r *Result) blank(k finding.Kind, s finding.Severity, core int) finding.Finding {
	c := &r.Cores[core]
	return finding.Finding{
		Kind: k, Severity: s, Pond: -1, Outlet: -1, Decides: finding.Roofer, Confidence: finding.Likely,
		Where: finding.Say("at core {0}", finding.Called(c.ID)), Geometry: c.Plan,
	}
}

// pondFindings returns what cores show to be low under a pond.
func (r *Result) pondFindings(p *Pond) []finding.Finding {
	if p.Cause == PondNotResolved {
		return nil
	}
	measured := []finding.Quantity{finding.Number("cores in the pond", len(p.Inside))}
	if p.Compared {
		measured = append(measured, finding.MM("surface lower", p.Drop), finding.MM("deck lower", p.DeckDrop),
			finding.MM("assembly thinner", p.Thinner), finding.MM("error", p.Sigma))
	}
	var out []finding.Finding
	if p.Cause == DeckLow || p.Cause == DeckLowAndThin {
		f := r.blank(finding.DeckLow, finding.Repair, p.Inside[0])
		f.What = finding.Say("The deck is low under the pond.")
		f.Measured, f.Why, f.Source = measured, p.shown(r), standard.CoreSource
		f.Do = finding.Say("The engineer looks at the deck from below before anything is filled: fill adds weight to what has sagged.")
		f.Decides, f.Size = finding.Engineer, p.DeckDrop
		out = append(out, f)
	}
	if p.Cause == InsulationThin || p.Cause == DeckLowAndThin {
		f := r.blank(finding.InsulationThin, finding.Repair, p.Inside[0])
		f.What = finding.Say("The insulation is thin under the pond: " + string(p.Why) + ".")
		f.Measured, f.Why, f.Source = measured, p.shown(r), standard.CoreSource
		f.Do = finding.Say("Open the roof here, find how far it reaches, and put in sound insulation of the thickness of its neighbours.")
		f.Size = p.Thinner
		out = append(out, f)
	}
	return out
}

// shown says what shows it: the comparison, or the layer itself.
func (p *Pond) shown(r *Result) finding.Text {
	if p.Compared {
		return p.numbers()
	}
	return finding.Say("Core {0} is thinner than the nearest one outside by more than both errors, and its record says why.", finding.Called(r.Cores[p.Inside[0]].ID))
}

// coreFindings returns what one core shows by itself.
func (r *Result) coreFindings(i int) []finding.Finding {
	var out []finding.Finding
	c := &r.Cores[i]
	if c.has(DeckSoft) {
		out = append(out, r.soft(i))
	}
	if c.has(LayerWet) {
		out = append(out, r.wet(i))
	}
	if c.has(LayerPressed) && (c.Pond < 0 || r.Ponds[c.Pond].Cause != InsulationThin) {
		out = append(out, r.pressed(i))
	}
	if c.has(Odd) {
		out = append(out, r.oddCore(i))
	}
	return out
}

func (r *Result) soft(i int) finding.Finding {
	f := r.blank(finding.DeckSoft, finding.Urgent, i)
	f.What = finding.Say("The deck is soft, rotten or rusted here.")
	f.Why = finding.Say("The core says of the deck: {0}.", finding.Called(r.Cores[i].DeckType))
	f.Do = finding.Say("Keep off, and call a structural engineer today.")
	f.Source, f.Decides, f.Confidence = "the core's own record", finding.Engineer, finding.Shown
	return f
}

func (r *Result) wet(i int) finding.Finding {
	f := r.blank(finding.InsulationWet, finding.Repair, i)
	f.What = finding.Say("A layer is wet.")
	f.Measured = r.thickness(i, "wet", "wet layers")
	f.Why = finding.Say("The core says so. Insulation counts as wet when it keeps less than {0} of its dry resistance.", finding.Part("share", standard.WetShare))
	f.Do = finding.Say("Find how far it reaches by a moisture survey and further cores. Take it out; never cover it. Do not count on it drying when checking loads.")
	f.Source, f.Confidence = standard.WetSource, finding.Shown
	return f
}

func (r *Result) pressed(i int) finding.Finding {
	f := r.blank(finding.InsulationThin, finding.Repair, i)
	f.What = finding.Say("A layer is compressed.")
	f.Measured = r.thickness(i, "compressed", "compressed layers")
	f.Why = finding.Say("The core says so.")
	f.Do = finding.Say("Feel underfoot how far it is soft. Take it out and replace it; never cover it.")
	f.Source, f.Confidence = "the core's own record", finding.Shown
	return f
}

func (r *Result) thickness(i int, condition, name string) []finding.Quantity {
	sum := 0.0
	for _, l := range r.Cores[i].Layers {
		if l.Condition == condition {
			sum += l.Thickness
		}
	}
	return []finding.Quantity{finding.MM(name, sum)}
}

func (r *Result) oddCore(i int) finding.Finding {
	c := &r.Cores[i]
	f := r.blank(finding.CoreOdd, finding.Note, i)
	f.What = finding.Say("This core does not agree with those around it and was left out.")
	f.Measured = []finding.Quantity{finding.MM("thickness", c.Thickness), finding.MM("error of a core", c.Sigma)}
	f.Why = finding.Say("Its thickness differs from what the other cores predict by more than the measuring error.")
	f.Do = finding.Say("Measure it again.")
	if c.has(FluteUnsaid) {
		f.Why = f.Why.And(finding.Say("It is too thick by what a flute of the deck makes, up to {0}.", finding.MM("flute", standard.FluteDepth)))
		f.Do = finding.Say("Say whether it reached a rib or a flute of the deck.")
	}
	f.Source = standard.CoreSource
	return f
}

func (r *Result) fights(g *Region) finding.Finding {
	f := r.blank(finding.TaperAgainstDeck, finding.Note, g.Used[0])
	f.Where = finding.Say("over the "+g.Kind.String()+" round core {0}", finding.Called(r.Cores[g.Used[0]].ID))
	f.What = finding.Say("Deck and insulation fall against each other.")
	if g.Kind == OnPlane {
		f.Measured = []finding.Quantity{
			finding.Fall("surface slope", g.Surface.Slope()), finding.Fall("deck slope", g.Deck.Slope()),
			finding.Fall("taper", g.Thickness.Slope()), finding.Fall("error of taper", g.Thickness.Sigma()),
		}
	} else {
		f.Measured = []finding.Quantity{finding.Part("share of insulation", g.Share), finding.Part("error of share", g.ShareSigma)}
	}
	f.Why = g.numbers()
	f.Do = finding.Say("When the insulation is replaced, lay it by the fall of the deck, more slope for less material, unless this is a cricket that turns the water on purpose.")
	f.Source, f.Decides = standard.CoreSource, finding.Owner
	var line orb.MultiPoint
	for _, i := range g.Used {
		line = append(line, r.Cores[i].Plan)
	}
	f.Geometry = line.Bound().Center()
	return f
}
