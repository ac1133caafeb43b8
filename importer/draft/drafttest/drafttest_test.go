package drafttest_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/importer/draft"
	"runnel/importer/draft/drafttest"
)

// witness notes what a check says, and ends it there.
type witness struct{ said string }

func (w *witness) Helper() {}

func (w *witness) Fatalf(format string, args ...any) {
	w.said = fmt.Sprintf(format, args...)
	panic(w)
}

// said returns what the check says of a draft, empty where it passes.
func said(d *draft.Draft) (text string) {
	w := &witness{}
	defer func() {
		if r := recover(); r == w {
			text = w.said
		} else if r != nil {
			panic(r)
		}
	}()
	drafttest.Finite(w, d)
	return ""
}

func at(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}, HasZ: true} }

// A sound draft passes, and each thing that is none is named.
func TestFinite(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(-1)
	ring := func() []roof.Position { return []roof.Position{at(0, 0), at(1, 0), at(1, 1), at(0, 0)} }
	sound := func() *draft.Draft {
		return &draft.Draft{
			Outlines:   []draft.Outline{{Outline: roof.Outline{Rings: [][]roof.Position{ring()}}}},
			Edges:      []roof.Edge{{Line: ring()[:2]}},
			Breaklines: []roof.Breakline{{Line: ring()[:2]}},
			Curbs:      []roof.Curb{{Ring: ring()}},
			Stains:     []roof.Stain{{Ring: ring()}},
			Spots:      []roof.Spot{{Position: at(0, 0)}},
			Outlets:    []draft.Outlet{{}},
			Cores:      []roof.Core{{}},
			Sills:      []roof.Sill{{Position: at(0, 0)}},
			Controls:   []roof.Control{{}},
			Tape:       &roof.Tape{Waters: []roof.Water{{Edge: ring(), Soundings: []roof.Sounding{{}}}}, Probes: []roof.Probe{{Position: at(0, 0)}}, Gaps: []roof.Gap{{}}},
		}
	}
	if got := said(sound()); got != "" {
		t.Fatal(got)
	}
	for name, c := range map[string]struct {
		spoil func(d *draft.Draft)
		want  string
	}{
		"ring open":       {func(d *draft.Draft) { d.Outlines[0].Rings[0][3] = at(9, 9) }, "is not closed"},
		"ring short":      {func(d *draft.Draft) { d.Curbs[0].Ring = d.Curbs[0].Ring[1:] }, "a line of 3 positions"},
		"stain":           {func(d *draft.Draft) { d.Stains[0].Ring[1].Plan[0] = nan }, "x is NaN"},
		"edge short":      {func(d *draft.Draft) { d.Edges[0].Line = d.Edges[0].Line[:1] }, "a line of 1 positions"},
		"breakline":       {func(d *draft.Draft) { d.Breaklines[0].Line[1].Z = inf }, "z is -Inf"},
		"span":            {func(d *draft.Draft) { d.Outlines[0].Structure.MemberSpan = quantity.Length(nan) }, "structure is NaN"},
		"load limit":      {func(d *draft.Draft) { d.Outlines[0].Structure.LoadLimit = -inf }, "structure is +Inf"},
		"criterion":       {func(d *draft.Draft) { d.Outlines[0].Criteria = standard.Overrides{"min_slope": nan} }, "min_slope is NaN"},
		"spot":            {func(d *draft.Draft) { d.Spots[0].Plan[1] = nan }, "y is NaN"},
		"spot's error":    {func(d *draft.Draft) { d.Spots[0].Sigma = quantity.Length(nan) }, "sigma is NaN"},
		"no elevation":    {func(d *draft.Draft) { d.Spots[0].HasZ = false }, "a spot without an elevation"},
		"sill":            {func(d *draft.Draft) { d.Sills[0].HasZ = false }, "a sill without an elevation"},
		"invert":          {func(d *draft.Draft) { d.Outlets[0].Invert = nan }, "z is NaN"},
		"leader":          {func(d *draft.Draft) { d.Outlets[0].Leader.Width = quantity.Length(nan) }, "pipes is NaN"},
		"pipe's slope":    {func(d *draft.Draft) { d.Outlets[0].PipeSlope = quantity.Slope(nan) }, "pipes is NaN"},
		"core":            {func(d *draft.Draft) { d.Cores[0].Z = nan }, "z is NaN"},
		"control":         {func(d *draft.Draft) { d.Controls[0].Lat = nan }, "z is NaN"},
		"level of water":  {func(d *draft.Draft) { d.Tape.Waters[0].Level = nan }, "level is NaN"},
		"edge of water":   {func(d *draft.Draft) { d.Tape.Waters[0].Edge[0].Plan[0] = nan }, "x is NaN"},
		"sounding":        {func(d *draft.Draft) { d.Tape.Waters[0].Soundings[0].Depth = quantity.Length(nan) }, "z is NaN"},
		"probe":           {func(d *draft.Draft) { d.Tape.Probes[0].HasZ = false }, "a probe without an elevation"},
		"error of probe":  {func(d *draft.Draft) { d.Tape.Probes[0].Sigma = quantity.Length(nan) }, "sigma is NaN"},
		"gap":             {func(d *draft.Draft) { d.Tape.Gaps[0].Gap = quantity.Length(nan) }, "z is NaN"},
		"direction of it": {func(d *draft.Draft) { d.Tape.Gaps[0].Toward[1] = nan }, "toward is NaN"},
	} {
		d := sound()
		c.spoil(d)
		if got := said(d); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
