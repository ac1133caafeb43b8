package layer_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/sample"
)

// feature is one feature as a reader has it: its places in the unit of the file, its facts as JSON tells them.
type feature struct {
	layer, id string
	shape     layer.Shape
	facts     map[string]any
	style     layer.Style
	grid      *layer.Grid
}

// place is a position in the unit of the file.
func (f *feature) place(i int) (x, y, z float64) {
	p := f.shape.Positions[i]
	return f.grid.Number(p.X), f.grid.Number(p.Y), f.grid.Number(p.Z)
}

// number returns a fact that is a number, NaN where there is none.
func (f *feature) number(name string) float64 {
	if n, ok := f.facts[name].(float64); ok {
		return n
	}
	return math.NaN()
}

// read returns the features of a map.
func read(t *testing.T, b *record.Book, names ...string) []feature {
	t.Helper()
	var out []feature
	layer.Each(b, func(f *layer.Feature) { out = append(out, taken(t, f, layer.GridOf(b))) }, names...)
	return out
}

// taken keeps a feature, which holds only until the next one comes.
func taken(t *testing.T, f *layer.Feature, grid *layer.Grid) feature {
	t.Helper()
	s := layer.Shape{Kind: f.Shape.Kind, Positions: slices.Clone(f.Shape.Positions), Rings: slices.Clone(f.Shape.Rings), Polygons: slices.Clone(f.Shape.Polygons)}
	out := feature{layer: f.Layer, id: f.ID, shape: s, style: f.Style, grid: grid}
	if err := json.Unmarshal(f.Facts.Append(nil), &out.facts); err != nil {
		t.Fatalf("%s: %v", f.ID, err)
	}
	return out
}

// books are the sample in the frames that a file may have, each in its own units.
func books() map[string]*record.Book {
	return map[string]*record.Book{
		"metres": record.NewBook(sample.Study(sample.Local()), "", record.SI), "feet": record.NewBook(sample.Study(sample.Feet()), "", record.US),
		"lon/lat": record.NewBook(sample.Study(sample.Geographic()), "", record.SI),
	}
}

// facts holds a feature to facts that are known: texts, truths and numbers to a millionth. Nothing stands for a fact that must not be there.
func facts(t *testing.T, f *feature, want map[string]any) {
	t.Helper()
	for name, w := range want {
		got := f.facts[name]
		if n, ok := w.(float64); ok {
			if g, ok := got.(float64); !ok || !(math.Abs(g-n) <= 1e-6) {
				t.Errorf("%s: %s is %v, want %v", f.id, name, got, n)
			}
		} else if got != w {
			t.Errorf("%s: %s is %v, want %v", f.id, name, got, w)
		}
	}
}

// Each measured thing goes out with what was measured of it, in the unit of its file: the numbers of the sample, in feet divided by 0.3048.
func TestMeasuredThingsSayWhatWasMeasured(t *testing.T) {
	const foot = 0.3048
	want := map[string]map[string]any{
		"SR1":              {"role": "outline", "title": "Roof Sample roof 1, 238 m²", "name": "Sample roof 1", "building": "Sample house", "surveyed": "2026-05-02", "edge": "wall", "area_m2": 238.0, "edge_assumed": nil, "outlets": nil, "elevations": nil, "crew": "north"},
		"SR1.curb.K1":      {"role": "curb", "title": "Curb unit 1", "label": "unit 1", "height": 0.3},
		"SR1.edge.E1":      {"role": "edge", "type": "gutter", "label": "east gutter", "duty": "primary", "height": nil},
		"SR1.breakline.B1": {"role": "breakline", "type": "valley", "elevations": nil},
		"SR1.breakline.B2": {"role": "breakline", "type": "ridge"},
		"SR1.spot.1":       {"role": "spot", "title": "Spot 1, 100.150 m", "sigma": 0.002, "elevation_m": 100.15, "elevation": nil, "assumed": nil},
		"SR1.core.C1":      {"role": "core", "deck": "steel", "cutter": "hand", "reached": "rib", "elevation_m": 100.075},
		"SR1.stain.ST1":    {"role": "stain", "title": "Standing water as seen: seen in spring", "depth": 0.02, "hours_since_rain": 50.0, "note": "seen in spring", "outlets_clear": nil},
		"SR1.sill.L1":      {"role": "sill", "title": "Sill, door-sill DS-1", "kind": "door-sill", "label": "DS-1", "elevation_m": 100.3, "door": "east"},
		"SR1.control.CP1":  {"role": "control", "lon": -12.5, "lat": 41.25},
		"SR1.RD-1":         {"role": "outlet", "type": "drain", "duty": "primary", "invert": 100.02, "diameter": 0.1, "bowl": 0.3048, "leader": 0.1016, "pipe": 0.1524, "pipe_slope": "1 %", "width": nil, "crest": nil, "maker": nil, "note": "dome missing"},
		"SR1.OS-1":         {"role": "outlet", "type": "scupper", "duty": "overflow", "invert": 100.17, "width": 0.2032, "opening_height": 0.1, "crest": "floor-flush", "crest_breadth": 0.3, "conductor_head": 0.3, "leader": "0.0762 x 0.1016", "discharges_to": "Low roof", "bowl": nil},
	}
	found := map[string]*feature{}
	all := read(t, books()["metres"], layer.All()...)
	for i := range all {
		found[all[i].id] = &all[i]
	}
	for id, w := range want {
		if found[id] == nil {
			t.Errorf("no feature %s", id)
			continue
		}
		facts(t, found[id], w)
	}
	all = read(t, books()["feet"], layer.All()...)
	for i := range all {
		f := &all[i]
		switch f.id {
		case "SR1.OS-1":
			facts(t, f, map[string]any{"leader": "0.25 x 0.333333", "width": 0.2032 / foot, "invert": 100.17 / foot})
		case "SR1.RD-1":
			facts(t, f, map[string]any{"bowl": 1.0, "leader": 1.0 / 3, "pipe": 0.5})
		case "SR1.spot.1":
			facts(t, f, map[string]any{"sigma": 0.002 / foot, "elevation_ft": 100.15 / foot})
		}
	}
	// Coordinates in longitude and latitude carry no elevation, so it stands beside them. By hand: (6, 0) and (6, 12) lie 6 m from the middle, 100 + 6 x 0.005.
	for _, f := range read(t, books()["lon/lat"], layer.All()...) {
		switch f.id {
		case "SR1.breakline.B1":
			facts(t, &f, map[string]any{"elevations": "100.03; 100.03"})
		case "SR1.spot.1":
			facts(t, &f, map[string]any{"elevation": 100.15})
		}
	}
}

// What was noted of the roof itself is read back from its outline.
func TestOutlineKeepsWhatWasStated(t *testing.T) {
	r := sample.Feet()
	r.Outline.EdgeAssumed, r.Outline.NoOutlets, r.Outline.Elevations = true, true, roof.Drawn
	r.Sigma = 0.003048
	r.Structure = roof.Structure{HasDirection: true, MemberDirection: 30, MemberSpan: 6.096, MemberSpacing: 1.524, LoadLimit: 958, LoadLimitBy: "A. Engineer"}
	s := sample.Study(sample.Feet())
	s.Roof = r
	s.Unresolved.Count, s.Unresolved.Depth, s.Unresolved.Area = 1, 0.0254, 9.290304
	for _, f := range read(t, record.NewBook(s, "", record.US), "outline") {
		facts(t, &f, map[string]any{
			"ponds_unresolved": 1.0, "unresolved_deepest_in": 1.0, "unresolved_area_ft2": 100.0,
			"edge": nil, "edge_assumed": true, "outlets": "none", "elevations": "drawn", "sigma": 0.01,
			"member_direction": 30.0, "member_span": 20.0, "member_spacing": 5.0, "load_limit": "958 Pa", "load_limit_by": "A. Engineer",
		})
	}
}

// An earlier output that is read again has styles of its own, which are written anew, and numbers in the unit of another file, which are not taken over.
func TestOwnPropertiesGiveWay(t *testing.T) {
	r := sample.Feet()
	r.Curbs[0].Properties = json.RawMessage(`{"height":"0.3 m","stroke":"#f00","fill-opacity":1,"marker-size":"huge","crew":"south","nothing":null,"label":"old"}`)
	s := sample.Study(sample.Feet())
	s.Roof = r
	for _, f := range read(t, record.NewBook(s, "", record.US), "curb") {
		facts(t, &f, map[string]any{"height": 0.3 / 0.3048, "stroke": nil, "fill-opacity": nil, "marker-size": nil, "crew": "south", "label": "unit 1"})
		if _, ok := f.facts["nothing"]; ok {
			t.Error("a property that is null was written")
		}
	}
}

// Edges, sills, stains and outlets of other kinds.
func TestKindsOfThings(t *testing.T) {
	r := sample.Local()
	r.Edges[0].Type, r.Edges[0].Height, r.Edges[0].AdjoiningHeight = roof.Wall, 0.4, 5
	r.Sills = []roof.Sill{{Feature: roof.Feature{ID: "L9"}}}
	r.Stains[0].Note, r.Stains[0].HoursSinceRain, r.Stains[0].Outlets = "", -1, roof.OutletsClear
	r.Stains = append(r.Stains, r.Stains[0])
	r.Stains[1].ID, r.Stains[1].HoursSinceRain, r.Stains[1].Outlets, r.Stains[1].Photo = "ST2", 0, roof.OutletsBlocked, "a.jpg"
	r.Spots[0].Assumed = true
	r.Answers = []roof.Answer{
		{Feature: roof.Feature{ID: "A1"}, By: "A. Engineer", On: "2026-06-01", Question: "load", Text: "1 kPa", Number: 2},
		{Feature: roof.Feature{ID: "A2"}, By: "A. Engineer", On: "2026-06-02", Question: "deck", Text: "yes", Placed: true},
	}
	r.Answers[1].Plan[0], r.Answers[1].Plan[1] = 3, 4
	s := sample.Study(sample.Local())
	s.Roof = r
	for _, f := range read(t, record.NewBook(s, "", record.SI), "edge", "sill", "stain", "spot", "answer") {
		switch f.id {
		case "SR1.edge.E1":
			facts(t, &f, map[string]any{"type": "wall", "duty": nil, "height": 0.4, "adjoining_height": 5.0})
		case "SR1.sill.L9":
			facts(t, &f, map[string]any{"title": "Sill L9", "kind": nil})
		case "SR1.stain.ST1":
			facts(t, &f, map[string]any{"title": "Standing water as seen ST1", "hours_since_rain": nil, "outlets_clear": true})
		case "SR1.stain.ST2":
			facts(t, &f, map[string]any{"hours_since_rain": 0.0, "outlets_clear": false, "photo": "a.jpg"})
		case "SR1.spot.1":
			facts(t, &f, map[string]any{"assumed": true})
		case "SR1.answer.A1": // about the whole roof: at a corner of its outline
			facts(t, &f, map[string]any{"title": "Answer of A. Engineer, 2026-06-01: 1 kPa", "question": "load", "answer": "1 kPa", "by": "A. Engineer", "on": "2026-06-01", "number": 2.0})
			if x, y, _ := f.place(0); x != 1000 || y != 2000 || f.shape.Positions[0].HasZ {
				t.Errorf("answer about the roof at %v, %v", x, y)
			}
		case "SR1.answer.A2":
			facts(t, &f, map[string]any{"number": nil})
			if x, y, _ := f.place(0); x != 1003 || y != 2004 {
				t.Errorf("answer about a place at %v, %v", x, y)
			}
		}
	}
}

// Frames of the files: a site grid in its own unit, to a thousandth of a millimetre, or degrees to a millimetre.
func TestGridOfTheFile(t *testing.T) {
	for _, c := range []struct {
		unit     quantity.Unit
		decimals int
		x        float64 // of the sample's far corner, 20 m from an origin at 1000, by hand
	}{
		{quantity.Metres, 6, 1020}, {quantity.Millimetres, 3, 21000}, {quantity.Inches, 5, 1000 + 20/0.0254}, {quantity.Feet, 6, 1000 + 20/0.3048}, {quantity.Unstated, 6, 1020},
	} {
		s := sample.Study(sample.Local())
		s.Roof.Units = c.unit
		scale := quantity.Metres
		if c.unit != quantity.Unstated {
			scale = c.unit
		}
		s.Roof.Frame = roof.NewLocal([2]float64{1000, 2000}, scale)
		b := record.NewBook(s, "", record.SI)
		g := layer.GridOf(b)
		if g.Decimals != c.decimals || g.Geographic || g.Frame != "local" {
			t.Errorf("%v: %+v", c.unit, g)
		}
		for _, f := range read(t, b, "outline") {
			if x, y, _ := f.place(1); !(math.Abs(x-c.x) <= 0.6*math.Pow10(-c.decimals)) || y != 2000 {
				t.Errorf("%v: corner at %v, %v, want %v", c.unit, x, y, c.x)
			}
		}
	}
	if g := layer.GridOf(books()["lon/lat"]); g.Decimals != 8 || !g.Geographic || g.Frame != "wgs84" {
		t.Errorf("degrees: %+v", g)
	}
}
