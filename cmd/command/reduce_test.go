package command_test

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// notes is the levelling exercise of package levelling's test, with two intermediate sights added. By hand: the line of sight of the
// first set-up is 103.10, point 1 stands at 98.85, less 0.01 shared out; that of the second is 99.72, point 2 at 94.72, less 0.02.
const notes = "station,bs_ft,is_ft,fs_ft,elevation_ft,x,y,code\n" +
	"BM1,3.10,,,100.00,,,\n1,,4.25,,,1.5,2,\nTP1,6.44,,9.82,,,,\n2,,5.00,,,8,2,DRAIN d=4in\n" +
	"TP2,8.76,,6.96,,,,\nTP3,7.12,,3.27,,,,\nBM2,,,10.42,94.91,,,\n"

func TestReduceWritesSpots(t *testing.T) {
	dir := t.TempDir()
	book, spots := file(t, dir, "notes.csv", notes), filepath.Join(dir, "spots.csv")
	code, out, text := run(t, "reduce", book, "--allow", "0.03 ft", "-o", spots)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, text)
	}
	for _, want := range []string{"backsights 25.420 less foresights 30.470 = -5.050; last less first = -5.050", "Misclosure +0.040; 0.060 is allowed"} {
		if !strings.Contains(out, want) {
			t.Errorf("the page lacks %q:\n%s", want, out)
		}
	}
	data, err := os.ReadFile(spots)
	want := "point,x,y,code,elevation_ft\n1,1.5,2,,98.840\n2,8,2,DRAIN d=4in,94.700\n"
	if err != nil || string(data) != want {
		t.Errorf("got %v\n%s\nwant\n%s", err, data, want)
	}
}

// What a run that was cut short had left in the folder is put right, and said.
func TestReduceSaysWhatAnEarlierRunLeft(t *testing.T) {
	dir := t.TempDir()
	head := "runnel journal 1\n"
	left := file(t, dir, ".runnel-1-1", head+fmt.Sprintf("end %08x\n", crc32.ChecksumIEEE([]byte(head))))
	code, _, said := run(t, "reduce", file(t, dir, "notes.csv", notes), "--allow", "0.03 ft", "-o", filepath.Join(dir, "spots.csv"))
	if want := "warning: " + dir + ": an earlier run was cut short while it put its files in place; all is again as it was before that run.\nwrote "; code != 0 || !strings.Contains(said, want) {
		t.Errorf("code %d, said %q, want %q", code, said, want)
	}
	if _, err := os.Lstat(left); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("it stands there yet: %v", err)
	}
}

func TestReduceRefuses(t *testing.T) {
	for _, c := range []struct {
		name, notes, want string
		args              []string
		code              int
	}{
		{"closes badly", notes, "closes by +0.040", nil, 3},
		{"no unit", "station,bs,fs,elevation\nA,1,,10\n", "has no unit", nil, 3},
		{"no columns", "a,b\n1,2\n", "no column names the stations", nil, 3},
		{"level and laser", "station,bs,rod,elevation\nA,1,1,10\n", "neither those of a level nor", nil, 3},
		{"not a number", "station,bs_m,fs_m,elevation_m\nA,x,,10\n", "line 2", nil, 3},
		{"short row", "station,bs_m,fs_m,elevation_m\nA,1\n", "the row has 2 fields where 4 belong", nil, 3},
		{"no backsight", "station,is_m,bs_m,elevation_m\nA,1,,\n", "before any backsight", nil, 3},
		{"allowance", notes, "above zero", []string{"--allow", "-1 mm"}, 2},
		{"unmeasured", "station,bs_m,fs_m,elevation_m\nA,1,,1e300\nB,,1,\n", "no roof stands at an elevation of 1e+300 m", nil, 3},
		{"mistyped", "station,bs_m,fs_m,elevation_m\nA,123456,,10\nB,,1,\n", "longer than any rod", nil, 3},
		{"no name", notes, "--out is empty", []string{"-o", ""}, 2},
		{"workbook", "PK\x03\x04....", "a workbook or an archive", nil, 3},
	} {
		dir := t.TempDir()
		spots := filepath.Join(dir, "spots.csv")
		code, _, text := run(t, append([]string{"reduce", file(t, dir, "notes.csv", c.notes), "-o", spots}, c.args...)...)
		if code != c.code || !strings.Contains(text, c.want) {
			t.Errorf("%s: exit %d: %s", c.name, code, text)
		}
		if _, err := os.Stat(spots); err == nil {
			t.Errorf("%s: spots were written", c.name)
		}
	}
}

// Rods read down from a laser, in feet and inches. By hand: line of sight 100 ft + 5' 3-1/4" = 105.2708 ft; less 5' 6" = 99.7708 ft.
func TestReduceALaser(t *testing.T) {
	dir := t.TempDir()
	code, out, text := run(t, "reduce", file(t, dir, "rods.csv", "station;rod;elevation;x;y\nBM;5' 3-1/4\";100;0;0\n7;5' 6\";;4;5\n"), "--units", "ft")
	if code != 0 || !strings.Contains(out, "99.771") {
		t.Errorf("exit %d: %s%s", code, out, text)
	}
}

// A spreadsheet runs what begins like a formula, whoever wrote it into the notes; places are numbers and stay.
func TestReduceWritesNoFormulas(t *testing.T) {
	dir := t.TempDir()
	spots := filepath.Join(dir, "spots.csv")
	book := file(t, dir, "notes.csv", "station,bs_m,is_m,elevation_m,x,y,code\nBM,1,,10,-1.5,-2' 3\",@SUM(A1)\n=1+1,,2,,-7 ft,4,+DRAIN|x\n")
	if code, _, text := run(t, "reduce", book, "-o", spots); code != 0 {
		t.Fatalf("exit %d: %s", code, text)
	}
	want := "point,x,y,code,elevation_m\nBM,-1.5,\"-2' 3\"\"\",'@SUM(A1),10.0000\n'=1+1,-7 ft,4,'+DRAIN|x,9.0000\n"
	if data, err := os.ReadFile(spots); err != nil || string(data) != want {
		t.Errorf("got %v\n%s\nwant\n%s", err, data, want)
	}
}
