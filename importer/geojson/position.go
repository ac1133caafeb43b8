package geojson

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/tidwall/gjson"

	"runnel/analysis/roof"
)

// point reads the geometry of a Point feature.
func (r *reader) point() (roof.Position, bool) { return r.position(r.geometry.get("coordinates")) }

// position reads [x, y] or [x, y, z]; z is in the file's unit.
func (r *reader) position(v gjson.Result) (p roof.Position, ok bool) {
	if !v.IsArray() {
		r.refuse("a position is not an array of numbers", "write [x, y] or [x, y, elevation]")
		return p, false
	}
	n, ok := 0, true
	v.ForEach(func(_, c gjson.Result) bool {
		value, isNumber := 0.0, c.Type == gjson.Number
		if isNumber {
			value, isNumber = finite(c)
		}
		if !isNumber {
			r.hasFirst = false
			r.refuse(fmt.Sprintf("%.40s in the position %.80s is not a finite number", c.Raw, v.Raw), "write the measured number, or take the feature out")
			ok = false
			return false
		}
		switch n {
		case 0, 1:
			p.Plan[n] = value
		case 2:
			p.Z, p.HasZ = float64(value*r.set.Unit.Metres()), true
		}
		n++
		return true
	})
	if !ok {
		return p, false
	}
	if n < 2 {
		r.hasFirst = false
		r.refuse(fmt.Sprintf("a position has fewer than two numbers: %.80s", v.Raw), "write [x, y] or [x, y, elevation]")
		return p, false
	}
	if !r.hasFirst {
		r.first, r.hasFirst = p.Plan, true
	}
	return p, r.checked(p)
}

// checked reports whether a position is one that a roof can have.
func (r *reader) checked(p roof.Position) bool {
	if rule, mend := r.set.CheckPlace(p.Plan); rule != "" {
		r.refuseAt(p.Plan, rule, mend)
		return false
	}
	if p.HasZ {
		return r.checkedElevation(p)
	}
	return true
}

// line reads the geometry of a LineString feature.
func (r *reader) line() ([]roof.Position, bool) {
	line, ok := r.positions(r.geometry.get("coordinates"))
	if ok && len(line) < 2 {
		r.refuse("a line has fewer than two positions", "draw it from its start to its end")
		return nil, false
	}
	return line, ok
}

func (r *reader) positions(v gjson.Result) ([]roof.Position, bool) {
	if !v.IsArray() {
		r.refuse("the coordinates are not an array of positions", "write the file again from the program that made it")
		return nil, false
	}
	var line []roof.Position
	ok := true
	v.ForEach(func(_, c gjson.Result) bool {
		p, good := r.position(c)
		line = append(line, p)
		ok = ok && good
		return good
	})
	return line, ok
}

// elevated reads a Point feature whose elevation may be its third coordinate, or the property name.
func (r *reader) elevated(name string) (p roof.Position, ok bool) {
	p, ok = r.point()
	if !ok {
		return p, false
	}
	v, given := r.given(name)
	if !given {
		return p, true
	}
	l, ok := r.lengthOf(name, v)
	if !ok {
		return p, false
	}
	if p.HasZ && math.Abs(p.Z-float64(l)) > sameElevation {
		r.refuseAt(p.Plan, fmt.Sprintf("the third coordinate and %q differ", name), "leave one of them out")
		return p, false
	}
	p.Z, p.HasZ = float64(l), true
	return p, r.checkedElevation(p)
}

// sameElevation is by how much two statements of one elevation may differ [m].
const sameElevation = 0.003

// refuseAt adds a problem of the feature at hand at a place in the file's coordinates.
func (r *reader) refuseAt(at orb.Point, rule, mend string) {
	r.problems.Add(roof.Problem{Origin: r.origin(), At: at, HasAt: true, Rule: rule, Mend: mend})
}
