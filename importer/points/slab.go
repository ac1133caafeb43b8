package points

import "strings"

// slab keeps words of a text beside each other, so that the text itself need not be kept for them.
type slab struct{ page strings.Builder }

// pageSize is how much room is made for words at a time [bytes].
const pageSize = 1 << 14

// keep returns a copy of a word.
func (s *slab) keep(word string) string {
	if s.page.Cap()-s.page.Len() < len(word) {
		s.page = strings.Builder{}
		s.page.Grow(max(pageSize, len(word)))
	}
	at := s.page.Len()
	s.page.WriteString(word)
	return s.page.String()[at:]
}
