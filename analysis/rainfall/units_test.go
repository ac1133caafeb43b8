package rainfall_test

import (
	"fmt"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
)

// One rain under every heading of a rate, a depth and a time: 30 mm/h for 20 minutes and 180 mm/h for 10, which are 10 and 30 mm. By hand: 1 l/(s ha) is 0.36 mm/h, 1 l/(s m2) is 3600 mm/h, and an inch 25.4 mm.
func TestOneRainInAllUnits(t *testing.T) {
	for rate, mm := range map[string]float64{
		"rate_mm_per_h": 1, "Rate (in/h)": 25.4, "rate_in_per_h": 25.4, "rate_l_per_s_ha": 0.36, "rate (l/s/ha)": 0.36, "rate_l_per_s_m2": 3600, "rate (l/s/m2)": 3600,
	} {
		for clock, seconds := range map[string]float64{"time_s": 1, "time_min": 60, "Time [h]": 3600} {
			text := fmt.Sprintf("%s,%s\n0,%.17g\n%.17g,%.17g\n%.17g,0\n", clock, rate, 30/mm, 1200/seconds, 180/mm, 1800/seconds)
			checkRain(t, text, 0.040)
		}
	}
	for depth, mm := range map[string]float64{"depth_mm": 1, "depth_in": 25.4, "Depth (mm)": 1} {
		checkRain(t, fmt.Sprintf("time_min,%s\n20,%.17g\n30,%.17g\n", depth, 10/mm, 30/mm), 0.040)
		checkRain(t, fmt.Sprintf("time_min,%s\n20,%.17g\n30,%.17g\n", strings.NewReplacer("depth", "cumulative", "Depth", "Cumulative").Replace(depth), 10/mm, 40/mm), 0.040)
	}
}

func checkRain(t *testing.T, text string, depth float64) {
	t.Helper()
	p, err := rainfall.ReadPattern(strings.NewReader(text), "storm.csv")
	if err != nil {
		t.Errorf("%q: %v", text, err)
		return
	}
	h, err := p.Storm(0, 0)
	if err != nil || len(h.Rate) != 2 {
		t.Errorf("%q: %v, %v", text, h, err)
		return
	}
	near(t, text+": depth", p.Depth, depth, 1e-9, "by hand")
	near(t, text+": end", h.Duration(), 1800, 1e-6, "by hand")
	near(t, text+": first", h.Rate[0]/float64(mmph), 30, 1e-6, "by hand")
	near(t, text+": second", h.Rate[1]/float64(mmph), 180, 1e-6, "by hand")
}

// Which way a roof is turned tells nothing of the rain on its walls: any one to four walls of 10 m and other heights count the same turned by quarters, in whatever order they are named.
func TestWallsTurned(t *testing.T) {
	heights := []quantity.Length{4, 6, 0.5, 5, 7, 3, 8, 2}
	for sides := range 16 {
		for first := range heights {
			var areas []float64
			for turn := range 4 {
				for _, back := range []bool{false, true} {
					var walls []rainfall.Wall
					for k := range 4 {
						if sides>>k&1 == 1 {
							walls = append(walls, rainfall.Wall{Length: 10, Height: heights[(first+k)%len(heights)], Bearing: float64(90*(k+turn)%360) + 3})
						}
					}
					if back {
						for i, k := 0, len(walls)-1; i < k; i, k = i+1, k-1 {
							walls[i], walls[k] = walls[k], walls[i]
						}
					}
					area, _, err := rainfall.WallArea("50-35-0", walls)
					if err != nil {
						t.Fatal(err)
					}
					areas = append(areas, area)
				}
			}
			for _, a := range areas {
				near(t, fmt.Sprintf("walls on sides %04b", sides), a, areas[0], 1e-9, "turned")
			}
		}
	}
}

// A bearing counts the same after whole turns, also near where one side ends and the next begins.
func TestBearingsAfterWholeTurns(t *testing.T) {
	for _, bearing := range []float64{0, 44, 46, 134, 136, 180, 224, 226, 314, 316} {
		var want float64
		for turns := -3.0; turns <= 3; turns++ {
			area, _, err := rainfall.WallArea("50-35-0", []rainfall.Wall{{Length: 10, Height: 4}, {Length: 8, Height: 3, Bearing: bearing + 360*turns}})
			if err != nil {
				t.Fatal(err)
			}
			if turns == -3 {
				want = area
			}
			near(t, fmt.Sprintf("%g degrees and %g turns", bearing, turns), area, want, 1e-9, "turned")
		}
	}
}
