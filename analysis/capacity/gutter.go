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
// Valid for a length of up to 200 times the depth; a longer one is given the figure for 200 and Outside.
// Source: standard.GutterSource, standard.GutterLengthSource.
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
	if t.Length > 0 {
		slender := millimetres(float64(t.Length)) / depth
		factor = between(standard.GutterLengths, standard.GutterFactors, slender)
		if most := standard.GutterLengths[len(standard.GutterLengths)-1]; slender > most {
			l.Outside = fmt.Errorf("the gutter is %.0f times as long as deep: the factors end at %.0f", slender, most)
		}
		l.Note = fmt.Sprintf("its length is %.0f times its depth: factor %.2f (%s)", slender, factor, standard.GutterLengthSource.Text)
	} else {
		l.Note = "length not stated: taken as short"
	}
	if t.Bend {
		factor *= standard.GutterBend
		l.Note = joined(l.Note, "a bend takes 15 %")
	}
	l.Capacity = settled(litresPerSecond(standard.GutterCounted * nominal * factor))
	return l, nil
}

// settled rounds a capacity to a billionth of a cubic metre a second.
func settled(q float64) float64 { return math.Round(q*1e9) / 1e9 }
