package command

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
)

// tapedFile writes a survey by tape into a file.
func tapedFile(t *testing.T, name string, rows ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte("place;depth;elev_ft;code\n"+strings.Join(rows, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const (
	shedOutline = `;;;OUTLINE rect=120x60ft edge=wall name="Shed"`
	shedDrain   = `40' from W wall, 30' from S wall;;;DRAIN RD-1 d=4in`
	shedPond    = `50' from W wall, 30' from S wall;0.75in;;POND 1 size=12x6ft hours=50`
)

func TestCompareByTape(t *testing.T) {
	before := tapedFile(t, "before.csv", shedOutline, shedDrain, shedPond)
	smaller := tapedFile(t, "smaller.csv", shedOutline, shedDrain, `50' from W wall, 30' from S wall;0.25in;;POND 1 size=9x4ft hours=50`)
	dry := tapedFile(t, "dry.csv", shedOutline, shedDrain, ";;;VISIT hours_since_rain=50")
	dir := filepath.Join(t.TempDir(), "out")
	page, said, code := compares(t, before, smaller, "-o", dir, "--fail-on", "note")
	for _, want := range []string{"P1 holds less water: area 53 sq ft to 60 sq ft before, 25 sq ft to 31 sq ft now", `deepest 5/8" to 7/8" before, 1/8" to 3/8" now`, "Tier A", "less water"} {
		if !strings.Contains(strings.Join(strings.Fields(page), " "), want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	if code != call.ExitDone {
		t.Errorf("exit %d, %s", code, said)
	}
	var file struct {
		Schema string
		Ponds  []struct{ State, Before, After string }
	}
	text, err := os.ReadFile(filepath.Join(dir, "shed.change.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &file); err != nil || file.Schema != "runnel-tape-change-1" || len(file.Ponds) != 1 || file.Ponds[0].State != "less water" {
		t.Errorf("%v %s", err, text)
	}
	for name, want := range map[string]string{"shed.change.local.geojson": `"seen":"before"`, "shed.change.csv": "P1,P1,less water,false"} {
		if text, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s: %v, no %q in\n%s", name, err, want, text)
		}
	}
	if page, _, code = compares(t, smaller, before, "--fail-on", "repair"); code != call.ExitFindings || !strings.Contains(page, "P1 holds more water") {
		t.Errorf("exit %d\n%s", code, page)
	}
	if page, _, _ = compares(t, before, dry); !strings.Contains(page, "P1 is gone: so soon after rain it would still stand.") {
		t.Errorf("dry 50 hours after rain:\n%s", page)
	}
	if page, _, _ = compares(t, before, before); !strings.Contains(page, "P1: a change is not resolved; the ranges overlap.") {
		t.Errorf("with itself:\n%s", page)
	}
}

// Heights all over the roof without the water that was seen that day have nothing in common with chalk: the message names what is missing, and what it advises works.
func TestCompareOfTapeWithHeightsAlone(t *testing.T) {
	rows := []string{shedOutline, shedDrain}
	for x := 5; x < 120; x += 10 {
		for y := 5; y < 60; y += 10 {
			rows = append(rows, fmt.Sprintf("%d' from W wall, %d' from S wall;;%.2f;", x, y, 10+math.Hypot(float64(x-40), float64(y-30))/50))
		}
	}
	chalk, heights := tapedFile(t, "chalk.csv", shedOutline, shedDrain, shedPond), tapedFile(t, "heights.csv", rows...)
	for _, pair := range [][2]string{{chalk, heights}, {heights, chalk}} {
		_, said, code := compares(t, pair[0], pair[1])
		for _, want := range []string{"heights.csv has heights all over the roof, but not the water", "add rows POND or WATERLINE to", "take the row OUTLINE out of", "chalk.csv and give both to check"} {
			if !strings.Contains(said, want) {
				t.Errorf("exit %d, no %q in %s", code, want, said)
			}
		}
		if code != call.ExitUsage {
			t.Errorf("exit %d", code)
		}
	}
	pond := tapedFile(t, "pond.csv", shedDrain, shedPond)
	page, said := runs(t, call.ExitDone, "check", heights, pond)
	if !strings.Contains(strings.Join(strings.Fields(page), " "), "P1") {
		t.Errorf("%s\n%s", said, page)
	}
	if _, said, code := compares(t, tapedFile(t, "both.csv", append(rows, shedPond)...), chalk); code != call.ExitDone {
		t.Errorf("with the chalk among the heights: exit %d, %s", code, said)
	}
}

// The planned roof falls 2 % to the gutter at its south, and its spot 4.5 m north of it is 30 mm lower than the fall, at 10.06 m. A rod there that finds 10.09 m is 30 mm off; one
// that finds 10.06 m is within 6 mm (good to 2 mm, x 1.645 = 3.3 mm).
func TestRodsOfTheFinishedRoof(t *testing.T) {
	planned := comparedRoof(t, "planned.geojson", 0.03)
	finished := func(high string) string {
		path := filepath.Join(t.TempDir(), "finished.csv")
		rows := "place;elev_m;sigma_mm;code\n" +
			`;;;OUTLINE rect=12x9m edge=wall name=Shed` + "\n;;;VISIT hours_since_rain=50\n" + "6 m from W wall, 4.5 m from S wall;" + high + ";2;SPOT\n"
		if err := os.WriteFile(path, []byte(rows), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	page, said, code := compares(t, planned, finished("10.06"), "--planned", "--within", "6mm", "--fail-on", "repair")
	if code != call.ExitDone || !strings.Contains(page, "1 within 6 mm, 0 outside") || !strings.Contains(page, "not measured") {
		t.Errorf("as planned: exit %d %s\n%s", code, said, page)
	}
	if page, _, code = compares(t, planned, finished("10.09"), "--planned", "--within", "6mm", "--fail-on", "repair"); code != call.ExitFindings || !strings.Contains(page, "1 outside") || !strings.Contains(page, "+30 mm") {
		t.Errorf("30 mm high: exit %d\n%s", code, page)
	}
}

func TestCompareByTapeWrongly(t *testing.T) {
	shed := tapedFile(t, "shed.csv", shedOutline, shedDrain, shedPond)
	other := tapedFile(t, "other.csv", `;;;OUTLINE rect=80x60ft edge=wall name="Shed"`, shedDrain, shedPond)
	grid := comparedRoof(t, "grid.geojson", 0)
	small := tapedFile(t, "small.csv", `;;;OUTLINE rect=12x9m edge=wall name="Shed"`, `6m from W wall, 4m from S wall;20mm;;POND 1 size=3x2m hours=50`)
	rods := filepath.Join(t.TempDir(), "rods.csv")
	if err := os.WriteFile(rods, []byte("place;rod;code\n;;OUTLINE rect=12x9m edge=wall\n6 m from W wall, 4 m from S wall;1.2m;SPOT\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"with their middles not at one place":   {shed, other},
		"give both to check, which compares":    {small, grid},
		"read the bench mark of the set-out":    {grid, rods, "--planned"},
		"and this asks for heights all over it": {small, small, "--planned"},
	} {
		if _, said, code := compares(t, args...); code == call.ExitDone || !strings.Contains(said, want) {
			t.Errorf("%v: %d %s", args, code, said)
		}
	}
}
