package capacity_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
)

func TestOutletsWithoutSizeSayWhatIsMissing(t *testing.T) {
	for kind, want := range map[capacity.Kind]string{
		capacity.Scupper:   "the capacity of this scupper needs its width",
		capacity.Drain:     "the capacity of this drain needs its diameter",
		capacity.Standpipe: "the capacity of this standpipe needs its diameter",
		capacity.Edge:      "the capacity of this edge needs its length",
	} {
		var missing *capacity.MissingError
		if r, err := capacity.Of(capacity.Fitting{Kind: kind}); !errors.As(err, &missing) || r != nil || err.Error() != want {
			t.Errorf("%v, %v; want %q", r, err, want)
		}
	}
	if _, err := capacity.GutterCapacity(capacity.Trough{Shape: capacity.Box, Width: 1}); err == nil || !strings.Contains(err.Error(), "width and depth") {
		t.Error(err)
	}
}

func TestUnknownMethodsListTheKnown(t *testing.T) {
	var unknown *capacity.MethodError
	f := scupper(8, 4, "manning")
	if _, err := capacity.Of(f); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "use sharp-crested, broad-crested, francis, table") {
		t.Error(err)
	}
	if _, err := capacity.LeaderCapacity(round(4), "manning"); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "ipc-1106.2, ipc-1106.3, seven-24ths, en-12056-3, ipc-2012-area") {
		t.Error(err)
	}
	if _, err := capacity.PipeCapacity(0.1, 0.02, "manning"); !errors.As(err, &unknown) {
		t.Error(err)
	}
	if _, err := capacity.GutterCapacity(capacity.Trough{Shape: "ogee", Width: 1, Depth: 1}); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "half-round, box") {
		t.Error(err)
	}
}

func TestSizesThatAreNone(t *testing.T) {
	var none *capacity.SizeError
	for _, f := range []capacity.Fitting{
		{Width: -1},
		{Width: quantity.Length(math.NaN())},
		{Width: quantity.Length(math.Inf(1))},
		{Width: 1, OpeningHeight: -1},
		{Width: 1, Leader: capacity.Section{Width: 1, Depth: -1}},
		{Kind: capacity.Drain, Diameter: 0.1, PipeSlope: -0.1},
	} {
		if _, err := capacity.Of(f); !errors.As(err, &none) {
			t.Errorf("%+v: %v", f, err)
		}
	}
	if _, err := capacity.GutterCapacity(capacity.Trough{Shape: capacity.Box, Width: 1, Depth: -1}); !errors.As(err, &none) {
		t.Error(err)
	}
}

// Outside the tested range there is a flow, and an error that says so.
func TestOutsideTheTestedRange(t *testing.T) {
	for _, tt := range []struct {
		what    string
		fitting capacity.Fitting
		head    float64
		says    string
	}{
		{"head over ASCE 7-05, Table C8-1", scupper(8, 4, ""), 9, "head of 9 in"},
		{"head under it", scupper(8, 4, ""), 0.5, "head of 0.5 in"},
		{"width over it", scupper(30, 4, ""), 3, "width of 30 in"},
		{"width between the tables", scupper(4, 4, capacity.Table), 3, "width of 4 in"},
		{"head over a quarter of the crest", scupper(8, 0, capacity.Francis), 3, "head of 3 in"},
		{"head over the last of a 4 in drain", drain(4), 3, "head of 3 in"},
		{"thin crest", capacity.Fitting{Kind: capacity.Edge, Method: capacity.BroadCrested, Width: 1, CrestBreadth: 4 * quantity.Inch}, 3, "breadth of the crest of 4 in"},
		{
			"flat pipe",
			capacity.Fitting{Kind: capacity.Drain, Diameter: 4 * quantity.Inch, Leader: round(4), Pipe: 4 * quantity.Inch, PipeSlope: quantity.InchPerFoot / 32},
			2, "falls 0.0313 in per ft, under the 0.0625 in per ft",
		},
	} {
		r := of(t, tt.fitting)
		if q := r.Flow(tt.head * in); !(q > 0) {
			t.Errorf("%s: no flow: %v", tt.what, q)
		}
		if err := r.Check(tt.head * in); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.what, err, tt.says)
		}
	}
	var outside *quantity.RangeError
	if err := of(t, drain(4)).Check(3 * in); !errors.As(err, &outside) || outside.High != 2.5*quantity.Inch {
		t.Errorf("%v", err)
	}
	if err := of(t, scupper(8, 4, "")).Check(3 * in); err != nil {
		t.Error(err)
	}
	// A leader under the least of its table has no figure: International Plumbing Code, Table 1106.2, begins at 2 in (read).
	if _, err := capacity.LeaderCapacity(round(1), ""); !errors.As(err, &outside) {
		t.Errorf("%v", err)
	}
}

func TestLinksThatAreNotStatedAreNamed(t *testing.T) {
	s := scupper(8, 4, "")
	if u := of(t, s).Unknown; !slices.Equal(u, []string{"conductor head", "leader", "horizontal pipe"}) {
		t.Errorf("scupper: %v", u)
	}
	// A full head without a leader has no mouth, and a leader under a head of unknown depth has no flow through it.
	s.HeadDepth = 6 * quantity.Inch
	if u := of(t, s).Unknown; len(u) != 3 {
		t.Errorf("scupper with a head: %v", u)
	}
	s.HeadDepth, s.Leader = 0, round(4)
	if u := of(t, s).Unknown; !slices.Equal(u, []string{"conductor head", "horizontal pipe"}) {
		t.Errorf("scupper with a leader: %v", u)
	}
	s.Open = true
	if u := of(t, s).Unknown; u != nil {
		t.Errorf("into the open air: %v", u)
	}
	d := drain(6)
	d.DamHeight = 2 * quantity.Inch
	d.Leader = round(4)
	if u := of(t, d).Unknown; !slices.Equal(u, []string{"diameter of the dam", "horizontal pipe"}) {
		t.Errorf("drain: %v", u)
	}
}

// The least of the chain is the outlet's. By hand: a mouth of 3 in under 6 in of water takes
// 0.6 x pi/4 x (0.25 ft)^2 x (2 x 32.174 x 0.5)^0.5 = 0.16705 ft3/s = 74.98 gpm, less than the 87 of a 3 in leader.
func TestConductorHeadAndLeader(t *testing.T) {
	f := scupper(12, 6, "")
	f.Leader, f.HeadDepth = round(3), 6*quantity.Inch
	r := of(t, f)
	near(t, "flow", r.Flow(5*in)/gpm, 74.98, 0.01, "by hand")
	if got := r.Controls(5 * in); got != capacity.ConductorHead {
		t.Errorf("%s controls", got)
	}
	f.Open = true
	for _, r := range []*capacity.Rating{r, of(t, f)} {
		if got := r.Controls(1 * in); got != capacity.InletLink {
			t.Errorf("at 1 in %s controls", got)
		}
	}
}

// Sizes that no table has count as the next smaller, and that is said.
func TestSizesBetweenThoseOfTables(t *testing.T) {
	for _, tt := range []struct {
		what string
		link func() (capacity.Link, error)
		want float64 // gpm
		says string
	}{
		{"7 in leader, IPC 1106.2, 6 in", func() (capacity.Link, error) { return capacity.LeaderCapacity(round(7), "") }, 538, "the next smaller, 6 in"},
		{"DN 100 is 4 in", func() (capacity.Link, error) {
			return capacity.LeaderCapacity(capacity.Section{Width: 100 * quantity.Millimetre}, "")
		}, 180, ""},
		{"3/16 in per ft, IPC 1106.2, 1/8", func() (capacity.Link, error) {
			return capacity.PipeCapacity(4*quantity.Inch, quantity.InchPerFoot*3/16, "")
		}, 115, "the next flatter, 0.125 in per ft"},
		{"2 x 4 in, IPC 1106.3 (recalled)", func() (capacity.Link, error) {
			return capacity.LeaderCapacity(capacity.Section{Width: 4 * quantity.Inch, Depth: 2 * quantity.Inch}, "")
		}, 92, ""},
		{"3 x 4 in, of the area of 3.91 in round: IPC 1106.3, 3 in", func() (capacity.Link, error) {
			return capacity.LeaderCapacity(capacity.Section{Width: 3 * quantity.Inch, Depth: 4 * quantity.Inch}, "")
		}, 92, "the next smaller, 3 in"},
		{"3.5 x 4 in by IPC 1106.2, as 4.22 in round: 4 in", func() (capacity.Link, error) {
			return capacity.LeaderCapacity(capacity.Section{Width: 3.5 * quantity.Inch, Depth: 4 * quantity.Inch}, capacity.PipeTable)
		}, 180, "round leader of its area, 4.22 in"},
	} {
		l, err := tt.link()
		if err != nil || !strings.Contains(l.Note, tt.says) || tt.says == "" && l.Note != "" {
			t.Errorf("%s: %q, %v", tt.what, l.Note, err)
		}
		near(t, tt.what, l.Capacity/gpm, tt.want, 1e-3, "as named")
	}
	r := of(t, drain(5))
	near(t, "5 in drain", r.Flow(2*in)/gpm, 170, 1e-9, "ASCE 7-05, Table C8-1, 4 in (recalled)")
	if !strings.Contains(r.Note, "next smaller, 4 in") {
		t.Errorf("%q", r.Note)
	}
	// Under the least drain of the table the law of openings holds.
	if r := of(t, drain(3)); r.Method != capacity.WeirOrifice {
		t.Errorf("a 3 in drain goes by %s", r.Method)
	}
}

// The lower figure stands beside, unless the crest is known to be sharp; the half-clogged one where there is a strainer.
func TestFiguresBeside(t *testing.T) {
	s := scupper(8, 4, "")
	r := of(t, s)
	if r.Lower == nil || r.Lower.Flow(3*in) >= r.Flow(3*in) || r.Clogged != nil {
		t.Errorf("%+v", r)
	}
	// By hand: 2.63 against 2.9 x 12^2.5 / 448.83 = 3.223 in feet and seconds.
	near(t, "broad to sharp", r.Lower.Flow(3*in)/r.Flow(3*in), 2.63/3.223, 0.0005, "by hand")
	s.SharpEdge = true
	if of(t, s).Lower != nil {
		t.Error("a sharp edge has a broad crest beside it")
	}
	d := of(t, drain(4))
	near(t, "half clogged", d.Clogged.Flow(2*in)/gpm, 85, 1e-9, "by hand: half of 170")
	if p := of(t, capacity.Fitting{Kind: capacity.Standpipe, Diameter: 0.1}); p.Clogged != nil {
		t.Error("an open pipe has a strainer")
	}
}

func TestWordsOfErrors(t *testing.T) {
	err := &capacity.FullError{Link: "leader", Flow: 100 * gpm, Capacity: 87 * gpm}
	if want := "100 gpm (6.31 L/s) is more than the leader takes: 87 gpm (5.49 L/s)"; err.Error() != want {
		t.Errorf("%q, want %q", err, want)
	}
}
