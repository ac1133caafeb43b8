package correction

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

var noOutlet = finding.Say("the roof has no primary outlet to drain to; see where one can be added")

// overlay tapers the whole roof on the existing surface.
func (d *designer) overlay() ([]Option, error) {
	thickness := cmp.Or(d.Steering.Thickness, d.Boards.Thin)
	d.whole = mend.Overlay
	return d.tapered(d.Base, thickness, d.Sources)
}

// replace takes the insulation off and tapers new on the deck.
func (d *designer) replace() ([]Option, error) {
	thickness := d.Steering.Thickness
	if thickness == 0 {
		thickness = math.Max(standard.DeckThickness, d.Boards.Thin)
	}
	deck, ok := d.deck()
	if !ok {
		return []Option{{Why: finding.Say("The deck is not known. Three cores or more that are not on one line give its elevation.")}}, nil
	}
	d.whole = mend.Replace
	return d.tapered(deck, thickness, d.onDeck())
}

// onDeck are the sources as low as the thickness on the deck allows: edges, and outlets that the user keeps, stay where they are.
func (d *designer) onDeck() []taper.Source {
	return gather.Each(d.Sources, func(s taper.Source) taper.Source {
		if s.Line == nil && !d.Kept(s.Outlet) {
			s.Z = math.Inf(-1)
		}
		return s
	})
}

// deck returns the deck under every vertex of the surface.
func (d *designer) deck() (taper.Base, bool) {
	b := taper.Base{TIN: d.Base.TIN, Z: make([]float64, len(d.Base.Z))}
	if d.Deck == nil {
		return b, false
	}
	for v := range b.Z {
		z, _, ok := d.Deck(orb.Point{b.TIN.X[v], b.TIN.Y[v]})
		if !ok {
			return b, false
		}
		b.Z[v] = z
	}
	return b, true
}

// ways names a taper by how many ways its planes fall: what is laid, not the gauge it was found with.
func ways(d *taper.Design) string {
	const few = 0.02 // share of the area under which a direction is a detail
	var dirs []orb.Point
	var areas []float64
	total := 0.0
next:
	for i := range d.Facets {
		f := &d.Facets[i]
		g := vector.Norm(f.Taper[0], f.Taper[1])
		if g == 0 {
			continue
		}
		total += f.Area
		u := orb.Point{f.Taper[0] / g, f.Taper[1] / g}
		for k := range dirs {
			if float64(u[0]*dirs[k][0])+float64(u[1]*dirs[k][1]) > 0.99 {
				areas[k] += f.Area
				continue next
			}
		}
		dirs, areas = append(dirs, u), append(areas, f.Area)
	}
	n := gather.Count(areas, func(a float64) bool { return a > few*total })
	names := []string{"one-way", "one-way", "two-way", "three-way", "four-way"}
	if n < len(names) {
		return names[n]
	}
	return "eight-way"
}

// carried moves overflows with their primary outlets, so that they stand as high over them as before.
func (d *designer) carried(o *Option, r *roof.Roof) *roof.Roof {
	inverts := map[int]float64{}
	for i := range d.Surface.Outlets {
		out := &d.Surface.Outlets[i]
		if out.Duty != roof.Overflow || out.Source < 0 {
			continue
		}
		p := mend.PrimaryOf(d.Surface, i)
		if p < 0 || d.Surface.Outlets[p].Source < 0 || d.Kept(i) {
			continue
		}
		up := r.Outlets[d.Surface.Outlets[p].Source].Invert - d.Surface.Outlets[p].Invert
		if math.Abs(up) < tellable || out.Type != roof.Drain {
			continue
		}
		z, what, brief := out.Invert+up, "Set {2} from {0} to {1}, as high over {3} as before", ""
		if d.Roof.Outlets[out.Source].Origin.File == mend.Designed {
			z, what, brief = math.Floor(z*1000+1e-6)/1000, "Set {2} to {1}", "set the new overflow to its level"
		}
		inverts[out.Source] = z
		o.Changes = append(o.Changes, mend.Change{
			Kind: d.whole, Decides: finding.Plumber, At: out.Plan, Brief: brief,
			What: finding.Say(what, finding.Level("invert", out.Invert), finding.Level("new invert", z), finding.Called(out.Label), finding.Called(d.Surface.Outlets[p].Label)),
		})
	}
	if len(inverts) == 0 {
		return r
	}
	return setDown(r, inverts)
}

// least returns the fill of the lowest surface on p's base that needs no boards, on the survey's own spots.
func (d *designer) least(p *taper.Problem) float64 {
	return taper.Raised(d.Domain, p.Base, taper.Clear(p, taper.Seeds(d.Surface, p.Sources))).Fill.Volume
}
