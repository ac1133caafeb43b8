package capacity_test

import (
	"math"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
)

// EN 12056-3, Table 6: 0.93 at a length of 100 times the depth. A half-round gutter is half as deep as wide, so one of 150 mm is at that at 7.5 m.
func TestLengthOfAHalfRoundGutter(t *testing.T) {
	trough := capacity.Trough{Shape: capacity.HalfRound, Width: 150 * quantity.Millimetre}
	short, err := capacity.GutterCapacity(trough)
	if err != nil {
		t.Fatal(err)
	}
	trough.Length = 7.5
	long, err := capacity.GutterCapacity(trough)
	if err != nil {
		t.Fatal(err)
	}
	if got := long.Capacity / short.Capacity; !(math.Abs(got-0.93) <= 1e-6) {
		t.Errorf("the length takes %v, 0.93 wanted", got)
	}
}

// A scupper by a broad crest stands beside no lower figure: it is that figure. By a sharp crest one stands beside it; where the edge is known to be sharp,
// none. The formula with end contractions holds from the head of 1/4 in from which a published table uses it.
func TestLowerFigures(t *testing.T) {
	f := capacity.Fitting{Kind: capacity.Scupper, Width: 8 * quantity.Inch, OpeningHeight: 4 * quantity.Inch}
	for _, c := range []struct {
		method string
		sharp  bool
		lower  bool
	}{{capacity.SharpCrested, false, true}, {capacity.SharpCrested, true, false}, {capacity.BroadCrested, false, false}, {capacity.Francis, false, true}} {
		f.Method, f.SharpEdge = c.method, c.sharp
		r, err := capacity.Of(f)
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Lower != nil; got != c.lower {
			t.Errorf("%s, sharp %t: a lower figure %t", c.method, c.sharp, got)
		}
		if c.method == capacity.Francis && !(math.Abs(r.Low-0.00635) <= 1e-9) {
			t.Errorf("from a head of %v m on, 1/4 in wanted", r.Low)
		}
	}
	f.Method, f.SharpEdge, f.OpeningHeight = capacity.Table, false, 5*quantity.Inch // the tests were made with 4 and 6 in
	if _, err := capacity.Of(f); err == nil {
		t.Error("an opening that was not tested has a figure")
	}
}
