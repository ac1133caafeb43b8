package points

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// role is what a code says of its point.
type role uint8

const (
	spotRole role = iota
	skipRole
	outlineRole
	ridgeRole
	valleyRole
	hipRole
	cricketRole
	breakRole
	curbRole
	wallRole
	gutterRole
	freeRole
	drainRole
	scupperRole
	overflowRole
	coreRole
	sillRole
	controlRole
	waterlineRole
	soundingRole
	pondRole
	slopeRole
	lowRole
	lipRole
	beforeRole
	inletRole
	visitRole
	answerRole
)

// roles is how many roles there are.
const roles = int(answerRole) + 1

// pipeKeys are the keys of what the water of an outlet runs on through.
const pipeKeys = "leader pipe pipe_slope discharges_to"

// seenKeys are the keys of water that was seen.
const seenKeys = "hours outlets note"

// surveyedKey is the key of the date of a visit.
const surveyedKey = "surveyed"

// codeWords are the words of codes, with the keys that each takes.
var codeWords = map[string]struct {
	role role
	keys string
}{
	"SPOT":        {spotRole, "sigma"},
	"IGNORE":      {skipRole, ""},
	"OUTLINE":     {outlineRole, "rect walls name edge wall_runoff member_direction member_span member_spacing load_limit load_limit_by"},
	"RIDGE":       {ridgeRole, ""},
	"VALLEY":      {valleyRole, ""},
	"HIP":         {hipRole, ""},
	"CRICKET":     {cricketRole, ""},
	"GRADE-BREAK": {breakRole, ""},
	"CURB":        {curbRole, "rect h height label"},
	"WALL":        {wallRole, "h height label adjoining adjoining_height"},
	"GUTTER":      {gutterRole, "label duty"},
	"FREE":        {freeRole, "label duty"},
	"DRAIN":       {drainRole, "d diameter bowl dam dam_height dam_diameter invert label duty " + pipeKeys},
	"SCUPPER":     {scupperRole, "w width h height opening_height crest crest_breadth conductor_head invert label duty " + pipeKeys},
	"OVERFLOW":    {overflowRole, "d diameter bowl dam dam_height dam_diameter w width h height opening_height crest crest_breadth conductor_head invert label " + pipeKeys},
	"CORE":        {coreRole, "deck"},
	"SILL":        {sillRole, "kind label"},
	"CONTROL":     {controlRole, "lon lat sigma"},
	"WATERLINE":   {waterlineRole, "level " + seenKeys},
	"SOUNDING":    {soundingRole, "depth"},
	"POND":        {pondRole, "size depth level " + seenKeys},
	"SLOPE":       {slopeRole, "level gap toward"},
	"LOW":         {lowRole, "sigma"},
	"LIP":         {lipRole, "sigma"},
	"BEFORE":      {beforeRole, "of sigma"},
	"INLET":       {inletRole, "of sigma"},
	"VISIT":       {visitRole, surveyedKey + " " + strings.Join(roof.VisitNames(), " ")},
	"ANSWER":      {answerRole, "question answer by on number to covers"},
}

// isLine reports whether points of the role are joined to a line or an area.
func (r role) isLine() bool { return r >= outlineRole && r <= freeRole }

// pair is one key=value of a code.
type pair struct{ key, value string }

// code is a code that was read.
type code struct {
	role              role
	word              string // the role's word in lower case, "spot" for an unknown one
	number            string
	begin, end, close bool
	pairs             []pair
	overflow          bool   // OVERFLOW beside DRAIN or SCUPPER
	unknown           string // the first word of a code that is not known
	bad               string // what is wrong with it, or empty
	properties        json.RawMessage
}

// parseCode reads a code such as "RIDGE 1 begin" or "DRAIN D1 d=4in". A first word that is not known, or
// words after a known one that make no sense, leave the point a spot.
func parseCode(text string) *code {
	c := &code{word: "spot", properties: properties(text)}
	tokens := tokensOf(text)
	if len(tokens) == 0 {
		return c
	}
	word, number := splitWord(tokens[0])
	known, ok := codeWords[word]
	if !ok {
		c.unknown = tokens[0]
		return c
	}
	c.role, c.number, c.word = known.role, number, strings.ToLower(word)
	rest := c.read(tokens[1:])
	switch {
	case rest == "":
	case len(c.pairs) == 0 && c.number == "" && !c.begin && !c.end && !c.close:
		return &code{word: "spot", unknown: text, properties: c.properties}
	default:
		c.bad = fmt.Sprintf("%.40q in the code is not understood", rest)
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
func (c *code) read(tokens []string) (rest string) {
	for _, token := range tokens {
		lower := strings.ToLower(token)
		key, value, isPair := strings.Cut(token, "=")
		switch {
		case isPair:
			c.pairs = append(c.pairs, pair{strings.ToLower(key), value})
		case c.control(lower):
		case (c.role == drainRole || c.role == scupperRole) && lower == "overflow":
			c.overflow = true
		case c.role == overflowRole && (lower == "drain" || lower == "scupper"):
			c.role, c.overflow = codeWords[strings.ToUpper(token)].role, true
		case c.isSize(token):
			c.pairs = append(c.pairs, pair{"d", token})
		case c.number == "" && hasDigit(token) && len(c.pairs) == 0:
			c.number = token
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
func (c *code) isSize(token string) bool {
	if c.role != drainRole {
		return false
	}
	d, err := quantity.ParseLength(token, quantity.Unstated)
	_, given := c.value("d", "diameter")
	return err == nil && !given && d >= leastBare && d <= mostBare
}

// control takes a word that begins, ends or closes a line.
func (c *code) control(word string) bool {
	switch word {
	case "begin":
		c.begin = true
	case "end":
		c.end = true
	case "close":
		c.close = true
	default:
		return false
	}
	return true
}

// joinsUnit adds a unit that stands apart, as in "d=4 in", to the value before it.
func (c *code) joinsUnit(token string) bool {
	if len(c.pairs) == 0 {
		return false
	}
	_, notLength := quantity.ParseUnit(token)
	_, notLoad := quantity.ParsePressure("1 " + token)
	if notLength != nil && notLoad != nil {
		return false
	}
	c.pairs[len(c.pairs)-1].value += " " + token
	return true
}

// checkKeys refuses keys that the role does not have.
func (c *code) checkKeys(keys string) {
	for _, p := range c.pairs {
		if !strings.Contains(" "+keys+" ", " "+p.key+" ") || p.key == "" {
			offer := "it takes none"
			if keys != "" {
				offer = "it takes " + strings.Join(strings.Fields(keys), ", ")
			}
			c.bad = fmt.Sprintf("code %s has no key %.40q: %s", strings.ToUpper(c.word), p.key, offer)
			return
		}
	}
}

// value returns the value of the first of keys that is given.
func (c *code) value(keys ...string) (pair, bool) {
	for _, p := range c.pairs {
		for _, key := range keys {
			if p.key == key {
				return p, true
			}
		}
	}
	return pair{}, false
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

func hasDigit(token string) bool { return strings.ContainsAny(token, "0123456789") }

// properties keeps a code as it was written.
func properties(text string) json.RawMessage {
	if text == "" {
		return nil
	}
	quoted, err := json.Marshal(map[string]string{"code": text})
	if err != nil {
		return nil
	}
	return quoted
}
