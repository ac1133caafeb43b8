package correction

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// of designs for a roof as studied.
func of(t *testing.T, s *study.Study) *designer {
	t.Helper()
	d, err := newDesigner(&Input{Study: s})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// designerOf designs for a roof.
func designerOf(t *testing.T, r *roof.Roof) *designer {
	t.Helper()
	return of(t, mendtest.Run(t, r))
}

// flat designs for mendtest.Flat.
func flat(t *testing.T, to func(x, y float64) orb.Point, z func(x, y float64) float64) *designer {
	t.Helper()
	return of(t, mendtest.Flat(t, to, z))
}

// designing designs for mendtest.Part.
func designing(t *testing.T, z func(x, y float64) float64, corners []orb.Point, more ...orb.Point) *designer {
	t.Helper()
	return of(t, mendtest.Part(t, z, corners, more...))
}
