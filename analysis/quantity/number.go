package quantity

import (
	"fmt"
	"strconv"
	"strings"
)

// scanner reads a plain text from left to right. What it takes of a text that it refuses is of no account.
type scanner struct {
	rest string
	why  string // it is refused; empty: it is not
}

// refuse notes why the text is refused. The first reason counts.
func (s *scanner) refuse(format string, args ...any) {
	if s.why == "" {
		s.why = fmt.Sprintf(format, args...)
	}
}

// end refuses what is left, which follows something.
func (s *scanner) end(what string) {
	if s.rest != "" {
		s.refuse("%.40q follows the %s", s.rest, what)
	}
}

// parsed returns the number that digits and a point stand for.
func (s *scanner) parsed(digits string) float64 {
	value, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		s.refuse("the number is too large")
	}
	return value
}

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

// mixed takes an unsigned number: 12, 0.3, .5, 3/4, "3 1/4" or "3-1/4". whole says that it was an integer without a fraction.
func (s *scanner) mixed() (value float64, whole bool) {
	first := s.digits()
	switch {
	case strings.HasPrefix(s.rest, "."):
		return s.decimal(first), false
	case first == "":
		s.refuse("a number is missing")
	case strings.HasPrefix(s.rest, "/"):
		return s.fraction(first), false
	}
	value = s.parsed("0" + first)
	back := s.rest
	if s.take("-") || s.take(" ") {
		s.skip()
		if top := s.digits(); top != "" && strings.HasPrefix(s.rest, "/") {
			part := s.fraction(top)
			if part >= 1 {
				s.refuse("the fraction after a whole number must be less than one")
			}
			return value + part, false
		}
	}
	s.rest = back
	return value, true
}

// decimal takes the point and what follows it, after the digits in first.
func (s *scanner) decimal(first string) float64 {
	s.take(".")
	after := s.digits()
	if first+after == "" {
		s.refuse("a number is missing")
	}
	return s.parsed("0" + first + "." + after + "0")
}

// fraction takes the slash and the denominator, after the numerator in top.
func (s *scanner) fraction(top string) float64 {
	s.take("/")
	bottom := s.digits()
	if bottom == "" {
		s.refuse("the fraction has no denominator")
	}
	n, d := s.parsed(top), s.parsed("0"+bottom)
	if d == 0 {
		s.refuse("the fraction has denominator 0")
	}
	return n / d
}
