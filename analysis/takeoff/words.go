package takeoff

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/board"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
)

// words says what the quantities allow for, what they leave out, what else there is and who has to approve.
func (c *counter) words() {
	c.allowances()
	c.exclusions()
	c.approvals()
}

func (c *counter) allow(format string, args ...finding.Quantity) {
	c.out.Allowances = append(c.out.Allowances, finding.Say(format, args...))
}

func (c *counter) allowances() {
	o := c.out
	if o.Volume > least {
		c.allow("Waste: {0} on top of what lies in place ("+standard.BoardWasteSource.Text+").", finding.Part("waste", o.Waste))
	}
	if o.Boards != nil {
		c.allow("A plane counts as one that boards fit where its thickness is within {0} of theirs.", finding.MM("tolerance", Tolerance))
		c.allow("Boards of {0} by {1}, laid in courses up the fall; the thinnest is {2} at its thin edge, one layer {3} at most.",
			finding.Metres("length", float64(o.Stock.Length)), finding.Metres("width", float64(o.Stock.Width)),
			finding.MM("thin edge", float64(o.Stock.Thin)), finding.MM("greatest", float64(o.Stock.Greatest)))
		if o.Boards.Short > 0 {
			c.allow("Flat boards come in steps of {0}: up to {1} is left to the bedding.", finding.MM("step", float64(o.Stock.FillStep)), finding.MM("short", o.Boards.Short))
		}
	}
	c.figures()
	if len(o.Strips) > 0 {
		c.allow("Edge strips taper to nothing, or are trimmed on site, where the new surface meets what is there.")
	}
	c.allow("Thickness is measured over the roof as surveyed: {0} spots, about {1} apart. Between them the surface is taken as straight.",
		finding.Number("spots", c.in.Study.Survey.Spots), finding.Metres("spacing", c.in.Study.Survey.Spacing))
	if c.option.Kind == mend.Replace {
		c.allow("The deck lies where cores and survey put it. Measure it when it is laid bare and before boards are ordered.")
	}
}

// figures says where the figures of boards, sumps and crickets stand, of those that the option uses.
func (c *counter) figures() {
	o := c.out
	if o.Boards != nil {
		c.usualBoards(o.Stock)
	}
	if o.Leveller.Volume > least {
		c.allow("Boards are laid on the roof as it is and follow it; only places that lack more than " + strconv.FormatFloat(math.Round(1e4*o.Leveller.Within)/10, 'f', -1, 64) + " mm are levelled first (" + standard.LevelWithinSource.Text + "). Weight of leveller: " + standard.LevellerWeightSource.Text + ".")
		c.allow("Leveller and the flat boards under it are not counted in the thermal resistance.")
	}
	if c.uses(Sump) {
		c.allow("Sump: " + standard.SumpSource.Text + "; level ring: " + standard.SumpRingSource.Text + "; rim: " + standard.SumpEdgeSource.Text + "; insulation left under it: " + standard.InsulationLeftSource.Text + ".")
	}
	if c.uses(Fill) {
		c.allow("Thin fill: " + standard.FeatherSource.Text + ".")
	}
	if o.Volume > least || o.Cut > least {
		c.allow("Membrane opened: whole boards (" + standard.BoardSource.Text + ") and beyond them (" + standard.StripInSource.Text + ").")
	}
	if (o.Volume > least || o.Cut > least) && c.option.Opened <= standard.LocalArea {
		c.allow("How much of a roof a local mend opens: " + standard.LocalSource.Text + ".")
	}
	if c.uses(Cricket) {
		c.allow("Slope of the crickets: " + standard.CricketTimesSource.Text + ".")
	}
}

// usualBoards says where the figures of boards stand that nobody stated.
func (c *counter) usualBoards(stock board.Stock) {
	usual := board.Usual()
	var texts []string
	for _, x := range []struct {
		usual  bool
		source standard.Source
	}{
		{slices.Equal(stock.Rates, usual.Rates), standard.BoardRatesSource},
		{stock.Length == usual.Length && stock.Width == usual.Width, standard.BoardSizeSource},
		{stock.Thin == usual.Thin, standard.BoardThinSource},
		{stock.Greatest == usual.Greatest, standard.BoardThickestSource},
	} {
		if !x.usual {
			continue
		}
		text := x.source.Text
		if len(texts) > 0 {
			text = strings.TrimPrefix(text, standard.CommonPractice)
		}
		texts = append(texts, text)
	}
	if len(texts) > 0 {
		c.allow("Stock: " + strings.Join(texts, "; ") + ".")
	}
}

// uses reports whether some new plane serves a use.
func (c *counter) uses(u Use) bool {
	return slices.ContainsFunc(c.out.Fields, func(f Field) bool { return f.Use == u })
}

func (c *counter) exclusions() {
	leave := func(format string) { c.out.Exclusions = append(c.out.Exclusions, finding.Say(format)) }
	if c.out.Volume > least || c.out.Cut > least {
		leave("Membrane, cover board, adhesive, fasteners and their pattern, base flashings, edge metal, nailers and wood blocking.")
		leave("Taking off the covering, wet or compressed insulation that nobody found yet, and repair of the deck.")
	}
	leave("Drain bodies, extension rings, leaders, conductors and the plumbing under the deck.")
	leave("Openings in the deck and all work on the structure.")
	leave("Condensation and vapour, wind uplift, fire listing and the strength of the structure: they are not computed.")
	leave("Access, hoisting, protection, safety on the roof, permits, taxes and profit.")
}

// Who approves.
const (
	Engineer = "structural engineer"
	Energy   = "energy authority"
	Plumbing = "plumbing official"
	Building = "building official"
	Warranty = "who warrants the roof"
)

// approve adds a reason; an approver stands once, with all reasons.
func (c *counter) approve(who, format string, args ...finding.Quantity) {
	text := finding.Say(format, args...)
	if i := slices.IndexFunc(c.out.Approvals, func(a Approval) bool { return a.Who == who }); i >= 0 {
		c.out.Approvals[i].Why = c.out.Approvals[i].Why.And(text)
		return
	}
	c.out.Approvals = append(c.out.Approvals, Approval{Who: who, Why: text})
}

// approvals derives who has to approve from what the option changes.
func (c *counter) approvals() {
	o := c.out
	if o.Volume > least && o.Highest > mend.Seen && c.weighs() {
		clause, _, _ := strings.Cut(standard.SecondLayerSource.Text, ":")
		what, load := "insulation", float64(o.Highest*c.material.Weight)
		if o.Leveller.Poured > least {
			what, load = "insulation and leveller under it", c.design.Heaviest(c.material.Weight, standard.LevellerWeight)
		}
		c.approve(Engineer, "Built up by {0} at most with "+what+", which weighs {1} there before covering and fastening. One clause's figure for a second layer is {2} ("+clause+"; its sections stand under the limits); "+standard.NotAStatement+".",
			finding.MM("thickest", o.Highest), finding.Load("load", load), finding.Load("figure", standard.SecondLayerLoad))
	}
	reset, overflow, fresh := c.count("drains and scuppers set to a new level"), c.count("overflows set to a new level"), c.count(newDrains)+c.count(newScuppers)
	if fresh > 0 {
		c.approve(Engineer, "Openings for new outlets in the deck or the parapet, which is structure: {0}.", finding.Number("drains", fresh))
	}
	if reset+fresh > 0 {
		c.approve(Plumbing, "Outlets that are new or stand at a new level: {0}.", finding.Number("outlets", reset+fresh))
	}
	if overflow > 0 {
		c.approve(Plumbing, "Overflows set to a new level: {0}.", finding.Number("overflows", overflow))
		c.approve(Engineer, "Overflows whose new level decides how deep water may stand on the roof: {0}.", finding.Number("overflows", overflow))
	}
	c.energyAndCover()
	if o.Volume > least || o.Cut > least {
		c.approve(Warranty, "Covering and insulation are opened or built upon.")
	}
}

// energyAndCover derives what the energy authority and the building official have to approve.
func (c *counter) energyAndCover() {
	o, t, kind := c.out, &c.out.Thermal, c.option.Kind
	switch {
	case t.Reduced:
		c.approve(Energy, "The thermal resistance falls in places, by {0} of what it was there at most.", finding.Part("share", t.Lost/t.LostFrom))
	case kind == mend.Replace:
		c.approve(Energy, "A roof whose insulation is replaced has to reach what the energy code asks of a replacement.")
	case o.Cut > least && !t.After.Known:
		c.approve(Energy, "Insulation is cut, and what is left under the cut is not known.")
	}
	if kind == mend.Overlay {
		c.approve(Building, "The roof is covered over what is there ("+standard.TwoRoofsSource.Text+").")
	}
	if kind == mend.Replace {
		c.approve(Building, "The roof is replaced.")
	}
}

// count returns the number of pieces of an item.
func (c *counter) count(what string) int {
	for _, i := range c.out.Items {
		if i.What.Format == what {
			return int(i.Value)
		}
	}
	return 0
}
