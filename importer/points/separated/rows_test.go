package separated_test

import (
	"encoding/csv"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"runnel/importer/points/separated"
)

// What looks like a number: digits with signs and points, an exponent that something follows. A head of a column never does, an empty field neither.
func TestLooksNumeric(t *testing.T) {
	for field, want := range map[string]bool{
		"": false, "1": true, "-1.5": true, "+1,5": true, "1e5": true, "1E-5": true, "1e": false, "e5": false, "e": false, ".": false, "-": false, ",5": true, "5.": true,
		"x": false, "1x": false, "x1": false, "1 2": false, "point": false, "12' 6\"": false, "٣": false, "1e5e5": true, "9": true, "0": true, "e1": false, "-e1": false, "1_000": false,
	} {
		if got := separated.LooksNumeric(field); got != want {
			t.Errorf("%q: %v", field, got)
		}
	}
}

// A row that begins with its separator has an empty first field. Commas between digits of a row with blanks are decimal ones from two such numbers on.
func TestGuessAndSplitAtTheEdges(t *testing.T) {
	for _, c := range []struct {
		row, name string
		most      int
		want      []string
	}{
		{";1;2", "semicolons", 0, []string{"", "1", "2"}},
		{",1,2", "commas", 0, []string{"", "1", "2"}},
		{"\t1\t2", "tabs", 0, []string{"", "1", "2"}},
		{";1,5\t2", "tabs", 0, []string{";1,5", "2"}},
		{"1,5;2,5", "semicolons", 0, []string{"1,5", "2,5"}},
		{"1 2 3", "blanks", 0, []string{"1", "2", "3"}},
		{"  1   2  ", "blanks", 0, []string{"1", "2"}},
		{"1,5 2", "commas", 0, []string{"1", "5 2"}}, // one number alone: 1 and "5 2"
		{"1,5 2,5", "blanks", 0, []string{"1,5", "2,5"}},
		{"a,5 2,5", "commas", 0, []string{"a", "5 2", "5"}},
		{"1,5,6 2,5 3,5", "commas", 0, []string{"1", "5", "6 2", "5 3", "5"}},
		{"7 DRAIN by the door", "blanks", 2, []string{"7", "DRAIN by the door"}},
		{"DRAIN by the door", "blanks", 1, []string{"DRAIN by the door"}},
		{"7 DRAIN by the door  ", "blanks", 3, []string{"7", "DRAIN", "by the door"}},
		{`"a",b`, "commas", 0, []string{"a", "b"}},
		{`"a;b";c`, "semicolons", 0, []string{"a;b", "c"}},
		{`a," b ",c`, "commas", 0, []string{"a", "b", "c"}},
		{`a,"6 1/4""",c`, "commas", 0, []string{"a", `6 1/4"`, "c"}},
		{`"6'",12' 6"`, "commas", 0, []string{"6'", `12' 6"`}},
	} {
		sep := separated.Guess(c.row)
		got, err := separated.Split(nil, c.row, sep, c.most)
		if separated.Name(sep) != c.name || err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%q: %s, %q, %v; want %s, %q", c.row, separated.Name(sep), got, err, c.name, c.want)
		}
	}
	// A quote that nothing closes before the end of the row is taken as read to the end.
	if got, err := separated.Split(nil, `a,"b, c`, ',', 0); err != nil || !slices.Equal(got, []string{"a", "b, c"}) {
		t.Errorf("%q, %v", got, err)
	}
	// Fields are added to those that are there.
	if got, _ := separated.Split([]string{"x"}, "1;2", ';', 0); !slices.Equal(got, []string{"x", "1", "2"}) {
		t.Errorf("%q", got)
	}
}

// What a writer of CSV wrote comes back field by field, but for the blanks round each; by the CSV writer of the standard library.
func TestWhatWasWrittenComesBack(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2)) //nolint:gosec // rows that repeat
	letters := []string{"a", "ü", "1", ".", " ", `"`, "'", ";", ",", "\t", "#", "e"}
	for range 3000 {
		fields := make([]string, 2+random.IntN(5))
		for i := range fields {
			for range random.IntN(6) {
				fields[i] += letters[random.IntN(len(letters))]
			}
			fields[i] = strings.TrimSpace(fields[i])
		}
		for _, sep := range []byte{',', ';', '\t'} {
			var b strings.Builder
			w := csv.NewWriter(&b)
			w.Comma = rune(sep)
			if err := w.Write(fields); err != nil {
				t.Fatal(err)
			}
			w.Flush()
			got, err := separated.Split(nil, strings.TrimSuffix(b.String(), "\n"), sep, 0)
			if err != nil || !slices.Equal(got, fields) {
				t.Fatalf("%q as %q: %q, %v", fields, b.String(), got, err)
			}
		}
	}
}

// A number is read as strconv reads it, whichever sign stands for the decimals; and which that was is told.
func TestNumbersAsStrconvReadsThem(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4)) //nolint:gosec // numbers that repeat
	for range 3000 {
		v := (random.Float64() - 0.5) * []float64{1, 1e3, 1e9, 1e-6}[random.IntN(4)]
		text := strconv.FormatFloat(v, []byte{'f', 'e', 'g'}[random.IntN(3)], -1, 64)
		want, sign := v, byte(0)
		if strings.Contains(text, ".") {
			sign = '.'
		}
		if got, s, ok := separated.Number(text, random.IntN(2) == 0); !ok || got != want || s != sign {
			t.Fatalf("%s: %g, %q, %v", text, got, s, ok)
		}
		comma := strings.Replace(text, ".", ",", 1)
		if got, s, ok := separated.Number(comma, true); !ok || got != want || sign != 0 && s != ',' {
			t.Fatalf("%s: %g, %q, %v", comma, got, s, ok)
		}
		if _, s, ok := separated.Number(comma, false); sign != 0 && (ok || s != 0) {
			t.Fatalf("%s is read where commas divide", comma)
		}
	}
	for text, want := range map[string]string{"1,5": "1.5", "1,234,5": "1,234,5", "12": "12", "3,2 m": "3.2 m", ",": ".", "": ""} {
		if got := separated.DecimalPoint(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Trim leaves tabs, which separate empty fields, and takes blanks and the end of a line away.
func TestTrim(t *testing.T) {
	for row, want := range map[string]string{" a\r": "a", "\ta\t": "\ta\t", "  \t \r": "\t", "a b": "a b", "\r\r": ""} {
		if got := separated.Trim(row); got != want {
			t.Errorf("%q: %q, want %q", row, got, want)
		}
	}
}
