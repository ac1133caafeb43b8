package correction_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// levelHall is a level walled roof of 20 by 12 m with two drains, their rims on the roof, and an overflow scupper in the middle of the west wall, 76 mm over them.
func levelHall(datum float64) *roof.Roof {
	h := func(_, _ float64) float64 { return datum }
	r := shape.New("hall", shape.At(0, 0, datum), shape.At(20, 0, datum), shape.At(20, 12, datum), shape.At(0, 12, datum))
	shape.Grid(r, 0, 0, 20, 12, 20, 12, h)
	for i, x := range []float64{5, 15} {
		o := shape.Drain(r, x, 6, 0.3)
		o.Invert, o.HasInvert, o.Label = datum, true, []string{"RD-1", "RD-2"}[i]
	}
	o := shape.Scupper(r, 0, 6, 0.3)
	o.Invert, o.HasInvert, o.Label, o.Duty = datum+0.076, true, "OS-1", roof.Overflow
	return r
}

// TestOverflowUnderNewBoards: a taper of 2 % stands 100 mm over the drains where the scupper is, 5 m off, so it is closed, never raised: beside each drain stands an overflow
// drain 2 in over it. The water stands lower with the drains blocked than it does today, by 76 mm less 2 in less the board at the drain, and nothing that the check finds is worse. An engineer
// decides, so the answer does not meet by itself.
func TestOverflowUnderNewBoards(t *testing.T) {
	for _, datum := range []float64{0, 31.4} {
		r := corrected(t, levelHall(datum), correction.Input{})
		a := &r.Answers[2]
		o := &r.Options[a.Option]
		if o.Kind != mend.Overlay || o.PondsLeft > 0 || o.FlatLeft > 0 || len(o.Worse)+len(o.Limits) > 0 {
			t.Fatalf("datum %g: %v, %d ponds, %d flat, worse %+v, limits %+v", datum, o.Kind, o.PondsLeft, o.FlatLeft, o.Worse, o.Limits)
		}
		if a.Meets || o.NewOutlets != 2 {
			t.Errorf("datum %g: meets %t with %d new outlets", datum, a.Meets, o.NewOutlets)
		}
		c := change(o, mend.AddOutlet)
		if c == nil || c.Decides != finding.Engineer || !strings.Contains(c.What.Format, "close {2}") || c.What.Args[1].Word != "RD-1, RD-2" || !strings.HasPrefix(c.What.Args[2].Word, "OS-1") {
			t.Fatalf("datum %g: %+v", datum, c)
		}
		for i := range o.Roof.Outlets {
			w := &o.Roof.Outlets[i]
			switch {
			case w.Type == roof.Scupper:
				t.Errorf("datum %g: %s is still there", datum, w.Label)
			case w.Duty == roof.Overflow:
				p := o.Roof.Outlets[0]
				if w.Label == "new overflow RD-2" {
					p = o.Roof.Outlets[1]
				}
				if over := w.Invert - p.Invert; !(math.Abs(over-2*inch) <= standard.InletTolerance) {
					t.Errorf("datum %g: %s stands %.4f m over %s", datum, w.Label, over, p.Label)
				}
			}
		}
		board := o.Roof.Outlets[0].Invert - datum
		near(t, "level with the drains blocked [m]", o.Blocked[1].Level-datum, 2*inch+board, 0.003)
		near(t, "level with the drains blocked, as found [m]", o.Blocked[0].Level-datum, 0.076, 0.001)
		s, err := study.Run(o.Roof, study.Options{})
		if err != nil || len(s.Listed) > 0 {
			t.Errorf("datum %g: a check of it finds %d ponds, %v", datum, len(s.Listed), err)
		}
	}
}

// TestOverflowIsKept: where the user keeps the scupper it stays, and no answer covers it.
func TestOverflowIsKept(t *testing.T) {
	in := correction.Input{}
	in.Steering.Keep = []string{"OS-1"}
	r := corrected(t, levelHall(0), in)
	for i := range r.Answers {
		for _, w := range r.Options[r.Answers[i].Option].Roof.Outlets {
			if w.Label == "OS-1" && w.Invert != 0.076 || strings.HasPrefix(w.Label, "new overflow") {
				t.Errorf("answer %d: %s at %g m", i+1, w.Label, w.Invert)
			}
		}
	}
}
