package geojson

import (
	"fmt"
	"slices"

	"github.com/tidwall/gjson"
)

// twice returns the first member that an object has twice: readers differ on which of the two counts, so neither
// is taken.
func twice(object gjson.Result) (name string, found bool) {
	if !object.IsObject() {
		return "", false
	}
	var few [16]string
	names := few[:0]
	var many map[string]bool
	object.ForEach(func(key, _ gjson.Result) bool {
		name = key.String()
		switch {
		case many != nil:
			found = many[name]
			many[name] = true
		case slices.Contains(names, name):
			found = true
		case len(names) == len(few):
			many = map[string]bool{name: true}
			for _, n := range names {
				many[n] = true
			}
		default:
			names = append(names, name)
		}
		return !found
	})
	return name, found
}

// onlyOnce refuses the feature at hand where it says something twice.
func (r *reader) onlyOnce(f gjson.Result) bool {
	for _, object := range []gjson.Result{f, r.props, r.geometry} {
		if name, found := twice(object); found {
			r.refuse(fmt.Sprintf("the feature has %.40q twice", name), "leave one of the two out")
			return false
		}
	}
	return true
}
