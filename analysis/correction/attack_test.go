package correction_test

import (
	"math"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// whole checks what must hold of every result, whatever the roof.
func whole(t *testing.T, name string, r *correction.Result) {
	t.Helper()
	if len(r.Options) == 0 {
		t.Errorf("%s: no option", name)
	}
	for i := range r.Options {
		o := &r.Options[i]
		if !o.Possible {
			if o.Why.Format == "" || o.Meets {
				t.Errorf("%s: %s is not possible and does not say why", name, o.Kind)
			}
			continue
		}
		for _, v := range []float64{o.Fill, o.Cut, o.Area, o.Average, o.Greatest, o.Deepest, o.Least} {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Errorf("%s: %s has a figure of %g", name, o.Kind, v)
			}
		}
		if o.Meets && (o.PondsLeft > 0 || len(o.Worse) > 0 || len(o.Limits) > 0) {
			t.Errorf("%s: %s meets with something left", name, o.Kind)
		}
		for k := range o.Limits {
			if l := &o.Limits[k]; l.Source == "" || l.Decides == "" {
				t.Errorf("%s: %s: limit %q without source or who decides", name, o.Kind, l.Name)
			}
		}
	}
	if r.Best >= 0 && !r.Options[r.Best].Meets {
		t.Errorf("%s: the best does not meet", name)
	}
}

// rectangle is a walled roof of 10 m by 8 m.
func rectangle(name string, h func(x, y float64) float64) *roof.Roof {
	const l, w = 10.0, 8.0
	r := shape.New(name, shape.At(0, 0, h(0, 0)), shape.At(l, 0, h(l, 0)), shape.At(l, w, h(l, w)), shape.At(0, w, h(0, w)))
	shape.Grid(r, 0, 0, l, w, 6, 6, h)
	return r
}

// TestStrangeRoofs: roofs without outlets, with edges alone, level, of one triangle, undrained, with curbs that touch: no fault and nothing unsaid.
func TestStrangeRoofs(t *testing.T) {
	level := func(_, _ float64) float64 { return 0 }
	bowl := func(x, y float64) float64 { return 0.01 * (math.Abs(x-5) + math.Abs(y-4)) }
	roofs := []*roof.Roof{rectangle("no outlet", bowl), rectangle("level", level)}

	r := rectangle("edges alone", bowl)
	r.Outline.Edge = roof.Free
	roofs = append(roofs, r)

	r = rectangle("level with a drain", level)
	shape.Drain(r, 5, 4, 0.3)
	roofs = append(roofs, r)

	r = shape.New("one triangle", shape.Bare(0, 0), shape.Bare(6, 0), shape.Bare(0, 6))
	shape.Spot(r, 0, 0, 0.05)
	shape.Spot(r, 6, 0, 0.02)
	shape.Spot(r, 0, 6, 0.01)
	shape.Drain(r, 1.5, 1.5, 0.2)
	roofs = append(roofs, r)

	r = rectangle("overflow alone", bowl)
	shape.Scupper(r, 10, 4, 0.2).Duty = roof.Overflow
	roofs = append(roofs, r)

	r = rectangle("curbs that touch", bowl)
	shape.Curb(r, shape.Bare(2, 2), shape.Bare(3, 2), shape.Bare(3, 3), shape.Bare(2, 3))
	shape.Curb(r, shape.Bare(3, 2), shape.Bare(4, 2), shape.Bare(4, 3), shape.Bare(3, 3))
	shape.Drain(r, 8, 6, 0.3)
	roofs = append(roofs, r)

	r = rectangle("outlets on one place", bowl)
	shape.Drain(r, 5, 4, 0.3)
	shape.Drain(r, 5.05, 4, 0.3)
	roofs = append(roofs, r)

	for _, r := range roofs {
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Logf("%s: refused: %v", r.Name, err) // by the check, before anything is designed
			continue
		}
		for _, in := range []correction.Input{{}, {Steering: mend.Steering{Slope: 0.2, Thickness: 0.5, Flashing: 3}}, {Rates: []float64{1e-3, 0.9}, Gravity: 1}} {
			in.Study = s
			out, err := correction.Of(&in)
			if err != nil {
				t.Errorf("%s: %v", r.Name, err)
				continue
			}
			whole(t, r.Name, out)
		}
	}
}
