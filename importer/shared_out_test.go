package importer_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/importer"
)

// A tape is hooked to the first corner of a curb that another file has.
func TestPlacesAreMeasuredFromCurbs(t *testing.T) {
	drawn := collection(`"units":"ft","frame":"local"`, outline, feature(`"role":"curb","label":"RTU-1"`, "Polygon", `[[[20,10],[26,10],[26,16],[20,16],[20,10]]]`))
	r := mustRead(t, importer.Options{}, "depot.geojson", drawn, "tape.csv", "place;code\n3' W of RTU-1;DRAIN RD-1\n")
	near(t, "drain", r.Frame.ToFile(r.Outlets[0].Plan), orb.Point{17, 10}, 1e-9)
}

// What a VISIT says holds for water and heights by tape that say nothing themselves: hours since rain, and 20 mm for satellite positioning, as standard.Instruments has it.
func TestVisitOfATapedRoof(t *testing.T) {
	rows := tapedShed + "20' from W wall, 5' from S wall;POND 2 size=4x2ft depth=1in hours=3\n;VISIT hours_since_rain=50 instrument=gnss\n"
	r := mustRead(t, importer.Options{}, "a.csv", rows)
	if w := r.Tape.Waters; w[0].HoursSinceRain != 50 || w[1].HoursSinceRain != 3 {
		t.Errorf("%g and %g hours", w[0].HoursSinceRain, w[1].HoursSinceRain)
	}
	if !(math.Abs(float64(r.Tape.Sigma)-0.020) <= 1e-9) {
		t.Errorf("heights by %g m", float64(r.Tape.Sigma))
	}
	// Water that was seen while it rained, or half an hour later, keeps its own hours.
	for _, own := range []float64{0, 0.5} {
		r = mustRead(t, importer.Options{}, "a.csv", strings.Replace(rows, " hours=3", fmt.Sprintf(" hours=%g", own), 1))
		if got := r.Tape.Waters[1].HoursSinceRain; got != own {
			t.Errorf("%g hours, want %g", got, own)
		}
		seen := collection(`"units":"ft","frame":"local"`, feature(`"role":"outline","hours_since_rain":50`, "Polygon", rectangle), feature(fmt.Sprintf(`"role":"stain","hours_since_rain":%g`, own), "Polygon", `[[[20,10],[26,10],[26,16],[20,16],[20,10]]]`))
		if got := mustRead(t, importer.Options{}, "a.geojson", seen, "b.csv", "x,y,z\n1,1,100\n50,30,101\n30,36,102\n").Stains[0].HoursSinceRain; got != own {
			t.Errorf("%g hours, want %g", got, own)
		}
	}
	r = mustRead(t, importer.Options{}, "a.csv", strings.Replace(rows, "hours_since_rain=50", "hours_since_rain=0", 1))
	if w := r.Tape.Waters; w[0].HoursSinceRain != 0 {
		t.Errorf("it rains, and %g hours are said", w[0].HoursSinceRain)
	}
}

// A flag that contradicts a file wins, and is said; one that agrees is not.
func TestFrameSaidAgainstTheFile(t *testing.T) {
	for frame, want := range map[string]bool{"wgs84": true, "local": false, "EPSG:26915": true} {
		r, err := importer.Read(write(t, "a.geojson", collection(`"units":"ft","frame":"`+frame+`"`, outline), "b.csv", rows), importer.Options{Frames: map[string]string{"a.geojson": "local"}})
		if err != nil {
			t.Fatal(err)
		}
		if all := strings.Join(r.Warnings, " "); strings.Contains(all, "read in frame local as --frame says, though the file says "+frame+".") != want {
			t.Errorf("%s: %q", frame, all)
		}
	}
}

// A roof in metres stays one where a pipe is called by its inches; a roof in degrees, whose files state no unit, is in feet and inches then.
func TestInchesInAFileOfMetres(t *testing.T) {
	degrees := feature(`"role":"outline"`, "Polygon", `[[[5,50],[5.001,50],[5.001,50.001],[5,50.001],[5,50]]]`)
	for _, c := range []struct {
		outline, rows string
		want          bool
	}{
		{collection(`"units":"m","frame":"local"`, outline), "x,y,z,code\n6,4,100,DRAIN d=4in\n", false},
		{collection("", degrees), "lon,lat,z,code\n5.0005,50.0005,100,DRAIN d=4in\n", true},
		{collection(`"units":"m"`, degrees), "lon,lat,z,code\n5.0005,50.0005,100,DRAIN d=4in\n", false},
	} {
		if r := mustRead(t, importer.Options{}, "a.geojson", c.outline, "b.csv", c.rows); r.Imperial != c.want {
			t.Errorf("%s: imperial %v", c.outline, r.Imperial)
		}
	}
}

// Degrees that are read as metres make a roof of a tenth of a millimetre.
func TestRoofOfATenthOfAMillimetre(t *testing.T) {
	tiny := collection(`"units":"m","frame":"local"`, feature(`"role":"outline"`, "Polygon", `[[[5,50],[5.0001,50],[5.0001,50.0001],[5,50.0001],[5,50]]]`))
	if _, err := importer.Read(write(t, "a.geojson", tiny, "b.csv", rows), importer.Options{Units: nil}); err == nil || !strings.Contains(err.Error(), "the outline is 0.1 mm wide") {
		t.Errorf("%v", err)
	}
}
