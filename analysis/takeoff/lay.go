package takeoff

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
)

// lay lays boards over the fields that a plane in stock fits.
func (c *counter) lay() error {
	var fields []board.Field
	for i := range c.out.Fields {
		f := &c.out.Fields[i]
		if f.Use == Fill || f.Use == Retaper && f.Mesh {
			f.Why = finding.Say("it follows the roof as it is")
			continue
		}
		low, ok := c.plane(i)
		if !ok {
			continue
		}
		laid, strip, ok := c.boards(i, low)
		if !ok {
			continue
		}
		if l, err := board.Lay([]board.Field{laid}, c.in.Stock, c.in.Waste); err != nil || len(l.Odd) > 0 {
			f.Why = finding.Say("its boards would be thinner than the thinnest in stock")
			if _, none := board.Lay(nil, c.in.Stock, c.in.Waste); none != nil {
				return none
			}
			continue
		}
		f.Laid, f.Thickness = true, laid.Thickness
		if strip.Area > 0 {
			c.out.Strips = append(c.out.Strips, strip)
		}
		fields = append(fields, laid)
		c.out.Laid = append(c.out.Laid, i)
	}
	if len(fields) == 0 {
		_, err := board.Lay(nil, c.in.Stock, c.in.Waste)
		return err
	}
	var err error
	c.out.Boards, err = board.Lay(fields, c.in.Stock, c.in.Waste)
	return err
}

// plane finds the plane in stock that a field's thickness is, within the tolerance.
func (c *counter) plane(i int) (flat, bool) {
	f := &c.out.Fields[i]
	p, off := fit(c.parts[i])
	g := vector.Norm(p.g[0], p.g[1])
	switch {
	case f.Thinnest < -Tolerance && c.deck() != nil:
		f.Why = finding.Say("it cuts up to {0} into the assembly, and the deck under it is not known here: what goes back is not counted", finding.MM("cut", -f.Thinnest))
		return p, false
	case f.Thinnest < -Tolerance:
		f.Why = finding.Say("it cuts up to {0} into the assembly, and no cores say how deep that is: what goes back is not counted", finding.MM("cut", -f.Thinnest))
		return p, false
	case f.Area < float64(c.in.Stock.Length)*float64(c.in.Stock.Width) && !c.design.Stocked():
		f.Why = finding.Say("it is smaller than one board")
		return p, false
	case off > Tolerance:
		f.Why = finding.Say("what lies under it is no plane: its thickness is up to {0} off one", finding.MM("off", off))
		return p, false
	}
	reach := 0.0
	for _, q := range c.corners(i) {
		if g > 0 {
			reach = math.Max(reach, math.Abs(float64((q[0]-p.at[0])*p.g[0])+float64((q[1]-p.at[1])*p.g[1]))/g)
		}
	}
	best, least := 0.0, float64(g*reach)
	below, above := 0.0, 0.0
	for _, r := range c.in.Stock.Rates {
		s := float64(r)
		if s <= g {
			below = s
		} else if above == 0 {
			above = s
		}
		if d := math.Abs(s-g) * reach; d < least {
			best, least = s, d
		}
	}
	if off+least > Tolerance {
		f.Why = odd(g, below, above)
		return p, false
	}
	f.Rate = best
	if g > 0 {
		p.g = orb.Point{p.g[0] / g * best, p.g[1] / g * best}
	}
	return p, true
}

// odd says that a taper is no rate in stock.
func odd(g, below, above float64) finding.Text {
	switch {
	case below > 0 && above > 0:
		return finding.Say("on what it is laid its taper is {0}, which lies between the rates {1} and {2} in stock",
			finding.Fall("taper", g), finding.Fall("below", below), finding.Fall("above", above))
	case below > 0:
		return finding.Say("on what it is laid its taper is {0}, more than any rate in stock", finding.Fall("taper", g))
	}
	return finding.Say("on what it is laid its taper is {0}, less than any rate in stock", finding.Fall("taper", g))
}

// corners returns the corners of a field's outline.
func (c *counter) corners(i int) []orb.Point {
	var out []orb.Point
	for _, ring := range c.design.Facets[c.out.Fields[i].Facet].Polygon {
		out = append(out, ring[:len(ring)-1]...)
	}
	return out
}

// boards returns the part of a field that boards cover, and the edge strip where it is thinner than they are.
func (c *counter) boards(i int, p flat) (laid board.Field, strip Strip, ok bool) {
	f := &c.out.Fields[i]
	facet := &c.design.Facets[f.Facet]
	thin := float64(c.in.Stock.Thin)
	low, least := orb.Point{}, math.Inf(1)
	for _, q := range c.corners(i) {
		if t := p.thickness(q); t < least-1e-9 {
			low, least = q, t
		}
	}
	if math.Abs(p.thickness(facet.Plan)-least) < 1e-6 {
		low = facet.Plan
	}
	if start := c.design.Thickness; c.design.Stocked() && f.Rate > 0 && start >= thin-Tolerance { // courses of all sections are counted from the outlets, so that they meet
		if rounding := 1e-5; least < start && least > start-rounding { // a corner that was merged stands a hair before the outlet
			p.t += start - least
		}
		s := (start - p.t) / float64(f.Rate*f.Rate)
		low, least = orb.Point{p.at[0] + float64(s*p.g[0]), p.at[1] + float64(s*p.g[1])}, start
	}
	if facet.Along != (orb.Point{}) && f.Rate == 0 {
		low = facet.Plan
	}
	laid = board.Field{Polygon: facet.Polygon, Low: low, Thickness: math.Max(least, thin), DX: p.g[0], DY: p.g[1], Along: facet.Along}
	if least >= thin-Tolerance {
		return laid, strip, true
	}
	if f.Rate == 0 {
		f.Why = finding.Say("it is {0} thick, thinner than the thinnest board", finding.MM("thickness", p.t))
		return laid, strip, false
	}
	up, length := clip(facet.Polygon, &p, thin, true)
	if len(up) == 0 {
		f.Why = finding.Say("it is {0} thick at most, thinner than the thinnest board", finding.MM("thickest", f.Thickest))
		return laid, strip, false
	}
	down, _ := clip(facet.Polygon, &p, thin, false)
	laid.Polygon, laid.Thickness = up, thin
	s := (thin - p.t) / float64(f.Rate*f.Rate)
	laid.Low = orb.Point{p.at[0] + float64(s*p.g[0]), p.at[1] + float64(s*p.g[1])}
	strip = Strip{Field: i, Length: length, From: math.Max(0, least), To: thin}
	strip.Area, strip.Volume = p.over(down)
	if length > 0 {
		strip.Wide = strip.Area / length
	}
	return laid, strip, true
}
