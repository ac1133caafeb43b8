package capacity_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Heads [in] for which each law is stated: ASCE 7-05, commentary, Table C8-1, has scuppers under 1 to 8 in of water; a public table of contracted
// weirs begins at 1/4 in, and the formula ends where the crest is 4 times the head; ASCE 7-16, commentary, has a free edge from near 1/4 in. Behind a
// dam two laws work and no test is over.
func TestHeadsForWhichLawsAreStated(t *testing.T) {
	dam := drain(6)
	dam.DamDiameter = 12 * quantity.Inch
	for _, c := range []struct {
		what      string
		fitting   capacity.Fitting
		low, high float64
	}{
		{"sharp crest", scupper(12, 4, ""), 1, 8},
		{"tests", scupper(12, 4, capacity.Table), 1, 8},
		{"end contractions", scupper(12, 0, capacity.Francis), 0.25, 3},
		{"edge", capacity.Fitting{Kind: capacity.Edge, Width: 10}, 0.25, 8},
		{"drain behind a dam", dam, 0, 0},
	} {
		r := of(t, c.fitting)
		near(t, c.what+": low", r.Low/in, c.low, 1e-9, "as named")
		near(t, c.what+": high", r.High/in, c.high, 1e-9, "as named")
	}
}

// Sizes [in] between which the tables stand, as the errors say them: broad crests of 0.5 to 15 ft (Brater and King), scuppers tested 6 and 24 in wide,
// the least drain of 4 in (ASCE 7-05), leaders of 2 to 15 in (International Plumbing Code, Table 1106.2).
func TestSizesOfTablesAsErrorsSayThem(t *testing.T) {
	crest := capacity.Fitting{Kind: capacity.Edge, Method: capacity.BroadCrested, Width: 1, CrestBreadth: 5 * quantity.Inch}
	small := drain(3)
	small.Method = capacity.Table
	_, leader := capacity.LeaderCapacity(round(1), capacity.PipeTable)
	for _, c := range []struct {
		what      string
		err       error
		low, high float64
	}{
		{"crest", of(t, crest).Check(6 * in), 6, 180},
		{"scupper by test", of(t, scupper(4, 4, capacity.Table)).Check(3 * in), 6, 24},
		{"drain", of(t, small).Check(1.5 * in), 4, 0},
		{"leader", leader, 2, 15},
	} {
		var outside *quantity.RangeError
		if !errors.As(c.err, &outside) {
			t.Errorf("%s: %v", c.what, c.err)
			continue
		}
		near(t, c.what+": low", float64(outside.Low)/in, c.low, 1e-9, "as named")
		near(t, c.what+": high", float64(outside.High)/in, c.high, 1e-9, "as named")
	}
}

// A 4 in drain is of the table: nothing stands for it. Its dam is missing only where a dam is known, and a dam of no height is said to have none.
func TestNotesOfDrains(t *testing.T) {
	d := drain(4)
	if r := of(t, d); r.Note != "" || !slices.Equal(r.Unknown, []string{"leader", "horizontal pipe"}) {
		t.Errorf("a 4 in drain: %q, unknown %q", r.Note, r.Unknown)
	}
	const none = "height of the dam not stated"
	d.DamDiameter = 12 * quantity.Inch
	if r := of(t, d); !strings.Contains(r.Note, none) {
		t.Errorf("a dam of no height: %q", r.Note)
	}
	d.DamHeight = quantity.Inch
	if r := of(t, d); strings.Contains(r.Note, none) {
		t.Errorf("a dam of 1 in: %q", r.Note)
	}
}

// International Plumbing Code, Table 1106.2 (read): a 4 in pipe takes 81 gpm at 1/16 in per ft; at half of that slope 81 / 2^0.5 = 57.28. At a slope of
// the table nothing is said of it; the areas of older editions, 4 in and more, stand beside, and not beside themselves.
func TestPipesAtTheSlopesOfTheTable(t *testing.T) {
	for _, c := range []struct {
		perFoot, flow float64 // [in], [gpm]
		outside       bool
	}{{1.0 / 32, 57.28, true}, {1.0 / 16, 81, false}, {1.0 / 8, 115, false}, {1.0 / 4, 163, false}, {1.0 / 2, 231, false}} {
		l, err := capacity.PipeCapacity(4*quantity.Inch, quantity.InchPerFoot*quantity.Slope(c.perFoot), "")
		if err != nil {
			t.Fatal(err)
		}
		near(t, "flow", l.Capacity/gpm, c.flow, 0.005, "as named")
		if (l.Outside != nil) != c.outside || l.Note != "" || l.Lower == nil || l.Lower.Method != capacity.OlderAreas {
			t.Errorf("%g in per ft: %+v", c.perFoot, l)
		}
	}
	if l, err := capacity.PipeCapacity(4*quantity.Inch, quantity.InchPerFoot/4, capacity.OlderAreas); err != nil || l.Lower != nil {
		t.Errorf("%+v, %v", l, err)
	}
	// A pipe without a slope, or a slope without a pipe, is not stated.
	for _, f := range []capacity.Fitting{{Pipe: 4 * quantity.Inch}, {PipeSlope: quantity.InchPerFoot / 4}} {
		f.Kind, f.Diameter, f.Leader = capacity.Drain, 4*quantity.Inch, round(4)
		if u := of(t, f).Unknown; !slices.Equal(u, []string{"horizontal pipe"}) {
			t.Errorf("%+v: %q", f, u)
		}
	}
}

// By the textbook form in the hydraulic radius, v = -2 u log10(k/(14.84 R) + 0.6275 nu/(R u)), u = (8 g R s)^0.5, 100 mm at 1 cm/m, 0.7 full: area
// 5872.30 mm2, R 29.6235 mm, u 0.152449 m/s, v 0.795671 m/s: 4.6724 L/s.
func TestHorizontalPipeByColebrook(t *testing.T) {
	l, err := capacity.PipeCapacity(0.1, 0.01, capacity.Rainwater)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", l.Capacity/lps, 4.6724, 1e-4, "by hand")
}

// Francis' formula turns down where the head is three times the crest, 0.1 x 2 H of its ends gone: by hand 3.33 x (1 - 0.6) ft x (3 ft)^1.5 of a crest of
// 1 ft, and no less above.
func TestContractedWeirStaysLevel(t *testing.T) {
	r := of(t, scupper(12, 0, capacity.Francis))
	foot := 12 * in
	want := 3.33 * 0.4 * math.Pow(3, 1.5) * foot * foot * foot
	for _, h := range []float64{36, 40, 60} {
		near(t, "flow", r.Flow(h*in)/want, 1, 1e-9, "by hand")
	}
	if r.Flow(35*in) >= r.Flow(36*in) {
		t.Error("it falls before three times the crest")
	}
}

// A scupper that was tested open above goes on as a weir over the 8 in to which it was tested: by hand twice the head is 2^1.5 times the flow.
func TestOpenScupperGoesOnAsAWeir(t *testing.T) {
	r := of(t, scupper(12, 0, capacity.Table))
	near(t, "flow at 16 in to 8 in", r.Flow(16*in)/r.Flow(8*in), math.Sqrt(8), 1e-9, "by hand")
}

// Figures of tables that were read and of those recalled are told apart: a 4 in round leader was read, one of 2.5 in and rectangles were not, and a
// rectangle that is not tabulated, 2 x 3 in, goes by the 2 in round one that was read, not by that of 2.5 in; factors of length up to 200
// were read. A gutter whose length is not stated says so.
func TestWhatWasReadIsToldApart(t *testing.T) {
	for _, c := range []struct {
		width, depth quantity.Length // [in]
		flow         float64         // [gpm]
		source       standard.Source
	}{{4, 0, 192, standard.LeaderSource}, {2.5, 0, 54, standard.LeaderRectSource}, {4, 2, 92, standard.LeaderRectSource}, {3, 2, 30, standard.LeaderSource}} {
		l, err := capacity.LeaderCapacity(capacity.Section{Width: c.width * quantity.Inch, Depth: c.depth * quantity.Inch}, capacity.LeaderTable)
		if err != nil || l.Source != c.source {
			t.Errorf("%g x %g in: %+v, %v", c.width, c.depth, l.Source, err)
		}
		near(t, "flow", l.Capacity/gpm, c.flow, 1e-3, "International Plumbing Code, Table 1106.3 (4 in read, the others recalled)")
	}
	for length, want := range map[quantity.Length]string{0: "length not stated", 20: ", read)", 21: ", from memory)"} {
		l, err := capacity.GutterCapacity(capacity.Trough{Shape: capacity.Box, Width: 0.1, Depth: 0.1, Length: length})
		if err != nil || !strings.Contains(l.Note, want) {
			t.Errorf("%g m: %q, %v, want %q", length, l.Note, err, want)
		}
	}
}

// Of links that take as much as each other the first on the water's way is named; a flow of just what a link takes is taken, and no flow needs no head.
func TestEqualLinksAndNoFlow(t *testing.T) {
	r := of(t, drain(6))
	r.Links = []capacity.Link{{Name: capacity.LeaderLink, Capacity: 0.01}, {Name: capacity.HorizontalPipe, Capacity: 0.01}}
	if got := r.Least().Name; got != capacity.LeaderLink {
		t.Errorf("%s takes least", got)
	}
	if h, err := r.Head(0.01); err != nil || !(math.Abs(r.Flow(h)-0.01) <= 1e-9) {
		t.Errorf("just what the leader takes stands %v m high: %v", h, err)
	}
	if h, err := r.Head(0); err != nil || h != 0 {
		t.Errorf("no flow stands %v m high: %v", h, err)
	}
}
