package viewer

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"runnel/export/record"
)

// folder is a Folder of one roof whose run is played.
type folder struct {
	*Folder
	t      *testing.T
	dir    string
	input  string
	checks int
	fail   error
	partly string // a roof that a run writes though it fails
	said   []string
	time   time.Time
}

func newFolder(t *testing.T) *folder {
	t.Helper()
	base := t.TempDir()
	f := &folder{t: t, dir: filepath.Join(base, "out"), input: filepath.Join(base, "roof.csv"), time: time.Now().Add(-time.Hour)}
	if err := os.Mkdir(f.dir, 0o700); err != nil {
		t.Fatal(err)
	}
	f.write(f.input, "1")
	f.result("shed", "1")
	return f
}

// write writes a file, a second after the last one.
func (f *folder) write(path, text string) {
	f.t.Helper()
	f.time = f.time.Add(time.Second)
	if err := errors.Join(os.WriteFile(path, []byte(text), 0o600), os.Chtimes(path, f.time, f.time)); err != nil {
		f.t.Fatal(err)
	}
}

func (f *folder) result(stem, name string) {
	f.t.Helper()
	f.write(filepath.Join(f.dir, stem+".json"), fmt.Sprintf(`{"schema":"runnel-summary-1","roof":{"name":%q},"run":{"command":"check","files":["../roof.csv"]}}`, name))
}

func (f *folder) open() {
	f.t.Helper()
	var err error
	if f.Folder, err = Open(f.dir); err != nil {
		f.t.Fatal(err)
	}
	f.t.Cleanup(func() { _ = f.Close() })
}

func (f *folder) looks(n int) {
	for range n {
		f.look(Source{
			Inputs: func(record.Run) ([]string, error) { return []string{f.input}, nil },
			Check: func(record.Run) error {
				f.checks++
				if f.partly != "" {
					f.write(filepath.Join(f.dir, f.partly+".json"), `{"schema":"runnel-summary-1","roof":{"name":"new"},"run":{"command":"check","files":["../yard.csv"]}}`)
				}
				if f.fail == nil {
					f.result("shed", fmt.Sprint("checked ", f.checks))
				}
				return f.fail
			},
			Say: func(s string) { f.said = append(f.said, s) },
		})
	}
}

func (f *folder) wants(checks int, problem string) {
	f.t.Helper()
	if f.checks != checks {
		f.t.Errorf("%d checks, want %d", f.checks, checks)
	}
	if s, _, _ := f.of(""); s.Problem != problem {
		f.t.Errorf("problem %q, want %q", s.Problem, problem)
	}
}

func TestRunsAgainWhenAnInputHasChanged(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(3)
	f.wants(0, "")
	before, _, _ := f.of("shed")
	f.write(f.input, "2")
	f.looks(1)
	f.wants(0, "") // it may still be written
	f.looks(3)
	f.wants(1, "")
	after, r, _ := f.of("shed")
	if before.Version == after.Version || r.Name != "checked 1" {
		t.Errorf("version %s after %s, name %s", after.Version, before.Version, r.Name)
	}
}

// Of a campus of which one roof fails the others are new: they are listed, and so are roofs that were not there before.
func TestPartlyDone(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(1)
	f.fail = errors.New("hall: no outline")
	f.partly = "yard"
	f.write(f.input, "2")
	f.looks(3)
	f.wants(1, "hall: no outline")
	if _, r, ok := f.of("yard"); !ok || r.Name != "new" {
		t.Errorf("yard is not listed: %+v", f.roofs)
	}
}

// Files that another run puts beside the listed ones are listed.
func TestFilesThatAppear(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(1)
	f.write(filepath.Join(f.dir, "shed.plan.svg"), "<svg/>")
	f.write(filepath.Join(f.dir, ".runnel-1-1.0"), "not finished")
	f.looks(1)
	if len(f.roofs) != 1 || len(f.roofs[0].Sheets) != 1 {
		t.Errorf("roofs %+v", f.roofs)
	}
}

// With --no-rerun no input is looked at.
func TestNothingIsMadeAgain(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.write(f.input, "2")
	for range 3 {
		f.look(Source{Say: func(s string) { t.Error(s) }, Check: func(record.Run) error { t.Error("made again"); return nil }})
	}
}

func TestWaitsWhileAnInputIsWritten(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(1)
	for i := range 5 {
		f.write(f.input, strings.Repeat("x", i))
		f.looks(1)
	}
	f.wants(0, "")
	f.looks(2)
	f.wants(1, "")
}

func TestKeepsTheLastResultWhileAnInputIsRefused(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(1)
	before, _, _ := f.of("shed")
	f.fail = errors.New("roof.csv line 2: no elevation")
	f.write(f.input, "bad")
	f.looks(4)
	f.wants(1, "roof.csv line 2: no elevation")
	if after, _, _ := f.of("shed"); after.Version != before.Version {
		t.Error("the pages load a result again that has not changed")
	}
	if len(f.said) != 1 || !strings.Contains(f.said[0], "no elevation") {
		t.Errorf("the terminal says %q", f.said)
	}
	f.fail = nil
	f.write(f.input, "good")
	f.looks(3)
	f.wants(2, "")
}

func TestInputGone(t *testing.T) {
	f := newFolder(t)
	if err := os.Remove(f.input); err != nil {
		t.Fatal(err)
	}
	f.open()
	f.fail = errors.New("there is no such file")
	f.looks(3)
	f.wants(1, "there is no such file")
	f.fail = nil
	f.write(f.input, "back")
	f.looks(3)
	f.wants(2, "")
}

func TestResultOlderThanItsInput(t *testing.T) {
	f := newFolder(t)
	f.write(f.input, "2")
	f.open()
	f.looks(1)
	f.wants(1, "")
}

// Somebody else may write the folder anew, or the roof may get another name.
func TestResultsThatComeAndGo(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.looks(1)
	f.result("hall", "hall")
	f.write(filepath.Join(f.dir, "hall.plan.svg"), "<svg/>")
	f.relist(Source{Say: func(s string) { t.Error(s) }})
	if len(f.roofs) != 1 || f.roofs[0].Stem != "hall" || len(f.roofs[0].Sheets) != 1 {
		t.Errorf("roofs %+v", f.roofs)
	}
	if _, _, ok := f.of("shed"); ok {
		t.Error("the earlier name is still listed")
	}
	f.looks(1)
	f.wants(0, "")
}

// A run that reads what it writes would run for ever.
func TestInputsThatAreResults(t *testing.T) {
	f := newFolder(t)
	f.open()
	f.input = f.dir // as campus does with "-o" the folder it reads
	f.write(filepath.Join(f.dir, "roof.csv"), "1")
	f.looks(3)
	n := f.checks
	f.looks(3)
	if f.checks != n {
		t.Errorf("%d checks without a change", f.checks-n)
	}
	f.input = filepath.Join(f.dir, "shed.json")
	f.looks(3)
	if s, _, _ := f.of(""); f.checks != n || !strings.Contains(s.Problem, "another folder") {
		t.Errorf("%d checks, problem %q", f.checks-n, s.Problem)
	}
}

func TestWorstRoofFirst(t *testing.T) {
	roofs := []roof{{Stem: "d", weight: 5}, {Stem: "c", Repair: 1}, {Stem: "b", Repair: 1, weight: 5}, {Stem: "a", Urgent: 1}, {Stem: "o", Repair: 1, KeepOff: true}, {Stem: "h", Repair: 1, rank: -1}}
	want := []string{"o", "a", "h", "b", "c", "d"}
	slices.SortFunc(roofs, worstFirst)
	for i := range roofs {
		if roofs[i].Stem != want[i] {
			t.Errorf("place %d: %s, want %s", i, roofs[i].Stem, want[i])
		}
	}
}
