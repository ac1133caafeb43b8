package surveysheet_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/surveysheet"
	"runnel/export/taped"
	"runnel/importer"
)

// filled writes a sheet's file, takes the signs off its rows and reads it, beside others.
func filled(t *testing.T, s *surveysheet.Sheet, fill func(row string, i int) string, beside ...string) (*roof.Roof, string) {
	t.Helper()
	var b bytes.Buffer
	if err := s.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	var out []string
	i := 0
	for _, line := range strings.Split(b.String(), "\n") {
		if row, ok := strings.CutPrefix(line, "#"); ok && !strings.HasPrefix(row, " ") {
			line = fill(row, i)
			i++
		}
		out = append(out, line)
	}
	path := filepath.Join(t.TempDir(), "rows.csv")
	if err := os.WriteFile(path, []byte(strings.Join(out, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read(append(beside, path), importer.Options{HI: "102 m"})
	if err != nil {
		t.Fatalf("%v in\n%s", err, strings.Join(out, "\n"))
	}
	return r, b.String()
}

// The examples of the blank file are rows that check reads, as they stand there: 120 by 60 ft, a drain 40 ft and 30 ft from walls, 3/4 in of water, what was noted on the visit.
func TestBlankFileIsRead(t *testing.T) {
	r, _ := filled(t, &surveysheet.Sheet{Units: record.US}, func(row string, _ int) string { return row })
	if r.Name != "Shed" || len(r.Outlets) != 2 || !(math.Abs(float64(r.Outlets[0].Diameter)-0.1016) <= 1e-9) || r.Outlets[1].Duty != roof.Overflow || len(r.Edges) != 1 {
		t.Errorf("%+v", r.Outlets)
	}
	w := r.Tape.Waters
	if len(w) != 1 || w[0].HoursSinceRain != 50 || !(math.Abs(float64(w[0].Soundings[0].Depth)-0.01905) <= 1e-9) || len(r.Tape.Probes) != 5 {
		t.Errorf("%+v %d probes", w, len(r.Tape.Probes))
	}
	if v := r.Visit; r.Surveyed != "2026-03-14" || v.By != "A. Person" || v.Weather != "dry, 45 F, light wind" || v.Instrument != "level" || v.Age != 15 || v.Coverings != 1 || v.WarrantyUntil != "2031" || v.Leaks != "over the store, in thaw" || v.CutsAuthorised != "the owner" {
		t.Errorf("%+v", v)
	}
}

// Of a known roof the wanted spots stand in the frame of its outline: each row, its rod filled in, is a spot where the survey asks for it. A rod of 2 m from a line of sight of 102 m is 100 m.
func TestWantedSpotsAreRead(t *testing.T) {
	for name, made := range map[string]*roof.Roof{"metres": sample.Local(), "degrees": sample.Geographic()} {
		b := record.NewBook(sample.Study(made), "", record.SI)
		b.NextSpots = []record.NextSpot{{Plan: orb.Point{3.25, 4.5}, For: "pond P01"}, {Plan: orb.Point{17, 2}, For: "the roof"}, {Plan: orb.Point{8, 11}, For: "the roof"}}
		b.Study.Roof.Visit = roof.Visit{Warrantor: `The "maker"; of it`, HasAge: true, Age: 3, Coverings: 1}
		outline := filepath.Join(t.TempDir(), "outline.geojson")
		frame := `"frame":"local","units":"m",`
		var ring []string
		for _, p := range made.Outline.Rings[0] {
			q := made.Frame.ToFile(p.Plan)
			ring = append(ring, fmt.Sprintf("[%.9f,%.9f]", q[0], q[1]))
		}
		if made.Frame.Kind == roof.Geographic {
			frame = ""
		}
		text := `{"type":"FeatureCollection",` + frame + `"features":[{"type":"Feature","properties":{"role":"outline","name":"A"},"geometry":{"type":"Polygon","coordinates":[[` + strings.Join(ring, ",") + `]]}}]}`
		if err := os.WriteFile(outline, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		r, csv := filled(t, &surveysheet.Sheet{Units: record.SI, Book: b}, func(row string, _ int) string {
			row = strings.Replace(row, ";;SPOT", ";2;SPOT", 1)
			return regexp.MustCompile(`(surveyed|hours_since_rain|age_years)=( |$)`).ReplaceAllString(row, "") // which nobody filled in
		}, outline)
		if len(b.NextSpots) == 0 || len(r.Spots) != len(b.NextSpots) {
			t.Fatalf("%s: %d spots of %d in\n%s", name, len(r.Spots), len(b.NextSpots), csv)
		}
		for i, s := range r.Spots {
			want := made.Frame.ToFile(b.NextSpots[i].Plan)
			got := r.Frame.ToFile(s.Plan)
			unit := 1.0
			if made.Frame.Kind == roof.Geographic {
				unit = 111000
			}
			if !(math.Hypot(got[0]-want[0], got[1]-want[1])*unit <= 0.002) || !(math.Abs(s.Z-100) <= 1e-9) || s.ID != b.Names.Local(b.Names.NextSpot(i)) {
				t.Errorf("%s: spot %s at %v, %v, want %v", name, s.ID, got, s.Z, want)
			}
		}
		if v := r.Visit; v.Warrantor != "The 'maker', of it" || v.Coverings != 1 {
			t.Errorf("%s: %+v", name, v)
		}
	}
}

// Of a roof that was taped the heights that are wanted next are read beside the file of the roof, at the places that it names.
func TestTapedFileGoesOn(t *testing.T) {
	first := filepath.Join(t.TempDir(), "roof.csv")
	if err := os.WriteFile(first, []byte("place;elev;depth;code\n;;;OUTLINE rect=24x12m edge=wall name=Halle\n6 m from W wall, 4 m from S wall;;;DRAIN D1 d=100mm\n9 m from W wall, 4 m from S wall;;18mm;POND 1 size=4x2m\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{first}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b := &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: record.SI}
	rows := 0
	both, csv := filled(t, &surveysheet.Sheet{Units: record.SI, Taped: b}, func(row string, _ int) string {
		if strings.HasPrefix(row, "visit;") {
			return ""
		}
		rows++
		f := strings.Split(row, ";")
		f[2] = "2"
		return strings.Join(f, ";")
	}, first)
	if got := len(both.Tape.Probes) + len(both.Spots); rows == 0 || rows != len(b.Survey.Next) || got != rows {
		t.Errorf("%d rows, %d wanted, %d heights in\n%s", rows, len(b.Survey.Next), got, csv)
	}
}
