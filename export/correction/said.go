package correction

import (
	"runnel/analysis/correction"
	"runnel/analysis/takeoff"
)

// LimitSaid says a limit with what is there, where, and who decides, in the words of the page.
func (p *Proposal) LimitSaid(l *correction.Limit) string { return p.compared(l) }

// Measured writes the amount of an item of the take-off with its unit.
func (p *Proposal) Measured(x *takeoff.Item) string { return p.measure(x) }
