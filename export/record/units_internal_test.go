package record

import (
	"bytes"
	"strings"
	"testing"
)

// One of each in SI, and in the units of the trade in the USA, as published: NIST Special Publication 811, 2008, appendix B (from memory): 1 ft = 0.3048 m, 1 in = 25.4 mm,
// 1 gal = 3.785412 L, 1 lb = 0.45359237 kg, 1 lbf/ft2 = 47.88026 Pa, 1 ft2 h degF/Btu = 0.1761102 m2 K/W. Each with the decimals of its property.
func TestPropertiesInTheirUnits(t *testing.T) {
	write := func(u Units) string {
		var o Object
		u.Length(&o, "length", 1)
		u.Depth(&o, "depth", 1)
		u.Area(&o, "area", 1)
		u.Volume(&o, "water", 1)
		u.Solid(&o, "solid", 1)
		u.Mass(&o, "mass", 1)
		u.Pressure(&o, "load", 1000)
		u.flow(&o, "flow", 0.001)
		u.Rain(&o, "rain", 0.0254/3600)
		u.R(&o, "r", 1)
		u.U(&o, "u", 1)
		u.Slope(&o, "slope", 1.0/48)
		o.Bearing("north", 359.996)
		o.Bearing("nearly", 359.994)
		o.Share("share", 1.0/3)
		var out bytes.Buffer
		if err := o.WriteJSON(&out); err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(out.String()), "")
	}
	const rest = `"north":0,"nearly":359.994,"share":0.3333}`
	for u, want := range map[Units]string{
		SI: `{"length_m":1,"depth_mm":1000,"area_m2":1,"water_l":1000,"solid_m3":1,"mass_kg":1,"load_kpa":1,"flow_lps":1,"rain_mm_per_h":25.4,"r_m2_k_per_w":1,"u_w_per_m2_k":1,"slope_pct":2.0833,` + rest,
		US: `{"length_ft":3.28084,"depth_in":39.37008,"area_ft2":10.76391,"water_gal":264.1721,"solid_ft3":35.31467,"mass_lb":2.205,"load_psf":20.88543,"flow_gpm":15.85032,"rain_in_per_h":1,` +
			`"r_ft2_h_f_per_btu":5.6783,"u_btu_per_ft2_h_f":0.17611,"slope_pct":2.0833,"slope_in_per_ft":0.25,` + rest,
	} {
		if got := write(u); got != want {
			t.Errorf("%s:\n%s\nwant\n%s", u, got, want)
		}
	}
}
