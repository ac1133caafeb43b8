package takeoff

import (
	"math"

	"runnel/analysis/finding"
)

// measured collects what is not laid into patches of fields that touch.
func (c *counter) measured() {
	o := c.out
	patch := make([]int, len(o.Fields))
	for i := range patch {
		patch[i] = i
	}
	root := func(i int) int {
		for patch[i] != i {
			i = patch[i]
		}
		return i
	}
	for _, l := range c.design.Lines {
		a, okA := c.at[l.Left]
		if b, okB := c.at[l.Right]; okA && okB && o.alike(a, b) {
			a, b = root(a), root(b)
			patch[max(a, b)] = min(a, b)
		}
	}
	at := map[int]int{}
	for i := range o.Fields {
		f := &o.Fields[i]
		if f.Laid {
			continue
		}
		k, ok := at[root(i)]
		if !ok {
			k = len(o.Measured)
			at[root(i)] = k
			o.Measured = append(o.Measured, Measured{Use: f.Use, Mesh: f.Mesh, Why: f.Why, Thinnest: f.Thinnest, Thickest: f.Thickest})
		}
		o.Measured[k].add(i, f)
	}
}

func (o *TakeOff) alike(a, b int) bool {
	f, g := &o.Fields[a], &o.Fields[b]
	return !f.Laid && !g.Laid && f.Use == g.Use && f.Mesh == g.Mesh && f.Why.Format == g.Why.Format
}

func (m *Measured) add(i int, f *Field) {
	m.Fields = append(m.Fields, i)
	m.Area += f.Area
	m.Volume += f.Volume
	m.Cut += f.Cut
	m.Thinnest, m.Thickest = math.Min(m.Thinnest, f.Thinnest), math.Max(m.Thickest, f.Thickest)
	for k := range f.Why.Args { // the greatest of each number of the reason
		if k < len(m.Why.Args) && f.Why.Args[k].Value > m.Why.Args[k].Value {
			args := append([]finding.Quantity(nil), m.Why.Args...)
			args[k] = f.Why.Args[k]
			m.Why.Args = args
		}
	}
}
