package command_test

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
)

// outletJSON runs "runnel outlet" with --json and returns the object.
func outletJSON(t *testing.T, args ...string) map[string]any {
	t.Helper()
	code, out, text := run(t, append(append([]string{"outlet"}, args...), "--json")...)
	var o map[string]any
	if err := json.Unmarshal([]byte(out), &o); code != 0 || err != nil {
		t.Fatalf("%v: exit %d, %v, %s%s", args, code, err, out, text)
	}
	return o
}

func TestOutletFigures(t *testing.T) {
	for _, tt := range []struct {
		args      string
		name      string
		want      float64
		tolerance float64
		source    string
	}{
		{"scupper --width 8in --opening-height 4in --head 3in", "flow_gpm", 120.55, 0.01, "by hand: 2.9 x 8 x 3^1.5"},
		{"scupper --width 8in --opening-height 4in --flow 120.551gpm", "head_in", 3, 0.001, "by hand"},
		{"scupper --width 8in --opening-height 4in --head 3in --units-out si", "flow_lps", 7.6056, 0.0005, "by hand: 120.551 x 3.785411784 / 60"},
		{"scupper --width 8in --opening-height 4in --head 3in --units-out si", "head_mm", 76.2, 0.001, "by hand"},
		{"scupper --width 12in --head 4in --method francis", "flow_gpm", 268.5, 0.05, "by hand: 3.33 (1 - 0.2/3) (1/3)^1.5 ft3/s"},
		{"scupper --width 6in --head 3in --method table", "flow_gpm", 90, 0.001, "ASCE 7-10, Example 2 (read)"},
		{"drain --diameter 4in --flow 97.5gpm", "head_in", 1.19, 0.005, "ASCE 7-05, C8.5, Example 1 (recalled)"},
		{"drain --diameter 6in --head 3in --leader 4in", "flow_gpm", 180, 0.001, "IPC 1106.2, 4 in vertical (read)"},
		{"drain --diameter 100mm --method weir-orifice --head 50mm", "flow_lps", 2.357, 0.0005, "EN 12056-3, section 7, with a strainer, k = 0.5 (recalled)"},
		{"standpipe --diameter 100mm --head 50mm", "flow_lps", 4.71, 0.005, "EN 12056-3, section 7 (recalled)"},
		{"edge --length 10ft --flow 41.6gpm", "head_in", 0.243, 0.0005, "by hand: (4.16 / 12 / 2.9)^(2/3)"},
		{"leader --size 4in", "flow_gpm", 180, 0.001, "IPC 1106.2 (read)"},
		{"leader --size 4in --method seven-24ths", "flow_gpm", 144, 0.5, "NSPC 2006, Table 13.6.1 (read)"},
		{"leader --size 2x4in", "flow_gpm", 92, 0.001, "IPC 1106.3 (recalled)"},
		{"leader --size 100mm --method en-12056-3", "flow_lps", 10.7, 0.05, "EN 12056-3, Table 8 (recalled)"},
		{"pipe --diameter 4in --slope 1/4:12", "flow_gpm", 163, 0.001, "IPC 1106.2 (read)"},
		{"gutter --shape half-round --width 150mm", "flow_lps", 2.143, 0.0006, "by hand: 0.9 x 2.78e-5 x 8836^1.25"},
	} {
		o := outletJSON(t, strings.Fields(tt.args)...)
		got, ok := o[tt.name].(float64)
		if !ok || !(math.Abs(got-tt.want) <= tt.tolerance) {
			t.Errorf("%s: %s is %v, want %v (%s)", tt.args, tt.name, o[tt.name], tt.want, tt.source)
		}
		if o["method"] == "" || o["source"] == nil || o["units"] == nil {
			t.Errorf("%s: %v", tt.args, o)
		}
	}
}

// What stands beside: a lower figure, a clogged strainer, the links, what was not stated, what was not tested.
func TestOutletSaysWhatStandsBeside(t *testing.T) {
	o := outletJSON(t, "drain", "--diameter", "4in", "--head", "3in", "--leader", "3x4in", "--pipe", "4in", "--pipe-slope", "1/4 in per ft")
	if clogged := o["half_clogged"].(map[string]any); clogged["flow_gpm"] != 90.0 { // by hand: half of 180 (ASCE 7-05, recalled)
		t.Errorf("%v", clogged)
	}
	if links := o["links"].([]any); len(links) != 2 || links[1].(map[string]any)["flow_gpm"] != 163.0 {
		t.Errorf("%v", links)
	}
	if o["least"] != "leader" || o["not_stated"] != nil || !strings.Contains(o["outside"].(string), "head of 3 in") {
		t.Errorf("%v", o)
	}
	s := outletJSON(t, "scupper", "--width", "8in", "--head", "3in")
	// By hand: 2.63 x 8/12 x 0.25^1.5 ft3/s x 448.83 = 98.37 gpm (Handbook of Hydraulics, broad-crested weirs, read).
	if lower := s["lower"].(map[string]any); !(math.Abs(lower["flow_gpm"].(float64)-98.37) <= 0.01) || lower["source_read"] != true {
		t.Errorf("%v", lower)
	}
	if u := s["not_stated"].([]any); len(u) != 3 || u[0] != "conductor head" {
		t.Errorf("%v", u)
	}
}

func TestOutletRefuses(t *testing.T) {
	for _, tt := range []struct {
		args string
		code int
		says string
	}{
		{"outlet", 2, "name the kind of outlet: drain, edge, gutter, leader, pipe, scupper, standpipe"},
		{"outlet flume", 2, `unknown kind of outlet "flume"`},
		{"outlet scupper --width 8in", 2, "give either --head"},
		{"outlet scupper --width 8in --head 3in --flow 2gpm", 2, "give either --head"},
		{"outlet scupper --head 3in", 2, "needs its width"},
		{"outlet scupper --width 8 --head 3in", 2, `--width: "8" is not a length: it has no unit`},
		{"outlet scupper --width 8in --head -3in", 2, "--head: give a length above 0"},
		{"outlet scupper --width 8in --flow 3", 2, "--flow: \"3\" is not a flow: it has no unit"},
		{"outlet scupper --width 8in --head 3in --method weir", 2, "use sharp-crested, broad-crested, francis, table"},
		{"outlet scupper --width 8in --head 3in --leader 3x", 2, "--leader"},
		{"outlet scupper --width 8in --head 3in extra", 2, "takes no arguments"},
		{"outlet scupper --width 8in --head 3in --units-out metric", 2, "use us or si"},
		{"outlet drain --diameter 4in --flow 500gpm", 3, "500 gpm (31.5 L/s) is more than the inlet takes under 3 m (10 ft) of water: 180 gpm (11.4 L/s)"},
		{"outlet drain --diameter 4in --head 2in --pipe 4in --pipe-slope 0", 2, "a level pipe"},
		{"outlet leader", 2, "--size"},
		{"outlet leader --size 1in", 2, "outside the tested range"},
		{"outlet pipe --diameter 4in", 2, "--slope"},
		{"outlet gutter --width 100mm", 2, "needs its shape, half-round or box"},
		{"outlet gutter --width 100mm --shape ogee", 2, "--shape \"ogee\": use half-round, box"},
		{"outlet pipe --diameter 4in --slope 1/8", 2, "inches to the foot"},
	} {
		if code, out, text := run(t, strings.Fields(tt.args)...); code != tt.code || out != "" || !strings.Contains(text, tt.says) {
			t.Errorf("%s: exit %d, %q, %q; want %d, %q", tt.args, code, out, text, tt.code, tt.says)
		}
	}
}

// The reference shows commands of "runnel outlet" with what they print.
func TestReadmesOutletsAreAsRun(t *testing.T) {
	data, err := os.ReadFile("reference/outlets.md")
	if err != nil {
		t.Fatal(err)
	}
	const command, indent = "    bin/runnel outlet ", "    "
	blocks := strings.Split(string(data), "\n"+command)[1:]
	if len(blocks) < 2 {
		t.Fatalf("the reference runs %d outlets", len(blocks))
	}
	for _, block := range blocks {
		line, rest, _ := strings.Cut(block, "\n")
		var want strings.Builder
		for shown := range strings.Lines(rest) {
			if !strings.HasPrefix(shown, indent) {
				break
			}
			want.WriteString(strings.TrimPrefix(shown, indent))
		}
		code, out, text := run(t, append([]string{"outlet"}, words(line)...)...)
		if code != 0 || want.Len() > 0 && out != want.String() {
			t.Errorf("%s: exit %d, %s\n%s\nreference:\n%s", line, code, text, out, want.String())
		}
	}
}

// words splits a command line at blanks outside double quotes.
func words(line string) []string {
	var all []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			all = append(all, part)
			continue
		}
		all = append(all, strings.Fields(part)...)
	}
	return all
}
