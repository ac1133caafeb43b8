package shape

import (
	"reflect"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// Places calls do with every place in plan that a roof holds.
func Places(r *roof.Roof, do func(p *orb.Point)) {
	each(reflect.ValueOf(r), func(v any) {
		if p, ok := v.(*orb.Point); ok {
			do(p)
		}
	})
}

// Raise sets every elevation of a roof higher [m].
func Raise(r *roof.Roof, by float64) {
	each(reflect.ValueOf(r), func(v any) {
		if p, ok := v.(*roof.Position); ok && p.HasZ {
			p.Z += by
		}
	})
	for i := range r.Outlets {
		r.Outlets[i].Invert += by
	}
}

// each calls do with a pointer to every value that v holds.
func each(v reflect.Value, do func(v any)) {
	if v.CanAddr() {
		do(v.Addr().Interface())
	}
	switch v.Kind() { //nolint:exhaustive // what has no parts has been called with
	case reflect.Pointer:
		if !v.IsNil() {
			each(v.Elem(), do)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				each(v.Field(i), do)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			each(v.Index(i), do)
		}
	}
}
