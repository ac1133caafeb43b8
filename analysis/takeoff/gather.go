package takeoff

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper"
)

// gather makes a field of every new facet.
func (c *counter) gather() {
	c.design.Parts(func(p *taper.Part) {
		i, ok := c.at[p.Facet]
		if !ok {
			i = len(c.out.Fields)
			c.at[p.Facet] = i
			c.out.Fields = append(c.out.Fields, Field{Facet: p.Facet, Use: c.use(p.Facet), Mesh: c.onMesh(p.Facet)})
			c.parts = append(c.parts, nil)
		}
		n := part{on: append([]orb.Point(nil), p.On...), above: append([]float64(nil), p.Thickness...)}
		n.t = append([]float64(nil), p.Boards...)
		c.parts[i] = append(c.parts[i], n)
	})
	for i := range c.out.Fields {
		c.old(i)
		c.gone(i)
	}
	deep := map[Use]bool{}
	for i := range c.out.Fields {
		u := c.out.Fields[i].Use
		if _, asked := deep[u]; !asked {
			deep[u] = c.toDeck(u)
		}
		c.onDeck(i, deep[u])
		c.amounts(i)
	}
}

// amounts adds up the parts of a field.
func (c *counter) amounts(i int) {
	f := &c.out.Fields[i]
	f.Thinnest, f.Thickest = math.Inf(1), math.Inf(-1)
	deepest := 0.0
	for _, p := range c.parts[i] {
		for k, t := range p.t {
			f.Thinnest, f.Thickest = math.Min(f.Thinnest, t), math.Max(f.Thickest, t)
			deepest = math.Max(deepest, -p.above[k])
		}
		over, under := bothSides(p.on, p.t)
		f.Volume += over
		if f.OnDeck {
			f.Area += vector.Area(p.on)
			f.Cut += integral(p.on, p.gone)
			continue
		}
		if f.Cut += under; (f.Use == Taper || f.Use == Cricket) && !c.design.Facets[f.Facet].Moved() {
			f.Area += vector.Area(p.on)
		} else {
			f.Area += differing(p.on, p.above)
		}
	}
	if !f.OnDeck && deepest < leastCut { // rounding of heights, which nobody cuts
		f.Cut, f.Thinnest = 0, math.Max(0, f.Thinnest)
	}
}

// leastCut is the depth under which nothing is cut [m]: what a knife or a plane takes off at one pass. Own choice.
const leastCut = 0.001

// differing returns the area of a convex polygon on which a surface differs from the old one so that the membrane is opened, with how far it stands above that at its corners.
func differing(on []orb.Point, above []float64) float64 {
	shifted := make([]float64, len(above))
	sum := 0.0
	for _, sign := range []float64{1, -1} {
		for k := range above {
			shifted[k] = sign*above[k] - mend.Seen
		}
		if part, _ := side(on, shifted); len(part) > 2 {
			sum += vector.Area(part)
		}
	}
	return sum
}

// uses says what the planes that a change makes are for.
var uses = map[mend.Kind]Use{
	mend.LowerOutlet: Sump, mend.AddOutlet: Sump, mend.AddScupper: Sump, mend.LowerRise: Rise, mend.MoveObstacle: Rise, mend.Resecure: Rise, mend.LowerEdge: Edge, mend.ReplacePatch: Patch, mend.Cricket: Cricket,
	mend.Retaper: Retaper, mend.Fill: Fill,
}

// use says what a facet is for: by the change that makes it, else by the kind of the option.
func (c *counter) use(facet int) Use {
	o := c.option
	if facet < len(o.Made) {
		if u, ok := uses[o.Made[facet]]; ok {
			return u
		}
	}
	if u, ok := uses[o.Kind]; ok {
		return u
	}
	// Planes of a cricket in a two-way layout are flatter than the fields.
	f := &c.design.Facets[facet]
	g := vector.Norm(f.DX, f.DY)
	if c.design.Stocked() {
		g = vector.Length(f.Taper)
	}
	return choose.If(g < c.design.Slope*0.999, Cricket, Taper)
}

// onMesh reports whether a facet follows the facets of the survey: it was moved with them, or it is of a use that always does.
func (c *counter) onMesh(facet int) bool {
	switch u := c.use(facet); u {
	case Fill, Patch, Rise, Edge:
		return true
	case Retaper:
		return c.design.Facets[facet].Moved()
	case Taper, Cricket, Sump:
	}
	return false
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
			if c.option.Kind == mend.Replace {
				was[n] = math.Max(0, c.existing(q)-d)
			}
		}
		p.old = was
	}
}

// gone says how much comes out of a field that is laid from the deck up: of a replaced patch what the core in or beside it calls wet or pressed, elsewhere all down to the deck.
func (c *counter) gone(i int) {
	bad := 0.0
	if c.out.Fields[i].Use == Patch {
		bad = c.damaged(i)
	}
	for k := range c.parts[i] {
		p := &c.parts[i][k]
		if p.gone = p.old; bad > 0 {
			p.gone = slices.Repeat([]float64{bad}, len(p.on))
		}
	}
}

// damaged returns how thick the wet or pressed insulation is in the core nearest to a field that has any [m]; 0 where none is in reach.
func (c *counter) damaged(i int) float64 {
	best, far := 0.0, mend.CoreReach
	for k := range c.in.Study.Roof.Cores {
		core := &c.in.Study.Roof.Cores[k]
		bad := 0.0
		for n := range core.Layers {
			if l := &core.Layers[n]; l.Condition == "wet" || l.Condition == "compressed" {
				bad += float64(l.Thickness)
			}
		}
		if d := c.distance(i, core.Plan); bad > 0 && d < far {
			best, far = bad, d
		}
	}
	return best
}

// distance returns how far a place is from the nearest corner of a field [m].
func (c *counter) distance(i int, q orb.Point) float64 {
	far := math.Inf(1)
	for k := range c.parts[i] {
		for _, p := range c.parts[i][k].on {
			far = math.Min(far, vector.Distance(p, q))
		}
	}
	return far
}

// onDeck counts a field from the deck up where insulation comes out to the deck: where the roof or a patch is replaced, and where a cut goes into the assembly. The deck must be
// known under all that is made for one use; else it is counted as what is cut and laid above the old surface.
func (c *counter) onDeck(i int, deep bool) {
	f := &c.out.Fields[i]
	if c.option.Kind == mend.Replace {
		f.OnDeck = c.parts[i][0].old != nil
		return
	}
	if f.OnDeck = deep; !deep {
		return
	}
	for k := range c.parts[i] {
		p := &c.parts[i][k]
		p.t = make([]float64, len(p.on))
		for n := range p.on {
			p.t[n] = p.above[n] + p.gone[n]
		}
	}
}

// toDeck reports whether what is made for a use is laid from the deck up, though the rest of the roof stays.
func (c *counter) toDeck(u Use) bool {
	cuts := u == Patch
	for k := range c.out.Fields {
		if c.out.Fields[k].Use != u {
			continue
		}
		for _, p := range c.parts[k] {
			if p.gone == nil {
				return false
			}
			for n := range p.above {
				cuts = cuts || p.above[n] < -Tolerance
			}
		}
	}
	return cuts
}

// deck returns where the deck lies, nil where nobody knows.
func (c *counter) deck() func(orb.Point) (z, sigma float64, ok bool) {
	if c.in.Study.Assembly == nil || len(c.in.Study.Roof.Cores) == 0 {
		return nil
	}
	return c.in.Study.Assembly.Deck
}
