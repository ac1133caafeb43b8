package takeoff

import (
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
)

// level takes off what fills low places under boards: flat boards, which join the schedule, and leveller.
func (c *counter) level() {
	if c.out.Leveller = c.design.Leveller; c.out.Boards == nil {
		return
	}
	for _, b := range c.out.Leveller.Bands {
		c.out.Boards.Level(quantity.Length(b.Thickness), b.Area)
	}
}

// levellerItem lists the leveller.
func (c *counter) levellerItem() {
	n := &c.out.Leveller
	if n.Poured < least {
		return
	}
	c.item(Item{
		What: finding.Say("leveller in low places under the boards: {0} in all, {1} deep at most", finding.Plan("area", n.Area), finding.MM("deepest", n.Deepest)), Measure: Solid,
		Value: float64(n.Poured * (1 + c.in.Waste)), Note: finding.Say("with {0} on top", finding.Part("waste", c.in.Waste)),
	}, levelling)
}
