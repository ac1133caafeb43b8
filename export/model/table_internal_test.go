package model

import (
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/export/record"
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

// Where nobody surveyed the outlets no pond can be told: a table that said that none was found would say more than is known. Water that runs over into a low place too shallow to list runs to no name that stands on the page.
func TestWordsOfPondTable(t *testing.T) {
	run := func(r *roof.Roof) *record.Book {
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return record.NewBook(s, "", record.SI)
	}
	if got := pondTable(run(shape.Box(10, 8, 1, 0.04))).None(); got != BlindPonds {
		t.Errorf("without outlets: %q", got)
	}
	if got := pondTable(run(shape.Plane(10, 12, 0.03, 6))).None(); got != Nothing {
		t.Errorf("of a roof that drains: %q", got)
	}
	b := run(shape.Box(10, 8, 1, 0.04))
	b.Names.Ponds = []string{b.Names.Roof + ".P01", b.Names.Roof + ".P00"}
	for to, want := range map[int32]string{0: "P01", 1: "a shallow low place", -1: "nowhere"} {
		if got := spillsTo(b, &ponding.Pond{ToOutlet: -1, ToPond: to}); got != want {
			t.Errorf("to pond %d: %q", to, got)
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
