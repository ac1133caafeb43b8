//go:build unix

package command_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"runnel/export/record"
)

// inLong returns a size: that of the long form where RUNNEL_LONG is set.
func inLong(short, long int) int {
	if os.Getenv("RUNNEL_LONG") != "" {
		return long
	}
	return short
}

// table reads campus.csv: each row by the names of its columns.
func table(t *testing.T, dir string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, "campus.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// Of many roofs of which one in a hundred is broken, in twenty ways, each broken one is a row with its reason, and all others are checked.
func TestBrokenRoofsOfACampus(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	roofs := inLong(500, 10000)
	in := filepath.Join(dir, "in")
	broken := makeCampus(t, in, roofs)
	if roofs == 500 { // each way once
		for k, s := range spoil {
			file(t, in, fmt.Sprintf("spoilt-%02d.geojson", k), s.do(usualRoof(k).text()))
			broken, roofs = broken+1, roofs+1
		}
	}
	out := filepath.Join(dir, "out")
	code, page, errs := run(t, "campus", in, "-o", out, "--write", "none")
	if code != 4 || !strings.Contains(page, fmt.Sprintf("Roofs checked: %s. Could not be checked: %s.", record.Count(float64(roofs-broken)), record.Count(float64(broken)))) {
		t.Fatalf("exit %d: %.400s %s", code, page, errs)
	}
	rows, failed := table(t, out), 0
	for _, row := range rows {
		if (row["status"] == "failed") != (row["reason"] != "") || strings.Contains(row["reason"], "internal fault") {
			t.Errorf("%s: status %s, reason %q", row["name"], row["status"], row["reason"])
		}
		if row["reason"] != "" {
			failed++
			if !strings.Contains(row["reason"], ":") && !strings.Contains(row["reason"], "(") {
				t.Logf("%s: %s", row["name"], row["reason"])
			}
		}
	}
	if len(rows) != roofs || failed != broken {
		t.Errorf("%d rows of %d roofs, %d failed of %d", len(rows), roofs, failed, broken)
	}
}

// A run that is killed at some moment goes on where it stopped, and ends with the same bytes as one that nobody disturbed. One that was killed when all its files stood
// in their places, before it could say so, is over: the same call then refuses to replace them.
func TestKilledCampusGoesOn(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	makeCampus(t, filepath.Join(dir, "in"), inLong(24, 60))
	args := []string{"campus", filepath.Join(dir, "in"), "-o"}
	whole := filepath.Join(dir, "whole")
	first := called(t, append(args, whole)...) // built before the clock runs
	start := time.Now()
	if got := code(t, first.Run()); got != 4 { // one is broken
		t.Fatalf("exit %d", got)
	}
	takes := time.Since(start)
	want := contents(t, whole)
	random := rand.New(rand.NewPCG(1, 3)) //nolint:gosec // only moments
	for i := range inLong(6, 50) {
		out := filepath.Join(dir, "out")
		kills := 0
		for ; kills < 3; kills++ {
			c := called(t, append(args, out)...)
			var errs bytes.Buffer
			c.Stderr = &errs
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration(random.Float64() * 1.2 * float64(takes)))
			_ = c.Process.Kill()
			if over(code(t, c.Wait()), errs.String()) {
				break
			}
			if i%2 == 0 { // the journal is cut off in the middle of a line
				tear(t, filepath.Join(out, ".runnel-campus", "journal"))
			}
		}
		if kills == 3 {
			c := called(t, append(args, out)...)
			if text, err := c.CombinedOutput(); !over(code(t, err), string(text)) {
				t.Fatalf("after %d kills: %s", kills, text)
			}
		}
		if got := contents(t, out); !maps.Equal(got, want) {
			t.Errorf("round %d: after %d kills the results differ: %d files, want %d: %v", i, kills, len(got), len(want), differing(got, want))
		}
		if err := os.RemoveAll(out); err != nil {
			t.Fatal(err)
		}
	}
}

// over reports whether a run of a campus with a broken roof is done, or says that an earlier one was.
func over(code int, text string) bool {
	return code == 4 || code == 2 && strings.Contains(text, "campus.html: output exists")
}

// tear cuts some bytes off a journal, as a loss of power may. What says that files move to their places is never lost: it is on the disk before the first one moves.
func tear(t *testing.T, path string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil || len(text) <= 20 || bytes.HasSuffix(text, []byte(" placing\n")) {
		return
	}
	if err := os.Truncate(path, int64(len(text)-7)); err != nil {
		t.Fatal(err)
	}
}

func differing(a, b map[string]string) (names []string) {
	for name, text := range a {
		if b[name] != text {
			names = append(names, name)
		}
	}
	for name := range b {
		if _, ok := a[name]; !ok {
			names = append(names, name+" is missing")
		}
	}
	slices.Sort(names)
	return names[:min(5, len(names))]
}

// Parts that are checked by runs of their own, at once, and put together are what one run writes, byte for byte.
func TestPartsOfACampus(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	makeCampus(t, in, 60)
	whole, out := filepath.Join(dir, "whole"), filepath.Join(dir, "parts")
	args := []string{"campus", in, "--write", "json", "--rank", "water", "-o"}
	wantCode, wantPage, _ := run(t, append(args, whole)...)
	if code, _, errs := run(t, "campus", "merge", out); code != 3 {
		t.Errorf("nothing to merge: exit %d: %s", code, errs)
	}
	var all []*exec.Cmd
	for _, part := range []string{"1/3", "3/3"} {
		c := called(t, append(args, out, "--shard", part)...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		all = append(all, c)
	}
	for i, c := range all {
		if got := code(t, c.Wait()); got != 0 && got != 4 {
			t.Fatalf("part %d: exit %d", i, got)
		}
	}
	if code, _, errs := run(t, "campus", "merge", out); code != 3 || !strings.Contains(errs, "2 of 3 parts are there; wanting: [2]") {
		t.Errorf("a part is wanting: exit %d: %s", code, errs)
	}
	if code, _, errs := run(t, append(args, out, "--shard", "2/3", "--workers", "1")...); code != 0 && code != 4 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	gotCode, gotPage, errs := run(t, "campus", "merge", out)
	if gotCode != wantCode || gotPage != wantPage {
		t.Errorf("exit %d, want %d: %s\n%s\nwant\n%s", gotCode, wantCode, errs, gotPage, wantPage)
	}
	if got, want := contents(t, out), contents(t, whole); !maps.Equal(got, want) {
		t.Errorf("the results differ: %v", differing(got, want))
	}
}

// A sequence of texts gives the same rows whether it comes as lines, as RFC 8142 has it, or through stdin; a broken text is a row.
func TestSequenceOfRoofs(t *testing.T) {
	dir := t.TempDir()
	var lines, records bytes.Buffer
	for i := range 7 {
		text := usualRoof(i).text()
		if i == 3 {
			text = text[:100] + "\n"
		}
		lines.WriteString(text + "\n")
		records.WriteString("\x1e" + strings.ReplaceAll(text, `,"features"`, ",\n \"features\""))
	}
	seq := file(t, dir, "roofs.geojsons", records.String())
	nd := file(t, dir, "roofs.ndjson", lines.String())
	want := ""
	for what, args := range map[string][]string{"lines": {nd}, "records": {seq}, "stdin": {"-"}} {
		out := filepath.Join(dir, what)
		c := called(t, append([]string{"campus", "-o", out, "--write", "none"}, args...)...)
		c.Stdin = bytes.NewReader(lines.Bytes())
		var errs bytes.Buffer
		c.Stderr = &errs
		if got := code(t, c.Run()); got != 4 {
			t.Fatalf("%s: exit %d: %s", what, got, errs.String())
		}
		var rows []string
		for _, row := range table(t, out) {
			if row["status"] == "failed" {
				if row["name"] != map[string]string{"stdin": "stdin 4"}[what] && row["name"] != "roofs 4" {
					t.Errorf("%s: the broken text is called %q", what, row["name"])
				}
				continue
			}
			rows = append(rows, row["name"]+" "+row["spots"]+" "+row["volume_l"])
		}
		slices.Sort(rows)
		if got := strings.Join(rows, "\n"); len(rows) != 6 || want != "" && got != want {
			t.Errorf("%s: %s, want %s", what, got, want)
		} else {
			want = got
		}
	}
}

// A campus takes under 200 MB, however many roofs it has. Its speed is told beside that of the plain loop over its files:
// RUNNEL_LONG=1 go test -v -run CampusSpeed ./cmd/command.
func TestCampusSpeed(t *testing.T) {
	dir, sizes, looped := t.TempDir(), []int{100}, 5
	if os.Getenv("RUNNEL_LONG") != "" {
		sizes, looped = []int{1000, 10000}, 200
	}
	for _, roofs := range sizes {
		in := filepath.Join(dir, fmt.Sprint(roofs))
		makeCampus(t, in, roofs)
		for _, kinds := range []string{"none", "json", "geojson,json"} {
			c := called(t, "campus", in, "-o", filepath.Join(dir, "out"), "--write", kinds)
			start := time.Now()
			text, most, err := outputOf(c)
			if got := code(t, err); got != 4 {
				t.Fatalf("exit %d: %s", got, text)
			}
			consumed(t, fmt.Sprintf("%d roofs, --write %s", roofs, kinds), roofs, time.Since(start), most, c.ProcessState)
			if err := os.RemoveAll(filepath.Join(dir, "out")); err != nil {
				t.Fatal(err)
			}
		}
	}
	files, err := filepath.Glob(filepath.Join(dir, fmt.Sprint(sizes[0]), "*"))
	if err != nil {
		t.Fatal(err)
	}
	var used time.Duration
	start := time.Now()
	for _, path := range files[:looped] {
		c := called(t, "check", path)
		_ = c.Run()
		used += c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	}
	t.Logf("%d roofs, the plain loop of check: %.0f roofs/s, %.1f ms of CPU a roof", looped, float64(looped)/time.Since(start).Seconds(),
		float64(used.Milliseconds())/float64(looped))
}
