package call

import (
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/rainfall"
	"runnel/export/record"
)

// aPattern is a word that --pattern takes instead of the name of a file.
func aPattern() string { return rainfall.PatternNames()[0] }

// A call is written down as it is seen from the folder of its output, and only what changes the files of a roof: with blanks, umlauts and signs of equality in names.
func TestCallsAreWrittenDown(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args, files []string
		want        record.Run
	}{
		{nil, []string{"a.csv"}, record.Run{}}, // no folder, no record
		{[]string{"-o", "out"}, []string{"a.csv", "auf maß/Dach 1.csv"}, record.Run{Command: "check", Files: []string{"../a.csv", "../auf maß/Dach 1.csv"}}},
		{[]string{"-o", "."}, []string{"a.csv"}, record.Run{Command: "check", Files: []string{"a.csv"}}},
		{[]string{"-o", "deep/er"}, []string{"a.csv"}, record.Run{Command: "check", Files: []string{"../../a.csv"}}},
		{
			[]string{"-o", "out", "--overwrite", "--fail-on=note", "--units=ft", "--units=a=b.csv=mm", "--units=other.csv=m", "--criteria=limits.json", "--drop=7", "--drop=8"},
			[]string{"a=b.csv"},
			record.Run{Command: "check", Files: []string{"../a=b.csv"}, Flags: []string{"--criteria=../limits.json", "--drop=7", "--drop=8", "--units=ft", "--units=../a=b.csv=mm", "--units=other.csv=m"}},
		},
		{
			[]string{"-o", "out", "--sigma=a.csv=3mm", "--frame=local", "--instrument=a.csv=level", "--columns=x,y,z", "--pattern=" + aPattern()},
			[]string{"a.csv"},
			record.Run{Command: "check", Files: []string{"../a.csv"}, Flags: []string{"--columns=x,y,z", "--frame=local", "--instrument=../a.csv=level", "--pattern=" + aPattern(), "--sigma=../a.csv=3mm"}},
		},
		{[]string{"-o", "out", "--pattern=storm.csv"}, []string{"a.csv"}, record.Run{Command: "check", Files: []string{"../a.csv"}, Flags: []string{"--pattern=../storm.csv"}}},
	} {
		_, _, out := asked(t, false, c.args...)
		if got := out.Run(c.files); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q:\n%+v\nwant\n%+v", c.args, got, c.want)
		}
	}
}

// A call that was written down is made again with the same files and flags, from wherever: its paths lead from the folder of the output.
func TestCallsAreMadeAgain(t *testing.T) {
	home := t.TempDir()
	t.Chdir(home)
	args := []string{"-o", "out put", "--units=a=b.csv=mm", "--criteria=limits.json", "--pattern=" + aPattern(), "--drop=ü 7"}
	files := []string{"a=b.csv", "/abs/olute.csv"}
	command, _, out := asked(t, false, args...)
	run := out.Run(files)
	t.Chdir(t.TempDir()) // elsewhere
	folder := filepath.Join(home, "out put")
	r, err := Repeat(command, run, folder)
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) string { return filepath.Join(home, name) }
	want := []string{"check", "--out=" + folder, "--overwrite", "--criteria=" + at("limits.json"), "--drop=ü 7", "--pattern=" + aPattern(), "--units=" + at("a=b.csv") + "=mm", "--", at("a=b.csv"), "/abs/olute.csv"}
	if !slices.Equal(r.Arguments, want) {
		t.Errorf("made again as\n%q\nwant\n%q", r.Arguments, want)
	}
	if inputs := []string{at("limits.json"), at("a=b.csv"), "/abs/olute.csv"}; !slices.Equal(r.Inputs, inputs) || r.Allowed {
		t.Errorf("reads %q, want %q; allowed %v", r.Inputs, inputs, r.Allowed)
	}
	// And written down again from its own arguments it is the same record.
	_, _, again := asked(t, false, r.Arguments[1:len(r.Arguments)-3]...)
	if got := again.Run([]string{at("a=b.csv"), "/abs/olute.csv"}); !reflect.DeepEqual(got, run) {
		t.Errorf("written down again:\n%+v\nwant\n%+v", got, run)
	}
}

// A record is the text of a file that anybody may have written: what a run does not write down is refused, with the way on.
func TestRecordsThatCannotBeMadeAgain(t *testing.T) {
	command, _, _ := asked(t, false)
	for _, c := range []struct {
		run  record.Run
		none bool // the command is not known
		says string
	}{
		{record.Run{Command: "erase", Files: []string{"a"}}, true, "the summary does not say how it was made; run check again"},
		{record.Run{Command: "check"}, false, "the summary names no input; run check again"},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{"--out=/etc"}}, false, `the summary names a flag that cannot be repeated, "--out=/etc"; run check again`},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{"--overwrite=true"}}, false, "cannot be repeated"},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{"--queue=nats://somewhere"}}, false, "cannot be repeated"},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{"--no-such-flag=1"}}, false, "cannot be repeated"},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{""}}, false, "cannot be repeated"},
		{record.Run{Command: "check", Files: []string{"a"}, Flags: []string{"--" + strings.Repeat("x", 100)}}, false, `"--` + strings.Repeat("x", 38) + `"; run`},
	} {
		of := command
		if c.none {
			of = nil
		}
		r, err := Repeat(of, c.run, "/somewhere")
		if err == nil || !strings.Contains(err.Error(), c.says) || len(r.Arguments)+len(r.Inputs) > 0 {
			t.Errorf("%+v: %v, %q; want %q", c.run, err, r.Arguments, c.says)
		}
	}
}
