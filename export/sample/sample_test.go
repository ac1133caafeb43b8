package sample_test

import (
	"encoding/json"
	"math"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/sample"
)

// The sample is what its description says: 20 m by 12 m, falling 2 % along from a ridge at x = 14 to a low line at x = 6 and to a gutter at x = 20, 0.5 % across to the middle. The numbers
// that tests of the writers reckon with hang on it.
func TestTheSampleIsAsDescribed(t *testing.T) {
	r := sample.Local()
	s := sample.Study(r)
	if !(math.Abs(s.Surface.Area-238) <= 1e-6) { // 240 less a curb of 1 by 2
		t.Errorf("%v m2", s.Surface.Area)
	}
	at := map[[2]float64]float64{}
	for _, p := range r.Spots {
		at[p.Plan] = p.Z
	}
	for place, want := range map[[2]float64]float64{{6, 6}: 100, {14, 6}: 100.16, {0, 6}: 100.12, {20, 6}: 100.04, {6, 0}: 100.03, {14, 12}: 100.19, {20, 0}: 100.07, {2, 4}: 100.09} {
		if z, ok := at[place]; !ok || !(math.Abs(z-want) <= 1e-9) {
			t.Errorf("%v stands at %v, want %v", place, z, want)
		}
	}
	if len(r.Spots) != 77 || r.Spots[76].ID != "77" { // every 2 m
		t.Errorf("%d spots", len(r.Spots))
	}
	if o := r.Outlets; len(o) != 2 || o[0].Invert-at[[2]float64{6, 6}] < 0.01999 || o[0].Invert-at[[2]float64{6, 6}] > 0.02001 || o[1].Duty != roof.Overflow || o[1].Invert != 100.17 || !(math.Abs(float64(o[1].Width-8*quantity.Inch))+math.Abs(float64(o[0].Leader.Diameter-4*quantity.Inch)) <= 1e-12) {
		t.Errorf("%+v", o)
	}
	// A lozenge of 1 and 4 m half axes.
	if len(s.Listed) != 1 || !(math.Abs(s.Ponds.Ponds[s.Listed[0].Pond].Area-8) <= 0.01) || !(math.Abs(s.Ponds.Ponds[s.Listed[0].Pond].Depth-0.02) <= 1e-6) {
		t.Errorf("%+v", s.Listed)
	}
	for i, f := range []roof.Feature{r.Outline.Feature, r.Edges[0].Feature, r.Curbs[0].Feature, r.Outlets[0].Feature, r.Sills[0].Feature} {
		var m map[string]any
		if f.ID == "" || json.Unmarshal(f.Properties, &m) != nil || m["role"] == nil {
			t.Errorf("%d: %+v", i, f)
		}
	}
	if c := r.Cores[0]; len(c.Layers) != 2 || !(math.Abs(c.Z-100.075) <= 1e-9) || !(math.Abs(float64(c.Layers[0].Thickness+c.Layers[1].Thickness)-0.1015) <= 1e-12) {
		t.Errorf("%+v", c)
	}
	for _, ring := range [][]roof.Position{r.Outline.Rings[0], r.Curbs[0].Ring, r.Stains[0].Ring} {
		if ring[0].Plan != ring[len(ring)-1].Plan || len(ring) != 5 {
			t.Errorf("%v", ring)
		}
	}
	// The same roof in three frames, each from its own corner.
	for name, c := range map[string]struct {
		r    *roof.Roof
		x, y float64
	}{"metres": {sample.Local(), 1000, 2000}, "feet": {sample.Feet(), 5000, 6000}, "degrees": {sample.Geographic(), -12.5, 41.25}} {
		if p := c.r.Frame.ToFile([2]float64{0, 0}); !(math.Abs(p[0]-c.x)+math.Abs(p[1]-c.y) <= 1e-9) {
			t.Errorf("%s: its corner is at %v", name, p)
		}
	}
}

// The storm is 75 mm in an hour at one rate, 100 mm/h stated for outlets and 200 for the overflow, and a sill beside it.
func TestTheStormIsAsDescribed(t *testing.T) {
	s := sample.Storm(sample.Local())
	if d := s.Storm.Rain; !(math.Abs(d.Depth()-0.075) <= 1e-12) || d.Duration() != 3600 || !(math.Abs(d.Peak()*3600-0.075) <= 1e-9) {
		t.Errorf("%v m in %v s, at most %v", d.Depth(), d.Duration(), d.Peak())
	}
	if c := s.Criteria; !(math.Abs(c.RainPrimary*3.6e6-100) <= 1e-9) || !(math.Abs(c.RainOverflow*3.6e6-200) <= 1e-9) {
		t.Errorf("%v and %v", c.RainPrimary, c.RainOverflow)
	}
	if len(s.Roof.Sills) != 2 || s.Roof.Sills[1].Z != 100.25 || s.Surface.Outlets[1].Invert != 100.125 {
		t.Errorf("%+v", s.Roof.Sills)
	}
}
