package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// mend is a local change for one pond. apply changes the surface; inverts are new ones by index into roof.Outlets.
type mend struct {
	kind    Kind
	apply   func(a *taper.Alteration)
	inverts map[int]float64
	changes []Change
	decides []string
}

// each returns the maker of one option that mends every pond that it can in one way.
func (d *designer) each(way func(p *pond) (mend, finding.Text)) func([]Option) ([]Option, error) {
	return func([]Option) ([]Option, error) {
		if len(d.ponds) == 0 {
			return nil, nil
		}
		var mends []mend
		var why finding.Text
		for i := range d.ponds {
			m, no := way(&d.ponds[i])
			if m.apply == nil {
				why = no
				continue
			}
			mends = append(mends, m)
		}
		if len(mends) == 0 {
			return []Option{{Why: why}}, nil
		}
		return []Option{d.altered(mends)}, nil
	}
}

// altered applies mends together and runs the analysis on what comes of it.
func (d *designer) altered(mends []mend) Option {
	a := taper.Alter(d.domain, d.base)
	inverts := map[int]float64{}
	o := Option{Possible: true}
	for _, m := range mends {
		m.apply(a)
		for i, z := range m.inverts {
			if w, ok := inverts[i]; !ok || z < w {
				inverts[i] = z
			}
		}
		o.addDecides(m.decides...)
	}
	for _, m := range mends {
		if m.lowest(inverts) {
			o.Changes = append(o.Changes, m.changes...)
		}
	}
	o.Design = a.Design()
	o.Roof = setDown(o.Design.Roof(d.roof, d.s), inverts)
	d.judge(&o, 0)
	return o
}

// lowest reports whether no other mend sets the same outlet lower.
func (m *mend) lowest(inverts map[int]float64) bool {
	for i, z := range m.inverts {
		if z > inverts[i] {
			return false
		}
	}
	return true
}

func (o *Option) addDecides(who ...string) {
	for _, w := range who {
		known := false
		for _, k := range o.Decides {
			known = known || k == w
		}
		if !known {
			o.Decides = append(o.Decides, w)
		}
	}
}

// sump sets the outlet down so far that a sump at 1/2 in per ft round it takes the pond's lowest place.
func (d *designer) sump(p *pond) (mend, finding.Text) {
	o, why := d.movable(p)
	if o == nil {
		return mend{}, why
	}
	g := d.fourWay()
	far := g.N(orb.Point{p.pit[0] - o.Plan[0], p.pit[1] - o.Plan[1]})
	if far > standard.SumpWidest/2 || !d.domain.Sees(o.Plan, p.pit) {
		return mend{}, finding.Say("{0} from the outlet to the lowest place of "+p.id+" is more than a sump reaches", finding.Metres("distance", far))
	}
	return d.recess(p, o, standard.SumpRate, math.Max(far, standard.SumpWidth/2), "sump"), why
}

// retaper sets the outlet down so far that planes of the design slope from it take all low places of the pond.
func (d *designer) retaper(p *pond) (mend, finding.Text) {
	o, why := d.movable(p)
	if o == nil {
		return mend{}, why
	}
	return d.recess(p, o, d.slope, 0, "new insulation"), why
}

// recess lowers the surface round o to planes of a slope that reach the pond's lowest places.
func (d *designer) recess(p *pond, o *surface.Outlet, slope, reach float64, what string) mend {
	g := d.fourWay()
	z := o.Invert
	for i, q := range p.pits {
		z = math.Min(z, p.lows[i]-float64(slope*g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]})))
	}
	src := taper.Source{Outlet: p.outlet, Plan: o.Plan, Z: z}
	drop, what1 := o.Invert-z, finding.Say("lay "+what+" falling to "+o.Label+" at {0}; its level stays", finding.Fall("slope", slope))
	decides := []string{"roofer"}
	if drop >= tellable {
		what1 = finding.Say("set "+o.Label+" down by {0} to {1}, with "+what+" falling to it at {2}; its conductor drops as much",
			finding.MM("drop", drop), finding.Level("invert", z), finding.Fall("slope", slope))
		decides = []string{"plumber"}
	}
	return mend{
		apply: func(a *taper.Alteration) {
			a.LowerTo(d.problem(d.base, []taper.Source{src}, g, slope, 0), reach)
		},
		inverts: map[int]float64{o.Source: z},
		changes: []Change{{What: what1.And(d.ends(o, p, z)), At: o.Plan}},
		decides: decides,
	}
}

// channel cuts channels from the pond's low places straight to its outlet.
func (d *designer) channel(p *pond) (mend, finding.Text) {
	if p.outlet < 0 {
		return mend{}, finding.Say("no outlet lies on the way out of " + p.id)
	}
	m, why := mend{decides: []string{"roofer"}}, finding.Text{}
	var patches []taper.Patch
	var cuts []channelCut
	for i, q := range p.pits[:min(len(p.pits), 4)] {
		c, sides, no := d.cut(p, q, p.lows[i])
		if sides == nil {
			if i == 0 {
				why = no
				break
			}
			continue
		}
		patches = append(patches, sides...)
		cuts = append(cuts, c)
	}
	if len(patches) > 0 {
		m.changes = []Change{d.channelled(p, cuts)}
		m.apply = func(a *taper.Alteration) { a.Lower(patches...) }
	}
	return m, why
}

// channelCut is one channel: its line and its fall.
type channelCut struct {
	line orb.LineString
	fall float64
}

// channelled says in one change what all channels of a pond are.
func (d *designer) channelled(p *pond, cuts []channelCut) Change {
	label := d.s.Outlets[p.outlet].Label
	c := Change{At: cuts[0].line[0], Line: cuts[0].line}
	long, flat := 0.0, math.Inf(1)
	for i, k := range cuts {
		if i > 0 {
			c.More = append(c.More, k.line)
		}
		long, flat = math.Max(long, lineLength(k.line)), math.Min(flat, k.fall)
	}
	if len(cuts) == 1 {
		c.What = finding.Say("take the rise between "+p.id+" and "+label+" down to a channel of {0} falling at {1}, sides at {2}",
			finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", standard.SumpRate))
		return c
	}
	c.What = finding.Say("take the rise between "+p.id+" and "+label+" down to {0} channels side by side, the longest {1}, falling at {2} or more, sides at {3}",
		finding.Number("channels", len(cuts)), finding.Metres("length", long), finding.Fall("fall", flat), finding.Fall("sides", standard.SumpRate))
	return c
}

// ends says how thick new insulation is at the outlet and at the pond's lowest place, where the deck is known.
func (d *designer) ends(o *surface.Outlet, p *pond, z float64) finding.Text {
	if d.in.Deck == nil {
		return finding.Text{}
	}
	at, _, ok := d.in.Deck(o.Plan)
	far, _, on := d.in.Deck(p.pit)
	if !ok || !on {
		return finding.Text{}
	}
	return finding.Say("(it is {0} thick from deck to membrane at the outlet and {1} at "+p.id+")",
		finding.MM("at the outlet", z-at), finding.MM("at the pond", p.low-far))
}

// cut returns the channel from a low place q at elevation z to the outlet of p.
func (d *designer) cut(p *pond, q orb.Point, z float64) (c channelCut, sides []taper.Patch, why finding.Text) {
	o := &d.s.Outlets[p.outlet]
	end, stop := o.Plan, o.Invert
	if o.Line != nil {
		end = nearestOn(o.Line, q)
		if h, ok := d.locate.HeightAt(end[0], end[1]); ok {
			stop = h
		}
	}
	l := lineLength(orb.LineString{q, end})
	if l < 0.1 || !d.domain.Sees(q, end) {
		return c, nil, finding.Say("no straight way leads from " + p.id + " to its outlet")
	}
	least, fall := d.in.Study.Criteria.MinValleySlope, (z-stop)/l
	if fall < least {
		return c, nil, finding.Say("a channel from the lowest place of "+p.id+" to its outlet would fall at {0}; {1} is asked for",
			finding.Fall("fall", fall), finding.Fall("least", least))
	}
	fall = math.Min(fall, d.slope)
	return channelCut{orb.LineString{q, end}, fall}, trench(q, end, z, fall), why
}

// trench returns the two sides of a channel from a, at elevation z, to b: it falls towards b and its sides rise at 1/2 in per ft.
func trench(a, b orb.Point, z, fall float64) []taper.Patch {
	const wide = 3.0 // as far as sides may reach [m]
	v := orb.Point{b[0] - a[0], b[1] - a[1]}
	l := math.Sqrt(float64(v[0]*v[0]) + float64(v[1]*v[1]))
	u := orb.Point{v[0] / l, v[1] / l}
	n := orb.Point{-u[1] * wide, u[0] * wide}
	m := standard.SumpRate / wide
	left := []orb.Point{a, b, {b[0] + n[0], b[1] + n[1]}, {a[0] + n[0], a[1] + n[1]}}
	right := []orb.Point{b, a, {a[0] - n[0], a[1] - n[1]}, {b[0] - n[0], b[1] - n[1]}}
	return []taper.Patch{
		{On: left, Plan: a, Z: z, DX: -float64(fall*u[0]) + float64(m*n[0]), DY: -float64(fall*u[1]) + float64(m*n[1])},
		{On: right, Plan: a, Z: z, DX: -float64(fall*u[0]) - float64(m*n[0]), DY: -float64(fall*u[1]) - float64(m*n[1])},
	}
}

// nearestOn returns the place on line that is nearest to p.
func nearestOn(line orb.LineString, p orb.Point) orb.Point {
	best, far := line[0], math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		v, w := orb.Point{b[0] - a[0], b[1] - a[1]}, orb.Point{p[0] - a[0], p[1] - a[1]}
		t := math.Max(0, math.Min(1, (float64(v[0]*w[0])+float64(v[1]*w[1]))/(float64(v[0]*v[0])+float64(v[1]*v[1]))))
		q := orb.Point{a[0] + float64(t*v[0]), a[1] + float64(t*v[1])}
		if d := math.Sqrt(float64((p[0]-q[0])*(p[0]-q[0])) + float64((p[1]-q[1])*(p[1]-q[1]))); d < far {
			best, far = q, d
		}
	}
	return best
}

func lineLength(line orb.LineString) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		dx, dy := line[i][0]-line[i-1][0], line[i][1]-line[i-1][1]
		sum += math.Sqrt(float64(dx*dx) + float64(dy*dy))
	}
	return sum
}
