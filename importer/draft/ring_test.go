package draft_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

func ring(points ...orb.Point) []roof.Position {
	out := make([]roof.Position, len(points)+1)
	for i, p := range points {
		out[i].Plan = p
	}
	out[len(points)] = out[0]
	return out
}

// A ring of any size is turned: a roof in degrees, whose area is a hundred-millionth of one, and a pad of 5 cm as well as a roof of 100 m.
func TestSmallRingsAreTurned(t *testing.T) {
	for _, side := range []float64{1e-4, 0.05, 100} {
		at := func(x, y float64) orb.Point { return orb.Point{-93 + x*side, 45 + y*side} }
		for name, r := range map[string][]roof.Position{
			"clockwise":         ring(at(0, 0), at(0, 1), at(1, 1), at(1, 0)),
			"counter-clockwise": ring(at(0, 0), at(1, 0), at(1, 1), at(0, 1)),
		} {
			if fault := draft.SettleRings([][]roof.Position{r}, "curb"); fault != nil || r[1].Plan != at(1, 0) {
				t.Errorf("%s, %g: %+v, %v", name, side, fault, r)
			}
		}
	}
}

// A word is one of a list, in small or capital letters, or left out; else the list is the mend.
func TestOneOf(t *testing.T) {
	for _, c := range [][2]string{{" Wet ", "wet"}, {"", ""}, {"damp", "damp"}} {
		text := c[0]
		word, rule, mend := draft.OneOf("condition", text, draft.Conditions)
		if word != c[1] || (rule != "") != (text == "damp") || text == "damp" && (rule != `unknown condition "damp"` || mend != "use sound, compressed, wet") {
			t.Errorf("%q: %q, %q, %q", text, word, rule, mend)
		}
	}
	var d draft.Draft
	d.Visit0().Surveyed = "2026-05-01"
	if d.Visit0().Surveyed != "2026-05-01" {
		t.Error("a visit is made twice")
	}
}

// By hand: the crossings of drawn lines.
func TestTheCrossingIsNamed(t *testing.T) {
	tests := []struct {
		name string
		ring []roof.Position
		want orb.Point
	}{
		{"bow tie", ring(orb.Point{0, 0}, orb.Point{10, 10}, orb.Point{10, 0}, orb.Point{0, 10}), orb.Point{5, 5}},
		{"off a corner", ring(orb.Point{0, 0}, orb.Point{60, 0}, orb.Point{60, 40}, orb.Point{30, 40}, orb.Point{30, -10}, orb.Point{0, 40}), orb.Point{30, 0}},
		{"far from zero", ring(orb.Point{2000000, 500000}, orb.Point{2000010, 500010}, orb.Point{2000010, 500000}, orb.Point{2000000, 500010}), orb.Point{2000005, 500005}},
		{"touch at a corner", ring(orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 2}, orb.Point{4, 4}, orb.Point{0, 4}, orb.Point{2, 2}), orb.Point{2, 2}},
		{"touch on a side", ring(orb.Point{0, 0}, orb.Point{8, 0}, orb.Point{8, 8}, orb.Point{4, 0}, orb.Point{0, 8}), orb.Point{4, 0}},
		{"spike", ring(orb.Point{0, 0}, orb.Point{8, 0}, orb.Point{4, 0}, orb.Point{4, 4}), orb.Point{8, 0}},
		{"overlap", ring(orb.Point{0, 0}, orb.Point{8, 0}, orb.Point{8, 4}, orb.Point{6, 4}, orb.Point{6, 0}, orb.Point{2, 0}, orb.Point{2, 4}, orb.Point{0, 4}), orb.Point{6, 0}},
	}
	for _, tt := range tests {
		fault := draft.SettleRings([][]roof.Position{tt.ring}, "outline")
		if fault == nil || !fault.HasAt || !strings.Contains(fault.Rule, "crosses or touches itself") {
			t.Errorf("%s: %+v", tt.name, fault)
			continue
		}
		if !(math.Hypot(fault.At[0]-tt.want[0], fault.At[1]-tt.want[1]) <= 1e-9) {
			t.Errorf("%s: at %v, want %v", tt.name, fault.At, tt.want)
		}
	}
}

// A star-shaped ring does not cross itself; one with two corners far apart in turn exchanged does.
func TestStarsAreValidAndMixedStarsAreNot(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for range 200 {
		n := 8 + random.IntN(20)
		points := make([]orb.Point, n)
		for i := range points {
			angle, r := 2*math.Pi*float64(i)/float64(n), 5+5*random.Float64()
			points[i] = orb.Point{1000 + r*math.Cos(angle), 2000 + r*math.Sin(angle)}
		}
		star := ring(points...)
		if random.IntN(2) == 0 {
			for i, j := 0, n; i < j; i, j = i+1, j-1 {
				star[i], star[j] = star[j], star[i]
			}
		}
		if fault := draft.SettleRings([][]roof.Position{star}, "outline"); fault != nil {
			t.Fatalf("star %v: %+v", points, fault)
		}
		if area := shoelace(star); area <= 0 {
			t.Fatalf("star %v is not counter-clockwise", points)
		}
		points[0], points[n/2] = points[n/2], points[0]
		if fault := draft.SettleRings([][]roof.Position{ring(points...)}, "outline"); fault == nil {
			t.Fatalf("mixed star %v is accepted", points)
		}
	}
}

func shoelace(ring []roof.Position) (area float64) {
	for i := 1; i < len(ring); i++ {
		area += (ring[i-1].Plan[0]-1000)*(ring[i].Plan[1]-2000) - (ring[i].Plan[0]-1000)*(ring[i-1].Plan[1]-2000)
	}
	return area
}

func TestPlacesOutOfBounds(t *testing.T) {
	local, lonLat := draft.Setting{}, draft.Setting{Geographic: true}
	for _, tt := range []struct {
		set  draft.Setting
		at   orb.Point
		says string
	}{
		{local, orb.Point{2000000, 500000}, ""},
		{lonLat, orb.Point{-93, 45}, ""},
		{lonLat, orb.Point{45, -93}, "latitude -93 is over 90"},
		{lonLat, orb.Point{500, 45}, "longitude 500 is over 180"},
		{local, orb.Point{1e9, 0}, "too large"},
		{local, orb.Point{math.NaN(), 0}, "not a finite"},
		{local, orb.Point{0, math.Inf(1)}, "not a finite"},
	} {
		rule, mend := tt.set.CheckPlace(tt.at)
		if !strings.Contains(rule, tt.says) || (tt.says == "") != (rule == "") || (rule == "") != (mend == "") {
			t.Errorf("%v: %q; %q", tt.at, rule, mend)
		}
	}
	for _, z := range []float64{-9999, 99999, math.NaN(), math.Inf(-1)} {
		if rule, _ := draft.CheckElevation(z); rule == "" {
			t.Errorf("elevation %v is accepted", z)
		}
	}
	if rule, _ := draft.CheckElevation(0); rule != "" {
		t.Error(rule)
	}
}
