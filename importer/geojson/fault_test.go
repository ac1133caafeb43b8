package geojson_test

import (
	"fmt"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer/geojson"
)

// Of a member that stands twice, some readers take the first and some the last.
func TestMembersGivenTwiceAreRefused(t *testing.T) {
	many := ""
	for i := range 20 {
		many += fmt.Sprintf(`"p%d":1,`, i)
	}
	for text, want := range map[string]string{
		`{"type":"Feature","properties":{"role":"spot","elevation":1,"elevation":2},"geometry":{"type":"Point","coordinates":[1,2]}}`: `feature 1: the feature has "elevation" twice`,
		`{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[1,2,3],"coordinates":[9,9,9]}}`:     `the feature has "coordinates" twice`,
		`{"type":"Feature","properties":{"role":"spot"},"properties":{},"geometry":{"type":"Point","coordinates":[1,2,3]}}`:           `the feature has "properties" twice`,
		`{"type":"Feature","properties":{"ro\u006ce":"core","role":"spot"},"geometry":{"type":"Point","coordinates":[1,2,3]}}`:        `the feature has "role" twice`,
		`{"type":"Feature","properties":{` + many + `"role":"spot","p3":2},"geometry":{"type":"Point","coordinates":[1,2,3]}}`:        `the feature has "p3" twice`,
		`{"type":"Feature","properties":{` + many + `"role":"spot","p18":2,"p18":2},"geometry":{"type":"Point","coordinates":[1,2]}}`: `the feature has "p18" twice`,
	} {
		_, problems := read(t, text)
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	var problems roof.Refusal
	if d := geojson.Open("a.geojson", []byte(`{"type":"FeatureCollection","units":"m","units":"ft","features":[]}`), &problems); d != nil {
		t.Error("a collection with two units was read")
	}
	if err := problems.Err(); err == nil || !strings.Contains(err.Error(), `the collection has the member "units" twice`) {
		t.Errorf("two units: %v", err)
	}
}

func TestNamesAreOneLineThatSteersNoTerminal(t *testing.T) {
	d, problems := read(t, feature(`"role":"outline","name":"Roof\n\u001b[31m7","building":"\u202eB"`, "Polygon", `[[[0,0],[9,0],[9,9],[0,0]]]`)+","+
		feature(`"role":"outlet","type":"drain","id":"D\u0007\u00001","label":"N\rE"`, "Point", `[1,1]`))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	o, drain := d.Outlines[0], d.Outlets[0]
	if o.Name != "Roof [31m7" || o.Building != "B" || drain.ID != "D 1" || drain.Label != "N E" {
		t.Errorf("name %q, building %q, id %q, label %q", o.Name, o.Building, drain.ID, drain.Label)
	}
}

// Outputs write a name many times and wrap it, so that a label of megabytes takes minutes.
func TestLongNamesAreRefused(t *testing.T) {
	long := strings.Repeat("é", 1001)
	for properties, want := range map[string]string{
		`"role":"outlet","type":"drain","id":"D1","label":"` + long + `"`:                    "feature 1 (D1) at (1, 1): label has 1001 characters; the most that is read is 1000; shorten it",
		`"role":"outlet","type":"drain","id":"` + long + `"`:                                 "feature 1: id has 1001 characters",
		`"role":"core","elevation":1,"layers":[{"material":"` + long + `","thickness":0.1}]`: "layer 1: material has 1001 characters",
		`"role":"core","elevation":1,"deck":"` + strings.Repeat("x", 5_000_000) + `"`:        "deck has 5000000 characters",
	} {
		_, problems := read(t, feature(properties, "Point", `[1,1]`))
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), want) || len(err.Error()) > 500 {
			t.Errorf("%.80s: %.500v, want %s", properties, err, want)
		}
	}
	d, problems := read(t, feature(`"role":"outlet","type":"drain","label":"`+long[:2000]+`"`, "Point", `[1,1]`))
	if err := problems.Err(); err != nil || d.Outlets[0].Label != long[:2000] {
		t.Errorf("a label of 1000 characters: %v", err)
	}
}

// An earlier output carries the invert that it assumed as the outlet's elevation; read back, it stays assumed.
func TestAssumedInvertIsNotReadBackAsMeasured(t *testing.T) {
	d, problems := read(t, feature(`"layer":"outlet","role":"outlet","type":"drain","invert_assumed":true`, "Point", `[1,1,10.2]`)+","+
		feature(`"role":"outlet","type":"drain","invert_assumed":false`, "Point", `[2,1,10.2]`))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if d.Outlets[0].HasInvert || d.Outlets[0].Invert != 0 || !d.Outlets[1].HasInvert {
		t.Errorf("inverts known: %v and %v, want false and true", d.Outlets[0].HasInvert, d.Outlets[1].HasInvert)
	}
}
