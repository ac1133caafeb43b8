package command

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"runnel/analysis/soak"
	"runnel/cmd/call"
)

// Whatever is asked of an outlet, the answer is a refusal in words or figures that are numbers of 0 or more.
func outletAnswers() *soak.Target {
	g := soak.New("FuzzOutletAnswers", "in", "mm", "gpm", "L/s", "l/(s ha)", "3x4in", "1/4 in per ft", "%", "francis", "sharp-crested", "broad-crested", "orifice", "half-round", "box", "us", "si", "cfs")
	kinds := []string{"scupper", "drain", "standpipe", "edge", "leader", "pipe", "gutter"}
	flags := []string{
		"width", "opening-height", "crest-breadth", "conductor-head", "diameter", "dam-diameter", "dam-height", "length", "depth",
		"slope", "size", "leader", "pipe", "pipe-slope", "shape", "head", "flow", "method", "units-out",
	}
	g.Add(uint8(0), uint32(1|2|1<<15), "8in", "4in", "3in")
	g.Add(uint8(1), uint32(1<<4|1<<16|1<<11), "4in", "97.5gpm", "3x4in")
	g.Add(uint8(3), uint32(1<<7|1<<16), "10ft", "41.6 gpm", "")
	g.Add(uint8(5), uint32(1<<4|1<<9), "6in", "1/8 in per ft", "")
	g.Add(uint8(6), uint32(1|1<<14), "150 mm", "half-round", "box")
	g.Add(uint8(0), uint32(1|1<<17|1<<15), "12 in", "francis", "0.1 m")
	g.Add(uint8(2), uint32(1<<4|1<<15|1<<18), "100mm", "si", "1' 2-1/2\"")
	g.Add(uint8(6), uint32(1<<14), strings.Repeat("half-round", 200), strings.Repeat("half-round", 200), strings.Repeat("half-round", 200))
	g.Property = func(t *testing.T, kind uint8, which uint32, first, second, third string) {
		t.Helper()
		args := []string{kinds[int(kind)%len(kinds)], "--json"}
		values := []string{first, second, third}
		for i, name := range flags {
			if which&(1<<i) != 0 {
				args = append(args, "--"+name+"="+values[len(args)%3])
			}
		}
		var out, errs bytes.Buffer
		c := newOutlet(call.Streams{Out: &out, Err: &errs})
		c.SetArgs(args)
		c.SetOut(&out)
		c.SetErr(&errs)
		c.SilenceErrors, c.SilenceUsage = true, true
		err := c.Execute()
		if err != nil {
			if code := call.ExitCode(err); code == call.ExitFault || call.Explain(err) == "" || len(err.Error()) > 2000 {
				t.Fatalf("%q: exit %d: %v", args, code, err)
			}
			return
		}
		var answer any
		if err := json.Unmarshal(out.Bytes(), &answer); err != nil {
			t.Fatalf("%q: %v: %s", args, err, out.String())
		}
		numbers(t, args, answer)
	}
	return g
}

func FuzzOutletAnswers(f *testing.F) { outletAnswers().Fuzz(f) }

func TestSoakOutletAnswers(t *testing.T) { outletAnswers().Soak(t) }

// numbers fails where a figure of an answer is negative; JSON holds none that is not finite.
func numbers(t *testing.T, args []string, v any) {
	t.Helper()
	switch v := v.(type) {
	case float64:
		if v < 0 || math.IsInf(v, 0) {
			t.Fatalf("%q: %v", args, v)
		}
	case []any:
		for _, e := range v {
			numbers(t, args, e)
		}
	case map[string]any:
		for _, e := range v {
			numbers(t, args, e)
		}
	}
}
