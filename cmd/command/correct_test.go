package command_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/correction/mend"
	"runnel/cmd/call"
	"runnel/cmd/command"
	"runnel/cmd/demo"
)

// option is what a script reads of one option.
type option struct {
	Kind      string   `json:"kind"`
	Meets     bool     `json:"meets"`
	Fill      *float64 `json:"fill_m3"`
	FillUS    *float64 `json:"fill_ft3"`
	PondsLeft *int     `json:"ponds_left"`
	Limits    []struct {
		Name    string `json:"name"`
		Decides string `json:"decides"`
		Source  string `json:"source"`
	} `json:"limits"`
	Possible bool   `json:"possible"`
	Why      string `json:"why"`
}

// answer is what a script reads of one answer.
type answer struct {
	Answer    string    `json:"answer"`
	Meets     bool      `json:"meets"`
	Questions []any     `json:"open_questions"`
	PondsLeft []string  `json:"ponds_left"`
	New       []any     `json:"new_findings"`
	Blocked   []float64 `json:"blocked_weight_kg"`
	Changes   []struct {
		Kind    string `json:"kind"`
		Finding string `json:"finding"`
		What    string `json:"what"`
		Where   string `json:"where"`
		Decides string `json:"decides"`
	} `json:"changes"`
}

type options struct {
	KeepOff  bool     `json:"keep_off"`
	Engineer bool     `json:"engineer_first"`
	Answers  []answer `json:"answers"`
	Options  []option `json:"options"`
	InTheWay *struct {
		Decides string `json:"decides"`
	} `json:"in_the_way"`
	Status string `json:"status"`
}

// Every invented roof has three answers. The first leaves no pond on the roof as written, or somebody has to be asked first; while that
// is so none meets.
func TestEveryDemoRoofHasACorrection(t *testing.T) {
	dir := demos(t)
	for _, r := range demo.Roofs() {
		t.Run(r.Stem(), func(t *testing.T) {
			out := t.TempDir()
			files := inputsOf(t, dir, r.Stem())
			code, _, errs := run(t, append([]string{"correct", "-o", out, "--write", "geojson"}, files...)...)
			if code != 0 {
				t.Fatalf("code %d: %s", code, errs)
			}
			got := readOptions(t, out)
			if !strings.HasPrefix(got.Status, "Preliminary, not for construction") {
				t.Errorf("status %q", got.Status)
			}
			order := []string{"mend-now", "bring-to-limit", "at-reroofing"}
			for i := range got.Answers {
				a := &got.Answers[i]
				if i >= len(order) || a.Answer != order[i] {
					t.Errorf("answer %d is %s", i+1, a.Answer)
				}
				if a.Meets && (got.KeepOff || got.Engineer || len(a.PondsLeft) > 0 || len(a.New) > 0) {
					t.Errorf("%s meets: keep off %t, engineer %t, left %v, new %v", a.Answer, got.KeepOff, got.Engineer, a.PondsLeft, a.New)
				}
				for _, c := range a.Changes {
					if c.Kind == "" || c.What == "" || c.Decides == "" {
						t.Errorf("%s: change %+v", a.Answer, c)
					}
				}
			}
			if len(got.Answers) != 3 {
				t.Fatalf("%d answers", len(got.Answers))
			}
			left := len(got.Answers[0].PondsLeft)
			if left > 0 && !got.KeepOff && !got.Engineer {
				t.Errorf("%v stay, and nobody is asked", got.Answers[0].PondsLeft)
			}
			written, err := filepath.Glob(filepath.Join(out, "*.corrected.geojson"))
			if err != nil || len(written) != 1 {
				t.Fatalf("corrected roofs: %v, %v", written, err)
			}
			code, text, errs := run(t, "check", "--json", written[0])
			if code != 0 {
				t.Fatalf("the corrected roof is refused: %s", errs)
			}
			var s struct {
				Ponds []struct{ ID string } `json:"ponds"`
			}
			if err := json.Unmarshal([]byte(text), &s); err != nil {
				t.Fatal(err)
			}
			if len(s.Ponds) != left {
				t.Errorf("%d ponds on the written roof, %d by the answer", len(s.Ponds), left)
			}
			if code, _, errs := run(t, "storm", "--depth", "1in", "--duration", "1h", written[0]); code != 0 {
				t.Errorf("storm refuses the corrected roof: %s", errs)
			}
		})
	}
}

// inputsOf returns the files of an invented roof.
func inputsOf(t *testing.T, dir, name string) []string {
	t.Helper()
	var files []string
	for _, ext := range []string{".geojson", ".csv"} {
		if path := filepath.Join(dir, name+ext); exists(path) {
			files = append(files, path)
		}
	}
	if len(files) == 0 {
		t.Fatalf("no files of %s", name)
	}
	return files
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func readOptions(t *testing.T, dir string) options {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(dir, "*.correction.json"))
	if err != nil || len(found) != 1 {
		t.Fatalf("options: %v, %v", found, err)
	}
	data, err := os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	var o options
	if err := json.Unmarshal(data, &o); err != nil {
		t.Fatal(err)
	}
	return o
}

// What is asked for is what is looked at; a limit that is broken names its source and who decides.
func TestCorrectIsSteered(t *testing.T) {
	dir := demos(t)
	roof := filepath.Join(dir, "library.geojson")
	code, text, errs := run(t, "correct", "--json", "--only", "fill,overlay", "--slope", "1/4 in per ft", roof)
	if code != 0 {
		t.Fatal(errs)
	}
	var got options
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	for _, o := range got.Options {
		if o.Kind != "fill" && o.Kind != "overlay" && o.Kind != "as-found" {
			t.Errorf("%s was not asked for", o.Kind)
		}
		for _, l := range o.Limits {
			if l.Source == "" || l.Decides == "" {
				t.Errorf("%s: limit %q without source or who decides", o.Kind, l.Name)
			}
		}
	}
	if len(got.Options) == 0 {
		t.Error("nothing was looked at")
	}
	for _, bad := range [][]string{
		{"--only", "magic"},
		{"--slope", "-1%"},
		{"--slope", "steep"},
		{"--min-thickness", "4"},
		{"--flashing-height", "-8in"},
		{"--keep-outlet", "XX-9"},
		{"--boards", "missing.json"},
		{"--draw", "structure"},
	} {
		if code, _, errs := run(t, append([]string{"correct", roof}, bad...)...); code != 2 && code != 3 || errs == "" {
			t.Errorf("%v: code %d, %q", bad, code, errs)
		}
	}
}

// The page of corrections ends with the cautions that apply to the roof.
func TestCorrectEndsWithCautions(t *testing.T) {
	dir := t.TempDir()
	if code, _, err := run(t, "demo", dir); code != 0 {
		t.Fatal(err)
	}
	code, out, err := run(t, "correct", filepath.Join(dir, "depot.geojson"), filepath.Join(dir, "depot.csv"), "--only", "lower-outlet")
	if code != 0 {
		t.Fatal(code, err)
	}
	if _, end, _ := strings.Cut(out, "\nCAUTIONS\n"); !strings.Contains(end, "Nobody goes onto a deep pond") || !strings.HasSuffix(strings.TrimSpace(end), "it says no more than that.") {
		t.Errorf("the page ends with %q", end)
	}
}

// A step that is somebody else's question ends with one full stop: the market hall's overflow is for an engineer.
func TestStepsEndOnce(t *testing.T) {
	dir := demos(t)
	code, out, text := run(t, "correct", filepath.Join(dir, "market.geojson"), filepath.Join(dir, "market.csv"))
	if code != 0 || !strings.Contains(out, "which is structure. Decides: the") || strings.Contains(out, "..") {
		t.Errorf("exit %d: %s%s", code, out, text)
	}
}

// TestDesignOfARoofThatIsKeptOff: who sets a design out goes onto the roof as it is. The hall sags, so that the set-out and the plan of its overlay say
// to keep off.
func TestDesignOfARoofThatIsKeptOff(t *testing.T) {
	dir := t.TempDir()
	if _, err := demo.Write(dir, false); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	var page, warnings bytes.Buffer
	args := []string{"correct", filepath.Join(dir, "hall.geojson"), filepath.Join(dir, "hall.csv"), "-o", out, "--draw", "overlay"}
	if code := command.Main(args, call.Streams{Out: &page, Err: &warnings}); code != 0 {
		t.Fatalf("exit %d: %s", code, warnings.String())
	}
	const first = "Keep off, and call a structural engineer today"
	for _, name := range []string{"hall.corrected.setout.csv", "hall.corrected.json", "hall.corrected.plan.svg"} {
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), first) {
			t.Errorf("%s does not say to keep off", name)
		}
	}
	if !strings.Contains(page.String(), first) {
		t.Errorf("the page does not: %s", page.String())
	}
}

// TestNamesForProgramsStayOffThePage: a page that people read says what is done in words; the names that --only takes stand once, where it is said that they are those.
func TestNamesForProgramsStayOffThePage(t *testing.T) {
	dir := demos(t)
	for _, stem := range []string{"library", "workshop", "depot"} {
		code, page, errs := run(t, append([]string{"correct", "--draw", "bring-to-limit"}, inputsOf(t, dir, stem)...)...)
		if code != 0 {
			t.Fatal(errs)
		}
		words := strings.Join(strings.Fields(page), " ")
		before, after, found := strings.Cut(words, "In the names that --prefer, --only and --forbid take: ")
		if !found {
			t.Fatalf("%s: the page does not say what --prefer takes", stem)
		}
		_, after, _ = strings.Cut(after, ". ")
		for _, name := range append(kindsWithDash(), "combined", "mend-now", "bring-to-limit", "at-reroofing") {
			if strings.Contains(strings.ToLower(before+after), name) {
				t.Errorf("%s: the page says %q", stem, name)
			}
		}
	}
}

// kindsWithDash are the names of changes that are no words of the trade.
func kindsWithDash() (out []string) {
	for _, k := range mend.Kinds() {
		if name := string(k); strings.Contains(name, "-") && !strings.HasPrefix(name, "re-") {
			out = append(out, name)
		}
	}
	return out
}

// Money is printed with --prices and decides where --prefer says cost; without prices it cannot.
func TestPreferCost(t *testing.T) {
	dir := demos(t)
	roof := filepath.Join(dir, "library.geojson")
	if code, _, text := run(t, "correct", roof, "--prefer", "cost"); code != 2 || !strings.Contains(text, "--prices") {
		t.Errorf("exit %d: %s", code, text)
	}
	prices := filepath.Join(t.TempDir(), "prices.json")
	if err := os.WriteFile(prices, []byte(`{"currency": "$", "per_m2": 100, "per_m3": 400, "per_outlet_reset": 900}`), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, text := run(t, "correct", roof, "--prefer", "cost", "--prices", prices)
	if code != 0 || !strings.Contains(out, "cost") {
		t.Errorf("exit %d: %s%s", code, out, text)
	}
}
