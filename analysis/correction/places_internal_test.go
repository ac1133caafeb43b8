package correction

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// By hand: a place on the roof stays; one in a wall or on a curb comes to the edge nearest to it.
func TestBesideWhatStandsInAWall(t *testing.T) {
	for _, to := range mendtest.Lies {
		d := flat(t, to, func(_, _ float64) float64 { return 0 })
		mendtest.SamePlace(t, "on the roof", d.beside(to(3, 4)), to(3, 4))
		mendtest.SamePlace(t, "in the east wall", d.beside(to(12.3, 4)), to(12, 4))
		mendtest.SamePlace(t, "in the south wall", d.beside(to(5, -0.2)), to(5, 0))
		mendtest.SamePlace(t, "beyond a corner", d.beside(to(-3, -4)), to(0, 0))
	}
}

// By hand: a curb 250 mm high on a roof raised by 60 mm beside it keeps 190 mm, 13 less than 8 in (203.2 mm): it is raised first where that is allowed, else named as a limit. One of 300 mm keeps enough; 200 mm would, too, to the 5 mm that nobody measures better; one that nobody measured is named as not known; and
// where the roof stays nothing is looked at.
func TestHeightLeftAtACurb(t *testing.T) {
	ring := orb.LineString{{3, 4}, {4, 4}, {4, 5}, {3, 5}, {3, 4}}
	for i, c := range []struct {
		height, up float64
		allowed    bool
		want       string
	}{
		{0.25, 0.06, true, "raised"},
		{0.25, 0.06, false, "limit"},
		{0.3, 0.06, true, "checked"},
		{0.2601, 0.06, true, "checked"},
		{0.2581, 0.06, false, "limit"},
		{0.2583, 0.06, false, "checked"},
		{0, 0.06, true, "unknown"},
		{0.05, 0, true, ""},
		{0.05, 0.0009, true, ""},
	} {
		d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
		d.Flashing = standard.FlashingHeight
		if !c.allowed {
			d.Steering.Forbid = []mend.Kind{mend.RaiseCurb}
		}
		a := taper.Alter(d.Domain, d.Base)
		if c.up > 0 {
			a.Raise(taper.Patch{On: []orb.Point{{2, 3}, {5, 3}, {5, 6}, {2, 6}}, Plan: orb.Point{2, 3}, Z: c.up})
		}
		o := &Option{Design: a.Design()}
		d.curb(o, "RTU-1", ring, c.height)
		got := ""
		switch {
		case len(o.Changes) == 1 && o.Changes[0].Kind == mend.RaiseCurb && len(o.Flags) == 1:
			got = "raised"
			mendtest.About(t, "by", o.Changes[0].What.Args[0].Value, standard.FlashingHeight-(c.height-c.up))
		case len(o.Limits) == 1:
			got = "limit"
			mendtest.About(t, "left", o.Limits[0].Available.Value, c.height-c.up)
		case len(o.Checked) == 1:
			got = "checked"
		case len(o.Unknown) == 1:
			got = "unknown"
		}
		if got != c.want {
			t.Errorf("%d: %q, want %q: %+v", i, got, c.want, o)
		}
	}
}

// Low places are levelled by flat boards and leveller, by leveller alone where no flat board lies; crickets are the sections flatter than the fields.
func TestWhatLiesUnderBoards(t *testing.T) {
	for bands, want := range map[int]string{0: ": leveller, ", 1: ": flat boards and leveller over them, "} {
		if got := levelled(&taper.Leveller{Bands: make([]taper.Band, bands)}); !strings.Contains(got, want) {
			t.Errorf("%d bands: %q", bands, got)
		}
	}
	facet := func(x, y float64) taper.Facet { return taper.Facet{Taper: orb.Point{x, y}} }
	for want, d := range map[float64]*taper.Design{
		0:    {Slope: 0.02, Facets: []taper.Facet{facet(0.02, 0), facet(0, -0.02), facet(0.016, 0.012)}},
		0.01: {Slope: 0.02, Facets: []taper.Facet{facet(0.02, 0), facet(-0.006, 0.008)}},
	} {
		if got := cricketTaper(d); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("crickets of %g, want %g", got, want)
		}
	}
}

// A curb with a cricket beside it is raised for that cricket's pond: within 1 m of its ring.
func TestCurbIsRaisedForItsCricket(t *testing.T) {
	ring := orb.LineString{{3, 4}, {4, 4}, {4, 5}, {3, 5}, {3, 4}}
	for far, want := range map[float64]string{0.9: "P07", 1.1: ""} {
		d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
		d.Flashing = standard.FlashingHeight
		a := taper.Alter(d.Domain, d.Base)
		a.Raise(taper.Patch{On: []orb.Point{{2, 3}, {5, 3}, {5, 6}, {2, 6}}, Plan: orb.Point{2, 3}, Z: 0.1})
		o := &Option{Design: a.Design(), Changes: []mend.Change{{Kind: mend.Cricket, Pond: "P07", At: orb.Point{4 + far, 4.5}}, {Kind: mend.LowerRise, Pond: "P08", At: orb.Point{4, 4.5}}}}
		d.curb(o, "RTU-1", ring, 0.2)
		if n := len(o.Changes); n != 3 || o.Changes[2].Pond != want || !slices.Contains(o.Decides, finding.Roofer) {
			t.Errorf("%g m off: %+v", far, o.Changes)
		}
	}
}
