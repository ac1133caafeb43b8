package campus

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/cmd/call"
)

// ran calls "runnel campus" in this process and returns its exit code and what it said.
func ran(t *testing.T, s call.Streams, args ...string) (code int, page, said string) {
	t.Helper()
	var out, errs bytes.Buffer
	if s.Out == nil {
		s.Out = &out
	}
	if s.Err == nil {
		s.Err = &errs
	}
	c := New(s)
	c.SilenceErrors, c.SilenceUsage = true, true
	c.SetArgs(args)
	err := c.Execute()
	return call.ExitCode(err), out.String(), errs.String() + call.Explain(err)
}

// hollow is a roof of 9 by 9 m that falls from 1 m at its edges to low in its middle, where water stands.
func hollow(low float64) string {
	return fmt.Sprintf(`{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","edge":"free"},"geometry":{"type":"Polygon","coordinates":[[[0,0,1],[9,0,1],[9,9,1],[0,9,1],[0,0,1]]]}},
{"type":"Feature","properties":{"role":"spot","id":"7"},"geometry":{"type":"Point","coordinates":[4,4,%[1]g]}},
{"type":"Feature","properties":{"role":"spot","id":"8"},"geometry":{"type":"Point","coordinates":[5,4,%[1]g]}},
{"type":"Feature","properties":{"role":"spot","id":"9"},"geometry":{"type":"Point","coordinates":[4,5,%[1]g]}}]}`, low)
}

// folder writes files into a new folder.
func folder(t *testing.T, texts map[string]string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "auf maß")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range texts {
		put(t, filepath.Join(dir, name), text)
	}
	return dir
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// contents are the files of a folder by name; nil where there is no folder.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, e := range entries {
		if e.IsDir() {
			all[e.Name()] = "a folder"
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all[e.Name()] = string(data)
	}
	return all
}

// same holds two folders to the same files with the same bytes.
func same(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	if names, wanted := slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)); !slices.Equal(names, wanted) {
		t.Errorf("%s: files %q, want %q", what, names, wanted)
		return
	}
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s: %s is another file", what, name)
		}
	}
}

// three are three roofs whose names carry blanks and umlauts.
func three(t *testing.T) string {
	t.Helper()
	return folder(t, map[string]string{"Dach über Tor 1.geojson": hollow(0.9), "hall b.geojson": hollow(0.95), "zoo.geojson": hollow(0.999)})
}

// What a command line cannot mean together is refused before anything is read or written: exit code 2.
func TestWrongCommandLines(t *testing.T) {
	in := three(t)
	out := filepath.Join(t.TempDir(), "out")
	for _, c := range []struct {
		args []string
		says string
	}{
		{nil, "campus: give a folder, or the files of a campus\nSee campus --help."},
		{[]string{in}, "campus needs a folder to write into: -o FOLDER"},
		{[]string{in, "-o", out, "--workers", "0"}, "--workers 0: give 1 or more"},
		{[]string{in, "-o", out, "--roof-timeout", "0s"}, "--roof-timeout 0s: give a time above 0"},
		{[]string{in, "-o", out, "--roof-timeout", "-1s"}, "--roof-timeout -1s: give a time above 0"},
		{[]string{in, "-o", out, "--rank", "beauty"}, "--rank: "},
		{[]string{in, "-o", out, "--shard", "4/3"}, `--shard "4/3": give a part and how many there are, such as 3/8`},
		{[]string{in, "-o", out, "--queue", "http://x"}, "--queue: "},
		{[]string{in, "-o", out, "--queue", "nats://127.0.0.1:1", "--shard", "1/2"}, "give --queue or --shard: a queue hands out parts by itself"},
		{[]string{in, "-o", out, "--queue", "nats://127.0.0.1:1", "--workers", "2"}, "--workers goes with runnel worker: with --queue this call checks nothing itself"},
		{[]string{in, "-o", out, "--write", "plans"}, `--write plans: unknown kind "plans"`},
		{[]string{in, "-o", out, "--write", "none", "--spots"}, "--sheet, --scale and --spots are for the plan"},
		{[]string{in, "-o", out, "--units-out", "metric"}, `--units-out "metric": give us or si`},
		{[]string{in, "-o", out, "--fail-on", "all"}, `--fail-on "all": use note, repair or urgent`},
		{[]string{in, "-o", out, "--min-slope", "steep"}, "--min-slope: "},
		{[]string{"merge"}, "campus merge: give the folder that holds the parts"},
		{[]string{"merge", in, in}, "is one argument too many: give the folder that holds the parts"},
		{[]string{"merge", in, "--units-out", "metric"}, `--units-out "metric": give us or si`},
		{[]string{"compare", in}, "campus compare: give the folders of two runs of campus, the earlier one first"},
		{[]string{"compare", in, in, in}, "is one argument too many"},
	} {
		code, page, said := ran(t, call.Streams{}, c.args...)
		if code != call.ExitUsage || !strings.Contains(said, c.says) || page != "" {
			t.Errorf("%q: exit %d, %q; want %q", c.args[min(1, len(c.args)):], code, said, c.says)
		}
		if contents(t, out) != nil {
			t.Fatalf("%q wrote %v", c.args, contents(t, out))
		}
	}
}

// What cannot be read or written at all ends the run: exit code 3, and nothing is left.
func TestCampusesThatCannotBe(t *testing.T) {
	in := three(t)
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a file"), "x")
	empty := folder(t, nil)
	for _, c := range []struct {
		args []string
		out  string
		says string
	}{
		{[]string{filepath.Join(dir, "lost")}, "out", "there is no such file or folder; check the path"},
		{[]string{empty}, "out", "there is no roof to read; name folders that hold survey files themselves"},
		{[]string{in}, "a file", "a file"},
		{[]string{in}, "a file/deeper", "a file"},
		{[]string{in, "--criteria", filepath.Join(dir, "lost.json")}, "out", "criteria: " + filepath.Join(dir, "lost.json") + ": no such file or directory"},
		{[]string{in, "--criteria", filepath.Join(dir, "a file")}, "out", "criteria: "},
	} {
		code, page, said := ran(t, call.Streams{}, append(c.args, "-o", filepath.Join(dir, c.out))...)
		if code != call.ExitRefused || !strings.Contains(said, c.says) || page != "" {
			t.Errorf("%q: exit %d, %q; want %q", c.args, code, said, c.says)
		}
	}
	if got := contents(t, dir); len(got) != 1 || got["a file"] != "x" {
		t.Errorf("left behind: %q", slices.Sorted(maps.Keys(got)))
	}
}

// Roofs that cannot be checked are rows with their reasons, and the others are checked: exit code 4, whatever --fail-on asks; findings alone are 1 where it asks.
func TestExitCodesOfACampus(t *testing.T) {
	for _, c := range []struct {
		texts  map[string]string
		failOn string
		code   int
	}{
		{map[string]string{"a.geojson": hollow(0.9)}, "", call.ExitDone},
		{map[string]string{"a.geojson": hollow(0.9)}, "repair", call.ExitFindings},
		{map[string]string{"a.geojson": hollow(1.1)}, "urgent", call.ExitDone},
		{map[string]string{"a.geojson": hollow(0.9), "b.geojson": "{"}, "", call.ExitPartial},
		{map[string]string{"a.geojson": hollow(0.9), "b.geojson": "{"}, "repair", call.ExitPartial},
		{map[string]string{"b.geojson": "{"}, "", call.ExitPartial},
	} {
		out := filepath.Join(t.TempDir(), "out")
		args := []string{folder(t, c.texts), "-o", out, "--write", "none"}
		if c.failOn != "" {
			args = append(args, "--fail-on", c.failOn)
		}
		code, _, said := ran(t, call.Streams{}, args...)
		if code != c.code {
			t.Errorf("%q, --fail-on %q: exit %d, want %d: %s", slices.Sorted(maps.Keys(c.texts)), c.failOn, code, c.code, said)
		}
		rows := contents(t, out)["campus.ndjson"]
		if strings.Count(rows, "\n") != len(c.texts) || strings.Contains(rows, "cut off") != (c.texts["b.geojson"] != "") {
			t.Errorf("rows %s", rows)
		}
	}
}

// However many roofs are done at a time the same files come out; a run over parts of the roofs, merged, writes those of the whole.
func TestTheSameBytesHoweverTheRoofsAreDone(t *testing.T) {
	in := three(t)
	home := t.TempDir()
	at := func(name string) string { return filepath.Join(home, name) }
	args := []string{in, "--write", "geojson,json", "--rank", "water,load"}
	code, page, said := ran(t, call.Streams{}, append(args, "-o", at("one"), "--workers", "1")...)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, said)
	}
	want := contents(t, at("one"))
	for _, name := range []string{"dach-uber-tor-1.local.geojson", "hall-b.json", "zoo.json", "campus.html", "campus.csv", "campus.xlsx", "campus.gpkg", "campus.ndjson", "campus.geojson"} {
		if want[name] == "" {
			t.Errorf("no %s among %q", name, slices.Sorted(maps.Keys(want)))
		}
	}
	if _, again, _ := ran(t, call.Streams{}, append(args, "-o", at("many"), "--workers", "3")...); again != page {
		t.Errorf("three at a time:\n%s\nwant\n%s", again, page)
	}
	same(t, "three at a time", contents(t, at("many")), want)
	for _, shard := range []string{"2/2", "1/2"} {
		code, page, said := ran(t, call.Streams{}, append(args, "-o", at("parts"), "--shard", shard)...)
		checked := map[string]int{"1/2": 2, "2/2": 1}[shard]
		if says := fmt.Sprintf("Part %c of 2: roofs checked: %d. Could not be checked: 0.\nWhen all parts are there: runnel campus merge %s\n", shard[0], checked, at("parts")); code != 0 || page != says {
			t.Errorf("part %s: exit %d, %q, want %q; %s", shard, code, page, says, said)
		}
	}
	code, merged, said := ran(t, call.Streams{}, "merge", at("parts"))
	if code != 0 || merged != page {
		t.Errorf("merged: exit %d\n%s\nwant\n%s\n%s", code, merged, page, said)
	}
	same(t, "merged", contents(t, at("parts")), want)
}

// A merge names the part that is missing and writes nothing; what was merged is not merged again.
func TestPartsThatAreMissing(t *testing.T) {
	in, out := three(t), filepath.Join(t.TempDir(), "out")
	if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--write", "none", "--shard", "1/3"); code != 0 {
		t.Fatal(said)
	}
	before := contents(t, out)
	if code, page, said := ran(t, call.Streams{}, "merge", out); code != call.ExitRefused || page != "" || !strings.Contains(said, "2") || !strings.Contains(said, "part") {
		t.Errorf("exit %d, %q", code, said)
	}
	same(t, "after a merge that was refused", contents(t, out), before)
	for _, shard := range []string{"2/3", "3/3"} {
		if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--write", "none", "--shard", shard); code != 0 {
			t.Fatal(said)
		}
	}
	if code, _, said := ran(t, call.Streams{}, "merge", out, "--fail-on", "repair"); code != call.ExitFindings {
		t.Errorf("exit %d: %s", code, said)
	}
	if code, _, said := ran(t, call.Streams{}, "merge", out); code != call.ExitRefused {
		t.Errorf("merged once more: exit %d, %s", code, said)
	}
}

// Files that stand in the way are named before a roof is read, and nothing is changed; with --overwrite they are replaced, and what is not the run's stays.
func TestFilesInTheWay(t *testing.T) {
	in, out := three(t), filepath.Join(t.TempDir(), "out")
	if err := os.Mkdir(out, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"campus.csv", "zoo.json", "dach-uber-tor-1.local.geojson"} {
		put(t, filepath.Join(out, name), "mine")
		put(t, filepath.Join(out, "notes.txt"), "mine")
		before := contents(t, out)
		code, page, said := ran(t, call.Streams{}, in, "-o", out)
		if code != call.ExitUsage || !strings.Contains(said, name) || !strings.Contains(said, "Give --overwrite to replace it, or another folder.") || page != "" {
			t.Errorf("%s in the way: exit %d, %s", name, code, said)
		}
		same(t, name+" in the way", contents(t, out), before)
		if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--overwrite"); code != 0 {
			t.Errorf("%s replaced: exit %d, %s", name, code, said)
		}
		if got := contents(t, out); got[name] == "mine" || got[name] == "" || got["notes.txt"] != "mine" {
			t.Errorf("%s was not replaced, or notes were", name)
		}
		if err := os.RemoveAll(out); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(out, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	// The files of roofs of another part are not in the way of this one.
	put(t, filepath.Join(out, "zoo.json"), "mine") // the third roof
	if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--shard", "2/3"); code != 0 {
		t.Errorf("exit %d: %s", code, said)
	}
	if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--shard", "3/3"); code != call.ExitUsage || !strings.Contains(said, "zoo.json") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// full is a disk that takes no more.
type full struct{}

var errFull = errors.New("no space left on device")

func (full) Write([]byte) (int, error) { return 0, errFull }

// A run that cannot be finished, for its page finds no room, keeps what it has done: the same call goes on from there, and what comes out is what one run writes.
func TestARunThatWasStoppedGoesOn(t *testing.T) {
	in := three(t)
	home := t.TempDir()
	clean, out := filepath.Join(home, "aaa"), filepath.Join(home, "out")
	_, page, _ := ran(t, call.Streams{}, in, "-o", clean)
	code, _, said := ran(t, call.Streams{Out: full{}}, in, "-o", out)
	if code != call.ExitRefused || !strings.Contains(said, errFull.Error()) || !strings.Contains(said, "3 roofs are done; the same call goes on from there.") {
		t.Errorf("exit %d, %s", code, said)
	}
	for name := range contents(t, out) {
		if !strings.HasPrefix(name, ".runnel-") {
			t.Errorf("%s was put in its place", name)
		}
	}
	// Another call does not go on from it: its limits may be others.
	put(t, filepath.Join(in, "zoo.geojson"), hollow(0.5)) // changed meanwhile: it is checked anew
	code, got, said := ran(t, call.Streams{}, in, "-o", out)
	if code != 0 || !strings.Contains(said, "An earlier run had done 3 roofs; this one goes on from there.") {
		t.Errorf("exit %d, %s", code, said)
	}
	if got == page {
		t.Error("the roof that was changed was not checked anew")
	}
	if err := os.RemoveAll(clean); err != nil {
		t.Fatal(err)
	}
	_, page, _ = ran(t, call.Streams{}, in, "-o", clean)
	if got != page {
		t.Errorf("a run that went on says\n%s\nwant\n%s", got, page)
	}
	same(t, "a run that went on", contents(t, out), contents(t, clean))
}

// A run that was stopped and is called otherwise begins anew.
func TestAnotherCallBeginsAnew(t *testing.T) {
	in, out := three(t), filepath.Join(t.TempDir(), "out")
	if code, _, _ := ran(t, call.Streams{Out: full{}}, in, "-o", out); code != call.ExitRefused {
		t.Fatalf("exit %d", code)
	}
	code, _, said := ran(t, call.Streams{}, in, "-o", out, "--pond-depth", "1 in")
	if code != 0 || strings.Contains(said, "goes on from there") {
		t.Errorf("exit %d, %s", code, said)
	}
}

// stopper cancels a run when a text comes.
type stopper struct {
	bytes.Buffer
	at   string
	stop context.CancelFunc
}

func (s *stopper) Write(p []byte) (int, error) {
	if strings.Contains(string(p), s.at) {
		s.stop()
	}
	return s.Buffer.Write(p)
}

// A run that is interrupted after its first roof has done that one, or the next ones that were begun, and the same call does the rest.
func TestARunThatIsInterruptedGoesOn(t *testing.T) {
	in := three(t)
	home := t.TempDir()
	clean, out := filepath.Join(home, "aaa"), filepath.Join(home, "out")
	_, page, _ := ran(t, call.Streams{}, in, "-o", clean)
	ctx, stop := context.WithCancel(t.Context())
	errs := &stopper{at: "1 of 3 roofs", stop: stop}
	code, got, said := ran(t, call.Streams{Context: ctx, Err: errs, Terminal: true}, in, "-o", out, "--workers", "1")
	if code != call.ExitRefused || !strings.Contains(said, "context canceled") || got != "" || !strings.Contains(errs.String(), " done; the same call goes on from there.") {
		t.Errorf("exit %d, %s, %q", code, said, errs.String())
	}
	code, got, said = ran(t, call.Streams{}, in, "-o", out, "--workers", "2")
	if code != 0 || got != page || !strings.Contains(said, "An earlier run had done ") {
		t.Errorf("exit %d, %s:\n%s\nwant\n%s", code, said, got, page)
	}
	same(t, "a run that was interrupted", contents(t, out), contents(t, clean))
	// One that is ended before it begins leaves nothing.
	over, stop := context.WithCancel(t.Context())
	stop()
	none := filepath.Join(home, "none")
	if code, _, _ := ran(t, call.Streams{Context: over}, in, "-o", none); code != call.ExitRefused || contents(t, none) != nil {
		t.Errorf("exit %d, %v", code, contents(t, none))
	}
}

// Two runs compared: the page says what changed, with -o a table is written beside it, and a folder of no run is refused.
func TestComparing(t *testing.T) {
	home := t.TempDir()
	at := func(name string) string { return filepath.Join(home, name) }
	in := three(t)
	if code, _, said := ran(t, call.Streams{}, in, "-o", at("2025"), "--write", "none"); code != 0 {
		t.Fatal(said)
	}
	put(t, filepath.Join(in, "hall b.geojson"), hollow(0.7)) // 30 cm deep, was 5
	if code, _, said := ran(t, call.Streams{}, in, "-o", at("2026"), "--write", "none"); code != 0 {
		t.Fatal(said)
	}
	code, page, said := ran(t, call.Streams{}, "compare", at("2025"), at("2026"))
	if code != 0 || !strings.Contains(page, "hall b") || strings.Contains(page, "zoo") {
		t.Errorf("exit %d: %s%s", code, page, said)
	}
	code, again, said := ran(t, call.Streams{}, "compare", at("2025"), at("2026"), "-o", at("change"))
	if code != 0 || again != page || !strings.Contains(said, "wrote "+filepath.Join(at("change"), "campus.change.csv")) {
		t.Errorf("exit %d: %s", code, said)
	}
	table := contents(t, at("change"))["campus.change.csv"]
	if !strings.Contains(table, "hall b") {
		t.Errorf("table %s", table)
	}
	if code, _, said := ran(t, call.Streams{}, "compare", at("2025"), at("2026"), "-o", at("change")); code != call.ExitUsage || !strings.Contains(said, "campus.change.csv") {
		t.Errorf("a second time: exit %d, %s", code, said)
	}
	if code, _, said := ran(t, call.Streams{}, "compare", at("2025"), at("2026"), "-o", at("change"), "--overwrite"); code != 0 {
		t.Errorf("with --overwrite: exit %d, %s", code, said)
	}
	if code, _, said := ran(t, call.Streams{Out: full{}}, "compare", at("2025"), at("2026"), "-o", at("third")); code != call.ExitRefused || !strings.Contains(said, errFull.Error()) || len(contents(t, at("third"))) > 0 {
		t.Errorf("no room for the page: exit %d, %s, %v", code, said, contents(t, at("third")))
	}
	for _, args := range [][]string{{in, at("2026")}, {at("2025"), at("lost")}} {
		for _, more := range [][]string{nil, {"-o", at("fourth")}} {
			code, _, said := ran(t, call.Streams{}, append(append([]string{"compare"}, args...), more...)...)
			if code != call.ExitRefused || len(contents(t, at("fourth"))) > 0 {
				t.Errorf("%q: exit %d, %s", args, code, said)
			}
		}
	}
}

// Reports are written and linked where they are asked for, once, and results come in the units that were asked for: 0.1 m are 3-15/16 in.
func TestReportsAndUnits(t *testing.T) {
	in, out := folder(t, map[string]string{"a.geojson": hollow(0.9)}), filepath.Join(t.TempDir(), "out")
	if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--write", "json", "--reports", "--units-out", "us"); code != 0 {
		t.Fatal(said)
	}
	got := contents(t, out)
	if got["a.report.html"] == "" || got["a.json"] == "" || got["a.local.geojson"] != "" || !strings.Contains(got["campus.html"], "a.report.html") {
		t.Errorf("wrote %q", slices.Sorted(maps.Keys(got)))
	}
	if !strings.Contains(got["campus.html"], "3-7/8") { // to the eighth: 3.94 in
		t.Errorf("no depth in inches: %.3000s", got["campus.html"])
	}
	// With the report among the kinds it is written once.
	if code, _, said := ran(t, call.Streams{}, in, "-o", out, "--write", "report", "--reports", "--overwrite"); code != 0 {
		t.Errorf("exit %d: %s", code, said)
	}
}
