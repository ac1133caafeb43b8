package points_test

import (
	"math"
	"strings"
	"testing"

	"runnel/importer/points"
)

// The layers of a core in a code, by hand: 1 in is 25.4 mm.
func TestLayersOfACore(t *testing.T) {
	d := mustRead(t, "point,x,y,z,code\n"+
		`7,2,3,10.5,"CORE C1 layers=""0.06 in EPDM + 3 1/2 in polyiso Wet+1in tapered perlite"" deck=""steel deck"" cutter=Hand reached=rib"`+"\n"+
		"8,4,3,10.4,CORE\n", points.Options{})
	if len(d.Cores) != 2 || len(d.Cores[1].Layers) != 0 {
		t.Fatalf("%+v", d.Cores)
	}
	c := d.Cores[0]
	if c.Deck != "steel deck" || c.Cutter != "hand" || c.Reached != "rib" || c.ID != "C1" || d.Cores[1].ID != "8" || !(math.Abs(c.Z-10.5*0.3048) <= 1e-12) || !d.Imperial {
		t.Errorf("%+v", c)
	}
	for i, want := range []struct {
		material, condition string
		mm                  float64
	}{{"EPDM", "", 0.06 * 25.4}, {"polyiso", "wet", 3.5 * 25.4}, {"tapered perlite", "", 25.4}} {
		if i >= len(c.Layers) {
			t.Fatalf("%d layers", len(c.Layers))
		}
		if l := c.Layers[i]; l.Material != want.material || l.Condition != want.condition || !(math.Abs(1000*float64(l.Thickness)-want.mm) <= 1e-9) {
			t.Errorf("layer %d: %+v, want %+v", i+1, l, want)
		}
	}
}

// Layers of which nobody could tell how thick they are, or what they are made of.
func TestLayersThatAreRefused(t *testing.T) {
	for code, want := range map[string]string{
		`CORE layers="polyiso 3 in"`:                `layer 1 of the core is "polyiso 3 in", which is no thickness with its unit and a material`,
		`CORE layers="1 in EPDM + 3 polyiso"`:       `layer 2 of the core is "3 polyiso"`,
		`CORE layers="1 in EPDM + 3 in wet"`:        `layer 2 of the core is "3 in wet"`,
		`CORE layers="1 in EPDM +"`:                 `layer 2 of the core is ""`,
		`CORE layers="-3 in polyiso"`:               `layer 1 of the core is "-3 in polyiso"`,
		`CORE layers="3 in polyiso" cutter=knife`:   `unknown cutter "knife"; use tube, hand`,
		`CORE layers="3 in polyiso" reached=bottom`: `unknown reached "bottom"; use rib, flute, unknown`,
	} {
		_, problems := read("point;x;y;z;code\n7;2;3;10.5;"+code+"\n", points.Options{})
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "line 2 (7)") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", code, err, want)
		}
	}
}
