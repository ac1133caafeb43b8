package study

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/drainage"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// Discharges returns what an upper roof lets onto a lower one: each of its drains and scuppers whose discharges_to is
// the lower roof's name, at the outlet's place in plan, with the area that drains to it, walls included. Case, blanks,
// hyphens and underscores do not count in names.
//
// The error is a *roof.Refusal: no outlet names the lower roof, the two roofs are in different frames, or an outlet does
// not lie over the lower roof.
func Discharges(upper *Study, onto *roof.Roof) ([]drainage.Above, error) {
	var refusal roof.Refusal
	var named []string
	var out []drainage.Above
	for i := range upper.Surface.Outlets {
		o := &upper.Surface.Outlets[i]
		if o.Source < 0 {
			continue
		}
		m := &upper.Roof.Outlets[o.Source]
		if m.DischargesTo != "" {
			named = append(named, fmt.Sprintf("%s onto %q", o.Label, m.DischargesTo))
		}
		if m.DischargesTo == "" || plainName(m.DischargesTo) != plainName(onto.Name) {
			continue
		}
		at, rule := across(upper.Roof, onto, o.Plan)
		at, ok := landsOn(onto, at)
		if rule == "" && !ok {
			rule = fmt.Sprintf("outlet %s discharges onto %q and does not lie over it", o.Label, onto.Name)
		}
		if rule != "" {
			refusal.Add(roof.Problem{Origin: m.Origin, Rule: rule, Mend: "give both roofs in one frame, as one survey has them, or correct discharges_to"})
			continue
		}
		d := &upper.Drainage.Outlets[i]
		out = append(out, drainage.Above{X: at[0], Y: at[1], Area: d.Area + d.Walls + d.Above, Name: upper.Roof.Name + ", " + o.Label})
	}
	if len(out) == 0 && refusal.Err() == nil {
		rule := fmt.Sprintf("no outlet of %q discharges onto %q", upper.Roof.Name, onto.Name)
		if len(named) > 0 {
			rule += ": it has " + strings.Join(named, ", ")
		}
		refusal.Add(roof.Problem{Origin: upper.Roof.Outline.Origin, Rule: rule, Mend: `give its outlets the property "discharges_to" with the name of the roof below`})
	}
	if err := refusal.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// plainName returns a name as names are compared.
func plainName(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
}

// across returns the place in the lower roof's frame of a place of the upper one; rule says why there is none.
func across(upper, lower *roof.Roof, at orb.Point) (place orb.Point, rule string) {
	if upper.Frame.Kind != lower.Frame.Kind {
		return at, fmt.Sprintf("%q and %q are in different frames", upper.Name, lower.Name)
	}
	file := upper.Frame.ToFile(at)
	if upper.Frame.Kind == roof.Local {
		k := upper.Frame.Metres / lower.Frame.Metres
		file = orb.Point{file[0] * k, file[1] * k}
	}
	return lower.Frame.ToLocal(file), ""
}

// How far beside the outline a fall of water still lands on the roof, and how far inside it is then taken to land [m].
const (
	overReach = 0.5
	landing   = 0.02
)

// landsOn returns where water that falls at a place lands on a roof: there, or just inside where it falls on the outline
// or within overReach of it; false where it misses the roof or falls on a curb.
func landsOn(r *roof.Roof, at orb.Point) (orb.Point, bool) {
	rings := make(orb.Polygon, len(r.Outline.Rings))
	for i, ring := range r.Outline.Rings {
		rings[i] = roof.PlanOf(ring)
	}
	edge := vector.Nearest(rings[0], at)
	distance := vector.Distance(edge, at)
	switch within := planar.PolygonContains(rings, at); {
	case within && distance > landing:
		return at, true
	case within || distance <= overReach && !planar.RingContains(rings[0], at):
		ok := inside(rings, &edge)
		return edge, ok
	}
	return at, false
}

// inside moves a place on the outline to just inside of it, and reports whether it could.
func inside(rings orb.Polygon, p *orb.Point) bool {
	const slant = 0.70710678118654752
	for _, d := range [8]orb.Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {slant, slant}, {-slant, slant}, {-slant, -slant}, {slant, -slant}} {
		q := orb.Point{p[0] + float64(landing*d[0]), p[1] + float64(landing*d[1])}
		if planar.PolygonContains(rings, q) && vector.Distance(vector.Nearest(rings[0], q), q) > landing/2 {
			*p = q
			return true
		}
	}
	return false
}
