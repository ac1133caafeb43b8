package points

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/traverse"
	"runnel/importer/draft"
	"runnel/importer/points/code"
	"runnel/importer/points/separated"
	"runnel/importer/points/wallbook"
)

// isWalls reports whether a row is an outline that is said by its walls.
func (r *reader) isWalls(row *tapedRow) bool {
	if row.code.Role != code.Outline {
		return false
	}
	_, rect := row.code.Value("rect")
	_, walls := row.code.Value("walls")
	return rect || walls
}

// outlineOfWalls makes the outline that a row says by its walls, or takes that of another file, and so the book of walls. It reports
// whether there was such a row, be it usable or not.
func (r *reader) outlineOfWalls() bool {
	row := slices.IndexFunc(r.later, func(t tapedRow) bool { return r.isWalls(&t) })
	if row < 0 {
		if r.before.Ring != nil {
			r.walls = wallbook.New(r.before.Ring, r.before.Clockwise, r.set.Unit)
		}
		return false
	}
	t := &r.later[row]
	r.number, r.id, r.code = t.number, t.id, t.code
	legs := r.legs()
	if legs == nil {
		return true
	}
	closure := traverse.Close(legs)
	if !closure.Within() {
		r.doesNotClose(legs, &closure)
		return true
	}
	if d := closure.Misclosure(); d >= float64(quantity.Millimetre) {
		r.out.Warnings = append(r.out.Warnings, fmt.Sprintf("%s: the walls as taped miss closing by %s; up to %s is taken for the tape's error, and it was shared out over the walls.",
			r.Name, wallbook.SayLength(quantity.Length(d), r.set.Unit), wallbook.SayLength(quantity.Length(closure.Allowed), r.set.Unit)))
		r.tape0().Misclosure = quantity.Length(d)
	}
	r.draw(&closure)
	return true
}

// draw keeps the outline of corners in metres. It begins in the corner that is farthest south-west of the box round it, at 0, 0.
func (r *reader) draw(closure *traverse.Closure) {
	var ring orb.Ring
	for _, p := range closure.Corners {
		ring = append(ring, orb.Point{p[0] / r.set.Unit.Metres(), p[1] / r.set.Unit.Metres()})
	}
	ring = append(ring, ring[0])
	low := ring.Bound().Min
	c := &chain{first: *r.code, origin: r.origin(), pairs: r.code.Pairs}
	c.origin.ID = "outline"
	for i := range ring {
		ring[i] = orb.Point{ring[i][0] - low[0], ring[i][1] - low[1]}
		c.line = append(c.line, roof.Position{Plan: ring[i]})
	}
	clockwise := ring.Orientation() == orb.CW
	if clockwise {
		ring.Reverse()
	}
	r.chains = append(r.chains, c)
	r.walls = wallbook.New(ring, clockwise, r.set.Unit)
	t := r.tape0()
	t.Walls, t.Clockwise = true, clockwise
}

// legs returns the walls of the outline's code, nil where they cannot be used.
func (r *reader) legs() []traverse.Leg {
	rect, isRect := r.code.Value("rect")
	walls, isWalls := r.code.Value("walls")
	if isRect && isWalls {
		r.refuse("the outline is said twice, by rect and by walls", "leave one of them out")
		return nil
	}
	if isRect {
		east, north, ok := r.sides(rect)
		if !ok {
			return nil
		}
		return []traverse.Leg{{East: 1, Length: east}, {North: 1, Length: north}, {East: -1, Length: east}, {North: -1, Length: north}}
	}
	var legs []traverse.Leg
	for _, text := range wallTexts(walls.Value) {
		leg, rule := r.leg(text)
		if rule != "" {
			r.refuse(rule, `write each wall as its direction and its length, such as walls="E 120, N 60, W 120, S 60"`)
			return nil
		}
		legs = append(legs, leg)
	}
	if len(legs) < 3 {
		r.refuse("fewer than three walls bound no roof", "write all its walls")
		return nil
	}
	return legs
}

// wallTexts splits a list of walls at semicolons, or else at commas; a comma between digits is a decimal one.
func wallTexts(list string) []string {
	if strings.Contains(list, ";") {
		list = strings.ReplaceAll(list, ",", ".")
	}
	return gather.Where(wallbook.Parts(list), func(part string) bool { return part != "" })
}

// leg reads one wall: "E 120", "north-east 12' 6".
func (r *reader) leg(text string) (traverse.Leg, string) {
	i := strings.IndexAny(text, "0123456789")
	if i <= 0 {
		return traverse.Leg{}, fmt.Sprintf("%.30q is no wall", text)
	}
	point, ok := wallbook.CompassPoint(text[:i])
	if !ok {
		return traverse.Leg{}, fmt.Sprintf("%.30q is no direction", strings.TrimSpace(text[:i]))
	}
	length, ok := r.lengthOf(code.Pair{Key: "walls", Value: separated.DecimalPoint(text[i:])})
	if !ok || length <= 0 {
		return traverse.Leg{}, fmt.Sprintf("the wall %.30q has no length", text)
	}
	v := offset.Vector(point)
	return traverse.Leg{East: v[0], North: v[1], Length: length}, ""
}

// sides reads two lengths, east-west and north-south: 120x60ft, 120'x60', 36.5 x 18 m.
func (r *reader) sides(p code.Pair) (east, north quantity.Length, ok bool) {
	first, second, ok := strings.Cut(strings.NewReplacer("×", "x", "X", "x", " by ", "x").Replace(p.Value), "x")
	if !ok {
		r.refuse(fmt.Sprintf("%s=%.30q is not two lengths", p.Key, p.Value), "write the length east to west, an x, and that south to north: "+p.Key+"=120x60ft")
		return 0, 0, false
	}
	first, second = separated.DecimalPoint(strings.TrimSpace(first)), separated.DecimalPoint(strings.TrimSpace(second))
	if strings.Trim(first, "0123456789.") == "" { // the unit stands after the second
		first += strings.TrimLeft(second, "0123456789. ")
	}
	if east, ok = r.lengthOf(code.Pair{Key: p.Key, Value: first}); !ok {
		return 0, 0, false
	}
	if north, ok = r.lengthOf(code.Pair{Key: p.Key, Value: second}); !ok {
		return 0, 0, false
	}
	if east <= 0 || north <= 0 {
		r.refuse(p.Key+" has a side of no length", "write both sides")
		return 0, 0, false
	}
	return east, north, true
}

// rectangle keeps a curb by its sides, whose south-west corner is the place at hand.
func (r *reader) rectangle(p code.Pair) {
	east, north, ok := r.sides(p)
	if !ok {
		return
	}
	w, h := float64(east)/r.set.Unit.Metres(), float64(north)/r.set.Unit.Metres()
	c := &chain{first: *r.code, origin: r.origin(), pairs: r.code.Pairs}
	c.origin.ID = strings.TrimRight(r.code.Word+"-"+r.code.Number, "-")
	for _, d := range [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
		c.line = append(c.line, roof.Position{Plan: orb.Point{r.place.Plan[0] + d[0], r.place.Plan[1] + d[1]}})
	}
	r.chains = append(r.chains, c)
}

// doesNotClose refuses walls that miss closing, and names the walls where one slip would explain it.
func (r *reader) doesNotClose(legs []traverse.Leg, c *traverse.Closure) {
	say := func(l float64) string { return wallbook.SayLength(quantity.Length(l), r.set.Unit) }
	var off []string
	for _, k := range []struct {
		by         float64
		plus, less string
	}{{c.East, "east", "west"}, {c.North, "north", "south"}} {
		switch {
		case k.by > float64(quantity.Centimetre):
			off = append(off, say(k.by)+" too far "+k.plus)
		case k.by < -float64(quantity.Centimetre):
			off = append(off, say(-k.by)+" too far "+k.less)
		}
	}
	rule := fmt.Sprintf("the walls do not close: the last one ends %s; up to %s is taken for the tape's error (1 in 1,000 of %s and an inch, half a foot at most)",
		strings.Join(off, " and "), say(c.Allowed), say(c.Perimeter))
	unit := choose.If[quantity.Length](r.set.Unit.Imperial(), quantity.Foot, quantity.Metre)
	slips := traverse.Slips(legs, *c, unit)
	if len(slips) == 0 {
		r.refuse(rule, "measure the walls again: no single slip of one wall would explain it")
		return
	}
	words := gather.Each(slips, func(s traverse.Slip) string { return r.slipWords(legs, s) })
	r.refuse(rule, "measure again where one slip would explain it: "+draft.Listing(words))
}

// slipWords says what slip would explain a misclosure.
func (r *reader) slipWords(legs []traverse.Leg, s traverse.Slip) string {
	wall := func(i int) string {
		return fmt.Sprintf("wall %d (%s %s)", i+1, offset.Names[offset.Point(legs[i].East, legs[i].North)], wallbook.SayLength(legs[i].Length, r.set.Unit))
	}
	want := wallbook.SayLength(s.Want, r.set.Unit)
	switch s.Kind {
	case traverse.SaidTwice:
		return fmt.Sprintf("%s, if it is the one before it said twice", wall(s.Leg))
	case traverse.LeftOut:
		return fmt.Sprintf("a wall of %s %s left out before wall %d", want, offset.Names[offset.Point(s.East, s.North)], s.Leg%len(legs)+1)
	case traverse.Backward:
		return fmt.Sprintf("%s, if it runs the other way", wall(s.Leg))
	case traverse.Unit, traverse.Ten, traverse.Hundred:
		return fmt.Sprintf("%s, if it is %s", wall(s.Leg), want)
	case traverse.Transposed:
		return fmt.Sprintf("%s, if its digits changed places and it is %s", wall(s.Leg), want)
	case traverse.Amount:
		return fmt.Sprintf("%s, if it is %s", wall(s.Leg), want)
	}
	return wall(s.Leg)
}
