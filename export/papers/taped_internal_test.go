package papers

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study/studytest"
	"runnel/analysis/tape"
	"runnel/export/record"
	"runnel/export/taped"
	"runnel/importer"
)

// taped reads a roof that was measured with tape, chalk and ruler.
func tapedBook(t *testing.T, text string) *taped.Book {
	t.Helper()
	path := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: record.SI}
}

const chalked = `place;elev;depth_mm;code
;;;OUTLINE rect=24x12m edge=wall name=Halle
6 m from W wall, 4 m from S wall;;;DRAIN D1 d=100mm
23 m from W wall, 0 m from S wall;;;OVERFLOW OS-1 w=200mm
9 m from W wall, 4 m from S wall;;18;POND 1 size=4x2m
20 m from W wall, 9 m from S wall;;;POND 2 size=1x1m
`

// An ellipse of 4 by 2 m is 6.28 m2; 18 mm on it are 113 kg as a flat pan, a third of that where the bottom runs straight to the one depth, 38 kg, and 0.018 x 9.81 = 0.18 kPa there.
func TestPapersOfATapedRoof(t *testing.T) {
	b := tapedBook(t, chalked)
	all := OfTape(b)
	var names []string
	for _, a := range all {
		names = append(names, a.Name)
		for i, s := range a.pages() {
			apart(t, a.Name, i+1, s)
		}
	}
	if want := []string{"letter", "engineer", "readings"}; !reflect.DeepEqual(names, want) {
		t.Fatalf("%q, want %q", names, want)
	}
	rows := (&tapeWriter{b}).pondTable().Rows
	if len(rows) != 2 || !reflect.DeepEqual(rows[0][2:6], []string{"6.3 m²", "18 mm", "0.18 kPa", "113 kg"}) || rows[0][7] != "38 kg" || !reflect.DeepEqual(rows[1][3:], []string{"not read", "-", "-", "-", "-"}) {
		t.Errorf("%q", rows)
	}
	letter, engineer := told(all[0]), told(all[1])
	studytest.Says(t, letter, "What waiting costs", "P1 | ", "P2 | ", "This survey does not tell ", "Please take the readings that are named above, signed", "read yours", "How old is the roof", "the sheet of readings lists them in walking order", "not NEXT SPOTS")
	studytest.Says(t, engineer, "Use the upper figure.", goesIntoFile, "How much water may this roof hold, as a load?", "Is the upper figure of what the ponds weigh a concern", "not "+askFirst, "not May people go onto the roof")
	if n := len(all[2].Parts[1].Table.Rows); n != len(b.Survey.Next) || n == 0 {
		t.Errorf("%d rows for %d readings", n, len(b.Survey.Next))
	}

	b.Survey.Roof.Structure = roof.Structure{LoadLimit: 1000, LoadLimitBy: "A. Engineer"}
	b.Survey.Roof.Cores = []roof.Core{{Deck: "steel"}, {}}
	b.Survey.Roof.Cores[0].ID = "C1"
	studytest.Says(t, told(OfTape(b)[1]), "The roof may hold 1.00 kPa of water, says A. Engineer.", "Deck, as core C1 says: steel.", "not core  says", "not How much water may this roof hold")
	b.Survey.KeepOff.Reasons = make([]inspection.Reason, 1)
	all = OfTape(b)
	studytest.Says(t, told(all[0]), notOffered, "not Please take the readings", "not read yours")
	studytest.Says(t, told(all[1]), mayGoUp, askFirst)
	for _, a := range all {
		if a.Parts[0].Texts[0] == "" || a.Parts[0].Heading != "" {
			t.Errorf("%s does not begin with what keeps people off", a.Name)
		}
	}
}

// One pond is described by the text; a table of one row would say it twice. A roof without water has nothing that waits.
func TestTapedRoofsOfFewPonds(t *testing.T) {
	one := tapedBook(t, "place;elev;depth_mm;code\n;;;OUTLINE rect=24x12m edge=wall name=Halle\n6 m from W wall, 4 m from S wall;;;DRAIN D1 d=100mm\n9 m from W wall, 4 m from S wall;;18;POND 1 size=4x2m\n")
	all := OfTape(one)
	if all[0].Parts[0].Table != nil {
		t.Error("the letter has a table of one pond")
	}
	// No overflow is known: the engineer is asked where one may be cut.
	studytest.Says(t, told(all[1]), "Where may the deck or a parapet be opened for one?", "P1 | ")
	none := tapedBook(t, "place;elev;depth_mm;code\n;;;OUTLINE rect=24x12m edge=wall name=Halle\n6 m from W wall, 4 m from S wall;;;DRAIN D1 d=100mm\n23 m from W wall, 0 m from S wall;;;OVERFLOW OS-1 w=200mm\n")
	all = OfTape(none)
	studytest.Says(t, told(all[0]), "not What waiting costs")
	studytest.Says(t, told(all[1]), "not Use the upper figure", "not Is the upper figure")
	if w := (&tapeWriter{none}); w.urgent() {
		t.Error("a roof without water is urgent")
	}
	one.Survey.Findings = []finding.Finding{{Severity: finding.Repair}, {Severity: finding.Urgent}}
	if w := (&tapeWriter{one}); !w.urgent() {
		t.Error("an urgent finding is none")
	}
	none.Survey.Next = nil
	if n := len(OfTape(none)); n != 2 {
		t.Errorf("%d papers, though nothing is to be measured", n)
	}
}

// What to measure next has the numbers and places of the map and of the file of next spots, in their order, each with a line for its rod.
func TestReadingsAreThoseOfTheFile(t *testing.T) {
	b := tapedBook(t, chalked)
	var file strings.Builder
	if err := taped.WriteNext(&file, b); err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(strings.NewReader(file.String()))
	in.Comma = ';'
	rows, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	w := tapeWriter{b}
	a := w.readings()
	got := a.Parts[len(a.Parts)-1].Table.Rows
	if len(got) != len(rows)-1 || len(got) < 4 {
		t.Fatalf("%d places on paper, %d in the file", len(got), len(rows)-1)
	}
	for i, row := range got {
		if f := rows[i+1]; row[0] != f[0] || row[1] != f[1] || row[2] != f[4] || row[3] != "__________" {
			t.Errorf("on paper %q, in the file %q", row, f)
		}
	}
}

// Ponds are told once, whatever is worst; an overflow that is missing is asked about as soon as it has to be mended; the heading for loads stands where something is said below it; and a building is named where it has a name of its own.
func TestWhatATapedRoofIsAskedAbout(t *testing.T) {
	without := strings.Replace(chalked, "23 m from W wall, 0 m from S wall;;;OVERFLOW OS-1 w=200mm\n", "", 1)
	for name, text := range map[string]string{"with an overflow": chalked, "without": without} {
		w := &tapeWriter{tapedBook(t, text)}
		if got := strings.Count(strings.Join(w.found(), "|"), w.Ponds()); got != 1 {
			t.Errorf("%s: ponds are told %d times: %q", name, got, w.found())
		}
	}
	w := &tapeWriter{tapedBook(t, without)}
	w.Survey.Findings = []finding.Finding{{Kind: finding.NoOverflow, What: finding.Say("No overflow was found."), Pond: -1, Outlet: -1}}
	for severity, want := range map[finding.Severity]bool{finding.Note: false, finding.Repair: true, finding.Urgent: true} {
		w.Survey.Findings[0].Severity = severity
		asked := false
		for _, q := range w.questions() {
			asked = asked || strings.HasPrefix(q.Text, "No overflow was found. Where may")
		}
		if asked != want {
			t.Errorf("severity %v: asked %v", severity, asked)
		}
	}
	for cores, want := range map[string]bool{"": false, "7 m from W wall, 7 m from S wall;;;CORE deck=steel layers=\"60 mm perlite\"\n": true} {
		a := (&tapeWriter{tapedBook(t, chalked+cores)}).engineer()
		headed := false
		for i := range a.Parts {
			headed = headed || a.Parts[i].Heading == "Loads"
		}
		if headed != want {
			t.Errorf("cores %q: a heading for loads: %v", cores, headed)
		}
	}
	for building, want := range map[string]string{"": "Roof: Halle.", "Halle": "Roof: Halle.", "Werk 2": "Roof: Werk 2, Halle."} {
		b := tapedBook(t, chalked)
		b.Survey.Roof.Building = building
		found := false
		for _, l := range OfTape(b)[0].pages()[0].Layers {
			for _, x := range l.Texts {
				found = found || x.String == want
			}
		}
		if !found {
			t.Errorf("building %q: no line %q", building, want)
		}
	}
}
