package call

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"runnel/analysis/finding"
	"runnel/cmd/option"
	"runnel/export"
	"runnel/export/drawing/sheet"
	"runnel/export/record"
	"runnel/export/staged"
)

// asked is a command with the flags that check and campus share, after its command line was read.
func asked(t *testing.T, rows bool, args ...string) (*cobra.Command, *option.Input, *OutputFlags) {
	t.Helper()
	c := &cobra.Command{Use: "check", SilenceUsage: true, SilenceErrors: true, RunE: func(*cobra.Command, []string) error { return nil }}
	in, out := &option.Input{}, &OutputFlags{Kinds: []export.Kind{export.GeoJSON, export.JSON}, Rows: rows}
	RegisterInput(c, in)
	out.Register(c)
	c.Flags().String("pattern", "", "")
	NamesFile(c, "pattern", "csv")
	if err := c.ParseFlags(args); err != nil {
		t.Fatal(err)
	}
	return c, in, out
}

// What is to be written, as the flags say it together: each combination that does not fit says which flag is missing.
func TestFlagsOfOutput(t *testing.T) {
	const plan = "--sheet, --scale and --spots are for the plan: write it with -o FOLDER --write plan"
	for _, c := range []struct {
		args  string // by blanks
		rows  bool
		kinds string
		says  string // of a usage error
	}{
		{"", false, "geojson,json", ""},
		{"-o out", false, "geojson,json", ""},
		{"-o out --write plan", false, "plan", ""},
		{"--out=out --write=plan,json,gpkg", false, "plan,json,gpkg", ""},
		{"--write plan", false, "", "--write needs a folder: -o FOLDER"},
		{"-o out --write plans", false, "", `--write plans: unknown kind "plans": use geojson,gpkg,json,`},
		{"-o out --write plan,", false, "", `--write plan,: unknown kind "": use `},
		{"-o out --write none", false, "", `--write none: unknown kind "none"`},
		{"-o out --write none", true, "", ""},
		{"--write none", true, "", ""},
		{"--sheet a3", false, "", plan},
		{"-o out --sheet a3", false, "", plan},
		{"--write none --spots", true, "", plan},
		{"-o out --write json --spots", false, "", plan},
		{"-o out --write json --scale 1:50", false, "", plan},
		{"-o out --write plan --sheet a3 --scale 1:50 --spots", false, "plan", ""},
		{"-o out --write plan --sheet a11", false, "", "--sheet: "},
		{"-o out --write plan --scale 50", false, "", "--scale: "},
		{"--fail-on worst", false, "", `--fail-on "worst": use note, repair or urgent`},
	} {
		_, in, out := asked(t, c.rows, strings.Fields(c.args)...)
		_, _, err := Parse(in, out)
		if c.says != "" {
			if err == nil || !strings.HasPrefix(err.Error(), c.says) || ExitCode(err) != ExitUsage {
				t.Errorf("%s: %v (exit %d), want %q", c.args, err, ExitCode(err), c.says)
			}
			continue
		}
		if err != nil || kindNames(out.Kinds) != c.kinds {
			t.Errorf("%s: writes %s, %v; want %s", c.args, kindNames(out.Kinds), err, c.kinds)
		}
	}
	_, in, out := asked(t, false, "-o", "out", "--write", " plan , json", "--sheet", "a3", "--scale", "1:50", "--spots")
	if _, _, err := Parse(in, out); err != nil || kindNames(out.Kinds) != "plan,json" {
		t.Errorf("blanks round kinds: %s, %v", kindNames(out.Kinds), err)
	}
	a3, err := sheet.Parse("a3")
	if err != nil || out.Plan.Sheet != a3 || !(out.Plan.Scale == 50) || !out.Plan.Spots {
		t.Errorf("the plan: %+v", out.Plan)
	}
}

// Parse reads both kinds of flag: what is wrong with one of the input's is told as well, and the units of the results first.
func TestFlagsOfInputAreReadToo(t *testing.T) {
	for args, says := range map[string]string{
		"--units-out metric": `--units-out "metric": give us or si`,
		"--units yd":         `--units yd: unknown unit "yd": use one of m, ft, ft-us, in, mm`,
		"--hi eye":           `--hi: "eye" is not a length`,
		"--tolerance 0":      "--tolerance 0: give a factor from 0.01 to 100",
		"--sigma 3":          "--sigma 3: ",
		"--criteria none.j":  "criteria: none.j: no such file or directory",
	} {
		_, in, out := asked(t, false, strings.Fields(args)...)
		if _, _, err := Parse(in, out); err == nil || !strings.HasPrefix(err.Error(), says) {
			t.Errorf("%s: %v, want %q", args, err, says)
		}
	}
	_, in, out := asked(t, false, "--units=ft", "--units=a b.csv=mm", "--columns", "x,y,z", "--drop", "7", "--tolerance", "2", "--next-spots", "0")
	options, steps, err := Parse(in, out)
	if err != nil || len(options.Units) != 2 || options.Units["a b.csv"].String() != "mm" || options.Units[""].String() != "ft" || !slices.Equal(options.Columns, []string{"x", "y", "z"}) || !slices.Equal(options.Drop, []string{"7"}) {
		t.Errorf("%+v, %v", options, err)
	}
	if !(steps.Tolerance == 2) || steps.NextSpots != -1 { // none is asked for
		t.Errorf("%+v", steps)
	}
}

// A run ends with 1 where a finding is as severe as --fail-on asks, or worse; without the flag no finding does that.
func TestWhichFindingsFail(t *testing.T) {
	of := func(all ...finding.Severity) []finding.Finding {
		var list []finding.Finding
		for _, s := range all {
			list = append(list, finding.Finding{Severity: s})
		}
		return list
	}
	for _, c := range []struct {
		failOn                         string
		none, notes, repairs, urgently bool
	}{{"", false, false, false, false}, {"note", false, true, true, true}, {"repair", false, false, true, true}, {"urgent", false, false, false, true}} {
		_, in, out := asked(t, false)
		out.FailOn = c.failOn
		if _, _, err := Parse(in, out); err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string][2]bool{
			"none":   {out.Fails(nil), c.none},
			"note":   {out.Fails(of(finding.Note)), c.notes},
			"repair": {out.Fails(of(finding.Note, finding.Repair)), c.repairs},
			"urgent": {out.Fails(of(finding.Urgent, finding.Note)), c.urgently},
		} {
			if pair[0] != pair[1] {
				t.Errorf("--fail-on %q: %s fails: %v, want %v", c.failOn, what, pair[0], pair[1])
			}
		}
	}
}

// No output takes the place of a file that the run reads: neither of a survey, nor of one that a flag names. A pattern that is a word names none.
func TestWhatARunReadsIsNotWrittenOver(t *testing.T) {
	for args, want := range map[string][]string{
		"":                                     {"a.csv"},
		"--criteria limits.json":               {"a.csv", "limits.json"},
		"--code-list ü.csv --materials r.json": {"a.csv", "r.json", "ü.csv"},
		"--units ft --columns x,y,z":           {"a.csv"},
		"--pattern storm.csv":                  {"a.csv", "storm.csv"},
		"--pattern " + aPattern():              {"a.csv"},
	} {
		_, _, out := asked(t, false, append([]string{"-o", "out", "--overwrite"}, strings.Fields(args)...)...)
		files := []string{"a.csv"}
		target := out.Target(files)
		slices.Sort(target.Inputs)
		if target.Dir != "out" || !target.Overwrite || !slices.Equal(target.Inputs, want) || !slices.Equal(files, []string{"a.csv"}) {
			t.Errorf("%s: %+v, want %q", args, target, want)
		}
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "limits.json")
	if err := os.WriteFile(path, []byte("{}"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, _, out := asked(t, false, "-o", dir, "--overwrite", "--criteria", path)
	err := out.Free(&bytes.Buffer{}, nil, []string{"limits.json"})
	var input *staged.InputError
	if !errors.As(err, &input) || ExitCode(err) != ExitUsage {
		t.Errorf("a file of criteria in the place of an output: %v", err)
	}
}

// Free refuses a name that is taken, whatever else is free, and says how to go on; with --overwrite it does not. Without a folder there is nothing to ask.
func TestFreeNames(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "Dach 1.json"), []byte("{}"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args  []string
		names []string
		ok    bool
	}{
		{[]string{"-o", dir}, []string{"Dach 2.json"}, true},
		{[]string{"-o", dir}, []string{"Dach 2.json", "Dach 1.json"}, false},
		{[]string{"-o", dir, "--overwrite"}, []string{"Dach 1.json"}, true},
		{nil, []string{"Dach 1.json"}, true},
		{[]string{"-o", filepath.Join(dir, "new", "folder")}, []string{"Dach 1.json"}, true},
	} {
		_, _, out := asked(t, false, c.args...)
		var said bytes.Buffer
		err := out.Free(&said, nil, c.names)
		if (err == nil) != c.ok || said.Len() > 0 {
			t.Errorf("%q, %q: %v, said %q", c.args, c.names, err, said.String())
		}
		if err != nil && (!errors.Is(err, staged.ErrExists) || !strings.Contains(Explain(err), "Dach 1.json") || !strings.Contains(Explain(err), "Give --overwrite to replace it, or another folder.")) {
			t.Errorf("says %q", Explain(err))
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "new")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("asking made a folder: %v", err)
	}
}

// How many arguments a command takes: least and most are taken, one fewer and one more are refused with the way to the help.
func TestArguments(t *testing.T) {
	c := &cobra.Command{Use: "compare"}
	for _, k := range []struct {
		least, most, given int
		says               string
	}{
		{1, 2, 0, "compare: give two files\nSee compare --help."},
		{1, 2, 1, ""},
		{1, 2, 2, ""},
		{1, 2, 3, "compare: \"c\" is one argument too many: give two files\nSee compare --help."},
		{2, 0, 1, "compare: give two files\nSee compare --help."},
		{2, 0, 4, ""},
		{0, 0, 0, ""},
	} {
		err := Arguments(k.least, k.most, "give two files")(c, []string{"a", "b", "c", "d"}[:k.given])
		if says(err) != k.says || err != nil && ExitCode(err) != ExitUsage {
			t.Errorf("%d of %d to %d: %v, want %q", k.given, k.least, k.most, err, k.says)
		}
	}
	if err := NoArguments(c, nil); err != nil {
		t.Errorf("none: %v", err)
	}
	if err := NoArguments(c, []string{"a", "b"}); says(err) != `compare takes no arguments, but got "a"` || ExitCode(err) != ExitUsage {
		t.Errorf("two: %v", err)
	}
}

// says returns the text of an error, empty for none.
func says(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// Results are in the units that were asked for.
func TestUnitsOfResults(t *testing.T) {
	if UnitsOf(true) != record.US || UnitsOf(false) != record.SI {
		t.Error("units are the wrong way round")
	}
}
