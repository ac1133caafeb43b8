package mend

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// of designs mends for a roof as studied.
func of(t *testing.T, s *study.Study) *Designer {
	t.Helper()
	d, err := New(Input{Study: s})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// designerOf designs mends for a roof.
func designerOf(t *testing.T, r *roof.Roof) *Designer {
	t.Helper()
	return of(t, mendtest.Run(t, r))
}

// flat designs mends for mendtest.Flat.
func flat(t *testing.T, to func(x, y float64) orb.Point, z func(x, y float64) float64, more ...orb.Point) *Designer {
	t.Helper()
	return of(t, mendtest.Flat(t, to, z, more...))
}

// designing designs mends for mendtest.Part.
func designing(t *testing.T, z func(x, y float64) float64, corners []orb.Point, more ...orb.Point) *Designer {
	t.Helper()
	return of(t, mendtest.Part(t, z, corners, more...))
}
