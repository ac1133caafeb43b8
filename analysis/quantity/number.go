package quantity

import (
	"strconv"
	"strings"
)

// scanner reads a plain text from left to right.
type scanner struct{ rest string }

// skip drops leading blanks.
func (s *scanner) skip() { s.rest = strings.TrimLeft(s.rest, " ") }

// take drops prefix and reports whether it was there.
func (s *scanner) take(prefix string) bool {
	if !strings.HasPrefix(s.rest, prefix) {
		return false
	}
	s.rest = s.rest[len(prefix):]
	return true
}

// per takes the word or the sign for a rate, with blanks, and reports whether it was there.
func (s *scanner) per() bool {
	s.skip()
	found := s.take("/") || s.take("per ")
	s.skip()
	return found
}

// digits takes a run of decimal digits, perhaps empty.
func (s *scanner) digits() string {
	n := 0
	for n < len(s.rest) && s.rest[n] >= '0' && s.rest[n] <= '9' {
		n++
	}
	d := s.rest[:n]
	s.rest = s.rest[n:]
	return d
}

// word takes a run of letters, with hyphens inside, perhaps empty.
func (s *scanner) word() string {
	n := 0
	for n < len(s.rest) && (s.rest[n] >= 'a' && s.rest[n] <= 'z' || n > 0 && s.rest[n] == '-' && s.letterAt(n+1)) {
		n++
	}
	w := s.rest[:n]
	s.rest = s.rest[n:]
	return w
}

func (s *scanner) letterAt(n int) bool {
	return n < len(s.rest) && s.rest[n] >= 'a' && s.rest[n] <= 'z'
}

// mixed takes an unsigned number: 12, 0.3, .5, 3/4, "3 1/4" or "3-1/4". whole says that it was an
// integer without a fraction. ok is false, and why says so, where there is no such number.
func (s *scanner) mixed() (value float64, whole bool, why string) {
	first := s.digits()
	switch {
	case strings.HasPrefix(s.rest, "."):
		return s.decimal(first)
	case first == "":
		return 0, false, "a number is missing"
	case strings.HasPrefix(s.rest, "/"):
		value, why = s.fraction(first)
		return value, false, why
	}
	value, err := strconv.ParseFloat(first, 64)
	if err != nil {
		return 0, false, "the number is too large"
	}
	back := s.rest
	if s.take("-") || s.take(" ") {
		s.skip()
		if top := s.digits(); top != "" && strings.HasPrefix(s.rest, "/") {
			part, why := s.fraction(top)
			if why == "" && part >= 1 {
				why = "the fraction after a whole number must be less than one"
			}
			return value + part, false, why
		}
	}
	s.rest = back
	return value, true, ""
}

// decimal takes the point and what follows it, after the digits in first.
func (s *scanner) decimal(first string) (value float64, whole bool, why string) {
	s.take(".")
	after := s.digits()
	if first+after == "" {
		return 0, false, "a number is missing"
	}
	value, err := strconv.ParseFloat("0"+first+"."+after+"0", 64)
	if err != nil {
		return 0, false, "the number is too large"
	}
	return value, false, ""
}

// fraction takes the slash and the denominator, after the numerator in top.
func (s *scanner) fraction(top string) (value float64, why string) {
	s.take("/")
	bottom := s.digits()
	if bottom == "" {
		return 0, "the fraction has no denominator"
	}
	n, errN := strconv.ParseFloat(top, 64)
	d, errD := strconv.ParseFloat(bottom, 64)
	if errN != nil || errD != nil {
		return 0, "the number is too large"
	}
	if d == 0 {
		return 0, "the fraction has denominator 0"
	}
	return n / d, ""
}
