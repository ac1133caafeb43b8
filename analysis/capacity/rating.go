// Package capacity says how much water an outlet takes at which head, and the other way round.
//
// A Fitting says in plain data what an outlet is: its kind, its sizes and what stands behind it. Of turns it into a
// Rating, the law of flow against head: that of the inlet (a weir while water runs over its edge, an orifice once it
// stands above), never more than the least of the links behind it (conductor head, leader, horizontal pipe). A link
// whose size is not stated is named, not guessed.
//
// Several published methods stand side by side and differ by 5 to 30 %, so each figure names its method and source.
// For the storm a Rating gives a flow at any head: it never falls as the head rises and has no jump. Whether that
// head lies in the range that was tested is a second question, which Check answers.
//
// Inside everything is SI: m, m3/s; the coefficients, in the units they were printed in, stand in package standard.
package capacity

import (
	"fmt"
	"strconv"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Rating is the law of one outlet: flow against head. The head is the depth of water over the invert.
type Rating struct {
	Method    string          // of the inlet, one of Methods
	Source    standard.Source // of the method
	Note      string          // what was chosen or left out, for a reader; may be empty
	Low, High float64         // m: heads that were tested; 0 where there is no such end
	Links     []Link          // what stands behind the inlet and is stated, in the way of the water
	Unknown   []string        // links that are not stated, in the way of the water

	Lower   *Rating // the same inlet by a method that gives less, to stand beside; nil if none
	Clogged *Rating // the same outlet with its strainer half clogged; nil where there is no strainer

	law     func(head float64) float64 // m3/s of the inlet alone; head > 0
	outside error                      // a size out of the tested range, whatever the head
}

// Link is one thing behind the inlet, and the most that it takes.
type Link struct {
	Name     string // ConductorHead, LeaderLink, HorizontalPipe; "gutter" of GutterCapacity
	Capacity float64
	Method   string
	Source   standard.Source
	Note     string // may be empty
	Outside  error  // what lies out of the range of the table; nil if nothing does
	Lower    *Link  // the same by a method that gives less; nil if none
}

// Flow returns the flow at a head [m3/s]: 0 for a head of 0 or less, never falling, without a jump, and never more than
// the least of the links. It gives a number outside the tested range too; see Check.
func (r *Rating) Flow(head float64) float64 {
	if !(head > 0) {
		return 0
	}
	q := r.law(head)
	if least := r.Least(); least != nil {
		q = min(q, least.Capacity)
	}
	return q
}

// Least returns the link that takes least, nil where none is stated. Of equal ones it is the first on the water's way.
func (r *Rating) Least() *Link {
	var least *Link
	for i := range r.Links {
		if least == nil || r.Links[i].Capacity < least.Capacity {
			least = &r.Links[i]
		}
	}
	return least
}

// Controls returns the name of what sets the flow at a head: "inlet", or the link that takes no more.
func (r *Rating) Controls(head float64) string {
	if least := r.Least(); least != nil && head > 0 && r.law(head) > least.Capacity {
		return least.Name
	}
	return InletLink
}

// highest is the greatest head that Head looks at [m]: no roof holds more water.
const highest = 3.0

// Most returns the most that the outlet takes, under 3 m of water [m3/s].
func (r *Rating) Most() float64 { return r.Flow(highest) }

// Head returns the least head at which the outlet takes the flow [m]: 0 for a flow of 0. A flow that it takes at no
// head under 3 m is a *FullError.
func (r *Rating) Head(flow float64) (float64, error) {
	if !(flow > 0) {
		return 0, nil
	}
	if least := r.Least(); least != nil && flow > least.Capacity {
		return 0, &FullError{Link: least.Name, Flow: flow, Capacity: least.Capacity}
	}
	if most := r.Most(); flow > most {
		return 0, &FullError{Link: InletLink, Flow: flow, Capacity: most}
	}
	return LeastHead(0, highest, flow, r.Flow), nil
}

// LeastHead returns the least head between two at which takes, which grows with the head, gives the flow.
func LeastHead(low, high, flow float64, takes func(head float64) float64) float64 {
	for range 70 { // each halves the interval: 100 m come under the last bit of a millimetre
		if mid := low + (high-low)/2; takes(mid) < flow {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Check returns nil where the head and the outlet's sizes lie in the range that was tested, and else an error that
// says what does not, a *quantity.RangeError where it is a length.
func (r *Rating) Check(head float64) error {
	if r.outside != nil {
		return r.outside
	}
	for i := range r.Links {
		if r.Links[i].Outside != nil {
			return r.Links[i].Outside
		}
	}
	return quantity.InRange("head", quantity.Length(head), quantity.Length(r.Low), quantity.Length(r.High))
}

// FullError says that an outlet does not take a flow at any head.
type FullError struct {
	Link           string
	Flow, Capacity float64 // m3/s
}

// Error names the link that takes too little.
func (e *FullError) Error() string {
	if e.Link == InletLink {
		return fmt.Sprintf("%s is more than the inlet takes under %.0f m (10 ft) of water: %s", flowText(e.Flow), highest, flowText(e.Capacity))
	}
	return fmt.Sprintf("%s is more than the %s takes: %s", flowText(e.Flow), e.Link, flowText(e.Capacity))
}

// flowText writes a flow in both systems of units: 100 gpm (6.31 L/s).
func flowText(q float64) string {
	return significant(q/float64(quantity.GallonPerMinute), 4) + " gpm (" + significant(q/float64(quantity.LitrePerSecond), 3) + " L/s)"
}

// significant writes a number rounded to significant digits, without an exponent: 100000.
func significant(v float64, digits int) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		rounded = v
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
