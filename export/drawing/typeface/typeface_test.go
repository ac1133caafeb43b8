package typeface_test

import (
	"math"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"

	"runnel/export/drawing/typeface"
	"runnel/export/font"
)

// TestWidthsAgree: the PDF library reads the font files by itself; it rounds advances to thousandths of the size.
func TestWidthsAgree(t *testing.T) {
	d := fpdf.New("P", "pt", "A4", "")
	d.AddUTF8FontFromBytes("f", "", font.Regular)
	d.AddUTF8FontFromBytes("f", "B", font.Bold)
	for _, text := range []string{"RD-1", "invert 100.020 m", `1-3/8"`, "≥ ¼ ° × m² …", "Dachfläche Süd", "ΑΒΓ абв"} {
		for _, bold := range []bool{false, true} {
			d.SetFont("f", map[bool]string{true: "B"}[bold], 10)
			want, got := d.GetStringWidth(text), typeface.Width(text, 10, bold)
			if !(math.Abs(got-want) <= 0.005*float64(len(text))) {
				t.Errorf("%q, bold %v: %.3f, want %.3f", text, bold, got, want)
			}
			if got == 0 {
				t.Errorf("%q has no width", text)
			}
		}
	}
}

func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"plain":                     "plain",
		"  two \t words\r\n":        "two words",
		"a\u202eb\u2066c\u200fd":    "abcd",
		"a\x00b\x1bc\u0085d":        "abc d",
		"屋根":                        "??",
		"גג 2":                      "?? 2",
		"\U0001F3E0 home":           "? home",
		"a\u0301":                   "a",
		"a\u0488b":                  "a?b", // has a sign and no width
		"":                          "",
		"½ ¼ ¾ ° × ≥ m²":            "½ ¼ ¾ ° × ≥ m²",
		string([]byte{0xff, 'a'}):   "?a",
		"<script>alert(1)</script>": "<script>alert(1)</script>",
	} {
		if got := typeface.Clean(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func TestWrapAndCut(t *testing.T) {
	text := "one two three " + strings.Repeat("W", 60) + " four"
	lines := typeface.Wrap(text, 2.5, 20, false)
	if got := strings.Join(strings.Fields(strings.Join(lines, "")), ""); got != strings.ReplaceAll(text, " ", "") && !strings.Contains(strings.Join(lines, " "), "one two") {
		t.Errorf("text is lost: %q", lines)
	}
	for _, l := range lines {
		if w := typeface.Width(l, 2.5, false); w > 20 {
			t.Errorf("%q is %.1f wide", l, w)
		}
	}
	if joined := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); joined != strings.ReplaceAll(text, " ", "") {
		t.Errorf("letters are lost: %q", lines)
	}
	if got := typeface.Cut(text, 2.5, 20, true); typeface.Width(got, 2.5, true) > 20 || !strings.HasSuffix(got, "…") {
		t.Errorf("cut to %q", got)
	}
	if got := typeface.Cut("short", 2.5, 20, true); got != "short" {
		t.Errorf("cut to %q", got)
	}
}
