package record_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/drainage"
	"runnel/analysis/rainload"
	"runnel/export/record"
	"runnel/export/sample"
)

// The expected text is that of strconv.FormatFloat with the same count of decimals, less trailing zeros.
func TestAppendNumberAgreesWithStrconv(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 200_000 {
		decimals := random.IntN(9)
		v := (random.Float64() - 0.5) * math.Pow10(random.IntN(7))
		want := strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Contains(want, ".") {
			want = strings.TrimRight(strings.TrimRight(want, "0"), ".")
		}
		if want == "-0" {
			want = "0"
		}
		got := string(record.AppendNumber(nil, v, decimals))
		if got == want {
			continue
		}
		// Scaling may round a tie the other way: at most one unit of the last decimal apart.
		g, err := strconv.ParseFloat(got, 64)
		if err != nil || !(math.Abs(g-v) <= 0.5000001*math.Pow10(-decimals)+1e-9) {
			t.Fatalf("AppendNumber(%v, %d) = %s, want %s", v, decimals, got, want)
		}
	}
}

func TestAppendNumber(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 6, "0"},
		{-0.0000001, 6, "0"},
		{-0.000001, 6, "-0.000001"},
		{1.5, 0, "2"},
		{100, 3, "100"},
		{-12.5, 3, "-12.5"},
		{0.25, 6, "0.25"},
		{-122.41941549, 8, "-122.41941549"},
		{1e15, 6, "1000000000000000"},
		{123456789012345680, 6, "123456789012345680"},
	} {
		if got := string(record.AppendNumber(nil, c.v, c.decimals)); got != c.want {
			t.Errorf("AppendNumber(%v, %d) = %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

// What encoding/json reads back must be the text that went in; bytes that are no UTF-8 are replaced.
func TestAppendStringIsJSON(t *testing.T) {
	for _, text := range []string{
		"", "plain", `1-3/8" \ deep`, "line\nbreak\ttab", "\x00\x1f", "é ⅛ 屋根 🌧", "</script>", "\u2028",
	} {
		var back string
		if err := json.Unmarshal(record.AppendString(nil, text), &back); err != nil {
			t.Errorf("%q: %v", text, err)
		} else if back != text {
			t.Errorf("%q came back as %q", text, back)
		}
	}
	var back string
	if err := json.Unmarshal(record.AppendString(nil, "a\xffb"), &back); err != nil || back != "a\ufffdb" {
		t.Errorf("invalid UTF-8 came back as %q, %v", back, err)
	}
}

func TestObjectLeavesUnknownValuesOut(t *testing.T) {
	var o record.Object
	o.Text("empty", "")
	o.Number("nan", math.NaN(), 3)
	o.Number("inf", math.Inf(-1), 3)
	o.Texts("none", nil)
	o.Flag("false", false)
	if got := string(o.Append(nil)); got != "{}" {
		t.Errorf("got %s, want {}", got)
	}
	o.Text("id", "R1.P02")
	o.Int("n", 3)
	o.Bool("ok", false)
	o.Texts("list", []string{"a", "b"})
	if got, want := string(o.Append(nil)), `{"id":"R1.P02","n":3,"ok":false,"list":["a","b"]}`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if !o.Has("n") || o.Has("nan") {
		t.Error("Has does not tell members from others")
	}
	if o.Value("id") != "R1.P02" || o.Value("n") != "3" || o.Value("nan") != "" {
		t.Error("Value does not return what was added")
	}
}

// By hand: a slope of 2 % with a standard error of 0.0004 is good to 0.04 per cent.
func TestErrorOfASlopeIsInPerCent(t *testing.T) {
	s := sample.Study(sample.Local())
	s.Slopes.Planes[0].Slope, s.Slopes.Planes[0].Sigma = 0.02, 0.0004
	var o record.Object
	record.NewBook(s, "", record.SI).Plane(&o, 0)
	if got := o.Value("slope_sigma_pct"); got != "0.04" {
		t.Errorf("%q", got)
	}
}

// What is said of water with every primary outlet blocked: a roof without a way out fills, one that stays dry is dry, and water that stands somewhere
// is told with its depth, also where another part of the roof has no way out.
func TestBlockedTellsThreeCases(t *testing.T) {
	s := sample.Study(sample.Local())
	s.Storm, s.Drainage = nil, &drainage.Drainage{Overflow: 1e-5}
	b := record.NewBook(s, "", record.SI)
	for _, c := range []struct {
		load rainload.Load
		want string
	}{
		{rainload.Load{Deepest: -1, Enclosed: true}, "no way out at any level"},
		{rainload.Load{Deepest: -1}, "no water stands"},
		{rainload.Load{Deepest: 0, Depth: 0.08, Enclosed: true}, "water stands at least 80 mm deep"},
	} {
		s.RainLoad = &c.load
		if got := b.Blocked(); !strings.Contains(got, c.want) {
			t.Errorf("%+v: %q", c.load, got)
		}
	}
}
