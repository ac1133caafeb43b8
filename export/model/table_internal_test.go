package model

import (
	"slices"
	"testing"

	"runnel/analysis/slope"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// A page lists the rows that it has room for and that are not too small, and counts the others.
func TestRowsOfAPage(t *testing.T) {
	rows := make([]Row, 7)
	for _, c := range []struct {
		small, most, listed int
		rest                string
	}{
		{0, 12, 7, ""},
		{0, 5, 5, "And 2 sides in the files."},
		{3, 12, 4, "And 3 sides in the files."},
		{0, 6, 6, "And 1 side in the files."},
		{3, 2, 2, "And 5 sides in the files."},
		{7, 12, 0, "7 sides in the files."},
	} {
		table := Table{Rows: rows, Small: c.small, More: "sides"}
		if got, rest := table.Page(c.most); len(got) != c.listed || rest != c.rest {
			t.Errorf("%d of 7 small, room for %d: %d rows and %q, not %d and %q", c.small, c.most, len(got), rest, c.listed, c.rest)
		}
	}
}

// On 200 m2 a plane of 2 m2, a hundredth, is listed, and one of 1.9 m2 is not; the largest always is.
func TestSmallPlanes(t *testing.T) {
	of := func(areas ...float64) *study.Study {
		s := &study.Study{Surface: &surface.Surface{Area: 200}, Slopes: &slope.Slopes{}}
		for _, a := range areas {
			s.Slopes.Planes = append(s.Slopes.Planes, slope.Plane{Area: a})
		}
		return s
	}
	got := []int{planesTooSmall(of(150, 46, 2, 1.9, 0.1)), planesTooSmall(of(150, 50)), planesTooSmall(of(1, 0.9, 0.8)), planesTooSmall(of())}
	if want := []int{2, 0, 2, 0}; !slices.Equal(got, want) {
		t.Errorf("too small are %v, not %v", got, want)
	}
}
