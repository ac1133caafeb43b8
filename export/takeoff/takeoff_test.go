package takeoff_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"runnel/analysis/board"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/takeoff"
	"runnel/export/record"
	writer "runnel/export/takeoff"
)

const inch = float64(quantity.Inch)

// sample is a take-off made up by hand: 144 sq ft of a board of 1/2 to 1-1/2 in are 144 board feet.
func sample() *takeoff.TakeOff {
	return &takeoff.TakeOff{
		Material: "polyiso", Stock: board.Usual(), Waste: 0.05, Area: 144 * quantity.SquareFoot, Average: inch, Greatest: 1.5 * inch,
		Boards: &board.Layout{Stock: board.Usual(), Schedule: []board.Row{
			{Kind: board.Kind{Thin: 0.0127, Thick: 0.0381}, Whole: 8, Cut: 1, Boards: 10, Area: 144 * quantity.SquareFoot, Volume: 144 * quantity.SquareFoot * inch},
			{Kind: board.Kind{Thin: inch, Thick: inch}, Whole: 2, Boards: 3, Area: 32 * quantity.SquareFoot, Volume: 32 * quantity.SquareFoot * inch},
		}},
		Items: []takeoff.Item{
			{What: finding.Say("=HYPERLINK(1)"), Measure: takeoff.Solid, Value: 144 * quantity.SquareFoot * inch, Unit: 2, Per: "per_board_foot", Cost: 288, Priced: true},
			{What: finding.Say("boards to order"), Measure: takeoff.Pieces, Value: 10},
		},
		Cost: 288, Priced: true, Money: "+$",
		Measured: []takeoff.Measured{{Use: takeoff.Fill, Area: 1, Volume: 0.01, Thickest: 0.02, Why: finding.Say("what lies under it is no plane")}},
	}
}

func read(t *testing.T, write func(b *bytes.Buffer) error) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestBoards: by hand, 1/2 to 1-1/2 in, 144 sq ft, 144 board feet; in SI 12.7 to 38.1 mm and 13.378 m2.
func TestBoards(t *testing.T) {
	rows := read(t, func(b *bytes.Buffer) error { return writer.WriteBoards(b, record.US, sample()) })
	want := [][]string{
		{"kind", "board", "thin_in", "thick_in", "whole", "cut", "to_order", "area_ft2", "in_place_board_ft"},
		{"tapered", `1/2" to 1-1/2"`, "0.5", "1.5", "8", "1", "10", "144", "144"},
		{"flat", `1"`, "1", "1", "2", "0", "3", "32", "32"},
	}
	for i, row := range want {
		if strings.Join(rows[i], "|") != strings.Join(row, "|") {
			t.Errorf("row %d: %q, want %q", i, rows[i], row)
		}
	}
	last := rows[len(rows)-1]
	if last[0] != "status" || !strings.Contains(last[1], "not for construction") {
		t.Errorf("last row %q", last)
	}
	rows = read(t, func(b *bytes.Buffer) error { return writer.WriteBoards(b, record.SI, sample()) })
	if got := strings.Join(rows[1], "|"); got != "tapered|13 mm to 38 mm|12.7|38.1|8|1|10|13.378|0.3398" {
		t.Errorf("SI: %s", got)
	}
}

// TestQuantities: no text is run as a formula, prices stand with their names, and the sum is there.
func TestQuantities(t *testing.T) {
	rows := read(t, func(b *bytes.Buffer) error { return writer.WriteQuantities(b, record.US, sample()) })
	if got := strings.Join(rows[1], "|"); got != "quantity|'=HYPERLINK(1)|144|board ft||2|per_board_foot|288|'+$" {
		t.Errorf("%s", got)
	}
	if got := strings.Join(rows[2], "|"); got != "quantity|boards to order|10|pieces|||||" {
		t.Errorf("%s", got)
	}
	sum := false
	for _, r := range rows {
		sum = sum || r[0] == "sum" && r[7] == "288"
		for _, c := range r {
			if strings.HasPrefix(c, "=") || strings.HasPrefix(c, "+") {
				t.Errorf("a formula: %q", c)
			}
		}
	}
	if !sum {
		t.Error("no sum")
	}
}
