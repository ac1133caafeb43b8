package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/capacity"
	"runnel/analysis/cause"
	"runnel/analysis/drainage"
	"runnel/analysis/finding"
)

// TestStrip: the strip of a straight line has its length times one foot; that of two legs of 4 m at right
// angles as well, because a mitre gives on one side what it takes on the other.
func TestStrip(t *testing.T) {
	line := orb.LineString{{1, 2}, {4, 6}} // 5 m
	ring := strip(line)
	if got := planar.Area(orb.Polygon{ring}); !(math.Abs(got-5*0.3048) <= 1e-9) || ring.Orientation() != orb.CCW {
		t.Errorf("area %g, want %g; orientation %v", got, 5*0.3048, ring.Orientation())
	}
	bent := strip(through(orb.LineString{{0, 4}, {0, 0}}, orb.LineString{{0, 4}, {4, 4}}))
	if got := planar.Area(orb.Polygon{bent}); !(math.Abs(got-8*0.3048) <= 1e-9) {
		t.Errorf("bent: area %g, want %g", got, 8*0.3048)
	}
	for _, p := range []orb.Point{{0, 0.01}, {0, 4}, {3.99, 4}} {
		if !planar.RingContains(bent, p) {
			t.Errorf("the bent strip does not hold %v", p)
		}
	}
}

// TestWordsOfACause: what was found out about a cause is said in its own words, else in those of its kind; what to measure comes first where causes compete, or a low place was told from spots far apart.
func TestWordsOfACause(t *testing.T) {
	of := cause.Say(finding.Dish)
	own := cause.Candidate{Kind: finding.Dish, What: finding.Say("It sags."), Mend: finding.Say("Prop it."), Measure: finding.Say("Measure it.")}
	usual := cause.Candidate{Kind: finding.Dish, Measure: own.Measure}
	low := cause.Candidate{Kind: finding.LowPlace, Measure: own.Measure}
	if got := pondText(&own).Format; got != "It sags." {
		t.Errorf("own: %q", got)
	}
	if got := pondText(&usual).Format; got != of.What || CauseText(finding.Dish).Format != of.What {
		t.Errorf("usual: %q", got)
	}
	one, two := &cause.Diagnosis{Causes: []cause.Candidate{own}}, &cause.Diagnosis{Causes: []cause.Candidate{usual, low}}
	for _, c := range []struct {
		c       *cause.Candidate
		d       *cause.Diagnosis
		want    string
		decides string
	}{
		{&own, one, "Measure it. Prop it.", of.Decides},
		{&usual, one, of.Mend, of.Decides},
		{&usual, two, "Measure it. " + of.Mend, of.Decides},
		{&low, one, "Measure it. " + cause.Say(finding.LowPlace).Mend, cause.Say(finding.LowPlace).Decides},
	} {
		if do, decides := doFor(c.c, c.d); do.Format != c.want || decides != c.decides {
			t.Errorf("%s of %d: %q, decided by %s", c.c.Kind, len(c.d.Causes), do.Format, decides)
		}
	}
	if Mend(finding.Dish, one) != "Prop it." || Mend(finding.Dish, two) != of.Mend || Mend(finding.LowPlace, one) != cause.Say(finding.LowPlace).Mend {
		t.Errorf("%q, %q, %q", Mend(finding.Dish, one), Mend(finding.Dish, two), Mend(finding.LowPlace, one))
	}
	if do, decides := MendOf(finding.Dish, true); do.Format != of.Mend || decides != of.Decides {
		t.Errorf("%q, %s", do.Format, decides)
	}
	// A scupper has neither strainer nor rim nor sump: its floor lies on a rough opening, which a roofer sets down, as a correction says.
	high := cause.Candidate{Kind: finding.OutletHigh, Scupper: true}
	do, decides := doFor(&high, &cause.Diagnosis{Causes: []cause.Candidate{high}})
	said, who := MendOf(finding.OutletHigh, true)
	if do.Format != said.Format || Mend(finding.OutletHigh, &cause.Diagnosis{Causes: []cause.Candidate{high}}) != said.Format ||
		strings.Contains(said.Format, "strainer") || strings.Contains(said.Format, "drain") || !strings.Contains(said.Format, "rough opening") || decides != finding.Roofer || who != decides {
		t.Errorf("of a scupper set high: %q, %s; %q, %s", do.Format, decides, said.Format, who)
	}
	if said, who := MendOf(finding.OutletHigh, false); !strings.Contains(said.Format, "strainer") || who != finding.Plumber {
		t.Errorf("of a drain set high: %q, %s", said.Format, who)
	}
}

// TestLinksThatAreNotStated: they are named one after the other; where all are stated nothing is said.
func TestLinksThatAreNotStated(t *testing.T) {
	for want, unknown := range map[string][]string{"": nil, "Not stated, and so not counted: leader.": {"leader"}, "Not stated, and so not counted: leader, strainer.": {"leader", "strainer"}} {
		if got := (&inspector{}).links(&drainage.Outlet{Rating: &capacity.Rating{Unknown: unknown}}).Format; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestHalf: half way along two legs of 3 and 5 m is 4 m from the start.
func TestHalf(t *testing.T) {
	got := half(orb.LineString{{0, 0}, {3, 0}, {3, 5}})
	if !(math.Hypot(got[0]-3, got[1]-1) <= 1e-12) {
		t.Errorf("got %v, want (3, 1)", got)
	}
}
