package command

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"runnel/cmd/call"
)

// logs runs the command on a day and returns what it printed, what it said and how it ended.
func logs(t *testing.T, day string, args ...string) (page, said string, code int) {
	t.Helper()
	now, err := time.Parse(time.DateOnly, day)
	if err != nil {
		t.Fatal(err)
	}
	var out, note bytes.Buffer
	c := newLog(call.Streams{Out: &out, Err: &note})
	c.SetArgs(args)
	c.SilenceErrors, c.SilenceUsage = true, true
	r := &logRun{Streams: call.Streams{Out: &out, Err: &note}, now: func() time.Time { return now }}
	c.RunE = func(_ *cobra.Command, args []string) error {
		f := c.Flags()
		for name, to := range map[string]*string{"kind": &r.kind, "who": &r.who, "at": &r.at, "pond": &r.pond, "depth": &r.depth, "date": &r.date, "photo": &r.photo, "units-out": &r.unitsOut} {
			*to, _ = f.GetString(name)
		}
		r.hours, _ = f.GetFloat64("hours")
		return r.run(args)
	}
	err = c.Execute()
	return out.String(), note.String() + call.Explain(err), call.ExitCode(err)
}

// A year of a roof: water seen, a repair, cleaning, the close-out; the depth of one pond over the years, in proportion; what the season wants.
func TestLog(t *testing.T) {
	dir := t.TempDir()
	roof := filepath.Join(dir, "shed.geojson")
	photo := filepath.Join(dir, "drain.jpg")
	for _, path := range []string{roof, photo} {
		if err := os.WriteFile(path, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{roof, "water behind RTU-1", "--kind", "water", "--pond", "P01", "--depth", "1 in", "--hours", "50", "--date", "2024-04-02"},
		{roof, "water behind RTU-1", "--kind", "water", "--pond", "P01", "--depth", "1/2 in", "--hours", "49", "--date", "2025-04-09"},
		{roof, "cricket built", "--kind", "repaired", "--who", "the roofer", "--date", "2025-06-01"},
		{roof, "strainers cleaned", "--kind", "cleaned", "--photo", photo, "--date", "2025-10-20"},
	} {
		if _, said, code := logs(t, "2025-11-01", args...); code != call.ExitDone || !strings.Contains(said, "added entry") {
			t.Fatalf("%v: %d %s", args, code, said)
		}
	}
	page, _, _ := logs(t, "2025-11-05", roof)
	plain := strings.Join(strings.Fields(page), " ")
	for _, want := range []string{
		"Open: nobody has seen the roof dry 48 hours after rain since 2025-06-01", "This year: leaf fall 2025-10-20.", "spring (missed)", "before frost (due now)",
		strings.Repeat("#", 40), " " + strings.Repeat("#", 20) + " ", "drain.jpg", "50 hours after rain", "POND P01",
	} {
		if !strings.Contains(plain, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	if _, said, code := logs(t, "2025-11-20", roof, "dry everywhere", "--kind", "dry", "--hours", "50"); code != call.ExitDone {
		t.Fatal(said)
	}
	if page, _, _ = logs(t, "2025-11-21", roof); !strings.Contains(page, "Seen dry 2025-11-20, 50 hours after rain.") {
		t.Errorf("close-out:\n%s", page)
	}
	text, err := os.ReadFile(filepath.Join(dir, "shed.log.ndjson"))
	if err != nil {
		t.Fatal(err)
	}
	// The hash of "x": 2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881 (SHA-256, as other programs reckon it).
	if !strings.Contains(string(text), "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881") {
		t.Error("no hash of the photo")
	}
	changed := strings.Replace(string(text), "cricket built", "nothing built", 1)
	if err := os.WriteFile(filepath.Join(dir, "shed.log.ndjson"), []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	if page, _, _ = logs(t, "2025-11-21", roof); !strings.Contains(page, "A line before entry 4 was changed") {
		t.Errorf("changed:\n%s", page)
	}
}

func TestLogWrongly(t *testing.T) {
	roof := filepath.Join(t.TempDir(), "shed.geojson")
	if err := os.WriteFile(roof, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"there is no such file":     {"nowhere.geojson", "x"},
		"unknown kind":              {roof, "x", "--kind", "party"},
		"give a day that has been":  {roof, "x", "--date", "2031-01-01"},
		"give a depth with its":     {roof, "x", "--depth", "5"},
		"48 hours or more":          {roof, "x", "--kind", "dry", "--hours", "12"},
		"give a text":               {roof, " "},
		"nophoto.jpg":               {roof, "x", "--photo", "nophoto.jpg"},
		"give the hours":            {roof, "x", "--hours", "-3"},
		"use us or si":              {roof, "x", "--units-out", "imperial"},
		"give the roof's file, and": {},
	} {
		if _, said, code := logs(t, "2025-11-01", args...); code == call.ExitDone || !strings.Contains(said, want) {
			t.Errorf("%v: %d %s", args, code, said)
		}
	}
	if page, _, code := logs(t, "2025-11-01", roof); code != call.ExitDone || !strings.Contains(page, "Nothing is kept yet") {
		t.Errorf("%d %s", code, page)
	}
}

// What counts is when things happened, not when they were written down: a look of before the repair closes nothing, water that stands later opens it again,
// and water of less than 48 hours does not.
func TestLogGoesByDates(t *testing.T) {
	roof := filepath.Join(t.TempDir(), "shed.geojson")
	if err := os.WriteFile(roof, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"repaired", "--kind", "repaired", "--date", "2025-06-01"}, "Open: nobody has seen the roof dry 48 hours after rain since 2025-06-01."},
		{[]string{"dry", "--kind", "dry", "--hours", "60", "--date", "2025-05-01"}, "Open: nobody has seen the roof dry 48 hours after rain since 2025-06-01."},
		{[]string{"dry", "--kind", "dry", "--hours", "50", "--date", "2025-07-01"}, "Seen dry 2025-07-01, 50 hours after rain."},
		{[]string{"wet", "--kind", "water", "--pond", "P01", "--depth", "1 in", "--hours", "20", "--date", "2025-08-02"}, "Seen dry 2025-07-01, 50 hours after rain. Water was seen after that, on 2025-08-02, 20 hours after rain: look again 48 hours after rain."},
		{[]string{"wet", "--kind", "water", "--pond", "P01", "--depth", "2 in", "--hours", "70", "--date", "2025-08-01"}, "Open: on 2025-08-01 water still stood 70 hours after rain, and nobody has seen the roof dry since."},
		{[]string{"dry", "--kind", "dry", "--hours", "48", "--date", "2025-09-01"}, "Seen dry 2025-09-01, 48 hours after rain."},
	} {
		if _, said, code := logs(t, "2025-11-01", append([]string{roof}, c.args...)...); code != call.ExitDone {
			t.Fatal(said)
		}
		page, _, _ := logs(t, "2025-11-01", roof)
		if plain := strings.Join(strings.Fields(page), " "); !strings.Contains(plain, "CLOSE-OUT "+c.want) {
			t.Errorf("%v: no %q in\n%s", c.args, c.want, page)
		}
	}
	page, _, _ := logs(t, "2025-11-01", roof)
	if plain := strings.Join(strings.Fields(page), " "); !strings.Contains(plain, "2025-08-01 2\" "+strings.Repeat("#", 40)+" 70 2025-08-02 1\" "+strings.Repeat("#", 20)+" 20: may still run off") {
		t.Errorf("the chart:\n%s", page)
	}
}
