package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/contour"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
)

// sampleBook is the sample, 20 by 12 m.
func sampleBook(u record.Units) *record.Book {
	return record.NewBook(sample.Study(sample.Local()), "", u)
}

// a3 is the sheet of ISO 216.
var a3 = sheet.Size{Name: "a3", W: 420, H: 297}

// canvas is an empty sheet A3 of the sample at 1:100, in metres.
func canvas(t *testing.T) *Canvas {
	t.Helper()
	c, err := NewCanvas(sampleBook(record.SI), Options{Scale: 100, Sheet: a3}, "test", "own")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// textsOf returns the texts of a layer.
func textsOf(l *scene.Layer) (all []string) {
	for i := range l.Texts {
		all = append(all, l.Texts[i].String)
	}
	return all
}

// A scale bar is as long as it says: at 1:n a metre is 1000/n mm long, a foot 304.8/n. Four parts of equal length, dark first; its lengths stand over their ends.
func TestScaleBarIsAsLongAsItSays(t *testing.T) {
	drawn := 0
	for u, unit := range map[record.Units]struct {
		mm   float64
		name string
	}{record.SI: {1000, "m"}, record.US: {304.8, "ft"}} {
		for _, s := range sheet.Usual(u) {
			c, err := NewCanvas(sampleBook(u), Options{Scale: s, Sheet: a3}, "test")
			if err != nil {
				continue // it does not fit at that scale
			}
			drawn++
			var boxes []scene.Shape
			for _, sh := range c.Layer("frame").Shapes {
				if sh.Closed && sh.Width == 0.2 && len(sh.Paths[0]) == 4 {
					boxes = append(boxes, sh)
				}
			}
			if len(boxes) != 4 {
				t.Fatalf("1:%v: %d parts", s, len(boxes))
			}
			begin := boxes[0].Paths[0][0]
			said := 0
			for _, text := range c.Layer("frame").Texts {
				words := strings.Fields(text.String)
				n, err := strconv.ParseFloat(words[0], 64)
				if err != nil || text.Turned || !(math.Abs(text.At.Y-(begin.Y-0.9)) <= 0.011) {
					continue
				}
				said++
				if want := begin.X + n*unit.mm/float64(s); !(math.Abs(text.At.X-want) <= 0.011) || len(words) == 2 && words[1] != unit.name {
					t.Errorf("1:%v: %q stands at %v, want %v", s, text.String, text.At.X, want)
				}
				if len(words) == 2 {
					if end := boxes[3].Paths[0][1].X; !(math.Abs(end-text.At.X) <= 0.011) || end-begin.X > 80.02 || end-begin.X < 30 {
						t.Errorf("1:%v: the bar reaches from %v to %v, %q stands at %v", s, begin.X, end, text.String, text.At.X)
					}
				}
			}
			for i, box := range boxes {
				if want := []string{palette.Ink, "#FFFFFF"}[i%2]; box.Fill != want || i > 0 && box.Paths[0][0] != boxes[i-1].Paths[0][1] {
					t.Errorf("1:%v: part %d: %+v", s, i, box)
				}
			}
			if said < 2 {
				t.Errorf("1:%v: %d lengths stand over the bar", s, said)
			}
		}
	}
	if drawn < 8 {
		t.Errorf("only %d scales were drawn", drawn)
	}
}

// However the roof lies, its longest side is drawn level and the north arrow turns with it; within half a degree of the axes it stays north up. Lengths keep their scale, and nothing is mirrored.
func TestNorthTurnsWithTheRoof(t *testing.T) {
	for degrees := 0.0; degrees < 360; degrees += 7.25 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		r := &roof.Roof{}
		var ring []roof.Position
		for _, p := range []orb.Point{{0, 0}, {30, 0}, {30, 10}, {0, 10}, {0, 0}} {
			ring = append(ring, roof.Position{Plan: orb.Point{500 + p[0]*cos - p[1]*sin, 700 + p[0]*sin + p[1]*cos}})
		}
		r.Outline.Rings = [][]roof.Position{ring}
		v := newView(r)
		v.fit(scene.Rect{X: 10, Y: 20, W: 300, H: 200})
		a, b, d := v.point(ring[0].Plan), v.point(ring[1].Plan), v.point(ring[3].Plan)
		long, short := scene.Distance(a, b), scene.Distance(a, d)
		if !(math.Abs(long/short-3) <= 0.002) {
			t.Errorf("%v degrees: 30 by 10 m are %v by %v mm", degrees, long, short)
		}
		upright := math.Mod(degrees, 90) == 0
		if !upright && !(math.Abs(a.Y-b.Y) <= 0.011) {
			t.Errorf("%v degrees: the long side runs from %v to %v", degrees, a, b)
		}
		if turn := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X); turn >= 0 { // y runs down
			t.Errorf("%v degrees: the roof is mirrored", degrees)
		}
		centre := orb.Point{(ring[0].Plan[0] + ring[2].Plan[0]) / 2, (ring[0].Plan[1] + ring[2].Plan[1]) / 2}
		from, to := v.point(centre), v.point(orb.Point{centre[0], centre[1] + 5})
		n := v.way(0, 1)
		if !(math.Hypot(from.X+5*v.k*n.X-to.X, from.Y+5*v.k*n.Y-to.Y) <= 0.02) || !(math.Abs(math.Hypot(n.X, n.Y)-1) <= 1e-9) {
			t.Errorf("%v degrees: north is drawn as %v, a place 5 m north of %v lies at %v", degrees, n, from, to)
		}
		if !(math.Hypot(from.X-160, from.Y-120) <= 0.02) {
			t.Errorf("%v degrees: the middle lies at %v of its room's 160, 120", degrees, from)
		}
		wide, high := math.Abs(b.X-a.X)+math.Abs(d.X-a.X), math.Abs(b.Y-a.Y)+math.Abs(d.Y-a.Y)
		if !(math.Abs(max(wide/300, high/200)-1) <= 0.001) {
			t.Errorf("%v degrees: %v by %v mm do not fill 300 by 200", degrees, wide, high)
		}
		p := &plan{v: v, scene: &scene.Scene{}}
		c := scene.Point{X: 50, Y: 50}
		p.north(c)
		tip := p.layer("frame").Shapes[1].Paths[0][0]
		if !(math.Hypot(tip.X-c.X-4.6*n.X, tip.Y-c.Y-4.6*n.Y) <= 0.011) {
			t.Errorf("%v degrees: the arrow points to %v", degrees, tip)
		}
	}
	for degrees, level := range map[float64]bool{0.49: false, 0.51: true, 89.6: false, -0.49: false, -0.51: true} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		r := &roof.Roof{}
		r.Outline.Rings = [][]roof.Position{{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{30 * cos, 30 * sin}}, {Plan: orb.Point{30*cos - 10*sin, 30*sin + 10*cos}}, {Plan: orb.Point{-10 * sin, 10 * cos}}, {Plan: orb.Point{0, 0}}}}
		if v := newView(r); (v.sin != 0) != level {
			t.Errorf("%v degrees: turned by %v", degrees, v.sin)
		}
	}
}

// A sheet of 420 by 297 mm (ISO 216, A3) with margins of 8 mm has the panel of 80 mm beside the plan where it lies, below it, 97 mm high, where it stands; 4 mm between both.
func TestSheetDivided(t *testing.T) {
	p := &plan{o: Options{Sheet: a3}}
	for standing, want := range map[bool]string{
		false: "{420 297 {8 8 320 281} {332 8 80 281} false}", true: "{297 420 {8 8 281 303} {8 315 281 97} true}",
	} {
		if got := fmt.Sprint(p.divide(standing)); got != want {
			t.Errorf("standing %v: %s, want %s", standing, got, want)
		}
	}
	d := p.divide(false)
	if got := d.roof(); got != (scene.Rect{X: 21, Y: 16, W: 294, H: 247}) { // 13 mm beside, 8 above, 13 and a strip of 13 below
		t.Errorf("the roof may lie in %v", got)
	}
	p.v = &view{w: 29.4, h: 24.7}
	if !p.fits(d, 100) || p.fits(d, 99) {
		t.Error("29.4 by 24.7 m fill 294 by 247 mm at 1:100")
	}
	if p.v.w = 29.41; p.fits(d, 100) {
		t.Error("29.41 m fit 294 mm at 1:100")
	}
	p.v = &view{w: 1e7, h: 10} // beyond all usual scales: by hand 1e7 m at 1:1e8 are 100 mm, at 1:1e7 1000
	if got := p.largest(d); got != 1e8 {
		t.Errorf("a roof of 10,000 km is drawn at 1:%v", float64(got))
	}
}

// A place in view lies on the plan's own part of the sheet, above the strip of the scale bar; what layers hold beyond is cut off there.
func TestViewOfACanvas(t *testing.T) {
	c := canvas(t)
	f := c.p.field
	v := c.p.v
	at := func(x, y float64) orb.Point {
		return orb.Point{v.centre[0] + (x-v.at.X)/v.k, v.centre[1] - (y-v.at.Y)/v.k}
	}
	inside := scene.Rect{X: f.X, Y: f.Y, W: f.W, H: f.H - northH}
	middle := scene.Point{X: inside.X + inside.W/2, Y: inside.Y + inside.H/2}
	for _, k := range []struct {
		x, y float64
		want bool
	}{
		{middle.X, middle.Y, true},
		{inside.X + 0.1, middle.Y, true},
		{inside.X - 0.1, middle.Y, false},
		{inside.X + inside.W - 0.1, middle.Y, true},
		{inside.X + inside.W + 0.1, middle.Y, false},
		{middle.X, inside.Y + 0.1, true},
		{middle.X, inside.Y - 0.1, false},
		{middle.X, inside.Y + inside.H - 0.1, true},
		{middle.X, inside.Y + inside.H + 0.1, false},
	} {
		if got := c.InView(at(k.x, k.y)); got != k.want {
			t.Errorf("%v, %v in view: %v", k.x, k.y, got)
		}
	}
	if got := c.Size(2.5); got != 25 {
		t.Errorf("2.5 m at 1:100 are %v mm", got)
	}
	line := c.Line([]orb.Point{at(middle.X, middle.Y), at(middle.X+1000, middle.Y)})
	c.Layer("own").Line(palette.Ink, 1, nil, line...)
	c.Clip("own")
	if got := c.Layer("own").Shapes[0].Paths[0]; !(math.Abs(got[len(got)-1].X-(inside.X+inside.W)) <= 0.011) {
		t.Errorf("cut off at %v, the plan ends at %v", got, inside.X+inside.W)
	}
	names := make([]string, 0, 12)
	for _, l := range c.Scene().Layers {
		names = append(names, l.Name)
	}
	if got := strings.Join(names, " "); !strings.HasPrefix(got, "own curbs edges lines leaders symbols labels frame key texts") {
		t.Errorf("layers %s", got)
	}
}

// Short texts find room near their places: with a dot, none over another; a place under a label gets none. A text that is wider than its area is not put over it.
func TestShortTextsOnACanvas(t *testing.T) {
	c := canvas(t)
	put := 0
	for range 40 {
		if c.Near(orb.Point{10, 3}, "12 mm") {
			put++
		}
	}
	if put < 2 || put == 40 {
		t.Errorf("%d of 40 texts found room at one place", put)
	}
	labels := c.Layer("labels").Texts
	if n := strings.Count(strings.Join(textsOf(c.Layer("labels")), "|"), "12 mm"); n != put {
		t.Errorf("%d texts stand, %d found room", n, put)
	}
	for i := range labels {
		for k := range i {
			if labels[i].Bounds().Inset(0.1).Overlaps(labels[k].Bounds().Inset(0.1)) {
				t.Errorf("%q covers %q", labels[i].String, labels[k].String)
			}
		}
	}
	over := labels[len(labels)-1]
	b := over.Bounds()
	under := orb.Point{c.p.v.centre[0] + (b.X+b.W/2-c.p.v.at.X)/c.p.v.k, c.p.v.centre[1] - (b.Y+b.H/2-c.p.v.at.Y)/c.p.v.k}
	if c.Near(under, "x") {
		t.Error("a place under a label gets one of its own")
	}
	if !c.Within([]orb.Point{{17, 9}}, "13 mm") || c.Within([]orb.Point{{17, 9}}, "14 mm") {
		t.Error("one text has room over a place, a second one has none")
	}
	if !c.Within([]orb.Point{{17, 9}, {15, 3}}, "15 mm") {
		t.Error("the second place is free")
	}
}

// An arrow points down the slope: against the gradient, 9 mm long, with the rate under it; a level area has the text alone.
func TestArrowsPointDownhill(t *testing.T) {
	area := orb.MultiPolygon{{{{0, 0}, {20, 0}, {20, 12}, {0, 12}, {0, 0}}}}
	for _, up := range []orb.Point{{0.02, 0}, {-0.02, 0}, {0, 0.02}, {0, -0.02}, {0.01, 0.02}} {
		c := canvas(t)
		before := len(c.Layer("symbols").Shapes)
		if !c.Arrow(area, up, "2.00 %") {
			t.Errorf("%v: no room on a bare roof", up)
			continue
		}
		shapes := c.Layer("symbols").Shapes[before:]
		tail, tip := shapes[0].Paths[0][0], shapes[1].Paths[0][0]
		n := math.Hypot(up[0], up[1])
		for _, q := range shapes[1].Paths[0] { // the tip lies farthest from the tail
			if scene.Distance(tail, q) > scene.Distance(tail, tip) {
				tip = q
			}
		}
		if want := (scene.Point{X: -up[0] / n, Y: up[1] / n}); !(math.Hypot(tip.X-tail.X-9*want.X, tip.Y-tail.Y-9*want.Y) <= 0.05) {
			t.Errorf("uphill %v: from %v to %v", up, tail, tip)
		}
		if got := textsOf(c.Layer("labels")); len(got) != 1 || got[0] != "2.00 %" {
			t.Errorf("uphill %v: %q", up, got)
		}
		if rate := c.Layer("labels").Texts[0].Bounds(); !(math.Abs(rate.X+rate.W/2-(tail.X+tip.X)/2) <= 0.02) || rate.Y < max(tail.Y, tip.Y) {
			t.Errorf("uphill %v: the rate %v does not stand below the middle of %v to %v", up, rate, tail, tip)
		}
	}
	c := canvas(t)
	before := len(c.Layer("symbols").Shapes)
	if !c.Arrow(area, orb.Point{}, "level") || len(c.Layer("symbols").Shapes) != before || len(textsOf(c.Layer("labels"))) != 1 {
		t.Errorf("on a level area %d shapes", len(c.Layer("symbols").Shapes)-before)
	}
	if c.Arrow(orb.MultiPolygon{{{{0, 0}, {0.1, 0}, {0.1, 0.1}, {0, 0}}}}, orb.Point{1, 0}, "x") && c.Arrow(orb.MultiPolygon{}, orb.Point{1, 0}, "x") {
		t.Error("an arrow on no area")
	}
}

// Where a finding is tagged: a point at itself, a line half way along it, an area inside itself, as far from its border as anything; nothing without a place. By hand, half of a path of 4 + 6 m is 5 m along.
func TestPlaceOfAFinding(t *testing.T) {
	c := canvas(t)
	v := c.p.v
	square := orb.Polygon{{{2, 2}, {8, 2}, {8, 8}, {2, 8}, {2, 2}}}
	ringed := orb.Polygon{{{2, 2}, {8, 2}, {8, 8}, {2, 8}, {2, 2}}, {{3, 3}, {3, 7}, {7, 7}, {7, 3}, {3, 3}}}
	for name, k := range map[string]struct {
		g    orb.Geometry
		want orb.Point
		off  float64
	}{
		"point": {orb.Point{3, 4}, orb.Point{3, 4}, 0.011},
		"line":  {orb.LineString{{1, 1}, {5, 1}, {5, 7}}, orb.Point{5, 2}, 0.02},
		"area":  {square, orb.Point{5, 5}, 0.02},
		"areas": {orb.MultiPolygon{square}, orb.Point{5, 5}, 0.02},
	} {
		if got, ok := c.p.placeOf(k.g); !ok || !(scene.Distance(got, v.point(k.want)) <= k.off) {
			t.Errorf("%s: %v, %v; want %v", name, got, ok, v.point(k.want))
		}
	}
	if at, ok := c.p.placeOf(ringed); !ok || !inside(v.rings(orb.MultiPolygon{ringed}), at) {
		t.Errorf("a ring is tagged at %v, in its hole", at)
	}
	thin := orb.Polygon{{{1, 1}, {9, 1.0001}, {1, 1.0002}, {1, 1}}}
	if at, ok := c.p.placeOf(thin); !ok || scene.Distance(at, v.point(orb.Point{1, 1})) > 81 {
		t.Errorf("a sliver: %v, %v", at, ok)
	}
	for name, g := range map[string]orb.Geometry{"none": nil, "an empty area": orb.Polygon{}, "a line of one place": orb.LineString{{1, 1}}} {
		if at, ok := c.p.placeOf(g); ok {
			t.Errorf("%s lies at %v", name, at)
		}
	}
	if got := clearance([][]scene.Point{{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}}, scene.Point{X: 3, Y: 8}); got != 2 {
		t.Errorf("3, 8 of a square of 10 is %v off its border", got)
	}
	if got := clearance([][]scene.Point{{{X: 0, Y: 0}, {X: 0, Y: 0}, {X: 0.5, Y: 0}}}, scene.Point{X: 0.25, Y: 3}); got != 3 {
		t.Errorf("above a stretch of half a millimetre: %v", got)
	}
}

// The panel says whose sheet it is and what it shows; sections that have no room say how many texts go on elsewhere, and a roof to keep off says that below the sentence.
func TestPanelOfACanvas(t *testing.T) {
	for _, n := range []int{0, 3, 400} {
		b := sampleBook(record.SI)
		b.Study.KeepOff.Reasons = []inspection.Reason{{}}
		c, err := NewCanvas(b, Options{Scale: 100, Sheet: a3}, "test")
		if err != nil {
			t.Fatal(err)
		}
		c.Key("own sign", func(l *scene.Layer, r scene.Rect) { l.Box(r, "#123456", "", 0) })
		var texts []string
		for i := range n {
			texts = append(texts, fmt.Sprint("text ", i))
		}
		c.Panel("Hall <A>", "One sentence.", "layout, 2 of 4", []Section{{"Numbers", texts}})
		// Of a line 1.28 sizes high the base line is 0.25 sizes above its foot; between title, sentence and first step are 0.6 mm.
		if of := c.Layer("texts").Texts; n == 0 {
			for i := range 2 {
				if step := of[i+1].At.Y - of[i].At.Y; !(math.Abs(step-0.25*of[i].Size-0.6-1.03*of[i+1].Size) <= 0.011) {
					t.Errorf("%q stands %v mm below %q", of[i+1].String, step, of[i].String)
				}
			}
		}
		got := textsOf(c.Layer("texts"))
		all := strings.Join(got, "|")
		for _, want := range []string{"Hall <A>", "One sentence.", "Keep off, and call a structural engineer today", "layout, 2 of 4", "1:100 on ", Limit[:30], caution.Design[:30], "240", "Drawing"} {
			if want == "240" {
				want = record.SI.SayArea(b.Study.Surface.Area)
			}
			if !strings.Contains(all, want) {
				t.Errorf("%d texts: the panel does not say %q: %s", n, want, all)
			}
		}
		if !slices.Contains(textsOf(c.Layer("key")), "own sign") {
			t.Error("the key has no row of its own")
		}
		set := strings.Count(all, "text ")
		var more int
		if at := slices.IndexFunc(got, func(s string) bool {
			return strings.HasPrefix(s, "and ") && strings.HasSuffix(s, "on the sheets that follow")
		}); at >= 0 {
			if _, err := fmt.Sscanf(got[at], "and %d more", &more); err != nil {
				t.Fatal(err)
			}
		}
		if set+more != n || (more > 0) != (n == 400) {
			t.Errorf("%d texts: %d stand, %d more are said to follow", n, set, more)
		}
		for _, text := range c.Layer("texts").Texts {
			if bounds := text.Bounds(); !bounds.Within(c.p.panel.Inset(-0.5)) {
				t.Errorf("%d texts: %q leaves the panel", n, text.String)
			}
		}
		for i, a := range c.Layer("texts").Texts {
			for k := range i {
				if a.Bounds().Inset(0.15).Overlaps(c.Layer("texts").Texts[k].Bounds().Inset(0.15)) {
					t.Errorf("%d texts: %q covers %q", n, a.String, c.Layer("texts").Texts[k].String)
				}
			}
		}
	}
	// Labels that found no room come first, by the numbers that stand in their places.
	c := canvas(t)
	c.p.left = []string{"P01  deep", "RD-1"}
	c.Panel("a", "b", "c", []Section{{"Numbers", []string{"text"}}})
	if all := strings.Join(textsOf(c.Layer("texts")), "|"); !strings.Contains(all, listTitle+"|L1 P01 deep|L2 RD-1|Numbers|text") {
		t.Error(all)
	}
	c = canvas(t)
	c.AsFound()
	c.Panel("a", "b", "c", nil)
	if strings.Contains(strings.Join(textsOf(c.Layer("texts")), " "), caution.Design[:30]) {
		t.Error("a sheet of what stands says that it is a design")
	}
}

// What found no room is counted in words.
func TestLeftOutInWords(t *testing.T) {
	for want, p := range map[string]*plan{
		"":                                     {},
		"Left out for want of room: 1 label.":  {missing: 1},
		"Left out for want of room: 2 labels.": {missing: 2},
		"Left out for want of room: the elevations of 3 of 10 spots.":                           {marked: spotCount{all: 10, marks: 10, elevations: 7}},
		"Left out for want of room: 1 label, the elevations of 10 of 10 spots, the marks of 4.": {missing: 1, marked: spotCount{all: 10, marks: 6}},
	} {
		if got := p.leftOut(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A thumb-nail shows its finding in the colour of its severity over ink: a ring about what is smaller than 4 mm, the outline of what is larger, its area tinted below what lies on the roof; one without a place shows the roof alone.
func TestThumbOfAFinding(t *testing.T) {
	b := sampleBook(record.SI)
	square := func(side float64) orb.Polygon {
		return orb.Polygon{{{5, 5}, {5 + side, 5}, {5 + side, 5 + side}, {5, 5 + side}, {5, 5}}}
	}
	b.Study.Findings = []finding.Finding{
		{Kind: "a", Severity: finding.Urgent, Geometry: orb.Point{5, 5}},
		{Kind: "b", Severity: finding.Repair, Geometry: square(5)},
		{Kind: "c", Severity: finding.Note, Geometry: orb.MultiPolygon{square(0.5)}},
		{Kind: "d", Severity: finding.Note, Geometry: orb.LineString{{1, 1}, {15, 1}}},
		{Kind: "e", Severity: finding.Note},
	}
	thumbs := NewThumbs(b, 62, 100) // 60 mm for 20 m: 3 mm a metre
	if thumbs.Width != 62 || thumbs.Height != 38 {
		t.Fatalf("%v by %v mm", thumbs.Width, thumbs.Height)
	}
	bare := len(thumbs.under) + len(thumbs.above)
	for i, want := range []struct {
		shapes int
		box    scene.Rect
		closed bool
	}{
		{2, scene.Rect{X: 13.8, Y: 19.8, W: 4.4, H: 4.4}, true}, // 1 + 3 x 5, and 1 + 3 x (12 - 5), with a ring of 2.2 mm
		{3, scene.Rect{X: 16, Y: 7, W: 15, H: 15}, true},
		{3, scene.Rect{X: 14.55, Y: 19.05, W: 4.4, H: 4.4}, true},
		{2, scene.Rect{X: 4, Y: 34, W: 42, H: 0}, false},
		{0, scene.Rect{}, false},
	} {
		s := thumbs.Of(i)
		shapes := s.Layers[0].Shapes
		if len(shapes) != bare+want.shapes || s.Title != string(b.Study.Findings[i].Kind) || s.Width != 62 {
			t.Errorf("finding %d: %d shapes of its own, title %q", i, len(shapes)-bare, s.Title)
			continue
		}
		if want.shapes == 0 {
			continue
		}
		ink, own := shapes[len(shapes)-2], shapes[len(shapes)-1]
		colour := palette.OfSeverity(b.Study.Findings[i].Severity)
		if ink.Stroke != palette.Ink || ink.Width != 1.1 || own.Stroke != colour || own.Width != 0.6 || own.Closed != want.closed {
			t.Errorf("finding %d: %+v over %+v", i, own, ink)
		}
		e := extent(own.Paths[0])
		if !(math.Abs(e.X-want.box.X)+math.Abs(e.Y-want.box.Y)+math.Abs(e.W-want.box.W)+math.Abs(e.H-want.box.H) <= 0.25) {
			t.Errorf("finding %d lies in %v, want %v", i, e, want.box)
		}
		if want.shapes == 3 && (shapes[1].Fill != palette.Tint(colour, 0.45) || shapes[1].Stroke != "") {
			t.Errorf("finding %d: its area is drawn as %+v", i, shapes[1])
		}
	}
}

// A picture that stands alone has its key below it, within the height that it may take; nothing in it covers another thing's words.
func TestKeyedPictures(t *testing.T) {
	for _, h := range []float64{90, 140} {
		b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
		s := Keyed(b, 170, h)
		if s.Height > h+0.01 || s.Width > 170.01 {
			t.Errorf("%v by %v mm of 170 by %v", s.Width, s.Height, h)
		}
		key := s.Layer("key").Texts
		if len(key) < 4 {
			t.Fatalf("%d rows in the key", len(key))
		}
		for i, text := range key {
			if text.At.Y > s.Height || text.At.X+text.Width > s.Width+0.01 {
				t.Errorf("%q at %v leaves the picture", text.String, text.At)
			}
			for k := range i {
				if text.Bounds().Overlaps(key[k].Bounds()) {
					t.Errorf("%q covers %q", text.String, key[k].String)
				}
			}
		}
	}
	// Labels that found no room stand below the key, line by line, all in the picture.
	q := newPicture(sampleBook(record.SI), 120, 80, roomSide, roomTop)
	high := q.scene.Height
	q.left = []string{strings.Repeat("one ", 20), strings.Repeat("two ", 20), "three"}
	q.keyBelow(120)
	y, last := high, 0
	for _, text := range q.scene.Layer("key").Texts {
		if !strings.HasPrefix(text.String, "L") {
			y = max(y, text.At.Y)
			continue
		}
		if text.At.X != 0 || !(text.Bounds().Y >= y-0.01) || text.At.Y > q.scene.Height {
			t.Errorf("%q at %v, below %v, on %v mm", text.String, text.At, y, q.scene.Height)
		}
		y, last = text.At.Y, last+1
	}
	if all := strings.Join(textsOf(q.scene.Layer("key")), "|"); last < 2 || !strings.Contains(all, "L2  two") || !strings.Contains(all, "L3  three") {
		t.Errorf("%d lines of labels: %s", last, all)
	}
	p := &plan{left: []string{"P01  20 mm deep, 8.0 m²", "RD-1  drain", strings.Repeat("name ", 60)}}
	lines := p.listLines(100)
	if len(lines) != 2 || lines[0] != "L1  P01  20 mm deep, 8.0 m²;  L2  RD-1  drain" || !strings.HasPrefix(lines[1], "L3  name name") || !strings.HasSuffix(lines[1], "…") {
		t.Errorf("labels without room: %q", lines)
	}
	if got := p.listLines(20); len(got) != 3 {
		t.Errorf("in 20 mm: %q", got)
	}
}

// The greatest water's mark is a triangle that points down, 2.2 mm wide and high.
func TestDeepestSymbol(t *testing.T) {
	l := &scene.Layer{}
	deepSymbol(l, scene.Point{X: 10, Y: 20})
	if got := fmt.Sprintf("%.1f", l.Shapes[0].Paths[0]); got != "[{8.9 18.9} {11.1 18.9} {10.0 21.1}]" || l.Shapes[0].Fill != palette.Water || !l.Shapes[0].Closed {
		t.Errorf("%s, %+v", got, l.Shapes[0])
	}
}

// On a small screen a storm's water is the darker the deeper it stands, light enough everywhere to read through, and its depth stands at one outlet.
func TestBriefPictureOfAStorm(t *testing.T) {
	b := record.NewBook(sample.Storm(sample.Local()), "", record.SI)
	s := Brief(b, 120, 90)
	before, shades := 1.0, 0
	shapes := s.Layer("ponds").Shapes // the ponds as found, and over them the storm's water
	for _, shape := range shapes[len(newPicture(b, 120, 90, 4, 4).layer("ponds").Shapes):] {
		var red, green, blue int
		if _, err := fmt.Sscanf(shape.Fill, "#%02x%02x%02x", &red, &green, &blue); err != nil {
			t.Fatal(err)
		}
		light := float64(red+green+blue) / (3 * 255)
		if !(light < before && light > 0.3) {
			t.Errorf("%s after a lightness of %.2f", shape.Fill, before)
		}
		before, shades = light, shades+1
	}
	if shades < 2 {
		t.Errorf("%d shades of water", shades)
	}
	w, told := b.DesignWater(), 0
	for _, l := range s.Layers {
		for i := range l.Texts {
			if strings.Contains(l.Texts[i].String, b.Units.SayDepth(w.Depth)) {
				told++
			}
		}
	}
	if told != 1 {
		t.Errorf("the depth of the water stands %d times", told)
	}
	p := &plan{textEm: 3}
	if got := p.shorten([]string{"one", "two", "three"}, 2, 100); fmt.Sprint(got) != "[one two …]" {
		t.Errorf("%q", got)
	}
}

// Of more than 40 levels each second, fifth and so on is drawn, so that 40 are drawn at most: levels are counted, not their lines, and one at nought is one.
func TestHowManyLevelsAreDrawn(t *testing.T) {
	for levels, want := range map[int]int{1: 1, 40: 1, 41: 2, 80: 2, 81: 5, 200: 5, 201: 10, 400: 10, 401: 20, 801: 50, 2001: 100} {
		p := &plan{s: &study.Study{}}
		for i := range 3 * levels { // three lines each
			p.s.Contours = append(p.s.Contours, contour.Line{Elevation: 0.01 * float64(i/3)})
		}
		if got := p.thinning(); got != want {
			t.Errorf("%d levels: each %dth is drawn, want each %dth", levels, got, want)
		}
	}
}

// The mark of a place to shoot next is a diamond about it, as high as it is wide.
func TestMarkOfANextSpot(t *testing.T) {
	l := &scene.Layer{}
	nextSpotSymbol(l, scene.Point{X: 50, Y: 20})
	ring := l.Shapes[0].Paths[0]
	if len(ring) != 4 {
		t.Fatalf("%v", ring)
	}
	for i, p := range ring {
		across := ring[(i+2)%4]
		if !(math.Abs(p.X+across.X-100) <= 1e-9) || !(math.Abs(p.Y+across.Y-40) <= 1e-9) || !(math.Abs(scene.Distance(p, across)-scene.Distance(ring[0], ring[2])) <= 1e-9) || scene.Distance(p, across) < 1 {
			t.Errorf("%v is no diamond about (50, 20)", ring)
		}
	}
}
