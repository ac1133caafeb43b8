package command_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// The files beside a survey are read with limits, and a file that is not what it should be is not told.
func TestFilesBesideASurvey(t *testing.T) {
	dir := t.TempDir()
	roof := file(t, dir, "slab.geojson", slab)
	const secret = "swordfish"
	private := file(t, dir, "private", strings.Repeat("name: x, password: "+secret+"\n", 40))
	twice := file(t, dir, "twice.json", "{\"pond_depth\": \"1/2 in\",\n\"pond_depth\": \"1/4 in\"}")
	broken := file(t, dir, "broken.json", "{\"pond_depth\":\n  1/2}")
	zip := file(t, dir, "limits.zip", "PK\x03\x04\x14\x00")
	great := file(t, dir, "great.json", "{")
	if err := os.Truncate(great, 1<<40); err != nil { // 1 TB, a hole in the file
		great = private
	}
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	twiceBoards := file(t, dir, "boards.json", "{\"length\": \"4 ft\",\n\"length\": \"8 ft\"}")
	twicePrices := file(t, dir, "prices.json", "{\"currency\": \"$\",\n\"currency\": \"kr\"}")
	storm := []string{"storm", roof, "--duration", "1h"}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"check", roof, "--criteria", private}, "line 1, column 2: this is not JSON"},
		{[]string{"check", roof, "--criteria", twice}, `line 2: "pond_depth" stands already on line 1`},
		{[]string{"check", roof, "--criteria", broken}, "line 2, column 4: this is not JSON"},
		{[]string{"check", roof, "--criteria", zip}, "a workbook or an archive (zip)"},
		{[]string{"check", roof, "--criteria", pipe}, "this is a pipe or a device, not a file"},
		{[]string{"check", roof, "--criteria", "/dev/zero"}, "this is a pipe or a device, not a file"},
		{[]string{"check", roof, "--criteria", dir}, "this is a folder, not a file"},
		{[]string{"check", roof, "--criteria", filepath.Join(dir, "none")}, "no such file"},
		{[]string{"check", roof, "--criteria", great}, "the file is over 1 MB"},
		{[]string{"check", roof, "--materials", private}, "line 1, column 2: this is not JSON"},
		{[]string{"check", roof, "--materials", pipe}, "this is a pipe or a device"},
		{[]string{"check", roof, "--materials", great}, "the file is over 1 MB"},
		{[]string{"check", roof, "--code-list", private}, "this is no list of codes"},
		{[]string{"check", roof, "--code-list", pipe}, "this is a pipe, not a file"},
		{[]string{"check", roof, "--code-list", "/dev/zero"}, "this is a device, not a file"},
		{[]string{"check", roof, "--code-list", great}, "the list of codes is over 1 MB"},
		{[]string{"check", roof, private, "--units", "m", "--columns", "point,x,y,z,code"}, "line 1: no columns for the place"},
		{[]string{"correct", roof, "--boards", twiceBoards}, `line 2: "length" stands already on line 1`},
		{[]string{"correct", roof, "--boards", private}, "line 1, column 2: this is not JSON"},
		{[]string{"correct", roof, "--boards", pipe}, "this is a pipe or a device"},
		{[]string{"correct", roof, "--prices", twicePrices}, `line 2: "currency" stands already on line 1`},
		{[]string{"correct", roof, "--prices", private}, "line 1, column 2: this is not JSON"},
		{[]string{"correct", roof, "--prices", great}, "the file is over 1 MB"},
		{append(storm, "--pattern", private), "line 1: the heading"},
		{append(storm, "--pattern", pipe), "this is a pipe or a device"},
		{append(storm, "--pattern", great), "the file is over 16 MB"},
		{append(storm, "--pattern", zip), "a workbook or an archive (zip)"},
		{append(storm, "--pattern", "alternating", "--intensities", pipe), "this is a pipe or a device"},
		{append(storm, "--pattern", "alternating", "--intensities", private), "line 1: the heading"},
	} {
		if c.says == "the file is over 1 MB" && great == private {
			continue // no such hole on this file system
		}
		code, _, err := run(t, c.args...)
		if code != 3 || !strings.Contains(err, c.says) || strings.Contains(err, secret) || len(err) > 2500 {
			t.Errorf("%v: exit %d: %s", c.args, code, err)
		}
	}
}

// Factors and sizes that no roof has are refused, and quickly.
func TestAbsurdFactors(t *testing.T) {
	roof := file(t, t.TempDir(), "slab.geojson", slab)
	for _, args := range [][]string{
		{"--tolerance", "1e300"},
		{"--tolerance", "1e-300"},
		{"--tolerance", "0"},
		{"--tolerance", "-1"},
		{"--tolerance", "NaN"},
		{"--tolerance", "inf"},
		{"--tolerance", "101"},
		{"--contour", "1e-9 in"},
		{"--contour", "1e300 m"},
		{"--pond-depth", "1e300 m"},
		{"--min-slope", "1e300"},
		{"--min-valley-slope", "1e300%"},
		{"--near-outlet", "1e300 m"},
		{"--max-travel", "1e300 m"},
		{"--rain-primary", "1e300 mm/h"},
	} {
		if code, _, err := run(t, append([]string{"check", roof}, args...)...); code != 2 {
			t.Errorf("%v: exit %d: %s", args, code, err)
		}
	}
	for _, args := range [][]string{{"--tolerance", "0.01"}, {"--tolerance", "100"}, {"--tolerance", "2"}} {
		if code, _, err := run(t, append([]string{"check", roof}, args...)...); code != 0 && code != 3 {
			t.Errorf("%v: exit %d: %s", args, code, err)
		}
	}
}
