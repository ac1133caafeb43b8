package setout_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/reference"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/cmd/demo"
	"runnel/export/caution"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/setout"
	"runnel/importer"
)

// turned returns a place of a drawing turned by 30 degrees counter-clockwise.
func turned(x, y float64) orb.Point {
	s, c := math.Sincos(math.Pi / 6)
	return orb.Point{x*c - y*s, x*s + y*c}
}

// flat returns a walled roof that falls 2 % along its own x to a drain, with those corners, turned by place, and a spot at every metre
// that inside takes.
func flat(corners []orb.Point, place func(x, y float64) orb.Point, inside func(x, y float64) bool, drain orb.Point) *roof.Roof {
	at := func(x, y float64) roof.Position {
		return roof.Position{Plan: place(x, y), Z: 10 + 0.02*math.Abs(x-drain[0]), HasZ: true}
	}
	r := &roof.Roof{Name: "Shape", Frame: roof.NewLocal(orb.Point{0, 0}, quantity.Metres), Units: quantity.Metres}
	ring := []roof.Position{}
	for _, c := range append(corners, corners[0]) {
		ring = append(ring, at(c[0], c[1]))
	}
	r.Outline = roof.Outline{Feature: roof.Feature{ID: "outline"}, Rings: [][]roof.Position{ring}, Edge: roof.Wall}
	for x := 1.0; x < 30; x++ {
		for y := 1.0; y < 30; y++ {
			if inside(x, y) {
				r.Spots = append(r.Spots, roof.Spot{Feature: roof.Feature{ID: fmt.Sprint(len(r.Spots) + 1)}, Position: at(x, y)})
			}
		}
	}
	r.Outlets = []roof.Outlet{{
		Feature: roof.Feature{ID: "D1"}, Plan: place(drain[0], drain[1]), Type: roof.Drain, Invert: 9.99, HasInvert: true, Bowl: 0.3, Label: "RD-1",
	}}
	return r
}

func sheet(t *testing.T, r *roof.Roof, u record.Units, mark string) *setout.Sheet {
	t.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := setout.New(record.NewBook(s, "", u), mark)
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

func about(got, want float64) bool { return math.Abs(got-want) < 2e-5 }

// By hand: the rectangle is 20 m by 10 m, its drain 6 m from its short left side and 4 m from its long lower side. The two longest walls
// that meet are a long and a short one, at any of the four corners; which one, the sheet says. Turned by 30 degrees the distances
// stay.
func TestRectangleTurnedByThirtyDegrees(t *testing.T) {
	corners := []orb.Point{{0, 0}, {20, 0}, {20, 10}, {0, 10}}
	inside := func(x, y float64) bool { return x < 20 && y < 10 }
	s := sheet(t, flat(corners, turned, inside, orb.Point{6, 4}), record.SI, "")
	if !about(s.Walls[0].Length, 20) || !about(s.Walls[1].Length, 10) {
		t.Fatalf("walls of %v m and %v m, want 20 m and 10 m", s.Walls[0].Length, s.Walls[1].Length)
	}
	p := s.Points[0]
	var wantA, wantB float64
	for _, c := range []struct {
		x, y, a, b float64 // corner, and the drain's distances from the long and the short wall that meet there
	}{{0, 0, 4, 6}, {20, 0, 4, 14}, {20, 10, 6, 14}, {0, 10, 6, 6}} {
		if q := turned(c.x, c.y); math.Hypot(q[0]-s.Corner[0], q[1]-s.Corner[1]) < 1e-3 {
			wantA, wantB = c.a, c.b
		}
	}
	if wantA == 0 {
		t.Fatalf("the walls meet at %v, which is no corner", s.Corner)
	}
	if p.Kind != setout.OutletPoint || !about(p.A, wantA) || !about(p.B, wantB) || !about(p.Corner, math.Hypot(wantA, wantB)) {
		t.Errorf("the drain stands %v and %v m from the walls, %v m from the corner, want %v and %v", p.A, p.B, p.Corner, wantA, wantB)
	}
	for _, w := range s.Walls {
		if !strings.Contains(w.Name, "wall") || !strings.Contains(w.Name, "-") && !strings.Contains(w.Name, "north") && !strings.Contains(w.Name, "south") {
			t.Errorf("a wall is called %q", w.Name)
		}
	}
}

// By hand: an L of 20 m by 15 m without its upper right 12 m by 9 m. The longest walls that meet are the lower side (20 m) and the
// left side (15 m), at the lower left corner. The drain at (3, 2) stands 2 m from the lower and 3 m from the left side, and
// sqrt(13) m from the corner.
func TestL(t *testing.T) {
	corners := []orb.Point{{0, 0}, {20, 0}, {20, 6}, {8, 6}, {8, 15}, {0, 15}}
	inside := func(x, y float64) bool { return x < 8 && y < 15 || x < 20 && y < 6 }
	s := sheet(t, flat(corners, func(x, y float64) orb.Point { return orb.Point{x, y} }, inside, orb.Point{3, 2}), record.US, "")
	if s.Corner != (orb.Point{0, 0}) || !about(s.Walls[0].Length, 20) || !about(s.Walls[1].Length, 15) {
		t.Fatalf("walls of %v m and %v m that meet at %v", s.Walls[0].Length, s.Walls[1].Length, s.Corner)
	}
	if s.Walls[0].Name != "south wall" || s.Walls[1].Name != "west wall" {
		t.Errorf("walls %q and %q", s.Walls[0].Name, s.Walls[1].Name)
	}
	p := s.Points[0]
	if !about(p.A, 2) || !about(p.B, 3) || !about(p.Corner, math.Sqrt(13)) {
		t.Errorf("the drain stands %v, %v, %v m away", p.A, p.B, p.Corner)
	}
}

// An L of 28 m by 28 m: at its inner corner two walls of 20 m meet, at the outer one two of 28 m. A corner that points outwards is
// taken.
func TestInnerCornerIsNotTaken(t *testing.T) {
	corners := []orb.Point{{0, 0}, {8, 0}, {8, 20}, {28, 20}, {28, 28}, {0, 28}}
	inside := func(x, y float64) bool { return x < 8 && y < 28 || y > 20 && x < 28 && y < 28 }
	s := sheet(t, flat(corners, func(x, y float64) orb.Point { return orb.Point{x, y} }, inside, orb.Point{3, 2}), record.SI, "")
	if s.Corner == (orb.Point{8, 20}) {
		t.Error("the inner corner was taken")
	}
	if s.Corner != (orb.Point{0, 28}) {
		t.Errorf("the walls meet at %v, want (0, 28): 28 m and 28 m", s.Corner)
	}
}

// The sample as it is made: its drain's inlet at 100.020 m, the surface there 100.000 m, the overflow's floor at 100.170 m. The
// longest walls that meet are the two of 20 m and the west one of 12 m (the east side is a gutter); the drain is 6 m from each.
func TestSample(t *testing.T) {
	s := sheet(t, sample.Local(), record.SI, "")
	if s.Walls[0].Open || s.Walls[1].Open || s.Walls[1].Name != "west wall" {
		t.Errorf("walls %+v", s.Walls)
	}
	rows := table(t, s)
	for _, want := range [][]string{
		{"1", "outlet", "SR1.RD-1", "RD-1, drain", "6", `19' 8-1/4"`, "6", `19' 8-1/4"`, "8.485", `27' 10-1/8"`, "-20", `3/4" below`, "0", `0"`},
		{"2", "outlet", "SR1.OS-1", "OS-1, overflow scupper", "6", `19' 8-1/4"`, "0", `0"`, "6", `19' 8-1/4"`, "100", `3-7/8" above`, "150", `5-7/8" above`},
		{"4", "pond-deepest", "SR1.P01", "P01, deepest place", "6", `19' 8-1/4"`, "6", `19' 8-1/4"`, "8.485", `27' 10-1/8"`, "-20", `3/4" below`, "", ""},
		// Water's edge: 20 mm up a slope of 2 % is 1 m east, and 0.5 % is 4 m north.
		{"7", "pond-rim", "SR1.P01", "P01, water's edge to the east", "6", `19' 8-1/4"`, "7", `22' 11-5/8"`, "9.22", `30' 3"`, "0", `0"`, "", ""},
	} {
		if got := rows[want[0]]; strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("point %s:\n got %q\nwant %q", want[0], got, want)
		}
	}
	curbs := 0
	for _, p := range s.Points {
		if p.Kind == setout.CurbCorner {
			curbs++
			// The curb's corners are at x = 10 or 11, y = 5 or 7, on the surface 100 + 0.02 |x-6| + 0.005 |y-6|. Nobody shot them: a corner stands on the plane
			// through the six spots beside its faces, some of them across the low line at y = 6, where the surface bends by 1 %: half a metre off makes 2.5 mm.
			if want := 100 + 0.02*(p.Plan[0]-6) + 0.005; !(math.Abs(p.Surface-want) <= 0.0025) || !p.HasSurface {
				t.Errorf("%s stands at %v, want %v", p.What, p.Surface, want)
			}
		}
	}
	if curbs != 4 {
		t.Errorf("%d corners of curbs, want 4", curbs)
	}
	b, next := record.NewBook(sample.Study(sample.Local()), "", record.SI), 0
	for _, p := range s.Points {
		if p.Kind != setout.NextCore {
			continue
		}
		// Walls A and B are the lines y = 0 and x = 0 or the other way round.
		if a := [2]float64{p.A, p.B}; p.ID != b.Names.NextCore(next) || a != [2]float64(p.Plan) && a != [2]float64{p.Plan[1], p.Plan[0]} {
			t.Errorf("%s at %v: %v", p.ID, p.Plan, a)
		}
		next++
	}
	if next == 0 || next != len(b.NextCores) {
		t.Errorf("%d cores to cut next, want %d", next, len(b.NextCores))
	}
}

// table returns the rows of the CSV file by their numbers.
func table(t *testing.T, s *setout.Sheet) map[string][]string {
	t.Helper()
	var out bytes.Buffer
	if err := s.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	byNumber := map[string][]string{}
	for _, row := range rows {
		byNumber[row[0]] = row
	}
	return byNumber
}

// By hand: from the overflow's floor (100.170 m) the drain's inlet (100.020 m) is 150 mm lower, its surface 170 mm; a spot at (4, 4)
// stands at 100 + 0.02*2 + 0.005*2 = 100.050 m.
func TestBenchMarks(t *testing.T) {
	for name, want := range map[string]float64{
		"OS-1": 100.17, "S01": 100.17, "SR1.S01": 100.17, "S1": 100.17, "RD-1": 100.02, "17": 100.05, "": 100.02,
	} {
		s := sheet(t, sample.Local(), record.SI, name)
		if !about(s.Mark.Z, want) {
			t.Errorf("bench mark %q stands at %v (%s), want %v", name, s.Mark.Z, s.Mark.What, want)
		}
		if got := s.Relative(s.Points[0].Inlet); !about(got, 100.02-want) {
			t.Errorf("from %q the drain's inlet stands at %v, want %v", name, got, 100.02-want)
		}
	}
	_, err := setout.New(record.NewBook(sample.Study(sample.Local()), "", record.SI), "nothing")
	var unknown *setout.UnknownMarkError
	if !errors.As(err, &unknown) {
		t.Errorf("got %v", err)
	}
}

// Without an outlet the lowest corner of the outline is the bench mark; here x = 0, where the roof is lowest: 10 + 0.02*|0-0| = 10.
func TestBenchMarkWithoutAnOutlet(t *testing.T) {
	corners := []orb.Point{{0, 0}, {20, 0}, {20, 10}, {0, 10}}
	r := flat(corners, func(x, y float64) orb.Point { return orb.Point{x, y} }, func(x, y float64) bool { return x < 20 && y < 10 }, orb.Point{0, 0})
	r.Outlets = nil
	s := sheet(t, r, record.SI, "")
	if !about(s.Mark.Z, 10) || s.Mark.Plan[0] != 0 {
		t.Errorf("bench mark %+v", s.Mark)
	}
}

// demos returns the sheets of the invented roofs.
func demos(t *testing.T) []*setout.Sheet {
	t.Helper()
	dir := t.TempDir()
	if _, err := demo.Write(dir, true); err != nil {
		t.Fatal(err)
	}
	roofs, err := importer.Campus([]string{dir}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var all []*setout.Sheet
	for job := range roofs.All() {
		r, err := job.Read()
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, sheet(t, r, record.Units(len(all)%2), ""))
	}
	return all
}

// On every invented roof the point is found again from the two distances: the lines at distance A from wall A and B from wall B
// meet at it (solved by Cramer's rule, another way than the sheet's).
func TestDistancesLeadBack(t *testing.T) {
	for _, s := range demos(t) {
		for _, p := range s.Points {
			var n [2]orb.Point
			var c [2]float64
			for i, d := range []float64{p.A, p.B} {
				w := s.Walls[i]
				length := math.Hypot(w.To[0]-w.From[0], w.To[1]-w.From[1])
				n[i] = orb.Point{-(w.To[1] - w.From[1]) / length, (w.To[0] - w.From[0]) / length}
				c[i] = n[i][0]*w.From[0] + n[i][1]*w.From[1] + d
			}
			det := n[0][0]*n[1][1] - n[0][1]*n[1][0]
			x, y := (c[0]*n[1][1]-c[1]*n[0][1])/det, (n[0][0]*c[1]-n[1][0]*c[0])/det
			if !(math.Hypot(x-p.Plan[0], y-p.Plan[1]) <= 1e-6) {
				t.Errorf("point %d is found at (%v, %v), want %v", p.Number, x, y, p.Plan)
			}
		}
	}
}

func pdf(t *testing.T, s *setout.Sheet) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := s.WritePDF(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestSameBytesEveryTime(t *testing.T) {
	want := pdf(t, sheet(t, sample.Local(), record.SI, ""))
	for range 10 {
		if !bytes.Equal(pdf(t, sheet(t, sample.Local(), record.SI, "")), want) {
			t.Fatal("the sheet differs from run to run")
		}
	}
}

// text returns the text of a PDF file.
func text(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return string(reference.Run(t, "poppler-utils", nil, "pdftotext", "-layout", path, "-"))
}

// Each page ends with who is to keep off and who decides.
func TestEveryPageEndsWithACaution(t *testing.T) {
	for _, page := range strings.Split(strings.TrimSuffix(text(t, pdf(t, demos(t)[0])), "\f"), "\f") {
		lines := strings.Split(strings.TrimSpace(page), "\n")
		if last := lines[len(lines)-1]; !strings.Contains(last, caution.Foot) {
			t.Errorf("a page ends with %q", last)
		}
	}
}

// Every point's number, name and distances can be read out of the sheet, on every invented roof; so can what to do and the cautions.
func TestTextOfTheSheet(t *testing.T) {
	for _, s := range demos(t) {
		all := strings.Join(strings.Fields(text(t, pdf(t, s))), " ")
		for _, p := range s.Points {
			if want := fmt.Sprintf("%.3f", math.Round(p.A*1000)/1000+0); !strings.Contains(all, want) {
				t.Errorf("no %s (point %d)", want, p.Number)
			}
		}
		for _, want := range []string{
			"Verify on site", "Cut no deck, joist, beam or parapet", "Local code governs", "Wall A is the", "Wall B is the", "Bench mark: ",
			"How to find a point", "rod",
		} {
			if !strings.Contains(all, want) {
				t.Errorf("no %q", want)
			}
		}
	}
}

func TestHostileNamesStayTexts(t *testing.T) {
	r := sample.Local()
	r.Name = "\u202e<script>alert(1)</script> 漢字 😀" + strings.Repeat("W", 10_000)
	r.Building = `"><img onerror=alert(1)>`
	r.Outlets[0].Label = "=cmd|' /C calc'!A0"
	r.Curbs[0].Label = "\x00\x1b[31m(\\) Tj"
	s := sheet(t, r, record.US, "")
	got := text(t, pdf(t, s))
	for _, want := range []string{"<script>alert(1)</script> ?? ?", `"><img onerror=alert(1)>`, "=cmd|' /C calc'!A0", `[31m(\) Tj`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in the sheet", want)
		}
	}
	if strings.Contains(got, "\u202e") {
		t.Error("a mark turns the direction of writing")
	}
	var out bytes.Buffer
	if err := s.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for _, k := range []int{2, 3, 5, 7, 9, 11, 13} {
			if strings.IndexAny(row[k], "=+-@\t\r") == 0 {
				t.Errorf("the cell %q begins like a formula", row[k])
			}
		}
	}
}

func BenchmarkWritePDF(b *testing.B) {
	k := record.NewBook(sample.Study(sample.Feet()), "", record.US)
	for b.Loop() {
		s, err := setout.New(k, "")
		if err != nil {
			b.Fatal(err)
		}
		if err := s.WritePDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
