package gather_test

import (
	"reflect"
	"strconv"
	"testing"

	"runnel/analysis/gather"
)

func TestLists(t *testing.T) {
	odd := func(n int) bool { return n%2 == 1 }
	for _, c := range []struct {
		of     []int
		texts  []string
		odd    []int
		count  int
		thirds float64
	}{
		{of: []int{3, 6, 9}, texts: []string{"3", "6", "9"}, odd: []int{3, 9}, count: 2, thirds: 1 + 2 + 3},
		{of: []int{6}, texts: []string{"6"}, thirds: 2},
		{},
	} {
		if got := gather.Each(c.of, strconv.Itoa); !reflect.DeepEqual(got, c.texts) {
			t.Errorf("each of %v: %q, want %q", c.of, got, c.texts)
		}
		if got := gather.Where(c.of, odd); !reflect.DeepEqual(got, c.odd) {
			t.Errorf("where odd of %v: %v, want %v", c.of, got, c.odd)
		}
		if got := gather.Count(c.of, odd); got != c.count {
			t.Errorf("odd of %v: %d, want %d", c.of, got, c.count)
		}
		if got := gather.Sum(c.of, func(n int) float64 { return float64(n) / 3 }); got != c.thirds {
			t.Errorf("sum of thirds of %v: %v, want %v", c.of, got, c.thirds)
		}
	}
}
