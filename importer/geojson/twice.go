package geojson

import (
	"fmt"

	"github.com/tidwall/gjson"
)

// twice returns the first member that an object has twice: readers differ on which of the two counts, so neither
// is taken.
func twice(v gjson.Result) (name string, found bool) {
	var o object
	o.read(v)
	return o.doubled, o.twice
}

// onlyOnce refuses the feature at hand where it says something twice.
func (r *reader) onlyOnce() bool {
	for _, o := range [...]*object{&r.whole, &r.props, &r.geometry} {
		if o.twice {
			r.refuse(fmt.Sprintf("the feature has %.40q twice", o.doubled), "leave one of the two out")
			return false
		}
	}
	return true
}
