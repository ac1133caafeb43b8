package model

import (
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/blunder"
	"runnel/export/record"
	"runnel/export/sample"
)

// TestOneSpotIsNotSpots: a roof known by its outline and one spot has "1 spot", many have thousands set off.
func TestOneSpotIsNotSpots(t *testing.T) {
	for n, want := range map[int]string{1: "1 spot, about ", 2: "2 spots, about ", 1204: "1,204 spots, about "} {
		s := sample.Study(sample.Local())
		s.Survey.Spots = n
		if got := newTeller(record.NewBook(s, "", record.SI)).survey(); !strings.HasPrefix(got, want) {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// One height that does not fit is one, and named; more are counted. One thing that nobody measured is said as several are.
func TestOddHeightsAndWhatIsNotMeasured(t *testing.T) {
	for n, want := range map[int]string{0: "", 1: " 1 height does not fit those round it, the worst at ", 2: " 2 heights do not fit those round them, the worst at "} {
		s := sample.Study(sample.Local())
		s.Survey.Odd, s.Odd = n, []blunder.Odd{{Spot: 0, Outlet: -1, Vertex: -1}, {Spot: 1, Outlet: -1, Vertex: -1}}
		s.Survey.InvertsAssumed, s.Survey.AssumedShare, s.Survey.EdgesAssumed, s.Survey.NoCores, s.Survey.NoStains, s.Survey.NoRain = 0, 0, false, false, n > 0, false
		w := newTeller(record.NewBook(s, "", record.SI))
		got := w.survey()
		if !strings.Contains(got, want) || strings.Contains(got, "see spot-odd") != (n > 0) || n > 0 && !strings.Contains(got, w.b.Study.Odd[0].Called(s.Roof, s.Surface)+": see spot-odd.") ||
			strings.Contains(got, " Not measured: water as seen after rain.") != (n > 0) || strings.Contains(got, "Not measured") != (n > 0) {
			t.Errorf("%d: %q", n, got)
		}
		if drawn := w.drawn(); strings.HasSuffix(drawn, " Not measured: water as seen after rain.") != (n > 0) {
			t.Errorf("%d: %q", n, drawn)
		}
	}
}

// What outlets take is told with a rain for primary outlets alone, or for overflows alone, and not without any. Notes stand below tables that have rows, and not below empty ones.
func TestTablesWithAndWithoutRows(t *testing.T) {
	for _, rain := range [][2]float64{{0, 0}, {3e-5, 0}, {0, 3e-5}} {
		w := stormy()
		w.b.Study.Drainage.Primary, w.b.Study.Drainage.Overflow = rain[0], rain[1]
		if told := len(w.rain().Outlets.Rows) > 0; told != (rain[0]+rain[1] > 0) {
			t.Errorf("rain %v: told %v", rain, told)
		}
	}
	w := calm()
	if n := len(outletTable(w.b).Notes); n == 0 {
		t.Error("no note on how outlets are reached")
	}
	note := "\"5 to 95 %\""
	if notes := strings.Join(pondTable(w.b).Notes, " "); !strings.Contains(notes, note) {
		t.Errorf("%q", notes)
	}
	w.b.Study.Listed = w.b.Study.Listed[:1]
	if notes := strings.Join(pondTable(w.b).Notes, " "); !strings.Contains(notes, note) {
		t.Errorf("one pond: %q", notes)
	}
	w.b.Study.Listed = nil
	if notes := strings.Join(pondTable(w.b).Notes, " "); strings.Contains(notes, note) {
		t.Errorf("no pond: %q", notes)
	}
}

// The walk to more spots begins at the first and ends at the last of them.
func TestWalkToMoreSpots(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	for n, want := range map[int]string{1: "1 more spot would tell most, 0.0 m to walk from the first to the last: M01 to M01 on", 12: "12 more spots would tell most, 0.0 m to walk from the first to the last: M01 to M12 on"} {
		b.NextSpots = make([]record.NextSpot, n)
		if got := newTeller(b).survey(); !strings.Contains(got, want) {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// Cores that tell nothing lead on to where to cut next only where such places are listed.
func TestWhereToCutNextIsSaidOnceThereIsAPlace(t *testing.T) {
	s := sample.Study(sample.Local())
	for i := range s.Assembly.Regions {
		s.Assembly.Regions[i].Verdict = assembly.NotResolved
	}
	b := record.NewBook(s, "", record.SI)
	for n, want := range map[int]bool{0: false, 1: true} {
		b.NextCores = make([]record.NextCore, n)
		if got := newTeller(b).slopeIsIn(); strings.Contains(strings.ToLower(got), "where to cut next") != want || !strings.Contains(got, "the cores do not tell") {
			t.Errorf("%d places: %q", n, got)
		}
	}
}
