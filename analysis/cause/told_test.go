package cause_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
)

// told is what a diagnosis says: each cause with its score and facts, and what each mend leaves.
func told(name string, list []result) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n", name)
	for _, d := range list {
		fmt.Fprintf(&b, "pond %.1f mm deep, %.2f m2; resolved %t, uncertain %t, lip assumed %t\n", 1000*d.pond.Depth, d.pond.Area, d.Resolved, d.Uncertain, d.LipAssumed)
		for _, c := range d.Causes {
			fmt.Fprintf(&b, "  %.3f %s:", c.Score, c.Kind)
			for _, q := range c.Facts {
				if q.Dim != finding.Bearing && q.Word == "" {
					fmt.Fprintf(&b, " %s %.4f;", q.Name, q.Value)
				}
			}
			b.WriteString("\n")
		}
		for _, m := range d.Mends {
			if m.Tried {
				fmt.Fprintf(&b, "  mend %d leaves %.4f m and %.3f m3; cut %.4f m over %.1f m\n", m.Mend, m.Depth, m.Volume, m.Cut, m.Length)
			}
		}
	}
	return b.String()
}

// sameAsRead holds what was told to the text under testdata that somebody read: scores are weighed by choice, and nothing outside this program has them.
// UPDATE_GOLDEN=1 writes it anew; the difference is then to be read.
func sameAsRead(t *testing.T, file, got string) {
	t.Helper()
	path := filepath.Join("testdata", file)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("%s:%d: %q, not %q", path, i+1, g[i], w[i])
		}
	}
	if len(g) != len(w) {
		t.Errorf("%s: %d lines, not %d", path, len(g), len(w))
	}
}

// both adds two reliefs.
func both(f, g func(x, y float64) float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return f(x, y) + g(x, y) }
}

// Two scuppers 12 m apart stand at a wall whose foot is level, on a roof that falls 2 % to it. Each roof has one fault, which leads; and all that is told
// of it is the same elsewhere on its grid and turned by half round. Spots stand up to a fifth of a millimetre off, so that no diagonal hangs on rounding.
func TestFaultsAtAWallWithScuppers(t *testing.T) {
	text := ""
	for _, c := range []struct {
		name   string
		relief func(x, y float64) float64
		want   finding.Kind
		depth  float64 // of the deepest pond, by hand from the shape, less where spots miss the deepest place
	}{
		{"foot hangs", shape.Sagging(3, 15, 0.03, 4), finding.CricketMissing, 0.03},
		{"foot hangs wider", shape.Sagging(3, 15, 0.02, 3), finding.CricketMissing, 0.02},
		{"narrow cricket", both(shape.Saddle(3, 15, 1.5, slopeOf), shape.Sagging(4, 9, 0.03, 4)), finding.CricketFlat, 0.015},
		{"cricket", both(shape.Saddle(3, 15, 3, slopeOf), shape.Sagging(4, 9, 0.045, 4)), finding.CricketFlat, 0.015},
		{"lap", shape.Lap(-3, 21, 6, 1.5, slopeOf*1.5+0.02), finding.RidgeLine, 0.02},
		{"off the middle", shape.Sagging(8, 15, 0.03, 4), finding.CricketMissing, 0.03},
		{"flat cricket, one side", both(shape.Saddle(3, 15, 2.5, slopeOf), shape.Sagging(9, 15, 0.04, 2)), finding.CricketFlat, 0.03},
		{"steeper cricket", both(shape.Saddle(3, 15, 3.6, slopeOf), shape.Sagging(4, 9, 0.09, 4)), finding.CricketFlat, 0.054},
		{"hollow near the wall", shape.Sag(7, 2, 2.5, 0.07), finding.Dish, 0.03},
		{"long hollow", both(shape.Sag(7, 6, 3, 0.08), shape.Sag(11, 6, 3, 0.08)), finding.Dish, 0.0347},
		{"lap and hollow", both(shape.Lap(-3, 21, 6, 1.5, slopeOf*1.5+0.02), shape.Sag(9, 9, 3, 0.05)), finding.Camber, 0.055},
		{"one hollow", shape.Sag(9, 6, 3, 0.084), finding.Dish, 0.0347}, // sag (1 - s r/(2 sag))²,
	} {
		for way, to := range []func(p orb.Point) orb.Point{
			func(p orb.Point) orb.Point { return orb.Point{p[0] - 5, p[1] - 7} },
			func(p orb.Point) orb.Point { return orb.Point{p[0] + 384, p[1] - 640} },
			func(p orb.Point) orb.Point { return orb.Point{16 - p[0], 8 - p[1]} },
		} {
			r := shape.Scuppered(18, 12, slopeOf, 3, 15, 1.5, c.relief)
			for i := range r.Spots {
				r.Spots[i].Z += 0.00001 * float64(i*i%41-20)
			}
			shape.Places(r, func(p *orb.Point) { *p = to(*p) })
			got := diagnose(t, r)
			if len(got) == 0 || got[0].Causes[0].Kind != c.want || !(math.Abs(got[0].pond.Depth-c.depth) <= 0.25*c.depth) {
				t.Errorf("%s: %s", c.name, told("", got))
			}
			if way == 0 {
				text += told(c.name, got)
				sameTurned(t, r)
				continue
			}
			if now := told(c.name, got); !strings.HasSuffix(text, now) {
				t.Errorf("%s, way %d: %s\nnot %s", c.name, way, now, text[strings.LastIndex(text, "#"):])
			}
		}
	}
	sameAsRead(t, "wall.txt", text)
}
