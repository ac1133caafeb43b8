package quantity

import "fmt"

// read reads a text that is one quantity. Where it is none, says words that, from the text and from why.
func read[T ~float64](text, says string, parse func(*scanner) (value T, why string)) (T, error) {
	value, why := T(0), "it is too long"
	if len(text) <= maxText {
		value, why = parse(&scanner{plain(text)})
	}
	if why != "" {
		return 0, fmt.Errorf(says, clip(text), why)
	}
	return value, nil
}

// counted takes a number and then what unit takes: its unit, to the end of the text.
func counted[T ~float64](unit func(s *scanner, value float64) (T, string)) func(*scanner) (T, string) {
	return func(s *scanner) (T, string) {
		value, why := s.amount()
		if why != "" {
			return 0, why
		}
		return unit(s, value)
	}
}

// amount takes a number and the blanks before its unit, which it must have.
func (s *scanner) amount() (value float64, why string) {
	if s.take("-") {
		return 0, "it is negative"
	}
	value, _, why = s.mixed()
	if s.skip(); why == "" && s.rest == "" {
		why = "it has no unit"
	}
	return value, why
}
