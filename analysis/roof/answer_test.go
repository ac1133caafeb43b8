package roof_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

func answer(question, text string) roof.Answer {
	return roof.Answer{Question: question, Text: text, By: "A. Person, PE", On: "2026-12-02", Placed: true}
}

// 30 psf are 30 x 47.880259 Pa (NIST SP 811, appendix B.8: one pound-force per square foot), 3 in are 76.2 mm.
func TestAnswersAreRead(t *testing.T) {
	for _, c := range []struct {
		question, text string
		amount         float64
		yes            bool
	}{
		{"load_limit", "30 psf", 1436.4078, false},
		{"gravity_load", " 2 kPa ", 2000, false},
		{"overflow_height", "3 in", 0.0762, false},
		{"deck_sound", "Yes", 0, true},
		{"deck_sound", "no", 0, false},
		{"opening", "yes", 0, true},
		{"bays_hold", "no", 0, false},
		{"May people go up?", "two at a time", 0, false},
	} {
		a := answer(c.question, c.text)
		if rule, mend := a.Settle(); rule != "" || !(math.Abs(a.Amount-c.amount) <= 1e-3) || a.Yes != c.yes {
			t.Errorf("%s %q: %s; %s; %+v", c.question, c.text, rule, mend, a)
		}
	}
}

func TestAnswersRefused(t *testing.T) {
	for _, c := range []struct {
		change func(*roof.Answer)
		want   string
	}{
		{func(a *roof.Answer) { a.Text = "30" }, `"30" is no answer to load_limit`},
		{func(a *roof.Answer) { a.Text = "0 psf" }, "no answer to load_limit"},
		{func(a *roof.Answer) { a.Question = "" }, "no question"},
		{func(a *roof.Answer) { a.By = " " }, "who gave it"},
		{func(a *roof.Answer) { a.On = "2 Dec" }, "no day"},
		{func(a *roof.Answer) { a.Question, a.Text = "deck_sound", "perhaps" }, "no answer to deck_sound"},
		{func(a *roof.Answer) { a.Question, a.Text, a.Placed = "deck_sound", "yes", false }, "no place"},
		{func(a *roof.Answer) { a.Question, a.Text = "overflow_height", "2 m" }, "no answer to overflow_height"},
		{func(a *roof.Answer) { a.Question, a.Text = "May people go up?", "" }, "no answer"},
	} {
		a := answer("load_limit", "30 psf")
		c.change(&a)
		if rule, mend := a.Settle(); !strings.Contains(rule, c.want) || mend == "" {
			t.Errorf("want %q: %q; %q", c.want, rule, mend)
		}
	}
}

// The newest answer holds, of one day the last; at a place one that was given within a metre, or within the water there.
func TestNewestAnswerHolds(t *testing.T) {
	at := func(x float64, text, on string) roof.Answer {
		a := answer("deck_sound", text)
		a.Plan, a.On = orb.Point{x, 0}, on
		if rule, _ := a.Settle(); rule != "" {
			t.Fatal(rule)
		}
		return a
	}
	r := &roof.Roof{Answers: []roof.Answer{at(0, "yes", "2026-12-02"), at(10, "yes", "2026-12-02"), at(0.5, "no", "2026-12-03"), at(10, "no", "2026-11-01")}}
	water := orb.MultiPolygon{{orb.Ring{{8, -1}, {14, -1}, {14, 1}, {8, 1}, {8, -1}}}}
	for _, c := range []struct {
		x    float64
		area orb.MultiPolygon
		want bool
	}{{0, nil, false}, {10, nil, true}, {10.9, nil, true}, {11.1, nil, false}, {13, water, true}} {
		if got := r.Sound(orb.Point{c.x, 0}, c.area); got != c.want {
			t.Errorf("at %v: %v", c.x, got)
		}
	}
	if a := r.Answered("deck_sound"); a == nil || a.Text != "no" || a.On != "2026-12-03" {
		t.Errorf("%+v", a)
	}
	if r.Answered(`Is 3" enough?`) != nil {
		t.Error("an answer to what nobody asked")
	}
}
