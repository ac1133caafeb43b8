package layout

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// section is a cut through the roof along a straight line.
type section struct {
	name     string
	from, to orb.Point
	why      string
	short    bool // through one small change
	at       []sample
	marks    []mark // places on it that are named
}

// sample is one place of a section.
type sample struct {
	x         float64 // along it [m]
	on        bool    // the place is on the roof
	old, now  float64 // [m]
	deck      float64
	deckKnown bool
}

// mark is a named place of a section.
type mark struct {
	x    float64
	text string
}

const (
	mostSections = 8
	samples      = 600
	sameLine     = 0.5   // how far apart parallel sections are at least [m]
	changed      = 0.001 // that a section shows [m]
)

// cutSections chooses the sections: through the greatest thickness along both main axes, and through each outlet along both where the
// surface changes there.
func (h *sheets) cutSections() {
	if h.design == nil || len(h.TakeOff.Fields) == 0 {
		return
	}
	if h.local {
		h.localSections()
		return
	}
	ring := h.ring()
	axis := domain.Axis(ring)
	across := orb.Point{-axis[1], axis[0]}
	add := func(p orb.Point, why string) {
		for _, u := range []orb.Point{axis, across} {
			if len(h.sections) < mostSections {
				h.add(p, u, ring, why)
			}
		}
	}
	what := choose.If(h.TakeOff.Volume == 0, "through the deepest cut", "through the greatest thickness")
	if add(h.TakeOff.At, what); len(h.sections) == 2 && h.sections[0].even() {
		h.sections = h.sections[1:]
		h.sections[0].name = "A"
	}
	for i := range h.outlets() {
		if o := &h.outlets()[i]; o.Type != roof.EdgeOutlet && o.Duty == roof.Primary {
			add(o.Plan, "through "+o.Label)
		}
	}
}

// even reports whether new work is as thick all along a section: there is nothing to see on it.
func (s *section) even() bool {
	const alike, all = 0.01, 0.95 // [m], share of its length
	least, most, n := math.Inf(1), 0.0, 0
	for i := range s.at {
		if p := &s.at[i]; p.on && p.now-p.old > changed {
			least, most = math.Min(least, p.now-p.old), math.Max(most, p.now-p.old)
			n++
		}
	}
	return n > 0 && most-least < alike && float64(n) > all*float64(len(s.at))
}

// localSections cuts one section through each place that is changed, the short way: through an outlet that is new or set anew there, and through its thickest or deepest
// place where that lies elsewhere.
func (h *sheets) localSections() {
	const same = 1.5 // [m]
	for _, w := range h.places() {
		p, most := w.Center(), 0.0
		for k := range h.corners {
			if q := &h.corners[k]; w.Contains(q.plan) && math.Abs(q.thickness) > most {
				p, most = q.plan, math.Abs(q.thickness)
			}
		}
		o := h.reset(w)
		if o != nil {
			h.localSection(w, o.Plan)
		}
		if o == nil || vector.Distance(o.Plan, p) > same {
			h.localSection(w, p)
		}
	}
}

// localSection cuts a place through p the short way.
func (h *sheets) localSection(w orb.Bound, p orb.Point) {
	const square = 1e-6 // to which a place is as wide as high, wherever the roof lies [m]
	u := orb.Point{1, 0}
	if w.Max[0]-w.Min[0] > w.Max[1]-w.Min[1]+square {
		u = orb.Point{0, 1}
	}
	from, to, ok := across(p, u, h.ring())
	if !ok || len(h.sections) == mostSections {
		return
	}
	s := section{name: string(rune('A' + len(h.sections))), from: clamped(w, from), to: clamped(w, to), why: h.within(w), short: true}
	if h.sample(&s) {
		h.name(&s)
		h.sections = append(h.sections, s)
	}
}

// reset returns the outlet in a window that is new or stands at a new level, nil for none.
func (h *sheets) reset(w orb.Bound) *surface.Outlet {
	all := h.outlets()
	for i := range all {
		o := &all[i]
		if o.Type == roof.EdgeOutlet || !w.Contains(o.Plan) {
			continue
		}
		if was := h.before(o); was == nil || math.Abs(was.Invert-o.Invert) > changed {
			return o
		}
	}
	return nil
}

// clamped moves a point into a window.
func clamped(w orb.Bound, p orb.Point) orb.Point {
	return orb.Point{math.Max(w.Min[0], math.Min(w.Max[0], p[0])), math.Max(w.Min[1], math.Min(w.Max[1], p[1]))}
}

func (h *sheets) ring() orb.Ring { return roof.PlanOf(h.Book.Study.Roof.Outline.Rings[0]) }

// add makes the section through p along u, unless one lies there already or nothing changes on it.
func (h *sheets) add(p, u orb.Point, ring orb.Ring, why string) {
	for i := range h.sections {
		s := &h.sections[i]
		d := orb.Point{s.to[0] - s.from[0], s.to[1] - s.from[1]}
		n := vector.Norm(d[0], d[1])
		if math.Abs(float64(d[0]*u[1])-float64(d[1]*u[0])) < 1e-3*n && math.Abs(float64((p[0]-s.from[0])*u[1])-float64((p[1]-s.from[1])*u[0])) < sameLine {
			if !slices.Contains(strings.Split(s.why, ", "), why) {
				s.why += ", " + why
			}
			return
		}
	}
	from, to, ok := across(p, u, ring)
	if !ok || alongEdge(from, to, ring) {
		return
	}
	s := section{name: string(rune('A' + len(h.sections))), from: from, to: to, why: why}
	if h.sample(&s) {
		h.name(&s)
		h.sections = append(h.sections, s)
	}
}

// alongEdge reports whether a line runs at the roof's edge, where a section shows no more than the wall.
func alongEdge(from, to orb.Point, ring orb.Ring) bool {
	edge := 0
	for _, t := range []float64{0.25, 0.5, 0.75} {
		p := orb.Point{from[0] + float64(t*(to[0]-from[0])), from[1] + float64(t*(to[1]-from[1]))}
		if planar.DistanceFrom(orb.LineString(ring), p) < sameLine {
			edge++
		}
	}
	return edge > 1
}

// across returns where the line through p along u enters the outline first and leaves it last.
func across(p, u orb.Point, ring orb.Ring) (from, to orb.Point, ok bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		ca := float64(u[0]*(a[1]-p[1])) - float64(u[1]*(a[0]-p[0]))
		cb := float64(u[0]*(b[1]-p[1])) - float64(u[1]*(b[0]-p[0]))
		if (ca > 0) == (cb > 0) {
			continue
		}
		t := ca / (ca - cb)
		q := orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
		x := float64((q[0]-p[0])*u[0]) + float64((q[1]-p[1])*u[1])
		low, high = math.Min(low, x), math.Max(high, x)
	}
	if !(high > low+0.1) {
		return from, to, false
	}
	at := func(x float64) orb.Point { return orb.Point{p[0] + float64(x*u[0]), p[1] + float64(x*u[1])} }
	return at(low), at(high), true
}

// sample reads the surfaces along a section and reports whether they differ.
func (h *sheets) sample(s *section) (differ bool) {
	length := vector.Distance(s.from, s.to)
	for i := range samples + 1 {
		t := (float64(i) + 1e-3) / (samples + 2e-3)
		p := orb.Point{s.from[0] + float64(t*(s.to[0]-s.from[0])), s.from[1] + float64(t*(s.to[1]-s.from[1]))}
		q := sample{x: t * length}
		now, okNow := h.height(p)
		old, okOld := h.old.HeightAt(p[0], p[1])
		q.now, q.old, q.on = now, old, okNow && okOld
		if len(h.Book.Study.Roof.Cores) > 0 {
			q.deck, _, q.deckKnown = h.Book.Study.Assembly.Deck(p)
		}
		differ = differ || q.on && math.Abs(now-old) > changed
		s.at = append(s.at, q)
	}
	return differ
}

// near is how far an outlet may lie off a section to stand on it [m].
const near = 0.5

// name marks the ends, the outlets on the section and its thickest place.
func (h *sheets) name(s *section) {
	length := vector.Distance(s.from, s.to)
	u := orb.Point{(s.to[0] - s.from[0]) / length, (s.to[1] - s.from[1]) / length}
	outlets := h.outlets()
	for i := range outlets {
		o := &outlets[i]
		d := orb.Point{o.Plan[0] - s.from[0], o.Plan[1] - s.from[1]}
		x, off := float64(d[0]*u[0])+float64(d[1]*u[1]), math.Abs(float64(d[0]*u[1])-float64(d[1]*u[0]))
		if o.Type != roof.EdgeOutlet && off < near && x > -near && x < length+near {
			s.marks = append(s.marks, mark{math.Max(0, math.Min(length, x)), o.Label + " " + h.relative(o.Invert)})
		}
	}
	thick, first, last := -1, -1, -1
	for i := range s.at {
		if !s.at[i].on {
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
		if thick < 0 || h.added(&s.at[i]) > h.added(&s.at[thick])+1e-9 {
			thick = i
		}
	}
	for _, i := range []int{thick, first, last} {
		if i < 0 {
			continue
		}
		text := "top " + h.relative(s.at[i].now)
		if t := h.added(&s.at[i]); math.Abs(t) >= flush {
			text = h.thickness(t) + ", " + text
		}
		s.marks = append(s.marks, mark{s.at[i].x, text})
	}
}

// added returns the thickness of new insulation at a sample, a cut below 0.
func (h *sheets) added(s *sample) float64 {
	return choose.If(h.option.Kind == mend.Replace && s.deckKnown, s.now-s.deck, s.now-s.old)
}

// relative writes an elevation relative to the bench mark.
func (h *sheets) relative(z float64) string {
	switch d := h.walls.Relative(z); {
	case math.Abs(d) < 0.0005:
		return "±0"
	case d < 0:
		return "–" + h.u.SayDepth(-d)
	default:
		return "+" + h.u.SayDepth(d)
	}
}
