package points

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
	"runnel/analysis/quantity"
)

// wallBook knows the walls of the outline and the things on the roof that have a name, in the file's unit.
type wallBook struct {
	ring  orb.Ring // closed, counter-clockwise
	walls []offset.Wall
	unit  quantity.Unit
	names map[string]orb.Point // by their name in capitals
	known []string             // names as written, in the order in which they came
	feet  bool                 // a distance carried feet or inches
}

func newWallBook(ring orb.Ring, clockwise bool, unit quantity.Unit) *wallBook {
	return &wallBook{ring: ring, walls: offset.Walls(ring, clockwise), unit: unit, names: map[string]orb.Point{}}
}

// call gives a place a name; the first to take a name keeps it.
func (b *wallBook) call(name string, at orb.Point) {
	key := strings.ToUpper(name)
	if _, taken := b.names[key]; name == "" || taken {
		return
	}
	b.names[key] = at
	b.known = append(b.known, name)
}

// misplaced says why a text gives no place, and what to write.
type misplaced struct {
	rule, mend string
	unknown    bool // a name is not known, or not yet
}

const placeForms = `write a place such as "12' from W wall, 30' from S wall", "2' from RD-1 toward P1", "3' E of RD-1" or "corner 2"`

// measured is one distance of a place.
type measured struct {
	distance float64
	wall     *offset.Wall // it is measured from, or nil
	from     orb.Point    // else: from here
	along    [2]float64   // in this direction
}

// find returns the place that a text names.
func (b *wallBook) find(text string) (orb.Point, *misplaced) {
	parts := placeParts(text)
	if len(parts) == 1 && !strings.Contains(parts[0], " from ") && !strings.Contains(parts[0], " of ") {
		return b.named(parts[0])
	}
	var list []measured
	for _, part := range parts {
		m, wrong := b.distance(part)
		if wrong != nil {
			return orb.Point{}, wrong
		}
		list = append(list, m)
	}
	switch {
	case len(list) == 1 && list[0].wall == nil:
		return list[0].end(), nil
	case len(list) == 1:
		return orb.Point{}, &misplaced{rule: fmt.Sprintf("%.60q is one distance, and a place needs two", text), mend: "add the distance from a wall that runs across"}
	case len(list) == 2:
		return b.both(text, list[0], list[1])
	}
	return orb.Point{}, &misplaced{rule: fmt.Sprintf("%.60q is not understood", text), mend: placeForms}
}

// both returns the place that two distances give together: square to two walls, or one after the other from one thing.
func (b *wallBook) both(text string, m, n measured) (orb.Point, *misplaced) {
	switch {
	case m.wall != nil && n.wall != nil:
		return b.square(text, m, n)
	case m.wall == nil && n.wall == nil && m.from == n.from:
		n.from = m.end()
		return n.end(), nil
	}
	return orb.Point{}, &misplaced{rule: fmt.Sprintf("%.60q measures from a wall and from a thing, or from two things", text), mend: placeForms}
}

func (m *measured) end() orb.Point {
	return orb.Point{m.from[0] + float64(m.along[0]*m.distance), m.from[1] + float64(m.along[1]*m.distance)}
}

// square returns the place at two distances square to walls.
func (b *wallBook) square(text string, m, n measured) (orb.Point, *misplaced) {
	at, ok := offset.At(m.wall, m.distance, n.wall, n.distance)
	if !ok {
		return at, &misplaced{
			rule: fmt.Sprintf("%.60q: wall %d and wall %d run too nearly alike to give a place", text, m.wall.Number, n.wall.Number),
			mend: "measure from two walls that meet at a corner, or run across each other",
		}
	}
	return at, nil
}

// placeParts splits a text into its distances, at commas, semicolons and "and". A comma between digits is a decimal one, but after the
// number of a wall.
func placeParts(text string) []string {
	text = strings.ReplaceAll(text, " and ", ";")
	var out []string
	from := 0
	for i := range len(text) {
		switch text[i] {
		case ',':
			if i > 0 && i+1 < len(text) && isDigit(text[i-1]) && isDigit(text[i+1]) && !endsWithWall(text[from:i]) {
				continue
			}
		case ';':
		default:
			continue
		}
		out = append(out, strings.TrimSpace(text[from:i]))
		from = i + 1
	}
	return append(out, strings.TrimSpace(text[from:]))
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// endsWithWall reports whether a text ends with "wall" and a number.
func endsWithWall(text string) bool {
	words := strings.Fields(strings.ToLower(text))
	return len(words) >= 2 && words[len(words)-2] == "wall"
}

// distance reads one distance: from a wall, from a thing toward another, or in a direction of a thing.
func (b *wallBook) distance(part string) (measured, *misplaced) {
	if i := indexFold(part, " from "); i >= 0 {
		return b.fromThing(part[:i], part[i+len(" from "):])
	}
	i := indexFold(part, " of ")
	if i < 0 {
		return measured{}, &misplaced{rule: fmt.Sprintf("%.60q is no distance", part), mend: placeForms}
	}
	head := strings.TrimSpace(part[:i])
	k := strings.LastIndexByte(head, ' ')
	if k < 0 {
		return measured{}, &misplaced{rule: fmt.Sprintf("%.60q names no direction", part), mend: placeForms}
	}
	point, ok := compassPoint(head[k+1:])
	if !ok {
		return measured{}, &misplaced{rule: fmt.Sprintf("%.20q is no direction", head[k+1:]), mend: "use N, NE, E, SE, S, SW, W or NW"}
	}
	m := measured{along: offset.Vector(point)}
	var wrong *misplaced
	if m.distance, wrong = b.length(head[:k]); wrong != nil {
		return m, wrong
	}
	m.from, wrong = b.named(part[i+len(" of "):])
	return m, wrong
}

// indexFold returns where a word begins in a text, whatever the case of the text's letters A to Z; -1 where it does not. The word is in small letters.
func indexFold(text, word string) int {
	for i := 0; i+len(word) <= len(text); i++ {
		k := 0
		for k < len(word) && (text[i+k] == word[k] || text[i+k] >= 'A' && text[i+k] <= 'Z' && text[i+k]+'a'-'A' == word[k]) {
			k++
		}
		if k == len(word) {
			return i
		}
	}
	return -1
}

// lowered writes A to Z small and leaves all else, so that no letter changes its length.
func lowered(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r + 'a' - 'A'
		}
		return r
	}, text)
}

// fromThing reads what follows "from".
func (b *wallBook) fromThing(length, thing string) (m measured, wrong *misplaced) {
	if m.distance, wrong = b.length(length); wrong != nil {
		return m, wrong
	}
	for _, word := range []string{" towards ", " toward "} {
		if i := indexFold(thing, word); i >= 0 {
			return b.toward(m, thing[:i], thing[i+len(word):])
		}
	}
	if _, isWall := wallName(thing); !isWall {
		return m, &misplaced{
			rule: fmt.Sprintf("%.60q is no wall, so a direction is missing", strings.TrimSpace(thing)),
			mend: "say toward what: \"2' from RD-1 toward P1\", or \"2' E of RD-1\"; " + b.listed(),
		}
	}
	m.wall, wrong = b.wall(thing)
	return m, wrong
}

// toward reads a distance from a thing toward another thing, a wall or a point of the compass.
func (b *wallBook) toward(m measured, from, to string) (measured, *misplaced) {
	var wrong *misplaced
	if m.from, wrong = b.named(from); wrong != nil {
		return m, wrong
	}
	m.along, wrong = b.direction(m.from, to)
	return m, wrong
}

// direction returns the unit vector from a place toward a wall, a point of the compass or a thing.
func (b *wallBook) direction(from orb.Point, to string) ([2]float64, *misplaced) {
	if point, ok := compassPoint(to); ok {
		return offset.Vector(point), nil
	}
	if _, isWall := wallName(to); isWall {
		w, wrong := b.wall(to)
		if wrong != nil {
			return [2]float64{}, wrong
		}
		return [2]float64{-w.In[0], -w.In[1]}, nil
	}
	target, wrong := b.named(to)
	if wrong != nil {
		return [2]float64{}, wrong
	}
	end, ok := offset.Toward(from, target, 1)
	if !ok {
		return [2]float64{}, &misplaced{rule: fmt.Sprintf("%.40q is the place that is measured from", strings.TrimSpace(to)), mend: "say toward another place"}
	}
	return [2]float64{end[0] - from[0], end[1] - from[1]}, nil
}

// length reads a distance in the unit of the book.
func (b *wallBook) length(text string) (float64, *misplaced) {
	l, feet, err := quantity.ReadLength(decimalPoint(strings.TrimSpace(text)), b.unit)
	if err != nil {
		return 0, &misplaced{rule: err.Error(), mend: placeForms}
	}
	b.feet = b.feet || feet
	if l < 0 {
		return 0, &misplaced{rule: "a distance is negative", mend: "measure toward the roof"}
	}
	return float64(l) / b.unit.Metres(), nil
}

// decimalPoint writes a point for a decimal comma.
func decimalPoint(text string) string {
	if strings.Count(text, ",") == 1 {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

// named returns the place of a thing, or of a corner.
func (b *wallBook) named(text string) (orb.Point, *misplaced) {
	name := strings.TrimSpace(text)
	if indexFold(name, "at ") == 0 {
		name = name[len("at "):]
	}
	key := strings.ToUpper(strings.TrimSpace(name))
	if at, ok := b.names[key]; ok {
		return at, nil
	}
	if number, ok := strings.CutPrefix(key, "CORNER "); ok {
		for i := range b.walls {
			if number == strconv.Itoa(b.walls[i].Number) {
				return b.walls[i].From, nil
			}
		}
		return orb.Point{}, &misplaced{rule: fmt.Sprintf("there is no %.20s", strings.ToLower(key)), mend: fmt.Sprintf("corner 1 is where wall 1 begins; there are %d", len(b.walls))}
	}
	if _, isWall := wallName(name); isWall || key == "" {
		return orb.Point{}, &misplaced{rule: fmt.Sprintf("%.40q is no place", name), mend: placeForms}
	}
	return orb.Point{}, &misplaced{rule: fmt.Sprintf("nothing on the roof is called %.40q", name), mend: b.listed(), unknown: true}
}

// listed says which names are known.
func (b *wallBook) listed() string {
	if len(b.known) == 0 {
		return "give the thing its name first, as in DRAIN RD-1, or measure from two walls"
	}
	const most = 8
	return "known names are " + strings.Join(b.known[:min(most, len(b.known))], ", ")
}

// wall returns the one wall of a name.
func (b *wallBook) wall(text string) (*offset.Wall, *misplaced) {
	name, _ := wallName(text)
	if number, ok := strings.CutPrefix(name, "wall "); ok {
		for i := range b.walls {
			if strconv.Itoa(b.walls[i].Number) == number {
				return &b.walls[i], nil
			}
		}
		return nil, &misplaced{rule: fmt.Sprintf("there is no %.20s", name), mend: b.wallList(b.walls)}
	}
	point, _ := compassPoint(name)
	found := offset.Facing(b.walls, point)
	switch len(found) {
	case 0:
		return nil, &misplaced{rule: "no wall faces " + offset.Names[point], mend: b.wallList(b.walls)}
	case 1:
		return &b.walls[found[0].Number-1], nil
	}
	return nil, &misplaced{rule: fmt.Sprintf("%d walls face %s", len(found), offset.Names[point]), mend: "say which: " + b.wallList(found)}
}

// wallList names walls by their numbers, sides and lengths.
func (b *wallBook) wallList(walls []offset.Wall) string {
	const most = 12
	var out []string
	for i := range walls[:min(most, len(walls))] {
		w := &walls[i]
		out = append(out, fmt.Sprintf("wall %d (%s, %s)", w.Number, offset.Names[w.Faces], b.sayWhole(w.Length)))
	}
	return strings.Join(out, ", ")
}

// sayWhole writes a length of the book's unit to the inch or the centimetre.
func (b *wallBook) sayWhole(l float64) string {
	metres := quantity.Length(l * b.unit.Metres())
	if b.unit.Imperial() {
		metres = quantity.Length(math.Round(float64(metres/quantity.Inch))) * quantity.Inch
	}
	return sayLength(metres, b.unit)
}

// sayLength writes a length as it is taped in the file's unit.
func sayLength(l quantity.Length, unit quantity.Unit) string {
	if unit.Imperial() {
		return quantity.FeetInches(l)
	}
	return fmt.Sprintf("%.2f m", float64(l))
}

// compassPoints are the points of the compass as they are written.
var compassPoints = map[string]int{"n": 0, "ne": 1, "e": 2, "se": 3, "s": 4, "sw": 5, "w": 6, "nw": 7}

// compassPoint reads a point of the compass: N, north, NE, north-east, north east.
func compassPoint(text string) (int, bool) {
	if i, ok := compassPoints[strings.ToLower(text)]; ok {
		return i, true
	}
	word := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" -.\t", r) }), "-")
	if i := slices.Index(offset.Names[:], word); i >= 0 {
		return i, true
	}
	word = strings.ReplaceAll(word, "-", "")
	if i, ok := compassPoints[word]; ok {
		return i, true
	}
	for i, name := range offset.Names {
		if strings.ReplaceAll(name, "-", "") == word {
			return i, true
		}
	}
	return 0, false
}

// wallName returns the name of a wall as "wall 4", or as a point of the compass: of "W wall", "the west wall", "wall W", "wall 4".
func wallName(text string) (string, bool) {
	words := strings.Fields(strings.ToLower(text))
	if len(words) > 0 && words[0] == "the" {
		words = words[1:]
	}
	i := slices.Index(words, "wall")
	if i < 0 || len(words) < 2 {
		return "", false
	}
	rest := strings.Join(slices.Delete(slices.Clone(words), i, i+1), " ")
	if _, ok := compassPoint(rest); ok {
		return rest, true
	}
	if i == 0 && len(words) == 2 && strings.Trim(rest, "0123456789") == "" {
		return "wall " + rest, true
	}
	return "", false
}
