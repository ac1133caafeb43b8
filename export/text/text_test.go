package text_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/text"
)

func page(t *testing.T, s *study.Study, u record.Units) string {
	t.Helper()
	var b bytes.Buffer
	if err := text.Write(&b, model.Of(record.NewBook(s, "", u))); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// dry is the sample without what holds water: its drain is set to the surface and made wide.
func dry() *roof.Roof {
	r := sample.Local()
	r.Outlets[0].Invert = 99.99
	for i := range r.Spots {
		r.Spots[i].Z = 100 + 0.02*r.Spots[i].Plan[0]
	}
	r.Breaklines = nil
	r.Edges[0].Line = []roof.Position{{Plan: r.Outline.Rings[0][3].Plan}, {Plan: r.Outline.Rings[0][0].Plan}}
	r.Outlets = r.Outlets[:0]
	r.Curbs = nil
	return r
}

func TestFirstScreenKeepsItsOrder(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		p := page(t, sample.Study(sample.Local()), u)
		at := 0
		for _, word := range []string{
			"\nPONDS ", "\nHELD BY ", "\nNEXT ", "\nMEND ", "\nSURVEY ", "\nLIMIT ", "\nOUTLETS\n", "\nPONDS, ", "\nPLANES\n",
			"\nVALLEYS, ", "\nFINDINGS\n", "\nASSUMPTIONS\n", "\nWARNINGS\n", "\nCAUTIONS\n",
		} {
			i := strings.Index(p[at:], word)
			if i < 0 {
				t.Fatalf("%v: no %q after %d:\n%s", u, word, at, p)
			}
			at += i
		}
		first, _, _ := strings.Cut(p, "\nOUTLETS\n")
		if lines := strings.Count(first, "\n"); lines > 30 {
			t.Errorf("%v: the first screen has %d lines", u, lines)
		}
	}
}

// By hand, for the sample in metres: the drain stands 20 mm above the low point of the roof, so the pond is
// 20 mm deep, 0.196 kPa at 9.80665 m/s2.
func TestFirstScreenSaysHowDeepAndHeavy(t *testing.T) {
	first, _, _ := strings.Cut(page(t, sample.Study(sample.Local()), record.SI), "\nHELD BY ")
	for _, want := range []string{"P01", "20 mm deep", "0.20 kPa", "RD-1"} {
		if !strings.Contains(strings.Join(strings.Fields(first), " "), want) {
			t.Errorf("the first lines lack %q:\n%s", want, first)
		}
	}
}

func TestNoPondIsSaidWithItsDoubt(t *testing.T) {
	p := strings.Join(strings.Fields(page(t, sample.Study(dry()), record.SI)), " ")
	if !strings.Contains(p, "PONDS No ponds found. Ponds smaller than the 1.8 m between spots may be missed.") {
		t.Errorf("page:\n%s", p)
	}
	if strings.Contains(p, "HELD BY") || strings.Contains(p, "MEND") {
		t.Error("a roof without ponds has something held or mended")
	}
}

func TestPageFitsATerminal(t *testing.T) {
	for _, r := range []*roof.Roof{sample.Local(), sample.Feet(), sample.Geographic(), dry()} {
		for _, u := range []record.Units{record.SI, record.US} {
			for line := range strings.Lines(page(t, sample.Study(r), u)) {
				line = strings.TrimSuffix(line, "\n")
				if n := utf8.RuneCountInString(line); n > 104 {
					t.Errorf("%d columns: %s", n, line)
				}
				if strings.TrimRight(line, " ") != line {
					t.Errorf("blanks at the end of %q", line)
				}
			}
		}
	}
}

// The program compares numbers with limits; it calls no roof any of these.
func TestPageMakesNoPromise(t *testing.T) {
	promise := regexp.MustCompile(`(?i)\b(compliant|complies|adequate|adequately|safe|safely|guarantee\w*)\b`)
	for _, r := range []*roof.Roof{sample.Local(), dry()} {
		if word := promise.FindString(page(t, sample.Study(r), record.US)); word != "" {
			t.Errorf("the page says %q", word)
		}
	}
}

func TestEveryCautionHasItsText(t *testing.T) {
	s := sample.Study(sample.Local())
	p := strings.Join(strings.Fields(page(t, s, record.US)), " ")
	if len(s.Cautions) < 5 {
		t.Fatalf("only %d cautions apply to the sample", len(s.Cautions))
	}
	_, cautions, _ := strings.Cut(p, "CAUTIONS")
	if got := strings.Count(cautions, " - "); got != len(s.Cautions) {
		t.Errorf("%d cautions on the page, want %d", got, len(s.Cautions))
	}
}

// TestRainThatWasNotStatedIsSaid: without a rate of rain, what the outlets can take is not compared, and that is said.
func TestRainThatWasNotStatedIsSaid(t *testing.T) {
	for _, none := range []bool{true, false} {
		s := sample.Study(sample.Local())
		s.Survey.NoRain = none
		p := strings.Join(strings.Fields(page(t, s, record.SI)), " ")
		if strings.Contains(p, "how much rain the outlets can take") != none {
			t.Errorf("no rain %v: %s", none, p[:600])
		}
	}
}
