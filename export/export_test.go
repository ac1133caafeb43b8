package export_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"runnel/analysis/roof"
	"runnel/export"
	"runnel/export/record"
	"runnel/export/sample"
)

func text(name, content string) export.Output {
	return export.Output{Name: name, Write: func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}}
}

// fullDisk writes a little and then finds no more room, as a full disk does.
func fullDisk(name string) export.Output {
	return export.Output{Name: name, Write: func(w io.Writer) error {
		if _, err := io.WriteString(w, "begun"); err != nil {
			return err
		}
		return syscall.ENOSPC
	}}
}

// listing returns the names in a folder, temporary ones as well.
func listing(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestStageWritesAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	_, err := export.Stage(filepath.Join(dir, "new", "deep"), []export.Output{text("a", "1"), fullDisk("b")}, false)
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("got %v", err)
	}
	if got := listing(t, dir); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
}

func TestStageOnAFullDevice(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("no /dev/full on this system")
	}
	dir := t.TempDir()
	toFull := export.Output{Name: "a", Write: func(io.Writer) error {
		f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		_, err = f.WriteString("x")
		return errors.Join(err, f.Close())
	}}
	if _, err := export.Stage(dir, []export.Output{toFull}, false); !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("got %v", err)
	}
	if got := listing(t, dir); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
}

func TestCommitAndDiscard(t *testing.T) {
	dir := t.TempDir()
	s, err := export.Stage(dir, []export.Output{text("a", "1")}, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "a")); err == nil {
		t.Error("the file has its name before Commit")
	}
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	if got := listing(t, dir); !slices.Equal(got, []string{"a"}) {
		t.Errorf("after Commit: %v", got)
	}
	s, err = export.Stage(dir, []export.Output{text("b", "2")}, false)
	if err != nil {
		t.Fatal(err)
	}
	s.Discard()
	if got := listing(t, dir); !slices.Equal(got, []string{"a"}) {
		t.Errorf("after Discard: %v", got)
	}
}

func TestSweepTakesUnfinishedFilesOnly(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "mine"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := export.Stage(dir, []export.Output{text("a", "1"), text("b", "2")}, false); err != nil {
		t.Fatal(err)
	}
	if got := listing(t, dir); len(got) != 3 {
		t.Fatalf("staged: %v", got)
	}
	export.Sweep(dir)
	if got := listing(t, dir); !slices.Equal(got, []string{"mine"}) {
		t.Errorf("after Sweep: %v", got)
	}
}

func TestOverwriteOnlyWhenAsked(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := export.Stage(dir, []export.Output{text("a", "new")}, false); !errors.Is(err, export.ErrExists) {
		t.Errorf("got %v, want ErrExists", err)
	}
	s, err := export.Stage(dir, []export.Output{text("a", "new")}, true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "new" {
		t.Errorf("the file holds %q", got)
	}
	if _, err := export.Stage(dir, []export.Output{text("sub/../x", "1")}, true); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := export.Stage(dir, []export.Output{text("folder", "1")}, true); !errors.Is(err, export.ErrExists) {
		t.Errorf("a folder in the way: %v", err)
	}
}

func TestWriteNamesFiles(t *testing.T) {
	for _, c := range []struct {
		roof  *roof.Roof
		kinds []export.Kind
		want  []string
	}{
		{sample.Local(), export.CampusKinds(), []string{"sample-roof-1.json", "sample-roof-1.local.geojson"}},
		{sample.Geographic(), export.CampusKinds(), []string{"sample-roof-1.geojson", "sample-roof-1.json"}},
		{sample.Local(), []export.Kind{export.Plan}, []string{"sample-roof-1.plan.pdf", "sample-roof-1.plan.svg"}},
		{sample.Local(), []export.Kind{export.Report}, []string{"sample-roof-1.report.html", "sample-roof-1.report.pdf"}},
		{sample.Local(), []export.Kind{export.SetOut}, []string{"sample-roof-1.setout.csv", "sample-roof-1.setout.pdf"}},
		{sample.Local(), []export.Kind{export.Schedule}, []string{
			"sample-roof-1.schedule.cores.csv", "sample-roof-1.schedule.findings.csv", "sample-roof-1.schedule.outlets.csv",
			"sample-roof-1.schedule.planes.csv", "sample-roof-1.schedule.ponds.csv", "sample-roof-1.schedule.xlsx",
		}},
		{sample.Geographic(), []export.Kind{export.JSON}, []string{"sample-roof-1.json"}},
	} {
		dir := t.TempDir()
		b := record.NewBook(sample.Study(c.roof), "", record.SI)
		s, err := export.Write(b, c.kinds, dir, export.Options{Stem: export.Stem(c.roof)})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Commit(); err != nil {
			t.Fatal(err)
		}
		if got := listing(t, dir); !slices.Equal(got, c.want) {
			t.Errorf("got %v, want %v", got, c.want)
		}
		if err := export.Exists(dir, "sample-roof-1", c.kinds, export.Options{}); !errors.Is(err, export.ErrExists) {
			t.Errorf("Exists: %v", err)
		}
		if err := export.Exists(dir, "other", c.kinds, export.Options{}); err != nil {
			t.Errorf("Exists of another stem: %v", err)
		}
	}
}

func TestSplitWritesAFileALayer(t *testing.T) {
	dir := t.TempDir()
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	s, err := export.Write(b, []export.Kind{export.GeoJSON}, dir, export.Options{Stem: "r", Split: true})
	if err != nil {
		t.Fatal(err)
	}
	paths, err := s.Commit()
	if err != nil {
		t.Fatal(err)
	}
	if got := listing(t, dir); !slices.Contains(got, "r.pond.local.geojson") || !slices.Contains(got, "r.facet.local.geojson") || len(got) != len(paths) {
		t.Errorf("got %v", got)
	}
}

func TestStem(t *testing.T) {
	for name, want := range map[string]string{
		"Library": "library", "North wing, roof 2": "north-wing-roof-2", "../../etc": "etc", "": "roof", "⛱": "roof",
		"a.b": "a-b", "-x-": "x",
	} {
		if got := export.StemOf(name); got != want {
			t.Errorf("StemOf(%q) = %q, want %q", name, got, want)
		}
	}
	r := &roof.Roof{Inputs: []roof.Input{{Path: "dir/Depot South.geojson"}}}
	if got := export.Stem(r); got != "depot-south" {
		t.Errorf("stem of the first file is %q", got)
	}
}

// File systems take names of 255 bytes, and the longest ending must still fit.
func TestLongNamesAreCut(t *testing.T) {
	long := strings.Repeat("a", 79) + " " + strings.Repeat("b", 5000)
	if got, want := export.StemOf(long), strings.Repeat("a", 79); got != want {
		t.Errorf("got %q of %d bytes, want %q", got, len(got), want)
	}
}

func TestNumber(t *testing.T) {
	got := export.Number([]string{"a", "b", "a", "a-2", "a"})
	if want := []string{"a", "b", "a-2", "a-2-2", "a-3"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
