package importer

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// What control points may disagree by. A grid's scale differs from one by less than a thousandth anywhere; a
// swap of northing and easting shows as tens of metres.
const (
	maxScale    = 0.001
	maxResidual = 0.1 // m
	minBase     = 1.0 // m, between the two control points farthest apart
)

// tie is a similarity from the site grid [m] to the map: turn and scale by (re, im), then shift.
type tie struct {
	re, im     float64
	site, plan orb.Point // a place in the site grid and the same in the map's metric frame
	frame      roof.Frame
}

// fitTie fits the similarity to control points by least squares. It returns nil where there are none or too few;
// problems says where they contradict each other.
func fitTie(controls []roof.Control, unit quantity.Unit, problems *roof.Refusal) (*tie, []string) {
	switch len(controls) {
	case 0:
		return nil, nil
	case 1:
		return nil, []string{fmt.Sprintf("%s: one control point alone ties nothing; it was not used.", controls[0].Origin)}
	}
	t := &tie{frame: roof.NewGeographic(orb.Point{controls[0].Lon, controls[0].Lat})}
	n := float64(len(controls))
	site, plan := make([]orb.Point, len(controls)), make([]orb.Point, len(controls))
	for i := range controls {
		site[i] = metres(controls[i].Plan, unit)
		plan[i] = t.frame.ToLocal(orb.Point{controls[i].Lon, controls[i].Lat})
		t.site[0] += site[i][0] / n
		t.site[1] += site[i][1] / n
		t.plan[0] += plan[i][0] / n
		t.plan[1] += plan[i][1] / n
	}
	sum, base := 0.0, 0.0
	for i := range controls {
		a, b := vector.Minus(site[i], t.site), vector.Minus(plan[i], t.plan)
		t.re += float64(a[0]*b[0]) + float64(a[1]*b[1])
		t.im += float64(a[0]*b[1]) - float64(a[1]*b[0])
		sum += float64(a[0]*a[0]) + float64(a[1]*a[1])
		base = math.Max(base, math.Max(math.Abs(a[0]), math.Abs(a[1])))
	}
	if base < minBase/2 {
		problems.Add(roof.Problem{Origin: controls[0].Origin, Rule: "the control points are too near to each other", Mend: "take control points at opposite ends of the roof"})
		return nil, nil
	}
	t.re, t.im = t.re/sum, t.im/sum
	return t, t.check(controls, site, plan, problems)
}

// check returns the residual of each control point as warnings, and refuses what no survey can be off by.
func (t *tie) check(controls []roof.Control, site, plan []orb.Point, problems *roof.Refusal) (warnings []string) {
	const swapped = "check the control points: northing and easting may be swapped, or a number mistyped"
	if scale := vector.Norm(t.re, t.im); math.Abs(scale-1) > maxScale {
		problems.Add(roof.Problem{
			Origin: controls[0].Origin,
			Rule:   fmt.Sprintf("the control points say that the site grid's unit is off by %.3g %%", (scale-1)*100),
			Mend:   "check the unit of the site grid; " + swapped,
		})
	}
	for i, c := range controls {
		d := vector.Minus(plan[i], t.forward(site[i]))
		residual := vector.Norm(d[0], d[1])
		if residual > math.Max(maxResidual, 3*float64(c.Sigma)) {
			problems.Add(roof.Problem{
				Origin: c.Origin, At: c.Plan, HasAt: true,
				Rule: fmt.Sprintf("the control point is %.3f m off the place that the others give it", residual), Mend: swapped,
			})
		}
		if len(controls) > 2 {
			warnings = append(warnings, fmt.Sprintf("%s: the control point fits the others within %.3f m.", c.Origin, residual))
		}
	}
	if len(controls) == 2 {
		warnings = append(warnings, fmt.Sprintf("%s and %s: two control points alone are unchecked: a third would show a mistake.", controls[0].Origin, controls[1].Origin))
	}
	return warnings
}

// forward returns the place in the map's metric frame of a place in the site grid.
func (t *tie) forward(site orb.Point) orb.Point {
	d := vector.Minus(site, t.site)
	return orb.Point{
		t.plan[0] + (float64(t.re*d[0]) - float64(t.im*d[1])),
		t.plan[1] + (float64(t.im*d[0]) + float64(t.re*d[1])),
	}
}

// toSite returns the place in metres of the site grid of a longitude and latitude.
func (t *tie) toSite(at orb.Point) orb.Point {
	d := vector.Minus(t.frame.ToLocal(at), t.plan)
	q := float64(t.re*t.re) + float64(t.im*t.im)
	return orb.Point{
		t.site[0] + (float64(t.re*d[0])+float64(t.im*d[1]))/q,
		t.site[1] + (float64(t.re*d[1])-float64(t.im*d[0]))/q,
	}
}
