package standard

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"runnel/analysis/gather"
	"runnel/analysis/quantity"
)

// dimension says how a criterion is written.
type dimension uint8

const (
	slopeDimension dimension = iota
	lengthDimension
	rainDimension
)

// criterion is one name that may be stated, its dimension and what it sets.
type criterion struct {
	name  string
	dim   dimension
	apply func(*Criteria, float64)
}

// criteria lists the names in the order in which they are documented.
var criteria = []criterion{
	{"min_slope", slopeDimension, func(c *Criteria, v float64) { c.MinSlope, c.MinSlopeNew = v, v }},
	{"min_valley_slope", slopeDimension, func(c *Criteria, v float64) { c.MinValleySlope = v }},
	{"pond_depth", lengthDimension, func(c *Criteria, v float64) { c.PondDepth, c.PondDepthWide = v, v/2 }},
	{"near_outlet", lengthDimension, func(c *Criteria, v float64) { c.NearOutlet = v }},
	{"max_travel", lengthDimension, func(c *Criteria, v float64) { c.MaxTravel = v }},
	{"contour", lengthDimension, func(c *Criteria, v float64) { c.Contour = v }},
	{"rain_primary", rainDimension, func(c *Criteria, v float64) { c.RainPrimary = v }},
	{"rain_overflow", rainDimension, func(c *Criteria, v float64) { c.RainOverflow = v }},
	{"overflow_height", lengthDimension, func(c *Criteria, v float64) { c.OverflowStated = v }},
}

// Names returns the names of the criteria that may be stated.
func Names() []string { return gather.Each(criteria, func(c criterion) string { return c.name }) }

func find(name string) (criterion, error) {
	i := slices.IndexFunc(criteria, func(c criterion) bool { return c.name == name })
	if i < 0 {
		return criterion{}, fmt.Errorf("unknown criterion %.40q: use %s", name, strings.Join(Names(), ", "))
	}
	return criteria[i], nil
}

// Parse returns the SI value of a criterion as written: a slope ("1/4 in per ft", "2%"), a length ("1/4 in")
// or a rate of rain ("4 in/h"). A length without a unit is in bare.
func Parse(name, text string, bare quantity.Unit) (float64, error) {
	c, err := find(name)
	if err != nil {
		return 0, err
	}
	var v float64
	switch c.dim {
	case slopeDimension:
		var s quantity.Slope
		s, err = quantity.ParseSlope(text)
		v = float64(s)
	case lengthDimension:
		var l quantity.Length
		l, err = quantity.ParseLength(text, bare)
		v = float64(l)
	case rainDimension:
		var i quantity.Intensity
		i, err = quantity.ParseIntensity(text)
		v = float64(i)
	}
	if err == nil {
		err = check(c, v)
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", name, err)
	}
	return v, nil
}

// check refuses values that no criterion can have.
func check(c criterion, v float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return errors.New("it is not a finite number")
	case v < 0:
		return errors.New("it is negative")
	case v == 0 && c.name == "contour":
		return errors.New("the interval of contours cannot be zero")
	}
	return nil
}

// Apply returns c with the values of o in place of its own. "min_slope" sets the criterion as found and
// that for new work; "pond_depth" sets the depth, and half of it for wide ponds.
func Apply(c Criteria, o Overrides) (Criteria, error) {
	for name := range o {
		if _, err := find(name); err != nil {
			return c, err
		}
	}
	for _, k := range criteria {
		v, stated := o[k.name]
		if !stated {
			continue
		}
		if err := check(k, v); err != nil {
			return c, fmt.Errorf("%s: %w", k.name, err)
		}
		k.apply(&c, v)
	}
	return c, nil
}
