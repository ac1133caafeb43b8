package correction

import (
	"strings"

	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/record"
	"runnel/export/text"
)

// amount is what is changed, laid and taken out, thickness and depth [m2, m3, m].
type amount struct{ area, laid, out, average, greatest, deepest float64 }

// amountOf returns the amounts of an option. Those of an answer are what the take-off counts, so that page, sheets and lists say the same:
// what is cut into and laid anew from the deck up counts whole. Those of what was only tried are of the surface.
func (p *Proposal) amountOf(option int) amount {
	for i := range p.Counted {
		if t := p.Counted[i]; t != nil && p.Result.Answers[i].Option == option {
			return amount{t.Area, t.Volume, t.Cut, t.Average, t.Greatest, t.Deepest}
		}
	}
	o := &p.Result.Options[option]
	return amount{o.Area, o.Fill, o.Cut, o.Average, o.Greatest, o.Deepest}
}

// thermalOf returns the thermal resistance that was reckoned for an option that is an answer, nil for one that was only tried.
func (p *Proposal) thermalOf(option int) *takeoff.Thermal {
	for i := range p.Counted {
		if t := p.Counted[i]; t != nil && p.Result.Answers[i].Option == option {
			return &t.Thermal
		}
	}
	return nil
}

// amounts writes the quantities of the option that is drawn.
func (p *Proposal) amounts(l *text.Lines) {
	t := p.TakeOff
	if t == nil {
		return
	}
	u := p.Book.Units
	if len(t.Items)+len(t.Approvals) == 0 {
		return
	}
	l.Heading("Quantities: " + p.drawn())
	rows := [][]string{{"what", "how much", "cost", "note"}}
	for i := range t.Items {
		x := &t.Items[i]
		cost := "-"
		if x.Priced {
			cost = t.Money + text.Count(x.Cost)
		}
		rows = append(rows, []string{u.SayText(x.What), p.measure(x), cost, u.SayText(x.Note)})
	}
	l.Table(rows)
	if t.Priced {
		l.Paragraph("Sum of what has a price: " + t.Money + text.Count(t.Cost) + ". The prices are yours.")
	}
	for _, a := range t.Approvals {
		l.Bullet("To approve: " + a.Who + ". " + strings.TrimSuffix(u.SayText(a.Why), ".") + ".")
	}
	for _, e := range t.Exclusions {
		l.Bullet("Not included: " + u.SayText(e))
	}
}

// measure writes the amount of an item.
func (p *Proposal) measure(x *takeoff.Item) string {
	u := p.Book.Units
	switch x.Measure {
	case takeoff.Area:
		return u.SayArea(x.Value)
	case takeoff.Solid:
		return u.SaySolid(x.Value)
	case takeoff.Length:
		return u.SayLength(x.Value)
	case takeoff.Pieces:
	}
	return text.Count(x.Value)
}

// takeOff adds the quantities of the option that is drawn.
func (p *Proposal) takeOff(o *record.Object) {
	t := p.TakeOff
	u := p.Book.Units
	o.Text("option", p.name(p.Chosen))
	u.Area(o, "area", t.Area)
	if t.Volume > 0 {
		u.Solid(o, "in_place", t.Volume)
		u.Depth(o, "average", t.Average)
		u.Depth(o, "greatest", t.Greatest)
		u.Mass(o, "weight", t.Mass)
	}
	p.levelled(o, &t.Leveller)
	u.Solid(o, "taken_down", record.Positive(t.Cut))
	o.Share("waste", t.Waste)
	if t.Boards != nil {
		boards := make([]record.Object, len(t.Boards.Schedule))
		for i := range boards {
			r := &t.Boards.Schedule[i]
			u.Depth(&boards[i], "thin", r.Kind.Thin)
			u.Depth(&boards[i], "thick", r.Kind.Thick)
			boards[i].Int("whole", r.Whole)
			boards[i].Int("cut", r.Cut)
			boards[i].Int("to_order", r.Boards)
		}
		o.Objects("boards", boards)
	}
	if t.Priced {
		o.Number("cost", t.Cost, 2)
		o.Text("currency", t.Money)
	}
	who := make([]string, len(t.Approvals))
	for i := range who {
		who[i] = t.Approvals[i].Who
	}
	o.Texts("approvals", who)
}

// levelled adds what low places under boards are levelled with: flat boards, which stand among the boards too, and leveller.
func (p *Proposal) levelled(o *record.Object, n *taper.Leveller) {
	if n.Volume == 0 {
		return
	}
	u := p.Book.Units
	u.Area(o, "levelled", n.Area)
	u.Depth(o, "levelled_deepest", n.Deepest)
	u.Solid(o, "levelled_flat_boards", n.Volume-n.Poured)
	u.Solid(o, "leveller", n.Poured)
}
