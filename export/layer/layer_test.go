package layer_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
)

// elevation is the surface of the sample, as its planes are described there.
func elevation(x, y float64) float64 {
	side := 0.005 * math.Abs(y-6)
	if x > 14 {
		return 100.16 - 0.02*(x-14) + side
	}
	return 100 + 0.02*math.Abs(x-6) + side
}

// byTheCurb reports whether a place of the sample is where no spot shows the planes: the curb lies between four spots, and its foot was not levelled.
func byTheCurb(x, y float64) bool { return math.Abs(x-11) < 2 && math.Abs(y-6) < 2 }

// What lies on the roof lies at its height there, to a tenth of a millimetre.
func TestFeaturesLieOnTheRoof(t *testing.T) {
	n := map[string]int{}
	for _, f := range read(t, books()["metres"], "facet", "plane", "catchment", "contour", "valley", "ridge", "flowpath") {
		for i := range f.shape.Positions {
			x, y, z := f.place(i)
			if byTheCurb(x-1000, y-2000) || f.layer == "flowpath" && f.facts["when"] == "full" { // which runs over water
				continue
			}
			if want := elevation(x-1000, y-2000); !f.shape.Positions[i].HasZ || !(math.Abs(z-want) <= 1e-4) {
				t.Errorf("%s: %v at %v, %v, want %v", f.id, z, x, y, want)
			}
			if f.layer == "contour" && f.number("elevation_m") != z {
				t.Errorf("%s at %v is drawn at %v", f.id, f.number("elevation_m"), z)
			}
			n[f.layer]++
		}
	}
	if len(n) != 7 {
		t.Errorf("layers with places: %v", n)
	}
	for _, f := range read(t, books()["lon/lat"], layer.All()...) {
		for _, p := range f.shape.Positions {
			if p.HasZ {
				t.Errorf("%s has an elevation beside degrees", f.id)
			}
		}
	}
}

// area returns twice the area of a ring by the shoelace formula, positive where it turns counter-clockwise.
func area(ring []layer.Position) float64 {
	sum := 0.0
	for i := 1; i < len(ring); i++ {
		p, q, o := ring[i-1], ring[i], ring[0]
		sum += float64(p.X-o.X)*float64(q.Y-o.Y) - float64(q.X-o.X)*float64(p.Y-o.Y)
	}
	return sum
}

// RFC 7946, section 3.1.6: a ring closes, outer ones turn counter-clockwise, holes clockwise. What is drawn has the area that is said of it.
func TestRingsCloseAndTurn(t *testing.T) {
	for name, b := range books() {
		unit := map[string]string{"metres": "area_m2", "feet": "area_ft2", "lon/lat": "area_m2"}[name]
		holes := 0
		for _, f := range read(t, b, layer.All()...) {
			drawn := 0.0
			for p := range f.shape.Polygons {
				first, last := f.shape.RingsOf(p)
				for i := first; i < last; i++ {
					ring := f.shape.Ring(i)
					if len(ring) < 4 || ring[0].X != ring[len(ring)-1].X || ring[0].Y != ring[len(ring)-1].Y {
						t.Errorf("%s, %s: ring %d does not close", name, f.id, i)
					}
					if a := area(ring); a > 0 != (i == first) {
						t.Errorf("%s, %s: ring %d turns the wrong way", name, f.id, i)
					} else {
						drawn += a / 2 * math.Pow10(-2*f.grid.Decimals)
					}
					if i > first {
						holes++
					}
				}
			}
			if f.shape.Kind == layer.Polygon != (len(f.shape.Polygons) == 1) || f.shape.Kind == layer.MultiPolygon != (len(f.shape.Polygons) > 1) {
				t.Errorf("%s, %s: %d polygons as a shape of kind %d", name, f.id, len(f.shape.Polygons), f.shape.Kind)
			}
			said := f.number(unit)
			if f.layer == "outline" { // its area is without the curb, 2 m2
				said += 2
				if name == "feet" {
					said = 240 / 0.3048 / 0.3048
				}
			}
			if name != "lon/lat" && len(f.shape.Polygons) > 0 && !math.IsNaN(said) && !(math.Abs(drawn-said) <= 2e-4*said+1e-3) {
				t.Errorf("%s, %s: %v drawn, %v said", name, f.id, drawn, said)
			}
		}
		if holes == 0 {
			t.Errorf("%s: the curb leaves no hole", name)
		}
	}
}

// Facets fall as the planes of the sample do: 2 % along and 0.5 % across, so 2.0616 % by Pythagoras, towards atan(4) = 75.96 degrees from the line between the two halves.
func TestFacetsFall(t *testing.T) {
	sum, planes := 0.0, map[string]bool{}
	for _, f := range read(t, books()["metres"], "facet") {
		x, y := 0.0, 0.0
		for i := range 3 {
			px, py, _ := f.place(i)
			x, y = x+(px-1000)/3, y+(py-2000)/3
		}
		sum += f.number("area_m2")
		plane, _ := f.facts["plane"].(string)
		planes[plane] = true
		if byTheCurb(x, y) {
			continue
		}
		want := 75.9638 // west of the low line, south of the middle: to the east, a little north
		if x > 6 && x < 14 {
			want = 360 - want
		}
		if y > 6 {
			want = math.Mod(540-want, 360)
		}
		if !(math.Abs(f.number("slope_pct")-2.0616) <= 2e-3) || !(math.Abs(f.number("aspect_deg")-want) <= 0.1) {
			t.Errorf("%s round %.1f, %.1f falls %v to %v, want 2.0616 to %v", f.id, x, y, f.number("slope_pct"), f.number("aspect_deg"), want)
		}
		towards := "east"
		if want > 180 {
			towards = "west"
		}
		if want := "2.06 % to the " + towards; f.facts["title"] != want {
			t.Errorf("%s is called %q, want %q", f.id, f.facts["title"], want)
		}
	}
	if !(math.Abs(sum-238) <= 1e-4) {
		t.Errorf("facets are %v m2 in all, want 238", sum)
	}
	// Three slopes in two halves each, and two beside the curb, where it lies over the middle.
	n := 0
	for _, f := range read(t, books()["metres"], "plane") {
		title := f.facts["title"]
		if title == "Plane falling 2.06 % to the east" || title == "Plane falling 2.06 % to the west" {
			n++
		}
		if !planes[f.id] {
			t.Errorf("no facet lies on plane %s, %q", f.id, title)
		}
		delete(planes, f.id)
	}
	if n != 6 || len(planes) > 0 {
		t.Errorf("%d planes, want 6; facets lie on others: %v", n, planes)
	}
}

// A level facet has no direction.
func TestLevelFacets(t *testing.T) {
	r := sample.Local()
	for i := range r.Spots {
		r.Spots[i].Z = 100
	}
	r.Breaklines = nil
	for _, f := range read(t, record.NewBook(sample.Study(r), "", record.SI), "facet", "plane") {
		if f.layer == "facet" {
			facts(t, &f, map[string]any{"title": "Level", "slope_pct": 0.0, "aspect_deg": nil})
		} else if f.facts["title"] != "Level plane" || f.style.Name != "below the least slope" || f.style.Opacity == 0 {
			t.Errorf("%s is called %q and drawn as %+v", f.id, f.facts["title"], f.style)
		}
	}
}

// By hand: west of the ridge 14 m by 12 m less the curb run to the drain, east of it 6 m by 12 m to the gutter. The pond round the drain is a lozenge of 20 mm at 2 % and 0.5 %:
// half axes of 1 m and 4 m, 2 x 1 x 4 = 8 m2, a third of that times 20 mm, 53.3 kg. The farthest water comes from a corner at the ridge or at the west wall.
func TestWaterOfTheSample(t *testing.T) {
	areas := map[string]float64{}
	titles := map[string]string{
		"SR1.RD-1.full": "Drains to SR1.RD-1 with ponds full, 166 m²", "SR1.E01.full": "Drains to SR1.E01 with ponds full, 72.0 m²", "SR1.E01.dry": "Drains to SR1.E01, 72.0 m²",
	}
	ways := 0
	for _, f := range read(t, books()["metres"], "pond", "catchment", "flowpath", "outlet", "valley", "ridge") {
		switch f.layer {
		case "catchment":
			areas[f.id] = f.number("area_m2")
			if end, when := f.facts["outlet"].(string), f.facts["when"].(string); f.id != end+"."+when && end != "" {
				t.Errorf("catchment %s of %s, %s", f.id, end, when)
			}
			if title, ok := titles[f.id]; ok && f.facts["title"] != title || f.facts["indeterminate_m2"] != nil {
				t.Errorf("%s is called %q, want %q", f.id, f.facts["title"], title)
			}
			if dry := f.facts["when"] == "dry"; dry != (f.style.Name == "dry") || dry != (f.style.Opacity == 0) {
				t.Errorf("%s is drawn as %+v", f.id, f.style)
			}
		case "pond":
			facts(t, &f, map[string]any{"level_m": 100.02})
			west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
			for i := range f.shape.Positions {
				x, y, z := f.place(i)
				west, east, south, north = min(west, x), max(east, x), min(south, y), max(north, y)
				if z != 100.02 {
					t.Errorf("the pond is drawn at %v", z)
				}
			}
			if !(math.Abs(west-1005)+math.Abs(east-1007)+math.Abs(south-2002)+math.Abs(north-2010) <= 1e-3) {
				t.Errorf("the pond reaches from %v, %v to %v, %v", west, south, east, north)
			}
			if title := f.facts["title"].(string); !strings.HasPrefix(title, "Pond P01: 20 mm deep, 8.") && !strings.HasPrefix(title, "Pond P01: 20 mm deep, 7.") || !strings.HasSuffix(title, " kg") {
				t.Errorf("the pond is called %q", title)
			}
		case "flowpath":
			if ways++; f.id != fmt.Sprintf("SR1.W%02d", ways) {
				t.Errorf("way %d is %s", ways, f.id)
			}
			_, _, top := f.place(0)
			_, _, bottom := f.place(len(f.shape.Positions) - 1)
			long := 0.0
			for i := 1; i < len(f.shape.Positions); i++ {
				x, y, z := f.place(i)
				px, py, pz := f.place(i - 1)
				long += math.Hypot(x-px, y-py)
				if z > pz+1e-6 && f.facts["when"] == "dry" {
					t.Errorf("%s runs up from %v to %v", f.id, pz, z)
				}
			}
			if !(math.Abs(f.number("travel_m")-long) <= 1e-3) || !(math.Abs(f.number("drop_mm")-(top-bottom)*1000) <= 0.1) || !(math.Abs(f.number("slope_pct")-(top-bottom)/long*100) <= 1e-2) {
				t.Errorf("%s: travel %v, drop %v, slope %v over a line of %v from %v to %v", f.id, f.number("travel_m"), f.number("drop_mm"), f.number("slope_pct"), long, top, bottom)
			}
			if want := fmt.Sprintf("Longest way to %s, %.1f m", f.facts["outlet"], long); f.facts["title"] != want {
				t.Errorf("%s is called %q, want %q", f.id, f.facts["title"], want)
			}
		case "valley", "ridge":
			x, y, z := f.place(0)
			ex, ey, ez := f.place(len(f.shape.Positions) - 1)
			long := math.Hypot(ex-x, ey-y)
			title := fmt.Sprintf("%s falling %.2f %% over %.1f m", map[string]string{"valley": "Valley", "ridge": "Ridge"}[f.layer], math.Abs(z-ez)/long*100, long)
			if _, valley := f.facts["below_min"].(bool); valley != (f.layer == "valley") || f.facts["title"] != title {
				t.Errorf("%s is called %q, want %q; its facts are %v", f.id, f.facts["title"], title, f.facts)
			}
		case "outlet":
			switch f.id {
			case "SR1.RD-1":
				facts(t, &f, map[string]any{"title": "RD-1 (drain, primary) takes 166 m²"})
				if f.shape.Kind != layer.Point || f.style.Marker != palette.Primary {
					t.Errorf("the drain is drawn as %+v", f.style)
				}
				if _, _, z := f.place(0); z != 100.02 {
					t.Errorf("the drain takes water at %v", z)
				}
			case "SR1.OS-1":
				if f.style.Marker != palette.Overflow || f.style.Name != "overflow" {
					t.Errorf("the overflow is drawn as %+v", f.style)
				}
			default:
				if f.shape.Kind != layer.Line || f.style.Width == 0 || f.style.Stroke != palette.Primary {
					t.Errorf("the gutter is drawn as %+v", f.style)
				}
				for i := range f.shape.Positions {
					x, y, z := f.place(i)
					if !(math.Abs(x-1020) <= 1e-6) || !(math.Abs(z-elevation(20, y-2000)) <= 1e-4) {
						t.Errorf("the gutter lies at %v, %v, %v", x, y, z)
					}
				}
			}
		}
	}
	for id, want := range map[string]float64{"SR1.RD-1.full": 166, "SR1.E01.full": 72, "SR1.E01.dry": 72} {
		if !(math.Abs(areas[id]-want) <= 1e-3) {
			t.Errorf("%s has %v m2, want %v", id, areas[id], want)
		}
	}
}

// Without its drain the water stands up to the ridge: by hand 160 mm over the low line, and runs over at (14, 6). The lip is drawn there.
func TestLipOfAPond(t *testing.T) {
	r := sample.Local()
	r.Outlets = r.Outlets[1:]
	b := record.NewBook(sample.Study(r), "", record.SI)
	all := read(t, b, "lip", "pond")
	if !slices.Contains(layer.Of(b, false), "lip") {
		t.Error("the one lip has no layer")
	}
	n := 0
	for i := range all {
		f := &all[i]
		if f.layer != "lip" {
			continue
		}
		n++
		facts(t, f, map[string]any{"title": "Lip of P01, 160 mm above its lowest point", "pond": "SR1.P01", "level_m": 100.16, "rise_mm": 160.0})
		if x, y, z := f.place(0); x != 1014 || y != 2006 || z != 100.16 {
			t.Errorf("the lip lies at %v, %v, %v", x, y, z)
		}
	}
	if n != 1 {
		t.Errorf("%d lips, want 1", n)
	}
	if b := books()["metres"]; slices.Contains(layer.Of(b, true), "lip") {
		t.Error("a pond that its drain holds has a lip")
	}
	// A lip may be any vertex of the surface, the first as well.
	s := sample.Study(r)
	s.Ponds.Ponds[s.Listed[0].Pond].Lip = 0
	b = record.NewBook(s, "", record.SI)
	if lips := read(t, b, "lip"); len(lips) != 1 || !slices.Contains(layer.Of(b, false), "lip") {
		t.Errorf("%d lips at the first vertex", len(lips))
	} else if x, y, _ := lips[0].place(0); !(math.Hypot(x-1000-s.Surface.Cut.X[0], y-2000-s.Surface.Cut.Y[0]) <= 1e-4) {
		t.Errorf("the lip lies at %v, %v", x, y)
	}
}

// Three rings, of 4, 5 and 4 places: a polygon with a hole, and one without.
func TestRingsOfPolygons(t *testing.T) {
	s := layer.Shape{Kind: layer.MultiPolygon, Positions: make([]layer.Position, 13), Rings: []int{4, 9, 13}, Polygons: []int{2, 3}}
	for i, want := range [][2]int{{0, 2}, {2, 3}} {
		if first, last := s.RingsOf(i); first != want[0] || last != want[1] {
			t.Errorf("polygon %d has rings %d to %d", i, first, last)
		}
	}
	for i, want := range []int{4, 5, 4} {
		if n := len(s.Ring(i)); n != want {
			t.Errorf("ring %d has %d places", i, n)
		}
	}
}

// Findings are drawn where they are, the urgent ones first in the key and largest on the map.
func TestFindingsAreDrawnBySeverity(t *testing.T) {
	s := sample.Study(sample.Local())
	square := orb.Polygon{{{1, 1}, {1, 2}, {2, 2}, {2, 1}, {1, 1}}}
	s.Findings = []finding.Finding{
		{Severity: finding.Urgent, What: finding.Say("a"), Geometry: orb.Point{1, 1}, Pond: -1, Outlet: -1},
		{Severity: finding.Repair, What: finding.Say("b"), Geometry: orb.LineString{{0, 1}, {2, 1}}, Pond: -1, Outlet: -1},
		{Severity: finding.Note, What: finding.Say("c"), Geometry: square, Pond: -1, Outlet: -1},
		{Severity: finding.Repair, What: finding.Say("d"), Geometry: orb.Point{1, 1}, Pond: -1, Outlet: -1},
		{Severity: finding.Note, What: finding.Say("e"), Geometry: orb.MultiPolygon{square, square}, Pond: -1, Outlet: -1},
		{Severity: finding.Note, What: finding.Say("f"), Pond: -1, Outlet: -1},
	}
	want := []struct {
		title, colour, size, key string
		kind                     layer.Kind
		class                    int
	}{
		{"a", palette.Urgent, "large", "urgent", layer.Point, -int(finding.Urgent)},
		{"b", palette.Repair, "", "repair", layer.Line, -int(finding.Repair)},
		{"c", palette.Note, "", "note", layer.Polygon, -int(finding.Note)},
		{"d", palette.Repair, "medium", "repair", layer.Point, -int(finding.Repair)},
		{"e", palette.Note, "", "note", layer.MultiPolygon, -int(finding.Note)},
		{"f", palette.Note, "", "note", layer.None, -int(finding.Note)},
	}
	for i, f := range read(t, record.NewBook(s, "", record.SI), "finding") {
		w := want[i]
		colour := f.style.Stroke
		if w.kind == layer.Point {
			colour = f.style.Marker
		}
		if f.facts["title"] != w.title || colour != w.colour || f.style.Size != w.size || f.style.Name != w.key || f.shape.Kind != w.kind || f.style.Class != w.class {
			t.Errorf("%s: %q of kind %d, drawn as %+v", f.id, f.facts["title"], f.shape.Kind, f.style)
		}
		for k := range f.shape.Positions {
			x, y, z := f.place(k)
			if want := elevation(x-1000, y-2000); !(math.Abs(z-want) <= 1e-4) {
				t.Errorf("%s stands at %v, want %v", f.id, z, want)
			}
		}
	}
}

// Under a storm the water is drawn in bands, each deeper one darker, one after the other in depth.
func TestBandsOfAStorm(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	last := map[string]float64{}
	darker, classes := map[string]float64{}, map[string]int{}
	n := 0
	for _, f := range read(t, b, "water") {
		n++
		title := f.facts["title"].(string)
		depths, state, ok := strings.Cut(strings.TrimPrefix(title, "Water "), " deep with ")
		from, to, ok2 := strings.Cut(depths, " to ")
		if !ok || !ok2 || f.style.Name != depths || f.style.Fill != palette.Water {
			t.Errorf("%s is called %q, drawn as %+v", f.id, title, f.style)
		}
		var low, high float64
		if _, err := fmt.Sscanf(from+" "+to, "%f mm %f mm", &low, &high); err != nil || darker[state] > 0 && low != last[state] || high <= low || f.style.Opacity <= darker[state] {
			t.Errorf("%q after %v mm, at %v after %v", title, last[state], f.style.Opacity, darker[state])
		}
		if f.style.Class != classes[state] {
			t.Errorf("%q has class %d", title, f.style.Class)
		}
		classes[state]++
		last[state], darker[state] = high, f.style.Opacity
	}
	if n == 0 || n != countOf(b, "water") {
		t.Errorf("%d bands", n)
	}
}

func countOf(b *record.Book, name string) int {
	n := 0
	for i := range b.Waters {
		n += len(b.Waters[i].Bands)
	}
	if slices.Contains(layer.Of(b, false), name) != (n > 0) {
		return -1
	}
	return n
}

// A straight eave is a line from its one end to the other, not a place; the sample stands 1000 m east and 2000 m north on its grid.
func TestStraightEaveIsALine(t *testing.T) {
	b := books()["metres"]
	o := &b.Study.Surface.Outlets[0]
	o.Type, o.Edge, o.Line, o.Vertices = roof.EdgeOutlet, roof.Free, orb.LineString{{2, 0}, {8, 0}}, nil
	f := read(t, b, "outlet")[0]
	if f.shape.Kind != layer.Line || len(f.shape.Positions) != 2 || f.style.Width == 0 {
		t.Fatalf("%+v", f)
	}
	for i, want := range []float64{1002, 1008} {
		if x, y, _ := f.place(i); !(math.Abs(x-want) <= 1e-6) || !(math.Abs(y-2000) <= 1e-6) {
			t.Errorf("end %d at %v, %v", i, x, y)
		}
	}
}

// Very many spots are made in parts; put together they are all spots, each once, in order, and the other layers stand where they would.
func TestPartsOfManySpots(t *testing.T) {
	s := sample.Study(sample.Local())
	for i := len(s.Roof.Spots); i < 40000; i++ {
		p := s.Roof.Spots[0]
		p.ID = fmt.Sprint(i + 1)
		s.Roof.Spots = append(s.Roof.Spots, p)
	}
	b := record.NewBook(s, "", record.SI)
	names := []string{"core", "spot", "outline", "outlet"}
	var ids, sizes []string
	for _, part := range layer.Parts(b, names...) {
		n := 0
		part(func(f *layer.Feature) {
			ids = append(ids, f.ID)
			n++
		})
		sizes = append(sizes, fmt.Sprint(n))
	}
	want := []string{"SR1"}
	for i := range s.Roof.Spots {
		want = append(want, "SR1.spot."+s.Roof.Spots[i].ID)
	}
	want = append(want, "SR1.core.C1", "SR1.RD-1", "SR1.OS-1")
	if len(ids) < len(want) || !slices.Equal(ids[:len(want)], want) {
		t.Errorf("%d features, the first %v, the last %v", len(ids), ids[:3], ids[len(ids)-3:])
	}
	// 40,000 spots by 4,096 are ten parts; what stands before and after them is a part each.
	if len(sizes) != 12 || sizes[1] != "4096" || sizes[9] != "4096" || sizes[10] != "3136" {
		t.Errorf("parts of %v features", sizes)
	}
}

// Facets are millions on a large roof: they are written only where they are asked for.
func TestFacetsAreAskedFor(t *testing.T) {
	b := books()["metres"]
	if slices.Contains(layer.Of(b, false), "facet") || !slices.Contains(layer.Of(b, true), "facet") || !slices.IsSortedFunc(layer.Of(b, true), func(x, y string) int {
		return slices.Index(layer.All(), x) - slices.Index(layer.All(), y)
	}) {
		t.Errorf("layers %v", layer.Of(b, false))
	}
}

// near reports whether v is one of want to a millionth, or to 2e-7 of a degree.
func near(want []float64, v float64) bool {
	return slices.ContainsFunc(want, func(w float64) bool { return math.Abs(v-w) < 6e-7 })
}

// What is set with a pen is in plan, in the coordinates of its frame.
func TestPen(t *testing.T) {
	var got []feature
	var pen *layer.Pen
	pen = layer.NewPen(roof.NewLocal(orb.Point{10, 20}, quantity.Metres), quantity.Metres, func(f *layer.Feature) { got = append(got, taken(t, f, pen.Grid())) })
	pen.Open("a", "1", "A").Int("n", 7)
	pen.Point(orb.Point{1, 2})
	pen.Close(layer.Style{Marker: "#123456"})
	pen.Open("b", "2", "B")
	pen.Line([]orb.Point{{0, 0}, {3, 4}})
	pen.Close(layer.Style{})
	pen.Open("c", "3", "C")
	pen.Polygon(orb.Ring{{0, 0}, {0, 4}, {4, 4}, {4, 0}, {0, 0}}, orb.Ring{{1, 1}, {3, 1}, {3, 3}, {1, 3}, {1, 1}})
	pen.Close(layer.Style{})
	if len(got) != 3 {
		t.Fatalf("%d features", len(got))
	}
	facts(t, &got[0], map[string]any{"layer": "a", "id": "1", "title": "A", "n": 7.0})
	if got[0].shape.Kind != layer.Point || !reflect.DeepEqual(got[0].shape.Positions, []layer.Position{{X: 11000000, Y: 22000000}}) || got[0].style.Marker != "#123456" {
		t.Errorf("point %+v", got[0])
	}
	if got[1].shape.Kind != layer.Line || !reflect.DeepEqual(got[1].shape.Positions, []layer.Position{{X: 10000000, Y: 20000000}, {X: 13000000, Y: 24000000}}) {
		t.Errorf("line %+v", got[1])
	}
	// 4 x 4 less 2 x 2, and one polygon of two rings.
	if got[2].shape.Kind != layer.Polygon || len(got[2].shape.Rings) != 2 || area(got[2].shape.Ring(0)) != 2*16e12 || area(got[2].shape.Ring(1)) != -2*4e12 {
		t.Errorf("polygon %+v", got[2])
	}
}

// Styles are facts in the terms of simplestyle 1.1.0; what a style does not have is left out.
func TestStylesAsFacts(t *testing.T) {
	for _, c := range []struct {
		style  layer.Style
		hyphen string
		want   string
	}{
		{layer.Style{Stroke: "#000000", Width: 1.5}, "-", `{"stroke":"#000000","stroke-width":1.5}`},
		{layer.Style{Stroke: "#000000", Width: 1.256}, "-", `{"stroke":"#000000","stroke-width":1.26}`},
		{layer.Style{Fill: "#ffffff", Opacity: 0.2545}, "_", `{"fill":"#ffffff","fill_opacity":0.25}`},
		{layer.Style{Marker: "#ff0000", Size: "large"}, "-", `{"marker-color":"#ff0000","marker-size":"large"}`},
	} {
		var o record.Object
		c.style.AddTo(&o, c.hyphen)
		if got := string(o.Append(nil)); got != c.want {
			t.Errorf("%+v: %s, want %s", c.style, got, c.want)
		}
	}
}

// Where to go next is asked for, or kept for later where people keep off the roof.
func TestNextPlaces(t *testing.T) {
	for _, c := range []struct {
		off        bool
		spot, core string
	}{
		{false, "Shoot a spot here, for ", "Cut a core here, for "},
		{true, "Spot to shoot once the engineer lets people on, for ", "Core to cut once the engineer lets people on, for "},
	} {
		s := sample.Study(sample.Local())
		if c.off {
			s.KeepOff.Reasons = append(s.KeepOff.Reasons, inspection.Reason{})
		}
		b := record.NewBook(s, "", record.SI)
		b.NextSpots = []record.NextSpot{{Plan: orb.Point{2, 4}, For: "pond P01"}, {Plan: orb.Point{18, 6}, For: "the roof"}}
		b.NextCores = []record.NextCore{{Plan: orb.Point{18, 6}, For: "plane L01"}}
		want := map[string]string{"SR1.M01": c.spot + "pond P01", "SR1.M02": c.spot + "the roof", "SR1.B01": c.core + "plane L01"}
		got := map[string]string{}
		for _, f := range read(t, b, "next-spot", "next-core") {
			got[f.id] = f.facts["title"].(string)
			x, y, z := f.place(0)
			if !(math.Abs(z-elevation(x-1000, y-2000)) <= 1e-4) || f.shape.Kind != layer.Point {
				t.Errorf("%s lies at %v, %v, %v", f.id, x, y, z)
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

// By hand: 1.5 mm and 100 mm of the sample's core are 101.5 mm, 4 inches to the eighth.
func TestCoresByThickness(t *testing.T) {
	for _, f := range read(t, books()["feet"], "core") {
		facts(t, &f, map[string]any{"title": `Core C1, 4" thick`})
	}
	s := sample.Study(sample.Local())
	s.Assembly.Cores[0].HasThickness = false
	for _, f := range read(t, record.NewBook(s, "", record.SI), "core") {
		facts(t, &f, map[string]any{"title": "Core C1"})
	}
}

// Area without a way out is said to drain nowhere, under the name of the roof; area of which it is not known where it drains is said beside the rest.
func TestCatchmentsWithoutAnOutlet(t *testing.T) {
	s := sample.Study(sample.Local())
	s.Catchments.Dry[0].Outlet, s.Catchments.Dry[0].Pond, s.Catchments.Dry[0].Area = -1, -1, 12.34
	s.Catchments.Full[0].Indeterminate = 2.5
	for _, f := range read(t, record.NewBook(s, "", record.SI), "catchment") {
		if f.facts["outlet"] == nil {
			facts(t, &f, map[string]any{"id": "SR1.dry", "title": "Drains nowhere, 12.3 m²"})
		}
		if i := f.number("indeterminate_m2"); !math.IsNaN(i) && i != 2.5 {
			t.Errorf("%s: %v m2 are not known to drain there", f.id, i)
		}
	}
}
