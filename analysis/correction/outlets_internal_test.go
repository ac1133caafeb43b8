package correction

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// TestOutletsAsLowAsTheDeckAllows: on the deck a drain is set as low as the thickness allows; a gutter, and a drain that the user keeps by its name, stay where they are.
func TestOutletsAsLowAsTheDeckAllows(t *testing.T) {
	d := &designer{Designer: &mend.Designer{
		Input:   mend.Input{Study: &study.Study{Roof: &roof.Roof{}}, Steering: mend.Steering{Keep: []string{"RD-2"}}},
		Surface: &surface.Surface{Outlets: []surface.Outlet{{Label: "RD-1", Source: -1}, {Label: "rd-2", Source: -1}, {Label: "G", Source: -1}}},
		Roof:    &roof.Roof{},
	}}
	d.Sources = []taper.Source{{Outlet: 0, Z: 3}, {Outlet: 1, Z: 3}, {Outlet: 2, Z: 3, Line: orb.LineString{{0, 0}, {1, 0}}}}
	for i, want := range []float64{math.Inf(-1), 3, 3} {
		if got := d.onDeck()[i]; got.Z != want || got.Outlet != i || d.Sources[i].Z != 3 {
			t.Errorf("outlet %d at %g, want %g", i, got.Z, want)
		}
	}
}

// TestOpeningsAreFlagged: an engineer has to allow each new outlet, with its size as drawn; what it keeps clear of is checked.
func TestOpeningsAreFlagged(t *testing.T) {
	drain, scupper := roof.Outlet{Type: roof.Drain, Diameter: 0.1, Label: "new drain"}, roof.Outlet{Type: roof.Scupper, Width: 0.2, Label: "new scupper"}
	o := &Option{mends: []*mend.Mend{{}, {Adds: []roof.Outlet{drain, {}}, Change: mend.Change{Pond: "P1"}}, {Adds: []roof.Outlet{scupper}}}}
	o.openings()
	if len(o.Flags) != 2 || len(o.Checked) != 2 || o.Flags[0].Available.Value != 0.1 || o.Flags[0].Where != "P1" || o.Flags[1].Available.Value != 0.2 || !strings.Contains(o.Checked[0].Name, "new drain from walls") || !strings.Contains(o.Checked[1].Name, "new scupper from corners") {
		t.Errorf("%+v, %+v", o.Flags, o.Checked)
	}
	if o.opens() || !(&Option{NewOutlets: 1}).opens() {
		t.Error("what opens")
	}
}

// TestCutsThatWaitForAnEngineer: a scupper or drain at a place where no engineer allowed it; one that was allowed there does not wait; an option with new outlets of which no change tells does.
func TestCutsThatWaitForAnEngineer(t *testing.T) {
	r := shape.New("r", shape.At(0, 0, 0), shape.At(9, 0, 0), shape.At(9, 9, 0))
	d := weighed(t)
	study := *d.Study
	study.Roof = r
	d.Study = &study
	r.Answers = []roof.Answer{{Question: string(roof.AskOpening), Yes: true, Plan: orb.Point{3, 3}, Placed: true}}
	cut := func(k mend.Kind, x float64) mend.Change { return mend.Change{Kind: k, At: orb.Point{x, x}} }
	for _, c := range []struct {
		name string
		o    Option
		want bool
	}{
		{"allowed", Option{NewOutlets: 1, Changes: []mend.Change{cut(mend.AddOutlet, 3)}}, false}, {"elsewhere", Option{NewOutlets: 1, Changes: []mend.Change{cut(mend.AddScupper, 7)}}, true}, {"one of two", Option{NewOutlets: 2, Changes: []mend.Change{cut(mend.AddOutlet, 3), cut(mend.AddOutlet, 7)}}, true}, {"nothing is cut", Option{Changes: []mend.Change{cut(mend.Fill, 7)}}, false}, {"a new outlet that no change tells of", Option{NewOutlets: 1, Changes: []mend.Change{cut(mend.Fill, 3)}}, true},
	} {
		if got := d.unopened(&c.o); got != c.want {
			t.Errorf("%s: waits %v", c.name, got)
		}
	}
}

// TestNoDrainsForScuppersWhereNoneIsWanted: a roof with a drain and an overflow scupper could have an overflow drain in its place; where the user forbids new outlets, or what covers the roof anew, none is tried.
func TestNoDrainsForScuppersWhereNoneIsWanted(t *testing.T) {
	r := shape.New("box", shape.At(0, 0, 0.02), shape.At(12, 0, 0.02), shape.At(12, 10, 0.02), shape.At(0, 10, 0.02))
	r.Outline.Edge = roof.Wall
	o := shape.Drain(r, 6, 5, 0.3)
	o.Invert, o.HasInvert = 0, true
	over := shape.Scupper(r, 6, 0, 0.2)
	over.Duty, over.Invert, over.HasInvert = roof.Overflow, 0.05, true
	d := designerOf(t, r)
	if _, _, ok := d.reset(); !ok {
		t.Fatal("nothing could be set anew")
	}
	for _, forbidden := range [][]mend.Kind{{mend.AddOutlet}, {mend.Overlay, mend.Replace}} {
		d.Steering.Forbid = forbidden
		got := &Result{}
		if best, err := d.overReset(got, -1); err != nil || best != -1 || len(got.Options) != 0 {
			t.Errorf("without %v: option %d of %d, %v", forbidden, best, len(got.Options), err)
		}
	}
}
