package setout

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/inspection"
	"runnel/analysis/place"
	"runnel/analysis/roof"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/sample"
)

// Heights over the bench mark in both kinds of units, and distances by tape. By hand: 28.4 mm are 8.94 eighths of an inch, 1-1/8; under a sixteenth (1.5875 mm) nothing is said.
func TestHeightsAndTapesInWords(t *testing.T) {
	for m, want := range map[float64][2]string{
		0.0284: {"+28 mm", `1-1/8" above`}, -0.0284: {"–28 mm", `1-1/8" below`}, 0: {"0 mm", `0"`}, 0.0004: {"0 mm", `0"`}, -0.0004: {"0 mm", `0"`}, 0.0015: {"+2 mm", `0"`}, -0.0015: {"–2 mm", `0"`}, 0.0016: {"+2 mm", `1/8" above`},
	} {
		if mm, in := signed(whole(m)), eighths(m); mm != want[0] || in != want[1] {
			t.Errorf("%v m: %q and %q, want %q", m, mm, in, want)
		}
	}
	for m, want := range map[float64]string{0: `0"`, 0.3048: `1' 0"`, 1.3716: `4' 6"`, -1.3716: `4' 6" behind`, -0.001: `0"`, -0.0254: `1" behind`} {
		if got := tape(m); got != want {
			t.Errorf("%v m by tape: %q, want %q", m, got, want)
		}
	}
	if got := both(1.3716); got != `1.372 m (4' 6")` {
		t.Error(got)
	}
}

// The worked example is of the first point that is no outlet, not level with the mark, and not so far off that a rod would not reach; without one there is no example. By hand: 1500 mm less 120 mm above, more 120 below;
// 60 in less 4-3/4 (120.65 mm).
func TestWorkedExample(t *testing.T) {
	at := func(kind Kind, z float64, known bool) Point {
		return Point{Kind: kind, Number: 7, Surface: z, HasSurface: known}
	}
	for _, c := range []struct {
		u      record.Units
		points []Point
		want   string
	}{
		{record.SI, []Point{at(Lip, 0.12, true)}, "Example: the rod reads 1500 mm on the bench mark. At point 7 (surface +120 mm) it should read 1380 mm."},
		{record.SI, []Point{at(Lip, -0.12, true)}, "Example: the rod reads 1500 mm on the bench mark. At point 7 (surface –120 mm) it should read 1620 mm."},
		{record.US, []Point{at(Lip, 0.12065, true)}, `Example: the rod reads 60" on the bench mark. At point 7 (surface 4-3/4" above) it should read 55-1/4".`},
		{record.SI, []Point{at(OutletPoint, 0.12, true), at(Lip, 0.12, false), at(Lip, 0.0004, true), at(Lip, 0.91, true), at(Lip, -0.91, true)}, ""},
		{record.SI, []Point{at(Lip, 0.91, true), at(Deepest, 0.9, true)}, "Example: the rod reads 1500 mm on the bench mark. At point 7 (surface +900 mm) it should read 600 mm."},
		{record.SI, nil, ""},
	} {
		s := sheetOf(t, c.u)
		s.Mark.Z, s.Points = 0, c.points
		if got := s.example(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
		if n := len(s.method()); n != 3 && c.want == "" || n != 4 && c.want != "" {
			t.Errorf("%d sentences with the example %q", n, c.want)
		}
	}
}

// A bench mark that was assumed says to read it first; one that is no inlet says where it is from both walls.
func TestBenchMarkInWords(t *testing.T) {
	s := sheetOf(t, record.SI)
	s.Mark = Mark{What: "inlet of RD-1", Inlet: true}
	if got := s.markText(); got != "Bench mark: inlet of RD-1. All elevations are above or below it." {
		t.Errorf("%q", got)
	}
	s.Mark.Assumed = true
	if got := s.markText(); got != "Bench mark: inlet of RD-1. All elevations are above or below it. Its elevation was not measured but assumed: take a reading there first." {
		t.Errorf("%q", got)
	}
	inside := s.Walls[0].From
	inside[0], inside[1] = 3, 4 // of 20 by 12 m
	s.Mark = Mark{What: "spot 5", Plan: inside}
	a, b := s.Walls[0].Square(inside), s.Walls[1].Square(inside)
	if got, want := s.MarkPlace(), fmt.Sprintf("spot 5, %.1f m from wall A and %.1f m from wall B", a, b); got != want || a < 0 || b < 0 {
		t.Errorf("%q, want %q", got, want)
	}
	for i := range s.Walls {
		if got := s.wallText(i); !strings.HasPrefix(got, fmt.Sprintf("Wall %c is the ", 'A'+i)) || !strings.HasSuffix(got, both(s.Walls[i].Length)+" long.") {
			t.Errorf("%q", got)
		}
	}
}

// 450 points: the sheet lists 400 and says that the file has 50 more; the table and the file say the same of each, in the same units.
func TestManyPointsInTableAndFile(t *testing.T) {
	s := sheetOf(t, record.US)
	s.Mark.Z, s.Points = 0, nil
	for i := range 450 {
		s.Points = append(s.Points, Point{
			Number: i + 1, Kind: Rim, ID: fmt.Sprint("SR1.", i), What: fmt.Sprintf("point \"%d\", <%d>", i, i), A: float64(i) * 0.0317, B: 9 - float64(i)*0.0254, Corner: float64(i),
			Surface: float64(i-200) * 0.001, HasSurface: i%3 > 0, Inlet: 0.01, HasInlet: i%5 == 0,
		})
	}
	var all strings.Builder
	for _, p := range s.pages() {
		for _, l := range p.Layers {
			for i := range l.Texts {
				all.WriteString("|" + l.Texts[i].String)
			}
		}
	}
	if !strings.Contains(all.String(), "|and 50 more points in the CSV file.|") || !strings.Contains(all.String(), "|450 points|") && !strings.Contains(all.String(), "; 450 points|") {
		t.Error("the sheet does not say how many points there are")
	}
	for i, want := range map[int]bool{0: true, 399: true, 400: false} {
		if strings.Contains(all.String(), fmt.Sprintf("|point \"%d\", <%d>|", i, i)) != want {
			t.Errorf("point %d in the table: %v", i+1, !want)
		}
	}
	table := s.table(s.Points)
	var file bytes.Buffer
	if err := s.WriteCSV(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, row := range rows {
		if row[1] != string(Rim) {
			continue
		}
		told := table.Rows[n]
		same := []string{row[0], row[3], row[5], "", row[7], "", row[9], "", row[11], "", row[13], ""}
		for k, text := range same {
			if text != told[k] && k%2 == 0 || k == 1 && text != told[1] {
				t.Errorf("point %d, column %d: %q in the file, %q in the table", n+1, k, text, told[k])
			}
		}
		for k, column := range map[int]int{3: 4, 5: 6, 7: 8, 9: 10, 11: 12} {
			in, errFile := strconv.ParseFloat(row[column], 64)
			on, errTable := strconv.ParseFloat(strings.NewReplacer("–", "-", "+", "").Replace(told[k]), 64)
			if (errFile == nil) != (errTable == nil) || errFile == nil && !(math.Abs(in-on) <= 1e-9) {
				t.Errorf("point %d, column %d: %q in the file, %q in the table", n+1, k, row[column], told[k])
			}
		}
		n++
	}
	if n != 450 {
		t.Errorf("%d points in the file", n)
	}
}

// What is proposed says so under the name, in the file as well, and that it is preliminary; a roof that is kept off says that first.
func TestProposedAndKeptOff(t *testing.T) {
	s := sheetOf(t, record.SI)
	texts := func() string {
		var all strings.Builder
		for _, l := range s.pages()[0].Layers {
			for i := range l.Texts {
				all.WriteString(l.Texts[i].String + "|")
			}
		}
		var file bytes.Buffer
		if err := s.WriteCSV(&file); err != nil {
			t.Fatal(err)
		}
		return all.String() + file.String()
	}
	plain := texts()
	s.book.Proposed = true
	if got := texts(); strings.Contains(plain, caution.Design) || strings.Count(got, caution.Design) != 2 || !strings.Contains(got, "as proposed. ") {
		t.Errorf("%d times that a design is preliminary, %d on a survey", strings.Count(got, caution.Design), strings.Count(plain, caution.Design))
	}
	s.book.Study.KeepOff.Reasons = []inspection.Reason{{}}
	got := texts()
	if !strings.Contains(got, "\n,keep-off,") || strings.Index(got, "Keep off, and call") > strings.Index(got, "Walls and bench mark") {
		t.Error("to keep off does not stand first")
	}
	f := s.pages()[0]
	for _, l := range f.Layers {
		for i := range l.Texts {
			for k := range i {
				if l.Texts[i].Bounds().Inset(0.1).Overlaps(l.Texts[k].Bounds().Inset(0.1)) {
					t.Errorf("%q covers %q", l.Texts[i].String, l.Texts[k].String)
				}
			}
		}
	}
}

// A curb of up to eight corners has each, by its direction from the middle, with the height of the surface beside it; a round one its middle alone. By hand, a square of 2 m about (5, 5).
func TestCornersOfCurbs(t *testing.T) {
	ring := func(n int) (all []roof.Position) {
		for i := range n + 1 {
			angle := math.Pi/4 + 2*math.Pi*float64(i%n)/float64(n)
			all = append(all, roof.Position{Plan: orb.Point{5 + math.Sqrt2*math.Cos(angle), 5 + math.Sqrt2*math.Sin(angle)}})
		}
		return all
	}
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	for n, want := range map[int]string{2: "", 4: "north-east north-west south-west south-east", 8: "north-east north north-west west south-west south south-east east", 9: "middle"} {
		g := &gatherer{b: b, border: []place.Border{{Plan: []orb.Point{{6, 6}, {4, 4}}, Z: []float64{7.5, 8.5}}}}
		g.curb(ring(n), "id", "curb X")
		var got []string
		for _, p := range g.points {
			got = append(got, strings.TrimPrefix(strings.TrimPrefix(p.What, "curb X, "), "corner to the "))
			z, known := map[string]float64{"north-east": 7.5, "south-west": 8.5}[got[len(got)-1]]
			if p.HasSurface != known || p.Surface != z || p.Kind != CurbCorner || p.ID != "id" {
				t.Errorf("of %d: %+v", n, p)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("of %d corners: %q, want %q", n, got, want)
		}
		if n == 9 && !(vector.Distance(g.points[0].Plan, orb.Point{5, 5}) <= 1e-9) {
			t.Errorf("the middle lies at %v", g.points[0].Plan)
		}
	}
}

// One point is no points, in the head of the sheet as where the list ends.
func TestOnePointInWords(t *testing.T) {
	for n, want := range map[int][]string{1: {"1 point|"}, 401: {"401 points|", "|and 1 more point in the CSV file.|"}} {
		s := sheetOf(t, record.SI)
		s.Points = nil
		for i := range n {
			s.Points = append(s.Points, Point{Number: i + 1, Kind: Rim, What: "edge", HasSurface: true})
		}
		all := "|"
		for _, p := range s.pages() {
			for _, l := range p.Layers {
				for i := range l.Texts {
					all += l.Texts[i].String + "|"
				}
			}
		}
		for _, text := range want {
			if !strings.Contains(all, text) {
				t.Errorf("%d points: without %q", n, text)
			}
		}
	}
}
