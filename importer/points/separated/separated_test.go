package separated_test

import (
	"slices"
	"testing"

	"runnel/importer/points/separated"
)

// Rows as total stations and spreadsheets write them; what stands in their fields is read off by eye.
func TestSplit(t *testing.T) {
	for _, tt := range []struct {
		row  string
		name string
		most int
		want []string
	}{
		{"1,12.5,3.25,101.5", "commas", 0, []string{"1", "12.5", "3.25", "101.5"}},
		{"1; 12,5;3,25 ;101,5", "semicolons", 0, []string{"1", "12,5", "3,25", "101,5"}},
		{"1\t\t3.25\t", "tabs", 0, []string{"1", "", "3.25", ""}},
		{"7 12,50  3,20 101,44", "blanks", 0, []string{"7", "12,50", "3,20", "101,44"}},
		{"7 12.5 3.2 101.4 DRAIN by the door", "blanks", 5, []string{"7", "12.5", "3.2", "101.4", "DRAIN by the door"}},
		{`7,"a, b",6 1/4"`, "commas", 0, []string{"7", "a, b", `6 1/4"`}},
	} {
		sep := separated.Guess(tt.row)
		if got := separated.Name(sep); got != tt.name {
			t.Errorf("%q: separated by %s, want %s", tt.row, got, tt.name)
		}
		if got, err := separated.Split(nil, tt.row, sep, tt.most); err != nil || !slices.Equal(got, tt.want) {
			t.Errorf("%q: got %q, %v, want %q", tt.row, got, err, tt.want)
		}
	}
}

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		field string
		comma bool
		want  float64
		sign  byte
		ok    bool
	}{
		{"-12.50", false, -12.5, '.', true},
		{"12,50", true, 12.5, ',', true},
		{"12,50", false, 0, 0, false},
		{"1.234,5", true, 0, 0, false},
		{"1e3", false, 1000, 0, true},
		{"1e400", false, 0, 0, false},
		{"nan", false, 0, 0, false},
		{"0x10", false, 0, 0, false},
	} {
		got, sign, ok := separated.Number(tt.field, tt.comma)
		if ok != tt.ok || ok && (got != tt.want || sign != tt.sign) {
			t.Errorf("%q, comma %t: got %g with %q, %t", tt.field, tt.comma, got, sign, ok)
		}
	}
}

func TestEmpty(t *testing.T) {
	for row, want := range map[string]bool{"": true, " \t ": true, ";;;": true, "# 1;2": true, ";x;": false, ",,": false} {
		if got := separated.Empty(row, ';'); got != want {
			t.Errorf("%q: %t", row, got)
		}
	}
}
