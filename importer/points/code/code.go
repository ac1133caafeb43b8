// Package code reads what a surveyor codes a point with: a word that says what was measured there, its number, what begins or ends with it, and keys with values;
// and the lists with which an office tells what its own codes stand for.
package code

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Role is what a code says of its point.
type Role uint8

// The roles: lines and areas from Outline to Free, outlets from Drain to Overflow, what tapes and soundings tell from Waterline on.
const (
	Spot Role = iota
	Skip
	Outline
	Ridge
	Valley
	Hip
	Cricket
	Break
	Curb
	Wall
	Gutter
	Free
	Drain
	Scupper
	Overflow
	Core
	Sill
	Control
	Waterline
	Sounding
	Pond
	Slope
	Low
	Lip
	Before
	Inlet
	Visit
	Answer
)

// roles is how many roles there are.
const roles = int(Answer) + 1

// pipeKeys are the keys of what the water of an outlet runs on through.
const pipeKeys = "leader pipe pipe_slope discharges_to"

// seenKeys are the keys of water that was seen.
const seenKeys = "hours outlets note"

// SurveyedKey is the key of the date of a visit.
const SurveyedKey = "surveyed"

// words are the words of codes, with the keys that each takes.
var words = map[string]struct {
	role Role
	keys string
}{
	"SPOT":        {Spot, "sigma"},
	"IGNORE":      {Skip, ""},
	"OUTLINE":     {Outline, "rect walls name edge elevations wall_runoff member_direction member_span member_spacing load_limit load_limit_by"},
	"RIDGE":       {Ridge, ""},
	"VALLEY":      {Valley, ""},
	"HIP":         {Hip, ""},
	"CRICKET":     {Cricket, ""},
	"GRADE-BREAK": {Break, ""},
	"CURB":        {Curb, "rect h height label"},
	"WALL":        {Wall, "h height label adjoining adjoining_height"},
	"GUTTER":      {Gutter, "label duty"},
	"FREE":        {Free, "label duty"},
	"DRAIN":       {Drain, "d diameter bowl dam dam_height dam_diameter invert label duty " + pipeKeys},
	"SCUPPER":     {Scupper, "w width h height opening_height crest crest_breadth conductor_head invert label duty " + pipeKeys},
	"OVERFLOW":    {Overflow, "d diameter bowl dam dam_height dam_diameter w width h height opening_height crest crest_breadth conductor_head invert label " + pipeKeys},
	"CORE":        {Core, "layers deck cutter reached"},
	"SILL":        {Sill, "kind label"},
	"CONTROL":     {Control, "lon lat sigma"},
	"WATERLINE":   {Waterline, "level " + seenKeys},
	"SOUNDING":    {Sounding, "depth"},
	"POND":        {Pond, "size depth level " + seenKeys},
	"SLOPE":       {Slope, "level gap toward"},
	"LOW":         {Low, "sigma"},
	"LIP":         {Lip, "sigma"},
	"BEFORE":      {Before, "of sigma"},
	"INLET":       {Inlet, "of sigma"},
	"VISIT":       {Visit, SurveyedKey + " " + strings.Join(roof.VisitNames(), " ")},
	"ANSWER":      {Answer, "question answer by on number to covers"},
}

// IsLine reports whether points of the role are joined to a line or an area.
func (r Role) IsLine() bool { return r >= Outline && r <= Free }

// Pair is one key=value of a code.
type Pair struct{ Key, Value string }

// Code is a code that was read.
type Code struct {
	Role              Role
	Word              string // the role's word in lower case, "spot" for an unknown one
	Number            string
	Begin, End, Close bool
	Pairs             []Pair
	Overflow          bool   // OVERFLOW beside DRAIN or SCUPPER
	Unknown           string // the first word of a code that is not known
	Bad               string // what is wrong with it, or empty
	Properties        json.RawMessage
}

// Parse reads a code such as "RIDGE 1 begin" or "DRAIN D1 d=4in". A first word that is not known, or
// words after a known one that make no sense, leave the point a spot.
func Parse(text string) *Code {
	c := &Code{Word: "spot", Properties: Properties(text)}
	tokens := tokensOf(text)
	if len(tokens) == 0 {
		return c
	}
	word, number := splitWord(tokens[0])
	known, ok := words[word]
	if !ok {
		c.Unknown = tokens[0]
		return c
	}
	c.Role, c.Number, c.Word = known.role, number, strings.ToLower(word)
	rest := c.read(tokens[1:])
	switch {
	case rest == "":
	case len(c.Pairs) == 0 && c.Number == "" && !c.Begin && !c.End && !c.Close:
		return &Code{Word: "spot", Unknown: text, Properties: c.Properties}
	default:
		c.Bad = fmt.Sprintf("%.40q in the code is not understood", rest)
	}
	c.checkKeys(known.keys)
	return c
}

// tokensOf splits a code at blanks. A value that begins with a quote, as in name="Strip mall", runs to the next one that
// a blank or the end follows, and loses both; a quote elsewhere is an inch mark.
func tokensOf(text string) []string {
	if !strings.Contains(text, `="`) {
		return strings.Fields(text)
	}
	var tokens []string
	for text = strings.TrimSpace(text); text != ""; text = strings.TrimSpace(text) {
		end := strings.IndexFunc(text, unicode.IsSpace)
		if end < 0 {
			end = len(text)
		}
		key, _, quoted := strings.Cut(text[:end], `="`)
		if n := closing(text, len(key)+2); quoted && n > 0 {
			tokens = append(tokens, key+"="+text[len(key)+2:n])
			text = text[n+1:]
			continue
		}
		tokens = append(tokens, text[:end])
		text = text[end:]
	}
	return tokens
}

// closing returns where the quote stands that ends a value which begins at from, or -1.
func closing(text string, from int) int {
	for i := from; i < len(text); i++ {
		if text[i] == '"' && (i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\t') {
			return i
		}
	}
	return -1
}

// read reads the tokens after the word, and returns the first that it does not understand.
func (c *Code) read(tokens []string) (rest string) {
	for _, token := range tokens {
		lower := strings.ToLower(token)
		key, value, isPair := strings.Cut(token, "=")
		switch {
		case isPair:
			c.Pairs = append(c.Pairs, Pair{strings.ToLower(key), value})
		case c.control(lower):
		case (c.Role == Drain || c.Role == Scupper) && lower == "overflow":
			c.Overflow = true
		case c.Role == Overflow && (lower == "drain" || lower == "scupper"):
			c.Role, c.Overflow = words[strings.ToUpper(token)].role, true
		case c.isSize(token):
			c.Pairs = append(c.Pairs, Pair{"d", token})
		case c.Number == "" && strings.ContainsAny(token, "0123456789") && len(c.Pairs) == 0:
			c.Number = token
		case c.joinsUnit(token):
		default:
			return token
		}
	}
	return ""
}

// The diameters of a drain that a code may give without a key: those of pipes that are made.
const (
	leastBare = 25 * quantity.Millimetre
	mostBare  = 610 * quantity.Millimetre
)

// isSize reports whether a token is the size of a drain, as surveyors note it behind its number: RD3 4IN. A number without a unit is none.
func (c *Code) isSize(token string) bool {
	if c.Role != Drain {
		return false
	}
	d, err := quantity.ParseLength(token, quantity.Unstated)
	_, given := c.Value("d", "diameter")
	return err == nil && !given && d >= leastBare && d <= mostBare
}

// control takes a word that begins, ends or closes a line.
func (c *Code) control(word string) bool {
	switch word {
	case "begin":
		c.Begin = true
	case "end":
		c.End = true
	case "close":
		c.Close = true
	default:
		return false
	}
	return true
}

// joinsUnit adds a unit that stands apart, as in "d=4 in", to the value before it.
func (c *Code) joinsUnit(token string) bool {
	if len(c.Pairs) == 0 {
		return false
	}
	_, notLength := quantity.ParseUnit(token)
	if _, notLoad := quantity.ParsePressure("1 " + token); notLength != nil && notLoad != nil {
		return false
	}
	c.Pairs[len(c.Pairs)-1].Value += " " + token
	return true
}

// checkKeys refuses keys that the role does not have.
func (c *Code) checkKeys(keys string) {
	for _, p := range c.Pairs {
		if !strings.Contains(" "+keys+" ", " "+p.Key+" ") || p.Key == "" {
			offer := choose.If(keys != "", "it takes "+strings.Join(strings.Fields(keys), ", "), "it takes none")
			c.Bad = fmt.Sprintf("code %s has no key %.40q: %s", strings.ToUpper(c.Word), p.Key, offer)
			return
		}
	}
}

// Value returns the value of the first of keys that is given.
func (c *Code) Value(keys ...string) (Pair, bool) {
	for _, p := range c.Pairs {
		for _, key := range keys {
			if p.Key == key {
				return p, true
			}
		}
	}
	return Pair{}, false
}

// splitWord returns the word of a first token in upper case, and the number that may be joined to it, as
// in RIDGE1 or RIDGE-1.
func splitWord(token string) (word, number string) {
	upper := strings.ToUpper(token)
	i := strings.IndexAny(upper, "0123456789")
	if i <= 0 {
		return upper, ""
	}
	return strings.TrimRight(upper[:i], "-_."), token[i:]
}

// Properties keeps a code as it was written.
func Properties(text string) json.RawMessage {
	if text == "" {
		return nil
	}
	quoted, err := json.Marshal(map[string]string{"code": text})
	if err != nil {
		return nil
	}
	return quoted
}
