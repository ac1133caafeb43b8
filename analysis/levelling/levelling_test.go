package levelling_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/analysis/levelling"
)

func at(v float64) levelling.Reading { return levelling.Reading{Value: v, Known: true} }

// exercise is a levelling exercise as it is commonly set (common practice, no source): four set-ups from a bench mark of
// 100.00 to one of 94.91, in feet; here taken as metres, which changes no figure.
func exercise() []levelling.Row {
	return []levelling.Row{
		{Station: "BM1", Back: at(3.10), Elevation: at(100.00), Line: 2},
		{Station: "TP1", Fore: at(9.82), Back: at(6.44), Line: 3},
		{Station: "TP2", Fore: at(6.96), Back: at(8.76), Line: 4},
		{Station: "TP3", Fore: at(3.27), Back: at(7.12), Line: 5},
		{Station: "BM2", Fore: at(10.42), Elevation: at(94.91), Line: 6},
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("%s: got %.6f, want %.6f", what, got, want)
	}
}

func TestExercise(t *testing.T) {
	r, err := levelling.Reduce(exercise(), 0.03)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{100.00, 93.28, 92.76, 98.25, 94.95} {
		near(t, "elevation", r.Levels[i].Elevation, want)
	}
	run := r.Runs[0]
	near(t, "backsights", run.Backsights, 25.42)
	near(t, "foresights", run.Foresights, 30.47)
	near(t, "page check", run.Check(), -5.05)
	near(t, "last less first", run.Last-run.First, -5.05)
	near(t, "misclosure", run.Misclosure(), 0.04)
	// By hand: 0.03*sqrt(4) = 0.06 is allowed; of +0.04 each set-up takes 0.01 off.
	near(t, "allowed", run.Allowed, 0.06)
	for i, want := range []float64{100.00, 93.27, 92.74, 98.22, 94.91} {
		near(t, "final", r.Levels[i].Final(), want)
	}
}

func TestBeyondTheAllowanceNothingIsShared(t *testing.T) {
	r, err := levelling.Reduce(exercise(), 0.019) // 0.038 allowed
	if err != nil {
		t.Fatal(err)
	}
	if r.Runs[0].Within() {
		t.Error("0.04 passes for 0.038")
	}
	near(t, "end", r.Levels[4].Final(), 94.95)
}

// One set-up that reads a second bench mark has nothing to share out.
func TestOneSetUpIsNeverChanged(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "A", Back: at(1.5), Elevation: at(10)},
		{Station: "1", Between: at(1.2)},
		{Station: "B", Fore: at(1.0), Elevation: at(10.498)},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "misclosure", r.Runs[0].Misclosure(), 0.002)
	near(t, "point 1", r.Levels[1].Final(), 10.3)
	near(t, "end", r.Levels[2].Final(), 10.5)
}

// An intermediate sight moves with the set-up that it was read from. By hand: 4 mm over two set-ups is -2 and -4 mm.
func TestIntermediateSightsMoveWithTheirSetUp(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "A", Back: at(1.000), Elevation: at(50)},
		{Station: "1", Between: at(0.500)},
		{Station: "T", Fore: at(0.800), Back: at(1.200)},
		{Station: "2", Between: at(0.400)},
		{Station: "A", Fore: at(1.396)},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "misclosure", r.Runs[0].Misclosure(), 0.004)
	for i, want := range []float64{50, 50.498, 50.198, 50.996, 50} {
		near(t, "final", r.Levels[i].Final(), want)
	}
}

// Two lasers tied by station T. By hand: line of sight 1 = 10 + 1.5 = 11.5; T = 11.5 - 1.3 = 10.2; line of sight 2 = 10.2 + 1.7 = 11.9.
func TestLasers(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "9", Rod: at(1.650), SetUp: "2"},
		{Station: "BM", Rod: at(1.5), SetUp: "1", Elevation: at(10)},
		{Station: "T", Rod: at(1.3), SetUp: "1"},
		{Station: "T", Rod: at(1.7), SetUp: "2"},
		{Station: "8", Rod: at(1.503), SetUp: "1"},
		{Station: "8", Rod: at(1.900), SetUp: "2"},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	// The second line of sight is the mean over T and 8: (10.2 + 1.7 + 9.997 + 1.9)/2 = 11.8985.
	for i, want := range []float64{10.2485, 10, 10.2, 10.1985, 9.997, 9.9985} {
		near(t, "elevation", r.Levels[i].Final(), want)
	}
	if len(r.Ties) != 3 {
		t.Fatalf("%d ties: %v", len(r.Ties), r.Ties)
	}
	near(t, "tie at T", r.Ties[1].Differs, -0.0015)
	near(t, "tie at 8", r.Ties[2].Differs, 0.0015)
}

func TestBooksThatCannotBeReduced(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []levelling.Row
		want string
	}{
		{"no backsight", []levelling.Row{{Station: "1", Between: at(1)}}, "before any backsight"},
		{"unknown start", []levelling.Row{{Station: "A", Back: at(1)}}, "stands on no known elevation"},
		{"both sights", []levelling.Row{{Station: "A", Back: at(1), Elevation: at(1)}, {Station: "1", Between: at(1), Fore: at(2)}}, "intermediate sight beside"},
		{"empty row", []levelling.Row{{Station: "A"}}, "no reading"},
		{"two elevations", []levelling.Row{{Station: "A", Elevation: at(1)}, {Station: "A", Elevation: at(2)}}, "two stated elevations"},
		{"after the foresight", []levelling.Row{{Station: "A", Back: at(1), Elevation: at(1)}, {Station: "T", Fore: at(1)}, {Station: "2", Between: at(1)}}, "before any backsight"},
		{"laser untied", []levelling.Row{{Station: "A", Rod: at(1), SetUp: "1", Elevation: at(1)}, {Station: "B", Rod: at(1), SetUp: "2"}}, `set-up "2" has no station`},
	} {
		_, err := levelling.Reduce(c.rows, 0.005)
		var broken *levelling.Error
		if !errors.As(err, &broken) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want ... %s ...", c.name, err, c.want)
		}
	}
}

// Each run of a book shares its own misclosure over its own set-ups. By hand: from A at 50 a run of two set-ups comes back 4 mm high, -2 and -4 mm; one from B at 20 of two comes back 6 mm low, +3 and +6 mm; and a point
// that nobody levelled but stated stays.
func TestEachRunSharesItsOwn(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "S", Elevation: at(7)},
		{Station: "A", Back: at(1.000), Elevation: at(50)},
		{Station: "T", Fore: at(0.800), Back: at(1.200)},
		{Station: "1", Between: at(0.400)},
		{Station: "A", Fore: at(1.396)},
		{Station: "B", Back: at(1.000), Elevation: at(20)},
		{Station: "2", Between: at(0.500)},
		{Station: "U", Fore: at(0.800), Back: at(1.200)},
		{Station: "B", Fore: at(1.406)},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first misclosure", r.Runs[0].Misclosure(), 0.004)
	near(t, "second misclosure", r.Runs[1].Misclosure(), -0.006)
	for i, want := range []float64{7, 50, 50.198, 50.996, 50, 20, 20.503, 20.203, 20} {
		near(t, fmt.Sprint("row ", i+1), r.Levels[i].Final(), want)
	}
}

// Of two set-ups that are as well tied the earlier is reduced first. By hand: from the bench mark at 10 P and Q stand at 10; set-up 1 sees P at 2.000 and so R, at 1.000, at 11; set-up 2 sees Q at 2.000 and R at 1.010: its line of sight is the mean of 12 and
// 12.010.
func TestTheEarlierOfEquallyTiedSetUps(t *testing.T) {
	r, err := levelling.Reduce([]levelling.Row{
		{Station: "BM", Rod: at(1), SetUp: "0", Elevation: at(10)},
		{Station: "P", Rod: at(1), SetUp: "0"},
		{Station: "Q", Rod: at(1), SetUp: "0"},
		{Station: "P", Rod: at(2), SetUp: "1"},
		{Station: "R", Rod: at(1), SetUp: "1"},
		{Station: "Q", Rod: at(2), SetUp: "2"},
		{Station: "R", Rod: at(1.010), SetUp: "2"},
	}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{10, 10, 10, 10, 11, 10.005, 10.995} {
		near(t, fmt.Sprint("row ", i+1), r.Levels[i].Elevation, want)
	}
}
