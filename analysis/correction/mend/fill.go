package mend

import (
	"math"
	"slices"

	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// fillRates are the falls that a small taper is tried at, over the least of valleys. Own choice.
var fillRates = [...]float64{1.1, 1.3, 1.45}

// fills are small tapers inside a cut line, flattest first: the low place is built up so that it falls over its lip, and the roof above it falls onto that.
func (d *Designer) fills(p *Pond) []Mend {
	var out []Mend
	for _, rate := range fillRates {
		fall := rate * d.Study.Criteria.MinValleySlope
		set := d.filledOver(p, fall)
		if len(set) == 0 {
			continue
		}
		thick := 0.0
		for v, z := range set {
			thick = math.Max(thick, z-d.Base.Z[v])
		}
		m := Mend{Kind: Fill, Set: set, Decides: []string{finding.Roofer}, Fill: true}
		m.Area = d.Touched(set)
		m.Volume = d.volume(set)
		m.Change = d.filledWords(p, thick, fall)
		m.Questions = []Question{d.dryAndFirm(p)}
		out = append(out, m)
	}
	return out
}

// filledWords says what is laid into a low place.
func (d *Designer) filledWords(p *Pond, thick, fall float64) Change {
	return Change{At: p.Pit, What: finding.Say("Cut out the membrane at "+p.ID+", lay tapered boards {0} thick at most that fall to the lip at {1}, and cover them anew",
		finding.MM("thickness", thick), finding.Fall("slope", fall))}
}

// dryAndFirm asks what must be so before anything is laid into a low place.
func (d *Designer) dryAndFirm(p *Pond) Question {
	return Question{
		Ask: finding.Say("Is the insulation at " + p.ID + " dry and firm, and is the deck below it level? Cut a core, and level the deck from below"), Where: "at " + p.ID, At: p.Pit, Decides: finding.Roofer,
		If:   finding.Say("Dry and firm on a level deck"),
		Then: finding.Say("Lay the taper. Wet or crushed: replace that patch. A deck that sags: an engineer first"),
	}
}

// filledOver returns elevations of the vertices that drain to a pond so that each falls out of it at a slope, where that raises them.
func (d *Designer) filledOver(p *Pond, fall float64) map[int32]float64 {
	in := d.basin(p)
	if len(in) == 0 {
		return nil
	}
	problem := d.Problem(d.Base, nil, d.FourWay(), fall, 0)
	var seeds []taper.Seed
	inside := make([]bool, len(d.Base.Z))
	for _, v := range in {
		inside[v] = true
	}
	taken := map[int32]bool{}
	for _, v := range in {
		for _, w := range d.Star[v] {
			if !inside[w] && !taken[w] {
				taken[w] = true
				seeds = append(seeds, taper.Seed{Vertex: w, Z: d.Base.Z[w]})
			}
		}
	}
	if p.Held >= 0 && d.Surface.Outlets[p.Held].Line == nil {
		seeds = append(seeds, taper.Seeds(d.Surface, []taper.Source{{Outlet: p.Held, Plan: d.Surface.Outlets[p.Held].Plan, Z: d.Surface.Outlets[p.Held].Invert}})...)
	}
	if len(seeds) == 0 {
		return nil
	}
	slices.SortFunc(seeds, func(a, b taper.Seed) int { return int(a.Vertex) - int(b.Vertex) })
	z := taper.ClearWithin(problem, seeds, inside)
	set := map[int32]float64{}
	for _, v := range in {
		if up := z[v] - d.Base.Z[v]; up > 1e-5 && !math.IsInf(up, 1) {
			set[v] = math.Round(z[v]*1e5) / 1e5
		}
	}
	return set
}

// basin returns the vertices whose water runs to a pond: under its water, and uphill of it, on the way that falls most.
func (d *Designer) basin(p *Pond) []int32 {
	t := d.Surface.TIN
	var out []int32
	inside := make([]bool, len(t.X))
	rim := map[int32]bool{}
	for v := range t.X {
		if t.Z[v] < p.level-surface.Grid/2 && d.Under(p, int32(v)) {
			inside[v] = true
			out = append(out, int32(v))
		}
	}
	// Uphill: a vertex joins where its steepest way down leads to one that has joined.
	for i := 0; i < len(out); i++ {
		for _, w := range d.Star[out[i]] {
			if inside[w] || rim[w] {
				continue
			}
			if inside[d.down(w)] {
				inside[w] = true
				out = append(out, w)
			}
		}
	}
	return out
}

// Under reports whether a vertex lies under the water of a pond.
func (d *Designer) Under(p *Pond, v int32) bool {
	ps := d.Study.Ponds
	return int(v) < len(ps.Of) && ps.Of[v] >= 0 && ps.Of[v] == d.Study.Listed[p.index].Pond
}

// down returns the neighbour of v to which the edge falls most, v itself where none falls.
func (d *Designer) down(v int32) int32 {
	best, steep := v, 0.0
	for _, w := range d.Star[v] {
		if s := (d.Base.Z[v] - d.Base.Z[w]) / math.Max(d.far(v, w), 1e-3); s > steep {
			best, steep = w, s
		}
	}
	return best
}

// Touched returns the plan area of the facets with a corner that is moved [m2].
func (d *Designer) Touched(set map[int32]float64) float64 {
	t := d.Surface.TIN
	sum := 0.0
	for f := range t.Facets() {
		v := t.V[3*f : 3*f+3]
		_, a := set[v[0]]
		_, b := set[v[1]]
		if _, c := set[v[2]]; a || b || c {
			sum += math.Abs(float64((t.X[v[1]]-t.X[v[0]])*(t.Y[v[2]]-t.Y[v[0]]))-float64((t.X[v[2]]-t.X[v[0]])*(t.Y[v[1]]-t.Y[v[0]]))) / 2
		}
	}
	return sum
}

// Feathers reports whether an option spreads a fill too wide and too thin to be a mend.
func Feathers(fill, area float64) bool {
	return area > standard.WideFeather && fill/area < standard.ThinFeather
}
