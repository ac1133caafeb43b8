package geojson_test

import "testing"

// One length in feet or inches anywhere says that the roof was measured so, whatever stands before and behind it; the pole and the date line are places.
func TestOnePipeInInchesIsEnough(t *testing.T) {
	for leader, want := range map[string]bool{`"3x4 in"`: true, `"75x100 mm"`: false, `"75 mm"`: false, `"4 in"`: true} {
		d, problems := read(t, feature(`"role":"outlet","type":"drain","leader":`+leader, "Point", `[30,20,99.5]`))
		if err := problems.Err(); err != nil || d.Imperial != want {
			t.Errorf("%s: %v, %v", leader, d.Imperial, err)
		}
	}
	d, problems := read(t, feature(`"role":"control","lon":-180,"lat":90`, "Point", `[1,2]`))
	if err := problems.Err(); err != nil || len(d.Controls) != 1 {
		t.Error(err)
	}
}
