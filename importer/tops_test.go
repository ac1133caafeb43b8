package importer_test

import (
	"slices"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer"
)

// TestTopsOfWalls: corners that were shot on the walls keep their places and lose their elevations, in a point file and in GeoJSON, and it is said how many.
func TestTopsOfWalls(t *testing.T) {
	for name, text := range map[string]string{
		"hall.csv": "point,x_m,y_m,elev_m,code\n1,0,0,10.4,OUTLINE edge=wall elevations=tops\n2,20,0,10.4,OUTLINE\n3,20,12,10.4,OUTLINE\n4,0,12,10.4,OUTLINE\n5,8,5,10.0,\n6,4,5,10.0,\n7,4,8,10.1,\n",
		"hall.geojson": `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","edge":"wall","elevations":"tops"},"geometry":{"type":"Polygon","coordinates":[[[0,0,10.4],[20,0,10.4],[20,12,10.4],[0,12,10.4],[0,0,10.4]]]}},
{"type":"Feature","properties":{"role":"spot","id":"5"},"geometry":{"type":"Point","coordinates":[8,5,10]}},
{"type":"Feature","properties":{"role":"spot","id":"6"},"geometry":{"type":"Point","coordinates":[4,5,10]}},
{"type":"Feature","properties":{"role":"spot","id":"7"},"geometry":{"type":"Point","coordinates":[4,8,10.1]}}]}`,
	} {
		r, err := importer.Read(written(t, map[string]string{name: text}, name), importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		ring := r.Outline.Rings[0]
		if len(ring) != 5 || slices.ContainsFunc(ring, func(p roof.Position) bool { return p.HasZ || p.Z != 0 }) || r.Outline.Elevations != roof.WallTops {
			t.Errorf("%s: %+v", name, ring)
		}
		if said := strings.Join(r.Warnings, " "); !strings.Contains(said, "4 elevations of the outline are those of the tops of its walls and were left out") {
			t.Errorf("%s: %s", name, said)
		}
		if len(r.Spots) != 3 || r.Spots[0].Z != 10 {
			t.Errorf("%s: %+v", name, r.Spots)
		}
	}
	wrong := "point,x_m,y_m,elev_m,code\n1,0,0,10.4,OUTLINE elevations=coping\n2,20,0,10.4,OUTLINE\n3,20,12,10.4,OUTLINE\n"
	if _, err := importer.Read(written(t, map[string]string{"w.csv": wrong}, "w.csv"), importer.Options{}); err == nil || !strings.Contains(err.Error(), `unknown elevations "coping": use measured, drawn, tops`) {
		t.Error(err)
	}
}
