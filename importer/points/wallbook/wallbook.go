// Package wallbook finds a place on a roof from what a crew wrote: distances square to two walls, a distance from a thing toward another or in a
// direction, a corner by its number, or the name of a thing.
//
// Walls are called by the side that they face or by their number, which counts from the first corner of the outline. Distances carry their unit or are in the
// file's own.
package wallbook

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/importer/points/separated"
)

// Book knows the walls of the outline and the things on the roof that have a name, in the file's unit.
type Book struct {
	ring  orb.Ring // closed, counter-clockwise
	walls []offset.Wall
	unit  quantity.Unit
	names map[string]orb.Point // by their name in capitals
	known []string             // names as written, in the order in which they came
	feet  bool                 // a distance carried feet or inches
}

// New returns the book of an outline, whose ring is closed and counter-clockwise; clockwise says that its walls were numbered the other way round.
func New(ring orb.Ring, clockwise bool, unit quantity.Unit) *Book {
	return &Book{ring: ring, walls: offset.Walls(ring, clockwise), unit: unit, names: map[string]orb.Point{}}
}

// Ring returns the outline.
func (b *Book) Ring() orb.Ring { return b.ring }

// Feet reports whether a distance that was read carried feet or inches.
func (b *Book) Feet() bool { return b.feet }

// Walls names the walls by their numbers, sides and lengths.
func (b *Book) Walls() string { return b.wallList(b.walls) }

// Call gives a place a name; the first to take a name keeps it.
func (b *Book) Call(name string, at orb.Point) {
	key := strings.ToUpper(name)
	if _, taken := b.names[key]; name == "" || taken {
		return
	}
	b.names[key] = at
	b.known = append(b.known, name)
}

// Misplaced says why a text gives no place, and what to write.
type Misplaced struct {
	Rule, Mend string
	Unknown    bool // a name is not known, or not yet
}

// Forms says how a place is written.
const Forms = `write a place such as "12' from W wall, 30' from S wall", "2' from RD-1 toward P1", "3' E of RD-1" or "corner 2"`

// measured is one distance of a place.
type measured struct {
	distance float64
	wall     *offset.Wall // it is measured from, or nil
	from     orb.Point    // else: from here
	along    [2]float64   // in this direction
}

// Find returns the place that a text names.
func (b *Book) Find(text string) (orb.Point, *Misplaced) {
	parts := Parts(text)
	if len(parts) == 1 && indexFold(parts[0], " from ") < 0 && indexFold(parts[0], " of ") < 0 {
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
		return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("%.60q is one distance, and a place needs two", text), Mend: "add the distance from a wall that runs across"}
	case len(list) == 2:
		return b.both(text, list[0], list[1])
	}
	return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("%.60q is not understood", text), Mend: Forms}
}

// both returns the place that two distances give together: square to two walls, or one after the other from one thing.
func (b *Book) both(text string, m, n measured) (orb.Point, *Misplaced) {
	switch {
	case m.wall != nil && n.wall != nil:
		return b.square(text, m, n)
	case m.wall == nil && n.wall == nil && m.from == n.from:
		n.from = m.end()
		return n.end(), nil
	}
	return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("%.60q measures from a wall and from a thing, or from two things", text), Mend: Forms}
}

func (m *measured) end() orb.Point {
	return orb.Point{m.from[0] + float64(m.along[0]*m.distance), m.from[1] + float64(m.along[1]*m.distance)}
}

// square returns the place at two distances square to walls.
func (b *Book) square(text string, m, n measured) (orb.Point, *Misplaced) {
	at, ok := offset.At(m.wall, m.distance, n.wall, n.distance)
	if !ok {
		return at, &Misplaced{
			Rule: fmt.Sprintf("%.60q: wall %d and wall %d run too nearly alike to give a place", text, m.wall.Number, n.wall.Number),
			Mend: "measure from two walls that meet at a corner, or run across each other",
		}
	}
	return at, nil
}

// Parts splits a text into its distances, at commas, semicolons and "and". A comma between digits is a decimal one, but after the
// number of a wall.
func Parts(text string) []string {
	const and = " and "
	for i := indexFold(text, and); i >= 0; i = indexFold(text, and) {
		text = text[:i] + ";" + text[i+len(and):]
	}
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
func (b *Book) distance(part string) (measured, *Misplaced) {
	if i := indexFold(part, " from "); i >= 0 {
		return b.fromThing(part[:i], part[i+len(" from "):])
	}
	i := indexFold(part, " of ")
	if i < 0 {
		return measured{}, &Misplaced{Rule: fmt.Sprintf("%.60q is no distance", part), Mend: Forms}
	}
	head := strings.TrimSpace(part[:i])
	k := strings.LastIndexByte(head, ' ')
	if k < 0 {
		return measured{}, &Misplaced{Rule: fmt.Sprintf("%.60q names no direction", part), Mend: Forms}
	}
	point, ok := CompassPoint(head[k+1:])
	if !ok {
		return measured{}, &Misplaced{Rule: fmt.Sprintf("%.20q is no direction", head[k+1:]), Mend: "use N, NE, E, SE, S, SW, W or NW"}
	}
	m := measured{along: offset.Vector(point)}
	var wrong *Misplaced
	if m.distance, wrong = b.length(head[:k]); wrong != nil {
		return m, wrong
	}
	m.from, wrong = b.named(part[i+len(" of "):])
	return m, wrong
}

// indexFold returns where a word begins in a text, whatever the case of the text's letters; -1 where it does not.
func indexFold(text, word string) int {
	for i := range len(text) - len(word) + 1 {
		if strings.EqualFold(text[i:i+len(word)], word) {
			return i
		}
	}
	return -1
}

// fromThing reads what follows "from".
func (b *Book) fromThing(length, thing string) (m measured, wrong *Misplaced) {
	if m.distance, wrong = b.length(length); wrong != nil {
		return m, wrong
	}
	for _, word := range []string{" towards ", " toward "} {
		if i := indexFold(thing, word); i >= 0 {
			return b.toward(m, thing[:i], thing[i+len(word):])
		}
	}
	if _, isWall := WallName(thing); !isWall {
		return m, &Misplaced{
			Rule: fmt.Sprintf("%.60q is no wall, so a direction is missing", strings.TrimSpace(thing)),
			Mend: "say toward what: \"2' from RD-1 toward P1\", or \"2' E of RD-1\"; " + b.Known(),
		}
	}
	m.wall, wrong = b.Wall(thing)
	return m, wrong
}

// toward reads a distance from a thing toward another thing, a wall or a point of the compass.
func (b *Book) toward(m measured, from, to string) (measured, *Misplaced) {
	var wrong *Misplaced
	if m.from, wrong = b.named(from); wrong != nil {
		return m, wrong
	}
	m.along, wrong = b.Direction(m.from, to)
	return m, wrong
}

// Direction returns the unit vector from a place toward a wall, a point of the compass or a thing.
func (b *Book) Direction(from orb.Point, to string) ([2]float64, *Misplaced) {
	if point, ok := CompassPoint(to); ok {
		return offset.Vector(point), nil
	}
	if _, isWall := WallName(to); isWall {
		w, wrong := b.Wall(to)
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
		return [2]float64{}, &Misplaced{Rule: fmt.Sprintf("%.40q is the place that is measured from", strings.TrimSpace(to)), Mend: "say toward another place"}
	}
	return [2]float64{end[0] - from[0], end[1] - from[1]}, nil
}

func (b *Book) length(text string) (float64, *Misplaced) {
	l, feet, err := quantity.ReadLength(separated.DecimalPoint(strings.TrimSpace(text)), b.unit)
	if err != nil {
		return 0, &Misplaced{Rule: err.Error(), Mend: Forms}
	}
	b.feet = b.feet || feet
	if l < 0 {
		return 0, &Misplaced{Rule: "a distance is negative", Mend: "measure toward the roof"}
	}
	return float64(l) / b.unit.Metres(), nil
}

// named returns the place of a thing, or of a corner.
func (b *Book) named(text string) (orb.Point, *Misplaced) {
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
		return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("there is no %.20s", strings.ToLower(key)), Mend: fmt.Sprintf("corner 1 is where wall 1 begins; there are %d", len(b.walls))}
	}
	if _, isWall := WallName(name); isWall || key == "" {
		return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("%.40q is no place", name), Mend: Forms}
	}
	return orb.Point{}, &Misplaced{Rule: fmt.Sprintf("nothing on the roof is called %.40q", name), Mend: b.Known(), Unknown: true}
}

// Known says which names are known.
func (b *Book) Known() string {
	if len(b.known) == 0 {
		return "give the thing its name first, as in DRAIN RD-1, or measure from two walls"
	}
	const most = 8
	return "known names are " + strings.Join(b.known[:min(most, len(b.known))], ", ")
}

// Wall returns the one wall of a name.
func (b *Book) Wall(text string) (*offset.Wall, *Misplaced) {
	name, _ := WallName(text)
	if number, ok := strings.CutPrefix(name, "wall "); ok {
		for i := range b.walls {
			if strconv.Itoa(b.walls[i].Number) == number {
				return &b.walls[i], nil
			}
		}
		return nil, &Misplaced{Rule: fmt.Sprintf("there is no %.20s", name), Mend: b.wallList(b.walls)}
	}
	point, _ := CompassPoint(name)
	found := offset.Facing(b.walls, point)
	switch len(found) {
	case 0:
		return nil, &Misplaced{Rule: "no wall faces " + offset.Names[point], Mend: b.wallList(b.walls)}
	case 1:
		return &b.walls[found[0].Number-1], nil
	}
	return nil, &Misplaced{Rule: fmt.Sprintf("%d walls face %s", len(found), offset.Names[point]), Mend: "say which: " + b.wallList(found)}
}

// wallList names walls by their numbers, sides and lengths.
func (b *Book) wallList(walls []offset.Wall) string {
	const most = 12
	var out []string
	for i := range walls[:min(most, len(walls))] {
		w := &walls[i]
		out = append(out, fmt.Sprintf("wall %d (%s, %s)", w.Number, offset.Names[w.Faces], b.sayWhole(w.Length)))
	}
	return strings.Join(out, ", ")
}

// sayWhole writes a length of the book's unit to the inch or the centimetre.
func (b *Book) sayWhole(l float64) string {
	metres := quantity.Length(l * b.unit.Metres())
	if b.unit.Imperial() {
		metres = quantity.Length(math.Round(float64(metres/quantity.Inch))) * quantity.Inch
	}
	return SayLength(metres, b.unit)
}

// SayLength writes a length as it is taped in the file's unit.
func SayLength(l quantity.Length, unit quantity.Unit) string {
	if unit.Imperial() {
		return quantity.FeetInches(l)
	}
	return fmt.Sprintf("%.2f m", float64(l))
}

// compassPoints are the points of the compass as they are written.
var compassPoints = map[string]int{"n": 0, "ne": 1, "e": 2, "se": 3, "s": 4, "sw": 5, "w": 6, "nw": 7}

// CompassPoint reads a point of the compass: N, north, NE, north-east, north east.
func CompassPoint(text string) (int, bool) {
	if i, ok := compassPoints[strings.ToLower(text)]; ok {
		return i, true
	}
	word := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" -.\t", r) }), "")
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

// WallName returns the name of a wall as "wall 4", or as a point of the compass: of "W wall", "the west wall", "wall W", "wall 4".
func WallName(text string) (string, bool) {
	words := strings.Fields(strings.ToLower(text))
	if len(words) > 0 && words[0] == "the" {
		words = words[1:]
	}
	i := slices.Index(words, "wall")
	if i < 0 || len(words) < 2 {
		return "", false
	}
	rest := strings.Join(slices.Delete(slices.Clone(words), i, i+1), " ")
	if _, ok := CompassPoint(rest); ok {
		return rest, true
	}
	if i == 0 && len(words) == 2 && strings.Trim(rest, "0123456789") == "" {
		return "wall " + rest, true
	}
	return "", false
}
