package points

import (
	"fmt"
	"strconv"

	"runnel/analysis/roof"
)

// placeless reports whether a row names no place.
func (r *reader) placeless(fields []string) bool {
	for i, c := range r.columns {
		if (c.kind == xColumn || c.kind == yColumn || c.kind == placeColumn || c.kind == wallColumn) && fields[i] != "" {
			return false
		}
	}
	return true
}

// answer keeps what somebody answered to a question, at the place at hand where it has one.
func (r *reader) answer(placed bool) {
	a := roof.Answer{Feature: r.head(), Placed: placed}
	if placed {
		a.Plan = r.place.Plan
	}
	for key, into := range map[string]*string{"question": &a.Question, "answer": &a.Text, "by": &a.By, "on": &a.On, "covers": &a.Covers} {
		if p, ok := r.code.Value(key); ok {
			*into = p.Value
		}
	}
	if p, ok := r.code.Value("to"); ok {
		a.To = roof.Recipient(p.Value)
	}
	if p, ok := r.code.Value("number"); ok {
		n, err := strconv.Atoi(p.Value)
		if err != nil || n < 1 || n > roof.MostQuestions {
			r.refuse(fmt.Sprintf("number=%.20q is no number of a question", p.Value), "write the number that the question had on paper, or leave it out")
			return
		}
		a.Number = n
	}
	if rule, mend := a.Settle(); rule != "" {
		r.refuse(rule, mend)
		return
	}
	r.out.Answers = append(r.out.Answers, a)
}
