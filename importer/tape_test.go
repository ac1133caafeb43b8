package importer_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/importer"
)

const tapedShed = `place;code
;OUTLINE rect=30x20ft edge=wall
10' from W wall, 5' from S wall;DRAIN RD-1
12' from W wall, 5' from S wall;POND 1 size=4x2ft depth=1in
`

// By hand, in feet from the south-west corner; the frame's origin is the middle of the outline, whole feet.
func TestPlacesOfOneFileAreMeasuredFromAnother(t *testing.T) {
	r := mustRead(t, importer.Options{}, "a.csv", tapedShed,
		"b.csv", "place;rod_m;code\n0.3048 m from RD-1 toward P1;1.0;BEFORE RD-1\n3' N of P1;1.1;LOW 1\nRD-1;1.3;INLET RD-1\nrd-1;1.1;INLET rd-1\n")
	near(t, "before the drain", r.Frame.ToFile(r.Tape.Probes[0].Plan), orb.Point{11, 5}, 1e-9)
	near(t, "north of the pond", r.Frame.ToFile(r.Tape.Probes[1].Plan), orb.Point{12, 8}, 1e-9)
	// two rods of 1.3 and 1.1 m below 100 m
	if o := r.Outlets[0]; !o.HasInvert || !(math.Abs(o.Invert-98.8) <= 1e-9) {
		t.Errorf("inlet %v at %g", o.HasInvert, o.Invert)
	}
	near(t, "the pond", r.Frame.ToFile(r.Tape.Waters[0].Soundings[0].Plan), orb.Point{12, 5}, 1e-9)
}

// The walls of a drawing are numbered along its ring.
func TestPlacesAreMeasuredFromTheWallsOfADrawing(t *testing.T) {
	r := mustRead(t, importer.Options{}, "depot.geojson", collection(`"units":"ft","frame":"local"`, outline), "tape.csv", "place;code\n6' from W wall, 4' from wall 1;DRAIN RD-1\n")
	near(t, "drain", r.Frame.ToFile(r.Outlets[0].Plan), orb.Point{6, 4}, 1e-9)
}

func TestWhatTapesOfSeveralFilesCannotSayIsRefused(t *testing.T) {
	rods := "place;rod_ft;code\n2' from W wall, 2' from S wall;4.5;SPOT\n"
	for _, tt := range []struct {
		files []string
		says  string
	}{
		{[]string{"a.csv", tapedShed, "b.csv", rods, "c.csv", rods}, "may be of different set-ups"},
		{[]string{"b.csv", rods, "a.csv", tapedShed}, "nothing says where the walls are"},
		{[]string{"a.csv", tapedShed, "b.csv", strings.Replace(rods, "2' from W wall", "2' from RD-9 toward P1; 0' from W wall", 1)}, "nothing on the roof is called"},
	} {
		_, err := importer.Read(write(t, tt.files...), importer.Options{})
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%v does not say %q", err, tt.says)
		}
	}
	if _, err := importer.Read(write(t, "a.csv", tapedShed, "b.csv", rods, "c.csv", strings.Replace(rods, "2' from W", "3' from W", 1)), importer.Options{HI: "100 ft"}); err != nil {
		t.Errorf("with --hi: %v", err)
	}
}
