package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/cricket"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// valley is the fall that valleys of crickets are to have.
func (d *Designer) valley(s float64) float64 {
	return cricket.Valley(s, d.Study.Criteria.MinValleySlope)
}

// nearLine is how far off the line between two outlets a pond's lowest place may be to be theirs, as a share of its length. Own choice.
const nearLine = 0.15

// Saddle builds a diamond on the low line between the two outlets nearest to the pond on both sides: half a diamond where only one side falls to it.
func (d *Designer) Saddle(p *Pond) (Mend, bool) {
	a, b, ok := d.between(p.Pit)
	if !ok {
		return Mend{}, false
	}
	least := d.Study.Criteria.MinValleySlope
	m := Mend{Kind: Cricket, Decides: []string{finding.Roofer}}
	length := LineLength(orb.LineString{a.Plan, b.Plan})
	var patches []taper.Patch
	wide, flat := 0.0, math.Inf(1)
	for _, side := range [][2]*surface.Outlet{{a, b}, {b, a}} {
		f, on := d.field(side[0].Plan, side[1].Plan)
		if !on || f.fall < least {
			continue
		}
		c := cricket.On(length, f.fall, d.valley(f.fall))
		if c.Valley < least-1e-9 {
			continue
		}
		patches = append(patches, f.triangle(side[0].Plan, side[1].Plan, c)...)
		wide, flat = wide+c.Apex, math.Min(flat, c.Valley)
	}
	if patches == nil {
		return Mend{}, false
	}
	what := choose.If(len(patches) == 2, "half a saddle", "a saddle")
	m.Apply = func(t *taper.Alteration) { t.Raise(patches...) }
	m.Area = length * wide
	thick := d.mostOver(patches)
	m.Questions = []Question{d.dryBetween(a, b, p)}
	m.Change = Change{
		What: finding.Say("Build "+what+" on the low line between {4} and {5}, {0} long and {1} wide in all at its middle, {2} thick at most; its valleys fall at {3}",
			finding.Metres("length", length), finding.Metres("width", wide), finding.MM("thickness", thick), finding.Fall("valley", flat), finding.Called(a.Label), finding.Called(b.Label)),
		At: p.Pit, Line: orb.LineString{a.Plan, b.Plan},
	}
	return m, true
}

// mostOver returns by how much patches rise over the roof at most, looked at every fiftieth of the way between their corners [m].
func (d *Designer) mostOver(patches []taper.Patch) float64 {
	const parts = 50
	most := 0.0
	for i := range patches {
		p := &patches[i]
		for k := 2; k < len(p.On); k++ {
			for u := range parts + 1 {
				for v := range parts + 1 - u {
					s, t := float64(u)/parts, float64(v)/parts
					q := orb.Point{
						p.On[0][0] + float64(s*(p.On[k-1][0]-p.On[0][0])) + float64(t*(p.On[k][0]-p.On[0][0])),
						p.On[0][1] + float64(s*(p.On[k-1][1]-p.On[0][1])) + float64(t*(p.On[k][1]-p.On[0][1])),
					}
					if z, on := d.Locate.HeightAt(q[0], q[1]); on {
						most = math.Max(most, p.Z+float64(p.DX*(q[0]-p.Plan[0]))+float64(p.DY*(q[1]-p.Plan[1]))-z)
					}
				}
			}
		}
	}
	return most
}

// dryBetween asks what must be so before a saddle is laid between two outlets.
func (d *Designer) dryBetween(a, b *surface.Outlet, p *Pond) Question {
	return Question{
		Ask:   finding.Say("Is the insulation between {0} and {1} dry and firm? Cut a core", finding.Called(a.Label), finding.Called(b.Label)),
		Where: "between " + a.Label + " and " + b.Label, At: p.Pit, Decides: finding.Roofer,
		If: finding.Say("Dry and firm"), Then: finding.Say("Lay the saddle. Wet or crushed: replace it first"),
	}
}

// between returns the two primary outlets on whose line q lies and that are nearest to each other.
func (d *Designer) between(q orb.Point) (a, b *surface.Outlet, ok bool) {
	best := math.Inf(1)
	for i := range d.Surface.Outlets {
		for k := range i {
			u, v := &d.Surface.Outlets[k], &d.Surface.Outlets[i]
			if !endsLine(u) || !endsLine(v) {
				continue
			}
			line := orb.LineString{u.Plan, v.Plan}
			l, n := LineLength(line), vector.Nearest(line, q)
			aside := LineLength(orb.LineString{n, q})
			if n == u.Plan || n == v.Plan || l >= best || aside > nearLine*l || !d.Domain.Sees(u.Plan, v.Plan) {
				continue
			}
			a, b, best, ok = u, v, l, true
		}
	}
	return a, b, ok
}

// endsLine reports whether an outlet may be an end of a low line: a primary one in one place.
func endsLine(o *surface.Outlet) bool { return o.Duty == roof.Primary && o.Line == nil }
