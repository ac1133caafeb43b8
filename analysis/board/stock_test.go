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
