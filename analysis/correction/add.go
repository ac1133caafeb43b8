package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// addOutlet makes a drain in the low place of a pond, in a sump of whole boards, with an overflow drain beside it where the roof has walls all round.
//
// Near an open edge a way to the edge is shorter than a leader.
func (d *designer) addOutlet(p *pond) (mend, bool) {
	for i := range d.s.Outlets {
		if line := d.s.Outlets[i].Line; line != nil && near2(vector.Nearest(line, p.pit), p.pit) < standard.MidBay*standard.MidBay {
			return mend{}, false
		}
	}
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		for _, q := range d.lowPlaces(p, width/2) {
			o := d.newOutlet(p, roof.Drain, q)
			m, z, ok := d.sumpFor(p, &o, width)
			if !ok {
				continue
			}
			m.adds = append(m.adds, o)
			if over, need, ok := d.overflowFor(p, &o, d.roundAbout(q, standard.OutletClear+standard.SumpRing), z, width); ok {
				m.adds = append(m.adds, over)
			} else if need {
				continue
			}
			d.drainWords(&m, p, width)
			return m, true
		}
	}
	return mend{}, false
}

// addScupper makes a scupper through the parapet beside a pond, with an overflow scupper beside it.
func (d *designer) addScupper(p *pond) (mend, bool) {
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		for _, at := range d.parapets(p, width/2) {
			o := d.newOutlet(p, roof.Scupper, at.plan)
			m, z, ok := d.sumpFor(p, &o, width)
			if !ok {
				continue
			}
			m.scupper = true
			m.adds = append(m.adds, o)
			if over, need, ok := d.overflowFor(p, &o, at.along(standard.OutletClear+float64(o.Width)), z, width); ok {
				m.adds = append(m.adds, over)
			} else if need {
				continue
			}
			d.scupperWords(&m, p, width)
			return m, true
		}
	}
	return mend{}, false
}

// newOutlet returns a primary outlet of a pond: as large as the largest of its type on the roof, else as codes ask for at least.
func (d *designer) newOutlet(p *pond, kind roof.OutletType, at orb.Point) roof.Outlet {
	o := roof.Outlet{Plan: at, Type: kind, HasInvert: true, Label: "new drain " + p.id}
	o.ID = "new-" + p.id
	o.Origin = roof.Origin{File: "design", Line: p.index + 1, ID: o.ID}
	o.Diameter, o.Bowl = quantity.Length(standard.NewDrain), standard.Bowl
	if kind == roof.Scupper {
		o.Label = "new scupper " + p.id
		o.Diameter, o.Bowl = 0, 0
		o.Width, o.OpeningHeight = standard.ScupperWidth, quantity.Length(standard.NewScupperHeight)
	}
	for i := range d.roof.Outlets {
		w := &d.roof.Outlets[i]
		switch {
		case w.Duty != roof.Primary || w.Type != kind:
		case kind == roof.Drain && w.Diameter > o.Diameter:
			o.Diameter, o.Leader = w.Diameter, w.Leader
			if w.Bowl > 0 {
				o.Bowl = w.Bowl
			}
		case kind == roof.Scupper && !w.WidthAssumed && w.Width > o.Width:
			o.Width = w.Width
			o.OpeningHeight = max(o.OpeningHeight, w.OpeningHeight)
		}
	}
	return o
}

// sumpFor sets the inlet of a new outlet and lays the sump that it stands in: as deep as lets the lowest places of the pond run to it. It returns the mend and
// the level of the inlet; ok is false where a sump of that width does not do.
func (d *designer) sumpFor(p *pond, o *roof.Outlet, width float64) (m mend, z float64, ok bool) {
	ground, on := d.locate.HeightAt(o.Plan[0], o.Plan[1])
	if !on {
		return m, 0, false
	}
	ring := float64(o.Bowl)/2 + standard.SumpRing
	if o.Type == roof.Scupper {
		ring = float64(o.Width)/2 + standard.SumpRing
	}
	s := surface.Outlet{Source: -1, Type: o.Type, Plan: o.Plan, Invert: ground, Low: ground}
	g := d.fourWay()
	if z, ok = d.needed(p, &s, &g, ring, width/2); !ok {
		return m, 0, false
	}
	z = math.Floor(z*1e4) / 1e4
	reach := width/2 + standard.SumpEdge
	side := math.Max(standard.SumpRate, (d.rim(&s, &g, reach)-z)/(reach-ring))
	if side > standard.SumpSteepest {
		return m, 0, false
	}
	o.Invert = z
	src := taper.Source{Plan: o.Plan, Z: z}
	m = mend{area: width * width, sump: width, apply: func(a *taper.Alteration) {
		a.Sump(d.problem(d.base, []taper.Source{src}, d.fourWay(), side, 0), ring, reach)
	}}
	m.change.At = o.Plan
	return m, z, true
}

// overflowFor returns the overflow of a new outlet whose inlet stands at z: of its type and size, at the limit over it, at the first of some places that is
// clear and where the roof lies under its inlet. need is false where the roof has an open edge: water that is blocked rises no higher there than it does now.
func (d *designer) overflowFor(p *pond, o *roof.Outlet, places []orb.Point, z, width float64) (over roof.Outlet, need, ok bool) {
	for i := range d.s.Outlets {
		if d.s.Outlets[i].Line != nil {
			return over, false, false
		}
	}
	over = *o
	over.Duty, over.Invert = roof.Overflow, z+standard.OverflowHeight
	over.Label, over.ID = "new overflow "+p.id, "new-overflow-"+p.id
	over.Origin.ID = over.ID
	if o.Type == roof.Scupper {
		over.OpeningHeight = max(over.OpeningHeight, quantity.Length(standard.NewScupperHeight))
	}
	g, level := d.fourWay(), z+standard.OverflowHeight
	for _, q := range places {
		ground, on := d.locate.HeightAt(q[0], q[1])
		if n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]}); n < width/2 {
			ground = math.Min(ground, z+float64(standard.SumpRate*n))
		}
		if on && ground <= level-raisedBy && d.clearFor(q, o.Type) && d.domain.Sees(o.Plan, q) {
			over.Plan = q
			return over, true, true
		}
	}
	return over, true, false
}

// lowPlaces returns where a drain may stand for a pond, lowest first: its lowest place, else places in the water within reach of it that are clear.
func (d *designer) lowPlaces(p *pond, reach float64) []orb.Point {
	const step = 0.3
	var out []orb.Point
	var heights []float64
	look := func(q orb.Point) {
		z, on := d.locate.HeightAt(q[0], q[1])
		if !on || z > p.level || !d.clearFor(q, roof.Drain) || !d.domain.Sees(p.pit, q) {
			return
		}
		k := len(out)
		for k > 0 && z < heights[k-1]-surface.Grid {
			k--
		}
		out = append(out[:k:k], append([]orb.Point{q}, out[k:]...)...)
		heights = append(heights[:k:k], append([]float64{z}, heights[k:]...)...)
	}
	look(p.pit)
	for far := step; far <= reach; far += step {
		for k := range turns {
			look(around(p.pit, k, far))
		}
	}
	return out[:min(len(out), mostPlaces)]
}

// mostPlaces is how many places a new outlet is tried at.
const mostPlaces = 12

func (d *designer) roundAbout(q orb.Point, far float64) []orb.Point {
	out := make([]orb.Point, turns)
	for k := range out {
		out[k] = around(q, k, far)
	}
	return out
}

// clearFor reports whether a new outlet may stand at q: clear of curbs and other outlets, a drain of walls and, where people can fall, of open edges too;
// a scupper of corners and of open edges.
func (d *designer) clearFor(q orb.Point, kind roof.OutletType) bool {
	for i := range d.roof.Curbs {
		if closer(plan(d.roof.Curbs[i].Ring), q, standard.OutletClear) {
			return false
		}
	}
	return d.clearOfOutlets(q) && d.clearOfWalls(q, kind)
}

// closer reports whether a line comes closer to q than far.
func closer(line orb.LineString, q orb.Point, far float64) bool {
	return len(line) > 0 && near2(vector.Nearest(line, q), q) < float64(far*far)-1e-9
}

// clearOfOutlets reports whether q is clear of other outlets and of open edges.
func (d *designer) clearOfOutlets(q orb.Point) bool {
	for i := range d.s.Outlets {
		o := &d.s.Outlets[i]
		if o.Line != nil {
			if closer(o.Line, q, standard.EdgeClear) {
				return false
			}
			continue
		}
		far := standard.OutletClear
		if o.Source >= 0 {
			far = math.Max(far, float64(d.roof.Outlets[o.Source].Bowl)/2+standard.OutletClear/2)
		}
		if near2(o.Plan, q) < far*far {
			return false
		}
	}
	return true
}

// clearOfWalls reports whether q is clear of walls; a scupper stands in the outer one, and is clear of its corners.
func (d *designer) clearOfWalls(q orb.Point, kind roof.OutletType) bool {
	for i, ring := range d.roof.Outline.Rings {
		if kind == roof.Drain || i > 0 {
			if closer(plan(ring), q, standard.OutletClear) {
				return false
			}
			continue
		}
		for _, c := range corners(plan(ring)) {
			if near2(c, q) < standard.OutletClear*standard.OutletClear-1e-9 {
				return false
			}
		}
	}
	return true
}

// parapet is a place on a wall of the outline with the direction of the wall.
type parapet struct {
	plan, unit orb.Point
}

// along returns the places on the wall at a distance on both sides.
func (w *parapet) along(far float64) []orb.Point {
	var out []orb.Point
	for _, k := range []float64{far, -far, 1.5 * far, -1.5 * far} {
		out = append(out, orb.Point{w.plan[0] + float64(k*w.unit[0]), w.plan[1] + float64(k*w.unit[1])})
	}
	return out
}

// parapets returns where a scupper may be cut for a pond: on walls within reach of its lowest place, nearest first, clear of what stands there. A wall
// that a higher wall or roof adjoins has no way out behind it.
func (d *designer) parapets(p *pond, reach float64) []parapet {
	if len(d.roof.Outline.Rings) == 0 {
		return nil
	}
	var out []parapet
	var fars []float64
	ring := corners(plan(d.roof.Outline.Rings[0]))
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		l := lineLength(orb.LineString{a, b})
		if l < 2*standard.OutletClear {
			continue
		}
		u := orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		t := float64((p.pit[0]-a[0])*u[0]) + float64((p.pit[1]-a[1])*u[1])
		for _, off := range []float64{0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9} {
			s := math.Max(standard.OutletClear, math.Min(l-standard.OutletClear, t+off))
			q := orb.Point{a[0] + float64(s*u[0]), a[1] + float64(s*u[1])}
			far := math.Sqrt(near2(q, p.pit))
			if far > reach || d.adjoined(q) || !d.clearFor(q, roof.Scupper) {
				continue
			}
			k := len(out)
			for k > 0 && far < fars[k-1]-1e-9 {
				k--
			}
			out = append(out[:k:k], append([]parapet{{q, u}}, out[k:]...)...)
			fars = append(fars[:k:k], append([]float64{far}, fars[k:]...)...)
		}
	}
	return out[:min(len(out), mostPlaces)]
}

// adjoined reports whether something higher adjoins the wall at q.
func (d *designer) adjoined(q orb.Point) bool {
	for i := range d.roof.Edges {
		e := &d.roof.Edges[i]
		if line := plan(e.Line); e.AdjoiningHeight > 0 && len(line) > 1 && near2(vector.Nearest(line, q), q) < standard.OutletClear*standard.OutletClear {
			return true
		}
	}
	return false
}

// drainWords says what is done for a new drain and what has to be found out.
func (d *designer) drainWords(m *mend, p *pond, width float64) {
	o := &m.adds[0]
	m.kind, m.decides = AddOutlet, []string{finding.Engineer, finding.Plumber, finding.Roofer}
	m.change.What = finding.Say("Add a drain of {0} in the low place of "+p.id+", its inlet at {1}, in a sump of {2} by {2}",
		finding.MM("diameter", float64(o.Diameter)), finding.Level("invert", o.Invert), finding.Metres("sump", width))
	m.change.What = withOverflow(m)
	ask := finding.Say("Where do the members under " + p.id + " lie, and may the deck be opened between them for the drain?")
	if s := float64(d.roof.Structure.MemberSpacing); s > 0 {
		ask = finding.Say("Members stand {0} apart: where do they lie under "+p.id+", and may the deck be opened between them for the drain?", finding.Metres("apart", s))
	}
	m.questions = append([]Question{{
		Ask: ask, Where: "below " + p.id, At: o.Plan, Decides: finding.Engineer,
		If:   finding.Say("The engineer allows the opening and says how it is framed"),
		Then: finding.Say("Mark the place from below before the deck is cut. It may move within the low place to clear a member"),
	}, {
		Ask: d.leaderFrom(o.Plan), Where: "below " + p.id, At: o.Plan, Decides: finding.Plumber,
		If:   finding.Say("A leader has a way and what it runs into takes the water"),
		Then: finding.Say("Size drain and leader for the rain, the overflow with a leader of its own"),
	}}, d.thickness(p, o.Plan)...)
}

// leaderFrom asks for the way of a leader, with the nearest one that is there.
func (d *designer) leaderFrom(q orb.Point) finding.Text {
	near, far := -1, math.Inf(1)
	for i := range d.s.Outlets {
		o := &d.s.Outlets[i]
		if l := math.Sqrt(near2(o.Plan, q)); o.Type == roof.Drain && o.Duty == roof.Primary && l < far {
			near, far = i, l
		}
	}
	if near < 0 {
		return finding.Say("Where can a leader run down from here, and into what?")
	}
	return finding.Say("Where can a leader run down from here? The nearest drain is {1}, {0} away: has its pipe room for more?", finding.Metres("away", far), finding.Called(d.s.Outlets[near].Label))
}

// thickness asks how thick the insulation is where a sump is cut, where no core tells.
func (d *designer) thickness(p *pond, q orb.Point) []Question {
	if d.deckAt(q) {
		return nil
	}
	return []Question{{
		Ask: finding.Say("How thick is the insulation at " + p.id + ", and is it dry? Cut a core, patched the same day"), Where: "at " + p.id, At: q, Decides: finding.Roofer,
		If: finding.Say("{0} or more, and dry", finding.MM("left", standard.InsulationLeft)), Then: finding.Say("Cut the sump"),
	}}
}

// withOverflow adds to what is done for a new outlet which overflow comes with it.
func withOverflow(m *mend) finding.Text {
	what := m.change.What
	if len(m.adds) == 1 {
		what.Format += ". With it blocked the water rises no higher than it does now"
		return what
	}
	over := &m.adds[1]
	what.Format += ","
	return what.And(finding.Say("and an overflow {0} beside it with its inlet at {1}, on a pipe of its own",
		finding.Metres("beside", math.Sqrt(near2(over.Plan, m.adds[0].Plan))), finding.Level("overflow", over.Invert)))
}

// scupperWords says what is done for a new scupper and what has to be found out.
func (d *designer) scupperWords(m *mend, p *pond, width float64) {
	o := &m.adds[0]
	m.kind, m.decides = AddScupper, []string{finding.Engineer, finding.Roofer, finding.Owner}
	m.change.What = finding.Say("Cut a scupper {0} wide and {1} high through the parapet at "+p.id+", its floor at {2}, with the boards before it dressed over {3} to it",
		finding.MM("width", float64(o.Width)), finding.MM("height", float64(o.OpeningHeight)), finding.Level("invert", o.Invert), finding.Metres("sump", width))
	m.change.What = withOverflow(m)
	m.questions = append([]Question{{
		Ask: finding.Say("What is the parapet at " + p.id + " made of, and may it be opened there? It is structure"), Where: "parapet at " + p.id, At: o.Plan, Decides: finding.Engineer,
		If:   finding.Say("The engineer allows the opening and says how it is framed"),
		Then: finding.Say("Cut it from outside after the cladding is open, and flash it as the warrantor asks"),
	}, {
		Ask: finding.Say("What lies below the scupper: a way for people, a door, a lower roof? Who owns the wall, and does ice form there?"), Where: "outside the parapet at " + p.id, At: o.Plan, Decides: finding.Owner,
		If:   finding.Say("Water may fall there"),
		Then: finding.Say("Let it fall free, else add a conductor head and a leader, sized for the rain"),
	}}, d.thickness(p, o.Plan)...)
}

// openings flags what an engineer has to allow of new outlets, and says what they keep clear of.
func (o *Option) openings() {
	for _, m := range o.mends {
		if len(m.adds) == 0 {
			continue
		}
		a := &m.adds[0]
		size := Limit{
			Name: "opening and size of " + a.Label, Available: finding.MM("drawn", float64(a.Diameter)), Where: m.change.Pond, At: a.Plan,
			Decides: finding.Engineer, Source: standard.NewOutletSource.Text,
		}
		clear := Limit{
			Name: "distance of a new drain from walls, curbs and other outlets", Required: finding.Metres("least", standard.OutletClear), Where: m.change.Pond, At: a.Plan,
			Decides: finding.Engineer, Source: standard.OutletClearSource.Text + "; from open edges: " + standard.EdgeClearSource.Text + "; drains in mid bay only: " + standard.MidBaySource.Text,
		}
		if a.Type == roof.Scupper {
			size.Available, clear.Name = finding.MM("drawn", float64(a.Width)), "distance of a new scupper from corners, curbs and other outlets"
		}
		o.Flags, o.Checked = append(o.Flags, size), append(o.Checked, clear)
	}
}

// opens reports whether an option cuts the deck or the parapet: an engineer has to say so first.
func (o *Option) opens() bool { return o.NewOutlets > 0 }
