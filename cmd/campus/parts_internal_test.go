package campus

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
	"runnel/cmd/call"
	"runnel/export/campus"
	"runnel/export/ledger"
	"runnel/importer"
)

// calling is a run as a command line calls it, without its files.
func calling(t *testing.T, flags ...string) *campusRun {
	t.Helper()
	c, k := newRun(call.Streams{Err: &bytes.Buffer{}})
	if err := c.ParseFlags(append([]string{"--out=out"}, flags...)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := k.parse(); err != nil {
		t.Fatal(err)
	}
	k.paths = []string{"in"}
	k.call = k.output.Run(k.paths)
	return k
}

// A run goes on from an earlier one where both were called alike in all that changes a roof's row or files: not by how many roofs are done at a time, nor by what ends
// it with which code; but by its limits, also those in a file whose content has changed, its time for a roof, and its part.
func TestWhatARunGoesOnFrom(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "limits.json", `{"min_slope":"1%"}`)
	sign := func(flags ...string) string { return calling(t, flags...).signature() }
	plain := sign()
	for _, flags := range [][]string{{"--workers=3"}, {"--fail-on=repair"}, {"--overwrite"}} {
		if sign(flags...) != plain {
			t.Errorf("%q: does not go on from a run without", flags)
		}
	}
	limits := sign("--criteria=limits.json")
	seen := map[string][]string{plain: nil, limits: {"--criteria=limits.json"}}
	for _, flags := range [][]string{{"--pond-depth=1in"}, {"--pond-depth=2in"}, {"--units=ft"}, {"--roof-timeout=1m"}, {"--shard=1/2"}, {"--shard=2/2"}, {"--write=json"}, {"--write=none"}, {"--reports"}, {"--drop=7"}, {"--keep=7"}} {
		s := sign(flags...)
		if other, taken := seen[s]; taken {
			t.Errorf("%q goes on from a run with %q", flags, other)
		}
		seen[s] = flags
	}
	if sign("--criteria=limits.json") != limits {
		t.Error("the same file does not go on")
	}
	put(t, "limits.json", `{"min_slope":"2%"}`)
	if sign("--criteria=limits.json") == limits {
		t.Error("a run goes on with other limits")
	}
	k := calling(t)
	k.call = k.output.Run([]string{"other"})
	if k.signature() == plain {
		t.Error("a run goes on over other files")
	}
}

// listing are the roofs at paths.
func listing(t *testing.T, paths ...string) *importer.Roofs {
	t.Helper()
	roofs, err := importer.Campus(paths, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return roofs
}

// The roofs of a part are handed out in their order, each with a name and an id of its own that do not depend on the part; those that are done are not handed out again, unless
// their file has changed.
func TestWhichRoofsAreHandedOut(t *testing.T) {
	in := folder(t, map[string]string{"hall.geojson": hollow(0.9), "Hall.geojson": hollow(0.9), "library.geojson": hollow(0.9), "liberty.geojson": hollow(0.9)})
	handed := func(k *campusRun, book *ledger.Ledger, most int) (list []task) {
		if err := k.tasks(listing(t, in), book, func(one task) bool {
			list = append(list, one)
			return len(list) < most
		}); err != nil {
			t.Fatal(err)
		}
		return list
	}
	said := func(list []task) string {
		var out []string
		for i := range list {
			out = append(out, list[i].job.Name+" "+list[i].stem+" "+list[i].id)
		}
		return strings.Join(out, ", ")
	}
	open := func() *ledger.Ledger {
		book, err := ledger.Open(filepath.Join(t.TempDir(), "out"), "", "call")
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(book.Close)
		return book
	}
	book := open()
	k := calling(t)
	whole := handed(k, book, 9)
	if got, want := said(whole), "Hall hall HAL, hall hall-2 HAL-2, liberty liberty LIB, library library LIB-2"; got != want {
		t.Errorf("handed out %s, want %s", got, want)
	}
	if got := said(handed(k, book, 2)); got != "Hall hall HAL, hall hall-2 HAL-2" {
		t.Errorf("after two nobody takes more: %s", got)
	}
	for shard, want := range map[string]string{"1/2": "Hall hall HAL, liberty liberty LIB", "2/2": "hall hall-2 HAL-2, library library LIB-2", "3/5": "liberty liberty LIB", "5/5": ""} {
		if got := said(handed(calling(t, "--shard="+shard), open(), 9)); got != want {
			t.Errorf("part %s: %s, want %s", shard, got, want)
		}
	}
	for i := range whole {
		for j := range whole[:i] {
			if whole[i].key == whole[j].key || whole[i].mark == whole[j].mark {
				t.Errorf("%s and %s are one in the record", whole[i].stem, whole[j].stem)
			}
		}
	}
	for _, i := range []int{0, 2} {
		if err := book.Add(whole[i].key, whole[i].mark, &campus.Row{Name: "x"}, nil); err != nil {
			t.Fatal(err)
		}
	}
	if got := said(handed(k, book, 9)); got != "hall hall-2 HAL-2, library library LIB-2" {
		t.Errorf("done are two, and handed out %s", got)
	}
	later := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(in, "liberty.geojson"), later, later); err != nil {
		t.Fatal(err)
	}
	if got := said(handed(k, book, 9)); got != "hall hall-2 HAL-2, liberty liberty LIB, library library LIB-2" {
		t.Errorf("liberty was written again, and handed out is %s", got)
	}
}

// Texts are told apart whatever they are cut from.
func TestSumsOfTexts(t *testing.T) {
	seen := map[uint64][]string{}
	for _, texts := range [][]string{{}, {""}, {"", ""}, {"a"}, {"a", ""}, {"", "a"}, {"ab"}, {"a", "b"}, {"b", "a"}, {"a", "bc"}, {"ab", "c"}, {"abc"}} {
		s := sumOfText(texts...)
		if other, taken := seen[s]; taken {
			t.Errorf("%q and %q are one", texts, other)
		}
		seen[s] = texts
	}
}

// The code of a run over all roofs: what failed wins, then findings at the level that was asked for or above it.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		failed   int
		findings [3]bool
		least    int
		want     int
	}{
		{0, [3]bool{}, 0, call.ExitDone},
		{0, [3]bool{true, false, false}, 0, call.ExitFindings},
		{0, [3]bool{true, false, false}, 1, call.ExitDone},
		{0, [3]bool{true, true, false}, 1, call.ExitFindings},
		{0, [3]bool{true, true, false}, 2, call.ExitDone},
		{0, [3]bool{false, false, true}, 2, call.ExitFindings},
		{0, [3]bool{true, true, true}, 3, call.ExitDone},
		{1, [3]bool{}, 3, call.ExitPartial},
		{1, [3]bool{true, true, true}, 0, call.ExitPartial},
	} {
		total := &campus.Total{Roofs: 5, Failed: c.failed, Findings: c.findings}
		if got := call.ExitCode(verdict(total, c.least)); got != c.want {
			t.Errorf("%+v: exit %d, want %d", c, got, c.want)
		}
	}
}

// A reason is one line of a table, whatever its error was; a fault of the program is called one.
func TestReasonsAreOneLine(t *testing.T) {
	refusal := &roof.Refusal{}
	refusal.Add(roof.Problem{Origin: roof.Origin{File: "a.csv", Line: 2}, Rule: "one", Mend: "mend"})
	refusal.Add(roof.Problem{Origin: roof.Origin{File: "a.csv", Line: 3}, Rule: "two"})
	for want, err := range map[string]error{
		"a.csv line 2: one; mend; a.csv line 3: two": refusal,
		"a b; c":                           errors.New("a\tb\n  c\r\n"),
		"internal fault: unexpected: oops": &call.PanicError{Value: "oops"},
	} {
		if got := strings.TrimRight(oneLine(err), "; "); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := oneLine(fmt.Errorf("x: %w", fault.New("flow", "sum off"))); !strings.HasPrefix(got, "internal fault: ") || !strings.Contains(got, "sum off") {
		t.Errorf("%q", got)
	}
}

// How many of so many roofs a part has is how many of their numbers it has; and how it is written is how it is called.
func TestSharesAndNamesOfParts(t *testing.T) {
	for roofs := range 12 {
		for of := 1; of <= 4; of++ {
			for number := 1; number <= of; number++ {
				p, err := parsePart(fmt.Sprintf("%d/%d", number, of))
				if err != nil {
					t.Fatal(err)
				}
				n := 0
				for k := 1; k <= roofs; k++ {
					if p.has(k) {
						n++
					}
				}
				if got := p.share(roofs); got != n {
					t.Errorf("part %d of %d has %d of %d roofs, and says %d", number, of, n, roofs, got)
				}
				if p.folder() != fmt.Sprintf("-%d-of-%d", number, of) || !slices.Equal(p.names(), []string{fmt.Sprintf("campus.part-%d-of-%d.ndjson", number, of)}) {
					t.Errorf("%d/%d: %s, %q", number, of, p.folder(), p.names())
				}
			}
		}
	}
	var whole part
	if !whole.has(1) || !whole.has(7) || whole.folder() != "" || !slices.Equal(whole.names(), campus.Names()) {
		t.Errorf("the whole: %q, %q", whole.folder(), whole.names())
	}
	if _, err := parsePart(fmt.Sprintf("1/%d", campus.MostParts)); err != nil {
		t.Errorf("as many parts as may be: %v", err)
	}
	if _, err := parsePart(fmt.Sprintf("1/%d", campus.MostParts+1)); call.ExitCode(err) != call.ExitUsage {
		t.Errorf("one part more: %v", err)
	}
}

// What --drop and --keep name and no roof had is told, each by its own flag; where roofs could not be read it may have been in those.
func TestIDsThatNoRoofHad(t *testing.T) {
	in := folder(t, map[string]string{"a.geojson": hollow(0.9)})
	torn := folder(t, map[string]string{"a.geojson": hollow(0.9), "b.geojson": "{"})
	for _, c := range []struct {
		in    string
		flags []string
		says  []string
	}{
		{in, []string{"--drop", "7", "--keep", "8"}, nil},
		{in, []string{"--drop", "70", "--drop", "7"}, []string{"warning: --drop 70: no roof has a spot with this id; take the id from the message or the file.\n"}},
		{in, []string{"--keep", "70"}, []string{"warning: --keep 70: no roof has a spot with this id; take the id from the message or the file.\n"}},
		{torn, []string{"--keep", "70", "--drop", "71"}, []string{"warning: --keep 70: no roof that could be read has a spot with this id.\n", "warning: --drop 71: no roof that could be read has a spot with this id.\n"}},
	} {
		_, _, said := ran(t, call.Streams{}, append([]string{c.in, "-o", filepath.Join(t.TempDir(), "out"), "--write", "none"}, c.flags...)...)
		for _, want := range c.says {
			if !strings.Contains(said, want) {
				t.Errorf("%q: %q is not said in %q", c.flags, want, said)
			}
		}
		if strings.Count(said, "with this id") != len(c.says) {
			t.Errorf("%q: %s", c.flags, said)
		}
	}
}

// How much is read of a roof: the bytes of its files, those of its text in a sequence, and nothing more of one outline of many, whose files are read at once.
func TestHowMuchIsRead(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.geojson"), filepath.Join(dir, "a.csv")
	put(t, a, "12345")
	put(t, b, "123")
	for _, c := range []struct {
		ref  importer.Ref
		want int64
	}{
		{importer.Ref{Files: []string{a, b}}, 8},
		{importer.Ref{Files: []string{a, filepath.Join(dir, "lost")}}, 5},
		{importer.Ref{Files: []string{a}, From: 10, To: 110, Number: 3}, 100},
		{importer.Ref{Files: []string{a, b}, Outline: 2}, 0},
		{importer.Ref{}, 0},
	} {
		if got := sizeOf(&c.ref); got != c.want {
			t.Errorf("%+v: %d bytes, want %d", c.ref, got, c.want)
		}
	}
}

// Workers are told what changes a roof's row and files, and nothing that is the run's own.
func TestWhatWorkersAreTold(t *testing.T) {
	c, _ := newRun(call.Streams{})
	if err := c.ParseFlags([]string{"--out=o", "--overwrite", "--workers=2", "--shard=1/2", "--queue=nats://x", "--fail-on=note", "--units=ft", "--units=a=b.csv=m", "--drop=ü 7", "--reports", "--roof-timeout=1m0s"}); err != nil {
		t.Fatal(err)
	}
	if got, want := sent(c.Flags()), []string{"--drop=ü 7", "--reports=true", "--roof-timeout=1m0s", "--units=ft", "--units=a=b.csv=m"}; !slices.Equal(got, want) {
		t.Errorf("told %q, want %q", got, want)
	}
}

// A thing is told once, and of ever new things a hundred.
func TestAGiverTellsThingsOnce(t *testing.T) {
	var errs bytes.Buffer
	g := &giver{campusRun: &campusRun{Streams: call.Streams{Err: &errs}}, said: map[string]bool{}}
	g.say("one")
	g.say("one")
	g.say("two")
	if errs.String() != "warning: one\nwarning: two\n" {
		t.Errorf("%q", errs.String())
	}
	for i := range 200 {
		g.say(fmt.Sprint(i))
	}
	if n := strings.Count(errs.String(), "\n"); n != 100 {
		t.Errorf("%d things are told", n)
	}
}

// What a worker cannot mean together is refused before it looks for a server.
func TestWrongCommandLinesOfWorkers(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"--workers", "0"}, "--workers 0: give 1 or more"},
		{[]string{"--idle", "-1s"}, "--idle -1s: give a time above 0"},
		{[]string{"--queue", "http://x"}, "--queue: "},
		{[]string{"--root", filepath.Join(t.TempDir(), "lost")}, "--root: "},
		{[]string{"surveys"}, `worker takes no arguments, but got "surveys"`},
	} {
		w := NewWorker(call.Streams{Err: &bytes.Buffer{}})
		w.SilenceErrors, w.SilenceUsage = true, true
		w.SetArgs(c.args)
		if err := w.Execute(); call.ExitCode(err) != call.ExitUsage || !strings.HasPrefix(err.Error(), c.says) {
			t.Errorf("%q: %v, want %q", c.args, err, c.says)
		}
	}
}

// Work that is handed to waiting goroutines is done, all of it, once.
func TestHandedWorkIsDone(t *testing.T) {
	done := make(chan int, 500)
	for i := range 500 {
		hand(func() { done <- i })
	}
	seen := map[int]bool{}
	for range 500 {
		seen[<-done] = true
	}
	if len(seen) != 500 {
		t.Errorf("%d of 500 were done", len(seen))
	}
}
