package correction_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// offered is what the options of a roof come to, to a thousandth, but for where on a roof of several axes of symmetry a thing lies.
func offered(r *correction.Result) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i := range r.Answers {
		say("%s is option %d, %d questions", r.Answers[i].Name, r.Answers[i].Option, len(r.Answers[i].Questions))
	}
	for i := range r.Options {
		o := &r.Options[i]
		say("%s: possible %t, meets %t, ponds left %d, flat left %d, new outlets %d", o.Kind, o.Possible, o.Meets, o.PondsLeft, o.FlatLeft, o.NewOutlets)
		say("  fill %.3f, cut %.3f, area %.2f, greatest %.4f, deepest %.4f", o.Fill, o.Cut, o.Area, o.Greatest, o.Deepest)
		say("  load %.1f, %.1f, %.1f; blocked %.4f m, %.4f m", o.Added, o.Most, o.Off, o.Blocked[0].Depth, o.Blocked[1].Depth)
		for _, list := range [][]correction.Limit{o.Worse, o.Unknown, o.Limits, o.Checked, o.Flags} {
			var names []string
			for _, l := range list {
				names = append(names, fmt.Sprintf("%s %.3f of %.3f", l.Name, l.Available.Value, l.Required.Value))
			}
			slices.Sort(names)
			say("  %q", names)
		}
		say("  %v", kinds(o))
	}
	return out
}

// Where the site grid begins and which way north is: the same roof 384 m east and 640 m south, and turned by quarters, is mended by the same
// options. Its heights are a few hundredths of a millimetre off its planes.
func TestMendedElsewhere(t *testing.T) {
	for name, make := range map[string]func() *roof.Roof{
		"hollow": func() *roof.Roof { r, _ := hollow(1, 0, 0.03, 2); return r },
		"square": func() *roof.Roof { return square(0.3) },
		"sunk":   sunk,
		"cored":  func() *roof.Roof { return cored(0.1) },
		"bays":   func() *roof.Roof { return sunkAt(1, 0, 3, 4, 0.04) },
	} {
		mended := func(to func(p orb.Point) orb.Point) []string {
			r := make()
			for i := range r.Spots {
				r.Spots[i].Z += 0.00001 * float64(i*i%41-20)
			}
			shape.Places(r, func(p *orb.Point) { *p = to(*p) })
			return offered(corrected(t, r, correction.Input{Rates: standard.BoardRates}))
		}
		here := mended(func(p orb.Point) orb.Point { return p })
		for way, to := range []func(p orb.Point) orb.Point{
			func(p orb.Point) orb.Point { return orb.Point{p[0] + 384, p[1] - 640} },
			func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} },
			func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} },
		} {
			if got := mended(to); !slices.Equal(got, here) {
				for i := range min(len(got), len(here)) {
					if got[i] != here[i] {
						t.Errorf("%s, way %d: %s\nnot %s", name, way, got[i], here[i])
					}
				}
			}
		}
	}
}
