package blunder

import (
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// Slip is a mistake of the hand or the eye that would explain an odd number.
type Slip uint8

// The slips. Foot and Tenth are whole ones, one to three; Metre and Tenth stand for them where the file is metric.
const (
	Zero       Slip = iota // no elevation was booked: 0
	Number                 // the point's number was booked as its elevation
	Swapped                // northing and easting changed places
	OnCurb                 // the rod stood on a curb or a parapet
	UpsideDown             // the rod stood upside down
	Transposed             // two digits beside each other changed places
	InchAsPart             // inches booked as tenths or hundredths of a foot
	Foot                   // a foot too much or too little
	Metre                  // a metre too much or too little
	Tenth                  // a tenth of the unit too much or too little
	OtherUnit              // feet among metres, or metres among feet
	OnStrainer             // the rod stood on the strainer of a drain, not on its rim
	InBowl                 // the rod stood in the bowl of a drain, or in its pipe
)

// booking is the number that stands in the field book: an elevation, or a rod reading.
type booking struct {
	number  float64 // as booked, in unit
	wanted  float64 // what it should have been
	play    float64 // how far off wanted a number may be and still fit
	text    string  // digits
	unit    quantity.Unit
	reading bool
}

// digits is how many decimals of the unit a field book has at most.
const digits = 4

// booked returns the number that o was booked as.
func (f *finder) booked(o *Odd) booking {
	if o.Spot < 0 {
		return f.bookedAs(o, "")
	}
	return f.bookedAs(o, f.r.Spots[o.Spot].Origin.File)
}

// bookedAs returns the number that o was booked as in a file.
func (f *finder) bookedAs(o *Odd, file string) booking {
	b := booking{unit: f.r.Units}
	z, expected := o.Z, o.Expected
	if o.Spot >= 0 {
		s := &f.r.Spots[o.Spot]
		if z = s.Z; s.HasRod {
			z, expected, b.reading = float64(s.Rod), float64(s.Rod)+o.Off(), true
		}
	}
	for i := range f.r.Inputs {
		if f.r.Inputs[i].Path == file {
			if u, err := quantity.ParseUnit(f.r.Inputs[i].Units); err == nil {
				b.unit = u
			}
		}
	}
	if b.unit == quantity.Unstated {
		b.unit = quantity.Metres
	}
	metres := b.unit.Metres()
	b.number, b.wanted = quantity.Round(z/metres, digits), expected/metres
	b.play = math.Min(math.Max(2.5*o.Error, 0.012), 0.3*math.Abs(o.Off())) / metres
	b.text = strconv.FormatFloat(b.number, 'f', -1, 64)
	return b
}

// fits reports whether a number is what the neighbours say.
func (b *booking) fits(v float64) bool { return math.Abs(v-b.wanted) <= b.play }

// fit is a slip and whether it explains a number.
type fit struct {
	slip Slip
	fits bool
}

// fitting returns the slips that explain a number.
func fitting(all []fit) (out []Slip) {
	for _, s := range all {
		if s.fits {
			out = append(out, s.slip)
		}
	}
	return out
}

// slips returns the slips that explain o, the likeliest first.
func (f *finder) slips(o *Odd) []Slip {
	b := f.booked(o)
	curb, told := f.onCurb(o)
	return fitting([]fit{
		{Zero, b.number == 0},
		{Number, f.isNumber(o, &b)},
		{Swapped, f.swapped(o)},
		{OnCurb, curb && told},
		{UpsideDown, b.upsideDown()},
		{OtherUnit, b.otherUnit()},
		{Foot, b.whole(quantity.Foot)},
		{Metre, b.metric() && b.whole(quantity.Metre)},
		{Tenth, b.tenth()},
		{Transposed, b.transposed()},
		{InchAsPart, b.inchAsPart()},
		{OnCurb, curb && !told},
	})
}

// isNumber reports whether the point's own number was booked.
func (f *finder) isNumber(o *Odd, b *booking) bool {
	if o.Spot < 0 {
		return false
	}
	n, err := strconv.ParseFloat(f.r.Spots[o.Spot].ID, 64)
	return err == nil && n == b.number
}

func (b *booking) metric() bool { return !b.unit.Imperial() }

// whole reports whether one to three of a length too much or too little were booked. Nobody who reads in metres is a foot out,
// nor the other way.
func (b *booking) whole(l quantity.Length) bool {
	if b.metric() == (l == quantity.Foot) {
		return false
	}
	unit := float64(l) / b.unit.Metres()
	for _, n := range []float64{1, 2, 3} {
		if b.fits(b.number+n*unit) || b.fits(b.number-n*unit) {
			return true
		}
	}
	return false
}

// tenth reports whether a tenth of a foot, or of a metre, is too much or too little.
func (b *booking) tenth() bool {
	tenth := float64(quantity.Metre) / 10
	if !b.metric() {
		tenth = float64(quantity.Foot) / 10
	}
	tenth /= b.unit.Metres()
	return b.fits(b.number+tenth) || b.fits(b.number-tenth)
}

// transposed reports whether two digits beside each other, changed back, give what the neighbours say.
func (b *booking) transposed() bool {
	digits := []byte(strings.Replace(b.text, ".", "", 1))
	point := strings.IndexByte(b.text, '.')
	for i := 1; i < len(digits); i++ {
		if digits[i] == digits[i-1] || digits[i-1] == '-' {
			continue
		}
		swapped := append([]byte{}, digits...)
		swapped[i-1], swapped[i] = swapped[i], swapped[i-1]
		text := string(swapped)
		if point >= 0 {
			text = text[:point] + "." + text[point:]
		}
		if v, err := strconv.ParseFloat(text, 64); err == nil && b.fits(v) {
			return true
		}
	}
	return false
}

// inchAsPart reports whether the part after the point, read as inches, gives what the neighbours say: 4 ft 7 in booked as 4.7 or 4.07.
func (b *booking) inchAsPart() bool {
	if b.unit != quantity.Feet && b.unit != quantity.USSurveyFeet {
		return false
	}
	whole, part := math.Modf(math.Abs(b.number))
	for _, scale := range []float64{10, 100} {
		inches := quantity.Round(part*scale, 4)
		if inches != math.Trunc(inches) || inches < 1 || inches > 11 {
			continue
		}
		if b.fits(math.Copysign(whole+inches/12, b.number)) {
			return true
		}
	}
	return false
}

// rodLengths are the lengths of the rods of the trade, by unit of the reading: feet, metres. From memory.
var rodLengths = [2][]float64{{8, 10, 12, 13, 15, 16, 20, 25}, {2, 3, 4, 5}}

// upsideDown reports whether the reading was taken from the top of a rod.
func (b *booking) upsideDown() bool {
	if !b.reading {
		return false
	}
	lengths, unit := rodLengths[1], float64(quantity.Metre)
	if !b.metric() {
		lengths, unit = rodLengths[0], float64(quantity.Foot)
	}
	for _, l := range lengths {
		if b.fits(l*unit/b.unit.Metres() - b.number) {
			return true
		}
	}
	return false
}

// otherUnit reports whether the number is right in feet among metres, or in metres among feet.
func (b *booking) otherUnit() bool {
	foot := float64(quantity.Foot)
	if b.number == 0 {
		return false
	}
	return b.metric() && b.fits(b.number*foot) || !b.metric() && b.fits(b.number/foot)
}

// Reach of a rod that slid up: how near a curb or the outline it stood, and the heights to which curbs and parapets rise [m].
const (
	curbReach = 0.6
	curbLow   = 0.075
	curbHigh  = 1.5
	curbPlay  = 0.03
)

// onCurb reports whether the point stands by as much too high as a curb or a wall beside it rises, and whether the height of that
// was told.
func (f *finder) onCurb(o *Odd) (on, told bool) {
	off := o.Off()
	if off < curbLow || off > curbHigh {
		return false, false
	}
	beside := func(line []roof.Position, h quantity.Length) {
		if (h <= 0 || math.Abs(off-float64(h)) <= curbPlay) && near(line, o.Plan) {
			on, told = true, told || h > 0
		}
	}
	for i := range f.r.Curbs {
		beside(f.r.Curbs[i].Ring, f.r.Curbs[i].Height)
	}
	for i := range f.r.Edges {
		if f.r.Edges[i].Type == roof.Wall {
			beside(f.r.Edges[i].Line, f.r.Edges[i].Height)
		}
	}
	for k, ring := range f.r.Outline.Rings {
		if (k > 0 || f.r.Outline.Edge == roof.Wall) && !f.onOpenEdge(o.Plan) {
			beside(ring, 0)
		}
	}
	return on, told
}

// onOpenEdge reports whether the nearest stretch of outline that says what it is has no wall.
func (f *finder) onOpenEdge(p orb.Point) bool {
	for i := range f.r.Edges {
		if near(f.r.Edges[i].Line, p) {
			return f.r.Edges[i].Type != roof.Wall || f.r.Edges[i].Height > 0
		}
	}
	return false
}

// near reports whether p lies within reach of a line.
func near(line []roof.Position, p orb.Point) bool {
	for i := 1; i < len(line); i++ {
		if planar.DistanceFromSegment(line[i-1].Plan, line[i].Plan, p) <= curbReach {
			return true
		}
	}
	return false
}
