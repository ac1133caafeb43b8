package capacity

import (
	"fmt"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/quantity"
)

// Kind is the kind of an outlet's inlet.
type Kind uint8

// Kinds of inlet.
const (
	Scupper   Kind = iota // an opening in a wall
	Drain                 // a bowl in the roof with a strainer, with or without a dam
	Standpipe             // an open pipe that stands up from the roof
	Edge                  // a level edge that water falls off
)

// String returns the word for the kind.
func (k Kind) String() string { return [...]string{"scupper", "drain", "standpipe", "edge"}[k] }

// Section is the clear section of a pipe or an opening: round where Depth is 0. The zero value is not stated.
type Section struct {
	Width quantity.Length // the diameter, where round
	Depth quantity.Length
}

// Stated reports whether the section is known.
func (s Section) Stated() bool { return s.Width > 0 }

// area returns the clear area [m2].
func (s Section) area() float64 {
	return choose.If(s.Depth > 0, float64(s.Width)*float64(s.Depth), quarterPi*float64(s.Width)*float64(s.Width))
}

// quarterPi is the area of a circle of diameter 1.
const quarterPi = 0.78539816339744830961566084581988

// Fitting is an outlet in plain data. A size of 0 is one that is not stated.
type Fitting struct {
	Kind   Kind
	Method string // of the inlet, one of Methods(Kind); empty for the usual one

	Width         quantity.Length // scupper: clear width; edge: its length
	OpeningHeight quantity.Length // scupper: clear height; 0: open above
	CrestBreadth  quantity.Length // scupper, edge: breadth of the sill along the flow, such as the thickness of the wall
	SharpEdge     bool            // scupper: water falls off behind a thin edge, so that it is no broad crest
	Diameter      quantity.Length // drain: of its outlet pipe; standpipe: of its rim
	DamDiameter   quantity.Length // drain: of the dam round it; the invert is then the dam's rim
	DamHeight     quantity.Length // drain: of the dam over the drain

	HeadDepth    quantity.Length // conductor head: depth of water over the mouth of the leader when it is full
	Leader       Section
	LeaderMethod string          // one of LeaderMethods; empty for the usual one
	PipeMethod   string          // one of PipeMethods, likewise
	Pipe         quantity.Length // horizontal pipe: its diameter
	PipeSlope    quantity.Slope

	Open bool // it discharges into the open air: nothing stands behind it
}

// MissingError says that an outlet has too few sizes for a capacity.
type MissingError struct {
	Of      string // "scupper", "gutter"
	Missing []string
}

// Error names what is missing.
func (e *MissingError) Error() string {
	return fmt.Sprintf("the capacity of this %s needs its %s", e.Of, strings.Join(e.Missing, " and its "))
}

// MethodError says that a method has no such name.
type MethodError struct {
	Of, Method string
	Known      []string
}

// Error lists the names that are known.
func (e *MethodError) Error() string {
	return fmt.Sprintf("unknown method %q of a %s: use %s", e.Method, e.Of, strings.Join(e.Known, ", "))
}

// SizeError says that a size is no size: negative, infinite or not a number.
type SizeError struct {
	Name  string
	Value float64
}

// Error names the size.
func (e *SizeError) Error() string { return fmt.Sprintf("%s of %v m is no size", e.Name, e.Value) }
