package takeoff

import (
	"math"
	"slices"

	"runnel/analysis/choose"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// items lists the quantities and prices them.
func (c *counter) items() {
	c.boardItems()
	c.levellerItem()
	for _, u := range []Use{Taper, Cricket, Sump, Rise, Edge, Patch, Retaper, Fill} {
		c.measuredItem(u)
	}
	o := c.out
	length, volume := 0.0, 0.0
	for _, s := range o.Strips {
		length += s.Length
		volume += s.Volume
	}
	if length > 0 {
		c.item(Item{What: finding.Say("tapered edge strips, {0} on average", finding.MM("thickness", average(volume, gather.Sum(o.Strips, func(s Strip) float64 { return s.Area })))), Measure: Length, Value: length}, strip)
	}
	if o.Mitres > leastMitre {
		c.item(Item{What: finding.Say("mitres at valleys and hips"), Measure: Length, Value: o.Mitres, Note: finding.Say("boards are cut on both sides of each")}, mitre)
	}
	if o.CutLine > 0 {
		c.item(Item{What: finding.Say("line along which new work joins the existing roof flush"), Measure: Length, Value: o.CutLine}, cutLine)
	}
	c.coveringItems()
	if o.Cut > least {
		c.item(c.takenOut(), removal)
	}
	c.outletItems()
}

// leastMitre is the length under which no mitre is counted [m].
const leastMitre = 0.05

// takenOut is what comes out and is cut down, with how deep a cut goes and what is not counted of it.
func (c *counter) takenOut() Item {
	o := c.out
	i := Item{What: finding.Say("taken out or cut down"), Measure: Solid, Value: o.Cut}
	if o.Deepest > 0 {
		i.What = finding.Say("taken out or cut down, {0} at the deepest", finding.MM("deepest", o.Deepest))
	}
	if slices.ContainsFunc(o.Fields, func(f Field) bool { return f.Cut > least && !f.OnDeck }) {
		i.Note = finding.Say("what goes back under a cut is not counted: how thick the roof is there is not known")
	}
	return i
}

// coveringItems lists the surface that is changed and, apart from it, the membrane that is opened for that: whole boards and strip-in. What is
// opened is covered anew and carries the price.
func (c *counter) coveringItems() {
	opened := c.option.Opened
	switch {
	case c.out.Area > 0 && opened > 0:
		c.out.Items = append(c.out.Items, Item{What: finding.Say("roof surface that is changed"), Measure: Area, Value: c.out.Area, Told: true})
	case c.out.Area > 0:
		c.item(Item{What: finding.Say("roof surface that is changed and covered anew"), Measure: Area, Value: c.out.Area}, covering)
	}
	if opened > 0 {
		c.item(Item{What: finding.Say("membrane opened and covered anew"), Measure: Area, Value: opened, Note: finding.Say("whole boards, with what the membrane laps beyond them")}, covering)
	}
	replaced := 0.0
	for i := range c.option.Changes {
		if x := &c.option.Changes[i]; x.Kind == mend.ReplacePatch {
			replaced += x.Opened
		}
	}
	if replaced > 0 {
		note := "how thick it is and how far it reaches is seen when it is opened: what is replaced like for like is not in the volumes"
		if slices.ContainsFunc(c.out.Fields, func(f Field) bool { return f.Use == Patch && f.OnDeck }) {
			note = "as thick as the core shows it and as far as the survey shows it low: how far it reaches is seen when it is opened"
		}
		c.out.Items = append(c.out.Items, Item{
			What: finding.Say("of it, opened to replace wet or crushed insulation"), Measure: Area, Value: replaced, Note: finding.Say(note),
		})
	}
}

func average(volume, area float64) float64 { return choose.If(area > 0, volume/area, 0) }

// item adds an item with its price, if there is one.
func (c *counter) item(i Item, of subject) {
	if r, price, ok := c.in.Prices.price(of); ok && r.measure() == i.Measure {
		i.Unit, i.Per, i.Priced = price, r.name, true
		i.Cost = math.Round(float64(i.Value/r.size*price)*100) / 100
		c.out.Cost += i.Cost
		c.out.Priced, c.out.Money = true, c.in.Prices.Currency
	}
	c.out.Items = append(c.out.Items, i)
}

// measure says in what a price counts.
func (r *rate) measure() Measure {
	switch r.of {
	case insulation, toMeasure:
		return choose.If(r.name == "per_board", Pieces, Solid)
	case covering:
		return Area
	case strip, mitre, cutLine:
		return Length
	case removal, levelling:
		return Solid
	case outletReset, outletNew, overflowReset:
	}
	return Pieces
}

// boardItems lists what is laid in boards.
func (c *counter) boardItems() {
	l := c.out.Boards
	if l == nil {
		return
	}
	boards, tapered, level := 0, 0.0, 0.0
	for _, r := range l.Schedule {
		boards += r.Boards
		if r.Kind.Flat() {
			level += r.Volume
		} else {
			tapered += r.Volume
		}
	}
	if tapered > 0 {
		c.out.Items = append(c.out.Items, Item{What: finding.Say("tapered boards, as laid"), Measure: Solid, Value: tapered})
	}
	if level > 0 {
		c.out.Items = append(c.out.Items, Item{What: finding.Say("flat boards, as laid"), Measure: Solid, Value: level})
	}
	c.item(Item{
		What: finding.Say("insulation in boards to order, with {0} on top", finding.Part("waste", c.in.Waste)), Measure: Solid, Value: float64(l.Volume * (1 + c.in.Waste)),
	}, insulation)
	c.item(Item{What: finding.Say("boards to order"), Measure: Pieces, Value: float64(boards), Note: finding.Say("each cut piece takes a board of its own; off-cuts are not put to use")}, insulation)
}

// measuredItem lists what is built up or cut to measure for a use.
func (c *counter) measuredItem(u Use) {
	places, volume, area := 0, 0.0, 0.0
	for i := range c.out.Measured {
		if m := &c.out.Measured[i]; m.Use == u && m.Volume > least {
			places++
			volume += m.Volume
			area += m.Area
		}
	}
	if places == 0 {
		return
	}
	name := string(u)
	if u == Patch && slices.ContainsFunc(c.option.Changes, func(x mend.Change) bool {
		return x.Kind == mend.Cricket && slices.ContainsFunc(c.option.Changes, func(y mend.Change) bool { return y.Kind == mend.ReplacePatch && y.Pond == x.Pond })
	}) {
		name += " with the cricket on it"
	}
	what := finding.Say(name+", built up or cut to measure: {0} places, {1}", finding.Number("places", places), finding.Plan("area", area))
	if places == 1 {
		what = finding.Say(name+", built up or cut to measure: {0}", finding.Plan("area", area))
	}
	c.item(Item{What: what, Measure: Solid, Value: float64(volume * (1 + c.in.Waste)), Note: finding.Say("with {0} on top", finding.Part("waste", c.in.Waste))}, c.measuredSubject())
}

// measuredSubject is what insulation that is cut to measure is priced as: by a price of its own where the user gives one.
func (c *counter) measuredSubject() subject {
	if _, _, ok := c.in.Prices.price(toMeasure); ok {
		return toMeasure
	}
	return insulation
}

// moved is how far an inlet moves for it to count [m].
const moved = 0.001

// outletItems lists outlets that are new or set anew.
func (c *counter) outletItems() {
	now, before := c.option.Roof, c.in.Study.Roof
	if now == nil {
		return
	}
	reset, overflow, low := 0, 0, 0.0
	for i := range c.in.Study.Surface.Outlets {
		o := &c.in.Study.Surface.Outlets[i]
		if o.Source < 0 || o.Source >= len(now.Outlets) {
			continue
		}
		n := &now.Outlets[o.Source]
		if correction.IsNew(before, now, o.Source) || !n.HasInvert || math.Abs(n.Invert-o.Invert) < moved {
			continue
		}
		if o.Duty == roof.Overflow {
			overflow++
			continue
		}
		reset++
		low = math.Max(low, o.Invert-n.Invert)
	}
	if reset > 0 {
		i := Item{What: finding.Say("drains and scuppers set to a new level"), Measure: Pieces, Value: float64(reset)}
		if low > moved {
			i.Note = finding.Say("{0} lower at most: body, clamp and conductor under it are to be looked at", finding.MM("lower", low))
		}
		c.item(i, outletReset)
	}
	if overflow > 0 {
		c.item(Item{What: finding.Say("overflows set to a new level"), Measure: Pieces, Value: float64(overflow)}, overflowReset)
	}
	c.newOutletItems(before, now)
}

// newOutletItems lists the outlets that the roof did not have.
func (c *counter) newOutletItems(before, now *roof.Roof) {
	for _, k := range []struct {
		of         roof.OutletType
		what, note string
	}{{roof.Drain, newDrains, "opening in the deck, leader and overflow are to be designed"}, {roof.Scupper, newScuppers, "opening in the parapet, conductor and overflow are to be designed"}} {
		n := 0
		for i := range now.Outlets {
			if correction.IsNew(before, now, i) && now.Outlets[i].Type == k.of {
				n++
			}
		}
		if n > 0 {
			c.item(Item{What: finding.Say(k.what), Measure: Pieces, Value: float64(n), Note: finding.Say(k.note)}, outletNew)
		}
	}
}

// What new outlets are called, overflows among them.
const newDrains, newScuppers = "new drains", "new scuppers"

// weighs reports whether the weight of the new insulation is known.
func (c *counter) weighs() bool {
	return c.material.WeightKnown && c.material.Weight > 0 && standard.Gravity > 0
}
