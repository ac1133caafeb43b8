package roof_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// What may be noted: 10,000 hours, 300 years and 1 to 20 whole coverings are kept as they were written, what lies beyond is refused with its name and what to write.
func TestVisitBounds(t *testing.T) {
	for _, c := range []struct {
		name, text, mend string
		kept             bool
	}{
		{"hours_since_rain", "0", "", true},
		{"hours_since_rain", "0.25", "", true},
		{"hours_since_rain", "10000", "", true},
		{"hours_since_rain", "10000.5", "such as 50", false},
		{"hours_since_rain", "-0.5", "such as 50", false},
		{"age_years", "0", "", true},
		{"age_years", "0.5", "", true},
		{"age_years", "300", "", true},
		{"age_years", "300.5", "such as 15", false},
		{"age_years", "Inf", "such as 15", false},
		{"coverings", "1", "", true},
		{"coverings", "20", "", true},
		{"coverings", "21", "count the coverings", false},
		{"coverings", "0", "count the coverings", false},
		{"coverings", "1.5", "count the coverings", false},
		{"coverings", "NaN", "count the coverings", false},
	} {
		var v roof.Visit
		rule, mend := v.Set(c.name, c.text)
		got, number, ok := v.Get(c.name)
		if c.kept {
			if rule != "" || got != c.text || !number || !ok {
				t.Errorf("%s %s: refused %q, kept as %q (%v, %v)", c.name, c.text, rule, got, number, ok)
			}
			continue
		}
		if ok || !strings.Contains(rule, c.name) || !strings.Contains(rule, strconv.Quote(c.text)) || !strings.Contains(mend, c.mend) {
			t.Errorf("%s %s: kept %v, %q; %q", c.name, c.text, ok, rule, mend)
		}
	}
	var v roof.Visit
	if rule, mend := v.Set("colour", "3"); !strings.Contains(rule, `"colour"`) || !strings.Contains(mend, "surveyed_by, weather") {
		t.Errorf("a name that there is not: %q; %q", rule, mend)
	}
}

// The day of an answer is one of the years from 1900 on.
func TestDayOfAnAnswer(t *testing.T) {
	for day, kept := range map[string]bool{
		"1900-01-01": true, "2026-12-02": true, "1899-12-31": false, "2026-13-01": false, "2026-02-30": false, "1850-12-02": false, "": false, "02.12.2026": false,
	} {
		a := answer("load_limit", "30 psf")
		a.On = day
		if rule, _ := a.Settle(); (rule == "") != kept {
			t.Errorf("%q: %q", day, rule)
		}
	}
}

// An overflow stands over nothing by more than a metre; no height and no load is 0 or less.
func TestAmountsOfAnswers(t *testing.T) {
	for _, c := range []struct {
		question, text string
		kept           bool
	}{
		{"overflow_height", "1 m", true},
		{"overflow_height", "1.001 m", false},
		{"overflow_height", "0 in", false},
		{"overflow_height", "-2 in", false},
		{"load_limit", "0.001 psf", true},
		{"load_limit", "-30 psf", false},
		{"gravity_load", "0 kPa", false},
		{"gravity_load", "0.4 kPa", true},
	} {
		a := answer(c.question, c.text)
		if rule, _ := a.Settle(); (rule == "") != c.kept {
			t.Errorf("%s %s: %q", c.question, c.text, rule)
		}
	}
}

// Whom a question goes to: one that counts to who may decide it, whatever the file says; any other to whom the file names, else to the engineer.
func TestWhoIsAsked(t *testing.T) {
	for _, c := range []struct {
		question, text string
		to, want       roof.Recipient
	}{
		{"load_limit", "30 psf", roof.ToOwner, roof.ToEngineer},
		{"outlet_lowers", "yes", "", roof.ToPlumber},
		{"May people go up?", "two at a time", roof.ToOwner, roof.ToOwner},
		{"May people go up?", "two at a time", "", roof.ToEngineer},
	} {
		a := answer(c.question, c.text)
		a.To = c.to
		if rule, _ := a.Settle(); rule != "" || a.To != c.want {
			t.Errorf("%s to %q: %q, asked of %q, want %q", c.question, c.to, rule, a.To, c.want)
		}
	}
}

// Whether the deck is sound at a place is said by an answer about the deck that has a place: an answer to another question there, or one without a place, says nothing. Of two answers of one
// day the one that stands last in the files holds.
func TestAnswersAtAPlace(t *testing.T) {
	deck := answer("deck_sound", "yes")
	deck.Yes, deck.Plan = true, orb.Point{3, 0}
	other := answer("opening", "no")
	other.Plan = orb.Point{0, 0}
	nowhere := answer("deck_sound", "no")
	nowhere.Placed = false
	r := &roof.Roof{Answers: []roof.Answer{deck, other, nowhere}}
	if r.Sound(orb.Point{0, 0}, nil) || !r.Sound(orb.Point{3, 0}, nil) || !r.Sound(orb.Point{4, 0}, nil) || r.Sound(orb.Point{4.01, 0}, nil) {
		t.Error("the deck is sound within a metre of (3, 0), and nobody said so elsewhere")
	}
	changed := deck
	changed.Yes = false
	r.Answers = append(r.Answers, changed)
	if r.Sound(orb.Point{3, 0}, nil) {
		t.Error("the answer that stands last on one day holds")
	}
	r.Answers[0], r.Answers[3] = r.Answers[3], r.Answers[0]
	if !r.Sound(orb.Point{3, 0}, nil) {
		t.Error("the answer that stands last on one day holds, also the other way round")
	}
}

// A grid's number is the same in feet and in metres: (110, 40) of a grid in feet with its origin at (100, 20) is 3.048 m east and 6.096 m north of it, and stays so in metres about (15.24, 3.048), which
// is (50, 10) ft: 18.288 m east, 9.144 m north. Longitudes are no grid: they go over as they are.
func TestFromOtherOrigins(t *testing.T) {
	feet, metres := roof.NewLocal(orb.Point{100, 20}, quantity.Feet), roof.NewLocal(orb.Point{15.24, 3.048}, quantity.Metres)
	there := orb.Point{3.048, 6.096}
	if got := metres.From(feet, there); !(math.Abs(got[0]-18.288) <= 1e-9) || !(math.Abs(got[1]-9.144) <= 1e-9) {
		t.Errorf("%v, want (18.288, 9.144)", got)
	}
	if got := feet.From(metres, orb.Point{18.288, 9.144}); !(math.Abs(got[0]-3.048) <= 1e-9) || !(math.Abs(got[1]-6.096) <= 1e-9) {
		t.Errorf("%v, want (3.048, 6.096)", got)
	}
	here, off := roof.NewGeographic(orb.Point{-93.26, 44.97}), roof.NewGeographic(orb.Point{-93.26, 44.97})
	off.Metres = 0.3048 // says nothing in a frame of longitudes
	if got := here.From(off, orb.Point{12, -7}); !(math.Abs(got[0]-12) <= 1e-6) || !(math.Abs(got[1]+7) <= 1e-6) {
		t.Errorf("%v, want (12, -7)", got)
	}
}

// Twenty problems are kept; a refusal that has no more says nothing of more, and one more is one more. A problem without a place begins with its rule.
func TestProblemsInWords(t *testing.T) {
	if roof.MaxProblems != 20 {
		t.Errorf("%d problems are kept, and the reference says 20", roof.MaxProblems)
	}
	var r roof.Refusal
	for n := 1; n <= 21; n++ {
		r.Add(roof.Problem{Rule: "no elevation", Mend: "add one"})
		want := strings.Repeat("no elevation; add one\n", min(n, 20))
		if n > 20 {
			want += "and 1 more\n"
		}
		if got := r.Err().Error() + "\n"; got != want {
			t.Errorf("%d problems: %q", n, got)
		}
	}
	p := roof.Problem{Origin: roof.Origin{File: "a.csv", Line: 3}, Rule: "no elevation"}
	if got, want := p.String(), p.Origin.String()+": no elevation"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if bare := (roof.Problem{Rule: "no elevation", HasAt: true, At: orb.Point{1.5, -2}}).String(); bare != " at (1.5, -2): no elevation" {
		t.Errorf("%q", bare)
	}
}

// A limit counts from any load on, if somebody stands behind it.
func TestLimit(t *testing.T) {
	for _, c := range []struct {
		load float64
		by   string
		ok   bool
	}{{0.5, "A. Person, PE", true}, {1436, "A. Person, PE", true}, {0, "A. Person, PE", false}, {1436, "", false}} {
		s := roof.Structure{LoadLimit: c.load, LoadLimitBy: c.by}
		if limit, ok := s.Limit(); ok != c.ok || limit != c.load {
			t.Errorf("%+v: %g, %v", c, limit, ok)
		}
	}
}

// Elevations that were measured need no word; the others have the word that files carry.
func TestWordsOfElevations(t *testing.T) {
	for word, want := range map[string]string{"measured": "", "drawn": "drawn", "tops": "tops"} {
		if e, err := roof.ParseElevations(word); err != nil || e.String() != want {
			t.Errorf("%s: %q, %v", word, e.String(), err)
		}
	}
}
