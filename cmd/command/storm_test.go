package command_test

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// pan is a level roof of 50 by 40 ft between walls, with a scupper of 8 in at its floor and an overflow of 12 in that
// stands 2 in over it.
const pan = `{"type":"FeatureCollection","units":"ft","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Pan","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,100],[50,0,100],[50,40,100],[0,40,100],[0,0,100]]]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[25,19,100]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"S-1","width":"8 in","invert":100},"geometry":{"type":"Point","coordinates":[0,20]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"OF-1","duty":"overflow","width":"12 in","invert":100.1666666667},"geometry":{"type":"Point","coordinates":[50,20]}}]}`

// tilted is a roof of 40 by 30 ft that falls 1/4 in per ft to its west wall, with a scupper of 8 in at its low edge
// and an overflow of 8 in that stands 2 in over it.
const tilted = `{"type":"FeatureCollection","units":"ft","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Tilted","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,100],[40,0,100.8333333333],[40,30,100.8333333333],[0,30,100],[0,0,100]]]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[20,15,100.4166666667]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"S-1","width":"8 in","invert":100},"geometry":{"type":"Point","coordinates":[0,15]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"OF-1","duty":"overflow","width":"8 in","invert":100.1666666667},"geometry":{"type":"Point","coordinates":[0,25]}}]}`

// stormOf is what of the summary's storm the tests look at, in US units.
type stormOf struct {
	Case      string   `json:"case"`
	Depth     float64  `json:"max_depth_in"`
	Load      float64  `json:"max_load_psf"`
	Rain      float64  `json:"rain_gal"`
	Dried     float64  `json:"evaporated_gal"`
	Left      float64  `json:"left_after_48h_gal"`
	Drain     *float64 `json:"time_to_drain_h"`
	MassError float64  `json:"mass_error"`
	Outlets   []struct {
		Label  string  `json:"label"`
		Head   float64 `json:"peak_head_in"`
		Flow   float64 `json:"peak_flow_gpm"`
		Starts float64 `json:"starts_h"`
	} `json:"outlets"`
	Cases []stormOf `json:"cases"`
	Worst string    `json:"worst"`
}

// storm runs a storm over a roof and returns the summary's storm.
func storm(t *testing.T, roof string, args ...string) stormOf {
	t.Helper()
	path := file(t, t.TempDir(), "roof.geojson", roof)
	code, out, err := run(t, append([]string{"storm", path, "--json"}, args...)...)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, err)
	}
	var got struct {
		Storm stormOf `json:"storm"`
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for _, c := range append(got.Storm.Cases, got.Storm) {
		if c.MassError > 1e-9 {
			t.Errorf("%s: %g of the water is missing", c.Case, c.MassError)
		}
	}
	return got.Storm
}

// scupper is the law of the trade, 2.9 b H^1.5 gpm, b and H in inches.
func scupper(width, head float64) float64 {
	head = max(0, head)
	return 2.9 * width * head * math.Sqrt(head)
}

// byHand is a level pool followed by Heun's rule in steps of half a second: peak depth [in], what is left after 48 h
// [gal], and how long more than Trickle, 0.01 L/s or 0.1585 gpm, runs after the rain [h]. area [ft2] is the water's at a
// depth, rain [in/h] falls for an hour on fall [ft2].
func byHand(fall, rain float64, area, law func(depth float64) float64) (peak, left, drain float64) {
	const gallon, step = 231.0, 0.5
	depth, volume := 0.0, 0.0 // in, gal
	for t := 0.0; t < 49*3600; t += step {
		in := 0.0
		if t < 3600 {
			in = fall * 144 / gallon * rain / 60 // gpm
		}
		pace := func(d float64) float64 { return (in - law(d)) * gallon / 60 / (area(d) * 144) }
		first := pace(depth)
		second := pace(max(0, depth+first*step))
		before := depth
		depth = max(0, depth+step*(first+second)/2)
		volume += area((before+depth)/2) * 144 / gallon * (depth - before)
		peak = max(peak, depth)
		if law(depth) > 0.1585 {
			drain = (t + step - 3600) / 3600
		}
	}
	return peak, volume, drain
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: %g, by hand %g", what, got, want)
	}
}

// Expected numbers: by hand, the scupper's law of the trade and a level pool in steps (byHand); 5.2 psf an inch.
func TestStormOnALevelPan(t *testing.T) {
	s := storm(t, pan, "--depth", "4in", "--duration", "1h")
	if len(s.Cases) != 3 || s.Worst != "every outlet blocked" {
		t.Fatalf("%d cases, worst %q", len(s.Cases), s.Worst)
	}
	whole := func(float64) float64 { return 2000 }
	overflow := func(d float64) float64 { return scupper(12, d-2) }
	peak, left, drain := byHand(2000, 4, whole, func(d float64) float64 { return scupper(8, d) + overflow(d) })
	near(t, "depth", s.Depth, peak, 1e-4)
	near(t, "load", s.Load, 5.2023*peak, 1e-4) // by hand: 1000 kg/m3 x 9.80665 m/s2 x 0.0254 m = 249.09 Pa = 5.2023 psf
	near(t, "left", s.Left, left, 1e-3)
	near(t, "drains for", *s.Drain, drain, 1e-3)
	near(t, "flow", s.Outlets[0].Flow, scupper(8, peak), 1e-4)
	near(t, "rain", s.Rain, 2000*4/12.0*1728/231, 1e-6)

	blocked := s.Cases[1]
	peak, left, drain = byHand(2000, 4, whole, overflow)
	near(t, "blocked: depth", blocked.Depth, peak, 1e-4)
	near(t, "blocked: left", blocked.Left, left, 1e-3)
	near(t, "blocked: drains for", *blocked.Drain, drain, 1e-3)
	near(t, "blocked: head", blocked.Outlets[1].Head, peak-2, 1e-4)
	// By hand: 2 in of 4 in/h fall in half an hour; then 0.01 L/s is reached in some seconds.
	near(t, "blocked: overflow starts", blocked.Outlets[1].Starts, 0.5, 0.02)

	all := s.Cases[2]
	near(t, "all blocked: depth", all.Depth, 4, 1e-9)
	near(t, "all blocked: left", all.Left, s.Rain, 1e-9)
	if all.Drain != nil {
		t.Errorf("with every outlet blocked the roof drains for %g h", *all.Drain)
	}
}

// Expected numbers: by hand as above; the water is a wedge, 48 ft long for each foot of its depth, 30 ft wide.
func TestStormOnATiltedRoof(t *testing.T) {
	s := storm(t, tilted, "--depth", "3in", "--duration", "1h")
	wedge := func(d float64) float64 { return max(1, min(1200, 4*30*d)) } // an inch of depth is 4 ft of length
	peak, left, drain := byHand(1200, 3, wedge, func(d float64) float64 { return scupper(8, d-2) })
	near(t, "blocked: depth", s.Cases[1].Depth, peak, 1e-3)
	near(t, "blocked: left", s.Cases[1].Left, left, 3e-3)
	near(t, "blocked: drains for", *s.Cases[1].Drain, drain, 2e-3)
	// By hand: 3 in on 1200 ft2 are 300 ft3; a wedge of depth d [ft] holds 48 d d/2 x 30, that is d = 0.6455 ft.
	near(t, "all blocked", s.Cases[2].Depth, 12*math.Sqrt(300.0/720), 1e-6)
}

// By hand: an inch falls, 24 mm of it dry in 48 h at 12 mm a day.
func TestStormDriesAtTheStatedRate(t *testing.T) {
	s := storm(t, pan, "--depth", "1in", "--duration", "1h", "--blocked", " s-1, PAN.S02", "--evaporation", "12mm/d")
	near(t, "left", s.Left, s.Rain*(1-24/25.4), 1e-4)
	near(t, "dried", s.Dried, s.Rain*24/25.4, 1e-5)
	s = storm(t, pan, "--depth", "0.5in", "--duration", "1h", "--blocked", "all", "--evaporation", "12mm/d")
	if s.Left != 0 {
		t.Errorf("half an inch leaves %g gal", s.Left)
	}
}

// By hand: 6 in/h in the middle third of an hour that brings 3 in; the depth of alternating blocks is that of the file.
func TestStormOfFiles(t *testing.T) {
	dir := t.TempDir()
	pattern := file(t, dir, "pattern.csv", "time_min,cumulative_in\n0,0\n20,0.5\n40,2.5\n60,3\n")
	s := storm(t, pan, "--pattern", pattern, "--blocked", "all")
	near(t, "depth of a pattern", s.Depth, 3, 1e-9)
	idf := file(t, dir, "idf.csv", "duration_min,depth_in\n5,0.5\n15,1\n60,2\n")
	s = storm(t, pan, "--pattern", "alternating", "--intensities", idf, "--duration", "1h", "--blocked", "all")
	near(t, "depth of intensities", s.Depth, 2, 1e-9)
	s = storm(t, pan, "--pattern", "scs-ii", "--depth", "6in", "--duration", "24h", "--blocked", "all")
	near(t, "depth of scs-ii", s.Depth, 6, 1e-9)
	s = storm(t, pan, "--depth", "0in", "--duration", "1h")
	if s.Rain != 0 || s.Depth != 0 || s.Left != 0 {
		t.Errorf("a storm of nothing brings %g gal, %g in", s.Rain, s.Depth)
	}
	storm(t, pan, "--depth", "0.000000001in", "--duration", "2500000h") // which ends with 5 where water does not add up
}

// Each is refused with the code of the contract, and the message says what to do; nothing is written.
func TestStormRefuses(t *testing.T) {
	dir := t.TempDir()
	roof := file(t, dir, "roof.geojson", pan)
	idf := file(t, dir, "idf.csv", "duration_min,depth_in\n5,0.5\n15,1\n60,2\n")
	rain := func(text string) string { return file(t, t.TempDir(), "rain.csv", text) }
	out := filepath.Join(t.TempDir(), "out")
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{2, "how much rain", nil},
		{2, "how much rain", []string{"--duration", "1h"}},
		{2, "how long does it rain", []string{"--depth", "3in"}},
		{2, "how long does it rain", []string{"--pattern", "alternating", "--intensities", idf}},
		{2, "no unit", []string{"--depth", "3", "--duration", "1h"}},
		{2, "negative", []string{"--depth", "-3in", "--duration", "1h"}},
		{2, "number is missing", []string{"--depth", "NaN", "--duration", "1h"}},
		{2, "above zero", []string{"--depth", "3in", "--duration", "0h"}},
		{2, "with its unit", []string{"--depth", "3in", "--duration", "60"}},
		{2, "--yes", []string{"--depth", "41in", "--duration", "1h"}},
		{2, "uniform, alternating, scs-i,", []string{"--depth", "3in", "--duration", "1h", "--pattern", "steady"}},
		{2, "up to 24 h", []string{"--depth", "3in", "--duration", "25h", "--pattern", "scs-ii"}},
		{2, "intensities by duration", []string{"--depth", "3in", "--duration", "1h", "--pattern", "alternating"}},
		{2, "for --pattern alternating", []string{"--depth", "3in", "--duration", "1h", "--intensities", idf}},
		{2, "adds up to 2 in", []string{"--depth", "3in", "--duration", "1h", "--pattern", "alternating", "--intensities", idf}},
		{2, "use S-1, OF-1, all-primary or all", []string{"--depth", "3in", "--duration", "1h", "--blocked", "S-9"}},
		{2, "--blocked is empty", []string{"--depth", "3in", "--duration", "1h", "--blocked", ""}},
		{2, "4mm/d", []string{"--depth", "3in", "--duration", "1h", "--evaporation", "4mm"}},
		{2, "give 18 s or more", []string{"--depth", "3in", "--duration", "1h", "--step", "1ns"}},
		{3, "no such file", []string{"--pattern", filepath.Join(dir, "none.csv")}},
		{3, "this is a folder", []string{"--pattern", dir}},
		{3, "no heading", []string{"--pattern", rain("")}},
		{3, "two rows", []string{"--pattern", rain("time_min,depth_in\n0,0\n")}},
		{3, "no rain falls", []string{"--pattern", rain("time_min,depth_in\n0,0\n9,0\n")}},
		{3, "end at 0.9", []string{"--pattern", rain("time_min,fraction\n0,0\n60,0.9\n"), "--depth", "3in"}},
		{3, "line 3: less has fallen", []string{"--pattern", rain("time_min,cumulative_in\n5,2\n9,1\n")}},
		{3, "not a number of 0 or more", []string{"--pattern", rain("time_min,cumulative_in\n0,0\n9,1e308\n")}},
		{3, "commas between columns", []string{"--pattern", rain("time_min;depth_mm\n0;0\n60;3,5\n")}},
		{3, "over 16 MB", []string{"--pattern", rain(strings.Repeat("9", 17<<20))}},
		{2, "adds up to 3 in", []string{"--pattern", rain("time_min,rate_in_per_h\n0,3\n60,0\n"), "--depth", "4in"}},
	} {
		code, page, err := run(t, append([]string{"storm", roof, "-o", out}, c.args...)...)
		if code != c.code || !strings.Contains(err, c.says) || page != "" {
			t.Errorf("%s: exit %d: %s", fmt.Sprint(c.args), code, err)
		}
		if files, _ := filepath.Glob(out + "*"); files != nil {
			t.Errorf("%s left %v", c.args, files)
		}
	}
}

// A drain of which nothing but the inlet is stated, under more than it takes. By hand: 2000 ft2 at 10 in/h bring
// 2000 x 10 x 0.01039 = 208 gpm; a 4 in drain takes 180 gpm at most (ASCE 7-05, commentary, Table C8-1, from memory).
func TestDrainUnderMoreThanItsInletTakes(t *testing.T) {
	roof := strings.NewReplacer(`"scupper","label":"S-1","width":"8 in"`, `"drain","label":"D-1","diameter":"4 in"`, "[0,20]", "[20,20]").Replace(pan)
	code, page, err := run(t, "check", file(t, t.TempDir(), "roof.geojson", roof), "--rain-primary", "10 in/h")
	if code != 0 || !strings.Contains(page, "208 gpm comes to D-1, and the inlet takes 180 gpm") || !strings.Contains(page, "takes only 180 gpm") {
		t.Errorf("exit %d: %s\n%s", code, err, page)
	}
}
