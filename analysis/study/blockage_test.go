package study_test

import (
	"slices"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/sample"
)

// An outlet whose size nobody stated, be it the first of the file, counts as blocked under a storm and is named; one with its size and an edge are not.
func TestOutletsWithoutSizesAreNamedUnderAStorm(t *testing.T) {
	rain, err := rainfall.Even().Storm(75*quantity.Millimetre, 3600)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		without []int
		want    []string
	}{{nil, nil}, {[]int{0}, []string{"RD-1"}}, {[]int{1}, []string{"OS-1"}}, {[]int{0, 1}, []string{"RD-1", "OS-1"}}} {
		r := sample.Local()
		for _, i := range c.without {
			o := &r.Outlets[i]
			*o = roof.Outlet{Feature: o.Feature, Plan: o.Plan, Type: o.Type, Duty: o.Duty, Invert: o.Invert, HasInvert: true, Label: o.Label, Bowl: o.Bowl}
		}
		s, err := study.Run(r, study.Options{Storm: &study.Design{Pattern: rainfall.Even(), Rain: rain}})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Storm.Unsized; !slices.Equal(got, c.want) {
			t.Errorf("without sizes of %v: %v named, want %v", c.without, got, c.want)
		}
		for _, k := range s.Storm.Cases {
			for i := range c.without {
				if !k.Blocked[c.without[i]] {
					t.Errorf("%s: outlet %d works without a size", k.Name, c.without[i])
				}
			}
		}
	}
}
