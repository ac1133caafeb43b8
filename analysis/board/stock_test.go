package board_test

import (
	"math"
	"testing"

	"runnel/analysis/board"
)

// By hand: 4 in is 0.1016 m, 3/16 in per ft is 1/64.
func TestParseStock(t *testing.T) {
	s, err := board.ParseStock([]byte(`{"rates": ["1/4 in per ft", "3/16 in per ft", "1/4 in per ft"], "width": "8 ft", "greatest_thickness": "4 in"}`))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Rates) != 2 || !(math.Abs(float64(s.Rates[0])-1.0/64) <= 1e-12) || !(math.Abs(float64(s.Greatest)-0.1016) <= 1e-12) || !(math.Abs(float64(s.Width)-2.4384) <= 1e-12) {
		t.Errorf("%+v", s)
	}
	if s.Length != board.Usual().Length {
		t.Errorf("length %v is not the usual one", s.Length)
	}
	for _, bad := range []string{
		``, `[]`, `{"rate": []}`, `{"rates": []}`, `{"rates": ["0%"]}`, `{"rates": ["steep"]}`, `{"length": "4"}`,
		`{"length": "-1 ft"}`, `{"thin_edge": "5 in"}`, `{} {}`,
	} {
		if _, err := board.ParseStock([]byte(bad)); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

// Each error says its line, what is wrong and what to write.
func TestStockErrors(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"{\"rates\": [\"1/4 in per ft\"],\n\"rate\": 1}", `line 2: "rate" is no part of it: use rates, length, width, thin_edge, greatest_thickness, fill_step`},
		{`{"rates": "1/4 in per ft"}`, `line 1: rates: give a list of texts, such as ["1/8 in per ft"]`},
		{`{"rates": []}`, "line 1: rates: name one rate at least"},
		{`{"rates": ["0%"]}`, "line 1: rates: it must be above zero"},
		{"{\n\n\"length\": \"0 ft\"}", "line 3: length: it must be above zero"},
		{`{"fill_step": "-1 in"}`, "line 1: fill_step: it must be above zero"},
		{`{"thin_edge": "4.5 in"}`, "greatest_thickness must be more than thin_edge"},
		{`{"thin_edge": "2 in", "greatest_thickness": "2 in"}`, "greatest_thickness must be more than thin_edge"},
	} {
		if _, err := board.ParseStock([]byte(c.text)); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.text, err, c.want)
		}
	}
	s, err := board.ParseStock([]byte(`{"thin_edge": "3.9 in", "rates": ["1/2 in per ft", "1/8 in per ft"]}`))
	if err != nil || len(s.Rates) != 2 || s.Rates[0] >= s.Rates[1] {
		t.Errorf("%v: %+v", err, s)
	}
}
