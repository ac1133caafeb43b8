package contour_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/contour"
	"runnel/analysis/quantity"
	"runnel/analysis/surface"
)

// square surveys a square from (0, 0) to (side, side) with n steps each way.
func square(side float64, n int, height func(x, y float64) float64) *survey {
	s := &survey{}
	for j := 0; j <= n; j++ {
		for i := 0; i <= n; i++ {
			x, y := side*float64(i)/float64(n), side*float64(j)/float64(n)
			s.spot(x, y, height(x, y))
		}
	}
	return s
}

func contours(t *testing.T, tin *surface.TIN, interval float64) []contour.Line {
	t.Helper()
	lines, err := contour.Of(tin, quantity.Length(interval))
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

func length(line orb.LineString) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	return sum
}

func closed(line orb.LineString) bool { return len(line) > 3 && line[0] == line[len(line)-1] }

// A plane of slope 2 % that rises north: contours run east-west, the interval / 2 % apart, as long as
// the square is wide, higher ground on the left: from east to west would put south left, so eastward.
func TestPlane(t *testing.T) {
	tin := square(20, 7, func(_, y float64) float64 { return 3.01 + 0.02*y }).tin(t)
	lines := contours(t, tin, 0.05)
	// 3.01 to 3.41 holds 3.05, 3.10 ... 3.40
	if len(lines) != 8 {
		t.Fatalf("%d contours, want 8", len(lines))
	}
	for i, l := range lines {
		near(t, "elevation", l.Elevation, 3.05+0.05*float64(i), 1e-9)
		near(t, "length", length(l.Plan), 20, 1e-3)
		for _, p := range l.Plan {
			near(t, "place", p[1], (l.Elevation-3.01)/0.02, 1e-3)
		}
		if first, last := l.Plan[0], l.Plan[len(l.Plan)-1]; first[0] > last[0] {
			t.Errorf("contour %g runs from %v to %v: lower ground on its left", l.Elevation, first, last)
		}
	}
}

// Every vertex row of the plane stands exactly at a level: nothing dangles, nothing is doubled. The lowest
// row counts as above its level, and no ground lies below it, so it is no contour.
func TestVerticesAtTheLevel(t *testing.T) {
	tin := square(10, 10, func(_, y float64) float64 { return 0.02 * y }).tin(t)
	lines := contours(t, tin, 0.02)
	if len(lines) != 10 {
		t.Fatalf("%d contours, want 10: rows 1 to 10", len(lines))
	}
	for i, l := range lines {
		near(t, "elevation", l.Elevation, 0.02*float64(i+1), 1e-12)
		near(t, "length", length(l.Plan), 10, 1e-9)
		for j, p := range l.Plan {
			near(t, "place", p[1], float64(i+1), 1e-9)
			if j > 0 && p[0] <= l.Plan[j-1][0] {
				t.Errorf("contour %g goes back at %v", l.Elevation, p)
			}
		}
	}
}

// cone surveys an n-gon of radius 8 with its middle at z0 and its corners at z1.
func cone(n int, z0, z1 float64) *survey {
	s := &survey{}
	s.spot(0, 0, z0)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		s.spot(8*cos, 8*sin, z1)
	}
	return s
}

// Rings on a cone of n sides are regular n-gons: at share q of the way up from the corners their radius is
// (1-q) 8 and their length 2 n sin(pi/n) times that. Counter-clockwise round a top, clockwise round a
// hollow: higher ground on the left.
func TestConeHasRings(t *testing.T) {
	const n = 12
	for _, c := range []struct {
		name   string
		z0, z1 float64
		turn   orb.Orientation
	}{{"top", 0.45, 0.05, orb.CCW}, {"hollow", 0.05, 0.45, orb.CW}} {
		t.Run(c.name, func(t *testing.T) {
			lines := contours(t, cone(n, c.z0, c.z1).tin(t), 0.1)
			if len(lines) != 4 {
				t.Fatalf("%d rings, want 4", len(lines))
			}
			for _, l := range lines {
				if !closed(l.Plan) || len(l.Plan) != n+1 {
					t.Errorf("contour %g: %d points, closed %v", l.Elevation, len(l.Plan), closed(l.Plan))
				}
				radius := 8 * (l.Elevation - c.z0) / (c.z1 - c.z0)
				near(t, "length", length(l.Plan), 2*n*math.Sin(math.Pi/n)*radius, 1e-3)
				if o := orb.Ring(l.Plan).Orientation(); o != c.turn {
					t.Errorf("contour %g turns %v", l.Elevation, o)
				}
			}
		})
	}
}

// A summit exactly at a level is a point, and no line.
func TestSummitAtTheLevel(t *testing.T) {
	if lines := contours(t, cone(6, 0.2, 0.11).tin(t), 0.1); len(lines) != 0 {
		t.Errorf("%d lines, want none: %v", len(lines), lines)
	}
}

// A level bottom at a level counts as above it: only a step up to it has a contour, at its lower rim.
func TestLevelTop(t *testing.T) {
	// z = 0.1 on the inner square |x|,|y| <= 2, 0 at the rim |x|,|y| = 4
	s := &survey{}
	for _, c := range [][3]float64{{-4, -4, 0}, {4, -4, 0}, {4, 4, 0}, {-4, 4, 0}, {-2, -2, 0.1}, {2, -2, 0.1}, {2, 2, 0.1}, {-2, 2, 0.1}} {
		s.spot(c[0], c[1], c[2])
	}
	lines := contours(t, s.tin(t), 0.1)
	if len(lines) != 1 || !closed(lines[0].Plan) {
		t.Fatalf("got %v", lines)
	}
	near(t, "length", length(lines[0].Plan), 16, 1e-9)
}

// A saddle z = xy/100 on four facets with the saddle point as a vertex: each contour is open, two lie
// in opposite quarters, and the level of the saddle itself has one line or two that end on the border.
func TestSaddle(t *testing.T) {
	s := &survey{}
	s.spot(0, 0, 0)
	for _, c := range [][2]float64{{-5, -5}, {5, -5}, {5, 5}, {-5, 5}} {
		s.spot(c[0], c[1], c[0]*c[1]/100)
	}
	lines := contours(t, s.tin(t), 0.1)
	count := map[int]int{}
	for _, l := range lines {
		count[int(math.Round(l.Elevation*10))]++
		for _, end := range []orb.Point{l.Plan[0], l.Plan[len(l.Plan)-1]} {
			near(t, "end on the border", math.Max(math.Abs(end[0]), math.Abs(end[1])), 5, 1e-9)
		}
	}
	// corners stand at +-0.25: two lines each at +-0.1 and +-0.2; at 0 the saddle counts as above, which
	// joins the two high quarters, so the two low quarters are cut off by a line each
	for k := -2; k <= 2; k++ {
		if count[k] != 2 {
			t.Errorf("level %d: %d lines, want 2", k, count[k])
		}
	}
}

// On a random surface every point stands at its contour's elevation, every line ends on the border or
// closes, the turn of the lines keeps higher ground left, and the length over all lines equals the sum
// over the facets of the chords computed one facet at a time.
func TestRandomSurface(t *testing.T) {
	const interval = 0.025
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 7))
		s := &survey{}
		for range 150 {
			// whole multiples of 5 mm: many vertices stand at a level
			s.spot(30*r.Float64(), 20*r.Float64(), 0.005*math.Round(60*r.Float64()))
		}
		tin := s.tin(t)
		lines := contours(t, tin, interval)
		total := 0.0
		for _, l := range lines {
			total += length(l.Plan)
			for _, p := range l.Plan {
				z, ok := elevation(tin, p)
				if !ok || !(math.Abs(z-l.Elevation) <= 1e-6) {
					t.Fatalf("seed %d: contour %g passes %v at %g", seed, l.Elevation, p, z)
				}
			}
			if !closed(l.Plan) && (!onBorder(tin, l.Plan[0]) || !onBorder(tin, l.Plan[len(l.Plan)-1])) {
				t.Fatalf("seed %d: contour %g ends inside the surface", seed, l.Elevation)
			}
		}
		near(t, "total length", total, chords(tin, interval), 1e-6*total)
		again := contours(t, tin, interval)
		if !reflect.DeepEqual(lines, again) {
			t.Fatalf("seed %d: not the same twice", seed)
		}
	}
}

// elevation returns the height of the surface at p by searching all facets.
func elevation(t *surface.TIN, p orb.Point) (float64, bool) {
	for f := range t.Facets() {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		d := (t.X[b]-t.X[a])*(t.Y[c]-t.Y[a]) - (t.X[c]-t.X[a])*(t.Y[b]-t.Y[a])
		u := ((p[0]-t.X[a])*(t.Y[c]-t.Y[a]) - (t.X[c]-t.X[a])*(p[1]-t.Y[a])) / d
		v := ((t.X[b]-t.X[a])*(p[1]-t.Y[a]) - (p[0]-t.X[a])*(t.Y[b]-t.Y[a])) / d
		if u > -1e-9 && v > -1e-9 && u+v < 1+1e-9 {
			return t.Z[a] + u*(t.Z[b]-t.Z[a]) + v*(t.Z[c]-t.Z[a]), true
		}
	}
	return 0, false
}

func onBorder(t *surface.TIN, p orb.Point) bool {
	for e := range t.V {
		if t.Twin[e] >= 0 {
			continue
		}
		a, b := t.V[e], t.V[surface.Next(int32(e))]
		dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		px, py := p[0]-t.X[a], p[1]-t.Y[a]
		n := math.Hypot(dx, dy)
		along, off := (px*dx+py*dy)/n, math.Abs(px*dy-py*dx)/n
		if off < 1e-9 && along > -1e-9 && along < n+1e-9 {
			return true
		}
	}
	return false
}

// chords sums, facet by facet, the length of each level's chord, levels taken a hair low: "at the level
// counts as above" is the limit from below.
func chords(t *surface.TIN, interval float64) float64 {
	const hair = 1e-9
	total := 0.0
	for f := range t.Facets() {
		for k := -1; k < 20; k++ {
			level := float64(k)*interval - hair
			var at [][2]float64
			for c := range 3 {
				a, b := t.V[3*f+c], t.V[3*f+(c+1)%3]
				if (t.Z[a] < level) != (t.Z[b] < level) {
					s := (level - t.Z[a]) / (t.Z[b] - t.Z[a])
					at = append(at, [2]float64{t.X[a] + s*(t.X[b]-t.X[a]), t.Y[a] + s*(t.Y[b]-t.Y[a])})
				}
			}
			if len(at) == 2 {
				total += math.Hypot(at[1][0]-at[0][0], at[1][1]-at[0][1])
			}
		}
	}
	return total
}

func TestIntervals(t *testing.T) {
	tin := square(10, 4, func(x, _ float64) float64 { return x / 10 }).tin(t)
	for _, bad := range []quantity.Length{0, -0.1, quantity.Length(math.NaN()), quantity.Length(math.Inf(1)), 1e-9} {
		_, err := contour.Of(tin, bad)
		var want *contour.IntervalError
		if !errors.As(err, &want) {
			t.Errorf("interval %g: %v", bad, err)
		} else if (bad == 1e-9) != (want.Points > contour.MostPoints) {
			t.Errorf("interval %g: %v", bad, err)
		}
	}
}

// A square that rises by 1 m from 100 m has two facets. By hand: of their half-edges two fall, the diagonal and one side, through 1e8 contours each at
// 10 nm.
func TestPointsOfAnIntervalTooNarrow(t *testing.T) {
	tin := square(1, 1, func(x, _ float64) float64 { return 100 + x }).tin(t)
	var refused *contour.IntervalError
	if err := contour.Refuse(tin, 1e-8); !errors.As(err, &refused) || refused.Points != 2e8 || !strings.Contains(err.Error(), "makes 200000000 points") {
		t.Errorf("%v", err)
	}
	if err := contour.Refuse(tin, 0); err == nil || !strings.Contains(err.Error(), "must be above zero") {
		t.Errorf("%v", err)
	}
}

func BenchmarkOf(b *testing.B) {
	for _, n := range []struct {
		name  string
		steps int
	}{{"10k", 71}, {"100k", 224}} {
		s := square(float64(3*n.steps), n.steps, func(x, y float64) float64 { return 0.02*x + 0.1*math.Sin(x/20)*math.Cos(y/20) })
		tin := s.tin(b)
		b.Run(n.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := contour.Of(tin, 0.0254); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
