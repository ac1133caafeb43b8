package traverse

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
)

// Kind is a usual slip of somebody who tapes walls or writes them down.
type Kind uint8

// The kinds of slip, the plainest first.
const (
	SaidTwice  Kind = iota // a wall stands in the list twice
	LeftOut                // a wall is missing
	Backward               // its direction is the opposite one
	Unit                   // one foot or metre more or less
	Ten                    // ten feet or metres more or less
	Hundred                // a hundred feet or metres more or less
	Transposed             // digits of its length change places
	Amount                 // its length is off by an amount that nothing explains
)

// Slip is one slip that would explain a misclosure.
type Slip struct {
	Kind  Kind
	Leg   int             // index of the leg; where one is missing: of the leg before which it belongs, len(legs) at the end
	Want  quantity.Length // length that would close the traverse; of the missing wall where one is
	East  float64         // direction of a missing wall, a unit vector
	North float64
}

// Slips returns the single slips that would make the legs close within what is allowed, the plainest first. unit is that in which
// lengths were read: a slip of the tape is a whole number of it.
func Slips(legs []Leg, c Closure, unit quantity.Length) []Slip {
	var out []Slip
	for i := range legs {
		out = append(out, lengthSlips(legs, i, &c, unit)...)
		if twice(legs, i, &c) {
			out = append(out, Slip{Kind: SaidTwice, Leg: i, Want: legs[i].Length})
		}
		if back := 2 * float64(legs[i].Length); closes(&c, &legs[i], back) {
			out = append(out, Slip{Kind: Backward, Leg: i, Want: legs[i].Length})
		}
	}
	out = append(out, leftOut(legs, &c)...)
	slices.SortStableFunc(out, func(a, b Slip) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}

// closes reports whether the traverse closes when a leg is shorter by an amount [m].
func closes(c *Closure, l *Leg, by float64) bool {
	e := c.East - float64(l.East*by)
	n := c.North - float64(l.North*by)
	return vector.Norm(e, n) <= c.Allowed
}

// lengthSlips returns how another length of leg i would close the traverse: by a slip of a usual kind, else by its amount.
func lengthSlips(legs []Leg, i int, c *Closure, unit quantity.Length) []Slip {
	l := &legs[i]
	by := float64(c.East*l.East) + float64(c.North*l.North)
	if !closes(c, l, by) || float64(l.Length)-by <= 0 {
		return nil
	}
	var out []Slip
	for _, k := range []struct {
		kind  Kind
		units float64
	}{{Unit, 1}, {Ten, 10}, {Hundred, 100}} {
		step := math.Copysign(k.units*float64(unit), by)
		if want := float64(l.Length) - step; want > 0 && closes(c, l, step) {
			out = append(out, Slip{Kind: k.kind, Leg: i, Want: quantity.Length(want)})
		}
	}
	for _, want := range transposed(l.Length, unit) {
		if closes(c, l, float64(l.Length-want)) {
			out = append(out, Slip{Kind: Transposed, Leg: i, Want: want})
			break
		}
	}
	if len(out) == 0 {
		out = append(out, Slip{Kind: Amount, Leg: i, Want: l.Length - quantity.Length(by)})
	}
	return out
}

// transposed returns the lengths whose digits, in hundredths of the unit, are those of l with two neighbours changed.
func transposed(l, unit quantity.Length) []quantity.Length {
	const decimals = 100
	whole, rest := math.Modf(float64(l / unit))
	text := strconv.Itoa(int(whole))
	if hundredths := math.Round(rest * decimals); unit == quantity.Metre && hundredths != 0 {
		text = strings.TrimRight(strconv.FormatFloat(whole+hundredths/decimals, 'f', 2, 64), "0")
		rest = 0
	}
	var out []quantity.Length
	digits := []byte(text)
	for i := range digits {
		j := i + 1
		if j < len(digits) && digits[j] == '.' {
			j++
		}
		if j >= len(digits) || digits[i] == '.' || digits[i] == digits[j] {
			continue
		}
		swapped := slices.Clone(digits)
		swapped[i], swapped[j] = digits[j], digits[i]
		if v, err := strconv.ParseFloat(string(swapped), 64); err == nil {
			out = append(out, quantity.Length(v+rest)*unit)
		}
	}
	return out
}

// twice reports whether the traverse closes without leg i, which is that before it once more.
func twice(legs []Leg, i int, c *Closure) bool {
	before := &legs[(i+len(legs)-1)%len(legs)]
	l := &legs[i]
	same := math.Abs(l.East-before.East)+math.Abs(l.North-before.North) < 1e-9 && math.Abs(float64(l.Length-before.Length)) <= readError
	return same && closes(c, l, float64(l.Length))
}

// square is the cosine under which two directions count as square to each other.
const square = 0.1

// leftOut returns the places where one more wall would close the traverse and stand square to both of its neighbours.
func leftOut(legs []Leg, c *Closure) []Slip {
	d := c.Misclosure()
	if d <= c.Allowed {
		return nil
	}
	e, n := -c.East/d, -c.North/d
	if !compassBound(e, n) {
		return nil
	}
	isSquare := func(l *Leg) bool { return math.Abs(float64(l.East*e)+float64(l.North*n)) < square }
	var out []Slip
	for i := range legs {
		if before := &legs[(i+len(legs)-1)%len(legs)]; isSquare(before) && isSquare(&legs[i]) {
			at := choose.If(i == 0, len(legs), i)
			out = append(out, Slip{Kind: LeftOut, Leg: at, Want: quantity.Length(d), East: e, North: n})
		}
	}
	return out
}

// compassBound reports whether a direction lies along one of the eight points of the compass, within 2 degrees.
func compassBound(e, n float64) bool {
	const within = 0.035 // sine of 2 degrees
	diagonal := math.Abs(math.Abs(e)-math.Abs(n)) < within*math.Sqrt2
	return math.Abs(e) < within || math.Abs(n) < within || diagonal
}
