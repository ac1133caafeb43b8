package takeoff

import (
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction/mend"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// least is the volume under which nothing is built or taken out: rounding stays below it [m3].
const least = 1e-6

// sums adds up the fields.
func (c *counter) sums() {
	o := c.out
	for i := range o.Fields {
		f := &o.Fields[i]
		if o.Area += f.Area; f.Volume > least {
			o.Covered += f.Area
		}
		o.Volume += f.Volume
		o.Cut += f.Cut
		for k := range c.parts[i] {
			c.extremes(&c.parts[i][k])
		}
	}
	o.Volume += o.Leveller.Volume - o.Leveller.Poured
	if o.Deepest < leastCut {
		o.Deepest = 0
	}
	if o.Volume < least {
		o.Volume, o.Greatest, o.At = 0, 0, o.CutAt
	}
	if o.Covered > 0 && o.Volume > 0 {
		o.Average = o.Volume / o.Covered
	}
	c.lengths()
	o.Load, o.GreatestLoad = float64(o.Average*c.material.Weight), float64(o.Greatest*c.material.Weight)
	if c.design.Stocked() {
		o.Load = (float64(o.Volume*c.material.Weight) + float64(o.Leveller.Poured*standard.LevellerWeight)) / o.Covered
		o.GreatestLoad = c.design.Heaviest(c.material.Weight, standard.LevellerWeight)
	}
	o.Mass = (float64(o.Volume*c.material.Weight) + float64(o.Leveller.Poured*standard.LevellerWeight)) / standard.Gravity
}

// extremes takes in where a part is thickest, and where it cuts deepest.
func (c *counter) extremes(p *part) {
	o := c.out
	for n, t := range p.t {
		if t > o.Greatest {
			o.Greatest, o.At = t, p.on[n]
		}
		if p.above[n] > o.Highest {
			o.Highest, o.HighestAt = p.above[n], p.on[n]
		}
		if c.option.Kind != mend.Replace && -p.above[n] > o.Deepest {
			o.Deepest, o.CutAt = -p.above[n], p.on[n]
		}
	}
}

// lengths measures cut lines and mitres.
func (c *counter) lengths() {
	o := c.out
	for _, line := range c.design.CutLines() {
		o.CutLine += planar.Length(line)
	}
	for _, l := range c.design.Lines {
		a, okA := c.at[l.Left]
		b, okB := c.at[l.Right]
		if okA && okB && (l.Kind == roof.Valley || l.Kind == roof.Hip) && o.Fields[a].Laid && o.Fields[b].Laid {
			o.Mitres += l.Length
		}
	}
}
