package geojson

import (
	"fmt"
	"strings"
	"testing"

	"github.com/tidwall/gjson"
)

// An object gives its members however many it has, an escaped name by what it stands for, and of a name that comes twice the first, which it tells of;
// what is no object has none. The next object begins anew.
func TestObjectGoneThroughOnce(t *testing.T) {
	var o object
	for _, n := range []int{1, 15, 16, 17, 40} {
		var members []string
		for i := range n {
			members = append(members, fmt.Sprintf(`"m%d":%d`, i, i))
		}
		for _, double := range []int{-1, 0, n - 1} {
			all := members
			if double >= 0 {
				all = append(append([]string{}, members...), fmt.Sprintf(`"\u006d%d":-1`, double))
			}
			o.read(gjson.Parse("{" + strings.Join(all, ",") + "}"))
			if o.twice != (double >= 0) || o.twice && o.doubled != fmt.Sprintf("m%d", double) {
				t.Errorf("%d members, %d twice: %t, %q", n, double, o.twice, o.doubled)
			}
			for i := range n {
				if got := o.get(fmt.Sprintf("m%d", i)); !got.Exists() || got.Int() != int64(i) {
					t.Errorf("%d members, %d twice: m%d is %s", n, double, i, got.Raw)
				}
			}
			if o.get("m").Exists() || o.get(fmt.Sprintf("m%d", n)).Exists() {
				t.Errorf("%d members: one that is not there", n)
			}
		}
	}
	for _, text := range []string{"", "null", "[1,2]", `"text"`, "7"} {
		if o.read(gjson.Parse(text)); len(o.names) > 0 || o.twice || o.get("").Exists() {
			t.Errorf("%s has members %q", text, o.names)
		}
	}
}
