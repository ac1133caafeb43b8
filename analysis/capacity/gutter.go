package capacity

import (
	"fmt"
	"math"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Shapes of gutter.
const (
	HalfRound = "half-round"
	Box       = "box"
)

// Trough is a level gutter. The zero value is not stated.
type Trough struct {
	Shape  string          // HalfRound or Box
	Width  quantity.Length // at the top
	Depth  quantity.Length // box: of the water when it is full
	Length quantity.Length // from its far end to its outlet; 0: taken as short
	Bend   bool            // the run has a bend
}

// GutterCapacity returns what a level gutter carries to its outlet at one end.
// Valid for a length of up to 500 times the depth; a longer one is given the figure for 500 and Outside.
// Source: standard.GutterSource, standard.GutterDepthSource, standard.GutterLengthSource.
func GutterCapacity(t Trough) (Link, error) {
	l := Link{Name: "gutter", Method: Rainwater, Source: standard.GutterSource}
	if t.Shape == "" {
		return l, &MissingError{Of: "gutter", Missing: []string{"shape, " + HalfRound + " or " + Box}}
	}
	if _, err := pick("gutter", t.Shape, []string{HalfRound, Box}); err != nil {
		return l, err
	}
	for _, size := range []quantity.Length{t.Width, t.Depth, t.Length} {
		if !(size >= 0) || math.IsInf(float64(size), 0) {
			return l, &SizeError{Name: "gutter", Value: float64(size)}
		}
	}
	width, depth := millimetres(float64(t.Width)), millimetres(float64(t.Depth))
	coefficient, area := standard.GutterBox, width*depth
	if t.Shape != Box {
		coefficient, area, depth = standard.GutterHalfRound, quarterPi*width*width/2, width/2
	}
	if !(area > 0) {
		return l, &MissingError{Of: "gutter", Missing: []string{"width and depth"}}
	}
	nominal := coefficient * area * math.Sqrt(math.Sqrt(area))
	factor := 1.0
	if t.Shape == Box {
		factor = depthFactor(width, depth)
		l.Note = fmt.Sprintf("factor of depth %.2f (%s)", factor, standard.GutterDepthSource.Text)
	}
	long, note, outside := lengthFactor(millimetres(float64(t.Length)), depth)
	factor *= long
	l.Outside, l.Note = outside, joined(l.Note, note)
	if t.Bend {
		factor *= standard.GutterBend
		l.Note = joined(l.Note, "a bend takes 15 %")
	}
	l.Capacity = settled(litresPerSecond(standard.GutterCounted * nominal * factor))
	return l, nil
}

// depthFactor returns the factor of depth of a box gutter: what a level box of rectangular section, w wide, carries over a free end at a depth of d at
// its far end, w g^0.5 (d/3^0.5)^1.5, over the coefficient of the standard, at most 1. Widths and depths in one unit.
// Source: standard.GutterDepthSource.
func depthFactor(w, d float64) float64 {
	free := math.Sqrt(standard.Gravity/(3*math.Sqrt(3))) * 1000 * 1e-7 / math.Sqrt(10) // in millimetres and litres a second: 1e-6^1.25 x 1000
	return min(1, free/standard.GutterBox*math.Sqrt(math.Sqrt(d/w)))
}

// lengthFactor returns the factor of the length of a gutter over its depth, what lies outside its table, and a note.
// Source: standard.GutterLengthSource, standard.GutterLongSource.
func lengthFactor(length, depth float64) (factor float64, note string, outside error) {
	if length == 0 {
		return 1, "length not stated: taken as short", nil
	}
	slender := length / depth
	factor = between(standard.GutterLengths, standard.GutterFactors, slender)
	source, mark := standard.GutterLengthSource, "read"
	if slender > standard.GutterLengthRead {
		source, mark = standard.GutterLongSource, "from memory"
	}
	if most := standard.GutterLengths[len(standard.GutterLengths)-1]; slender > most {
		outside = fmt.Errorf("the gutter is %.0f times as long as deep: the factors end at %.0f", slender, most)
	}
	return factor, fmt.Sprintf("its length is %.0f times its depth: factor %.2f (%s, %s)", slender, factor, source.Text, mark), outside
}

// settled rounds a capacity to a billionth of a cubic metre a second.
func settled(q float64) float64 { return math.Round(q*1e9) / 1e9 }
