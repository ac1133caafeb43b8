package geojson_test

import (
	"strings"
	"testing"

	"runnel/analysis/roof"
)

// What bears on doubt: whether outlets were looked for, how good heights are (0.02 ft is 6.096 mm), and whether outlets were
// clear when water was seen.
func TestReadsWhatBearsOnDoubt(t *testing.T) {
	ring := `[[[1,1],[2,1],[2,2],[1,1]]]`
	d, problems := read(t, strings.Join([]string{
		feature(`"role":"outline","outlets":"none","sigma":0.02`, "Polygon", `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`),
		feature(`"role":"stain","outlets_clear":true`, "Polygon", ring),
		feature(`"role":"stain","outlets_clear":false`, "Polygon", ring),
		feature(`"role":"stain"`, "Polygon", ring),
	}, ","))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if o := d.Outlines[0]; !o.NoOutlets || !near(o.Sigma, feet(0.02)) {
		t.Errorf("outline %+v", o)
	}
	if d, _ := read(t, feature(`"role":"outline"`, "Polygon", `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`)); d.Outlines[0].Sigma != 0 || d.Outlines[0].NoOutlets {
		t.Errorf("nobody said how good heights are: %+v", d.Outlines[0])
	}
	if d, _ := read(t, feature(`"role":"spot"`, "Point", `[1,1,10]`)); len(d.Spots) != 1 || d.Spots[0].Sigma != 0 {
		t.Errorf("nobody said how good this height is: %+v", d.Spots)
	}
	for i, want := range []roof.OutletState{roof.OutletsClear, roof.OutletsBlocked, roof.OutletsUnknown} {
		if d.Stains[i].Outlets != want {
			t.Errorf("stain %d: %d, want %d", i, d.Stains[i].Outlets, want)
		}
	}
	for _, bad := range []string{
		feature(`"role":"stain","outlets_clear":"mostly"`, "Polygon", ring),
		feature(`"role":"outline","outlets":"two"`, "Polygon", `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`),
	} {
		if _, problems = read(t, bad); problems.Err() == nil {
			t.Errorf("taken: %s", bad)
		}
	}
}
