package geojson

import (
	"fmt"
	"math"
	"strconv"

	"github.com/tidwall/gjson"

	"runnel/analysis/quantity"
	"runnel/importer/draft"
)

// given returns a property that is there; null counts as left out.
func (r *reader) given(name string) (gjson.Result, bool) {
	v := r.props.get(name)
	return v, v.Exists() && v.Type != gjson.Null
}

// text returns a property as a string, empty when left out.
func (r *reader) text(name string) string {
	v, ok := r.given(name)
	if !ok {
		return ""
	}
	return r.fitting(name, v.String())
}

// fitting returns a text as one line, and refuses it where it is longer than any name or note.
func (r *reader) fitting(name, text string) string {
	clean, rule := draft.Fitting(name, text)
	if rule != "" {
		r.refuse(rule, "shorten it")
	}
	return clean
}

// length reads a property as a length; ok is false when it is left out or refused.
func (r *reader) length(name string) (l quantity.Length, ok bool) {
	v, ok := r.given(name)
	if !ok {
		return 0, false
	}
	return r.lengthOf(name, v)
}

// lengthOf reads a value as a length, bare or with its own unit.
func (r *reader) lengthOf(name string, v gjson.Result) (l quantity.Length, ok bool) {
	switch v.Type {
	case gjson.Number:
		n, ok := finite(v)
		if !ok || math.Abs(n) > 1e8 {
			r.refuse(fmt.Sprintf("%s: %.40s is not a finite length", name, v.Raw), "write the measured number")
			return 0, false
		}
		return quantity.Length(n * r.set.Unit.Metres()), true
	case gjson.String:
		l, imperial, err := quantity.ReadLength(v.Str, r.set.Unit)
		if err != nil {
			r.refuse(name+": "+err.Error(), "correct the property")
			return 0, false
		}
		r.out.Imperial = r.out.Imperial || imperial
		return l, true
	case gjson.Null, gjson.True, gjson.False, gjson.JSON:
	}
	r.refuse(fmt.Sprintf("%s: %.40s is not a length", name, v.Raw), `write a number, or a string such as "8 in"`)
	return 0, false
}

// size reads a length that cannot be negative, nor zero where positive is asked; otherwise is its value
// when it is left out.
func (r *reader) size(name string, otherwise quantity.Length, positive bool) quantity.Length {
	l, ok := r.length(name)
	switch {
	case !ok:
		return otherwise
	case l < 0:
		r.refuse(name+" is negative", "write its size")
	case l == 0 && positive:
		r.refuse(name+" is zero", "write its size, or leave it out")
	}
	return l
}

// number64 reads a property that is a plain number; ok is false when it is left out or refused.
func (r *reader) number64(name string) (n float64, ok bool) {
	v, ok := r.given(name)
	if !ok {
		return 0, false
	}
	if v.Type == gjson.Number {
		if n, ok := finite(v); ok {
			return n, true
		}
	}
	r.refuse(fmt.Sprintf("%s: %.40s is not a finite number", name, v.Raw), "write a number")
	return 0, false
}

// word reads a property that must be one of a list, by parse; otherwise is its value when it is left out.
func word[T any](r *reader, name string, otherwise T, parse func(string) (T, error)) T {
	v, ok := r.given(name)
	if !ok {
		return otherwise
	}
	value, err := parse(v.String())
	if err != nil {
		r.refuse(name+": "+err.Error(), "correct the property")
		return otherwise
	}
	return value
}

// parseFlag reads true or false.
func parseFlag(text string) (bool, error) {
	v, err := strconv.ParseBool(text)
	if err != nil {
		return false, fmt.Errorf("%.40q is neither true nor false", text)
	}
	return v, nil
}

// finite returns the number that v is written as; unlike v.Num it refuses 1e400.
func finite(v gjson.Result) (float64, bool) {
	n, err := strconv.ParseFloat(v.Raw, 64)
	return n, err == nil
}
