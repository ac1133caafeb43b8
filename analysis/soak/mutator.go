package soak

import (
	"bytes"
	"math/rand/v2"
	"slices"
)

// extremes are what numbers of a text are changed to.
var extremes = []string{
	"0", "-0", "1", "-1", "0.5", "1e-300", "1e300", "-1e300", "1e400", "1e-400", "5e-324", "1.7976931348623157e308", "NaN", "nan", "Inf", "-Inf", "infinity",
	"0x1p-2", "1_000", "2147483647", "2147483648", "-2147483649", "4294967296", "9007199254740993", "9223372036854775807", "9223372036854775808",
	"18446744073709551616", "1,5", "1.", ".1", "1e", "+1", "--1", "1/0", "0/0", "1/2", "00012", "21474.83647", "21474.83648", "100000", "1000001", "1e6", "1e9", "89.99999999", "90", "180", "-180.0000001", "360", "1e-5", "0.00001", "0.000005",
}

// common are words that most texts of the trade's files may hold, and signs that break them.
var common = []string{
	"\n", "\r\n", "\r", "\t", ",", ";", "\"", "\"\"", "'", "\x00", "\ufeff", "\xff\xfe", "\xef\xbb\xbf", "\u2028", "\u202e", "\u200b", "½", "″", "’", "#", "=", ":", "{", "}", "[", "]", "null", "true",
	"false", " ", "  ", "\u00a0", "\\u0000", "\\", "<", "m", "ft", "ft-us", "in", "mm", " in", "%", "e", "-", "/", "@", "=1+1",
}

// mutator makes inputs of seeds. The same seeds and random numbers make the same inputs.
type mutator struct {
	rnd   *rand.Rand
	seeds [][]any
	words []string
	text  []byte // scratch
}

func newMutator(rnd *rand.Rand, seeds [][]any, words []string) *mutator {
	return &mutator{rnd: rnd, seeds: seeds, words: append(slices.Clone(words), common...)}
}

// next returns another input. It is the caller's own.
func (m *mutator) next() []any {
	input := slices.Clone(m.seeds[m.rnd.IntN(len(m.seeds))])
	other := m.seeds[m.rnd.IntN(len(m.seeds))]
	k := m.rnd.IntN(len(input))
	for {
		switch v := input[k].(type) {
		case []byte:
			input[k] = slices.Clone(m.changed(v, other[k].([]byte)))
		case string:
			input[k] = string(m.changed([]byte(v), []byte(other[k].(string))))
		case uint8:
			input[k] = uint8(m.rnd.UintN(256))
		case uint32:
			input[k] = v ^ 1<<m.rnd.UintN(32)
		case bool:
			input[k] = !v
		}
		if m.rnd.IntN(3) > 0 {
			return input
		}
		k = m.rnd.IntN(len(input))
	}
}

// changed makes one change to a text, or a few: most texts that a few changes are made to are refused at once. The result holds until the next call.
func (m *mutator) changed(text, other []byte) []byte {
	m.text = append(m.text[:0], text...)
	m.change(other)
	for m.rnd.IntN(2) > 0 {
		m.change(other)
	}
	if len(m.text) > 2*largest {
		m.text = m.text[:2*largest]
	}
	return m.text
}

func (m *mutator) change(other []byte) {
	t, rnd := m.text, m.rnd
	if len(t) == 0 {
		m.insert(0, []byte(m.words[rnd.IntN(len(m.words))]))
		return
	}
	at := rnd.IntN(len(t))
	to := min(len(t), at+1+rnd.IntN(1+min(len(t), 40)))
	switch rnd.IntN(11) {
	case 0:
		t[at] ^= 1 << rnd.UintN(8)
	case 1:
		t[at] = byte(rnd.UintN(256))
	case 2:
		m.text = slices.Delete(t, at, to)
	case 3: // doubled, at once or elsewhere
		m.insert(rnd.IntN(len(t)+1), slices.Clone(t[at:to]))
	case 4: // the head of one input, the tail of another
		if len(other) > 0 {
			m.text = slices.Concat(t[:at], other[rnd.IntN(len(other)):])
		}
	case 5: // a span of another input
		if len(other) > 0 {
			from := rnd.IntN(len(other))
			m.insert(at, other[from:min(len(other), from+1+rnd.IntN(40))])
		}
	case 6:
		m.insert(at, []byte(m.words[rnd.IntN(len(m.words))]))
	case 7, 8:
		m.extreme(at)
	case 9:
		m.lines()
	case 10:
		if rnd.IntN(4) > 0 { // a digit
			t[at] = '0' + byte(rnd.UintN(10))
		} else {
			m.text = t[:at]
		}
	}
}

func (m *mutator) insert(at int, what []byte) { m.text = slices.Insert(m.text, at, what...) }

// extreme changes the next number of the text to an extreme one.
func (m *mutator) extreme(at int) {
	for at < len(m.text) && !isDigit(m.text[at]) {
		at++
	}
	end := at
	for end < len(m.text) && (isDigit(m.text[end]) || m.text[end] == '.') {
		end++
	}
	m.text = slices.Replace(m.text, at, end, []byte(extremes[m.rnd.IntN(len(extremes))])...)
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// lines doubles a line, drops it or exchanges it with another.
func (m *mutator) lines() {
	lines := bytes.SplitAfter(slices.Clone(m.text), []byte{'\n'})
	i, j := m.rnd.IntN(len(lines)), m.rnd.IntN(len(lines))
	switch m.rnd.IntN(3) {
	case 0:
		lines = slices.Insert(lines, j, lines[i])
	case 1:
		lines = slices.Delete(lines, i, i+1)
	default:
		lines[i], lines[j] = lines[j], lines[i]
	}
	m.text = append(m.text[:0], bytes.Join(lines, nil)...)
}
