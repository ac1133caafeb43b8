package command

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"runnel/cmd/call"
)

// sheetIn writes a survey sheet and returns its folder and what was said.
func sheetIn(t *testing.T, args ...string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "visit")
	var out, said bytes.Buffer
	if code := Main(append([]string{"sheet", "-o", dir}, args...), call.Streams{Out: &out, Err: &said}); code != call.ExitDone {
		t.Fatalf("code %d: %s", code, said.String())
	}
	return dir
}

// The file beside a blank sheet is refused by no reader once its examples are taken as rows: a taped roof with what holds its pond.
func TestBlankSheetReadsBack(t *testing.T) {
	dir := sheetIn(t)
	text, err := os.ReadFile(filepath.Join(dir, "survey-sheet.csv"))
	if err != nil {
		t.Fatal(err)
	}
	filled := regexp.MustCompile(`(?m)^#([0-9;])`).ReplaceAll(text, []byte("$1"))
	path := filepath.Join(dir, "filled.csv")
	if err := os.WriteFile(path, filled, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, said bytes.Buffer
	if code := Main([]string{"check", path}, call.Streams{Out: &out, Err: &said}); code != call.ExitDone || !strings.Contains(out.String(), "The outlet is set high") ||
		!strings.Contains(strings.Join(strings.Fields(out.String()), " "), "Seen 2026-03-14 by A. Person, 50 hours after rain, instrument: level. Weather: dry, 45 F, light wind.") {
		t.Errorf("code %d: %s\n%s", code, said.String(), out.String())
	}
}

// The file beside the sheet of a known roof lists the wanted spots; one with its rod filled in is a spot more.
func TestKnownSheetReadsBack(t *testing.T) {
	roof := comparedRoof(t, "roof.geojson", 0.06)
	dir := sheetIn(t, roof)
	path := filepath.Join(dir, "shed.survey-sheet.csv")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(string(text), "\n")
	if len(rows) < 3 || !strings.HasPrefix(rows[2], "#M01;") {
		t.Fatalf("%s", text)
	}
	rows[2] = strings.Replace(strings.TrimPrefix(rows[2], "#"), ";;SPOT", ";1.5;SPOT", 1)
	if err := os.WriteFile(path, []byte(strings.Join(rows, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	// The lip of the pond is wanted again, where spot S24 stood at 10.06 m; 11.60 - 1.50 is 10.10 m.
	var out, said bytes.Buffer
	if code := Main([]string{"check", roof, path, "--hi", "11.6"}, call.Streams{Out: &out, Err: &said}); code != call.ExitRefused || !strings.Contains(said.String(), "10.1000") {
		t.Errorf("beside the spot that stood there: %d %s", code, said.String())
	}
	said.Reset()
	if code := Main([]string{"check", roof, path, "--hi", "11.6", "--drop", "S24"}, call.Streams{Out: &out, Err: &said}); code != call.ExitDone || !strings.Contains(out.String(), "63 spots") {
		t.Errorf("code %d: %s\n%s", code, said.String(), out.String())
	}
}

// The paper has a line for all that a visit asks for; that of a known roof names its outlets, its plan and the spots wanted.
func TestSheetOnPaper(t *testing.T) {
	needsPdftotext(t)
	read := func(path string) string { return pageText(t, path) }
	blank := read(filepath.Join(sheetIn(t), "survey-sheet.pdf"))
	for _, want := range []string{"Before you go up", "Nobody goes onto a deep pond", "Hours since rain", "Line of sight", "Outlets", "1 ft 2 ft 4 ft", "Ponds", "Cores", "Readings", "Warrantor", "Sketch"} {
		if !strings.Contains(blank, want) {
			t.Errorf("the blank sheet lacks %q:\n%s", want, blank)
		}
	}
	known := read(filepath.Join(sheetIn(t, comparedRoof(t, "roof.geojson", 0.06)), "shed.survey-sheet.pdf"))
	for _, want := range []string{"Survey sheet: Shed", "0.3 m 0.6 m 1.2 m", "Spots to take, in walking order", "M01", "Scale 1:"} {
		if !strings.Contains(known, want) {
			t.Errorf("the sheet of a known roof lacks %q:\n%s", want, known)
		}
	}
}

func TestSheetWrongly(t *testing.T) {
	var said bytes.Buffer
	if code := Main([]string{"sheet"}, call.Streams{Out: &said, Err: &said}); code != call.ExitUsage || !strings.Contains(said.String(), "-o FOLDER") {
		t.Errorf("%d %s", code, said.String())
	}
}

// The sheet of a taped roof names its outlets and ponds and the heights wanted next; the file beside it, with some rods filled in, goes on with the roof's own file to tier B.
func TestTapedSheetReadsBack(t *testing.T) {
	needsPdftotext(t)
	shed := tapedFile(t, "shed.csv", shedOutline, shedDrain, shedPond)
	dir := sheetIn(t, shed)
	page := pageText(t, filepath.Join(dir, "shed.survey-sheet.pdf"))
	for _, want := range []string{"The roof as it was taped", "Heights to read, in walking order", "the inlet of RD-1", "1 ft from RD-1 toward P1"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in %s", want, page)
		}
	}
	path := filepath.Join(dir, "shed.survey-sheet.csv")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	filled := regexp.MustCompile(`(?m)^#(X\d+;[^;]*);;`).ReplaceAll(text, []byte("$1;4.5 ft;"))
	if err := os.WriteFile(path, filled, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, said bytes.Buffer
	if code := Main([]string{"check", shed, path}, call.Streams{Out: &out, Err: &said}); code != call.ExitDone || !strings.Contains(out.String(), "Shed (tier B)") {
		t.Errorf("code %d: %s\n%s", code, said.String(), out.String())
	}
}
