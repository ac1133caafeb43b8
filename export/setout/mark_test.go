package setout_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/record"
	"runnel/export/setout"
)

// twoDrains is a roof of 20 by 10 m with drains at x = 2 and x = 14.
func twoDrains(first float64) *roof.Roof {
	at := func(x, y float64) orb.Point { return orb.Point{x, y} }
	r := flat([]orb.Point{{0, 0}, {20, 0}, {20, 10}, {0, 10}}, at, func(x, y float64) bool { return x < 20 && y < 10 }, orb.Point{2, 5})
	r.Outlets[0].Invert = first
	o := r.Outlets[0]
	o.ID, o.Label, o.Plan, o.Invert = "D2", "RD-2", orb.Point{14, 5}, 10.2
	r.Outlets = append(r.Outlets, o)
	return r
}

// designed sets out now as a design for found.
func designed(t *testing.T, found, now *roof.Roof) *setout.Sheet {
	t.Helper()
	var s [2]*study.Study
	for i, r := range []*roof.Roof{found, now} {
		var err error
		if s[i], err = study.Run(r, study.Options{}); err != nil {
			t.Fatal(err)
		}
	}
	b := record.NewBook(s[1], "", record.SI)
	b.Proposed, b.Found = true, s[0]
	sheet, err := setout.New(b, "")
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// What a design moves is no bench mark. Nothing moved: the first drain, at 9.99 m. The first set 40 mm lower: the second, at 10.2 m. Both lower: the first
// spot, at x = 1 and y = 1, 10 + 0.02 x 1 = 10.02 m high (by hand).
func TestBenchMarkStays(t *testing.T) {
	both := twoDrains(9.95)
	both.Outlets[1].Invert = 10.16
	for _, c := range []struct {
		now  *roof.Roof
		what string
		z    float64
	}{
		{twoDrains(9.99), "inlet of RD-1", 9.99},
		{twoDrains(9.98958), "inlet of RD-1", 9.98958}, // by 0.42 mm, less than the half millimetre that a rod shows
		{twoDrains(9.98948), "inlet of RD-2", 10.2},    // by 0.52 mm
		{twoDrains(9.95), "inlet of RD-2", 10.2},
		{both, "spot 1", 10.02},
	} {
		m := designed(t, twoDrains(9.99), c.now).Mark
		if m.What != c.what || !(math.Abs(m.Z-c.z) <= 1e-9) {
			t.Errorf("bench mark %q at %v m, want %q at %v m", m.What, m.Z, c.what, c.z)
		}
	}
}

// TestBenchMarkOfACoveredRoof: a design that raises the whole roof by 50 mm and both drains with it leaves nothing on which a level can be based. The crew makes a mark on a wall before the work, level
// with the first spot: 10.02 m, as above; the sheet says where that spot is: at (1, 1) on 20 by 10 m it stands 9 m from the north wall, A, and 1 m from the west wall, B.
func TestBenchMarkOfACoveredRoof(t *testing.T) {
	now := twoDrains(10.04)
	now.Outlets[1].Invert = 10.25
	for i := range now.Spots {
		now.Spots[i].Z += 0.05
	}
	for i := range now.Outline.Rings[0] {
		now.Outline.Rings[0][i].Z += 0.05
	}
	s := designed(t, twoDrains(9.99), now)
	if m := s.Mark; !m.Made || m.What != "a mark made on a wall or curb before the work, level with spot 1" || !(math.Abs(m.Z-10.02) <= 1e-9) {
		t.Errorf("bench mark %+v", m)
	}
	if got := s.MarkPlace(); !strings.HasSuffix(got, ", 9.0 m from wall A and 1.0 m from wall B") || s.Walls[0].Name != "north wall" || s.Walls[1].Name != "west wall" {
		t.Errorf("%q", got)
	}
	if got := designed(t, twoDrains(9.99), twoDrains(9.99)).MarkPlace(); got != "inlet of RD-1" {
		t.Errorf("%q", got)
	}
}

// A gutter that a design leaves where it is stays the bench mark of a roof without drains.
func TestGutterAsBenchMark(t *testing.T) {
	gutter := func() *roof.Roof {
		r := flat([]orb.Point{{0, 0}, {20, 0}, {20, 10}, {0, 10}}, func(x, y float64) orb.Point { return orb.Point{x, y} }, func(x, y float64) bool { return x < 20 && y < 10 }, orb.Point{2, 5})
		r.Outlets = nil
		r.Edges = []roof.Edge{{Feature: roof.Feature{ID: "E"}, Type: roof.Gutter, Label: "south", Line: []roof.Position{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{20, 0}}}}}
		return r
	}
	if m := designed(t, gutter(), gutter()).Mark; m.What != "inlet of south" || m.Inlet || m.Made {
		t.Errorf("%+v", m)
	}
}
