package geojson

import (
	"slices"

	"github.com/tidwall/gjson"
)

// object is a JSON object, gone through once: its members are asked for many times.
type object struct {
	value   gjson.Result
	names   []string
	values  []gjson.Result
	seen    map[string]bool // the names, where there are many
	doubled string          // first name that it has twice
	twice   bool
}

// few is how many names are compared one by one.
const few = 16

// read takes the members of v; none where it is no object. Of a name that it has twice the first counts.
func (o *object) read(v gjson.Result) {
	*o = object{value: v, names: o.names[:0], values: o.values[:0]}
	if !v.IsObject() {
		return
	}
	v.ForEach(func(key, value gjson.Result) bool {
		name := key.String()
		if o.has(name) && !o.twice {
			o.doubled, o.twice = name, true
		}
		o.names, o.values = append(o.names, name), append(o.values, value)
		return true
	})
}

// has reports whether a member was read already, and notes the name.
func (o *object) has(name string) bool {
	if len(o.names) < few {
		return slices.Contains(o.names, name)
	}
	if o.seen == nil {
		o.seen = make(map[string]bool, 2*few)
		for _, n := range o.names {
			o.seen[n] = true
		}
	}
	had := o.seen[name]
	o.seen[name] = true
	return had
}

// get returns a member, what does not exist where there is none of that name.
func (o *object) get(name string) gjson.Result {
	for i, n := range o.names {
		if n == name {
			return o.values[i]
		}
	}
	return gjson.Result{}
}
