package levelling_test

import (
	"testing"

	"runnel/analysis/levelling"
)

// A run closes within what is allowed, up to that amount itself, above and below; one that ends on no known elevation has no misclosure and does not close.
func TestWithin(t *testing.T) {
	for _, c := range []struct {
		last, known, allowed float64
		closed, want         bool
	}{
		{10.5, 10, 0.5, true, true},
		{9.5, 10, 0.5, true, true},
		{10.501, 10, 0.5, true, false},
		{9.499, 10, 0.5, true, false},
		{10, 10, 0, true, true},
		{10, 0, 0.5, false, false},
	} {
		r := levelling.Run{First: 7, Last: c.last, Known: c.known, Allowed: c.allowed, Closed: c.closed}
		if got := r.Within(); got != c.want {
			t.Errorf("%+v: within %v", c, got)
		}
		want := c.last - c.known
		if !c.closed {
			want = 0
		}
		near(t, "misclosure", r.Misclosure(), want)
	}
}

// Lasers are numbered in the order in which they are tied to what is known, from 1: by hand the second first, whose station has an elevation, then the one that shares two stations with it, then the one that shares one.
func TestLasersAreNumbered(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "1", Rod: at(1), SetUp: "A"},
		{Station: "2", Rod: at(1), SetUp: "A"},
		{Station: "BM", Rod: at(2), SetUp: "B", Elevation: at(10)},
		{Station: "2", Rod: at(1.5), SetUp: "B"},
		{Station: "3", Rod: at(1.4), SetUp: "B"},
		{Station: "4", Rod: at(1.3), SetUp: "B"},
		{Station: "3", Rod: at(0.9), SetUp: "C"},
		{Station: "4", Rod: at(0.8), SetUp: "C"},
		{Station: "SP", Elevation: at(3)},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	// The line of sight of B is 12, that of C 10.6 + 0.9 = 11.5, that of A 10.5 + 1 = 11.5.
	for i, want := range []struct {
		setUp     int
		elevation float64
	}{{3, 10.5}, {3, 10.5}, {1, 10}, {1, 10.5}, {1, 10.6}, {1, 10.7}, {2, 10.6}, {2, 10.7}, {0, 3}} {
		if l := &r.Levels[i]; l.SetUp != want.setUp || l.Row != i {
			t.Errorf("row %d: set-up %d of row %d, want %d", i, l.SetUp, l.Row, want.setUp)
		}
		near(t, "elevation", r.Levels[i].Final(), want.elevation)
	}
}

// Two runs in one book, the second from a station of the first: where a set-up begins elsewhere than the run before ended, that run ends open, on its last turning point, and allows by the root of its set-ups.
func TestARunThatIsLeftOpen(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "BM", Back: at(1), Elevation: at(10)},
		{Station: "T1", Fore: at(2)},
		{Station: "T1", Back: at(1)},
		{Station: "T2", Fore: at(1.5)},
		{Station: "BM", Back: at(0.5)},
		{Station: "T3", Fore: at(0.25)},
	}, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Runs) != 2 {
		t.Fatalf("%+v", r.Runs)
	}
	for i, want := range []struct {
		from, to string
		setUps   int
		last     float64
		allowed  float64
	}{{"BM", "T2", 2, 8.5, 0.004 * 1.4142135623730951}, {"BM", "T3", 1, 10.25, 0.004}} {
		run := &r.Runs[i]
		if run.From != want.from || run.To != want.to || run.SetUps != want.setUps || run.Closed || run.Known != 0 {
			t.Errorf("%+v, want %+v", run, want)
		}
		near(t, "last", run.Last, want.last)
		near(t, "allowed", run.Allowed, want.allowed)
		near(t, "check", run.Check(), run.Last-run.First)
	}
}

// A set-up may begin on a point that was an intermediate sight before; a bench mark that is read as an intermediate sight keeps its stated elevation. By hand: line of sight 11, point 1 at 10.4, seen from the next line of sight at 11.9, point 2 at 10.9; the bench mark read at 10.001
// gives a line of sight of 11.5, and point 3 stands at 10.5.
func TestSetUpsOnIntermediateSights(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "BM", Back: at(1), Elevation: at(10)},
		{Station: "1", Between: at(0.6)},
		{Station: "BM", Between: at(0.999)},
		{Station: "1", Back: at(1.5)},
		{Station: "2", Between: at(1)},
		{Station: "BM", Back: at(1.5)},
		{Station: "3", Between: at(1)},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range []int{0, 1, 2, 4, 6} {
		if l := &r.Levels[i]; l.Row != row {
			t.Errorf("level %d is of row %d, want %d", i, l.Row, row)
		}
		near(t, "elevation", r.Levels[i].Elevation, []float64{10, 10.4, 10.001, 10.9, 10.5}[i])
	}
}
