package shape

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"github.com/paulmach/orb"
)

// Differ compares two results value by value, as far as their fields are exported, and returns the first differences, at most ten. Places of b are
// brought back by back before they are compared, but for those at the origin in both, which are none; fields named X, Y, GX, GY and Offset are left
// out, which hang on the origin too. Numbers may differ by a millionth of themselves or by 1e-7.
func Differ(a, b any, back func(p orb.Point) orb.Point) []string {
	d := &differ{back: back, seen: map[uintptr]bool{}}
	d.compare("", reflect.ValueOf(a), reflect.ValueOf(b))
	return d.found
}

// mostDifferences is how many differences are told.
const mostDifferences = 10

type differ struct {
	back  func(p orb.Point) orb.Point
	seen  map[uintptr]bool
	found []string
}

func (d *differ) say(path string, a, b any) {
	if len(d.found) < mostDifferences {
		d.found = append(d.found, fmt.Sprintf("%s: %v, not %v", path, b, a))
	}
}

func (d *differ) compare(path string, a, b reflect.Value) {
	if a.IsValid() != b.IsValid() || a.IsValid() && a.Type() != b.Type() {
		d.say(path, a, b)
		return
	}
	if !a.IsValid() {
		return
	}
	switch a.Kind() { //nolint:exhaustive // functions and channels are no results
	case reflect.Pointer, reflect.Interface:
		d.behind(path, a, b)
	case reflect.Struct:
		d.fields(path, a, b)
	case reflect.Slice, reflect.Array:
		d.list(path, a, b)
	case reflect.Map:
		for _, k := range a.MapKeys() {
			d.compare(fmt.Sprintf("%s[%v]", path, k), a.MapIndex(k), b.MapIndex(k))
		}
	case reflect.Float64, reflect.Float32:
		if !alike(a.Float(), b.Float()) {
			d.say(path, a, b)
		}
	case reflect.Func, reflect.Chan:
	default:
		if !a.Equal(b) {
			d.say(path, a, b)
		}
	}
}

// alike reports whether two numbers are one but for rounding.
func alike(x, y float64) bool {
	return x == y || math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) <= 1e-7+1e-6*math.Abs(x)
}

// place compares two places.
func (d *differ) place(path string, p, q orb.Point) {
	none := orb.Point{}
	if p == none && q == none {
		return
	}
	if q = d.back(q); math.Abs(p[0]-q[0]) > 1e-6 || math.Abs(p[1]-q[1]) > 1e-6 {
		d.say(path, p, q)
	}
}

func (d *differ) fields(path string, a, b reflect.Value) {
	for i := range a.NumField() {
		switch f := a.Type().Field(i); {
		case !f.IsExported(), slices.Contains([]string{"X", "Y", "GX", "GY", "Offset"}, f.Name):
		default:
			d.compare(path+"."+f.Name, a.Field(i), b.Field(i))
		}
	}
}

func (d *differ) list(path string, a, b reflect.Value) {
	if p, ok := a.Interface().(orb.Point); ok {
		d.place(path, p, b.Interface().(orb.Point))
		return
	}
	if a.Len() != b.Len() {
		d.say(path+" has", fmt.Sprint(a.Len()), fmt.Sprint(b.Len()))
		return
	}
	for i := range a.Len() {
		d.compare(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i))
	}
}

// behind compares what two pointers point to, once.
func (d *differ) behind(path string, a, b reflect.Value) {
	if a.IsNil() != b.IsNil() {
		d.say(path+" is nil", a.IsNil(), b.IsNil())
		return
	}
	if a.IsNil() {
		return
	}
	if a.Kind() == reflect.Pointer {
		if d.seen[a.Pointer()] {
			return
		}
		d.seen[a.Pointer()] = true
	}
	d.compare(path, a.Elem(), b.Elem())
}
