package takeoff

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// counter holds what the steps of Of share.
type counter struct {
	in       *Input
	option   *correction.Option
	design   *taper.Design // nil where the surface stays
	out      *TakeOff
	material *standard.Material
	at       map[int]int // facet: its field
	parts    [][]part    // by field
	locate   *surface.Locator
}

// part is a convex piece of a field.
type part struct {
	on    []orb.Point
	t     []float64 // thickness of new insulation, at on [m]
	old   []float64 // of what is on the deck now, where it is known; nil where not [m]
	above []float64 // of the new surface above the old [m]
}

// Of takes off one option. It fails where the option is none, the stock is none or the material is not in the table.
func Of(in *Input) (*TakeOff, error) {
	if in.Option < 0 || in.Option >= len(in.Result.Options) || !in.Result.Options[in.Option].Possible {
		return nil, errors.New("take-off: there is no such option")
	}
	c := &counter{in: in, option: &in.Result.Options[in.Option], at: map[int]int{}}
	c.design = c.option.Design
	name := in.Material
	if name == "" {
		name = "polyiso"
	}
	var ok bool
	if c.material, ok = standard.FindMaterial(name); !ok || !c.material.Insulates() && in.PerMetre == 0 {
		return nil, fmt.Errorf("take-off: %q is no insulation of the table of materials", name)
	}
	c.out = &TakeOff{Material: c.material.Name, Stock: in.Stock, Waste: in.Waste}
	if c.design != nil {
		c.gather()
		if err := c.lay(); err != nil {
			return nil, fmt.Errorf("take-off: %w", err)
		}
		c.measured()
		c.sums()
	}
	c.thermal()
	c.items()
	c.words()
	return c.out, nil
}

// gather makes a field of every new facet.
func (c *counter) gather() {
	c.design.Parts(func(p *taper.Part) {
		i, ok := c.at[p.Facet]
		if !ok {
			i = len(c.out.Fields)
			c.at[p.Facet] = i
			c.out.Fields = append(c.out.Fields, Field{Facet: p.Facet, Use: c.use(p.Facet)})
			c.parts = append(c.parts, nil)
		}
		n := part{on: append([]orb.Point(nil), p.On...), above: append([]float64(nil), p.Thickness...)}
		n.t = n.above
		c.parts[i] = append(c.parts[i], n)
	})
	for i := range c.out.Fields {
		f := &c.out.Fields[i]
		c.old(i)
		c.onDeck(i)
		f.Thinnest, f.Thickest = math.Inf(1), math.Inf(-1)
		for _, p := range c.parts[i] {
			f.Area += area(p.on)
			for _, t := range p.t {
				f.Thinnest, f.Thickest = math.Min(f.Thinnest, t), math.Max(f.Thickest, t)
			}
			over, under := bothSides(p.on, p.t)
			f.Volume += over
			if f.OnDeck {
				f.Cut += integral(p.on, p.old)
			} else {
				f.Cut += under
			}
		}
	}
}

// use says what a facet is for.
func (c *counter) use(facet int) Use {
	switch o := c.option; o.Kind {
	case correction.LowerOutlet:
		return Sump
	case correction.LowerRise:
		return Channel
	case correction.Retaper, correction.LowerEdge:
		return Retaper
	case correction.Cricket:
		return Cricket
	case correction.Fill, correction.ReplacePatch:
		return Fill
	case correction.Combined:
		return c.combined(facet)
	case correction.Overlay, correction.Replace:
		// Planes of a cricket in a two-way layout are flatter than the fields.
		f := &c.design.Facets[facet]
		if g := math.Sqrt(float64(f.DX*f.DX) + float64(f.DY*f.DY)); g < c.design.Slope*0.999 {
			return Cricket
		}
	case correction.AsFound, correction.Clear, correction.Dewater, correction.RemoveSource, correction.MoveObstacle, correction.Resecure,
		correction.RaiseCurb, correction.AddScupper, correction.AddOutlet, correction.Structure: // no facet is new
	}
	return Taper
}

// combined says what a facet of a combination is for: a fill is the last part, a cut one of those before.
func (c *counter) combined(facet int) Use {
	uses := map[correction.Kind]Use{correction.LowerRise: Channel, correction.LowerOutlet: Sump, correction.Retaper: Retaper, correction.Cricket: Cricket, correction.Fill: Fill, correction.ReplacePatch: Fill, correction.LowerEdge: Retaper}
	for k := len(c.option.Parts) - 1; k >= 0; k-- {
		u, ok := uses[c.option.Parts[k]]
		if !ok {
			continue
		}
		if builds := u == Fill || u == Cricket; builds == (c.design.Facets[facet].Fill >= 0) {
			return u
		}
	}
	return Fill
}

// old looks up how thick the assembly under a field is, where the deck is known.
func (c *counter) old(i int) {
	deck := c.deck()
	if deck == nil {
		return
	}
	for k := range c.parts[i] {
		p := &c.parts[i][k]
		was := make([]float64, len(p.on))
		for n, q := range p.on {
			z, ok := c.design.Height(q)
			d, _, known := deck(q)
			if !ok || !known {
				for j := range c.parts[i] {
					c.parts[i][j].old = nil
				}
				return
			}
			was[n] = math.Max(0, z-p.above[n]-d)
			if c.option.Kind == correction.Replace {
				was[n] = math.Max(0, c.existing(q)-d)
			}
		}
		p.old = was
	}
}

// onDeck counts a field that cuts into the assembly from the deck up, where the deck is known.
func (c *counter) onDeck(i int) {
	f := &c.out.Fields[i]
	if c.option.Kind == correction.Replace {
		f.OnDeck = len(c.parts[i]) > 0 && c.parts[i][0].old != nil
		return
	}
	cuts := false
	for _, p := range c.parts[i] {
		for n := range p.t {
			cuts = cuts || p.t[n] < -Tolerance
			if p.old == nil {
				return
			}
		}
	}
	if !cuts {
		return
	}
	f.OnDeck = true
	for k := range c.parts[i] {
		p := &c.parts[i][k]
		p.t = make([]float64, len(p.on))
		for n := range p.on {
			p.t[n] = p.above[n] + p.old[n]
		}
	}
}

// deck returns where the deck lies, nil where nobody knows.
func (c *counter) deck() func(orb.Point) (z, sigma float64, ok bool) {
	if c.in.Study.Assembly == nil || len(c.in.Study.Roof.Cores) == 0 {
		return nil
	}
	return c.in.Study.Assembly.Deck
}

// least is the volume under which nothing is built or taken out: rounding stays below it [m3].
const least = 1e-6

// sums adds up the fields.
func (c *counter) sums() {
	o := c.out
	deepest := orb.Point{}
	for i := range o.Fields {
		f := &o.Fields[i]
		o.Area += f.Area
		o.Volume += f.Volume
		o.Cut += f.Cut
		for k := range c.parts[i] {
			c.extremes(&c.parts[i][k], &deepest)
		}
	}
	for i := range o.Measured {
		if m := &o.Measured[i]; m.Fields == nil {
			o.Area += m.Area
			o.Volume += m.Volume
			o.Cut += m.Cut
		}
	}
	if o.Volume < least {
		o.Volume, o.Greatest, o.At = 0, 0, deepest
	}
	if o.Area > 0 {
		o.Average = o.Volume / o.Area
	}
	c.lengths()
	o.Load, o.GreatestLoad = float64(o.Average*c.material.Weight), float64(o.Greatest*c.material.Weight)
	o.Mass = float64(o.Volume*c.material.Weight) / standard.Gravity
}

// extremes takes in where a part is thickest, and where it cuts deepest.
func (c *counter) extremes(p *part, deepest *orb.Point) {
	o := c.out
	for n, t := range p.t {
		if t > o.Greatest {
			o.Greatest, o.At = t, p.on[n]
		}
		if c.option.Kind != correction.Replace && -p.above[n] > o.Deepest {
			o.Deepest, *deepest = -p.above[n], p.on[n]
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

// measured collects what is not laid into patches of fields that touch, and adds the part of a combination that is done first.
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
		b, okB := c.at[l.Right]
		if okA && okB && o.alike(a, b) {
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
			o.Measured = append(o.Measured, Measured{Use: f.Use, Why: f.Why, Thinnest: f.Thinnest, Thickest: f.Thickest})
		}
		o.Measured[k].add(i, f)
	}
	c.first()
}

func (o *TakeOff) alike(a, b int) bool {
	f, g := &o.Fields[a], &o.Fields[b]
	return !f.Laid && !g.Laid && f.Use == g.Use && f.Why.Format == g.Why.Format
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

// first adds what a combination does before its fill: the design is the last part only.
func (c *counter) first() {
	fill, cut := c.option.Fill-c.design.Fill.Volume, c.option.Cut-c.design.Fill.Cut
	if c.option.Kind != correction.Combined || fill < least && cut < least {
		return
	}
	c.out.Measured = append(c.out.Measured, Measured{
		Use: Retaper, Area: math.Max(0, math.Min(c.option.Area, c.in.Study.Surface.Area)-c.design.Fill.Area), Volume: math.Max(0, fill), Cut: math.Max(0, cut), Thickest: c.option.Greatest,
		Why: finding.Say("the part of the combination that is done first; the option of that name shows it alone"),
	})
}
