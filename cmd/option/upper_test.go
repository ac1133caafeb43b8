package option_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/importer"
)

// flat is a roof of 10 by 10 m that falls by 1 % to the east, from x on, with a scupper in its east wall.
func flat(name string, x float64, more string) string {
	f := func(properties, kind, coordinates string) string {
		return `{"type":"Feature","properties":{` + properties + `},"geometry":{"type":"` + kind + `","coordinates":` + coordinates + `}}`
	}
	all := []string{
		f(fmt.Sprintf(`"role":"outline","edge":"wall","name":%q`, name), "Polygon", fmt.Sprintf("[[[%[1]g,0],[%[2]g,0],[%[2]g,10],[%[1]g,10],[%[1]g,0]]]", x, x+10)),
		f(`"role":"outlet","type":"scupper","label":"S-1"`+more, "Point", fmt.Sprintf("[%g,5,9.9]", x+10)),
	}
	for i := range 5 {
		for k := range 5 {
			all = append(all, f(`"role":"spot"`, "Point", fmt.Sprintf("[%g,%g,%g]", x+1+2*float64(i), 1+2*float64(k), 10-0.01*(1+2*float64(i)))))
		}
	}
	return `{"type":"FeatureCollection","units":"m","frame":"local","features":[` + strings.Join(all, ",") + `]}`
}

// What a roof above lets onto the roof below is read with it: 100 m2 through its scupper, at the wall between them. One that lets nothing onto it, or cannot be read, is refused.
func TestWhatARoofAboveLetsDown(t *testing.T) {
	files := map[string][]byte{
		"low.geojson": []byte(flat("Low roof", 10, "")), "up/high.geojson": []byte(flat("High", 0, `,"discharges_to":"low-roof"`)), "dry.geojson": []byte(flat("Dry", 0, "")),
		"far.geojson": []byte(flat("Far", 100, `,"discharges_to":"Low roof"`)), "torn.geojson": []byte("{"),
	}
	in := input(t)
	in.Files = files
	o, err := in.Importer()
	if err != nil {
		t.Fatal(err)
	}
	steps, err := in.Study()
	if err != nil {
		t.Fatal(err)
	}
	low, err := importer.Read([]string{"low.geojson"}, o)
	if err != nil {
		t.Fatal(err)
	}
	in.Upper = []string{"up/high.geojson"}
	above, err := in.Above(low, o, steps)
	if err != nil || len(above) != 1 || above[0].Name != "High, S-1" || !(math.Abs(above[0].Area-100) <= 1e-6) {
		t.Fatalf("%+v, %v", above, err)
	}
	// The lower roof's frame lies about its middle, (15, 5): the scupper stands 5 m west of it, and its water lands within 20 mm of the edge.
	if !(math.Abs(above[0].X+5) <= 0.0201) || !(math.Abs(above[0].Y) <= 1e-6) {
		t.Errorf("at %g, %g", above[0].X, above[0].Y)
	}
	in.Upper = []string{"up/high.geojson", "up/high.geojson"}
	if above, err := in.Above(low, o, steps); err != nil || len(above) != 2 {
		t.Errorf("of two roofs: %+v, %v", above, err)
	}
	for path, want := range map[string]string{
		"dry.geojson": `upper roof dry.geojson: dry.geojson feature 1: no outlet of "Dry" discharges onto "Low roof"`, "far.geojson": `upper roof far.geojson: far.geojson feature 2 (O1): outlet S-1 discharges onto "Low roof" and does not lie over it`,
		"torn.geojson": "upper roof: torn.geojson: ", "lost.geojson": "upper roof: lost.geojson: there is no such file; check the path",
	} {
		in.Upper = []string{"up/high.geojson", path}
		if above, err := in.Above(low, o, steps); err == nil || !strings.HasPrefix(err.Error(), want) || len(above) != 0 {
			t.Errorf("%s: %+v, %v, want %q", path, above, err, want)
		}
	}
}
