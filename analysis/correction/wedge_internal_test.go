package correction

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// TestCricketsAreNamed: boards of the whole roof are told with their crickets, the flatter of its sections, where there are any.
func TestCricketsAreNamed(t *testing.T) {
	d := &designer{whole: mend.Overlay, Designer: &mend.Designer{Surface: &surface.Surface{Area: 120}}}
	for _, c := range []struct {
		tapers []orb.Point
		want   float64
	}{{[]orb.Point{{0.02, 0}, {0, 0.02}}, 0}, {[]orb.Point{{0.02, 0}, {0, 0.01}}, 0.01}, {nil, 0}} {
		o := &Option{Slope: 0.02, Design: &taper.Design{Slope: 0.02}}
		for _, g := range c.tapers {
			o.Design.Facets = append(o.Design.Facets, taper.Facet{Taper: g})
		}
		got := d.covered(o, &try{})
		if what := got[0].What.Format; len(got) != 1 || strings.Contains(what, "crickets of {5}") != (c.want > 0) || got[0].What.Args[5].Value != c.want {
			t.Errorf("%v: %q, %+v", c.tapers, what, got[0].What.Args)
		}
	}
}
