package quantity

import (
	"fmt"

	"runnel/analysis/textfile"
)

// read reads a text that is one quantity. Where it is none, says words that, from the text and from why.
func read[T ~float64](text, says string, parse func(*scanner) T) (T, error) {
	s, value := &scanner{why: "it is too long"}, T(0)
	if len(text) <= maxText {
		s = &scanner{rest: plain(text)}
		value = parse(s)
	}
	if s.why != "" {
		return 0, fmt.Errorf(says, textfile.Clip(text, maxText), s.why)
	}
	return value, nil
}

// counted takes a number and then what unit takes: its unit, to the end of the text.
func counted[T ~float64](unit func(s *scanner, value float64) T) func(*scanner) T {
	return func(s *scanner) T { return unit(s, s.amount()) }
}

// amount takes a number and the blanks before its unit, which it must have.
func (s *scanner) amount() float64 {
	if s.take("-") {
		s.refuse("it is negative")
	}
	value, _ := s.mixed()
	if s.skip(); s.rest == "" {
		s.refuse("it has no unit")
	}
	return value
}
