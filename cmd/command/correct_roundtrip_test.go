package command_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/importer"
)

// Whatever the roof and the frame of its coordinates, each option's roof is written, read back, and checked again: the same ponds are listed. In
// degrees coordinates are two numbers (RFC 7946 has no place for a local datum), so a breakline's elevations stand in a property; the roof of
// seed 34 has triangles that turn on the millimetre to which degrees are rounded.
func TestCorrectedRoofsReadBack(t *testing.T) {
	for _, seed := range []uint64{0, 1, 3, 5, 34} {
		for name, frame := range map[string]roof.Frame{
			"grid": roof.NewLocal(orb.Point{500, 200}, quantity.Metres), "degrees": roof.NewGeographic(orb.Point{11.25, 47.5}),
		} {
			r := shape.Random(seed, 60)
			r.Frame = frame
			for i := range r.Outlets {
				r.Outlets[i].Bowl = min(r.Outlets[i].Bowl, 0.6) // wider ones are refused as a slip
			}
			s, err := study.Run(r, study.Options{})
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			out, err := correction.Of(&correction.Input{Study: s})
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			for i := range out.Options {
				if o := &out.Options[i]; o.Study != nil && o.Design != nil {
					readBack(t, fmt.Sprintf("seed %d, %s, %s", seed, name, o.Kind), o)
				}
			}
		}
	}
}

// readBack writes the roof of an option and checks what is read of it.
func readBack(t *testing.T, name string, o *correction.Option) {
	t.Helper()
	var text bytes.Buffer
	if err := geojson.Write(&text, record.NewBook(o.Study, "", record.SI), layer.All()...); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	path := filepath.Join(t.TempDir(), "roof.corrected.geojson")
	if err := os.WriteFile(path, text.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	if len(s.Listed) != len(o.Study.Listed) {
		t.Errorf("%s: %d ponds as designed, %d as read", name, len(o.Study.Listed), len(s.Listed))
	}
}
