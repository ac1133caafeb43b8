package draft_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Each size of an outlet at the greatest that is taken, and a millimetre over it. The bounds are own ones: beyond them a bare number was more likely written in
// another unit. 24 in are 609.6 mm, 48 in 1,219.2 mm, 10 ft 3,048 mm, 100 ft 30.48 m.
func TestSizesOfOutlets(t *testing.T) {
	const unit = "write the size with its unit, such as 4in or 100mm"
	for _, c := range []struct {
		name string
		most float64 // [m]
		set  func(o *roof.Outlet, l quantity.Length)
		rule string
	}{
		{"diameter", 0.6096, func(o *roof.Outlet, l quantity.Length) { o.Diameter = l }, "the drain's pipe is over 24 in across"},
		{"bowl", 3.048, func(o *roof.Outlet, l quantity.Length) { o.Bowl = l }, "the drain's dam or bowl is over 10 ft across"},
		{"dam's diameter", 3.048, func(o *roof.Outlet, l quantity.Length) { o.DamDiameter = l }, "the drain's dam or bowl is over 10 ft across"},
		{"width", 30.48, func(o *roof.Outlet, l quantity.Length) { o.Width = l }, "the scupper is over 100 ft wide"},
		{"opening", 3.048, func(o *roof.Outlet, l quantity.Length) { o.OpeningHeight = l }, "the opening or dam is over 10 ft high"},
		{"dam", 3.048, func(o *roof.Outlet, l quantity.Length) { o.DamHeight = l }, "the opening or dam is over 10 ft high"},
		{"leader", 0.6096, func(o *roof.Outlet, l quantity.Length) { o.Leader.Diameter = l }, "the leader is over 24 in across"},
		{"leader's width", 0.6096, func(o *roof.Outlet, l quantity.Length) { o.Leader.Width = l }, "the leader is over 24 in across"},
		{"leader's depth", 0.6096, func(o *roof.Outlet, l quantity.Length) { o.Leader.Depth = l }, "the leader is over 24 in across"},
		{"pipe", 1.2192, func(o *roof.Outlet, l quantity.Length) { o.Pipe = l }, "the horizontal pipe is over 48 in across"},
		{"conductor head", 3.048, func(o *roof.Outlet, l quantity.Length) { o.ConductorHead = l }, "the conductor head or the crest is over 10 ft"},
		{"crest", 3.048, func(o *roof.Outlet, l quantity.Length) { o.CrestBreadth = l }, "the conductor head or the crest is over 10 ft"},
	} {
		// The greatest in the unit of the trade, as code reckons it: a bound itself is taken.
		inches := math.Round(c.most / 0.0254)
		o := roof.Outlet{Type: roof.Scupper}
		c.set(&o, quantity.Length(inches)*quantity.Inch)
		if rule, mend := draft.CheckOutlet(&o); rule != "" || mend != "" {
			t.Errorf("%s of %g in: %s; %s", c.name, inches, rule, mend)
		}
		c.set(&o, quantity.Length(c.most+0.001))
		if rule, mend := draft.CheckOutlet(&o); rule != c.rule || mend != unit {
			t.Errorf("%s of %g m: %q; %q", c.name, c.most+0.001, rule, mend)
		}
	}
	for slope, ok := range map[float64]bool{0: true, 0.01: true, 1: true, 1.001: false} {
		o := roof.Outlet{PipeSlope: quantity.Slope(slope)}
		if rule, mend := draft.CheckOutlet(&o); (rule == "") != ok || !ok && (rule != "the horizontal pipe falls more than 1 in 1" || mend != "write its slope like 1/8 in per ft or 1 %") {
			t.Errorf("pipe slope %g: %q; %q", slope, rule, mend)
		}
	}
	// A drain has neither crest nor conductor head; a scupper may have both.
	for _, kind := range []roof.OutletType{roof.Drain, roof.Scupper} {
		for _, o := range []roof.Outlet{{Type: kind, Crest: roof.FloorFlush}, {Type: kind, ConductorHead: 0.1}, {Type: kind, Crest: roof.FloorFlush, ConductorHead: 0.1}} {
			rule, mend := draft.CheckOutlet(&o)
			if want := kind == roof.Drain; (rule == "a drain has no crest and no conductor head" && mend == "make it a scupper, or leave them out") != want {
				t.Errorf("%+v: %q; %q", o, rule, mend)
			}
		}
	}
}

// Places and elevations at the last that is taken and beyond: the poles, the line where dates change, 1e8 of a grid's unit, 1 km under and 10 km over the datum.
func TestLimitsOfPlaces(t *testing.T) {
	local, lonLat := draft.Setting{}, draft.Setting{Geographic: true}
	for _, c := range []struct {
		set  draft.Setting
		at   orb.Point
		says string
	}{
		{lonLat, orb.Point{180, 90}, ""},
		{lonLat, orb.Point{-180, -90}, ""},
		{lonLat, orb.Point{180.001, 0}, "longitude 180.001 is over 180; for a site grid say --frame local"},
		{lonLat, orb.Point{-180.001, 0}, "longitude -180.001 is over 180; for a site grid say --frame local"},
		{lonLat, orb.Point{0, 90.001}, "latitude 90.001 is over 90; longitude comes first; for a site grid say --frame local"},
		{lonLat, orb.Point{0, -90.001}, "latitude -90.001 is over 90; longitude comes first; for a site grid say --frame local"},
		{local, orb.Point{1e8, -1e8}, ""},
		{local, orb.Point{1.001e8, 0}, "a coordinate is too large for any site grid; correct the coordinate"},
		{local, orb.Point{0, -1.001e8}, "a coordinate is too large for any site grid; correct the coordinate"},
		{local, orb.Point{math.Inf(-1), 0}, "a coordinate is not a finite number; write a number"},
		{lonLat, orb.Point{0, math.NaN()}, "a coordinate is not a finite number; write a number"},
	} {
		rule, mend := c.set.CheckPlace(c.at)
		if got := strings.TrimSuffix(rule+"; "+mend, "; "); got != c.says {
			t.Errorf("%v: %q, want %q", c.at, got, c.says)
		}
	}
	for z, says := range map[float64]string{
		-1000: "", 10000: "", -1000.01: "no roof stands at an elevation of -1000.01 m", 10000.1: "no roof stands at an elevation of 10000.1 m", math.Inf(1): "the elevation is not a finite number",
	} {
		if rule, mend := draft.CheckElevation(z); rule != says || (rule == "") != (mend == "") {
			t.Errorf("elevation %g: %q; %q", z, rule, mend)
		}
	}
	if rule, _ := draft.CheckElevation(math.NaN()); rule != "the elevation is not a finite number" {
		t.Errorf("NaN: %q", rule)
	}
}

// A member bears as much one way as the other: half a turn more is the same, and the bearing that is kept lies from 0 up to 180.
func TestBearingsOfMembers(t *testing.T) {
	for degrees, want := range map[float64]float64{0: 0, 45: 45, 179.5: 179.5, 180: 0, 180.5: 0.5, 270: 90, 359: 179, 360: 0, -20: 160, -180: 0, -200: 160, -360: 0} {
		var s roof.Structure
		if rule, _ := draft.SetDirection(&s, degrees); rule != "" || !s.HasDirection || !(math.Abs(s.MemberDirection-want) <= 1e-12) {
			t.Errorf("%g: %g, %q; want %g", degrees, s.MemberDirection, rule, want)
		}
	}
	for _, degrees := range []float64{360.5, -360.5, math.NaN(), math.Inf(1)} {
		var s roof.Structure
		if rule, mend := draft.SetDirection(&s, degrees); rule != fmt.Sprintf("member_direction %g is no bearing", degrees) || mend != "write degrees clockwise from grid north, 0 to 180" || s.HasDirection {
			t.Errorf("%g: %q; %q, %+v", degrees, rule, mend, s)
		}
	}
	for _, c := range []struct {
		limit float64
		by    string
		said  bool
	}{{0, "", false}, {1000, "", true}, {1000, "A. Engineer", false}, {0, "A. Engineer", false}} {
		got := draft.LimitWarning(&roof.Structure{LoadLimit: c.limit, LoadLimitBy: c.by}, "a.csv line 2")
		if want := "a.csv line 2: load_limit is not compared with, because load_limit_by does not say who set it."; (got == want) != c.said || !c.said && got != "" {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

// raised gives corners elevations; one that is not a number is none.
func raised(r []roof.Position, z ...float64) []roof.Position {
	for i, v := range z {
		r[i].Z, r[i].HasZ = v, !math.IsNaN(v)
	}
	return r
}

// The first corner and its repetition are one: 3 mm apart they are, 3.1 mm apart they are refused, and where one has no elevation it takes the other's. The rest stays.
func TestElevationsOfTheFirstCorner(t *testing.T) {
	none := math.NaN()
	corners := []orb.Point{{0, 0}, {9, 0}, {9, 9}}
	for _, c := range []struct {
		z    []float64 // of the three corners and the repetition
		want float64   // of the first
		ok   bool
	}{
		{[]float64{1, 2, 3, 1}, 1, true},
		{[]float64{1, 2, 3, 1.0029}, 1, true},
		{[]float64{1, 2, 3, 0.9971}, 1, true},
		{[]float64{1, 2, 3, 1.0031}, 0, false},
		{[]float64{1, 2, 3, 0.9969}, 0, false},
		{[]float64{-1, 2, 3, 1}, 0, false},
		{[]float64{-5, 2, 3, -5}, -5, true},
		{[]float64{none, 2, 3, 1.5}, 1.5, true},
		{[]float64{1.5, 2, 3, none}, 1.5, true},
		{[]float64{none, 2, 3, none}, none, true},
		{[]float64{0, 2, 3, none}, 0, true}, // 0 is an elevation
	} {
		for _, turned := range []bool{false, true} {
			r := raised(ring(corners...), c.z...)
			middle := []float64{2, 3}
			if turned { // clockwise: it is turned round, and begins at the same corner
				r[1], r[2] = r[2], r[1]
			}
			fault := draft.SettleRings([][]roof.Position{r}, "outline")
			if !c.ok {
				if fault == nil || fault.Rule != "the first corner and its repetition at the end have different elevations" || fault.At != (orb.Point{0, 0}) || !fault.HasAt || fault.Mend != "give both the same elevation" {
					t.Errorf("%v: %+v", c.z, fault)
				}
				continue
			}
			if fault != nil || r[0] != r[3] && c.want == c.want || r[0].Plan != (orb.Point{0, 0}) || r[1].Plan != (orb.Point{9, 0}) || r[2].Plan != (orb.Point{9, 9}) {
				t.Errorf("%v, turned %v: %+v, %+v", c.z, turned, fault, r)
			}
			if r[0].HasZ == math.IsNaN(c.want) || r[0].HasZ && r[0].Z != c.want || r[1].Z != middle[0] || r[2].Z != middle[1] {
				t.Errorf("%v, turned %v: elevations %+v", c.z, turned, r)
			}
		}
	}
}

// What is wrong with holes is told with its place, which lies on the ring that is wrong.
func TestFaultsOfHoles(t *testing.T) {
	outer := func() []roof.Position {
		return ring(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 20}, orb.Point{0, 20})
	}
	box := func(x, y, w float64) []roof.Position {
		return ring(orb.Point{x, y}, orb.Point{x, y + w}, orb.Point{x + w, y + w}, orb.Point{x + w, y})
	}
	for name, c := range map[string]struct {
		rings [][]roof.Position
		rule  string // empty: sound
		on    []roof.Position
	}{
		"a hole":              {[][]roof.Position{outer(), box(5, 5, 4)}, "", nil},
		"two holes":           {[][]roof.Position{outer(), box(5, 5, 4), box(12, 12, 4)}, "", nil},
		"outside":             {[][]roof.Position{outer(), box(30, 5, 4)}, "a hole of the deck lies outside it", box(30, 5, 4)},
		"within another":      {[][]roof.Position{outer(), box(5, 5, 10), box(7, 7, 4)}, "a hole of the deck lies inside another hole", nil},
		"across the edge":     {[][]roof.Position{outer(), box(18, 5, 4)}, "two rings of the deck touch or cross", nil},
		"a hole that crosses": {[][]roof.Position{outer(), ring(orb.Point{5, 5}, orb.Point{9, 9}, orb.Point{9, 5}, orb.Point{5, 9})}, "the deck crosses or touches itself", ring(orb.Point{7, 7}, orb.Point{7, 7}, orb.Point{7, 7})},
		"edge to edge":        {[][]roof.Position{outer(), ring(orb.Point{0, 10}, orb.Point{10, 12}, orb.Point{20, 10}, orb.Point{10, 8})}, "two rings of the deck touch or cross", nil},
		"cut in two by two": {[][]roof.Position{
			outer(), ring(orb.Point{0, 10}, orb.Point{5, 12}, orb.Point{10, 10}, orb.Point{5, 8}), ring(orb.Point{10, 10}, orb.Point{15, 12}, orb.Point{20, 10}, orb.Point{15, 8}),
		}, "the holes cut the deck in two", nil},
		"two corners":          {[][]roof.Position{{{Plan: orb.Point{3, 4}}, {Plan: orb.Point{9, 9}}, {Plan: orb.Point{3, 4}}}}, "the deck has fewer than three corners", ring(orb.Point{3, 4}, orb.Point{3, 4}, orb.Point{3, 4})},
		"a hole of one corner": {[][]roof.Position{outer(), {{Plan: orb.Point{3, 4}}, {Plan: orb.Point{3, 4}}, {Plan: orb.Point{3, 4}}, {Plan: orb.Point{3, 4}}}}, "the deck has fewer than three corners", nil},
	} {
		fault := draft.SettleRings(c.rings, "deck")
		if (fault == nil) != (c.rule == "") {
			t.Errorf("%s: %+v", name, fault)
			continue
		}
		if fault == nil {
			continue
		}
		if !strings.HasPrefix(fault.Rule, c.rule) || fault.Mend == "" {
			t.Errorf("%s: %+v, want %s", name, fault, c.rule)
		}
		if c.on == nil {
			continue
		}
		found := false
		for i := 1; i < len(c.on); i++ {
			a, b := c.on[i-1].Plan, c.on[i].Plan
			d := vector.Turn(a, b, fault.At)
			found = found || math.Abs(d) <= 1e-9 && fault.At[0] >= math.Min(a[0], b[0]) && fault.At[0] <= math.Max(a[0], b[0]) && fault.At[1] >= math.Min(a[1], b[1]) && fault.At[1] <= math.Max(a[1], b[1])
		}
		if !fault.HasAt || !found {
			t.Errorf("%s: at %v", name, fault.At)
		}
	}
}

// shared returns the places that two sides have in common, on whole numbers: none, one, or the ends of a stretch. It is reckoned by Cramer's rule.
func shared(a, b, c, d orb.Point) (places []orb.Point) {
	on := func(p, q, r orb.Point) bool { // r on the side from p to q
		return (q[0]-p[0])*(r[1]-p[1]) == (q[1]-p[1])*(r[0]-p[0]) && r[0] >= math.Min(p[0], q[0]) && r[0] <= math.Max(p[0], q[0]) && r[1] >= math.Min(p[1], q[1]) && r[1] <= math.Max(p[1], q[1])
	}
	det := (b[0]-a[0])*(d[1]-c[1]) - (b[1]-a[1])*(d[0]-c[0])
	if det != 0 {
		s := ((c[0]-a[0])*(d[1]-c[1]) - (c[1]-a[1])*(d[0]-c[0])) / det
		u := ((c[0]-a[0])*(b[1]-a[1]) - (c[1]-a[1])*(b[0]-a[0])) / det
		if s >= 0 && s <= 1 && u >= 0 && u <= 1 {
			return []orb.Point{{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}}
		}
		return nil
	}
	for _, p := range []orb.Point{a, b} {
		if on(c, d, p) {
			places = append(places, p)
		}
	}
	for _, p := range []orb.Point{c, d} {
		if on(a, b, p) {
			places = append(places, p)
		}
	}
	return places
}

// Of rings on a small grid of whole numbers, where sides cross, touch and run along each other in every way, the place that is named is one that the first two sides have in common which
// should not meet, in the order in which they were drawn; the pairs are gone through one by one.
func TestTheFirstCrossingIsNamed(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 9)) //nolint:gosec // rings that repeat
	crossed := 0
	for k := range 4000 {
		n := 4 + random.IntN(5)
		scale := []float64{1, 1.0 / 16384, 1024}[k%3] // also as small as degrees are; powers of two keep the numbers exact
		points := make([]orb.Point, n)
		for i := range points {
			points[i] = orb.Point{scale * float64(random.IntN(6)), scale * float64(random.IntN(6))}
		}
		r := ring(points...)
		fault := draft.SettleRings([][]roof.Position{r}, "outline")
		if fault == nil || !strings.Contains(fault.Rule, "crosses or touches itself") {
			continue
		}
		var sides [][2]orb.Point // without those of no length
		for i := range points {
			if a, b := points[i], points[(i+1)%n]; a != b {
				sides = append(sides, [2]orb.Point{a, b})
			}
		}
		var want []orb.Point
		for i := 0; i < len(sides) && want == nil; i++ {
			for j := i + 1; j < len(sides) && want == nil; j++ {
				s, u := sides[i], sides[j]
				places := shared(s[0], s[1], u[0], u[1])
				next, last := j == i+1, i == 0 && j == len(sides)-1
				switch {
				case next || last: // neighbours share a corner, and only running back counts
					if len(places) > 2 || len(places) == 2 && places[0] != places[1] {
						want = places
					}
				case len(places) > 0:
					want = places
				}
			}
		}
		if want == nil {
			continue // a corner twice, one after the other
		}
		crossed++
		near := false
		for _, p := range want {
			near = near || math.Hypot(p[0]-fault.At[0], p[1]-fault.At[1]) <= 1e-9*scale
		}
		if !near {
			t.Fatalf("ring %v crosses at %v; the first two sides that do meet at %v", points, fault.At, want)
		}
	}
	if crossed < 1000 {
		t.Errorf("only %d rings crossed themselves", crossed)
	}
}

// Up to ten names are listed, and of more how many.
func TestListing(t *testing.T) {
	names := strings.Split("a b c d e f g h i j k l", " ")
	for n, want := range map[int]string{0: "", 1: "a", 2: "a, b", 10: "a, b, c, d, e, f, g, h, i, j", 11: "a, b, c, d, e, f, g, h, i, j and 1 more", 12: "a, b, c, d, e, f, g, h, i, j and 2 more"} {
		if got := draft.Listing(names[:n]); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

// A text of up to 1,000 characters is taken, however many bytes they are; of a longer one its first 20 are told.
func TestFittingTexts(t *testing.T) {
	for _, c := range []struct {
		text  string
		clean string
		rule  string
	}{
		{"", "", ""},
		{"a\nb", "a b", ""},
		{strings.Repeat("x", 1000), strings.Repeat("x", 1000), ""},
		{strings.Repeat("é", 1000), strings.Repeat("é", 1000), ""},
		{strings.Repeat("x", 1001), strings.Repeat("x", 20), "label has 1001 characters; the most that is read is 1000"},
		{strings.Repeat("屋", 1001), strings.Repeat("屋", 20), "label has 1001 characters; the most that is read is 1000"},
	} {
		if clean, rule := draft.Fitting("label", c.text); clean != c.clean || rule != c.rule {
			t.Errorf("%.20q: %.30q, %q", c.text, clean, rule)
		}
	}
}

// What a file holds is taken as UTF-8 where it is, without its mark of byte order; else each byte is a letter of ISO 8859-1.
func TestDecode(t *testing.T) {
	for in, want := range map[string]struct {
		text  string
		latin bool
	}{
		"a;ü\n":             {"a;ü\n", false},
		"\ufeffa\r\n":       {"a\r\n", false},
		"a\xfc\xdf\n":       {"aüß\n", true},
		"\xef\xbb\xbfa\xfc": {"ï»¿aü", true},
		"a\x1b[2J\tb":       {"a [2J\tb", false},
		"":                  {"", false},
	} {
		if text, latin := draft.Decode([]byte(in)); text != want.text || latin != want.latin {
			t.Errorf("%q: %q, %v; want %q", in, text, latin, want.text)
		}
	}
}
