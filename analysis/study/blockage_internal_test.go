package study

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/capacity"
	"runnel/analysis/drainage"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// outlets is a roof with two drains, a scupper for overflow and a gutter; those that are rated have a size.
func outlets(rated ...int) *Study {
	s := &Study{Surface: &surface.Surface{Outlets: []surface.Outlet{
		{ID: "D01", Label: "RD-1", Type: roof.Drain},
		{ID: "D02", Label: "RD-2", Type: roof.Drain},
		{ID: "S03", Label: "OS-1", Type: roof.Scupper, Duty: roof.Overflow},
		{ID: "E04", Label: "Gutter", Type: roof.EdgeOutlet, Source: -1},
	}}, Drainage: &drainage.Drainage{Outlets: make([]drainage.Outlet, 4)}}
	for _, i := range rated {
		s.Drainage.Outlets[i].Rating = &capacity.Rating{}
	}
	return s
}

// Outlets are blocked by their labels or ids, however written, or all of a duty; never a gutter, over whose edge water goes whatever happens.
func TestNamesOfBlockedOutlets(t *testing.T) {
	for _, c := range []struct {
		asked  []string
		name   string // none: refused
		labels []string
		closed []bool
	}{
		{[]string{"rd-2"}, "RD-2 blocked", []string{"RD-2"}, []bool{false, true, false, false}},
		{[]string{"D01"}, "RD-1 blocked", []string{"RD-1"}, []bool{true, false, false, false}},
		{[]string{"HALL.s03"}, "OS-1 blocked", []string{"OS-1"}, []bool{false, false, true, false}},
		{[]string{"RD-1", "d01", "OS-1"}, "RD-1, OS-1 blocked", []string{"RD-1", "OS-1"}, []bool{true, false, true, false}},
		{[]string{AllPrimary}, EveryPrimaryBlocked, []string{"RD-1", "RD-2"}, []bool{true, true, false, false}},
		{[]string{AllPrimary, "OS-1"}, "RD-1, RD-2, OS-1 blocked", []string{"RD-1", "RD-2", "OS-1"}, []bool{true, true, true, false}},
		{[]string{All}, everyOutletBlocked, []string{"RD-1", "RD-2", "OS-1"}, []bool{true, true, true, false}},
		{[]string{"Gutter"}, "", nil, nil},
		{[]string{"RD-1", "RD-3"}, "", nil, nil},
	} {
		all, unsized, err := outlets(0, 1, 2).blockages(c.asked)
		if c.name == "" {
			var none *OutletError
			if !errors.As(err, &none) || none.Name != c.asked[len(c.asked)-1] || !strings.Contains(err.Error(), "RD-1, RD-2, OS-1") || all != nil {
				t.Errorf("%v: %v, %v", c.asked, all, err)
			}
			continue
		}
		if err != nil || len(unsized) != 0 || len(all) != 1 || all[0].Name != c.name || !slices.Equal(all[0].Labels, c.labels) || !slices.Equal(all[0].Blocked, c.closed) {
			t.Errorf("%v: %+v, %v, %v", c.asked, all, unsized, err)
		}
	}
}

// Where none is named all work, then each primary outlet in turn is blocked, then all of them, then all. One without a size is blocked in each and not in turn.
func TestUsualBlockages(t *testing.T) {
	for _, c := range []struct {
		rated   []int
		unsized []string
		closed  []string // per case: o open, - blocked
	}{
		{[]int{0, 1, 2}, nil, []string{"oooo", "-ooo", "o-oo", "--oo", "---o"}},
		{[]int{0, 2}, []string{"RD-2"}, []string{"o-oo", "--oo", "--oo", "---o"}},
	} {
		all, unsized, err := outlets(c.rated...).blockages(nil)
		if err != nil || !slices.Equal(unsized, c.unsized) {
			t.Errorf("%v: without sizes %v, %v", c.rated, unsized, err)
		}
		var closed []string
		for _, one := range all {
			text := ""
			for _, b := range one.Blocked {
				text += map[bool]string{true: "-", false: "o"}[b]
			}
			closed = append(closed, text)
		}
		if !slices.Equal(closed, c.closed) {
			t.Errorf("%v: %v, want %v", c.rated, closed, c.closed)
		}
	}
}

// By hand: (0, 0) of an upper roof in feet about (10, 20) ft is (3.048, 6.096) m, which lies (2.048, 4.096) m off (1, 2) m, where the lower one in metres has its own; 1 m east and 2 m south of it as far off.
func TestPlaceOnTheRoofBelow(t *testing.T) {
	upper, lower := &roof.Roof{Frame: roof.NewLocal(orb.Point{10, 20}, quantity.Feet)}, &roof.Roof{Frame: roof.NewLocal(orb.Point{1, 2}, quantity.Metres)}
	for at, want := range map[orb.Point]orb.Point{{0, 0}: {2.048, 4.096}, {1, -2}: {3.048, 2.096}} {
		got, rule := across(upper, lower, at)
		if rule != "" || !(math.Abs(got[0]-want[0]) <= 1e-9) || !(math.Abs(got[1]-want[1]) <= 1e-9) {
			t.Errorf("%v: %v, want %v, %s", at, got, want, rule)
		}
		if back, _ := across(lower, upper, got); !(math.Abs(back[0]-at[0]) <= 1e-9) || !(math.Abs(back[1]-at[1]) <= 1e-9) {
			t.Errorf("%v and back: %v", at, back)
		}
	}
	if _, rule := across(upper, &roof.Roof{Frame: roof.NewGeographic(orb.Point{1, 2})}, orb.Point{}); rule == "" {
		t.Error("frames that do not go together")
	}
}

// A storm of an hour is shown every 5400/24 = 225 s to an hour and a half, one of ten days every half day to the end of two days more: (240 + 48) h / 24 = 12 h.
func TestMomentsOfAStorm(t *testing.T) {
	for duration, step := range map[float64]float64{3600: 225, 240 * 3600: 12 * 3600} {
		got := pictures(duration)
		if len(got) != 24 {
			t.Fatalf("%g s: %d moments", duration, len(got))
		}
		for i, at := range got {
			if at != step*float64(i+1) {
				t.Errorf("%g s: moment %d at %g s, want %g", duration, i, at, step*float64(i+1))
			}
		}
	}
}
