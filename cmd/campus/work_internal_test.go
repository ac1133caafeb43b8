package campus

import (
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/call"
	"runnel/export/ledger"
	"runnel/export/staged"
	"runnel/importer"
)

// A panic in one roof is a row with its reason, and so is a roof that takes too long, whether or not it looks at the clock.
func TestWhatARoofDoesIsItsRow(t *testing.T) {
	k := &campusRun{timeout: 20 * time.Millisecond}
	for says, read := range map[string]func() (*roof.Roof, error){
		"internal fault: unexpected: index out of range": func() (*roof.Roof, error) { panic("index out of range") },
		"no outline":                            func() (*roof.Roof, error) { return nil, errors.New("no outline") },
		"not done within 20ms (--roof-timeout)": func() (*roof.Roof, error) { time.Sleep(5 * time.Second); return nil, errors.New("late") },
	} {
		r := k.inTime(t.Context(), &task{job: importer.Job{Name: "one", Read: read}, stem: "one"}, study.Options{})
		if r.row.Reason != says || r.row.Name != "one" || r.files != nil {
			t.Errorf("row %+v, want %q", r.row, says)
		}
	}
}

// A file that panics while it is written makes the row of its roof, and no file of that roof stays; a disk that is full ends the run.
func TestFilesThatCannotBeWritten(t *testing.T) {
	dir := t.TempDir()
	book, err := ledger.Open(dir, "", "call")
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	good := staged.Output{Name: "one.json", Write: func(w io.Writer) error { _, err := w.Write([]byte("{}")); return err }}
	bad := staged.Output{Name: "one.geojson", Write: func(io.Writer) error { panic("no layer") }}
	err = add(book, &task{stem: "one"}, &result{files: []staged.Output{good, bad}})
	var fault *call.PanicError
	if !errors.As(err, &fault) {
		t.Fatalf("%v", err)
	}
	gone := staged.Output{Name: "no/such/folder", Write: good.Write}
	err = add(book, &task{stem: "two"}, &result{files: []staged.Output{gone}})
	var broken *ledger.StoreError
	if !errors.As(err, &broken) {
		t.Errorf("%v", err)
	}
	for name := range book.Paths() {
		if name != "one.json" { // it is written again when the roof is
			t.Errorf("%s stays", name)
		}
	}
}

// Names are made different as they come, whatever comes later.
func TestNumberer(t *testing.T) {
	n := numberer{}
	var got []string
	for _, name := range []string{"Hall", "campus", "hall", "HALL", "hall-2", "???", ""} {
		got = append(got, n.stem(name))
	}
	if want := "hall campus-2 hall-2 hall-3 hall-2-2 roof roof-2"; strings.Join(got, " ") != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// Every roof belongs to exactly one part.
func TestParts(t *testing.T) {
	for _, of := range []int{1, 2, 3, 7} {
		var share, all int
		for number := 1; number <= of; number++ {
			p := part{number, of}
			share += p.share(17)
			for roof := 1; roof <= 17; roof++ {
				if p.has(roof) {
					all++
				}
			}
		}
		if share != 17 || all != 17 {
			t.Errorf("%d parts share %d of 17 roofs, and have %d", of, share, all)
		}
	}
	for _, text := range []string{"0/3", "4/3", "3", "a/b", "1/0", "-1/2", "1/2/3"} {
		if p, err := parsePart(text); err == nil {
			t.Errorf("%s: %v", text, p)
		}
	}
}
