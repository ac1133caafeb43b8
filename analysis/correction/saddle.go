package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// widths are how wide crickets are tried, by the fall of their valleys over the criterion; the last is as wide as 45 degrees allows.
// A wider one falls more on the same field: they are widened before they are steepened. Own choice.
var widths = [...]float64{1, 1.25, math.Inf(1)}

// crickets builds one on every pond that stands behind a curb or in a low line between two outlets: the narrowest of widths after which no
// pond is left, else the one that comes nearest.
func (d *designer) crickets([]Option) ([]Option, error) {
	if len(d.ponds) == 0 {
		return nil, nil
	}
	var best *Option
	taken := 1.0
	for _, w := range widths {
		d.width = w
		made, err := d.each(d.cricket)(nil)
		if err != nil {
			return nil, err
		}
		o := &made[0]
		if best == nil || o.Meets || o.nearer(best) {
			best, taken = o, w
		}
		if o.Meets || !o.Possible {
			break
		}
	}
	d.width = taken
	return []Option{*best}, nil
}

// valley is the fall that valleys of crickets are to have.
func (d *designer) valley(s float64) float64 {
	return math.Min(s, math.Max(1, d.width)*d.in.Study.Criteria.MinValleySlope)
}

// nearLine is how far off the line between two outlets a pond's lowest place may be to be theirs, as a share of its length. Own choice.
const nearLine = 0.15

// saddle builds a diamond on the low line between the two outlets nearest to the pond on both sides: half a diamond where only one side falls to it.
func (d *designer) saddle(p *pond) (mend, finding.Text) {
	a, b, ok := d.between(p.pit)
	if !ok {
		return mend{}, finding.Say("no pond stands behind a curb or in a low line between two outlets")
	}
	least := d.in.Study.Criteria.MinValleySlope
	m := mend{decides: []string{"roofer"}}
	length := lineLength(orb.LineString{a.Plan, b.Plan})
	var patches []taper.Patch
	wide, flat, thick := 0.0, math.Inf(1), 0.0
	for _, side := range [][2]*surface.Outlet{{a, b}, {b, a}} {
		f, on := d.field(side[0].Plan, side[1].Plan)
		if !on || f.fall < least {
			continue
		}
		c := TriangleFor(length, f.fall, d.valley(f.fall))
		if c.Valley < least-1e-9 {
			continue
		}
		patches = append(patches, f.triangle(side[0].Plan, side[1].Plan, c)...)
		wide, flat, thick = wide+c.Apex, math.Min(flat, c.Valley), math.Max(thick, c.Thickness)
	}
	if patches == nil {
		return mend{}, finding.Say("the planes beside the line from " + a.Label + " to " + b.Label + " fall too little for a cricket's valleys")
	}
	what := "a saddle"
	if len(patches) == 2 {
		what = "half a saddle"
	}
	m.apply = func(t *taper.Alteration) { t.Raise(patches...) }
	m.changes = []Change{{
		What: finding.Say("build "+what+" on the low line between "+a.Label+" and "+b.Label+", {0} long and {1} wide in all at its middle, {2} thick there; its valleys fall at {3}",
			finding.Metres("length", length), finding.Metres("width", wide), finding.MM("thickness", thick), finding.Fall("valley", flat)),
		At: p.pit, Line: orb.LineString{a.Plan, b.Plan},
	}}
	return m, finding.Text{}
}

// between returns the two primary outlets on whose line q lies and that are nearest to each other.
func (d *designer) between(q orb.Point) (a, b *surface.Outlet, ok bool) {
	best := math.Inf(1)
	for i := range d.s.Outlets {
		for k := range i {
			u, v := &d.s.Outlets[k], &d.s.Outlets[i]
			if !endsLine(u) || !endsLine(v) {
				continue
			}
			line := orb.LineString{u.Plan, v.Plan}
			l, n := lineLength(line), nearestOn(line, q)
			aside := lineLength(orb.LineString{n, q})
			if n == u.Plan || n == v.Plan || l >= best || aside > nearLine*l || !d.domain.Sees(u.Plan, v.Plan) {
				continue
			}
			a, b, best, ok = u, v, l, true
		}
	}
	return a, b, ok
}

// endsLine reports whether an outlet may be an end of a low line: a primary one in one place.
func endsLine(o *surface.Outlet) bool { return o.Duty == roof.Primary && o.Line == nil }
