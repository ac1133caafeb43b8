package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper"
)

// channel cuts a channel of half boards from the pond's low places straight to its outlet.
func (d *Designer) channel(p *Pond) (Mend, bool) {
	if p.Outlet < 0 {
		return Mend{}, false
	}
	m := Mend{Kind: Retaper, Decides: []string{finding.Roofer}}
	var patches []taper.Patch
	var cuts []channelCut
	for i, q := range p.pits[:min(len(p.pits), 4)] {
		c, sides, ok := d.cut(p, q, p.lows[i])
		if !ok {
			if i == 0 {
				return Mend{}, false
			}
			continue
		}
		patches = append(patches, sides...)
		cuts = append(cuts, c)
		m.Area += LineLength(c.line)
	}
	if len(patches) == 0 {
		return Mend{}, false
	}
	m.Change = d.channelled(p, cuts)
	m.Apply = func(a *taper.Alteration) { a.Lower(patches...) }
	return m, true
}

// channelCut is one channel: its line and its fall.
type channelCut struct {
	line orb.LineString
	fall float64
}

func (d *Designer) channelled(p *Pond, cuts []channelCut) Change {
	label := d.Surface.Outlets[p.Outlet].Label
	c := Change{At: cuts[0].line[0], Line: cuts[0].line, Brief: "cut channels to the outlet"}
	long, flat := 0.0, math.Inf(1)
	for i, k := range cuts {
		if i > 0 {
			c.More = append(c.More, k.line)
		}
		long, flat = math.Max(long, LineLength(k.line)), math.Min(flat, k.fall)
	}
	if len(cuts) == 1 {
		c.What = finding.Say("Cut a channel of half boards from "+p.ID+" to {3}, {0} long, falling at {1}, with sides at {2}",
			finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", channelSide), finding.Called(label))
		return c
	}
	c.What = finding.Say("Cut {0} channels of half boards from "+p.ID+" to {4}, {1} long at most, falling at {2} or more, with sides at {3}",
		finding.Number("channels", len(cuts)), finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", channelSide), finding.Called(label))
	return c
}

// cut returns the channel from a low place q at elevation z to the outlet of p; ok is false where it would fall too little or no straight way leads there.
func (d *Designer) cut(p *Pond, q orb.Point, z float64) (c channelCut, sides []taper.Patch, ok bool) {
	o := &d.Surface.Outlets[p.Outlet]
	end, stop := o.Plan, o.Invert
	if o.Line != nil {
		end = vector.Nearest(o.Line, q)
		if h, on := d.Locate.HeightAt(end[0], end[1]); on {
			stop = h
		}
	}
	l := LineLength(orb.LineString{q, end})
	if l < 0.1 || !d.Domain.Sees(q, end) {
		return c, nil, false
	}
	fall := (z - stop) / l
	if fall < d.Study.Criteria.MinValleySlope {
		return c, nil, false
	}
	fall = math.Min(fall, d.Slope)
	return channelCut{orb.LineString{q, end}, fall}, trench(q, end, z, fall), true
}

// channelSide is the slope of a channel's sides: that of a sump's.
const channelSide = 1.0 / 24

// trench returns the two sides of a channel from a, at elevation z, to b: it falls towards b and its sides rise at 1/2 in per ft.
func trench(a, b orb.Point, z, fall float64) []taper.Patch {
	const wide = 1.2 // as far as sides may reach: a board [m]
	v := orb.Point{b[0] - a[0], b[1] - a[1]}
	l := vector.Norm(v[0], v[1])
	u := orb.Point{v[0] / l, v[1] / l}
	n := orb.Point{-u[1] * wide, u[0] * wide}
	m := channelSide / wide
	left := []orb.Point{a, b, {b[0] + n[0], b[1] + n[1]}, {a[0] + n[0], a[1] + n[1]}}
	right := []orb.Point{b, a, {a[0] - n[0], a[1] - n[1]}, {b[0] - n[0], b[1] - n[1]}}
	return []taper.Patch{
		{On: left, Plan: a, Z: z, DX: -float64(fall*u[0]) + float64(m*n[0]), DY: -float64(fall*u[1]) + float64(m*n[1])},
		{On: right, Plan: a, Z: z, DX: -float64(fall*u[0]) - float64(m*n[0]), DY: -float64(fall*u[1]) - float64(m*n[1])},
	}
}
